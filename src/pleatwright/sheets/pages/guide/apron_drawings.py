"""The aprons: facing and fringe, the edges that are shaped."""

from __future__ import annotations

from pleatwright.bench.guide import Kilt
from pleatwright.layout import Apron
from pleatwright.sheets.drawing import INK, Item, Line
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import ACCENT, GREY, WHITE
from pleatwright.sheets.pages.guide.tools import (
    LETTER,
    Sketch,
    across,
    label,
    level_name,
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


def fringe(kilt: Kilt, width: float) -> Sketch:
    """The over-apron's outer edge from inside and outside at once: facing behind, fringe beyond."""
    option = kilt.option
    facing, long = option.facing, float(kilt.closing.inside.fringe)
    top, tall = 0.36, 1.15
    scale = 0.42
    edge = 0.5
    apron = option.over_apron
    at = apron.left if kilt.opens_right else apron.right
    shown = (width - edge) / scale
    low, high = (at, at + shown) if kilt.opens_right else (at - shown, at)
    left = edge if kilt.opens_right else 0.0
    items: list[Item] = []
    beyond = -1 if kilt.opens_right else 1
    x = edge if kilt.opens_right else width - edge
    for i in range(34):
        y = top + tall * (i + 0.5) / 34
        items.append(Line(x, y, x + beyond * long * scale * (1.0 if i % 2 else 0.93), y, GREY, 1.0))
    items += strip(kilt, low, high, left, top, width - edge, tall)
    inner = x - beyond * facing * scale
    items += [
        Line(inner, top, inner, top + tall, WHITE, 2.8),
        Line(inner, top, inner, top + tall, INK, 1.0, (3.0, 2.0)),
    ]
    items += stitches(((inner + beyond * 0.06, top), (inner + beyond * 0.06, top + tall)), 0.2, ACCENT)
    items += across(x, inner, top - 0.14, "")
    items.append(
        label(
            inner - beyond * 0.1,
            top - 0.14,
            f"facing {kilt.write(facing)}",
            "start" if kilt.opens_right else "end",
            bold=True,
        )
    )
    items += plate(
        inner - beyond * 0.15, top + tall * 0.35, "facing, behind", "start" if kilt.opens_right else "end"
    )
    items += across(x, x + beyond * long * scale, top + tall + 0.14, "")
    items.append(
        label(
            x - beyond * 0.1,
            top + tall + 0.14,
            f"fringe {kilt.write(long)} at most",
            "start" if kilt.opens_right else "end",
            bold=True,
        )
    )
    return Sketch(top + tall + 0.28, tuple(items))


def aprons(kilt: Kilt, width: float) -> Sketch:
    """The over-apron with its edges."""
    return _apron(kilt, kilt.option.over_apron, width)


def under_apron(kilt: Kilt, width: float) -> Sketch:
    """The under-apron with its edges."""
    return _apron(kilt, kilt.option.under_apron, width)


def _apron(kilt: Kilt, apron: Apron, width: float) -> Sketch:
    tall, top = 1.72, 0.3
    high = float(kilt.level(LevelName.BOTTOM).below_top)
    widest = max(edge.right - edge.left for edge in apron.edges)
    scale = min(tall / high, (width - 0.9) / widest)
    flat = Flat(kilt, scale, scale, SHAPED)
    middle = (width - 0.75) / 2
    rungs = [
        Rung(top + flat.y(edge.level), middle, edge.left - apron.centre, edge.right - apron.centre)
        for edge in apron.edges
        if edge.level is not LevelName.MID
    ]
    items: list[Item] = [*woven(kilt, apron.thread, rungs, scale), outline(rungs, scale, 1.2)]
    over = apron.name == "over-apron"
    for rung, name in zip(rungs, SHAPED, strict=True):
        x1, x2 = middle + rung.left * scale, middle + rung.right * scale
        level = kilt.level(name)
        value = level.over_apron if over else level.under_apron
        y = rung.y + {LevelName.TOP: -0.14, LevelName.BOTTOM: 0.14}.get(name, 0.0)
        if name in (LevelName.TOP, LevelName.BOTTOM):
            items += across(x1, x2, y, "")
        else:
            items += [Line(x1, y, x2, y, WHITE, 2.4), *across(x1, x2, y, "")]
        items += plate(middle, y, kilt.write(value), bold=True)
        if name is not LevelName.TOP:
            items += level_name(x2 + 0.06, width, y, str(name).partition(" ")[0])
    last = rungs[-1]
    edges = (middle + last.left * scale, middle + last.right * scale)
    names = ("fringed edge" if over else "free edge", kilt.pleats)
    for x, words in zip(edges, names if over == kilt.opens_right else names[::-1], strict=True):
        half = width_of(words, LETTER) / 2
        items.append(label(min(max(x, half), width - half), last.y + 0.36, words))
    return Sketch(rungs[-1].y + 0.48, tuple(items))
