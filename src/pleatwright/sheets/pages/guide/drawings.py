"""Which drawing a step has, and whether it takes the page's whole width."""

from __future__ import annotations

from collections.abc import Callable

from pleatwright.bench.guide import Drawn, Kilt
from pleatwright.sheets.pages.guide import (
    apron_drawings,
    fell_drawings,
    finishing_drawings,
    fold_drawings,
    inside_drawings,
    mark_drawings,
    seam_drawings,
    strip_drawings,
)
from pleatwright.sheets.pages.guide.tools import Sketch

DRAWINGS: dict[Drawn, Callable[[Kilt, float], Sketch]] = {
    Drawn.PIECE: strip_drawings.piece,
    Drawn.READING: strip_drawings.reading,
    Drawn.LEVELS: mark_drawings.levels,
    Drawn.APRON_MARKS: mark_drawings.apron_marks,
    Drawn.BAND_MARK: mark_drawings.band_mark,
    Drawn.PLEAT_MARKS: mark_drawings.pleat_marks,
    Drawn.FAR_MARKS: mark_drawings.far_marks,
    Drawn.CHECK: mark_drawings.check,
    Drawn.RIP: strip_drawings.rip,
    Drawn.JOIN: strip_drawings.join,
    Drawn.FRINGE: apron_drawings.fringe,
    Drawn.APRONS: apron_drawings.aprons,
    Drawn.DEEP_PLEAT: fold_drawings.deep_pleat,
    Drawn.PLEAT_FOLD: fold_drawings.pleat_fold,
    Drawn.BASTED: fell_drawings.basted,
    Drawn.GAUGE: fell_drawings.gauge,
    Drawn.APRON_SEAM: seam_drawings.apron_seam,
    Drawn.LAST_SEAM: seam_drawings.last_seam,
    Drawn.STRAP_HOLE: seam_drawings.strap_hole,
    Drawn.FELL: fell_drawings.fell,
    Drawn.WHOLE_FELL: fell_drawings.whole_fell,
    Drawn.REVERSE_PLEAT: fold_drawings.reverse_pleat,
    Drawn.UNDER_APRON: apron_drawings.under_apron,
    Drawn.FOLDS_CUT: inside_drawings.folds_cut,
    Drawn.INTERFACING: inside_drawings.interfacing,
    Drawn.STRAPS: inside_drawings.straps,
    Drawn.BAND: inside_drawings.band,
    Drawn.LINING: inside_drawings.lining,
    Drawn.HEM: finishing_drawings.hem,
    Drawn.FITTING: finishing_drawings.fitting,
    Drawn.PRESSING: finishing_drawings.pressing,
    Drawn.MEASURING: finishing_drawings.measuring,
}

WIDE = frozenset(
    {
        Drawn.PIECE,
        Drawn.READING,
        Drawn.PLEAT_MARKS,
        Drawn.CHECK,
        Drawn.RIP,
        Drawn.JOIN,
        Drawn.BAND_MARK,
        Drawn.INTERFACING,
        Drawn.STRAPS,
        Drawn.BAND,
        Drawn.LINING,
        Drawn.MEASURING,
    }
)
"""Drawings as wide as the page; the others stand beside the text."""


def drawing(kilt: Kilt, drawn: Drawn, width: float) -> Sketch:
    """One drawing, `width` inches of paper wide."""
    return DRAWINGS[drawn](kilt, width)
