"""The gauge list: every pleat's width at hip and strap line, and the gauges to cut, drawn at true size."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

from pleatwright.bench import GaugeList, gauge_list
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
    paragraph,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.look import ACCENT, ACCENT_PALE, BODY, GREY, SMALL, Frame

ROWS = 24
"""Most rows in one column of pleats."""
GAUGE_HEIGHT = 1.0
READING = 1.3
"""Inches of paper for a gauge's reading."""


def gauges_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The chosen option's gauges."""
    gauges = gauge_list(option, job.request)
    many = "panels" if "box" in option.form and option.centre_face == 1 else "pleats"
    intro = (
        f"{option.pleats} {many}, numbered from the over-apron. Sizes are whole steps of the tape and add up "
        f"exactly: {_long(gauges.hip_total, job)} at the hip line, {_long(gauges.strap_total, job)} at the "
        "strap line."
    )
    half = (frame.width - 0.3) / 2
    blocks = (
        paragraph(intro, frame.width, gap=0.1),
        scale_check(job),
        white(0.12),
        *_pleats(gauges, job, frame.width),
        white(0.1),
        beside(_sizes(gauges, job, half), *shifted((_to_cut(gauges, job, half),), half + 0.3)),
    )
    return sheets_of("Gauges", blocks, frame)


def _long(value: Fraction, job: Job) -> str:
    return write_length(value, job.units, job.grid)


def _bare(value: Fraction, job: Job) -> str:
    """Without the unit where the heading gives it."""
    return _long(value, job).removesuffix(" mm")


def _pleats(gauges: GaugeList, job: Job, width: float) -> list[Block]:
    mm = ", mm" if job.units == "metric" else ""
    gap = 0.3
    half = (width - gap) / 2
    one = 0.66
    far = (half - 0.42 - 2 * one) / 2
    columns = (
        Column("pleat", 0.42, "end"),
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
    """Every gauge at true size, in rows, with how it is read."""
    bench = job.request.settings.bench
    thick = f"{bench.chalk_line_mm:g} mm" if job.units == "metric" else f'{bench.chalk_line}"'
    text = (
        f"Drawn at true size. Chalked round with a line {thick} wide, a gauge reads its own width between "
        "the lines and a line more on either side across them."
    )
    items: list[Item] = []
    x = y = 0.0
    for gauge in gauges.gauges:
        wide = float(gauge.width)
        readings = [f"between {_long(gauge.width, job)}"]
        if gauge.outside is not None:
            readings.append(f"across {_long(gauge.outside, job)}")
        room = max(wide, READING)
        if x and x + room > width:
            x, y = 0.0, y + GAUGE_HEIGHT + 0.5
        items.append(Rect(x, y, wide, GAUGE_HEIGHT, stroke=ACCENT, weight=0.5, fill=ACCENT_PALE))
        items += [
            Text(x, y + GAUGE_HEIGHT + 0.17 * (1 + i), reading, SMALL + 1)
            for i, reading in enumerate(readings)
        ]
        x += room + 0.25
    drawn = Block(y + GAUGE_HEIGHT + 0.5, tuple(items))
    return stacked((heading("Gauges to cut"), paragraph(text, width, SMALL + 1, gap=0.1), drawn))


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
