"""The order file: read with every mistake named at once, and turned into a job."""

from pleatwright.order.job import FirstSewn, Hand, Job, OwnedGauge, Paper
from pleatwright.order.reader import read_order
from pleatwright.order.schema import order_schema
from pleatwright.order.starting import new_order_text
from pleatwright.order.stated import spelt, stated_units, unspelt, with_units
from pleatwright.order.styles import STYLES
from pleatwright.order.wished import read_wish

__all__ = [
    "STYLES",
    "FirstSewn",
    "Hand",
    "Job",
    "OwnedGauge",
    "Paper",
    "new_order_text",
    "order_schema",
    "read_order",
    "read_wish",
    "spelt",
    "stated_units",
    "unspelt",
    "with_units",
]
