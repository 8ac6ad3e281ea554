"""What the step drawings are drawn with: dimension lines, arrows, needle, iron; and the mirror.

Inches of paper, y running down, as everywhere in the sheets.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

from pleatwright.sheets.drawing import INK, Anchor, Circle, Item, Line, Polyline, Rect, Text, Window
from pleatwright.sheets.lettering import CAPITALS, POINTS, width_of
from pleatwright.sheets.look import ACCENT, ALARM, GREY, WHITE

LETTER = 11.0
"""Size of letters and figures in a drawing, points."""
TALL = LETTER * CAPITALS / POINTS
"""Height of a capital in inches."""
LINE = LETTER * 1.3 / POINTS
"""From one line of letters to the next, inches."""
HEAD = 0.08
THREAD = ALARM
"""Colour of sewing thread and of every cut."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Sketch:
    """A drawing from (0, 0) at its top left; inches of paper."""

    height: float
    items: tuple[Item, ...]


def mirrored(items: Iterable[Item], width: float) -> tuple[Item, ...]:
    """The items with left and right exchanged on a drawing of this width; letters stay readable."""
    return tuple(_mirrored(item, width) for item in items)


_OTHER: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def _mirrored(item: Item, width: float) -> Item:
    if isinstance(item, Line):
        return replace(item, x1=width - item.x1, x2=width - item.x2)
    if isinstance(item, Polyline):
        return replace(item, points=tuple((width - x, y) for x, y in item.points))
    if isinstance(item, Text):
        return replace(item, x=width - item.x, anchor=_OTHER[item.anchor])
    if isinstance(item, Circle):
        return replace(item, x=width - item.x)
    if isinstance(item, Window):
        return replace(item, x=width - item.x - item.width, items=mirrored(item.items, width))
    return replace(item, x=width - item.x - item.width)


def label(x: float, y: float, text: str, anchor: Anchor = "middle", *, bold: bool = False) -> Text:
    """Letters whose middle height is y."""
    return Text(x, y + TALL / 2, text, LETTER, anchor, bold)


def plate(
    x: float, y: float, text: str, anchor: Anchor = "middle", *, bold: bool = False
) -> tuple[Item, ...]:
    """Letters on a white plate, to be read over cloth."""
    wide = width_of(text, LETTER, bold=bold) + 0.1
    left = x - {"start": 0.05, "middle": wide / 2, "end": wide - 0.05}[anchor]
    return (
        Rect(left, y - TALL / 2 - 0.045, wide, TALL + 0.09, fill=WHITE),
        label(x, y, text, anchor, bold=bold),
    )


def head(tip: Point, along: Point, size: float = HEAD, fill: str = INK) -> Polyline:
    """An arrowhead at its tip, pointing along a direction."""
    long = hypot(*along)
    dx, dy = along[0] / long, along[1] / long
    base = (tip[0] - size * dx, tip[1] - size * dy)
    side = size * 0.4
    return Polyline(
        (tip, (base[0] - side * dy, base[1] + side * dx), (base[0] + side * dy, base[1] - side * dx)),
        None,
        closed=True,
        fill=fill,
    )


def arrow(
    start: Point, tip: Point, fill: str = INK, weight: float = 1.2, size: float = 0.12
) -> tuple[Item, ...]:
    """An arrow."""
    along = (tip[0] - start[0], tip[1] - start[1])
    long = hypot(*along)
    stop = (tip[0] - along[0] / long * size * 0.8, tip[1] - along[1] / long * size * 0.8)
    return Line(*start, *stop, fill, weight), head(tip, along, size, fill)


def across(
    x1: float, x2: float, y: float, text: str, *, ends: float = 0.07, letters: float = 0.0
) -> tuple[Item, ...]:
    """A dimension line from x1 to x2 with its figure above it; below it where `letters` is negative.

    A span too short for its arrowheads has them outside.  `letters`: how far the figure is moved sideways.
    """
    x1, x2 = sorted((x1, x2))
    items: list[Item] = [Line(x, y - ends, x, y + ends, GREY, 0.5) for x in (x1, x2)]
    if x2 - x1 >= 2.4 * HEAD:
        items += [Line(x1, y, x2, y, INK, 0.6), head((x1, y), (-1, 0)), head((x2, y), (1, 0))]
    else:
        out = HEAD * 2
        items += [Line(x1 - out, y, x1, y, INK, 0.6), Line(x2, y, x2 + out, y, INK, 0.6)]
        items += [head((x1, y), (1, 0)), head((x2, y), (-1, 0))]
    if text:
        items.append(label((x1 + x2) / 2 + letters, y - TALL / 2 - 0.06, text, bold=True))
    return tuple(items)


