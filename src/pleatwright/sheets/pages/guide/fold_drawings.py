"""Sections through the folds, seen from the top edge: the outside above, to scale along the cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pleatwright.bench.guide import Kilt, fold_depths
from pleatwright.bench.regions import Part
from pleatwright.pleats import Form
from pleatwright.sheets.drawing import INK, Item, Line, Polyline
from pleatwright.sheets.look import GREY
from pleatwright.sheets.pages.guide.tools import LINE, Sketch, across, arrow, label, mirrored
from pleatwright.sheets.pages.guide.weaving import stripes, thread_size

CLOTH = 3.6
"""Thickness of the drawn cloth, points."""
OUTSIDE, INSIDE = "outside", "inside"


@dataclass(frozen=True)
class _Knot:
    """A point of the section and the cloth that lies there: inches onward from a thread."""

    x: float
    y: float
    cloth: float


def _cloth(kilt: Kilt, thread: float, knots: Sequence[_Knot]) -> list[Item]:
    """The cloth along its folds in its own colours; `thread` is the one at cloth 0."""
    tartan, size = kilt.job.request.tartan, thread_size(kilt, thread)
    way = 1 if kilt.opens_right else -1
    items: list[Item] = [Polyline(tuple((k.x, k.y) for k in knots), INK, CLOTH + 1.4)]
    for a, b in pairwise(knots):
        low, high = sorted((thread + way * a.cloth / size, thread + way * b.cloth / size))
        for colour, t0, t1 in stripes(tartan.weft, low, high):
            ends = []
            for t in (t0, t1):
                share = ((t - thread) * size * way - a.cloth) / (b.cloth - a.cloth)
                ends.append((a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share))
            items.append(Line(*ends[0], *ends[1], tartan.hex_of(colour), CLOTH))
    return items


def _sides(y: float, deep: float) -> list[Item]:
    """Which side is which."""
    return [label(0.0, y - 0.42, OUTSIDE, "start"), label(0.0, deep + 0.12, INSIDE, "start")]


def _knife(kilt: Kilt, width: float) -> Sketch:
    """Three knife folds."""
    option = kilt.option
    rows, depths = kilt.gauges.rows[:3], fold_depths(kilt)[:3]
    shown = [float(row.hip) for row in rows]
    reach = max(depths)
    scale = min((width - 0.15) / (reach + sum(shown) + 0.5), 0.62)
    top, deep = 0.72, 1.72
    x = (width - (reach + sum(shown)) * scale) / 2 + reach * scale
    cloth = shown[0]
    edge = x + shown[0] * scale
    knots = [_Knot(edge - (depths[0] + shown[0]) * scale, deep, -depths[0]), _Knot(edge, top, shown[0])]
    starts = [edge - shown[0] * scale]
    for width_, depth in zip(shown[1:], depths, strict=False):
        cloth += depth
        knots.append(_Knot(edge - depth * scale, deep, cloth))
        cloth += depth + width_
        starts.append(edge)
        edge += width_ * scale
        knots.append(_Knot(edge, top, cloth))
    last = depths[len(shown) - 1] if len(depths) >= len(shown) else depths[-1]
    knots.append(_Knot(edge - last * scale * 0.5, (top + deep) / 2, cloth + last * 0.5))
    first = option.strips[0]
    way = 1 if kilt.opens_right else -1
    thread = first.thread - way * float(first.face) * shown[0] / 2 / thread_size(kilt, first.thread)
    items = _cloth(kilt, thread, knots)
    for row, start, wide in zip(rows, starts, shown, strict=False):
        items += across(start, start + wide * scale, top - 0.1, "")
        items.append(label(start + wide * scale / 2, top - 0.24, str(row.pleat)))
    items += [
        Line(
            starts[0] + shown[0] * scale,
            top,
            starts[0] + shown[0] * scale,
            deep + 0.22,
            GREY,
            0.5,
            (2.0, 2.0),
        )
    ]
    inner = starts[0] + (shown[0] - depths[0]) * scale
    items += [Line(inner, deep, inner, deep + 0.22, GREY, 0.5, (2.0, 2.0))]
    items += across(inner, inner + depths[0] * scale, deep + 0.18, "")
    items.append(
        label(inner + depths[0] * scale / 2, deep + 0.34, f"deep {kilt.write(depths[0])}", bold=True)
    )
    items.append(label(width / 2, 0.1, f"shows {kilt.write(rows[0].hip)} at the hip line", bold=True))
    return Sketch(deep + 0.46, tuple(items))


def _box(kilt: Kilt, width: float) -> Sketch:
    """Two boxes side by side; a military box has its deep fold on the one side only."""
    rows, depths = kilt.gauges.rows[:2], fold_depths(kilt)
    w, deep_fold = float(rows[0].hip), depths[0]
    military = kilt.option.form is Form.MILITARY_BOX
    near, far = (w / 2, deep_fold) if military else (deep_fold, deep_fold)
    scale = min((width - 0.2) / (2 * w + 2 * max(near, far)), 0.75)
    top, y1, y2 = 0.72, 1.0, 1.3
    left = width / 2 - (w if not military else (w + (far - near) / 2)) * scale
    edge = left
    knots, cloth, x = [_Knot(left - 0.35 * near * scale, y1, -0.35 * near)], 0.0, left
    seam = 0.012
    for i in range(2):
        edge = x + w * scale
        knots += [_Knot(x + seam, top, cloth), _Knot(edge - seam, top, cloth + w)]
        cloth += w
        if i == 0:
            knots += [
                _Knot(edge - near * scale, y1, cloth + near),
                _Knot(edge + far * scale, y2, cloth + 2 * near + far),
            ]
            cloth += 2 * near + 2 * far
            x = edge
    knots.append(_Knot(edge - 0.6 * near * scale, y1 - 0.1, cloth + 0.6 * near))
    first = kilt.option.strips[0]
    way = 1 if kilt.opens_right else -1
    thread = first.thread - way * w / 2 / thread_size(kilt, first.thread)
    items = _cloth(kilt, thread, knots)
    middle = left + w * scale
    for i, row in enumerate(rows):
        start = left + i * w * scale
        items += across(start, start + w * scale, top - 0.1, "")
        items.append(label(start + w * scale / 2, top - 0.24, str(row.pleat)))
    items += across(middle - near * scale, middle, y2 + 0.22, "")
    items += across(middle, middle + far * scale, y2 + 0.22, "")
    if military:
        items.append(label(middle - 0.12, y2 + 0.4, kilt.write(near), "end", bold=True))
        items.append(label(middle + 0.12, y2 + 0.4, f"deep {kilt.write(far)}", "start", bold=True))
    else:
        items.append(label(middle, y2 + 0.4, f"under {kilt.write(far)} each way", bold=True))
    items.append(label(width / 2, 0.1, f"a panel shows {kilt.write(rows[0].hip)} at the hip line", bold=True))
    return Sketch(y2 + 0.52, tuple(items))


def _centre_box(kilt: Kilt, width: float) -> Sketch:
    """The box in the middle of the back with a knife on either side; the folds are drawn short."""
    option = kilt.option
    middle = option.pleats // 2
    rows = kilt.gauges.rows
    box, side = float(rows[middle].hip), float(rows[middle - 1].hip)
    short = box * 0.34
    scale = (width - 0.3) / (box + 2 * side + 2 * short)
    top, deep = 0.72, 1.45
    left, right = (width - box * scale) / 2, (width + box * scale) / 2
    depth = fold_depths(kilt)[middle - 1]
    knots = [
        _Knot(left + (short - 2 * side) * scale, deep, 0.0),
        _Knot(left - side * scale, top, 1.0),
        _Knot(left + short * scale, deep, 2.0),
        _Knot(left, top, 3.0),
        _Knot(right, top, 3.0 + box),
        _Knot(right - short * scale, deep, 4.0 + box),
        _Knot(right + side * scale, top, 5.0 + box),
        _Knot(right - short * scale + 2 * side * scale, deep, 6.0 + box),
    ]
    strip = option.strips[middle]
    size = thread_size(kilt, strip.thread)
    way = 1 if kilt.opens_right else -1
    start = strip.thread - way * box / 2 / size
    placed = [_Knot(k.x, k.y, 0.0) for k in knots]
    out = (
        -2 * depth - side,
        -depth - side,
        -depth,
        0.0,
        box,
        box + depth,
        box + depth + side,
        box + 2 * depth + side,
    )
    placed = [_Knot(k.x, k.y, cloth) for k, cloth in zip(knots, out, strict=True)]
    items = _cloth(kilt, start, placed)
    for a, b, number in (
        (left - side * scale, left, rows[middle - 1].pleat),
        (left, right, rows[middle].pleat),
        (right, right + side * scale, rows[middle + 1].pleat),
    ):
        items += across(a, b, top - 0.1, "")
        items.append(label((a + b) / 2, top - 0.24, str(number)))
    items.append(
        label(
            width / 2,
            0.1,
            f"box {kilt.write(rows[middle].hip)}, knives {kilt.write(rows[middle - 1].hip)}",
            bold=True,
        )
    )
    items.append(label(width / 2, deep + 0.24, f"folds drawn short: deep {kilt.write(depth)}", bold=True))
    return Sketch(deep + 0.34, tuple(items))


def pleat_fold(kilt: Kilt, width: float) -> Sketch:
    """The first folds of this kilt's form."""
    form = kilt.option.form
    if form in (Form.BOX, Form.MILITARY_BOX):
        sketch = _box(kilt, width)
    elif form is Form.CENTRE_BOX:
        sketch = _centre_box(kilt, width)
    else:
        sketch = _knife(kilt, width)
    return _as_it_opens(kilt, sketch, width)


