"""Setts: thread counts, mirror centres, stripes and where they recur, colours."""

from pleatwright.sett.colours import CODES, SHADES, colour_word, default_palette
from pleatwright.sett.count import ParsedCount, Pivots, parse_count, sett_from_widths, write_count
from pleatwright.sett.likeness import Likeness, likeness, sights
from pleatwright.sett.names import short_name, short_names, stripe_name, stripe_names
from pleatwright.sett.sights import Occurrence, Sight, same_surroundings
from pleatwright.sett.stripes import SAME_THREAD, Sett, Stripe
from pleatwright.sett.tartan import Tartan

__all__ = [
    "CODES",
    "SAME_THREAD",
    "SHADES",
    "Likeness",
    "Occurrence",
    "ParsedCount",
    "Pivots",
    "Sett",
    "Sight",
    "Stripe",
    "Tartan",
    "colour_word",
    "default_palette",
    "likeness",
    "parse_count",
    "same_surroundings",
    "sett_from_widths",
    "short_name",
    "short_names",
    "sights",
    "stripe_name",
    "stripe_names",
    "write_count",
]
