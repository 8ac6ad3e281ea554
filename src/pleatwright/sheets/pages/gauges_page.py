"""The gauge list: every pleat's width at hip and strap line, and the gauges to cut, drawn at true size."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

from pleatwright.bench import GaugeList, exact_size, gauge_list
from pleatwright.bench.drawer import signed
from pleatwright.bench.gauges import chalk_line
from pleatwright.findings import Severity
from pleatwright.layout import Option
from pleatwright.lengths import MILLIMETRE, write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Rect, Text
from pleatwright.sheets.flow import (
    Block,
    Column,
    Sheet,
    beside,
    heading,
    numbered,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.look import ACCENT, ACCENT_PALE, BODY, GREY, SMALL, Frame, frame_of, who
from pleatwright.sheets.pages.risk_block import risk_block
from pleatwright.sheets.pdf import write_pdf

ROWS = 24
"""Most rows in one column of pleats."""
BESIDE_MOST = 6.5
"""Gauges whose drawings would be taller than this (inches) take the whole width of the page."""

READING = 1.3
"""Inches of paper for a gauge's reading."""


def gauges_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The chosen option's gauges."""
    gauges = gauge_list(option, job.request, job.drawer)
    one = "panel" if "box" in option.form and option.centre_face == 1 else "pleat"
    intro = (
        f"{option.pleats} {one}s, numbered from the over-apron. Sizes are whole steps of the tape and add up "
        f"exactly: {_long(gauges.hip_total, job)} at the hip line, {_long(gauges.strap_total, job)} at the "
        "strap line."
    )
    half = (frame.width - 0.3) / 2
    sizes, cut = _sizes(gauges, job, half), _to_cut(gauges, job, half)
    drawn: tuple[Block, ...] = (beside(sizes, *shifted((cut,), half + 0.3)),)
    if cut.height > BESIDE_MOST:
        drawn = (sizes, white(0.1), _to_cut(gauges, job, frame.width))
    blocks = (
        paragraph(intro, frame.width, gap=0.1),
        scale_check(job),
        white(0.12),
        *_pleats(gauges, one, job, frame.width),
        white(0.1),
        *drawn,
        white(0.14),
        *_from_drawer(gauges, job, frame.width),
        white(0.14),
        risk_block(job, option, frame.width),
    )
    return sheets_of("Gauges", blocks, frame)


def gauges_pdf(job: Job, option: Option) -> bytes:
    """The gauges of one option as a document of their own."""
    frame = frame_of(job)
    pages = numbered(job, frame, gauges_sheets(job, option, frame))
    return write_pdf(pages, f"{who(job)}, gauges, plan {job.version}")


def _long(value: Fraction, job: Job) -> str:
    return write_length(value, job.units, job.grid)


def _bare(value: Fraction, job: Job) -> str:
    """Without the unit where the heading gives it."""
    return _long(value, job).removesuffix(" mm")


