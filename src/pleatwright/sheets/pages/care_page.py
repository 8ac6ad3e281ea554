"""The care card, to be cut off for the client; below it what the shop keeps of the same kilt."""

from __future__ import annotations

from pleatwright.bench.care import Advice, care_card
from pleatwright.bench.closing import Hole, closing
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Rect, Text, moved
from pleatwright.sheets.flow import (
    Block,
    Sheet,
    beside,
    heading,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    white,
)
from pleatwright.sheets.lettering import fitted
from pleatwright.sheets.look import (
    ACCENT,
    ACCENT_PALE,
    BODY,
    GREY,
    HEADING,
    SMALL,
    TITLE,
    WHITE,
    Frame,
    baseline,
    line_height,
)
from pleatwright.sheets.pages.later_table import later_table

PAD = 0.2
GAP = 0.3


def care_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """One page."""
    made = closing(job, option)
    card = _card(job, option, frame.width)
    blocks = [
        card,
        _cut(frame.width),
        heading("For the shop's book"),
        paragraph("What this kilt can still be let out or taken in:", frame.width),
        *later_table(job, made, frame.width),
    ]
    return sheets_of("Care card", blocks, frame)


def _card(job: Job, option: Option, width: float) -> Block:
    card = care_card(job, closing(job, option))
    inner = width - 2 * PAD
    half = (inner - GAP) / 2
    names = ", ".join(part for part in (card.client, card.tartan, card.reference) if part)
    shop, shop_size = fitted(card.shop or "Your kilt", inner, TITLE * 0.9, BODY, bold=True)
    title, size = fitted(names, inner, HEADING, SMALL)
    band = line_height(TITLE) + line_height(HEADING) + 0.14
    left = stacked([block for advice in card.advice[:3] for block in _advice(advice, half)])
    right = stacked(
        [
            _fits(card.fits, job, half),
            white(0.14),
            *(block for advice in card.advice[3:] for block in _advice(advice, half)),
        ]
    )
    body = beside(left, *shifted((right,), half + GAP))
    height = band + body.height + 2 * PAD
    items: list[Item] = [
        Rect(0.0, 0.0, width, height, stroke=ACCENT, weight=1.6),
        Rect(0.0, 0.0, width, band, fill=ACCENT),
        Text(PAD, 0.06 + baseline(TITLE), shop, shop_size, bold=True, fill=WHITE),
        Text(PAD, 0.06 + line_height(TITLE) + baseline(HEADING), title, size, fill=WHITE),
        *moved(body.items, PAD, band + PAD),
    ]
    return Block(height, tuple(items), gap=0.1)


def _advice(advice: Advice, width: float) -> list[Block]:
    return [
        heading(advice.title, gap=0.02),
        *(paragraph(line, width, gap=0.04) for line in advice.lines),
        white(0.08),
    ]


def _fits(fits: tuple[Hole, ...], job: Job, width: float) -> Block:
    """The waist each hole fits, the chosen one filled in."""
    head = heading("The waist it fits, hole by hole", gap=0.06)
    cell, tall = width / len(fits), 0.5
    items: list[Item] = list(head.items)
    y = head.height + head.gap
    for i, hole in enumerate(fits):
        fill = ACCENT if hole.chosen else ACCENT_PALE
        ink = WHITE if hole.chosen else GREY
        text, size = fitted(write_length(hole.waist, job.units, job.grid), cell - 0.06, BODY, 8.0, bold=True)
        middle = (i + 0.5) * cell
        items += [
            Rect(i * cell, y, cell, tall, stroke=WHITE, weight=1.5, fill=fill),
            Text(middle, y + 0.17, f"hole {hole.number}", SMALL, "middle", fill=ink),
            Text(middle, y + 0.4, text, size, "middle", True, WHITE if hole.chosen else ACCENT),
        ]
    return Block(y + tall, tuple(items))


def _cut(width: float) -> Block:
    y = 0.1
    return Block(
        0.3,
        (
            Line(0.0, y, width, y, GREY, 0.6, (4.0, 3.0)),
            Text(width, y + 0.16, "cut here; the card goes with the kilt", SMALL, "end", fill=GREY),
        ),
        keep=True,
    )
