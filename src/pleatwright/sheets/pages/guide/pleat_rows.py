"""Some pleats side by side, from outside, in their stripes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from pleatwright.sheets.drawing import Item
from pleatwright.sheets.pages.guide.weaving import (
    Flat,
    Places,
    Rung,
    fold_lines,
    woven,
)
from pleatwright.wearer import LevelName

FELL = (LevelName.TOP, LevelName.STRAP, LevelName.HIP)


def places_of(flat: Flat, numbers: Sequence[int], middle: float) -> Places:
    """The over-apron's edge at every level, so that these pleats lie about a middle."""
    way = 1 if flat.kilt.opens_right else -1
    found = {}
    for name in flat.names:
        edges = flat.edges(name)
        centre = (edges[numbers[0] - 1] + edges[numbers[-1]]) / 2
        found[name] = middle - way * centre * flat.scale
    return found


def pleats_of(flat: Flat, numbers: Sequence[int], places: Places, top: float) -> list[Item]:
    """Some pleats side by side in their stripes."""
    items: list[Item] = []
    for number in numbers:
        rungs = lowered(flat.pleat(number, places), top)
        strip_ = flat.kilt.option.strips[number - 1]
        items += woven(flat.kilt, strip_.thread, rungs, flat.scale)
        items += fold_lines(rungs, flat.scale)
    return items


def lowered(rungs: Iterable[Rung], top: float) -> tuple[Rung, ...]:
    """The shape moved down."""
    return tuple(replace(rung, y=rung.y + top) for rung in rungs)


def span_of(flat: Flat, numbers: Sequence[int], places: Places, name: LevelName) -> tuple[float, float]:
    """Both ends of some pleats at a level, on paper, left first."""
    way = 1 if flat.kilt.opens_right else -1
    edges = flat.edges(name)
    ends = [places[name] + way * edges[i] * flat.scale for i in (numbers[0] - 1, numbers[-1])]
    return min(ends), max(ends)
