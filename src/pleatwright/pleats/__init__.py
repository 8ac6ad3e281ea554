"""Pleats as geometry: the forms, how strips follow one another, what is lost and what is shown."""

from pleatwright.pleats.forms import TO_THE_SETT, Form, Kind, Shows, deepest_fold, hidden_cloth
from pleatwright.pleats.keeping import LineWishes
from pleatwright.pleats.limits import DepthRange, depth_range, least_depth, pleated_widths, reveal_bounds
from pleatwright.pleats.lines import LineAtRisk, count_at_risk, line_names, lines_at_risk, names_at_risk
from pleatwright.pleats.match import PHASE_PLACES, Alike, agreement, agreements, alike, pattern_match
from pleatwright.pleats.pleating import LEFT_OUT, Pleating, reveals
from pleatwright.pleats.space import PleatSpace, pleatings
from pleatwright.pleats.uneven import Division, FoldPlaces, best_division
from pleatwright.pleats.ways import Strips, Ways, phases_of
from pleatwright.pleats.wishes import EVEN_KIND, PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND, Wishes

__all__ = [
    "EVEN_KIND",
    "LEFT_OUT",
    "PHASE_PLACES",
    "PLAIN_KINDS",
    "TARTAN_KINDS",
    "TO_THE_SETT",
    "UNEVEN_KIND",
    "Alike",
    "DepthRange",
    "Division",
    "FoldPlaces",
    "Form",
    "Kind",
    "LineAtRisk",
    "LineWishes",
    "PleatSpace",
    "Pleating",
    "Shows",
    "Strips",
    "Ways",
    "Wishes",
    "agreement",
    "agreements",
    "alike",
    "best_division",
    "count_at_risk",
    "deepest_fold",
    "depth_range",
    "hidden_cloth",
    "least_depth",
    "line_names",
    "lines_at_risk",
    "names_at_risk",
    "pattern_match",
    "phases_of",
    "pleated_widths",
    "pleatings",
    "reveal_bounds",
    "reveals",
]
