"""The guide's pages: a title page with the contents, then two or three steps a page."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from pleatwright.bench.guide import Kilt, Step, steps_of
from pleatwright.bench.guide.kilt import LOCAL_RULES
from pleatwright.sheets.drawing import INK, Item, Line, Rect, Text
from pleatwright.sheets.flow import (
    Block,
    Column,
    Sheet,
    beside,
    heading,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.lettering import CAPITALS, POINTS, fitted, width_of, wrapped
from pleatwright.sheets.look import (
    ACCENT,
    ACCENT_PALE,
    BODY,
    GREY,
    HEADING,
    PALE,
    WHITE,
    Frame,
    baseline,
    line_height,
)
from pleatwright.sheets.pages.guide.drawings import WIDE, drawing
from pleatwright.sheets.pages.guide.finishing_drawings import portrait
from pleatwright.sheets.pages.guide.tools import THREAD
from pleatwright.wearer import LevelName

GAP = 0.26
SIDE = 3.42
"""Width of a drawing that stands beside the text."""
NUMBER = 19.0
BETWEEN = 0.17
"""White between two steps, inches."""
ENOUGH = 0.12
"""Inches a step may be higher than need be for its cautions to stand below both columns."""
CAUTION = "#F8E9D8"
TITLE = "Step by step"
PORTRAIT = 1.7
"""Most height of the kilt on the first page."""


def guide_sheets(kilt: Kilt, frame: Frame) -> tuple[Sheet, ...]:
    """Every page of the guide."""
    steps = steps_of(kilt)
    return (
        *sheets_of(TITLE, _title_page(kilt, steps, frame), frame),
        *sheets_of(TITLE, [step_block(kilt, step, frame.width) for step in steps], frame),
    )


def step_block(kilt: Kilt, step: Step, width: float) -> Block:
    """One step, never broken over two pages; tools and cautions stand where the step is lowest."""
    wide = step.drawing in WIDE
    drawn = _drawn(kilt, step, width if wide else SIDE)
    ways = [(tools, cautions) for cautions in ("below", "left", "right") for tools in ("left", "right")]
    bare = Block(drawn.height, ())
    heights = [_laid(step, bare, width, *way).height for way in ways]
    way = next(way for way, height in zip(ways, heights, strict=True) if height < min(heights) + ENOUGH)
    return _laid(step, drawn, width, *way)


def _laid(step: Step, drawn: Block, width: float, tools: str, cautions: str) -> Block:
    """A step with its tools under the left or the right column, its cautions there or below both."""
    wide = step.drawing in WIDE
    rooms = {"left": (width - GAP) / 2 if wide else SIDE, "below": width}
    rooms["right"] = width - GAP - rooms["left"]
    columns: dict[str, list[Block]] = {"left": [], "right": [], "below": []}
    columns["left"].append(_do(step, rooms["left"]) if wide else drawn)
    if not wide:
        columns["right"].append(_do(step, rooms["right"]))
    columns["right"].append(_figures(step, rooms["right"]))
    columns[tools].append(_tools(step, rooms[tools]))
    columns[cautions].append(_cautions(step, rooms[cautions]))
    pair = beside(_column(columns["left"]), *shifted((_column(columns["right"]),), rooms["left"] + GAP))
    above = [drawn] if wide else []
    parts = [_head(step, width), *above, pair, *columns["below"], _proof(step, width)]
    made = _column([part for part in parts if part.height])
    return Block(made.height, made.items, gap=BETWEEN)


def _tall(blocks: Sequence[Block]) -> float:
    return sum(block.height for block in blocks)


def _column(blocks: Sequence[Block]) -> Block:
    return stacked([Block(block.height, block.items, gap=0.065 if block.height else 0.0) for block in blocks])


def _head(step: Step, width: float) -> Block:
    tall = 0.34
    wide = max(width_of(str(step.number), NUMBER, bold=True) + 0.2, 0.5)
    chapter = str(step.chapter)
    room = width - wide - width_of(chapter, BODY) - 0.5
    title, size = fitted(step.title, room, HEADING + 2, BODY, bold=True)
    middle = tall / 2
    return Block(
        tall,
        (
            Rect(0.0, 0.0, width, tall, fill=ACCENT_PALE),
            Rect(0.0, 0.0, wide, tall, fill=ACCENT),
            Text(
                wide / 2,
                middle + NUMBER * CAPITALS / POINTS / 2,
                str(step.number),
                NUMBER,
                "middle",
                True,
                WHITE,
            ),
            Text(wide + 0.15, middle + size * CAPITALS / POINTS / 2, title, size, bold=True),
            Text(width - 0.12, middle + BODY * CAPITALS / POINTS / 2, chapter, BODY, "end", fill=GREY),
        ),
    )


def _drawn(kilt: Kilt, step: Step, width: float) -> Block:
    sketch = drawing(kilt, step.drawing, width)
    return Block(sketch.height, sketch.items)


def _do(step: Step, width: float) -> Block:
    """What to do, a point a sentence."""
    items: list[Item] = []
    y, indent = 0.0, 0.18
    step_down = line_height(BODY)
    for text in step.do:
        items.append(Rect(0.02, y + baseline(BODY) - 0.105, 0.07, 0.07, fill=ACCENT))
        for line in wrapped(text, width - indent, BODY):
            items.append(Text(indent, y + baseline(BODY), line, BODY))
            y += step_down
        y += 0.025
    return Block(y - 0.025, tuple(items))


def _figures(step: Step, width: float) -> Block:
    """The numbers; a value that is long takes more of the width."""
    if not step.figures:
        return Block(0.0, ())
    value = max(width_of(figure.value, BODY, bold=True) for figure in step.figures) + 0.2
    value = min(max(value, 0.8), width * 0.6)
    columns = (Column("", width - value), Column("", value, "end", bold=True))
    rows = table(columns, [(figure.name, figure.value) for figure in step.figures], headed=False, pad=0.022)
    made = stacked((white(0.06), *rows))
    return Block(made.height, (Line(0.0, 0.04, width, 0.04, ACCENT, 0.9), *made.items))


def _tools(step: Step, width: float) -> Block:
    word = "Tools"
    indent = width_of(word, BODY, bold=True) + 0.12
    lines = wrapped(", ".join(step.tools), width - indent, BODY)
    items: list[Item] = [Text(0.0, baseline(BODY), word, BODY, bold=True, fill=ACCENT)]
    items += [
        Text(indent, baseline(BODY) + i * line_height(BODY), line, BODY) for i, line in enumerate(lines)
    ]
    return Block(len(lines) * line_height(BODY), tuple(items))


def _cautions(step: Step, width: float) -> Block:
    """The cautions, one after the other, in a tinted box; nothing where there are none."""
    if not step.cautions:
        return Block(0.0, ())
    indent = 0.15 + width_of("Mind", BODY, bold=True) + 0.1
    lines = wrapped(" ".join(step.cautions), width - indent - 0.08, BODY)
    tall = len(lines) * line_height(BODY) + 0.08
    items: list[Item] = [
        Rect(0.0, 0.0, width, tall, fill=CAUTION),
        Rect(0.0, 0.0, 0.06, tall, fill=THREAD),
        Text(0.15, 0.04 + baseline(BODY), "Mind", BODY, bold=True, fill=THREAD),
    ]
    items += [
        Text(indent, 0.04 + baseline(BODY) + i * line_height(BODY), line, BODY)
        for i, line in enumerate(lines)
    ]
    return Block(tall, tuple(items))


def _proof(step: Step, width: float) -> Block:
    """Check, with what is wanted and allowed; room for what was found, the master's initials and the day."""
    proof = step.proof
    words = f"Check: {proof.what}"
    wanted = f"{proof.wanted}  ({proof.allowed})"
    room = width - 0.2
    lines = list(wrapped(words, room - width_of(wanted, BODY, bold=True) - 0.2, BODY))
    step_down = line_height(BODY)
    tall = len(lines) * step_down + 0.31
    items: list[Item] = [Rect(0.0, 0.0, width, tall, stroke=ACCENT, weight=0.9, fill=WHITE)]
    for i, line in enumerate(lines):
        items.append(Text(0.1, 0.035 + baseline(BODY) + i * step_down, line, BODY))
    items.append(Text(width - 0.1, 0.035 + baseline(BODY), wanted, BODY, "end", True))
    y = tall - 0.085
    x = 0.1
    for name, long in (("found", 2.0), ("master's initials", 1.0), ("day", 1.2)):
        items.append(Text(x, y, name, BODY, fill=GREY))
        x += width_of(name, BODY) + 0.08
        items.append(Line(x, y + 0.02, x + long, y + 0.02, GREY, 0.7))
        x += long + 0.22
    return Block(tall, tuple(items))


