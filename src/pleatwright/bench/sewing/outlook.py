"""One level of a kilt half sewn: where it stands, where it will end, how the rest is sewn best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist
from typing import Literal

from pleatwright.bench.sewing.belief import Belief, Stretch
from pleatwright.bench.sewing.change import Change, change_words, one_step_each, steps_needed
from pleatwright.bench.sewing.maker import Maker, Sewn, Target
from pleatwright.bench.sewing.spreading import Limits, bounds, respread, set_apart
from pleatwright.lengths import Grid
from pleatwright.trade import SewingSettings
from pleatwright.wearer import LevelName

Follow = Literal["spread", "least", "told"]
"""What is told after a measurement: the rest re-spread, only the smallest change, or what was told before."""


@dataclass(frozen=True)
class Outlook:
    """One level; inches, pleats numbered from the over-apron.

    `done`: pleats sewn, of `pleats`.  `sewn`: their width as all readings together tell it, `sewn_sd` what
    is not known of it; `read`: what the tape itself said last across all of them, None where it was not laid
    so. `planned`: their width as planned. `bias`: by how much
    this hand sews every pleat too wide, with its standard deviation. `target`: the width to end with.
    `sizes`: what is told: for pleats already sewn as told at the time, for the others as re-spread.
    `forecast`: the end if they are sewn so and not measured again, with its standard deviation; the chances
    are of ending within the settings' `off_good` and `off_most` of the target. `unchanged`: the forecast if
    the rest is sewn as told before.  `change`: the smallest change needed to end within half of `off_good`,
    None where none is, or none can be made.
    """

    level: LevelName
    pleats: int
    done: int
    sewn: float
    sewn_sd: float
    read: Fraction | None
    planned: Fraction
    bias: float
    bias_sd: float
    target: Fraction
    sizes: tuple[Fraction, ...]
    forecast: float
    forecast_sd: float
    chance_within_good: float
    chance_within_most: float
    unchanged: float
    change: Change | None

    @property
    def ahead(self) -> float:
        """By how much what is sewn is too wide, as the tape said, else as reckoned; negative: too narrow."""
        return (self.sewn if self.read is None else float(self.read)) - float(self.planned)

    @property
    def miss(self) -> float:
        """By how much the level will end too wide; negative: too narrow."""
        return self.forecast - float(self.target)


def outlook(
    target: Target,
    told: Sequence[Fraction],
    sewn: Sequence[Sewn],
    grid: Grid,
    maker: Maker,
    sewing: SewingSettings,
    *,
    from_over_apron: bool = True,
    done: int = 0,
    follow: Follow = "spread",
) -> Outlook:
    """Where one level stands after these readings, and the re-spread of what is left.

    `told`: every pleat's size in inches as it is told now, for those already sewn as it was when they were.
    `follow`: which sizes are told from now on; the forecast is theirs.
    Readings of other levels are left aside.  All pleats from where sewing began to the furthest one that was
    measured count as sewn, and at least `done` of them.

    The told sizes of the rest add up to target - sewn - rest x bias, rounded to a step of the grid, as far as
    the limits let them (`spreading`); they stay as they are where they add up to that already.
    Raises ValueError for sizes off the grid or for pleats that are not there.
    """
    level = _Level(target, tuple(told), tuple(sewn), grid, from_over_apron)
    belief = Belief(maker, level.stretches)
    done = level.done = max(level.done, done)
    rest = level.pleats - done
    over, bias, end = belief.excess(1, done), belief.bias, belief.excess(1, level.pleats)
    width = float(level.width_told(done)) + over.mean
    wanted = round((float(target.total) - width - rest * bias.mean) / float(grid.step))
    spread = level.spread_from(done, wanted, sewing)
    unchanged = float(sum(told)) + end.mean
    change, least = level.smallest_change(unchanged - float(target.total), spread, sewing)
    sizes = {"spread": spread, "least": least, "told": tuple(told)}[follow]
    forecast = float(sum(sizes)) + end.mean
    off = forecast - float(target.total)
    return Outlook(
        target.level,
        level.pleats,
        done,
        width,
        over.sd,
        level.read_across(done),
        level.width_planned(done),
        bias.mean,
        bias.sd,
        target.total,
        sizes,
        forecast,
        end.sd,
        _chance(off, end.sd, float(sewing.off_good)),
        _chance(off, end.sd, float(sewing.off_most)),
        unchanged,
        change,
    )


def unpicked(
    now: Outlook,
    target: Target,
    sewn: Sequence[Sewn],
    back: int,
    grid: Grid,
    maker: Maker,
    sewing: SewingSettings,
    *,
    from_over_apron: bool = True,
) -> float:
    """The miss in inches (too wide positive) if the last `back` pleats are unpicked and sewn again.

    Their errors are gone with their stitches; what was learned of the hand is kept.
    """
    level = _Level(target, now.sizes, tuple(sewn), grid, from_over_apron)
    belief = Belief(maker, level.stretches)
    kept = now.done - back
    rest = level.pleats - kept
    off = belief.excess(1, kept).mean + rest * belief.bias.mean - float(target.total)
    wanted = round((-off - float(level.width_told(kept))) / float(grid.step))
    return off + float(sum(level.spread_from(kept, wanted, sewing)))


@dataclass(frozen=True)
class Expectation:
    """What the tape is expected to read across some pleats, and its standard deviation, in inches."""

    width: float
    sd: float


def expected_reading(
    target: Target,
    told: Sequence[Fraction],
    sewn: Sequence[Sewn],
    first: int,
    last: int,
    grid: Grid,
    maker: Maker,
    *,
    from_over_apron: bool = True,
) -> Expectation:
    """What the tape ought to read across the pleats `first` to `last`, by all that was read before."""
    level = _Level(target, tuple(told), tuple(sewn), grid, from_over_apron)
    read = Belief(maker, level.stretches).reading(*level.places(first, last))
    return Expectation(float(sum(told[first - 1 : last])) + read.mean, read.sd)


def _chance(off: float, sd: float, within: float) -> float:
    if sd == 0:
        return float(abs(off) <= within)
    end = NormalDist(off, sd)
    return end.cdf(within) - end.cdf(-within)


class _Level:
    """A level's pleats in the order they are sewn, in whole steps of the grid."""

    def __init__(
        self,
        target: Target,
        told: tuple[Fraction, ...],
        sewn: tuple[Sewn, ...],
        grid: Grid,
        from_over_apron: bool,
    ) -> None:
        self.pleats, self.grid, self.from_over_apron = len(told), grid, from_over_apron
        self.level = target.level
        if len(target.sizes) != self.pleats:
            raise ValueError(f"{len(target.sizes)} pleats are planned and {self.pleats} told")
        self.planned = self._steps(target.sizes)
        self.told = self._steps(told)
        self.read = tuple(one for one in sewn if one.level is target.level)
        for one in self.read:
            if not 1 <= one.first <= one.last <= self.pleats:
                raise ValueError(f"there are no pleats {one.first} to {one.last} among {self.pleats}")
        self.stretches = tuple(self._stretch(one) for one in self.read)
        self.done = max((one.last for one in self.stretches), default=0)

    def _turned(self, values: Sequence[int]) -> tuple[int, ...]:
        """From numbering to order of sewing, and back."""
        return tuple(values if self.from_over_apron else reversed(values))

    def _steps(self, sizes: Sequence[Fraction]) -> tuple[int, ...]:
        steps = [size / self.grid.step for size in sizes]
        if any(size.denominator != 1 for size in steps):
            raise ValueError(f"sizes must be whole steps of the grid, {self.grid.value}")
        return self._turned([int(size) for size in steps])

    def number(self, place: int) -> int:
        """The pleat at a place (from 1) in the order of sewing; and the place of a pleat."""
        return place if self.from_over_apron else self.pleats + 1 - place

    def places(self, first: int, last: int) -> tuple[int, int]:
        """A stretch of pleats in the order of sewing."""
        ends = sorted((self.number(first), self.number(last)))
        return ends[0], ends[1]

    def _stretch(self, one: Sewn) -> Stretch:
        first, last = self.places(one.first, one.last)
        told = sum(self.told[first - 1 : last]) * self.grid.step
        return Stretch(first, last, float(one.width - told))

    def width_told(self, done: int) -> Fraction:
        """What was told for the first `done` sewn."""
        return sum(self.told[:done]) * self.grid.step

    def width_planned(self, done: int) -> Fraction:
        """What was planned for them."""
        return sum(self.planned[:done]) * self.grid.step

    def read_across(self, done: int) -> Fraction | None:
        """What the tape said last across all that is sewn."""
        across = [
            one.width
            for one, stretch in zip(self.read, self.stretches, strict=True)
            if (stretch.first, stretch.last) == (1, done)
        ]
        return across[-1] if across else None

    def _ordinary(self, done: int) -> tuple[list[int], int | None]:
        """Places (from 0) still to be sewn that may change, and the steps of the last sewn beside them."""
        apart = set_apart(self.planned)
        rest = [place for place in range(done, self.pleats) if place not in apart]
        before = [self.told[place] for place in range(done) if place not in apart]
        return rest, before[-1] if before else None

    def spread_from(self, done: int, wanted: int, sewing: SewingSettings) -> tuple[Fraction, ...]:
        """All sizes in inches: of those sewn as told, the rest re-spread to `wanted` steps in all."""
        rest, before = self._ordinary(done)
        sizes = list(self.told)
        if sum(sizes[done:]) != wanted:
            fixed = sum(sizes[done:]) - sum(sizes[place] for place in rest)
            between = bounds([self.planned[place] for place in rest], before, Limits.of(sewing, self.grid))
            for place, size in zip(rest, respread(wanted - fixed, between), strict=True):
                sizes[place] = size
        return tuple(size * self.grid.step for size in self._turned(sizes))

    def smallest_change(
        self, unchanged: float, spread: tuple[Fraction, ...], sewing: SewingSettings
    ) -> tuple[Change | None, tuple[Fraction, ...]]:
        """The smallest change, and all sizes with it; `unchanged`: the miss in inches without it."""
        told = tuple(size * self.grid.step for size in self._turned(self.told))
        number = steps_needed(unchanged, float(sewing.off_good) / 2, float(self.grid.step))
        rest, before = self._ordinary(self.done)
        if not number or not rest:
            return None, told
        by = self.grid.step if number > 0 else -self.grid.step
        chosen = one_step_each(
            [self.told[place] for place in rest], before, number, Limits.of(sewing, self.grid)
        )
        if chosen is not None:
            numbers = tuple(self.number(rest[place] + 1) for place in chosen)
            words = change_words(self.level, numbers, by, self.grid, next_pleat=self.number(self.done + 1))
            sizes = tuple(size + by * (number in numbers) for number, size in enumerate(told, 1))
            return Change(self.level, numbers, by, False, words), sizes
        moved = tuple(n for n, (new, old) in enumerate(zip(spread, told, strict=True), 1) if new != old)
        if not moved:
            return None, told
        words = f"the rest as told below at the {self.level}"
        return Change(self.level, moved, sum(spread, -sum(told, Fraction(0))), True, words), spread
