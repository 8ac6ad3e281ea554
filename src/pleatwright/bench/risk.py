"""Risk before sewing: how far a kilt is likely to end from its planned width, measured on the way or not.

The model is the sewing log's: pleat i is sewn at its told size + b + e_i, b one steady value for a maker at a
level, e_i from pleat to pleat, both normal and independent; their sizes are settings [from memory].
In the figures: the hand, the tape's rounding to the grid, the told widths' rounding to whole steps, and how
much the last re-spread can shift within its limits.  Not in them: slips; gauge sizes add up exactly and lose
nothing, and a gauge cut wrong is a steady error and counts with b.  Against simulated makers the chances are
true to one kilt in 100, at intervals up to half of the pleats.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import sqrt
from statistics import NormalDist

from pleatwright.bench.ruler import grid_of
from pleatwright.bench.sewing import Belief, Limits, Maker, Stretch, bounds, maker_of
from pleatwright.layout import Option, Request
from pleatwright.lengths import Grid, spread, write_length
from pleatwright.trade import SewingSettings

NODES = 64
"""Places at which an integral over what a re-spread cannot reach is taken."""
FURTHEST = 8.0
"""Standard deviations beyond which nothing is counted."""
LADDER = (2, 3, 4, 6, 8, 12)
"""Measuring intervals that are always compared, in pleats."""


@dataclass(frozen=True)
class Ends:
    """How kilts end when they are measured every `every` pleats; 0: never, all is sewn as planned.

    `readings`: how often that is before the last pleat; `left`: pleats sewn after the last reading.  `sd`:
    standard deviation of the end from its planned width in inches, at one level; hip line and strap line are
    alike, for the hand is.  `over_good`, `over_most`: chance, 0 to 1, of ending further off than the
    settings' `off_good` and `off_most` at one level; `either_good`, `either_most`: at one or at both.
    """

    every: int
    readings: int
    left: int
    sd: float
    over_good: float
    over_most: float
    either_good: float
    either_most: float


@dataclass(frozen=True)
class Risk:
    """What is to be expected of one option before the first pleat is sewn.

    `measured`: at the wanted interval; `ladder`: that one among others, rising.  `widest`: the greatest
    interval in pleats at which, and at every shorter one, the chance that the kilt ends further off than
    `off_most` at hips or waist is under the settings' `miss_chance`; 0 where even every pleat is not enough.
    `words`: the same for the maker.
    """

    pleats: int
    unmeasured: Ends
    measured: Ends
    ladder: tuple[Ends, ...]
    widest: int
    words: tuple[str, ...]


def risk(option: Option, request: Request, every: int | None = None) -> Risk:
    """The risk of sewing this option with the settings' hand and the request's grid.

    `every`: pleats between readings; as the settings say where it is not given.
    """
    sewing, grid = request.settings.sewing, grid_of(request)
    pleats = option.pleats

    def at(interval: int) -> Ends:
        return ends(pleats, interval, sewing, grid)

    wanted = min(every or sewing.measure_every, pleats)
    widest = 0
    while widest + 1 < pleats and at(widest + 1).either_most < sewing.miss_chance:
        widest += 1
    ladder = tuple(at(one) for one in sorted({*LADDER, wanted, widest}) if 0 < one < pleats)
    made = Risk(pleats, at(0), at(wanted), ladder, widest, ())
    return replace(made, words=tuple(_words(made, request)))


def ends(pleats: int, every: int, sewing: SewingSettings, grid: Grid) -> Ends:
    """How `pleats` pleats end, measured and re-spread every `every` pleats; 0: never.

    Unmeasured, the end is normal with variance N² bias² + N scatter² [derived].  Measured, it is what is
    not known of the sewn width and of the steady error at the last reading, the scatter of the pleats after
    it, and half a step's rounding; beyond what the last re-spread can shift, what is missing is added
    [derived].
    """
    good, most = float(sewing.off_good), float(sewing.off_most)
    at = tuple(range(every, pleats, every)) if every else ()
    maker = maker_of(sewing, grid)
    end = _unknown(at, pleats, maker)
    if at:
        told = float(grid.step) ** 2 / 12
        wanted = _unknown(at[:-1], pleats, maker) - end + (told if at[:-1] else 0.0)
        left = pleats - at[-1]
        missed = _Missed(sqrt(end + told), sqrt(max(wanted, 0.0)), reaches(left, every, sewing, grid))
    else:
        left, missed = pleats, _Missed(sqrt(end), 0.0, ())
    over_good, over_most = missed.chance(good), missed.chance(most)
    return Ends(
        every,
        len(at),
        left,
        missed.sd,
        over_good,
        over_most,
        over_good * (2 - over_good),
        over_most * (2 - over_most),
    )


def reaches(left: int, every: int, sewing: SewingSettings, grid: Grid) -> tuple[float, ...]:
    """Inches by which the last `left` pleats can be made wider in all, or narrower; all alike likely.

    It depends on where the last pleat sewn stands in the even spread of all since the reading before; every
    remainder of that spread is taken once.
    """
    limits = Limits.of(sewing, grid)
    made = []
    for units in range(every + left):
        told = spread(units, every + left)
        rest = told[every:]
        most = sum(most for _, most in bounds(rest, told[every - 1], limits))
        made.append(float((most - sum(rest)) * grid.step))
    return tuple(made)


def _unknown(at: tuple[int, ...], pleats: int, maker: Maker) -> float:
    """Variance of the end's excess over what is told, once it was read after these pleats; square inches."""
    return Belief(maker, [Stretch(1, n, 0.0) for n in at]).excess(1, pleats).sd ** 2


