"""A reading as it is told: where the tape found a stripe, where the others put it, what lies between."""

from __future__ import annotations

from typing import NamedTuple

from pleatwright.cloth import Check
from pleatwright.lengths import Grid, on_grid, write_length
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