def _as_it_opens(kilt: Kilt, sketch: Sketch, width: float) -> Sketch:
    """Drawn for a kilt that opens on the right; the mirror of it for the left."""
    return sketch if kilt.opens_right else Sketch(sketch.height, mirrored(sketch.items, width))


def deep_pleat(kilt: Kilt, width: float) -> Sketch:
    """Over-apron, deep pleat and the first pleat."""
    cloth, show = kilt.cloth_in(Part.DEEP_PLEAT), float(kilt.gauges.rows[0].hip)
    half = cloth / 2
    before, after = half + 1.6, show + 0.3
    scale = min((width - 0.1) / (before + after), 0.62)
    top, deep = 0.62, 1.3
    edge = (width - (before + after) * scale) / 2 + before * scale
    next_depth = 0.5 * half
    knots = [
        _Knot(edge - before * scale, top, -before),
        _Knot(edge, top, 0.0),
        _Knot(edge - half * scale, deep, half),
        _Knot(edge + show * scale, top + 0.1, 2 * half + show),
        _Knot(edge + (show - next_depth) * scale, deep - 0.12, 2 * half + show + next_depth),
    ]
    items = _cloth(kilt, _edge_thread(kilt, over=True), knots)
    items += _dimension(kilt, edge - half * scale, edge, deep, half)
    items.append(label(edge - before * scale, top - 0.16, "over-apron", "start"))
    items.append(label(edge + show * scale / 2, top - 0.16, "1", bold=True))
    items += arrow((edge - 0.62, top - 0.16), (edge - 0.08, top - 0.16))
    items.append(label(width / 2, 0.1, f"in it, at the hip line: {kilt.write(cloth)}", bold=True))
    return _as_it_opens(kilt, Sketch(deep + 0.5, tuple(items)), width)