@dataclass(frozen=True)
class _Missed:
    """An end: normal with `rest` (sd, inches), and what of a wanted shift (`shift`, sd) lies beyond reach.

    `reaches`: how far one can go, each as likely as the other, in inches; none where nothing is shifted.
    """

    rest: float
    shift: float
    reaches: tuple[float, ...]

    def chance(self, off: float) -> float:
        """The chance of ending more than `off` inches from the mark, either way."""
        if not self.rest:
            return 0.0
        inside = NormalDist(0, self.rest)
        plain = 2 * inside.cdf(-off)
        return plain + sum(
            weight * (inside.cdf(-off - over) + inside.cdf(-off + over) - plain)
            for over, weight in self._beyond()
        )

    @property
    def sd(self) -> float:
        """Of the end, in inches."""
        return sqrt(self.rest**2 + sum(weight * over**2 for over, weight in self._beyond()))

    def _beyond(self) -> Iterator[tuple[float, float]]:
        """How far beyond reach, in inches, with what weight; both ways together (midpoint rule)."""
        if not self.shift:
            return
        for far, times in Counter(self.reaches).items():
            least = far / self.shift
            span = max(FURTHEST - least, 0.0) / NODES
            for i in range(NODES if span else 0):
                over = (i + 0.5) * span
                weight = 2 * NormalDist().pdf(least + over) * span
                yield over * self.shift, weight * times / len(self.reaches)


def _words(made: Risk, request: Request) -> Iterator[str]:
    sewing = request.settings.sewing
    good, most = (write_length(off, request.units) for off in (sewing.off_good, sewing.off_most))
    plain, log = made.unmeasured, made.measured
    yield (
        f"At a usual hand, {in_100(plain.over_most)} such kilts end more than {most} off at the hip line, "
        "and as many at the strap line, unless measured while sewing."
    )
    if plain.either_most < sewing.miss_chance:
        yield "A hand as even as this needs measuring only as a check."
        return
    if log.readings:
        yield (
            f"Measured every {log.every} pleats, and the rest re-spread each time: {in_100(log.over_most)}. "
            f"Then {in_100(1 - log.either_good)} end within {good} at hips and waist, instead of "
            f"{in_100(1 - plain.either_good)}."
        )
    if made.widest:
        yield (
            f"Measure at least every {made.widest} pleats: that keeps the chance of ending more than "
            f"{most} off at hips or waist under {in_100(sewing.miss_chance)}. The last measurement counts "
            "most: take it with about three pleats to go."
        )
    else:
        yield "With this hand not even measuring every pleat keeps the end near enough: sew a sample first."


def in_100(chance: float) -> str:
    """A chance of 0 to 1 in a maker's words: `58 in 100`, `under 1 in 100`, `over 99 in 100`."""
    return f"{of_100(chance)} in 100"


def of_100(chance: float) -> str:
    """A chance of 0 to 1 as so many in a hundred: `58`, `under 1`, `over 99`."""
    if chance < 0.01:
        return "under 1"
    return "over 99" if chance > 0.99 else str(round(chance * 100))


def risk_rows(made: Risk) -> Iterator[tuple[str, str, str, str, str]]:
    """Every interval, the longest first: words, pleats after the last reading, kilts of a hundred.

    The kilts: within `off_good` at one level, within it at both, within `off_most` at both.
    """
    for ends in (made.unmeasured, *reversed(made.ladder)):
        yield (
            f"every {ends.every} pleats" if ends.every else "never",
            str(ends.left),
            of_100(1 - ends.over_good),
            of_100(1 - ends.either_good),
            of_100(1 - ends.either_most),
        )
