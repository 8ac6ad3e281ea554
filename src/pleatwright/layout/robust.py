"""How much a kilt bears: what it loses, and what breaks first, if cloth, body or sewing are a little off.

A plan that is best only at exactly the numbers given is no good.  [our choice]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import floor

import numpy as np

from pleatwright.cloth import Bools
from pleatwright.layout.again import Again, Girths, Off
from pleatwright.layout.field import Candidate
from pleatwright.layout.search import Search
from pleatwright.layout.trials import Trials, laid_again
from pleatwright.lengths import MILLIMETRE, Units, exact_text, write_length, write_metric
from pleatwright.pleats import Form, least_depth, reveal_bounds
from pleatwright.sett import Sett, stripe_name, stripe_names

MOST = 2
"""How far beyond what is usual a kilt is tried, as a multiple."""
STEPS, HALVINGS = 8, 6
STEPS_SETTLED, HALVINGS_SETTLED = 2, 4
"""Steps to that end in which the first break is looked for, and how often the step it lies in is halved;
fewer where every kilt must be settled on faults or a join."""
SAID_FROM = 2.0
"""Points lost in the worst case from which it is told."""
SAME_STEP = 1e-6
"""Share of a step that rounding may take."""
ALL = 100.0
"""Points lost by a kilt that cannot be made at all."""


@dataclass(frozen=True)
class Bearing:
    """One thing off one way: `what` is sett, waist, hips or reveal, `larger` the way.

    `off`: how far it may usually be off; `bears`: how far before the kilt breaks, at most twice `off`; both a
    share of itself for the sett, inches else.  `breaks`: what breaks just beyond, "" if nothing within twice.
    `lost`: points lost at `off`, negative if it gains, 100 where it cannot be made.  `match_lost`: pattern at
    the hip line that is no longer true, as a share.
    """

    what: str
    larger: bool
    off: float
    bears: float
    breaks: str
    lost: float
    match_lost: float


@dataclass(frozen=True)
class Sensitivity:
    """What one kilt bears, in `words` too.  `worst`: points lost in the worst of the cases, at least 0."""

    worst: float
    bearings: tuple[Bearing, ...]
    words: str


Way = tuple[int, bool]
"""A column of `Off`, and whether it is larger."""
WHAT = Off._fields


def ways_off(search: Search) -> tuple[tuple[Way, float], ...]:
    """What may be off which way, and how far; a pattern that is not there cannot be off."""
    own = search.settings.search
    usual = (own.off_sett, float(own.off_body), float(own.off_body), float(own.off_reveal))
    return tuple(
        ((column, larger), amount)
        for (column, amount), larger in product(enumerate(usual), (True, False))
        if amount and not (column == 0 and search.sett.plain)
    )


@dataclass(frozen=True)
class Usual:
    """One kilt with one thing at a time off as far as usual, `ways` and how far.

    `lost`, `match`: points, and match at the hips, lost in each case.  `at_risk`: the lines that are at risk
    with nothing off.
    """

    again: Again
    ways: tuple[tuple[Way, float], ...]
    lost: tuple[float, ...]
    match: tuple[float, ...]
    at_risk: Bools

    @classmethod
    def of(cls, search: Search, girths: Girths, candidate: Candidate) -> Usual:
        """The usual cases of one kilt; a kilt that cannot be made loses all its points."""
        again, ways = Again(search, girths, candidate), ways_off(search)
        trials = laid_again(again, [Off(), *(_off(way, amount) for way, amount in ways)])
        lost, hip = trials.lost, next(iter(trials.match.values()))
        points = np.where(made(trials), lost - lost[0], ALL)
        match = hip[0] - hip[1:]
        return cls(again, ways, tuple(points[1:].tolist()), tuple(match.tolist()), trials.at_risk[0])

    @property
    def worst(self) -> float:
        """Points lost in the worst of them, at least 0."""
        return max(0.0, *self.lost) if self.lost else 0.0


def sensitivity(usual: Usual, sett: Sett, units: Units) -> Sensitivity:
    """All that a kilt bears; `sett` is the weft as the cloth lies, left to right."""
    if not usual.ways:
        return Sensitivity(0.0, (), "")
    reached = _reach(usual, _Judge(usual.again, usual.at_risk, sett, units))
    bearings = tuple(
        Bearing(WHAT[column], larger, amount, bears * amount, breaks, points, true)
        for ((column, larger), amount), (bears, breaks), points, true in zip(
            usual.ways, reached, usual.lost, usual.match, strict=True
        )
    )
    sett_size = float(usual.again.search.space.sett_size)
    return Sensitivity(usual.worst, bearings, in_words(bearings, sett_size, units))


def _off(way: Way, amount: float) -> Off:
    column, larger = way
    return Off()._replace(**{WHAT[column]: amount if larger else -amount})


def made(trials: Trials) -> Bools:
    """Which of them can be made."""
    wide, narrow = trials.within
    return trials.enough & wide & narrow & trials.deep_enough & trials.as_wished


@dataclass(frozen=True)
class _Judge:
    """Says what breaks: `before` are the lines at risk as it is."""

    again: Again
    before: Bools
    sett: Sett
    units: Units

    def good(self, trials: Trials) -> Bools:
        """Which of them can be made with no line newly at risk."""
        return made(trials) & ~self._newly(trials).any(axis=1)

    def _newly(self, trials: Trials) -> Bools:
        return np.asarray(trials.at_risk & ~self.before)

    def breaks(self, trials: Trials, row: int) -> str:
        """What is wrong with one of them."""
        search, form = self.again.search, self.again.candidate.pleating.form
        limits, settings = search.settings.pleats, search.settings
        wide, narrow = trials.within
        least, most = reveal_bounds(form, settings)
        if not trials.enough[row]:
            if np.isfinite(trials.places.used[row]):
                return "the cloth is no longer enough"
            return "no place is left on the piece"
        if not wide[row]:
            if form is Form.MILITARY_BOX:
                least = max(least, float(limits.military_reveal_least))
            return f"a reveal is narrower than {self._written(least)}"
        if not narrow[row]:
            return f"a reveal is wider than {self._written(most)}"
        if not trials.deep_enough[row]:
            return f"a fold is shallower than {self._written(least_depth(form, settings))}"
        if not trials.as_wished[row]:
            return "a line no longer does as wished"
        newly = int(np.flatnonzero(self._newly(trials)[row])[0])
        return f"a line comes to be at risk, {self._named(newly)}"

    def _written(self, inches: float) -> str:
        return write_length(inches, self.units)

    def _named(self, number: int) -> str:
        """A line by its name as the cloth lies, whichever way the kilt opens."""
        own = self.again.search.sett
        stripe = own.stripes[list(stripe_names(own)).index(self.again.names[number])]
        if not self.again.search.lay.mirrored:
            return stripe_name(self.sett, self.sett.stripe_at(own.centre_of(stripe)))
        return stripe_name(self.sett, self.sett.stripe_at(-own.centre_of(stripe) % self.sett.n))


def _reach(usual: Usual, judge: _Judge) -> list[tuple[float, str]]:
    """For each way how many times the usual amount it may be off, and what breaks just beyond.

    The first step at whose end something breaks is halved until the break is found.
    """
    again, ways = usual.again, usual.ways
    steps, halvings = (STEPS_SETTLED, HALVINGS_SETTLED) if again.search.settles else (STEPS, HALVINGS)
    ends = [MOST * step / steps for step in range(1, steps + 1)]
    first = laid_again(again, [_off(way, end * amount) for way, amount in ways for end in ends])
    good = judge.good(first).reshape(len(ways), steps)
    low, high, why = [], [], []
    for number, of_way in enumerate(good.tolist()):
        at = of_way.index(False) if False in of_way else steps
        low.append(ends[at - 1] if at else 0.0)
        high.append(ends[at] if at < steps else 0.0)
        why.append(judge.breaks(first, number * steps + at) if at < steps else "")
    broken = [number for number, breaks in enumerate(why) if breaks]
    for _ in range(halvings if broken else 0):
        middle = [(low[number] + high[number]) / 2 for number in broken]
        tried = laid_again(
            again,
            [
                _off(ways[number][0], mid * ways[number][1])
                for number, mid in zip(broken, middle, strict=True)
            ],
        )
        holds = judge.good(tried).tolist()
        for row, (number, mid) in enumerate(zip(broken, middle, strict=True)):
            if holds[row]:
                low[number] = mid
            else:
                high[number], why[number] = mid, judge.breaks(tried, row)
    return list(zip(low, why, strict=True))


def in_words(bearings: Sequence[Bearing], sett_size: float, units: Units) -> str:
    """How far each may be off either way, and what breaks first; `sett_size`: inches of one sett."""
    reached = dict[str, str]()
    for what in WHAT:
        mine = [one.bears for one in bearings if one.what == what]
        if mine:
            reached[what] = _reached(min(mine) * (sett_size if what == "sett" else 1), what, units)
    if not reached:
        return ""
    names = {what: NAMES[what] for what in reached}
    if reached.get("waist") == reached.get("hips", ""):
        names["waist"] = "waist or hips"
        del names["hips"]
    (first, name), *others = names.items()
    up_to = "" if reached[first].startswith("less") else "up to "
    said = [
        f"{name} is off by {up_to}{reached[first]}",
        *(f"{name} by {reached[what]}" for what, name in others),
    ]
    listed = f"{', '.join(said[:-1])} or {said[-1]}" if others else said[0]
    at_worst = _at_worst(bearings, sett_size, units)
    return f"Stays good if {listed}.{_first_break(bearings, sett_size, units)}{at_worst}"


NAMES = {"sett": "the sett", "waist": "the waist", "hips": "the hips", "reveal": "every pleat"}
WAYS = {False: "smaller", True: "larger"}
SEWN = {False: "narrower", True: "wider"}


def _finest(what: str, units: Units) -> Fraction:
    """The step to which it is told, in inches: always rounded down."""
    if units == "metric":
        return MILLIMETRE if what in ("waist", "hips") else MILLIMETRE / 10
    return {"sett": Fraction(1, 32), "reveal": Fraction(1, 64)}.get(what, Fraction(1, 8))


def _written(inches: Fraction, units: Units) -> str:
    return write_metric(inches, 0.1) if units == "metric" else f'{exact_text(inches)}"'


def _rounded_down(inches: float, what: str, units: Units) -> Fraction:
    step = _finest(what, units)
    return floor(inches / step + SAME_STEP) * step


def _reached(inches: float, what: str, units: Units) -> str:
    down = _rounded_down(inches, what, units)
    return _written(down, units) if down else f"less than {_written(_finest(what, units), units)}"


def _at_worst(bearings: Sequence[Bearing], sett_size: float, units: Units) -> str:
    """The case that loses most, if it loses much though nothing breaks."""
    worst = max(bearings, key=lambda one: round(one.lost, 6))
    if not SAID_FROM <= worst.lost < ALL or worst.bears < worst.off:
        return ""
    inches = worst.off * (sett_size if worst.what == "sett" else 1)
    written = _written(_rounded_down(inches, worst.what, units) or _finest(worst.what, units), units)
    way = (SEWN if worst.what == "reveal" else WAYS)[worst.larger]
    return f" At worst, with {NAMES[worst.what]} {written} {way}, it loses {worst.lost:.1f} points."


def _first_break(bearings: Sequence[Bearing], sett_size: float, units: Units) -> str:
    """The break that comes first, measured by how far each may usually be off."""
    broken = [one for one in bearings if one.breaks]
    if not broken:
        return ""
    first = min(broken, key=lambda one: round(one.bears / one.off, 6))
    down = _rounded_down(first.bears * (sett_size if first.what == "sett" else 1), first.what, units)
    more = f"more than {_written(down, units)}" if down else "a little"
    way = (SEWN if first.what == "reveal" else WAYS)[first.larger]
    return f" With {NAMES[first.what]} {more} {way} {first.breaks}."