def _pleats(gauges: GaugeList, what: str, job: Job, width: float) -> list[Block]:
    mm = ", mm" if job.units == "metric" else ""
    gap = 0.3
    half = (width - gap) / 2
    one = 0.66
    far = (half - 0.42 - 2 * one) / 2
    columns = (
        Column(what, 0.42),
        Column(f"hip{mm}", one, "end", figures=True, bold=True),
        Column(f"strap{mm}", one, "end", figures=True, bold=True),
        Column(f"hip so far{mm}", far, "end", figures=True),
        Column(f"strap so far{mm}", far, "end", figures=True),
    )
    rows = [
        (str(row.pleat), *(_bare(value, job) for value in (row.hip, row.strap, hips, straps)))
        for row, hips, straps in zip(
            gauges.rows,
            accumulate(row.hip for row in gauges.rows),
            accumulate(row.strap for row in gauges.rows),
            strict=True,
        )
    ]
    tall = min(ROWS, (len(rows) + 1) // 2)
    parts = [rows[at : at + tall] for at in range(0, len(rows), tall)]
    made = [stacked(table(columns, part, size=BODY, pad=0.03)) for part in parts]
    blocks = []
    for at in range(0, len(made), 2):
        right = shifted(made[at + 1 : at + 2], half + gap)
        blocks.append(beside(made[at], *right))
        blocks.append(white(0.12))
    return blocks


def _sizes(gauges: GaugeList, job: Job, width: float) -> Block:
    """The sizes wanted, and how often."""
    columns = (
        Column("size", 0.9, "end", figures=True, bold=True),
        Column("pleats at the hip line", (width - 0.9) / 2, "end"),
        Column("pleats at the strap line", (width - 0.9) / 2, "end"),
    )
    rows = [
        (_long(size.size, job), str(size.at_hip or "–"), str(size.at_strap or "–")) for size in gauges.sizes
    ]
    advice = "Measure after every few pleats and hold it against the columns so far."
    return stacked(
        (
            heading("Sizes wanted"),
            *table(columns, rows, pad=0.03),
            white(0.1),
            paragraph(advice, width, SMALL + 1),
        )
    )


def _to_cut(gauges: GaugeList, job: Job, width: float) -> Block:
    """Every gauge that is to be made, at true size and as long as the rise, in rows, with how it is read."""
    made = [gauge for gauge in gauges.gauges if not gauge.owned]
    if not made:
        text = "None: the gauges in the drawer serve every size."
        return stacked((heading("Gauges to cut"), paragraph(text, width, SMALL + 1)))
    thick = exact_size(chalk_line(job.request), job.units)
    text = (
        "Drawn at true size, as long as the rise: held to the top edge, the other end is the strap line. "
        f"Chalked round with a line {thick} wide, a gauge reads its own width between the lines and a line "
        "more on either side across them."
    )
    items: list[Item] = []
    x = y = 0.0
    long = float(made[0].length)
    for gauge in made:
        wide = float(gauge.width)
        readings = [f"{use.reading} {_long(use.size, job)}" for use in gauge.uses]
        room = max(wide, READING)
        if x and x + room > width:
            x, y = 0.0, y + long + 0.5
        items.append(Rect(x, y, wide, long, stroke=ACCENT, weight=0.5, fill=ACCENT_PALE))
        items += [Text(x, y + long + 0.17 * (1 + i), said, SMALL + 1) for i, said in enumerate(readings)]
        x += room + 0.25
    drawn = Block(y + long + 0.5, tuple(items))
    return stacked((heading("Gauges to cut"), paragraph(text, width, SMALL + 1, gap=0.1), drawn))


def _from_drawer(gauges: GaugeList, job: Job, width: float) -> list[Block]:
    """The shop's own gauges that serve: how each is read, how far it is off, what that adds up to."""
    owned = [gauge for gauge in gauges.gauges if gauge.marked is not None]
    if not job.drawer:
        return []
    columns = (
        Column("marked", 0.9, figures=True, bold=True),
        Column("true width", 1.0),
        Column("read", 0.95),
        Column("for the size", 1.0, figures=True, bold=True),
        Column("off", 1.05, "end"),
        Column("pleats, hip and strap line", 1.1, "end"),
        Column("adds up to", width - 6.0, "end"),
    )
    rows = [
        (
            exact_size(gauge.marked or gauge.width, job.units),
            exact_size(gauge.width, job.units),
            str(use.reading),
            _long(use.size, job),
            signed(use.off, job.units),
            f"{use.at_hip} + {use.at_strap}",
            signed(use.accumulated, job.units),
        )
        for gauge in owned
        for use in gauge.uses
    ]
    title = heading("From the drawer")
    blocks = [title, *table(columns, rows, pad=0.03)] if rows else [title]
    if not rows:
        blocks.append(paragraph("No gauge of the shop's reads a size of this kilt.", width))
    blocks.append(white(0.08))
    for finding in gauges.findings:
        said = f"{finding.seen[:1].upper()}{finding.seen[1:]}. {finding.do}"
        blocks.append(paragraph(said, width, bold=finding.severity is Severity.WARN, gap=0.04))
    return blocks


def scale_check(job: Job) -> Block:
    """A line of known length, to see whether the printer kept the size."""
    metric = job.units == "metric"
    long = float(100 * MILLIMETRE) if metric else 4.0
    y = 0.08
    items: list[Item] = [Line(0.0, y, long, y, ACCENT, 0.8)]
    items += [Line(x, y - 0.07, x, y + 0.07, ACCENT, 0.8) for x in (0.0, long)]
    said = "100 mm" if metric else '4"'
    items.append(Text(long + 0.12, y + 0.045, f"{said}: if not, print at 100%", SMALL, fill=GREY))
    return Block(0.2, tuple(items))
