"""The kilt opened flat and seen from inside, to scale: linings off, straps and buckles in place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from pleatwright.bench.closing import ApronName, Closing, Strap
from pleatwright.bench.closing.shape import Shape
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import INK, Anchor, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.flow import Block
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, ACCENT_PALE, ALARM, GREY, HAIR, PALE, SMALL, WHITE
from pleatwright.wearer import LevelName

LEATHER = "#6B4A36"
LEATHER_PALE = "#C9B3A2"
CUT = "#EAD9C8"
HEAD, FOOT = 0.3, 0.5
LABELS = 0.95
"""Inches of paper beside the drawing for the names of the levels."""


@dataclass(frozen=True)
class _View:
    """From inches of kilt to inches of paper.

    x runs from the middle of the pleats towards the over-apron; seen from inside, that is to the right where
    the kilt opens on the right [derived: laid outside up it is to the left].
    """

    scale: float
    middle: float
    onward: int

    def x(self, along: Fraction | float) -> float:
        return self.middle + self.onward * float(along) * self.scale

    def y(self, below_top: Fraction | float) -> float:
        return HEAD + float(below_top) * self.scale

    def box(
        self,
        start: Fraction | float,
        end: Fraction | float,
        top: Fraction | float,
        bottom: Fraction | float,
        *,
        fill: str | None = None,
        stroke: str | None = None,
        weight: float = 0.6,
    ) -> Rect:
        a, b = sorted((self.x(start), self.x(end)))
        return Rect(a, self.y(top), b - a, self.y(bottom) - self.y(top), stroke, weight, fill)


def inside_drawing(job: Job, option: Option, closing: Closing, width: float) -> Block:
    """The drawing with its levels named; legend not included."""
    shape = Shape.of(option, job.sizes)
    bottom = shape.sizes.level(LevelName.BOTTOM).below_top
    half = shape.widest("pleated", Fraction(0), shape.sizes.level(LevelName.HIP).below_top) / 2
    over, under = (shape.widest(name, Fraction(0), bottom) for name in ("over_apron", "under_apron"))
    beyond = [strap.length - strap.sewn for strap in closing.straps]
    ends = (float(half + over + max(beyond[1:])), float(half + under + beyond[0]))
    scale = (width - LABELS) / sum(ends)
    rightward = option.opens_on == "right"
    view = _View(scale, ends[1 if rightward else 0] * scale, 1 if rightward else -1)
    items: list[Item] = [
        *_panels(view, shape, bottom),
        *_inside(view, shape, closing),
        *_pleats(view, shape, bottom),
        *_levels(view, shape, closing, job, width),
    ]
    for strap in closing.straps:
        items += _strap(view, shape, strap)
    items += _hole(view, shape, closing)
    items += _names(view, shape, closing, bottom)
    return Block(HEAD + float(bottom) * scale + FOOT, tuple(items), gap=0.04)


def _outline(
    view: _View,
    shape: Shape,
    bottom: Fraction,
    near: Callable[[Fraction], Fraction],
    far: Callable[[Fraction], Fraction],
) -> tuple[tuple[float, float], ...]:
    heights = [level.below_top for level in shape.sizes.levels if level.below_top <= bottom]
    return (
        *((view.x(near(h)), view.y(h)) for h in heights),
        *((view.x(far(h)), view.y(h)) for h in reversed(heights)),
    )


def _panels(view: _View, shape: Shape, bottom: Fraction) -> Iterator[Item]:
    """Both aprons and the pleats between them."""

    def half(h: Fraction) -> Fraction:
        return shape.pleated(h) / 2

    yield Polyline(
        _outline(view, shape, bottom, half, lambda h: half(h) + shape.at(h, "over_apron")),
        weight=0.9,
        closed=True,
        fill=PALE,
    )
    yield Polyline(
        _outline(view, shape, bottom, lambda h: -half(h), lambda h: -half(h) - shape.at(h, "under_apron")),
        weight=0.9,
        closed=True,
        fill=PALE,
    )
    yield Polyline(
        _outline(view, shape, bottom, lambda h: -half(h), half), weight=0.9, closed=True, fill=WHITE
    )


def _inside(view: _View, shape: Shape, closing: Closing) -> Iterator[Item]:
    """Interfacing, cloth cut out of the folds, stabiliser."""
    folds, inside = closing.inside.folds, closing.inside
    for panel in inside.interfacing:
        heights = (Fraction(0), panel.height)
        sides = {
            "over-apron": [
                (shape.pleated(h) / 2, shape.pleated(h) / 2 + shape.at(h, "over_apron")) for h in heights
            ],
            "pleats": [(-shape.pleated(h) / 2, shape.pleated(h) / 2) for h in heights],
            "under-apron": [
                (-shape.pleated(h) / 2, -shape.pleated(h) / 2 - shape.at(h, "under_apron")) for h in heights
            ],
        }[panel.name]
        if panel.name == "pleats" and not folds.kept:
            stop = folds.cut_below_top
            wide, deep = shape.pleated(Fraction(0)) / 2, shape.pleated(stop) / 2
            yield Polyline(
                (
                    (view.x(-wide), view.y(0)),
                    (view.x(wide), view.y(0)),
                    (view.x(deep), view.y(stop)),
                    (view.x(-deep), view.y(stop)),
                ),
                None,
                closed=True,
                fill=CUT,
            )
        corners = (
            (view.x(sides[0][0]), view.y(heights[0])),
            (view.x(sides[0][1]), view.y(heights[0])),
            (view.x(sides[1][1]), view.y(heights[1])),
            (view.x(sides[1][0]), view.y(heights[1])),
        )
        yield Polyline(corners, ACCENT, 0.7, closed=True, fill=ACCENT_PALE)
    strip = inside.stabiliser
    wide = (strip.width_top - 2 * strip.turning) / 2
    yield view.box(
        -wide, wide, strip.top_below, strip.top_below + strip.height, fill=ACCENT_MIDDLE, stroke=ACCENT
    )
    if not folds.kept:
        stop = folds.cut_below_top
        half = shape.pleated(stop) / 2
        yield Line(view.x(-half), view.y(stop), view.x(half), view.y(stop), ALARM, 1.1, (4.0, 2.0))


def _pleats(view: _View, shape: Shape, bottom: Fraction) -> Iterator[Item]:
    """The pleats' edges, sewn down to the hip line and hanging straight below."""
    heights = [*shape.fell_heights]
    sewn = [(h, [edge - shape.pleated(h) / 2 for edge in shape.edges(h)]) for h in heights]
    for number in range(1, shape.pleats):
        for (high, above), (low, below) in pairwise(sewn):
            yield Line(view.x(-above[number]), view.y(high), view.x(-below[number]), view.y(low), GREY, 0.45)
        yield Line(
            view.x(-sewn[-1][1][number]),
            view.y(heights[-1]),
            view.x(-sewn[-1][1][number]),
            view.y(bottom),
            HAIR,
            0.45,
        )


