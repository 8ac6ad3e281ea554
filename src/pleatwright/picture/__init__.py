"""The finished kilt as a picture: woven cloth in flat colours, correct to the thread."""

from pleatwright.picture.back import back_picture, back_view
from pleatwright.picture.front import apron_edges, front_picture, front_view
from pleatwright.picture.view import PAPER, View, png_bytes
from pleatwright.picture.words import alt_text

__all__ = [
    "PAPER",
    "View",
    "alt_text",
    "apron_edges",
    "back_picture",
    "back_view",
    "front_picture",
    "front_view",
    "png_bytes",
]
