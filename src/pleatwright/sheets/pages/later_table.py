"""The ways a kilt can be let out or taken in later, as a table on any page."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.closing import Closing
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.flow import Block, Column, table


def later_table(job: Job, closing: Closing, width: float) -> tuple[Block, ...]:
    """Every way with what it gives at waist and hips, and its hours."""
    figure, name, hours = 0.74, 1.62, 0.62
    columns = (
        Column("way", name, bold=True),
        Column("waist out", figure, "end", figures=True),
        Column("waist in", figure, "end", figures=True),
        Column("hips out", figure, "end", figures=True),
        Column("hips in", figure, "end", figures=True),
        Column("hours", hours, "end"),
        Column("", width - name - hours - 4 * figure),
    )

    def long(value: Fraction) -> str:
        return write_length(value, job.units, job.grid) if value else "–"

    rows = [
        (
            way.name,
            long(way.waist_out),
            long(way.waist_in),
            long(way.hips_out),
            long(way.hips_in),
            f"{way.hours:g}" if way.hours else "–",
            way.words,
        )
        for way in closing.later
    ]
    return table(columns, rows)
