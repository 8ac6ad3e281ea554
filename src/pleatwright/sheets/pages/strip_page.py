"""The strip map: the whole piece to scale in rows, its stripes, every part of the kilt, a ruler below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor

from pleatwright.bench import Part, Region, Ruler, regions, ruler_of
from pleatwright.layout import Option
from pleatwright.lengths import MILLIMETRE
from pleatwright.order import Job
from pleatwright.sett import short_name
from pleatwright.sheets.drawing import INK, Item, Line, Polyline, Rect, Text, moved
from pleatwright.sheets.flow import Block, Sheet, paragraph, sheets_of
from pleatwright.sheets.lettering import CAPITALS, POINTS, width_of
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, ACCENT_PALE, GREY, HAIR, WHITE, Frame

BAR, RULE, GAP = 0.22, 0.33, 0.1
CLOTH_LEAST, CLOTH_USUAL, CLOTH_MOST = 0.2, 0.34, 0.5
"""Height of the cloth in a row, in inches of paper: the rows share one page, or go on to the next."""
LETTER = 8.0
MARKER = 0.08
"""Inches of paper that a name keeps from the mark at an apron's centre."""
TINTS = {
    Part.SPARE: WHITE,
    Part.REST: WHITE,
    Part.FACING: "#E9E4D6",
    Part.OVER_APRON: ACCENT_MIDDLE,
    Part.UNDER_APRON: ACCENT_PALE,
    Part.DEEP_PLEAT: "#F1EFEA",
    Part.REVERSE_PLEAT: "#F1EFEA",
    Part.HIDDEN: "#F1EFEA",
    Part.PLEAT: ACCENT,
}
HATCHED = (Part.DEEP_PLEAT, Part.REVERSE_PLEAT, Part.HIDDEN, Part.SPARE, Part.REST)


@dataclass(frozen=True)
class _Scale:
    """A row's length in inches of cloth, inches of paper for an inch of cloth, and the ruler's steps."""

    row: float
    ratio: float
    step: float
    numbered: int
    unit: float
    written: str
    cloth: float = CLOTH_MOST


INCHES = _Scale(36.0, 1 / 5, 1.0, 3, 1.0, "One yard of cloth a row, scale 1 to 5, the ruler in inches")
METRIC = _Scale(
    float(1000 * MILLIMETRE),
    1 / 5.5,
    float(10 * MILLIMETRE),
    10,
    float(10 * MILLIMETRE),
    "One metre of cloth a row, scale 1 to 5.5, the ruler in centimetres",
)


def strip_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The chosen option on its piece; nothing without a piece."""
    ruler = ruler_of(option, job.request)
    if ruler is None:
        return ()
    scale = METRIC if job.units == "metric" else INCHES
    parts = regions(option, ruler.length)
    inset = (frame.width - scale.row * scale.ratio) / 2
    text = (
        f"{scale.written}; the selvedge towards you. Dark cells are the pleats as "
        " they show at the hip line, hatched is cloth out of sight."
    )
    if ruler.repeats:
        name = short_name(ruler.run.sett, ruler.reference)
        text += f" The numbered points are the repeats: the centre of {name}."
    intro = paragraph(text, frame.width, gap=0.12)
    rows = ceil(ruler.length / scale.row - 1e-9)
    room = (frame.height - intro.height - intro.gap) / rows - BAR - RULE - GAP
    scale = replace(scale, cloth=CLOTH_USUAL if room < CLOTH_LEAST else min(room, CLOTH_MOST))
    blocks = [intro]
    for number in range(rows):
        start = number * scale.row
        end = min(start + scale.row, ruler.length)
        row = _row(job, option, ruler, parts, scale, start, end)
        blocks.append(Block(BAR + scale.cloth + RULE, moved(row, inset, 0.0), gap=GAP))
    return sheets_of("The strip", blocks, frame)


def _row(
    job: Job, option: Option, ruler: Ruler, parts: tuple[Region, ...], scale: _Scale, start: float, end: float
) -> list[Item]:
    def at(x: float) -> float:
        return (min(max(x, start), end) - start) * scale.ratio

    cloth = scale.cloth
    items: list[Item] = []
    inside = [part for part in parts if part.end > start + 1e-9 and part.start < end - 1e-9]
    centres = [(apron.centre - start) * scale.ratio for apron in (option.over_apron, option.under_apron)]
    for part in inside:
        items += _bar(part, at(part.start), at(part.end), centres)
    items += _stripes(job, ruler, scale, start, end)
    for part in inside:
        if part.part is Part.PLEAT:
            items += _flag(part, start, end, scale.ratio)
            box = (at(part.start), BAR, at(part.end) - at(part.start), cloth)
            items += [Rect(*box, stroke=WHITE, weight=2.0), Rect(*box, stroke=INK, weight=0.7)]
        elif part.part not in HATCHED:
            items += [
                Line(at(x), BAR, at(x), BAR + cloth, WHITE, 1.6)
                for x in (part.start, part.end)
                if start < x < end
            ]
    items.append(Rect(0.0, BAR, at(end), cloth, stroke=INK, weight=0.6))
    for apron in (option.over_apron, option.under_apron):
        if start <= apron.centre < end:
            x = at(apron.centre)
            items += [
                Line(x, BAR, x, BAR + cloth, WHITE, 2.0),
                Line(x, BAR, x, BAR + cloth, INK, 0.8, (3.0, 1.5)),
                Polyline(((x, BAR), (x - 0.05, 0.0), (x + 0.05, 0.0)), None, closed=True, fill=INK),
            ]
    return [*items, *_ruler(ruler, scale, start, end)]


def _bar(part: Region, left: float, right: float, centres: Sequence[float]) -> list[Item]:
    """The coloured bar over the cloth, its name in it where there is room beside the aprons' centres."""
    wide = right - left
    items: list[Item] = [Rect(left, 0.0, wide, BAR, stroke=HAIR, weight=0.4, fill=TINTS[part.part])]
    base = BAR / 2 + LETTER * CAPITALS / POINTS / 2
    middle = (left + right) / 2
    if part.part is Part.PLEAT:
        return items
    if part.part in HATCHED:
        items += _hatch(left, right)
    text = "" if part.part is Part.HIDDEN else str(part.part)
    apron = part.part in (Part.OVER_APRON, Part.UNDER_APRON)
    for size in (LETTER, LETTER - 1):
        room = width_of(text, size) + 0.08
        starts = [left + 0.02, *(x + MARKER for x in centres)] if apron else [middle - room / 2]
        free = [
            x
            for x in starts
            if left <= x
            and x + room <= right
            and not any(x - MARKER < centre < x + room + MARKER - 0.01 for centre in centres if apron)
        ]
        if text and free:
            if part.part in HATCHED:
                items.append(Rect(free[0], 0.02, room, BAR - 0.04, fill=TINTS[part.part]))
            items.append(Text(free[0] + 0.04, base, text, size))
            break
    return items


