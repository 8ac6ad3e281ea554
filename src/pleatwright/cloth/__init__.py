"""The piece of cloth on the table: its width and length, its sett as woven, where its stripes lie."""

from pleatwright.cloth.piece import Anchor, Arrival, Edge, Fault, Piece, phase_of
from pleatwright.cloth.readings import Doubt, Reading, doubts, run_of_readings
from pleatwright.cloth.run import Interval, Numbers, Run, Seam
from pleatwright.cloth.strips import Joint, blocked_along, horizontals_off, joints, turnable, turned

__all__ = [
    "Anchor",
    "Arrival",
    "Doubt",
    "Edge",
    "Fault",
    "Interval",
    "Joint",
    "Numbers",
    "Piece",
    "Reading",
    "Run",
    "Seam",
    "blocked_along",
    "doubts",
    "horizontals_off",
    "joints",
    "phase_of",
    "run_of_readings",
    "turnable",
    "turned",
]