def _levels(view: _View, shape: Shape, closing: Closing, job: Job, width: float) -> Iterator[Item]:
    """Dashed lines across, with names and heights beside them."""
    sizes, folds = shape.sizes, closing.inside.folds
    marks = [
        ("strap line", sizes.level(LevelName.STRAP).below_top, GREY),
        ("hip line", sizes.level(LevelName.HIP).below_top, GREY),
    ]
    if not folds.kept:
        marks.append(("cut stops", folds.cut_below_top, ALARM))
    marks.sort(key=lambda mark: mark[1])
    left, right = 0.0, width - LABELS + 0.04
    free = 0.0
    for name, below, colour in marks:
        y = view.y(below)
        yield Line(left, y, right, y, colour, 0.5, (1.5, 2.0))
        base = max(y + 0.04, free)
        text = write_length(below, job.units, job.grid)
        yield Line(right, y, right + 0.06, base - 0.04, colour, 0.5)
        yield Text(right + 0.08, base, name, SMALL, fill=colour)
        yield Text(right + 0.08, base + 0.15, text, SMALL, bold=True, fill=colour)
        free = base + 0.34


def _strap(view: _View, shape: Shape, strap: Strap) -> Iterator[Item]:
    """A strap beyond its apron's edge with its holes, and the buckle: pale and dashed where it is outside."""
    half = shape.pleated(strap.below_top) / 2
    over = strap.apron is ApronName.OVER
    apron = shape.at(strap.below_top, "over_apron" if over else "under_apron")
    sign = 1 if over else -1
    edge = sign * (half + apron)
    top, bottom = strap.below_top - strap.width / 2, strap.below_top + strap.width / 2
    yield view.box(edge - sign * strap.sewn, edge, top, bottom, fill=LEATHER_PALE, stroke=LEATHER)
    yield view.box(edge, edge + sign * (strap.length - strap.sewn), top, bottom, fill=LEATHER, stroke=LEATHER)
    for hole in strap.holes:
        x, y = view.x(edge + sign * hole.from_edge), view.y(strap.below_top)
        size = 0.042 if hole.chosen else 0.026
        yield Rect(x - size / 2, y - size / 2, size, size, fill=WHITE)
    bar = half - strap.buckle.from_seam if not over else strap.buckle.from_seam - half
    wide = 3 * strap.width / 8
    tall = 5 * strap.width / 8
    frame = view.box(bar - wide, bar + wide, strap.below_top - tall, strap.below_top + tall)
    yield (
        _dashed(frame)
        if not strap.inside
        else view.box(
            bar - wide, bar + wide, strap.below_top - tall, strap.below_top + tall, stroke=INK, weight=1.4
        )
    )
    yield Line(view.x(bar), frame.y, view.x(bar), frame.y + frame.height, INK, 1.0)