def _flag(part: Region, start: float, end: float, ratio: float) -> list[Item]:
    """A pleat's cell; its number in the row where its middle lies, over what that row shows of it."""
    left, right = ((x - start) * ratio for x in (max(part.start, start), min(part.end, end)))
    cell = Rect(left, 0.0, right - left, BAR, fill=ACCENT)
    if not start <= (part.start + part.end) / 2 < end:
        return [cell]
    text, x = str(part.pleat), (left + right) / 2
    wide = max(right - left, width_of(text, LETTER, bold=True) + 0.05)
    base = BAR / 2 + LETTER * CAPITALS / POINTS / 2
    return [
        replace(cell, x=x - wide / 2, width=wide),
        Text(x, base, text, LETTER, "middle", True, WHITE),
    ]


def _hatch(left: float, right: float) -> Iterator[Line]:
    """Slanting hairlines, cut off at both ends of the bar."""
    step = 0.09
    for i in range(floor(left / step) - 3, ceil(right / step) + 1):
        low = i * step
        x1, x2 = max(low, left), min(low + BAR, right)
        if x2 > x1:
            yield Line(x1, BAR - (x1 - low), x2, BAR - (x2 - low), HAIR, 0.4)


def _stripes(job: Job, ruler: Ruler, scale: _Scale, start: float, end: float) -> Iterator[Rect]:
    """Every stripe of the weft in its colour; each reaches under the next, so that no gap shows."""
    run, tartan, ratio, cloth = ruler.run, job.request.tartan, scale.ratio, scale.cloth
    sett = run.sett
    if sett.plain:
        yield Rect(0.0, BAR, (end - start) * ratio, cloth, fill=tartan.hex_of(sett.stripes[0].colour))
        return
    first, last = run.thread_at(start), run.thread_at(end)
    turns = range(floor(first / sett.n) - 2, ceil(last / sett.n) + 1)
    for turn in turns:
        for stripe in sett.stripes:
            left = run.tape_at(turn * sett.n + stripe.start)
            right = run.tape_at(turn * sett.n + stripe.end)
            if right <= start or left >= end:
                continue
            x, far = max(left, start), min(right + 0.05, end)
            yield Rect((x - start) * ratio, BAR, (far - x) * ratio, cloth, fill=tartan.hex_of(stripe.colour))


def _ruler(ruler: Ruler, scale: _Scale, start: float, end: float) -> Iterator[Item]:
    top = BAR + scale.cloth
    first = round(start / scale.step)
    for tick in range(first, floor(end / scale.step + 1e-9) + 1):
        x = (tick * scale.step - start) * scale.ratio
        named = tick % scale.numbered == 0
        yield Line(x, top, x, top + (0.08 if named else 0.045), GREY, 0.5)
        if (named and x <= scale.row * scale.ratio - 0.05) or tick == first:
            value = tick * scale.step / scale.unit
            yield Text(x, top + 0.19, f"{value:.0f}", LETTER - 0.5, "middle", fill=GREY)
    for number, place in enumerate(ruler.repeats, 1):
        if start <= place < end:
            x = (place - start) * scale.ratio
            yield Polyline(
                ((x, top + 0.005), (x - 0.045, top + 0.085), (x + 0.045, top + 0.085)),
                None,
                closed=True,
                fill=ACCENT,
            )
            yield Text(x, top + 0.31, str(number), LETTER, "middle", True, ACCENT)
