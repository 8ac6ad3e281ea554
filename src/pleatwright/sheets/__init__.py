"""Every printed page, from one drawing description."""

from pleatwright.sheets.drawing import Item, Line, Page, Picture, Polyline, Rect, Text
from pleatwright.sheets.packet import packet, packet_pages
from pleatwright.sheets.pdf import write_pdf

__all__ = [
    "Item",
    "Line",
    "Page",
    "Picture",
    "Polyline",
    "Rect",
    "Text",
    "packet",
    "packet_pages",
    "write_pdf",
]
