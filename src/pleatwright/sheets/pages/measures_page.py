"""The last measures: what each should be, what is allowed, and blanks for what was found."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

from pleatwright.bench.closing import Measure, closing
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Text
from pleatwright.sheets.flow import Block, Column, Sheet, heading, paragraph, sheets_of, table, white
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import BODY, GREY, Frame

FIGURE = 0.82
BLANK = 0.7


def measures_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The sheet that is filled in at the last fitting and after pressing."""
    made = closing(job, option)
    chosen = made.straps[0].chosen.number
    sewing = job.request.settings.sewing
    good, most = (write_length(value, job.units, job.grid) for value in (sewing.off_good, sewing.off_most))
    step = "the millimetre" if job.units == "metric" else "a sixteenth"
    intro = (
        f"Close the straps at hole {chosen}, counted from the apron's edge. Measure to {step} before the "
        f"last press and after it, and write what you find. Rounds, widths and lengths are good within "
        f"{good} of what is wanted; {most} off, the kilt is refitted."
    )
    blocks = [paragraph(intro, frame.width, gap=0.08)]
    columns = _columns(frame.width)
    for number, (group, listed) in enumerate(groupby(made.measures, key=lambda one: one.group)):
        blocks.append(heading(group[:1].upper() + group[1:], gap=0.0))
        rows = [_row(one, job) for one in listed]
        blocks += table(columns, rows, pad=0.036, headed=not number)
        blocks.append(white(0.06))
    blocks.append(_signed(frame.width))
    return sheets_of("Last measures", blocks, frame)


def _columns(width: float) -> tuple[Column, ...]:
    return (
        Column("what, and where", width - 3 * FIGURE - 2 * BLANK),
        Column("wanted", FIGURE, "end", figures=True, bold=True),
        Column("least", FIGURE, "end", figures=True),
        Column("most", FIGURE, "end", figures=True),
        Column("found", BLANK, "end"),
        Column("pressed", BLANK, "end"),
    )


def _row(one: Measure, job: Job) -> tuple[str, ...]:
    def long(value: Fraction) -> str:
        return write_length(max(value, Fraction(0)), job.units, job.grid)

    name = ", ".join(part for part in (one.what, one.where) if part)
    return (name, long(one.wanted), long(one.least), long(one.most), "", "")


def _signed(width: float) -> Block:
    x, y, items = 0.0, 0.32, list[Item]()
    for label in ("measured by", "day", "passed by"):
        items.append(Text(x, y, label, BODY, fill=GREY))
        start = x + width_of(label, BODY) + 0.1
        items.append(Line(start, y + 0.03, x + width / 3 - 0.2, y + 0.03, GREY, 0.8))
        x += width / 3
    return Block(0.45, tuple(items))
