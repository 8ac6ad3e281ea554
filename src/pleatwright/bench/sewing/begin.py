"""Beginning a log: the figures of a job's plan, put down once."""

from __future__ import annotations

from typing import Literal

from pleatwright.bench.sewing.kilt import kilt_of
from pleatwright.bench.sewing.log import Started, Told
from pleatwright.bench.sewing.maker import targets_of
from pleatwright.layout import Option
from pleatwright.order import Job


def begun(
    job: Job,
    option: Option,
    begin: Literal["first", "last"],
    follow: Literal["spread", "least"] = "spread",
    *,
    on: str = "",
    by: str = "",
) -> Started:
    """The first entry of a log: `begin` says which pleat is sewn first, counted from the over-apron."""
    hip, strap = targets_of(option, job.request)
    return Started(
        job.version,
        job.client,
        job.reference,
        option.number,
        option.title,
        option.opens_on,
        job.units,
        job.grid,
        job.hand,
        begin,
        job.sewn_first,
        follow,
        kilt_of(option, job.request, job.body.waist, job.body.hips),
        Told(hip.sizes, strap.sizes),
        on=on,
        by=by,
    )
