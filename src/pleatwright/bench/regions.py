"""Where every part of the kilt lies along the piece, left to right: the cloth cut up without a remainder."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pleatwright.layout import Option, Strip
from pleatwright.wearer import LevelName

NOTHING = 1e-9


class Part(StrEnum):
    """What a stretch of cloth becomes."""

    SPARE = "spare"
    FACING = "facing"
    OVER_APRON = "over-apron"
    DEEP_PLEAT = "deep pleat"
    PLEAT = "pleat"
    HIDDEN = "in the fold"
    REVERSE_PLEAT = "reverse pleat"
    UNDER_APRON = "under-apron"
    REST = "rest"


@dataclass(frozen=True)
class Region:
    """One stretch of the piece, in inches of tape; `pleat` is a shown strip's number, else 0.

    Strips and folds are measured at the hip line, aprons at their widest.
    """

    part: Part
    start: float
    end: float
    pleat: int = 0

    @property
    def width(self) -> float:
        """Inches along the selvedge."""
        return self.end - self.start


def strip_edges(option: Option, strip: Strip, level: LevelName = LevelName.HIP) -> tuple[float, float]:
    """Tape positions of both edges of one shown strip at a level."""
    half = strip.face * option.level(level).reveal / 2
    return strip.centre - half, strip.centre + half


def folded_at_hip(option: Option, part: Part) -> tuple[float, float]:
    """Tape at the hip line of the apron's edge and of the pleat's edge between which a hidden pleat lies.

    `part`: the deep or the reverse pleat.  There the apron's edge has left the line as allotted, so more
    cloth lies in the fold than at the bottom.
    """
    deep, right = part is Part.DEEP_PLEAT, option.opens_on == "right"
    apron, strip = (option.over_apron, option.strips[0]) if deep else (option.under_apron, option.strips[-1])
    edge = next(edge for edge in apron.edges if edge.level is LevelName.HIP)
    before, after = strip_edges(option, strip)
    return (edge.right, before) if deep is right else (edge.left, after)


def regions(option: Option, length: float) -> tuple[Region, ...]:
    """Every stretch of a piece of `length` inches; each begins where the one before ends.

    Cloth at the end where laying out begins is `SPARE` (the over-apron's stripe comes later), at the other
    `REST`.
    """
    right = option.opens_on == "right"
    left_apron, right_apron = (
        (option.over_apron, option.under_apron) if right else (option.under_apron, option.over_apron)
    )
    left_part, right_part = (
        (Part.OVER_APRON, Part.UNDER_APRON) if right else (Part.UNDER_APRON, Part.OVER_APRON)
    )
    left_fold, right_fold = (
        (Part.DEEP_PLEAT, Part.REVERSE_PLEAT) if right else (Part.REVERSE_PLEAT, Part.DEEP_PLEAT)
    )
    left_end, right_end = (Part.SPARE, Part.REST) if right else (Part.REST, Part.SPARE)
    cuts: list[tuple[Part, float, int]] = [
        (left_end, left_apron.left - option.facing, 0),
        (Part.FACING, left_apron.left, 0),
        (left_part, left_apron.right, 0),
    ]
    fold = left_fold
    for strip in sorted(option.strips, key=lambda one: one.centre):
        start, end = strip_edges(option, strip)
        cuts += [(fold, start, 0), (Part.PLEAT, end, strip.number)]
        fold = Part.HIDDEN
    cuts += [
        (right_fold, right_apron.left, 0),
        (right_part, right_apron.right, 0),
        (Part.FACING, right_apron.right + option.facing, 0),
        (right_end, length, 0),
    ]
    found = []
    start = 0.0
    for part, end, pleat in cuts:
        if end - start > NOTHING:
            found.append(Region(part, start, end, pleat))
            start = end
    return tuple(found)
