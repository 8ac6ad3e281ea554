"""Blocks one under the other, broken over pages; tables are blocks, one for each row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pleatwright.order import Job
from pleatwright.sheets.drawing import INK, Anchor, Item, Line, Page, Rect, Text, moved
from pleatwright.sheets.lettering import CAPITALS, POINTS, width_of, wrapped
from pleatwright.sheets.look import (
    ACCENT,
    ACCENT_PALE,
    BODY,
    GREY,
    HAIR,
    HEADING,
    SMALL,
    Frame,
    baseline,
    line_height,
    stamped,
)

TOUCH = 1e-9


@dataclass(frozen=True)
class Block:
    """Items that stay together, drawn from (0, 0) at their top left; `height` in inches.

    `keep`: not the last on a page.  `head`: drawn above it where it comes first on a page.  `gap`: white
    below, left out at the end of a page.
    """

    height: float
    items: tuple[Item, ...]
    keep: bool = False
    head: Block | None = None
    gap: float = 0.0


def white(height: float) -> Block:
    """White space, which a page's end swallows."""
    return Block(0.0, (), gap=height)


def broken(
    blocks: Sequence[Block], height: float, left: float = 0.0, top: float = 0.0
) -> tuple[tuple[Item, ...], ...]:
    """The blocks laid one under the other on as many pages, `height` inches each, as they take.

    The first one's top left corner lies at `left` and `top`.
    """
    pages: list[tuple[Item, ...]] = []
    items: list[Item] = []
    y, at = 0.0, 0
    while at < len(blocks):
        end = at
        while blocks[end].keep and end + 1 < len(blocks):
            end += 1
        group = blocks[at : end + 1]
        needed = sum(block.height + block.gap for block in group) - group[-1].gap
        if items and y + needed > height + TOUCH:
            pages.append(tuple(items))
            items, y = [], 0.0
        if not items and group[0].head is not None:
            items += moved(group[0].head.items, left, top)
            y += group[0].head.height
        for block in group:
            items += moved(block.items, left, top + y)
            y += block.height + block.gap
        if not items:
            y = 0.0
        at = end + 1
    if items or not pages:
        pages.append(tuple(items))
    return tuple(pages)


def shifted(blocks: Iterable[Block], dx: float) -> tuple[Block, ...]:
    """The blocks moved to the right."""
    return tuple(
        Block(block.height, moved(block.items, dx, 0.0), block.keep, block.head, block.gap)
        for block in blocks
    )


def stacked(blocks: Sequence[Block]) -> Block:
    """The blocks as one that is never broken."""
    items: list[Item] = []
    y = 0.0
    for block in blocks:
        items += moved(block.items, 0.0, y)
        y += block.height + block.gap
    return Block(y, tuple(items))


def beside(*columns: Block) -> Block:
    """Blocks already moved to their places, as one."""
    return Block(
        max(column.height for column in columns), tuple(item for column in columns for item in column.items)
    )


def heading(text: str, *, gap: float = 0.06) -> Block:
    """A small heading in the accent colour; kept with what follows."""
    height = line_height(HEADING) + 0.04
    return Block(
        height, (Text(0.0, baseline(HEADING), text, HEADING, bold=True, fill=ACCENT),), True, gap=gap
    )


def paragraph(
    text: str,
    width: float,
    size: float = BODY,
    *,
    bold: bool = False,
    fill: str = INK,
    gap: float = 0.06,
    keep: bool = False,
) -> Block:
    """A text broken to the width."""
    lines = wrapped(text, width, size, bold=bold)
    step = line_height(size)
    items = tuple(
        Text(0.0, i * step + baseline(size), line, size, bold=bold, fill=fill) for i, line in enumerate(lines)
    )
    return Block(len(lines) * step, items, keep, gap=gap)


