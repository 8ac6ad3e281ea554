"""What a template is: a piece of card of true size, what is drawn on it, and what is said about it.

Points are exact inches, x to the right and y down from the card's top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise
from math import hypot
from typing import Literal

from pleatwright.lengths import MILLIMETRE, Units, exact_text

Point = tuple[Fraction, Fraction]
Points = tuple[Point, ...]


class Use(StrEnum):
    """What a template is for."""

    GAUGES = "gauges"
    STRAP_HOLE = "strap-hole"
    APRONS = "aprons"
    TAPER = "taper"
    TAPE = "tape"


@dataclass(frozen=True)
class Round:
    """A round hole."""

    x: Fraction
    y: Fraction
    radius: Fraction


@dataclass(frozen=True)
class Words:
    """One line written on the card: its baseline, points wanted, and the inches it may take."""

    x: Fraction
    y: Fraction
    text: str
    size: float
    room: Fraction
    anchor: Literal["start", "middle", "end"] = "start"
    bold: bool = False


@dataclass(frozen=True)
class Template:
    """One card, `width` by `height` inches.

    `outline` is closed and runs round the card clockwise as it is seen, `slots` round closed holes the same
    way; `lines` are drawn, `guides` drawn broken.  `name` is a file's stem, `notes` what else is said of it.
    """

    name: str
    use: Use
    title: str
    width: Fraction
    height: Fraction
    outline: Points
    slots: tuple[Points, ...] = ()
    rounds: tuple[Round, ...] = ()
    lines: tuple[Points, ...] = ()
    guides: tuple[Points, ...] = ()
    words: tuple[Words, ...] = ()
    notes: str = ""


def box(left: Fraction, top: Fraction, right: Fraction, bottom: Fraction) -> Points:
    """A rectangle, clockwise from its top left corner."""
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def with_kerf(template: Template, kerf: Fraction) -> Template:
    """The same card cut with a beam or blade `kerf` inches wide that runs along the middle of the line.

    The outline grows by half of it on every side and holes shrink by as much, so that what is left has
    the true size.  Raises ValueError where the kerf leaves nothing of a hole.
    """
    half = kerf / 2
    if any(hole.radius <= half for hole in template.rounds):
        raise ValueError("the kerf is wider than a hole")
    for slot in template.slots:
        xs, ys = [x for x, _ in slot], [y for _, y in slot]
        if min(max(xs) - min(xs), max(ys) - min(ys)) <= kerf:
            raise ValueError("the kerf is wider than a hole")
    return replace(
        template,
        outline=grown(template.outline, half),
        slots=tuple(grown(slot, -half) for slot in template.slots),
        rounds=tuple(replace(hole, radius=hole.radius - half) for hole in template.rounds),
    )


def grown(points: Points, by: Fraction) -> Points:
    """A closed clockwise outline moved outward by `by` inches (inward where negative), its corners kept.

    Every side moves at a right angle to itself; a corner goes to where its two sides meet again.
    """
    if not by:
        return points
    sides = [_outward(a, b) for a, b in pairwise((*points, points[0]))]
    moved = []
    for number, (x, y) in enumerate(points):
        (ax, ay), (bx, by_) = sides[number - 1], sides[number]
        part = by / (1 + ax * bx + ay * by_)
        moved.append((x + (ax + bx) * part, y + (ay + by_) * part))
    return tuple(moved)


def _outward(start: Point, end: Point) -> Point:
    """Length 1, at a right angle to a side that runs clockwise (y counts down)."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = Fraction(hypot(dx, dy))
    return dy / long, -dx / long


def smooth(knots: Sequence[Point], steps: int = 32) -> Points:
    """A gentle curve from the first knot down to the last, x over y, `steps` straight lines a span.

    It goes through every knot, keeps between its neighbours wherever it is (no overshoot), and has no corner:
    a monotone cubic whose slopes are weighted harmonic means of those beside them, 0 at a turn.
    Knots must go down: y rising.
    """
    spans = [b[1] - a[1] for a, b in pairwise(knots)]
    slopes = [(b[0] - a[0]) / h for (a, b), h in zip(pairwise(knots), spans, strict=True)]
    at = [slopes[0]]
    for (h, after), (d, e) in zip(pairwise(spans), pairwise(slopes), strict=True):
        one, two = 2 * after + h, after + 2 * h
        at.append((one + two) / (one / d + two / e) if d * e > 0 else Fraction(0))
    at.append(slopes[-1])
    points = [knots[0]]
    for number, ((x, y), (x2, _)) in enumerate(pairwise(knots)):
        h, m, m2 = spans[number], at[number], at[number + 1]
        for step in range(1, steps + 1):
            t = Fraction(step, steps)
            u = 1 - t
            across = x * u * u * (1 + 2 * t) + x2 * t * t * (3 - 2 * t) + h * t * u * (m * u - m2 * t)
            points.append((across, y + h * t))
    return tuple(points)


def slug(size: Fraction, units: Units) -> str:
    """A length in a file's name: `11-16`, `1-3-8`, `17-mm`."""
    if units == "metric":
        return f"{float(size / MILLIMETRE):.2f}".rstrip("0").rstrip(".").replace(".", "-") + "-mm"
    return exact_text(size).replace(" ", "-").replace("/", "-")
