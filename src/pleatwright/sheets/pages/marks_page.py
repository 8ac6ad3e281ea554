"""The mark list in working order: a box to tick, the figures large, a blank for what was found."""

from __future__ import annotations

from itertools import groupby

from pleatwright.bench import Mark, marks, ruler_of
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sett import short_name
from pleatwright.sheets.drawing import Item, Line, Rect, Text
from pleatwright.sheets.flow import Block, Sheet, figure, heading, paragraph, sheets_of, white
from pleatwright.sheets.lettering import width_of, wrapped
from pleatwright.sheets.look import ACCENT, BODY, GREY, HAIR, SMALL, Frame, baseline, line_height

TAPE = 14.0
BOX = 0.17
WHAT, TAPE_END, REPEAT = 0.76, 4.86, 4.98
FOUND = 0.95


def marks_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """Every mark of the chosen option."""
    blocks = [*_intro(job, option, frame.width)]
    for group, listed in groupby(marks(option, job.request), key=lambda mark: mark.group):
        across = group == "levels"
        head = _head(group, across=across, width=frame.width)
        blocks.append(head)
        for mark in listed:
            row = _row(mark, job, frame.width)
            blocks.append(Block(row.height, row.items, head=head))
        blocks.append(white(0.16))
    return sheets_of("Marks", blocks, frame)


def _intro(job: Job, option: Option, width: float) -> tuple[Block, ...]:
    ruler = ruler_of(option, job.request)
    text = "Tape figures run from the left cut end, the outside up and the selvedge towards you. "
    if ruler is not None and ruler.repeats:
        name = short_name(ruler.run.sett, ruler.reference)
        text += (
            f"Number the repeats with chalk from the left: repeat 1 is the first centre of {name}. "
            "Trust the stripe before the tape: measure the last step from the stripe named."
        )
    return (paragraph(text, width, gap=0.14),)


def _head(group: str, *, across: bool, width: float) -> Block:
    title = heading(group[:1].upper() + group[1:], gap=0.0)
    base = baseline(SMALL) + 0.06
    tape = "up from the selvedge" if across else "tape"
    items: tuple[Item, ...] = (
        *title.items,
        Text(TAPE_END, base, tape, SMALL, "end", fill=GREY),
        Text(REPEAT, base, "from repeat", SMALL, fill=GREY),
        Text(width - FOUND, base, "found", SMALL, fill=GREY),
        Line(0.0, title.height, width, title.height, ACCENT, 0.9),
    )
    return Block(title.height, items, keep=True)


def _row(mark: Mark, job: Job, width: float) -> Block:
    base = 0.05 + baseline(TAPE)
    tape = write_length(mark.tape, job.units, job.grid)
    room = TAPE_END - width_of(tape, TAPE, bold=True) - 0.1 - WHAT
    items: list[Item] = [
        Rect(0.02, base - BOX + 0.02, BOX, BOX, stroke=GREY, weight=0.8),
        Text(0.66, base, str(mark.number), BODY, "end", fill=GREY),
        *figure(TAPE_END, base, tape, TAPE, "end"),
        Line(width - FOUND, base + 0.03, width, base + 0.03, GREY, 0.5),
    ]
    if mark.repeat:
        items.append(Text(REPEAT, base, _from_repeat(mark, job), BODY))
    y = base - baseline(BODY)
    for line in wrapped(mark.what, room, BODY, bold=True):
        items.append(Text(WHAT, y + baseline(BODY), line, BODY, bold=True))
        y += line_height(BODY)
    y = max(y, 0.05 + line_height(TAPE))
    for line in wrapped(mark.words, width - WHAT, BODY) if mark.words else ():
        items.append(Text(WHAT, y + baseline(BODY), line, BODY, fill=GREY))
        y += line_height(BODY)
    y += 0.05
    items.append(Line(0.0, y, width, y, HAIR, 0.4))
    return Block(y, tuple(items))


def _from_repeat(mark: Mark, job: Job) -> str:
    if not mark.from_repeat:
        return f"{mark.repeat}"
    sign = "+" if mark.from_repeat > 0 else "−"
    return f"{mark.repeat} {sign} {write_length(abs(mark.from_repeat), job.units, job.grid)}"
