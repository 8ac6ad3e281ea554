"""A reading as it is told: where the tape found a stripe, where the others put it, what lies between."""

from __future__ import annotations

from typing import NamedTuple

from pleatwright.cloth import Check
from pleatwright.lengths import MILLIMETRE, Grid, on_grid, write_length
from pleatwright.order import Job

NOTHING = "–"


class ReadingTold(NamedTuple):
    """The three as they are written; the last is the difference of the first two, with its sign."""

    read: str
    foretold: str
    apart: str


def reading_told(check: Check, job: Job) -> ReadingTold:
    """A reading in the finest steps of a tape: 1/32 inch, or a millimetre."""
    grid = Grid.MILLIMETRE if job.units == "metric" else Grid.THIRTYSECOND
    read = on_grid(check.reading.at, grid)
    if check.likely is None:
        return ReadingTold(write_length(read, job.units, grid), NOTHING, NOTHING)
    foretold = on_grid(check.likely, grid)
    off = read - foretold
    apart = f"{'+' if off > 0 else '−'}{write_length(abs(off), job.units, grid)}" if off else NOTHING
    return ReadingTold(write_length(read, job.units, grid), write_length(foretold, job.units, grid), apart)


def sett_size_told(size: float, job: Job) -> str:
    """A sett's size (inches), a mean over many threads: to 1/32 inch, or in tenths of a millimetre."""
    if job.units == "metric":
        return f"{size / float(MILLIMETRE):.1f} mm"
    return write_length(size, "in", Grid.THIRTYSECOND)
