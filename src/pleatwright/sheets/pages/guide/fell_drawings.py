"""The fell from outside, in the kilt's own stripes: gauges, totals, basting."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from pleatwright.bench.guide import Kilt, stops
from pleatwright.sheets.drawing import INK, Item, Line, Rect
from pleatwright.sheets.look import ACCENT, ACCENT_PALE, WHITE
from pleatwright.sheets.pages.guide.pleat_rows import FELL, lowered, places_of, pleats_of, span_of
from pleatwright.sheets.pages.guide.tools import (
    Sketch,
    across,
    chalk,
    label,
    level_name,
    plate,
    stitches,
)
from pleatwright.sheets.pages.guide.weaving import (
    SHAPED,
    Flat,
    Places,
)
from pleatwright.wearer import LevelName


def gauge(kilt: Kilt, width: float) -> Sketch:
    """Two pleats drawn wide; the gauges lie on the second, at the hip line and at the strap line."""
    count = min(2, kilt.option.pleats)
    numbers = range(1, count + 1)
    names = FELL
    fell = float(kilt.job.sizes.fell)
    wide = sum(float(row.hip) for row in kilt.gauges.rows[:count])
    most = max(wide, sum(float(row.strap) for row in kilt.gauges.rows[:count]))
    top, tall = 0.2, 1.6
    flat = Flat(kilt, (width - 1.2) / most, tall / fell, names)
    places = places_of(flat, numbers, (width - 1.0) / 2)
    items: list[Item] = pleats_of(flat, numbers, places, top)
    number = min(2, count)
    row = kilt.gauges.rows[number - 1]
    rungs = lowered(flat.pleat(number, places), top)
    for side in ("left", "right"):
        points = [(rung.centre + getattr(rung, side) * flat.scale, rung.y) for rung in rungs]
        for a, b in pairwise(points):
            items += chalk(*a, *b)
    for rung, name, value, shift in (
        (rungs[2], "hip line", row.hip, -0.2),
        (rungs[1], "strap line", row.strap, 0.2),
    ):
        half = float(value) / 2 * flat.scale
        y = rung.y + shift
        items.append(
            Rect(rung.centre - half, y - 0.16, 2 * half, 0.32, stroke=ACCENT, weight=1.2, fill=ACCENT_PALE)
        )
        items.append(label(rung.centre, y, kilt.write(value), bold=True))
        left, right = span_of(flat, numbers, places, LevelName.HIP if name == "hip line" else LevelName.STRAP)
        items.append(Line(left - 0.06, rung.y, right + 0.1, rung.y, INK, 0.7, (5.0, 2.0)))
        items += level_name(right + 0.1, width, rung.y, name.partition(" ")[0])
    items.append(label(width, top + 0.08, "top", "end"))
    items.append(
        label(
            (width - 1.0) / 2,
            top + tall + 0.16,
            f"pleat {number}: a gauge at each line".replace("pleat", kilt.pleat),
        )
    )
    return Sketch(top + tall + 0.3, tuple(items))


def fell(kilt: Kilt, width: float) -> Sketch:
    """The pleats to the first stop and two more, with the totals to be found."""
    stop = stops(kilt)[0]
    done = [row.pleat for row in kilt.rows[: kilt.rows.index(stop) + 1]]
    more = [row.pleat for row in kilt.rows[len(done) : len(done) + 2]]
    sewn = sorted(done)
    shown = sorted(done + more)
    fell_ = float(kilt.job.sizes.fell)
    top, tall = 0.3, 1.6
    flat = Flat(kilt, 1.0, tall / fell_, FELL)
    most = max(flat.edges(name)[shown[-1]] - flat.edges(name)[shown[0] - 1] for name in FELL)
    flat = replace(flat, scale=(width - 0.7) / most)
    places = places_of(flat, shown, (width - 0.6) / 2)
    items: list[Item] = pleats_of(flat, shown, places, top)
    way = 1 if kilt.opens_right else -1
    for number in sewn:
        seam = number if kilt.begin == "first" else number - 1
        points = [
            (places[name] + way * flat.edges(name)[seam] * flat.scale, top + flat.y(name)) for name in FELL
        ]
        items += stitches(points)
    for name, value, y in (
        (LevelName.STRAP, stop.strap_total, top + flat.y(LevelName.STRAP)),
        (LevelName.HIP, stop.hip_total, top + tall + 0.14),
    ):
        x1, x2 = span_of(flat, sewn, places, name)
        if name is LevelName.STRAP:
            items.append(Line(x1, y, x2, y, WHITE, 2.6))
        items += across(x1, x2, y, "")
        items += plate((x1 + x2) / 2, y, kilt.write(value), bold=True)
        items += level_name(x2 + 0.06, width, y, str(name).partition(" ")[0])
    ends = f"{kilt.pleats} {sewn[0]} to {sewn[-1]}, sewn" if len(sewn) > 1 else f"{kilt.pleat} {sewn[0]}"
    items.append(label(width / 2, 0.12, ends))
    return Sketch(top + tall + 0.3, tuple(items))


def _all(
    kilt: Kilt, width: float, tall: float, names: tuple[LevelName, ...]
) -> tuple[Flat, Places, float, list[Item]]:
    numbers = range(1, kilt.option.pleats + 1)
    high = float(kilt.level(names[-1]).below_top)
    flat = Flat(kilt, 1.0, 1.0, names)
    most = max(flat.edges(name)[-1] for name in names)
    scale = min(tall / high, (width - 0.8) / most)
    flat = Flat(kilt, scale, scale, names)
    places = places_of(flat, numbers, (width - 0.7) / 2)
    top = 0.3
    return flat, places, top, pleats_of(flat, numbers, places, top)


def whole_fell(kilt: Kilt, width: float) -> Sketch:
    """The whole fell with both widths and its length."""
    flat, places, top, items = _all(kilt, width, 2.0, FELL)
    numbers = range(1, kilt.option.pleats + 1)
    for name, value in ((LevelName.STRAP, kilt.gauges.strap_total), (LevelName.HIP, kilt.gauges.hip_total)):
        x1, x2 = span_of(flat, numbers, places, name)
        y = top + flat.y(name) + (0.14 if name is LevelName.HIP else 0.0)
        if name is LevelName.STRAP:
            items.append(Line(x1, y, x2, y, WHITE, 2.6))
        items += across(x1, x2, y, "")
        items += plate((x1 + x2) / 2, y, kilt.write(value), bold=True)
        items += level_name(x2 + 0.06, width, y, str(name).partition(" ")[0])
    bottom = top + flat.y(LevelName.HIP)
    items.append(label((width - 0.7) / 2, top - 0.16, f"fell {kilt.write(kilt.job.sizes.fell)} long"))
    return Sketch(bottom + 0.3, tuple(items))


def basted(kilt: Kilt, width: float) -> Sketch:
    """All pleats with their rows of basting."""
    flat, places, top, items = _all(kilt, width, 1.75, SHAPED)
    numbers = range(1, kilt.option.pleats + 1)
    hip, bottom = top + flat.y(LevelName.HIP), top + flat.y(LevelName.BOTTOM)
    x1, x2 = span_of(flat, numbers, places, LevelName.HIP)
    for share in (0.0, 0.3, 0.6, 0.9):
        y = hip + (bottom - hip) * share
        items += stitches(((x1, y), (x2, y)), 0.14, INK, 1.2)
    items += level_name(x2 + 0.06, width, hip, "hip")
    items += across(x1, x2, bottom + 0.14, "")
    items += plate((x1 + x2) / 2, bottom + 0.14, kilt.write(kilt.gauges.hip_total), bold=True)
    items.append(label((x1 + x2) / 2, top - 0.16, f"{kilt.option.pleats} {kilt.pleats}"))
    return Sketch(bottom + 0.28, tuple(items))
