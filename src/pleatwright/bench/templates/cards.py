"""Templates as wide as a hand: the strap hole, and the edge both aprons are folded to."""

from __future__ import annotations

from fractions import Fraction
from math import floor

from pleatwright.bench.gauges import GaugeList
from pleatwright.bench.ruler import grid_of
from pleatwright.bench.templates.narrow import pleat_widths
from pleatwright.bench.templates.template import (
    Points,
    Round,
    Template,
    Use,
    Words,
    box,
    smooth,
)
from pleatwright.layout import Option, Request
from pleatwright.lengths import MILLIMETRE, write_length
from pleatwright.wearer import LevelName

INSET = Fraction(1, 16)
TEXT, NOTE = 11.0, 9.0
SLOT = Fraction(1, 8)
"""Width of the slot that the hole is chalked through."""

HALF_CARD = Fraction(3, 2)
BELOW = Fraction(3, 4)
BODY = Fraction(9, 8)
"""Least width of card on either side of the apron card's middle line."""

SIGHT = Fraction(1, 16)
"""Radius of the holes that the chalked line is seen through."""

EDGE_LEVELS = (LevelName.TOP, LevelName.STRAP, LevelName.HIP, LevelName.BOTTOM)


def strap_hole_template(gauges: GaugeList, option: Option, request: Request) -> Template | None:
    """Where the seam between first and second pleat stays open; None where the strap lies inside.

    The hole is as long as the strap is wide and a little more, centred on the strap line (common
    practice, no source).
    """
    closing, sizes = request.settings.closing, request.sizes
    if len(gauges.rows) < 2 or closing.under_strap == "inside":
        return None
    long = closing.strap_width + closing.strap_hole_longer
    seam, strap = HALF_CARD, sizes.rise
    top, bottom = strap - long / 2, strap + long / 2
    high = bottom + BELOW
    slot = box(seam - SLOT / 2, top, seam + SLOT / 2, bottom)
    lines: list[Points] = [
        ((Fraction(0), strap), (slot[0][0], strap)),
        ((slot[1][0], strap), (2 * seam, strap)),
        ((seam, bottom), (seam, high)),
    ]
    if top > 0:
        lines.append(((seam, Fraction(0)), (seam, top)))
    first_left = option.opens_on == "right"
    guides: list[Points] = []
    rooms: list[Fraction] = []
    for row, side in zip(gauges.rows[:2], (-1, 1) if first_left else (1, -1), strict=True):
        across = pleat_widths(row, option, sizes)
        fell = sizes.level(LevelName.HIP).below_top - strap
        end = (
            across[LevelName.STRAP]
            + (across[LevelName.HIP] - across[LevelName.STRAP]) * (high - strap) / fell
        )
        edge = ((across[LevelName.TOP], Fraction(0)), (across[LevelName.STRAP], strap), (end, high))
        rooms.append(across[LevelName.STRAP])
        if max(x for x, _ in edge) < HALF_CARD:
            guides.append(tuple((seam + side * x, y) for x, y in edge))
    left, right = ("pleat 1", "pleat 2") if first_left else ("pleat 2", "pleat 1")
    shown = min(max(rooms), HALF_CARD)
    room, beside = shown - 2 * INSET, (HALF_CARD - shown if guides else shown) - 2 * INSET
    said = write_length(long, request.units, grid_of(request))
    words = (
        Words(seam - shown / 2, high - 2 * INSET, left, NOTE, room, "middle"),
        Words(seam + shown / 2, high - 2 * INSET, right, NOTE, room, "middle"),
        Words(INSET, strap - INSET, "strap line", NOTE, beside),
        Words(2 * seam - INSET, strap - INSET, f"hole {said}", NOTE, beside, "end"),
        Words(INSET, 3 * INSET, "top edge", NOTE, beside),
    )
    return Template(
        name="strap-hole",
        use=Use.STRAP_HOLE,
        title="strap hole",
        width=2 * HALF_CARD,
        height=high,
        outline=box(Fraction(0), Fraction(0), 2 * HALF_CARD, high),
        slots=(slot,),
        lines=tuple(lines),
        guides=tuple(guides),
        words=words,
    )


