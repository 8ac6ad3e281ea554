"""Pleats as geometry: the forms, how strips follow one another, what is lost and what is shown."""

from pleatwright.pleats.forms import Form, Kind, Shows, deepest_fold, hidden_cloth
from pleatwright.pleats.limits import DepthRange, depth_range, least_depth, pleated_widths, reveal_bounds
from pleatwright.pleats.lines import LineAtRisk, lines_at_risk
from pleatwright.pleats.match import Alike, agreement, alike, pattern_match
from pleatwright.pleats.pleating import LEFT_OUT, Pleating, reveals
from pleatwright.pleats.space import PleatSpace, pleatings
from pleatwright.pleats.wishes import PLAIN_KINDS, TARTAN_KINDS, Wishes

__all__ = [
    "LEFT_OUT",
    "PLAIN_KINDS",
    "TARTAN_KINDS",
    "Alike",
    "DepthRange",
    "Form",
    "Kind",
    "LineAtRisk",
    "PleatSpace",
    "Pleating",
    "Shows",
    "Wishes",
    "agreement",
    "alike",
    "deepest_fold",
    "depth_range",
    "hidden_cloth",
    "least_depth",
    "lines_at_risk",
    "pattern_match",
    "pleated_widths",
    "pleatings",
    "reveal_bounds",
    "reveals",
]