def figure(
    x: float, y: float, text: str, size: float, anchor: Anchor = "start", *, bold: bool = True
) -> tuple[Item, ...]:
    """A length in big figures on the baseline y; after a whole number the fraction is hung from the top."""
    unit = '"' if text.endswith('"') else ""
    whole, _, fraction = text.removesuffix(unit).rpartition(" ")
    if not whole or "/" not in fraction:
        return (Text(x, y, text, size, anchor, bold),)
    small = size * 0.78
    raised = (size - small) * CAPITALS / POINTS
    parts = ((f"{whole} ", size, 0.0), (fraction, small, raised), (unit, size, 0.0))
    wide = sum(width_of(part, points, bold=bold) for part, points, _ in parts)
    x -= {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    items: list[Item] = []
    for part, points, up in parts:
        items.append(Text(x, y - up, part, points, bold=bold))
        x += width_of(part, points, bold=bold)
    return tuple(items)


@dataclass(frozen=True)
class Column:
    """A table's column: its heading, width in inches, where its text stands; `figures` for lengths."""

    heading: str
    width: float
    anchor: Anchor = "start"
    figures: bool = False
    bold: bool = False


PAD = 0.07


def table(
    columns: Sequence[Column],
    rows: Iterable[Sequence[str]],
    *,
    size: float = BODY,
    pad: float = 0.05,
    headed: bool = True,
    strong: frozenset[int] = frozenset(),
) -> tuple[Block, ...]:
    """A table with hairlines, one block a row; its head comes again on every page.

    The last row never stands alone on a page: it takes the one before it along.
    Every row must have as many texts as there are columns; rows numbered in `strong` are bold and tinted.
    """
    head = _table_head(columns) if headed else None
    blocks = [head] if head is not None else []
    listed = tuple(rows)
    for number, row in enumerate(listed):
        block = _table_row(columns, row, size, pad, number in strong)
        blocks.append(Block(block.height, block.items, number == len(listed) - 2, head))
    return tuple(blocks)


def _edge(column: Column, x: float) -> float:
    inset = {"start": PAD, "middle": column.width / 2, "end": column.width - PAD}
    return x + inset[column.anchor]


def _table_head(columns: Sequence[Column]) -> Block:
    cells = [wrapped(column.heading, column.width - PAD, SMALL) for column in columns]
    deepest = max(len(lines) for lines in cells)
    step = line_height(SMALL)
    height = deepest * step + 0.05
    items: list[Item] = []
    x = 0.0
    for column, lines in zip(columns, cells, strict=True):
        top = (deepest - len(lines)) * step
        items += [
            Text(_edge(column, x), top + i * step + baseline(SMALL), line, SMALL, column.anchor, fill=GREY)
            for i, line in enumerate(lines)
        ]
        x += column.width
    items.append(Line(0.0, height, x, height, ACCENT, 0.9))
    return Block(height, tuple(items), keep=True)


def _table_row(columns: Sequence[Column], row: Sequence[str], size: float, pad: float, strong: bool) -> Block:
    cells = [
        (text,)
        if column.figures
        else wrapped(text, column.width - 2 * PAD + 0.02, size, bold=column.bold or strong)
        for column, text in zip(columns, row, strict=True)
    ]
    step = line_height(size)
    height = max(len(lines) for lines in cells) * step + 2 * pad
    wide = sum(column.width for column in columns)
    items: list[Item] = []
    if strong:
        items.append(Rect(0.0, 0.0, wide, height, fill=ACCENT_PALE))
    x = 0.0
    for column, lines in zip(columns, cells, strict=True):
        bold = column.bold or strong
        for i, line in enumerate(lines):
            y = pad + i * step + baseline(size)
            if column.figures:
                items += figure(_edge(column, x), y, line, size, column.anchor, bold=bold)
            else:
                items.append(Text(_edge(column, x), y, line, size, column.anchor, bold))
        x += column.width
    items.append(Line(0.0, height, wide, height, HAIR, 0.4))
    return Block(height, tuple(items))


@dataclass(frozen=True)
class Sheet:
    """The contents of one page before it is stamped."""

    title: str
    items: tuple[Item, ...]


def sheets_of(title: str, blocks: Sequence[Block], frame: Frame) -> tuple[Sheet, ...]:
    """The blocks as sheets of one title, as many as they take."""
    pages = broken(blocks, frame.height, frame.margin, frame.top)
    return tuple(Sheet(title, items) for items in pages)


def numbered(job: Job, frame: Frame, sheets: Sequence[Sheet]) -> tuple[Page, ...]:
    """The sheets as the pages of one document, each stamped and numbered."""
    return tuple(
        stamped(job, frame, sheet.title, sheet.items, number, len(sheets))
        for number, sheet in enumerate(sheets, 1)
    )
