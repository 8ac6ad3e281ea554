"""Everything about closing one kilt, brought together."""

from __future__ import annotations

from functools import lru_cache

from pleatwright.bench.closing.band import band
from pleatwright.bench.closing.inside import inside
from pleatwright.bench.closing.later import later
from pleatwright.bench.closing.measures import measures
from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.straps import strap_hole, straps
from pleatwright.bench.closing.values import Closing
from pleatwright.bench.closing.work import weight, work
from pleatwright.bench.gauges import gauge_list
from pleatwright.layout import Option
from pleatwright.order import Job


@lru_cache(maxsize=8)  # one packet asks for it from many pages
def closing(job: Job, option: Option) -> Closing:
    """How this option of this job is closed and finished; inches, hours, ounces."""
    request = job.request
    shape = Shape.of(option, job.sizes)
    top_band = band(option, request)
    hole = strap_hole(shape, gauge_list(option, request), request)
    made = straps(shape, hole, request, job.body.waist)
    within = inside(option, shape, made, request, child=job.body.child)
    return Closing(
        opens_on=option.opens_on,
        band=top_band,
        straps=made,
        strap_hole=hole,
        inside=within,
        work=work(option, shape, top_band, within, request),
        weight=weight(option, shape, within, request),
        measures=measures(job, shape, top_band, made),
        later=later(job, option),
    )
