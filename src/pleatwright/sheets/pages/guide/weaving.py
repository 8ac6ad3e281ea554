"""Cloth in the tartan's own colours: stripes of the weft within the shapes of a kilt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import floor

from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.guide import Kilt
from pleatwright.cloth import Run
from pleatwright.layout import Apron
from pleatwright.sett import Sett
from pleatwright.sheets.drawing import INK, Item, Line, Polyline, Rect
from pleatwright.sheets.pages.guide.tools import Point
from pleatwright.wearer import LevelName

Places = dict[LevelName, float]
"""Paper inches along, level by level."""
SHAPED = (LevelName.TOP, LevelName.STRAP, LevelName.HIP, LevelName.BOTTOM)


def run_of(kilt: Kilt) -> Run | None:
    """The strip the kilt lies on; None while there is no piece."""
    cloth = kilt.option.cloth
    return None if cloth is None else cloth.run(kilt.job.request.tartan.weft)


def thread_size(kilt: Kilt, thread: float) -> float:
    """Inches a thread at a place; as the sett is meant to be where there is no piece."""
    run = run_of(kilt)
    if run is None:
        return float(kilt.job.request.sett_along) / kilt.job.request.tartan.weft.n
    return run.inches_a_thread(thread)


def stripes(sett: Sett, first: float, last: float) -> Iterator[tuple[str, float, float]]:
    """Colour, first and last thread of every stripe between two thread positions."""
    if sett.plain:
        yield sett.stripes[0].colour, first, last
        return
    turn = floor(first / sett.n)
    while turn * sett.n < last:
        for stripe in sett.stripes:
            low, high = max(first, turn * sett.n + stripe.start), min(last, turn * sett.n + stripe.end)
            if low < high:
                yield stripe.colour, low, high
        turn += 1


def strip(
    kilt: Kilt, start: float, end: float, x: float, y: float, wide: float, tall: float
) -> tuple[Item, ...]:
    """The cloth from one tape position to another, stretched into a box; framed."""
    tartan, run = kilt.job.request.tartan, run_of(kilt)
    sett, ratio = tartan.weft, wide / (end - start)
    if run is None:
        run = Run.uniform(sett, thread_size(kilt, 0.0) * sett.n, anchored(kilt), None)
    items: list[Item] = []
    for colour, low, high in stripes(sett, run.thread_at(start), run.thread_at(end)):
        left = x + (run.tape_at(low) - start) * ratio
        right = min(x + (run.tape_at(high) - start) * ratio + 0.01, x + wide)
        items.append(Rect(left, y, right - left, tall, fill=tartan.hex_of(colour)))
    return (*items, Rect(x, y, wide, tall, stroke=INK, weight=0.7))


def anchored(kilt: Kilt) -> float:
    """Phase at tape position 0 where there is no piece: what the plan's own places say."""
    apron = kilt.option.over_apron
    return (apron.thread - apron.centre / thread_size(kilt, 0.0)) % kilt.job.request.tartan.weft.n


@dataclass(frozen=True)
class Rung:
    """A shape at one height: y on paper, its stripe's centre, both edges from there (cloth)."""

    y: float
    centre: float
    left: float
    right: float


def woven(kilt: Kilt, thread: float, rungs: Sequence[Rung], scale: float) -> tuple[Item, ...]:
    """A shape filled with its stripes; `thread` at every rung's centre; `scale`: paper to cloth."""
    tartan, size = kilt.job.request.tartan, thread_size(kilt, thread)
    items: list[Item] = []
    for upper, lower in pairwise(rungs):
        low, high = min(upper.left, lower.left), max(upper.right, lower.right)
        box = ((upper.left, 0.0), (upper.right, 0.0), (lower.right, 1.0), (lower.left, 1.0))
        for colour, a, b in stripes(tartan.weft, thread + low / size, thread + high / size):
            cut = between(box, (a - thread) * size, (b - thread) * size)
            if len(cut) > 2:
                points = tuple(
                    (
                        upper.centre + (lower.centre - upper.centre) * t + u * scale,
                        upper.y + (lower.y - upper.y) * t,
                    )
                    for u, t in cut
                )
                fill = tartan.hex_of(colour)
                items.append(Polyline(points, fill, 0.25, closed=True, fill=fill))
    return tuple(items)