def _title_page(kilt: Kilt, steps: Sequence[Step], frame: Frame) -> list[Block]:
    width = frame.width
    title = kilt.option.title
    picture = portrait(kilt, width, PORTRAIT)
    return [
        _facts(kilt, width),
        white(0.12),
        Block(picture.height, picture.items, gap=0.03),
        paragraph(f"{title[0].upper()}{title[1:]}", width, bold=True, gap=0.08),
        _contents(steps, width),
        white(0.04),
        *_legend(kilt, width),
    ]


def _facts(kilt: Kilt, width: float) -> Block:
    job, level = kilt.job, kilt.level
    round_ = (kilt.write(level(name).round) for name in (LevelName.STRAP, LevelName.HIP))
    left = [
        ("client", job.client),
        ("reference", job.reference),
        ("shop", job.shop),
        ("tartan", job.request.tartan.name),
        ("promised for", job.promised),
    ]
    right = [
        ("waist, hips", ", ".join(round_)),
        ("length, fell", f"{kilt.write(job.sizes.total)}, {kilt.write(job.sizes.fell)}"),
        ("sewn first", "over-apron" if job.sewn_first == "over-apron" else "all the pleats"),
        ("begins at", f"the {kilt.begin} {kilt.pleat}"),
        ("maker's hand", job.hand),
    ]
    half = (width - GAP) / 2
    name = 1.2
    made = []
    for rows in (left, right):
        columns = (Column("", name), Column("", half - name, bold=True))
        shown = [(label, fitted(text, half - name - 0.16, BODY, BODY, bold=True)[0]) for label, text in rows]
        made.append(stacked(table(columns, [row for row in shown if row[1]], headed=False, pad=0.022)))
    return beside(made[0], *shifted((made[1],), half + GAP))