def _dashed(frame: Rect) -> Polyline:
    x, y, wide, tall = frame.x, frame.y, frame.width, frame.height
    return Polyline(((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)), LEATHER, 1.2, closed=True)


def _hole(view: _View, shape: Shape, closing: Closing) -> Iterator[Item]:
    """The strap hole, and where the loops are sewn outside."""
    hole = closing.strap_hole
    if hole is not None:
        middle = (hole.top_below + hole.bottom_below) / 2
        at = shape.pleated(middle) / 2 - hole.from_seam
        yield Line(view.x(at), view.y(hole.top_below), view.x(at), view.y(hole.bottom_below), INK, 2.6)
    for loop in closing.inside.loops:
        at = shape.pleated(loop.below_top) / 2 - loop.from_seam
        top, bottom = loop.below_top - loop.height / 2, loop.below_top + loop.height / 2
        yield view.box(at - loop.width / 2, at + loop.width / 2, top, bottom, stroke=ALARM, weight=0.9)


def _names(view: _View, shape: Shape, closing: Closing, bottom: Fraction) -> Iterator[Item]:
    half = shape.pleated(bottom) / 2
    places = (
        ("over-apron", half + shape.at(bottom, "over_apron") / 2),
        ("pleats", Fraction(0)),
        ("under-apron", -half - shape.at(bottom, "under_apron") / 2),
    )
    y = view.y(bottom) + 0.17
    for name, along in places:
        yield Text(view.x(along), y, name, SMALL, "middle", True)
    first, last = (half - half / 12, -half + half / 12)
    yield Text(view.x(first), y, "1", SMALL, "middle", fill=GREY)
    yield Text(view.x(last), y, str(shape.pleats), SMALL, "middle", fill=GREY)
    for strap in closing.straps[:2]:
        sign = 1 if strap.apron is ApronName.OVER else -1
        apron = shape.at(strap.below_top, "over_apron" if sign > 0 else "under_apron")
        tip = view.x(sign * (shape.pleated(strap.below_top) / 2 + apron + strap.length - strap.sewn))
        anchor: Anchor = "end" if sign * view.onward > 0 else "start"
        yield Text(tip, view.y(0) - 0.06, f"{strap.hip} hip", SMALL, anchor, fill=LEATHER)
