"""A seam of the fell as the maker holds it: turned by a quarter, stitches from the hip line up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from pleatwright.bench.guide import Kilt
from pleatwright.sheets.drawing import INK, Item, Line, Polyline, Text, moved
from pleatwright.sheets.pages.guide.pleat_rows import FELL, pleats_of
from pleatwright.sheets.pages.guide.tools import (
    LETTER,
    TALL,
    THREAD,
    Point,
    Sketch,
    arrow,
    label,
    mirrored,
    needle,
    plate,
    stitches,
)
from pleatwright.sheets.pages.guide.weaving import (
    Flat,
    outline,
    woven,
)

BESIDE = 1.3
"""Inches of the over-apron drawn beside its seam."""


def _turned(kilt: Kilt, items: Iterable[Item], wide: float, tall: float) -> list[Item]:
    """Lines and shapes of an upright kilt as the maker holds it: its top edge to the other hand's side.

    `wide`, `tall`: of the upright drawing.  A right-handed maker has the top edge at the left.
    """

    def at(point: Point) -> Point:
        x, y = point
        return (y, wide - x) if kilt.right_handed else (tall - y, x)

    found: list[Item] = []
    for item in items:
        if isinstance(item, Line):
            (x1, y1), (x2, y2) = at((item.x1, item.y1)), at((item.x2, item.y2))
            found.append(replace(item, x1=x1, y1=y1, x2=x2, y2=y2))
        elif isinstance(item, Polyline):
            found.append(replace(item, points=tuple(at(point) for point in item.points)))
    return found


def _held(
    kilt: Kilt, width: float, seam: int, hole: tuple[Fraction, Fraction] | None, names: tuple[str, str]
) -> Sketch:
    """A seam as it is held: between over-apron and pleat 1 (`seam` 0) or between two pleats.

    Drawn with the top edge at the left for a right-handed maker, in the mirror for a left-handed one.
    """
    fell = float(kilt.job.sizes.fell) + 0.8
    along = width / fell
    numbers = (1,) if seam == 0 else (seam, seam + 1)
    wide = 1.25
    hips = [float(kilt.gauges.rows[n - 1].hip) for n in numbers]
    cross = wide / max(sum(hips) + (BESIDE if seam == 0 else 0.0), 1.0)
    flat = Flat(kilt, cross, along, FELL)
    way = 1 if kilt.opens_right else -1
    if seam == 0:
        start = wide / 2 - way * (hips[0] - BESIDE) / 2 * cross
        places = dict.fromkeys(FELL, start)
    else:
        places = {name: wide / 2 - way * flat.edges(name)[seam] * cross for name in FELL}
    items: list[Item] = pleats_of(flat, numbers, places, 0.0)
    if seam == 0:
        apron = kilt.option.over_apron
        rungs = flat.apron(apron, places)
        cut = [
            replace(r, left=max(r.left, r.right - BESIDE))
            if kilt.opens_right
            else replace(r, right=min(r.right, r.left + BESIDE))
            for r in rungs
        ]
        items += woven(kilt, apron.thread, cut, cross)
        items.append(outline(cut, cross))
    seam_points = [(places[name] + way * flat.edges(name)[seam] * cross, flat.y(name)) for name in FELL]
    items += _sewn(seam_points, hole, along)
    turned = _turned(kilt, items, wide, fell * along)
    top = 0.36
    found: list[Item] = [*moved(turned, 0.0, top)]
    found += _held_words(kilt, width, top, wide, along, seam_points, hole, names, fell)
    return Sketch(top + wide + (0.3 if hole is None else 0.56), tuple(found))


def _sewn(points: Sequence[Point], hole: tuple[Fraction, Fraction] | None, along: float) -> tuple[Item, ...]:
    """Stitches from the hip line up, but for the hole (cloth inches down from the top)."""
    if hole is None:
        return stitches(points)
    upper, lower = (float(y) * along for y in hole)
    first = [p for p in points if p[1] < upper]
    last = [p for p in points if p[1] > lower]

    def on(y: float) -> Point:
        for (x1, y1), (x2, y2) in pairwise(points):
            if y1 <= y <= y2:
                return x1 + (x2 - x1) * (y - y1) / (y2 - y1), y
        return points[-1]

    return (*stitches((*first, on(upper))), *stitches((on(lower), *last)))


def _held_words(
    kilt: Kilt,
    width: float,
    top: float,
    wide: float,
    along: float,
    seam: Sequence[Point],
    hole: tuple[Fraction, Fraction] | None,
    names: tuple[str, str],
    fell: float,
) -> list[Item]:
    """Ends, names, needle and direction, for a right hand; mirrored for the left."""
    tall = fell * along
    x_hip, x_strap = seam[-1][1], seam[1][1]
    # On a kilt that opens on the right the over-apron's side is towards a right-handed maker.
    near = kilt.opens_right == kilt.right_handed
    lower, upper = names if near else names[::-1]
    across_seam = seam[-1][0]
    y_seam = top + (wide - across_seam if kilt.right_handed else across_seam)
    items: list[Item] = [
        Text(0.0, top - 0.14, "top edge", LETTER),
        label(x_strap, top + wide + 0.13, "strap line"),
        label(min(x_hip, width - 0.3), top + wide + 0.13, "hip line"),
        Line(x_strap, top - 0.04, x_strap, top + wide + 0.04, INK, 0.8, (4.0, 2.0)),
        Line(x_hip, top - 0.04, x_hip, top + wide + 0.04, INK, 0.8, (4.0, 2.0)),
    ]
    items += arrow((width - 0.1, top - 0.18), (width - 1.25, top - 0.18), THREAD, 2.0, 0.16)
    items.append(Text(width - 1.35, top - 0.18 + TALL / 2, "sew", LETTER, "end", True, THREAD))
    middle = (x_strap + x_hip) / 2
    items += plate(middle, top + 0.2, upper)
    items += plate(middle, top + wide - 0.2, lower)
    items += needle((middle - 0.25, y_seam))
    if hole is not None:
        a, b = (float(inches) * along for inches in hole)
        items += [Line(x, y_seam - 0.12, x, y_seam + 0.12, THREAD, 2.2) for x in (a, b)]
        words = "hole " + " to ".join(kilt.write(inches) for inches in hole) + " below the top"
        items += plate((a + b) / 2, y_seam - 0.26, "hole")
        items.append(label(tall / 2, top + wide + 0.44, words, bold=True))
    if kilt.right_handed:
        return items
    return list(mirrored(items, tall))


def apron_seam(kilt: Kilt, width: float) -> Sketch:
    """The over-apron sewn to the first pleat."""
    return _held(kilt, width, 0, None, ("over-apron", f"{kilt.pleat} 1"))


def last_seam(kilt: Kilt, width: float) -> Sketch:
    """The last two pleats, where sewing begins from the far end."""
    last = kilt.option.pleats
    if last < 2:
        return apron_seam(kilt, width)
    return _held(kilt, width, last - 1, None, (f"{kilt.pleat} {last - 1}", f"{kilt.pleat} {last}"))


def strap_hole(kilt: Kilt, width: float) -> Sketch:
    """First and second pleat with the strap hole."""
    hole = kilt.closing.strap_hole
    if kilt.option.pleats < 2:
        return apron_seam(kilt, width)
    spot = None if hole is None else (hole.top_below, hole.bottom_below)
    return _held(kilt, width, 1, spot, (f"{kilt.pleat} 1", f"{kilt.pleat} 2"))
