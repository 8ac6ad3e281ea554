"""Gauges as tables on the screen."""

from __future__ import annotations

from itertools import accumulate

from rich.table import Table

from pleatwright.bench import GaugeList, exact_size
from pleatwright.bench.drawer import signed
from pleatwright.cli.terminal import say, screen
from pleatwright.lengths import write_length
from pleatwright.order import Job


def report_gauges(job: Job, listed: GaugeList) -> None:
    """Every pleat with the widths so far, then every gauge with its readings."""
    units, grid = job.units, listed.grid
    pleats = _table("pleat", "hip", "strap", "hip so far", "strap so far")
    hips = accumulate(row.hip for row in listed.rows)
    straps = accumulate(row.strap for row in listed.rows)
    for row, hip, strap in zip(listed.rows, hips, straps, strict=True):
        widths = (write_length(width, units, grid) for width in (row.hip, row.strap, hip, strap))
        pleats.add_row(str(row.pleat), *widths)
    screen.print(pleats)
    say("")
    gauges = _table("gauge", "from", "read", "for the size", "off", "pleats at hip", "at strap", "adds up to")
    for gauge in listed.gauges:
        name = exact_size(gauge.width if gauge.marked is None else gauge.marked, units)
        for use in gauge.uses:
            gauges.add_row(
                name,
                "drawer" if gauge.owned else "to cut",
                str(use.reading),
                write_length(use.size, units, grid),
                signed(use.off, units),
                str(use.at_hip),
                str(use.at_strap),
                signed(use.accumulated, units),
            )
    screen.print(gauges)


def _table(*headings: str) -> Table:
    table = Table(box=None, pad_edge=False, show_edge=False)
    for heading in headings:
        table.add_column(heading, justify="left" if heading in ("from", "read") else "right")
    return table
