"""The templates on paper at true size: small ones side by side, large ones in tiles, the tape in lengths."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from pleatwright.bench.templates import Template, Use
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Page, Text, moved
from pleatwright.sheets.flow import Block, broken, paragraph, stacked
from pleatwright.sheets.look import ACCENT, SMALL, Frame, stamped
from pleatwright.sheets.templates.card import card
from pleatwright.sheets.templates.guide import guide
from pleatwright.sheets.templates.paper import LONGEST, Paper
from pleatwright.sheets.tiles import Tile, bounds, registration, tiles_of, window

BESIDE = 1.3
"""Inches for what is said beside a narrow card."""

GAP = 0.24
EDGE = 0.32
"""White round a card that is cut into tiles; its registration marks lie in it."""

STRIP_GAP = 0.08


@dataclass(frozen=True)
class _Laid:
    """The contents of one page with the frame they are laid in."""

    title: str
    frame: Frame
    items: tuple[Item, ...]


def template_pages(job: Job, option: Option, found: Sequence[Template], paper: Paper) -> tuple[Page, ...]:
    """How to print them, then every template; each page stamped and numbered."""
    laid = [
        *_flowing(job, option, found, paper),
        *(page for one in found if one.use is not Use.TAPE for page in _large(one, paper)),
        *(page for one in found if one.use is Use.TAPE for page in _tape(one, paper)),
    ]
    return tuple(
        stamped(
            job,
            one.frame,
            one.title,
            moved(one.items, one.frame.margin, one.frame.top),
            number,
            len(laid),
        )
        for number, one in enumerate(laid, 1)
    )


def _fits(template: Template, frame: Frame) -> bool:
    return float(template.width) <= frame.width and float(template.height) <= frame.height


def _flowing(job: Job, option: Option, found: Sequence[Template], paper: Paper) -> list[_Laid]:
    """The guide and every card that fits the paper upright."""
    frame = paper.frames[0]
    small = [one for one in found if one.use is not Use.TAPE and _fits(one, frame)]
    blocks = [*guide(job, option, found, frame), *_rows(small, frame.width)]
    pages = broken(blocks, frame.height)
    if paper.roll:
        tall = sum(block.height + block.gap for block in blocks)
        if tall < frame.height:
            frame = _cut_off(frame, tall)
    return [_Laid("Templates", frame, items) for items in pages]


def _cut_off(frame: Frame, height: float) -> Frame:
    """A roll's frame, as long as its contents."""
    return replace(frame, paper_height=frame.paper_height - frame.height + height)


def _rows(cards: Sequence[Template], width: float) -> Iterator[Block]:
    """Cards side by side as long as there is room, the tallest first."""
    row: list[Block] = []
    used = 0.0
    for one in sorted(cards, key=lambda card: -card.height):
        cell, wide = _cell(one, width)
        if row and used + wide > width:
            yield _row(row)
            row, used = [], 0.0
        row.append(replace(cell, items=moved(cell.items, used, 0.0)))
        used += wide + GAP
    if row:
        yield _row(row)


def _row(cells: Sequence[Block]) -> Block:
    return Block(
        max(cell.height for cell in cells), tuple(item for cell in cells for item in cell.items), gap=GAP
    )


def _cell(template: Template, width: float) -> tuple[Block, float]:
    """A card with its title beside it where there is room; and how wide both are."""
    wide, high = float(template.width), float(template.height)
    items = card(template)
    if wide + 0.12 + BESIDE > width:
        return Block(high, items), wide
    words = [paragraph(template.title, BESIDE, bold=True)]
    if template.notes:
        words.append(paragraph(template.notes, BESIDE))
    beside = stacked(words)
    return (
        Block(max(high, beside.height), (*items, *moved(beside.items, wide + 0.12, 0.0))),
        wide + 0.12 + BESIDE,
    )


def _large(template: Template, paper: Paper) -> list[_Laid]:
    """A card larger than the paper, in the fewest tiles, upright or lying."""
    if _fits(template, paper.frames[0]):
        return []
    wide, high = float(template.width) + 2 * EDGE, float(template.height) + 2 * EDGE
    cut = [(frame, tiles_of(wide, high, frame.width, frame.height)) for frame in paper.frames]
    frame, tiles = min(cut, key=lambda one: len(one[1]))
    items = (*moved(card(template), EDGE, EDGE), *registration(tiles, wide, high))
    return [
        _Laid(f"{template.title.capitalize()} {tile.name}", frame, (window(items, tile), *_name(tile)))
        for tile in tiles
    ]


def _name(tile: Tile) -> tuple[Item, ...]:
    """A tile's name halfway down its right side, in the white beside the card."""
    return (Text(tile.width - 0.03, tile.height / 2, tile.name, 12.0, "end", bold=True, fill=ACCENT),)


def _tape(template: Template, paper: Paper) -> list[_Laid]:
    """The tape in as many lengths as the paper takes, one under the other, on the fewest pages.

    Of a joint's registration marks only the lower one is drawn: the other would lie among the repeats.
    """
    wide, high = float(template.width), float(template.height)
    frames: tuple[Frame, ...] = paper.frames
    if paper.roll:
        long = min(wide + 2 * frames[0].margin, LONGEST)
        frames = (Frame(long, paper.width, frames[0].margin, frames[0].head, frames[0].foot),)
    found = []
    for frame in frames:
        tiles = tiles_of(wide, high, frame.width, high)
        marks = [mark for mark in registration(tiles, wide, high) if bounds(mark)[1] > high / 2]
        items = (*card(template), *marks)
        strips = [
            Block(high, (window(items, tile), *_strip_name(tile, high)), gap=STRIP_GAP) for tile in tiles
        ]
        pages = broken(strips, frame.height)
        used = _cut_off(frame, len(tiles) * (high + STRIP_GAP)) if paper.roll else frame
        found.append([_Laid("Tape", used, items) for items in pages])
    return min(found, key=len)


def _strip_name(tile: Tile, high: float) -> tuple[Item, ...]:
    """A length's name near its left end, in the white along the tape's lower edge."""
    text = tile.name
    return (Text(0.62, high - 0.06, text, SMALL, "start", bold=True, fill=ACCENT),)