def apron_template(request: Request) -> Template:
    """One card for all four apron edges, from the top edge to the bottom edge.

    Its middle line lies at one distance from the apron's centre (`apron_line`).  On its right the
    edge is one gentle curve through the edge marks, as wool is pressed; on its left it runs in straight lines
    from mark to mark, as for other cloths (xmarksthescot.com post 1343491).  The lap only moves the card.
    """
    sizes, units, grid = request.sizes, request.units, grid_of(request)
    line = apron_line(request)
    out = {name: sizes.level(name).pleat_side - line for name in EDGE_LEVELS}
    down = {name: sizes.level(name).below_top for name in EDGE_LEVELS}
    half = max(out.values())
    high = down[LevelName.BOTTOM]
    right = smooth([(half + out[name], down[name]) for name in EDGE_LEVELS])
    left = [(half - out[name], down[name]) for name in reversed(EDGE_LEVELS)]
    lift = request.settings.closing.under_lift
    lines: list[Points] = [((half, Fraction(0)), (half, high))]
    lines += [
        ((half - out[name], down[name]), (half + out[name], down[name]))
        for name in (LevelName.STRAP, LevelName.HIP)
    ]
    guides: tuple[Points, ...] = ()
    room = min(out.values()) - 4 * INSET
    words = [
        Words(half + 2 * INSET, down[name] - INSET, str(name), NOTE, room)
        for name in (LevelName.STRAP, LevelName.HIP)
    ]
    words.append(Words(half + 2 * INSET, 3 * INSET, "top edge", NOTE, room))
    if lift:
        wide = min(out[LevelName.HIP], out[LevelName.BOTTOM])
        guides = (((half - wide, high - lift), (half + wide, high - lift)),)
        text = f"under-apron: lower edge lifted {write_length(lift, units, grid)}"
        words.append(Words(half, high - lift - INSET, text, NOTE, 2 * wide - 4 * INSET, "middle"))
    broad = min(out[LevelName.HIP], out[LevelName.BOTTOM]) - 4 * INSET
    at = down[LevelName.HIP] + (high - down[LevelName.HIP]) / 3
    far = write_length(line, units, grid)
    fringed = write_length(line + sizes.lap, units, grid)
    said: list[tuple[str, str]] = [
        ("straight lines:", "gentle curve:"),
        ("other cloths", "wool, pressed"),
        ("", ""),
        ("apron's centre:", far),
    ]
    if sizes.lap:
        said.append(("fringed side:", fringed))
    for number, (one, other) in enumerate(said):
        y = at + number * Fraction(1, 4)
        words.append(Words(half - 3 * INSET, y, one, TEXT, broad, "end", bold=number == 0))
        words.append(Words(half + 3 * INSET, y, other, TEXT, broad, "start", bold=number == 0))
    return Template(
        name="apron-edge",
        use=Use.APRONS,
        title="apron edge",
        width=2 * half,
        height=high,
        outline=(*right, *left),
        rounds=tuple(
            Round(half, y, SIGHT) for y in (Fraction(1, 2), down[LevelName.HIP], high - Fraction(3, 4))
        ),
        lines=tuple(lines),
        guides=guides,
        words=tuple(word for word in words if word.text),
    )


def apron_line(request: Request) -> Fraction:
    """Inches from an apron's centre to the card's middle line: whole quarters of an inch, or of 5 mm.

    On the fringed side of the over-apron the lap comes on top.
    """
    sizes = request.sizes
    step = 5 * MILLIMETRE if request.units == "metric" else Fraction(1, 4)
    narrowest = min(sizes.level(name).pleat_side for name in EDGE_LEVELS)
    return max(floor((narrowest - BODY) / step), 0) * step
