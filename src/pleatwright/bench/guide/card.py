"""The sewing card: every pleat's gauges in the order of sewing, and the totals to be found on the way."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from typing import Literal

from pleatwright.bench.gauges import GaugeList
from pleatwright.order import Job

Begin = Literal["first", "last"]
"""The pleat that is sewn first: the first beside the over-apron, or the last."""


@dataclass(frozen=True)
class CardRow:
    """One pleat, numbered from the over-apron; inches on the grid.

    `hip_total`, `strap_total`: this pleat and all sewn before it.  `measure`: stop here and measure.
    """

    pleat: int
    hip: Fraction
    strap: Fraction
    hip_total: Fraction
    strap_total: Fraction
    measure: bool


def begin_of(job: Job) -> Begin:
    """Where sewing begins: a left-handed maker works in the mirror, so from the last pleat [from memory]."""
    return "first" if job.hand == "right" else "last"


def card_rows(gauges: GaugeList, begin: Begin, every: int) -> tuple[CardRow, ...]:
    """The pleats in sewing order, measured after `every` pleats and at the end."""
    rows = gauges.rows if begin == "first" else gauges.rows[::-1]
    hips, straps = (accumulate(sizes) for sizes in ([r.hip for r in rows], [r.strap for r in rows]))
    return tuple(
        CardRow(row.pleat, row.hip, row.strap, hip, strap, done % every == 0 or done == len(rows))
        for done, (row, hip, strap) in enumerate(zip(rows, hips, straps, strict=True), 1)
    )
