"""The piece of cloth on the table: its width and length, its sett as woven, where its stripes lie."""

from pleatwright.cloth.across import LevelsAcross, MovedLevel, left_strip, run_across, snapped
from pleatwright.cloth.arrival import arrival_findings
from pleatwright.cloth.piece import Anchor, Arrival, Edge, Fault, Piece, phase_of
from pleatwright.cloth.readings import Doubt, Reading, doubts, run_of_readings
from pleatwright.cloth.run import Bools, Interval, Numbers, Rows, Run, Seam
from pleatwright.cloth.strips import (
    MEET,
    Joint,
    blocked_along,
    horizontals_off,
    join_hems,
    joints,
    turnable,
    turned,
)
from pleatwright.cloth.tape import Check, Drift, Spot, Taped, drift

__all__ = [
    "MEET",
    "Anchor",
    "Arrival",
    "Bools",
    "Check",
    "Doubt",
    "Drift",
    "Edge",
    "Fault",
    "Interval",
    "Joint",
    "LevelsAcross",
    "MovedLevel",
    "Numbers",
    "Piece",
    "Reading",
    "Rows",
    "Run",
    "Seam",
    "Spot",
    "Taped",
    "arrival_findings",
    "blocked_along",
    "doubts",
    "drift",
    "horizontals_off",
    "join_hems",
    "joints",
    "left_strip",
    "phase_of",
    "run_across",
    "run_of_readings",
    "snapped",
    "turnable",
    "turned",
]
