"""The marks as they are made at the cutting table: one after the other, each with the stripes it lies among.

First the cloth is read, then levels, over-apron, deep pleat, the first, second and last pleat and the
under-apron are chalked, then all the rest; the rip comes last (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import inf

from pleatwright.bench.marks import Mark, marks_at
from pleatwright.bench.ruler import ALONG, Ruler, grid_of, ruler_across, ruler_of
from pleatwright.layout import Option
from pleatwright.lengths import Grid, on_grid
from pleatwright.order import Job
from pleatwright.sett import Stripe, short_name

EVERY = 4
"""Setts from one reading to the next: a straight line over more is not to be trusted [our choice]."""
NEIGHBOURS = 2
"""Stripes drawn on either side of the one that is measured from."""


class TablePart(StrEnum):
    """The parts of the work at the table, in their order."""

    READINGS = "readings"
    LEVELS = "levels"
    JOIN = "join"
    OVER_APRON = "over-apron"
    DEEP_PLEAT = "deep pleat"
    PLEATS = "pleats"
    UNDER_APRON = "under-apron"
    REST = "rest"
    RIP = "rip"


_PART_OF = {
    "levels": TablePart.LEVELS,
    "join": TablePart.JOIN,
    "over-apron": TablePart.OVER_APRON,
    "deep pleat": TablePart.DEEP_PLEAT,
    "first pleat": TablePart.PLEATS,
    "second pleat": TablePart.PLEATS,
    "last pleat": TablePart.PLEATS,
    "under-apron": TablePart.UNDER_APRON,
}


@dataclass(frozen=True)
class Drawn:
    """One stripe to be drawn: its colour's code, from where to where in inches from the mark."""

    colour: str
    start: float
    end: float


@dataclass(frozen=True)
class Landmark:
    """The stripe a mark is measured from: its number in the sett, the thread and tape position of its centre.

    `thread` is counted from the left end of the piece as it was read; `name` says which repeat it is in.
    """

    number: int
    thread: float
    at: Fraction
    name: str


@dataclass(frozen=True)
class Step:
    """One screen at the table: a stripe to read, a mark to chalk, or the rip.

    `tape`: inches from the left cut end, or up from the selvedge where `across`.  `landmark`: None where what
    is found there tells nothing about the piece as it was read.  `stripes`: left to right, or upward.
    """

    key: str
    part: TablePart
    group: str
    what: str
    number: int
    across: bool
    tape: Fraction
    repeat: int
    from_repeat: Fraction
    words: str
    landmark: Landmark | None
    stripes: tuple[Drawn, ...]


def table_steps(job: Job, option: Option) -> tuple[Step, ...]:
    """Every screen of one kilt in working order; raises ValueError while there is no piece of cloth."""
    request = job.request
    along = ruler_of(option, request)
    if request.piece is None or along is None or option.cloth is None:
        raise ValueError("there is no cloth on the table yet")
    whole = Ruler(request.piece.run(request.tartan), float(request.piece.length), request, ALONG)
    steps = [*_readings(job, whole)]
    straight = -inf if option.cloth.turned_end_for_end else inf
    if option.cloth.join is not None and straight > 0:
        straight = option.cloth.join.tape
    across = ruler_across(request)
    marked = [
        _mark_step(mark, x, across if mark.axis == "across" else along, straight, grid_of(request))
        for mark, x in marks_at(option, request)
    ]
    order = list(TablePart)
    return (*steps, *sorted(marked, key=lambda step: order.index(step.part)))


def _readings(job: Job, ruler: Ruler) -> list[Step]:
    """What has been read along the bottom selvedge, and a stripe to read wherever that leaves a wide gap."""
    sett, size = ruler.run.sett, float(job.request.sett_along)
    read = {
        check.reading.thread: Fraction(check.reading.at)
        for taped in job.taped
        if taped.field == "piece.readings"
        for check in taped.checks
        if check.number <= taped.entries
    }
    wanted = dict.fromkeys(read)
    numbers = [*range(1, len(ruler.repeats) + 1, EVERY)]
    if ruler.repeats and numbers[-1] != len(ruler.repeats):
        numbers.append(len(ruler.repeats))
    for number in numbers:
        at = ruler.repeats[number - 1]
        if all(abs(at - float(one)) > EVERY / 2 * size for one in read.values()):
            wanted[ruler.run.next_thread(0.0, sett.centre_of(ruler.reference)) + (number - 1) * sett.n] = None
    steps = list[Step]()
    for thread in sorted(wanted):
        x = ruler.run.tape_at(thread)
        stripe = sett.stripe_at(thread)
        landmark = _landmark(ruler, stripe, thread)
        place = ruler.place(x)
        steps.append(
            Step(
                f"reading {thread:g}",
                TablePart.READINGS,
                TablePart.READINGS.value,
                f"centre of {short_name(sett, stripe)}",
                len(steps) + 1,
                False,
                place.tape,
                place.repeat,
                place.from_repeat,
                landmark.name,
                landmark,
                _drawn(ruler, stripe, thread, x),
            )
        )
    return steps


def _mark_step(mark: Mark, x: float, ruler: Ruler | None, straight: float, grid: Grid) -> Step:
    """A mark's screen; `straight`: up to where the strip lies as the piece was read."""
    landmark, stripes = None, tuple[Drawn, ...]()
    if ruler is not None and ruler.repeats and mark.repeat:
        stripe, thread = ruler.landmark(x)
        stripes = _drawn(ruler, stripe, thread, x)
        if mark.axis == "along" and mark.group != "join" and ruler.run.tape_at(thread) <= straight:
            landmark = _landmark(ruler, stripe, thread)
    return Step(
        f"{mark.group}: {mark.what}",
        _PART_OF.get(mark.group, TablePart.REST),
        mark.group,
        mark.what,
        mark.number,
        mark.axis == "across",
        on_grid(mark.tape, grid),
        mark.repeat,
        on_grid(mark.from_repeat, grid),
        mark.words,
        landmark,
        stripes,
    )


def _landmark(ruler: Ruler, stripe: Stripe, thread: float) -> Landmark:
    x = ruler.run.tape_at(thread)
    return Landmark(stripe.index + 1, thread, ruler.snapped(x), ruler.place(x).words)


def _drawn(ruler: Ruler, stripe: Stripe, thread: float, x: float) -> tuple[Drawn, ...]:
    """The stripe round a thread and its neighbours, and more of them where the mark lies further off."""
    run, stripes = ruler.run, ruler.run.sett.stripes
    middle = (thread - stripe.threads / 2, thread + stripe.threads / 2)
    found = [(stripe, *middle)]
    low, high = middle
    before, after = stripe.index, stripe.index
    mark = run.thread_at(x)
    for turn in range(len(stripes)):
        if turn < NEIGHBOURS or low > mark:
            before = (before - 1) % len(stripes)
            found.insert(0, (stripes[before], low - stripes[before].threads, low))
            low = found[0][1]
        if turn < NEIGHBOURS or high < mark:
            after = (after + 1) % len(stripes)
            found.append((stripes[after], high, high + stripes[after].threads))
            high = found[-1][2]
    drawn = []
    for one, start, end in found:
        left, right = max(run.tape_at(start), 0.0), min(run.tape_at(end), ruler.length)
        if left < right:
            drawn.append(Drawn(one.colour, left - x, right - x))
    return tuple(drawn)