def between(shape: Sequence[Point], low: float, high: float) -> tuple[Point, ...]:
    """The part of a convex shape between two verticals."""
    return _half(_half(shape, low, 1), high, -1)


def _half(shape: Sequence[Point], at: float, side: int) -> tuple[Point, ...]:
    found: list[Point] = []
    for one, after in zip(shape, (*shape[1:], *shape[:1]), strict=True):
        here, there = (one[0] - at) * side, (after[0] - at) * side
        if here >= 0:
            found.append(one)
        if here * there < 0:
            share = here / (here - there)
            found.append((at, one[1] + (after[1] - one[1]) * share))
    return tuple(found)


@dataclass(frozen=True)
class Flat:
    """The kilt laid flat, outside up; `scale` along and `down` are paper inches an inch of cloth.

    `names`: the levels drawn, from the top down.  Positions along are given for every level, as `Places`.
    """

    kilt: Kilt
    scale: float
    down: float
    names: tuple[LevelName, ...] = SHAPED

    @property
    def shape(self) -> Shape:
        """Its outline."""
        return Shape.of(self.kilt.option, self.kilt.job.sizes)

    def y(self, name: LevelName) -> float:
        """Paper inches below the top edge."""
        return float(self.kilt.level(name).below_top) * self.down

    def edges(self, name: LevelName) -> tuple[float, ...]:
        """Cloth inches from the over-apron's edge onward to every edge of the pleats at a level."""
        return self._edges[name]

    @cached_property
    def _edges(self) -> dict[LevelName, tuple[float, ...]]:
        hip = self.kilt.level(LevelName.HIP).below_top
        return {
            level.name: tuple(float(edge) for edge in self.shape.edges(min(level.below_top, hip)))
            for level in self.kilt.job.sizes.levels
        }

    def widths(self, name: LevelName) -> tuple[float, float, float]:
        """Over-apron, pleats, under-apron at a level, cloth inches."""
        level = self.kilt.level(name)
        return float(level.over_apron), self.edges(name)[-1], float(level.under_apron)

    def pleat(self, number: int, x0: Places) -> tuple[Rung, ...]:
        """One pleat; `x0`: paper position of the over-apron's edge at every level."""
        way = 1 if self.kilt.opens_right else -1
        rungs = []
        for name in self.names:
            edges = self.edges(name)
            half = (edges[number] - edges[number - 1]) / 2
            middle = (edges[number] + edges[number - 1]) / 2
            rungs.append(Rung(self.y(name), x0[name] + way * middle * self.scale, -half, half))
        return tuple(rungs)

    def apron(self, apron: Apron, x0: Places) -> tuple[Rung, ...]:
        """One apron; `x0`: paper position of its pleat-side edge at every level."""
        on_right = (apron.name == "under-apron") == self.kilt.opens_right
        rungs = []
        for name in self.names:
            edge = next(edge for edge in apron.edges if edge.level is name)
            inner = edge.left if on_right else edge.right
            centre = x0[name] + (apron.centre - inner) * self.scale
            rungs.append(Rung(self.y(name), centre, edge.left - apron.centre, edge.right - apron.centre))
        return tuple(rungs)


def outline(rungs: Sequence[Rung], scale: float, weight: float = 0.8) -> Polyline:
    """The edge of a shape."""
    left = [(rung.centre + rung.left * scale, rung.y) for rung in rungs]
    right = [(rung.centre + rung.right * scale, rung.y) for rung in rungs]
    return Polyline((*left, *reversed(right)), INK, weight, closed=True)


def fold_lines(rungs: Sequence[Rung], scale: float) -> tuple[Line, ...]:
    """Both edges of a pleat as dark lines."""
    return tuple(
        Line(a.centre + ea * scale, a.y, b.centre + eb * scale, b.y, INK, 0.6)
        for a, b in pairwise(rungs)
        for ea, eb in ((a.left, b.left), (a.right, b.right))
    )
