"""Closing and finishing one kilt: top band, straps, inside, work, weight, last measures, later changes."""

from pleatwright.bench.closing.closing import closing
from pleatwright.bench.closing.hours import half_hours, write_hours
from pleatwright.bench.closing.straps import over_strap_levels
from pleatwright.bench.closing.values import (
    ApronName,
    Band,
    Buckle,
    Closing,
    FoldCut,
    Folds,
    Hole,
    Inside,
    Loop,
    Measure,
    Panel,
    Seam,
    Stage,
    Strap,
    StrapHole,
    Way,
    Weight,
    Work,
)

__all__ = [
    "ApronName",
    "Band",
    "Buckle",
    "Closing",
    "FoldCut",
    "Folds",
    "Hole",
    "Inside",
    "Loop",
    "Measure",
    "Panel",
    "Seam",
    "Stage",
    "Strap",
    "StrapHole",
    "Way",
    "Weight",
    "Work",
    "closing",
    "half_hours",
    "over_strap_levels",
    "write_hours",
]
