"""Tape readings of named stripes: the map they give, and the readings that the others contradict.

A reading says that the centre of a stripe (a thread position) lies at a tape position.  Woven cloth wanders
slowly, so a reading can be foretold from the others: the size of a thread is taken to wander at random along
the piece, each reading to be off by a measuring error.  A reading that lies too many standard deviations from
what the others foretell is reported with its likely right value, and never averaged in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pleatwright.cloth.run import Numbers, Run
from pleatwright.sett import Sett

MEASURING_ERROR = 1 / 16 / 3**0.5
"""Standard deviation of one reading in inches: even up to 1/16" either way (makers read sixteenths)."""
WANDER = 0.005 / 3**0.5
"""Standard deviation of the change of scale over `WANDER_LENGTH`: even up to 0.5% either way [own]."""
WANDER_LENGTH = 26.0
"""Inches over which the scale wanders by `WANDER`, and the least stretch that gives a scale to go on with."""
DOUBTFUL = 4.0
"""Standard deviations beyond which a reading is reported; tuned on seeds of its own, see the docs."""
FEWEST = 4
"""Readings needed before one of them can be held against the others."""


@dataclass(frozen=True)
class Reading:
    """The centre of a stripe at a tape position: `thread` counted on from repeat to repeat, `at` in inches.

    `kept`: the maker has measured again and stands by it.
    """

    stripe: str
    thread: float
    at: float
    kept: bool = False


@dataclass(frozen=True)
class Doubt:
    """A reading the others contradict: where they put it, give or take `spread` (one standard deviation)."""

    number: int
    reading: Reading
    likely: float
    spread: float
    slip: str


def _foretold(readings: Sequence[Reading], thread_size: float) -> tuple[Numbers, Numbers]:
    """For each reading the place the others give it and the standard deviation of the difference (inches).

    The scale is a random walk, so positions are its integral: covariance w²·(s²·u/2 - s³/6) for s < u, with
    an unknown start and an unknown mean scale; leaving one out follows from the inverse (Rasmussen and
    Williams, Gaussian Processes for Machine Learning, 5.4.2).
    """
    threads = np.array([reading.thread for reading in readings])
    along = (threads - threads[0]) * thread_size
    at = np.array([reading.at for reading in readings])
    near, far = np.minimum.outer(along, along), np.maximum.outer(along, along)
    wander = WANDER**2 / WANDER_LENGTH * (near**2 * far / 2 - near**3 / 6)
    inverse = np.linalg.inv(wander + np.eye(len(at)) * MEASURING_ERROR**2)
    trend = np.column_stack([np.ones_like(along), along])
    weighed = inverse @ trend
    precision = inverse - weighed @ np.linalg.solve(trend.T @ weighed, weighed.T)
    own = np.diag(precision)
    off = (precision @ at) / own
    return at - off, 1 / np.sqrt(own)


def foretold(readings: Sequence[Reading], sett: Sett, sett_size: float) -> tuple[tuple[float, float], ...]:
    """For each reading, in rising threads, where the others put it and one standard deviation (inches).

    None with fewer than three readings: two give a scale, a third can be held against it.
    """
    if len(readings) < 3:
        return ()
    likely, spread = _foretold(readings, sett_size / sett.n)
    return tuple(zip(likely.tolist(), spread.tolist(), strict=True))


def doubts(readings: Sequence[Reading], sett: Sett, sett_size: float) -> tuple[Doubt, ...]:
    """The readings that the others contradict, worst first taken out, in the order of the piece.

    The readings must come in rising threads.  A kept one is never reported; where the others contradict it,
    it has no say about them.
    """
    found = []
    left = list(enumerate(readings))
    while len(left) >= FEWEST:
        likely, spread = _foretold([reading for _, reading in left], sett_size / sett.n)
        off = np.abs(np.array([reading.at for _, reading in left]) - likely) / spread
        worst = int(np.argmax(off))
        if off[worst] <= DOUBTFUL:
            break
        number, reading = left.pop(worst)
        if reading.kept:
            continue
        place, width = float(likely[worst]), float(spread[worst])
        found.append(
            Doubt(number + 1, reading, place, width, _slip(reading, place, 3 * width, sett, sett_size))
        )
    return tuple(sorted(found, key=lambda doubt: doubt.number))


def _slip(reading: Reading, likely: float, near: float, sett: Sett, sett_size: float) -> str:
    """The slip that would explain a wrong reading, in words."""
    off = reading.at - likely
    repeats = round(off / sett_size)
    if repeats and abs(off - repeats * sett_size) <= near:
        many = "a repeat" if abs(repeats) == 1 else f"{abs(repeats)} repeats"
        return f"{many} {'skipped' if repeats > 0 else 'counted twice'}"
    for name, factor in (("read in centimetres", 2.54), ("centimetres taken for inches", 1 / 2.54)):
        if abs(reading.at / factor - likely) <= near:
            return name
    whole, rest = divmod(abs(reading.at), 1.0)
    digits = str(int(whole))
    for i in range(len(digits) - 1):
        swapped = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
        if swapped != digits and abs(int(swapped) + rest - likely) <= near:
            return "two digits changed round"
    stripe = sett.stripe_at(reading.thread)
    for other in sett.stripes:
        gap = (sett.centre_of(other) - reading.thread) % sett.n
        alike = (other.colour, other.threads) == (stripe.colour, stripe.threads)
        for threads in (gap, gap - sett.n) if alike and other != stripe else ():
            if abs(off - threads * sett_size / sett.n) <= near:
                return "the same stripe elsewhere in the sett"
    return ""


def run_of_readings(sett: Sett, length: float, readings: Sequence[Reading], sett_size: float) -> Run:
    """The thread-to-tape map of a strip: straight lines between the readings.

    Beyond the last one either way the mean scale of the next 26" or more goes on, else of the whole; a single
    reading is continued with the sett's size.
    """
    knots = sorted((reading.thread, reading.at) for reading in readings)
    if len(knots) == 1:
        thread, at = knots[0]
        return Run.uniform(sett, sett_size, thread - at * sett.n / sett_size, length)
    first, last = _continued(knots, 0.0), _continued(knots[::-1], length)
    ends = [first] if knots[0][1] > 0 else []
    more = [last] if knots[-1][1] < length else []
    threads, tape = zip(*ends, *knots, *more, strict=True)
    return Run(sett, length, tape, threads)


def _continued(knots: Sequence[tuple[float, float]], to: float) -> tuple[float, float]:
    """The map continued from its first knot to a tape position, at the mean scale of the knots near it."""
    thread, at = knots[0]
    far = next((knot for knot in knots if abs(knot[1] - at) >= WANDER_LENGTH), knots[-1])
    return thread + (to - at) * (far[0] - thread) / (far[1] - at), to
