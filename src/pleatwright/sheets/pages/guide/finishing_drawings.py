"""The hem, the fitting, the iron and the last measures; the kilt's portrait."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from pleatwright.bench.guide import Kilt
from pleatwright.sheets.drawing import INK, Circle, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, GREY, PALE, WHITE
from pleatwright.sheets.pages.guide.opened import PARTS, fitted
from pleatwright.sheets.pages.guide.tools import (
    LETTER,
    TALL,
    THREAD,
    Sketch,
    across,
    arrow,
    curve,
    down,
    iron,
    label,
    level_name,
    mirrored,
    plate,
    stitches,
)
from pleatwright.sheets.pages.guide.weaving import (
    SHAPED,
    Flat,
    Rung,
    outline,
    strip,
    woven,
)
from pleatwright.wearer import LevelName

SKIN = "#EFE3D6"
CLOTHES = "#E3E6E8"


def hem(kilt: Kilt, width: float) -> Sketch:
    """The lower edge from inside, the hem turned up."""
    sizes = kilt.job.sizes
    scale = min(0.42, 1.3 / float(sizes.hem))
    top, right = 0.1, width - 1.3
    high = 0.5 + float(sizes.hem) * scale
    fold = top + high
    start = kilt.option.over_apron.left
    items: list[Item] = [
        Rect(0.0, top, right, high, stroke=INK, weight=0.8, fill=PALE),
        *strip(kilt, start, start + right / scale, 0.0, top + 0.5, right, high - 0.5),
        *stitches(((0.0, top + 0.56), (right, top + 0.56)), 0.16),
        Line(0.0, fold, right, fold, INK, 2.2),
    ]
    items += down(right + 0.14, top + 0.5, fold, kilt.write(sizes.hem))
    items.append(label(right / 2, top + 0.27, "inside of the kilt"))
    items += plate(right / 2, (top + 0.5 + fold) / 2, "selvedge, turned up")
    items.append(label(right / 2, fold + 0.15, "fold: the bottom edge"))
    return Sketch(fold + 0.27, tuple(items))


def fitting(kilt: Kilt, width: float) -> Sketch:
    """The wearer from the front, simple; the apron in its stripes."""
    tall = float(kilt.level(LevelName.BOTTOM).below_top)
    scale = 1.15 / tall
    middle, waist = width / 2, 0.98
    top = waist - float(kilt.level(LevelName.STRAP).below_top) * scale
    flat = Flat(kilt, scale, scale)
    apron = kilt.option.over_apron
    rungs = [
        Rung(top + flat.y(edge.level), middle, edge.left - apron.centre, edge.right - apron.centre)
        for edge in apron.edges
        if edge.level is not LevelName.MID
    ]
    bottom = rungs[-1].y
    items: list[Item] = []
    for side in (-1, 1):
        leg = middle + side * 0.3
        items.append(Rect(leg - 0.13, bottom - 0.1, 0.26, 0.52, stroke=GREY, weight=0.9, fill=SKIN))
        items.append(Rect(leg - 0.14, bottom + 0.42, 0.28, 0.1, stroke=GREY, weight=0.9, fill=CLOTHES))
        arm = curve(((middle + side * 0.42, 0.5), (middle + side * 0.66, 0.95), (middle + side * 0.78, 1.35)))
        items.append(Polyline(arm, GREY, 9.0))
        items.append(Polyline(arm, CLOTHES, 7.4))
        items.append(Circle(middle + side * 0.79, 1.4, 0.075, GREY, 0.9, SKIN))
    torso = (
        (middle - 0.45, 0.42),
        (middle + 0.45, 0.42),
        (middle + 0.47, top + 0.1),
        (middle - 0.47, top + 0.1),
    )
    items += [
        Polyline(torso, GREY, 0.9, closed=True, fill=CLOTHES),
        Circle(middle, 0.21, 0.17, GREY, 0.9, SKIN),
    ]
    sides = [
        (middle + side * (max(abs(r.left), r.right) * scale + bulge), r.y)
        for side in (-1, 1)
        for r, bulge in (
            zip(rungs, (0.1, 0.1, 0.14, 0.26), strict=True)
            if side < 0
            else zip(reversed(rungs), (0.26, 0.14, 0.1, 0.1), strict=True)
        )
    ]
    items.append(Polyline(tuple(sides), INK, 0.9, closed=True, fill=ACCENT_MIDDLE))
    items += woven(kilt, apron.thread, rungs, scale)
    items.append(outline(rungs, scale, 1.0))
    fringed = -1 if kilt.opens_right else 1
    for rung, after in pairwise(rungs):
        for i in range(10):
            y = rung.y + (after.y - rung.y) * i / 10
            edge = [r.centre + (r.left if fringed < 0 else r.right) * scale for r in (rung, after)]
            x = edge[0] + (edge[1] - edge[0]) * i / 10
            items.append(Line(x, y, x + fringed * 0.045, y, INK, 0.6))
    hip_y = rungs[2].y
    items += [Line(0.0, y, width, y, INK, 0.7, (4.0, 2.0)) for y in (waist, bottom)]
    items.append(label(0.0, waist - 0.12, "strap line", "start"))
    items.append(label(width, waist - 0.12, "waist", "end"))
    items.append(label(0.0, bottom + 0.14, "bottom edge", "start"))
    items.append(label(width, bottom + 0.14, "level", "end"))
    for side in (-1, 1):
        x = middle + side * (max(abs(rungs[2].left), rungs[2].right) * scale + 0.5)
        items += arrow((x, hip_y), (x, hip_y + 0.55), ACCENT, 1.4)
    items.append(label(width, hip_y + 0.3, "straight", "end"))
    items.append(label(0.0, hip_y + 0.3, "straight", "start"))
    items += down(middle - 0.02, waist, bottom, "")
    items += plate(middle, (waist + bottom) / 2, kilt.write(kilt.job.body.drop), bold=True)
    for side, words, anchor in ((-1, "wearer's right", "start"), (1, "wearer's left", "end")):
        items.append(
            Text(
                0.0 if side < 0 else width,
                bottom + 0.5,
                words,
                LETTER,
                "start" if anchor == "start" else "end",
            )
        )
    return Sketch(bottom + 0.6, tuple(items))


def pressing(kilt: Kilt, width: float) -> Sketch:
    """Board, kilt, press cloth and iron: down, never along; mirrored for the left hand."""
    base = 1.5
    start = kilt.option.over_apron.left
    items: list[Item] = [
        Rect(0.0, base + 0.26, width, 0.12, stroke=GREY, weight=0.8, fill="#D9CDBA"),
        Line(width * 0.25, base + 0.38, width * 0.15, base + 0.62, GREY, 2.2),
        Line(width * 0.75, base + 0.38, width * 0.85, base + 0.62, GREY, 2.2),
        *strip(kilt, start, start + 30, 0.15, base + 0.16, width - 0.3, 0.1),
        Polyline(
            curve(
                (
                    (0.5, base + 0.15),
                    (1.0, base + 0.09),
                    (width - 1.0, base + 0.09),
                    (width - 0.5, base + 0.15),
                )
            ),
            ACCENT,
            3.0,
        ),
        *iron(width / 2 - 0.65, base + 0.05, 1.2),
    ]
    items += arrow((width / 2 + 0.75, base - 0.75), (width / 2 + 0.75, base - 0.1), ACCENT, 2.6, 0.2)
    items.append(Text(width / 2 + 0.9, base - 0.42, "down", LETTER, "start", True, ACCENT))
    y = 0.42
    items += arrow((width / 2 - 0.25, y), (width / 2 + 0.55, y), GREY, 1.6, 0.14)
    items += arrow((width / 2 + 0.25, y), (width / 2 - 0.65, y), GREY, 1.6, 0.14)
    items += [
        Line(width / 2 - 0.2, y - 0.15, width / 2 + 0.1, y + 0.15, THREAD, 2.4),
        Line(width / 2 - 0.2, y + 0.15, width / 2 + 0.1, y - 0.15, THREAD, 2.4),
        Text(width / 2 - 0.05, y - 0.22, "never slide", LETTER, "middle", True, THREAD),
        Text(0.0, base - 0.1 + TALL / 2, "press cloth", LETTER, "start"),
    ]
    drawn = tuple(items) if kilt.right_handed else mirrored(items, width)
    return Sketch(base + 0.66, drawn)


def measuring(kilt: Kilt, width: float) -> Sketch:
    """The finished kilt opened, outside up, with its widths and its length."""
    side = 0.9
    view = fitted(kilt, width - 2 * side, 1.5, 0.34)
    view = replace(view, middle=view.middle + side)
    items = view.shown(SHAPED, apart=True)
    hip = kilt.level(LevelName.HIP).below_top
    bottom = kilt.level(LevelName.BOTTOM).below_top
    ends = [edge for part in PARTS for edge in view.apart(part, bottom if part != "pleats" else hip)]
    for name in SHAPED[1:]:
        level, low = kilt.level(name), name is LevelName.BOTTOM
        y = view.y(level.below_top) + (0.15 if low else 0.0)
        values = {"over-apron": level.over_apron, "pleats": level.pleated, "under-apron": level.under_apron}
        for part in PARTS if not low else ("over-apron", "under-apron"):
            a, b = view.apart(part, level.below_top)
            if not low:
                items.append(Line(a, y, b, y, WHITE, 2.6))
            items += across(a, b, y, "")
            items += plate((a + b) / 2, y, kilt.write(values[part]), bold=True)
        items += level_name(max(ends) + 0.08, width, y, str(name).partition(" ")[0])
    for part in PARTS:
        a, b = view.apart(part, Fraction(0))
        items.append(label((a + b) / 2, 0.16, part if part != "pleats" else kilt.pleats))
    items += down(min(ends) - 0.15, view.y(0), view.y(bottom), kilt.write(bottom), "end")
    return Sketch(view.y(bottom) + 0.3, tuple(items))


def portrait(kilt: Kilt, width: float, tall: float) -> Sketch:
    """The finished kilt opened flat, outside up, for the first page."""
    view = fitted(kilt, width, tall, 0.02)
    high = kilt.level(LevelName.BOTTOM).below_top
    items = view.shown(SHAPED, apart=True)
    return Sketch(view.y(high) + 0.04, tuple(items))
