"""What to expect before the first pleat is sewn: a block for a page of the packet."""

from __future__ import annotations

from pleatwright.bench.risk import risk, risk_rows
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.flow import Block, Column, heading, paragraph, stacked, table, white


def risk_block(job: Job, option: Option, width: float) -> Block:
    """How near such a kilt is likely to end, in words and by how often it is measured; `width` in inches."""
    made = risk(option, job.request)
    sewing = job.request.settings.sewing
    good, most = (write_length(off, job.units) for off in (sewing.off_good, sewing.off_most))
    first = 1.5
    rest = (width - first) / 4
    columns = (
        Column("measured while sewing", first, bold=True),
        Column("pleats after the last measurement", rest, "end"),
        Column(f"kilts in 100 within {good} at the hips", rest, "end"),
        Column(f"within {good} at hips and waist", rest, "end"),
        Column(f"within {most} at hips and waist", rest, "end"),
    )
    rows = tuple(risk_rows(made))
    wanted = frozenset(at for at, row in enumerate(rows) if row[0] == f"every {made.measured.every} pleats")
    return stacked(
        (
            heading("Before sewing"),
            *(paragraph(sentence, width, gap=0.04) for sentence in made.words),
            white(0.08),
            *table(columns, rows, pad=0.03, strong=wanted),
        )
    )