def down(
    x: float, y1: float, y2: float, text: str, anchor: Anchor = "start", *, ends: float = 0.07
) -> tuple[Item, ...]:
    """A dimension line from y1 down to y2, its figure beside it."""
    items: list[Item] = [Line(x - ends, y, x + ends, y, GREY, 0.5) for y in (y1, y2)]
    if abs(y2 - y1) >= 2.4 * HEAD:
        items += [Line(x, y1, x, y2, INK, 0.6), head((x, y1), (0, -1)), head((x, y2), (0, 1))]
    else:
        items += [Line(x, y1, x, y2, INK, 0.6)]
    if text:
        aside = 0.08 if anchor == "start" else -0.08
        items.append(label(x + aside, (y1 + y2) / 2, text, anchor, bold=True))
    return tuple(items)


def level_name(x: float, width: float, y: float, name: str) -> tuple[Item, ...]:
    """A level's name at the drawing's right end, a hairline leading to it from x."""
    left = width - width_of(name, LETTER) - 0.06
    return Line(min(x, left), y, left, y, GREY, 0.5, (1.5, 2.0)), label(width, y, name, "end")


def chalk(x1: float, y1: float, x2: float, y2: float) -> tuple[Item, ...]:
    """A chalk line over cloth."""
    return (
        Line(x1, y1, x2, y2, WHITE, 2.4),
        Line(x1, y1, x2, y2, INK, 0.8, (4.0, 2.0)),
    )


def stitches(
    points: Sequence[Point], step: float = 0.075, fill: str = THREAD, weight: float = 1.5
) -> tuple[Item, ...]:
    """Stitches along a line of points, drawn over a white one."""
    found: list[Item] = [Polyline(tuple(points), WHITE, weight + 1.4)]
    for (x1, y1), (x2, y2) in pairwise(points):
        long = hypot(x2 - x1, y2 - y1)
        count = max(1, round(long / step))
        for i in range(count):
            a, b = (i + 0.15) / count, (i + 0.7) / count
            found.append(
                Line(
                    x1 + (x2 - x1) * a,
                    y1 + (y2 - y1) * a,
                    x1 + (x2 - x1) * b,
                    y1 + (y2 - y1) * b,
                    fill,
                    weight,
                )
            )
    return tuple(found)


def curve(points: Sequence[Point], pieces: int = 8) -> tuple[Point, ...]:
    """A smooth line through the points."""
    path = [points[0], *points, points[-1]]
    found: list[Point] = []
    for p0, p1, p2, p3 in zip(path, path[1:], path[2:], path[3:], strict=False):
        for i in range(pieces):
            t = i / pieces
            found.append((_spline(t, p0[0], p1[0], p2[0], p3[0]), _spline(t, p0[1], p1[1], p2[1], p3[1])))
    return (*found, points[-1])


def _spline(t: float, a: float, b: float, c: float, d: float) -> float:
    return 0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)


def needle(tip: Point, *, long: float = 0.75, rise: float = 0.16) -> tuple[Item, ...]:
    """A needle whose point is at `tip`, going to the left, with its thread; mirrored for the other hand."""
    x, y = tip
    eye = (x + long, y - rise)
    return (
        Polyline(curve((eye, (eye[0] + 0.25, eye[1] - 0.12), (eye[0] + 0.5, eye[1] + 0.08))), THREAD, 1.2),
        Polyline(
            (tip, (eye[0] - 0.02, eye[1] - 0.025), eye, (eye[0] - 0.01, eye[1] + 0.025)),
            INK,
            0.5,
            closed=True,
            fill=GREY,
        ),
    )


def iron(x: float, y: float, wide: float = 1.3) -> tuple[Item, ...]:
    """An iron seen from the side, its sole on y, its point to the right."""
    s = wide / 1.3
    sole = ((x, y), (x + 1.3 * s, y), (x + 1.2 * s, y - 0.09 * s), (x, y - 0.09 * s))
    body = curve(
        (
            (x + 1.2 * s, y - 0.09 * s),
            (x + 0.95 * s, y - 0.3 * s),
            (x + 0.55 * s, y - 0.42 * s),
            (x + 0.05 * s, y - 0.44 * s),
        )
    )
    handle = curve(
        (
            (x + 0.08 * s, y - 0.44 * s),
            (x + 0.12 * s, y - 0.72 * s),
            (x + 0.5 * s, y - 0.74 * s),
            (x + 0.8 * s, y - 0.38 * s),
        )
    )
    return (
        Polyline((*body, (x, y - 0.44 * s), (x, y - 0.09 * s)), INK, 1.0, closed=True, fill="#DDE2E4"),
        Polyline(sole, INK, 1.0, closed=True, fill=GREY),
        Polyline(handle, INK, 3.2),
    )


def pin(x: float, y: float, long: float = 0.24) -> tuple[Item, ...]:
    """A pin lying aslant."""
    return (
        Line(x - long * 0.5, y + long * 0.25, x + long * 0.5, y - long * 0.25, WHITE, 2.6),
        Line(x - long * 0.5, y + long * 0.25, x + long * 0.5, y - long * 0.25, INK, 0.9),
        Circle(x + long * 0.5, y - long * 0.25, 0.03, None, fill=ACCENT),
    )