def _contents(steps: Sequence[Step], width: float) -> Block:
    """Chapters and steps in two columns."""
    half = (width - GAP) / 2
    blocks: list[Block] = []
    for chapter, listed in groupby(steps, key=lambda step: step.chapter):
        blocks.append(heading(str(chapter), gap=0.0))
        for step in listed:
            text, size = fitted(step.title, half - 0.42, BODY, 8.0)
            blocks.append(
                Block(
                    line_height(BODY),
                    (
                        Text(0.3, baseline(BODY), str(step.number), BODY, "end", True, ACCENT),
                        Text(0.42, baseline(BODY), text, size),
                    ),
                )
            )
        blocks.append(Block(0.06, ()))
    cut = _middle(blocks)
    return beside(stacked(blocks[:cut]), *shifted((stacked(blocks[cut:]),), half + GAP))


def _middle(blocks: Sequence[Block]) -> int:
    """Where to go on in the second column: the halves as even as can be, no heading last in the first."""
    cuts = [at for at in range(1, len(blocks)) if not blocks[at - 1].keep]
    return min(cuts, key=lambda at: max(_tall(blocks[:at]), _tall(blocks[at:])))


def _legend(kilt: Kilt, width: float) -> list[Block]:
    items: list[Item] = []
    x = 0.0
    y = 0.1
    signs = (
        ("chalk", "chalk line"),
        ("stitch", "stitches"),
        ("cut", "rip or cut"),
        ("apron", "cloth that is hidden or inside"),
    )
    for sign, words in signs:
        if sign == "chalk":
            items.append(Line(x, y, x + 0.4, y, INK, 0.8, (4.0, 2.0)))
        elif sign == "stitch":
            items += [Line(x + i * 0.11, y, x + i * 0.11 + 0.065, y, THREAD, 1.6) for i in range(4)]
        elif sign == "cut":
            items.append(Line(x, y, x + 0.4, y, THREAD, 1.8, (5.0, 3.0)))
        else:
            items.append(Rect(x, y - 0.07, 0.4, 0.14, stroke=ACCENT, weight=0.7, fill=PALE))
        items.append(Text(x + 0.48, y + 0.055, words, BODY))
        x += 0.48 + width_of(words, BODY) + 0.25
    text = (
        "Left and right are those of the kilt laid flat, outside up, the top edge away from you. "
        f"{kilt.pleats.capitalize()} are numbered from the over-apron. After each step the master signs "
        f"before the next one is begun. {LOCAL_RULES}"
    )
    return [heading("How to read it"), Block(0.22, tuple(items), gap=0.04), paragraph(text, width)]