def reverse_pleat(kilt: Kilt, width: float) -> Sketch:
    """The last pleat, the reverse pleat under the under-apron, and the under-apron."""
    cloth, show = kilt.cloth_in(Part.REVERSE_PLEAT), float(kilt.gauges.rows[-1].hip)
    half = cloth / 2
    before, after = show + 1.4, half + 1.2
    scale = min((width - 0.1) / (before + after), 0.62)
    top, deep = 0.62, 1.3
    edge = (width - (before + after) * scale) / 2 + before * scale
    knots = [
        _Knot(edge - before * scale, deep - 0.1, -before),
        _Knot(edge - 0.02, top + 0.13, 0.0),
        _Knot(edge + half * scale, deep, half),
        _Knot(edge, top, 2 * half),
        _Knot(edge + after * scale, top, 2 * half + after),
    ]
    items = _cloth(kilt, _edge_thread(kilt, over=False), knots)
    items += _dimension(kilt, edge, edge + half * scale, deep, half)
    items.append(label(edge + after * scale, top - 0.16, "under-apron", "end"))
    items.append(label(edge - show * scale * 0.6, top - 0.16, str(kilt.option.pleats), bold=True))
    items += arrow((edge + 0.62, top - 0.16), (edge + 0.08, top - 0.16))
    items.append(label(width / 2, 0.1, f"in it, at the hip line: {kilt.write(cloth)}", bold=True))
    return _as_it_opens(kilt, Sketch(deep + 0.5, tuple(items)), width)


def _dimension(kilt: Kilt, x1: float, x2: float, deep: float, value: float) -> list[Item]:
    items: list[Item] = [Line(x, deep + 0.05, x, deep + 0.26, GREY, 0.5, (2.0, 2.0)) for x in (x1, x2)]
    items += across(x1, x2, deep + 0.2, "")
    items.append(label((x1 + x2) / 2, deep + 0.2 + LINE * 0.95, kilt.write(value), bold=True))
    return items


def _edge_thread(kilt: Kilt, *, over: bool) -> float:
    """The thread at an apron's pleat-side edge; for the under-apron, at the end of the last pleat."""
    option = kilt.option
    if over:
        apron, way = option.over_apron, 1 if kilt.opens_right else -1
        edge = apron.right if kilt.opens_right else apron.left
        return apron.thread + (edge - apron.centre) / thread_size(kilt, apron.thread) * (way * way)
    last = option.strips[-1]
    half = float(kilt.gauges.rows[-1].hip) / 2 * (1 if kilt.opens_right else -1)
    return last.thread + half / thread_size(kilt, last.thread)
