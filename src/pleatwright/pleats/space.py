"""Every way of pleating worth trying, before any of them is laid on the cloth.

Steps and gaps are in threads; reveals in inches at the nominal sett size.  What is left out, and why:
numbers of pleats whose reveals break a limit; whole setts beyond those a fold can sensibly hold; stripes as
wide as the reveal (the pleat would show one colour and no line); alternate stripes of which one gap is more
than twice the other.  Each kind is written down for all its numbers of pleats at once, column by column.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows
from pleatwright.lengths import ROUNDING
from pleatwright.pleats.columns import Columns
from pleatwright.pleats.forms import Form, Kind, Shows, gap_for_depth
from pleatwright.pleats.keeping import LineWishes
from pleatwright.pleats.limits import least_depth, pleat_numbers
from pleatwright.pleats.pleating import LEFT_OUT, Pleating, reveals
from pleatwright.pleats.turns import Turns, takes_words
from pleatwright.pleats.ways import Ways, phases_of, ramps
from pleatwright.pleats.wishes import PLAIN_KINDS, TARTAN_KINDS, Wishes
from pleatwright.sett import Likeness, Sett, Sight, likeness
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

ALTERNATE_GAPS_MOST = 2.0
"""Greatest ratio of the two gaps of an alternate stripe; our choice: beyond it one fold is twice as bulky."""
TABLE_MOST = 1_000_000
"""Entries of the largest table made at once."""


@dataclass(frozen=True)
class PleatSpace:
    """The space for one sett on one body: `sett_size` inches a period, `widths` pleated inches by level."""

    sett: Sett
    sett_size: float
    widths: Mapping[LevelName, float]
    settings: Settings
    wishes: Wishes

    @cached_property
    def thread(self) -> float:
        """Nominal inches a thread."""
        return self.sett_size / self.sett.n

    @cached_property
    def line_wishes(self) -> LineWishes:
        """Lines to be kept whole or split, at the nominal sett size."""
        return LineWishes.of(self.sett, self.wishes, self.settings, self.thread)

    @cached_property
    def middles(self) -> tuple[float, ...]:
        """Phases that may lie in the middle of the back: mirror centres, else every stripe's centre."""
        if self.wishes.apron_phase is not None and self.wishes.same_middle:
            return (self.wishes.apron_phase,)
        return self.sett.mirror_centres or tuple(s.centre % self.sett.n for s in self.sett.stripes)

    @cached_property
    def likeness(self) -> Likeness:
        """Which stripes look the same, and how far round."""
        return likeness(self.sett, float(self.settings.pleats.sight_tolerance) / self.thread)

    @cached_property
    def setts(self) -> Rows:
        """Whole setts that are tried in a fold."""
        return np.arange(1, self.settings.search.setts_most + 1)

    def least_gap(self, form: Form, pleats: Rows, faces: float = 1.0, centre_face: float = 1.0) -> Numbers:
        """Threads from centre to centre that leave the least depth at every level; `faces`: mean face."""
        face = faces * self.greatest_reveal(pleats, centre_face)
        return gap_for_depth(form, least_depth(form, self.settings), face) / self.thread - ROUNDING

    def deepest_gap(self, form: Form, reveal: Numbers) -> Numbers:
        """The greatest gap (threads) that is tried: a box's fold fills its panel, others have a setting."""
        depth = reveal if form is Form.BOX else float(self.settings.search.depth_most)
        return gap_for_depth(form, depth, reveal) / self.thread + ROUNDING

    def steps(self, shows: Shows, reveal: Numbers) -> tuple[Numbers, Rows, Bools]:
        """Threads of flat tartan one reveal stands for and parts of a sett (0: running), a row a reveal.

        The last of the three says which of them are near enough to the reveal.
        """
        if shows is Shows.SETT_RUNNING:
            shown = (reveal / self.thread)[:, None]
            return shown, np.zeros(1, dtype=np.intp), np.full(shown.shape, True)
        search = self.settings.search
        least = np.ceil(search.division_least * self.sett_size / reveal - ROUNDING)[:, None]
        most = np.floor(search.division_most * self.sett_size / reveal + ROUNDING)[:, None]
        parts = np.arange(2, int(most.max()) + 1)
        shown = np.broadcast_to(self.sett.n / parts, (len(reveal), len(parts)))
        return shown, parts, (parts >= least) & (parts <= most)

    def sights(self, reveal: float) -> tuple[Sight, ...]:
        """Sights worth pleating to at this reveal (the greatest of any level)."""
        clear = (reveal - 2 * self._clearance) / self.thread
        wanted = self.wishes.stripe
        return tuple(
            sight
            for sight in self.likeness.sights(reveal / 2 / self.thread)
            if sight.widest <= clear
            and (wanted is None or any(abs(o.phase - wanted) < 0.75 for o in sight.occurrences))
        )

    @cached_property
    def _clearance(self) -> float:
        return float(self.settings.pleats.fold_clearance)

    def greatest_reveal(self, pleats: Rows, centre_face: float = 1.0) -> Numbers:
        """The greatest reveal of any level."""
        return reveals(max(self.widths.values()), pleats, centre_face)

    @cached_property
    def ways(self) -> Ways:
        """Every way of pleating in the space, kind by kind in a fixed order."""
        every = tuple(filter(self.wishes.wants, PLAIN_KINDS if self.sett.plain else TARTAN_KINDS))
        columns = Columns(every)
        turns = Turns(columns, self.settings.search.setts_most)
        for form, kinds in groupby(every, key=lambda kind: kind.form):
            numbers = np.array(pleat_numbers(form, self.widths, self.settings, self.wishes.pleats))
            if not len(numbers):
                continue
            if form is Form.CENTRE_BOX:
                for kind in kinds:
                    _centre_box(self, kind, numbers, columns, turns)
                continue
            reveal = reveals(self.widths[LevelName.HIP], numbers)
            tried = Tried(numbers, reveal, self.least_gap(form, numbers), self.deepest_gap(form, reveal))
            for kind in kinds:
                if kind.shows is Shows.STRIPE:
                    _to_the_stripe(self, kind, tried, columns, turns)
                elif kind.shows is Shows.ALTERNATE:
                    _alternate(self, kind, tried, columns, turns)
                elif kind.shows is Shows.PLAIN:
                    _plain(self, kind, tried, columns)
                else:
                    _to_the_sett(self, kind, tried, columns)
        return columns.ways(self.sett.n)


class Tried(NamedTuple):
    """Numbers of pleats, each with its hip reveal (inches), the least and greatest gap tried (threads)."""

    numbers: Rows
    reveal: Numbers
    least: Numbers
    deepest: Numbers


def pleatings(space: PleatSpace) -> Iterator[Pleating]:
    """Every way of pleating in the space, one by one."""
    return map(space.ways.pleating, range(len(space.ways)))


def _whole_setts_on(gap: Numbers, least: Numbers, n: int) -> Numbers:
    """The smallest gap of at least `least` threads that differs from `gap` by whole setts."""
    there: Numbers = gap + n * np.ceil((least - gap) / n)
    return there


def _to_the_sett(space: PleatSpace, kind: Kind, tried: Tried, columns: Columns) -> None:
    """All setts in a fold that fit and are not too deep; where none is, the fewest."""
    n, middles = space.sett.n, np.array(space.middles)
    shown, parts, near = space.steps(kind.shows, tried.reveal)
    gaps = space.setts * n + shown[:, :, None]
    fits = near[:, :, None] & (gaps >= tried.least[:, None, None])
    shallowest = np.where(fits, gaps, np.inf).min(axis=2) + ROUNDING
    useful = fits & (gaps <= np.maximum(tried.deepest[:, None], shallowest)[:, :, None])
    at, step, setts = (np.repeat(which, len(middles)) for which in np.nonzero(useful))
    middle = np.tile(middles, len(at) // len(middles))
    numbers, stands_for, gap = tried.numbers[at], shown[at, step], gaps[at, step, setts]
    columns.add(
        kind,
        numbers,
        first=phases_of(middle - (numbers - 1) / 2 * stands_for, n),
        middle=middle,
        shown=stands_for,
        division=parts[step],
        setts=space.setts[setts],
        low=gap,
        high=gap,
        turn=gap,
    )


def _offered(space: PleatSpace, turns: Turns, pleats: Rows, centre_face: float = 1.0) -> list[list[int]]:
    """The sights worth pleating to with each number of pleats."""
    return [turns.offered(space.sights, one) for one in space.greatest_reveal(pleats, centre_face).tolist()]


def _to_the_stripe(space: PleatSpace, kind: Kind, tried: Tried, columns: Columns, turns: Turns) -> None:
    """All ways of a sight whose gaps fit and are not too deep; where none is, the shallowest."""
    offered = _offered(space, turns, tried.numbers)
    at = np.repeat(np.arange(len(offered)), [len(sights) for sights in offered])
    sight = np.array([number for sights in offered for number in sights], dtype=np.intp)
    pair, way = turns.expanded(sight)
    if not len(pair):
        return
    whole, threads = turns.table()
    (takes, start, length), (turn, low, high, first) = whole[:, way], threads[:, way]
    at, sight = at[pair], sight[pair]
    fits = low >= tried.least[at]
    begins = np.flatnonzero(np.diff(pair, prepend=-1))
    shallowest = np.minimum.reduceat(np.where(fits, high, np.inf), begins)[pair] + ROUNDING
    useful = fits & (high <= np.maximum(tried.deepest[at], shallowest))
    columns.add(
        kind,
        tried.numbers[at[useful]],
        first=first[useful],
        setts=low[useful] // space.sett.n,
        stripe=turns.words(sight[useful]),
        takes=takes[useful],
        low=low[useful],
        high=high[useful],
        at=start[useful],
        length=length[useful],
        turn=turn[useful],
    )


def _alternate(space: PleatSpace, kind: Kind, tried: Tried, columns: Columns, turns: Turns) -> None:
    """Every ordered pair of places of different sights, in the fewest whole setts that fit."""
    n = space.sett.n
    offered = _offered(space, turns, tried.numbers)
    for numbers, group in groupby(range(len(offered)), key=offered.__getitem__):
        phases = np.array([o.phase for number in numbers for o in turns.sights[number].occurrences])
        names = np.repeat(turns.words(numbers), [len(turns.sights[number].occurrences) for number in numbers])
        others = names != names[:, None]
        for of in _few_at_once(np.array(list(group)), len(phases) ** 2):
            there = _whole_setts_on(phases - phases[:, None], tried.least[of, None, None], n)
            back = there.transpose(0, 2, 1)
            low, high = np.minimum(there, back), np.maximum(there, back)
            tries = others & (high <= np.minimum(tried.deepest[of, None, None], ALTERNATE_GAPS_MOST * low))
            at, one, two = np.nonzero(tries)
            there, back, low, high = (gaps[tries] for gaps in (there, back, low, high))
            offsets = np.zeros((len(at), 2))
            offsets[:, 1] = there
            start = columns.cycles(offsets.ravel(), np.tile(np.arange(2), len(at)))
            columns.add(
                kind,
                tried.numbers[of][at],
                first=phases[one],
                setts=low // n,
                stripe=names[one],
                other=names[two],
                takes=columns.word("in turn"),
                low=low,
                high=high,
                at=start + 2 * np.arange(len(at)),
                length=2,
                turn=there + back,
            )


def _few_at_once(numbers: Rows, places: int) -> list[Rows]:
    """The numbers in so many parts that a table of `places` for each of a part stays in memory."""
    return np.array_split(numbers, 1 + len(numbers) * places // TABLE_MOST)


def _plain(space: PleatSpace, kind: Kind, tried: Tried, columns: Columns) -> None:
    """No pattern: the depth is the shop's."""
    form, reveal, depth = kind.form, tried.reveal, float(space.settings.pleats.plain_depth)
    underfold = np.maximum(reveal / 2, least_depth(form, space.settings))
    hidden = np.full(reveal.shape, 2 * depth)
    if form is not Form.KNIFE:
        hidden = 4 * underfold if form is Form.BOX else reveal + 2 * depth
    gap = np.maximum((reveal + hidden) / space.thread, tried.least)
    columns.add(kind, tried.numbers, first=0.0, middle=0.0, setts=0, low=gap, high=gap, turn=gap)


def _centre_box(space: PleatSpace, kind: Kind, numbers: Rows, columns: Columns, turns: Turns) -> None:
    """A wide middle panel; knives run away from it on both sides, each side the other's mirror image."""
    n, wide = space.sett.n, float(space.settings.pleats.centre_box_reveals)
    reveal = reveals(space.widths[LevelName.HIP], numbers, wide)
    near_least = space.least_gap(kind.form, numbers, (wide + 1) / 2, wide)
    far_least = space.least_gap(kind.form, numbers, 1.0, wide)
    if kind.shows is Shows.PLAIN:
        far = (reveal + 2 * float(space.settings.pleats.plain_depth)) / space.thread
        near = far + (wide - 1) / 2 * reveal / space.thread
        _around(space, kind, columns, numbers, np.zeros(len(numbers)), near, near, far, setts=0)
    elif kind.shows is Shows.STRIPE:
        middles = [(middle, middle in space.sett.mirror_centres) for middle in space.middles]
        rows = [
            (at, number, middle, mirrored, o.phase)
            for at, sights in enumerate(_offered(space, turns, numbers, wide))
            for number in sights
            for middle, mirrored in middles
            for o in turns.sights[number].occurrences
        ]
        if not rows:
            return
        at, sight, middle, mirrored, phase = np.array(rows, dtype=float).T
        of, stripe = at.astype(np.intp), turns.words(sight.astype(np.intp))
        far = _whole_setts_on(np.full(len(of), float(n)), far_least[of], n)
        right = _whole_setts_on(phase - middle, near_least[of], n)
        left = np.where(mirrored > 0, right, _whole_setts_on(middle - phase, near_least[of], n))
        takes = [columns.word(takes_words(setts, 1)) for setts in np.rint(far / n).astype(int).tolist()]
        _around(
            space, kind, columns, numbers[of], middle, left, right, far,
            setts=far // n, stripe=stripe, takes=np.array(takes), mirrored=mirrored,
        )  # fmt: skip
    else:
        shown, parts, near_reveal = space.steps(kind.shows, reveal)
        nears = space.setts * n + (wide + 1) / 2 * shown[:, :, None]
        fars = space.setts * n + shown[:, :, None]
        fits = near_reveal[:, :, None] & (nears >= near_least[:, None, None])
        fits &= fars >= far_least[:, None, None]
        fewest = fits & (np.cumsum(fits, axis=2) == 1)
        useful = fewest | fits & (fars <= space.deepest_gap(kind.form, reveal)[:, None, None])
        centres = np.array(space.middles)
        of, step, setts = (np.repeat(which, len(centres)) for which in np.nonzero(useful))
        near, middle = nears[of, step, setts], np.tile(centres, len(of) // len(centres))
        _around(
            space, kind, columns, numbers[of], middle, near, near, fars[of, step, setts],
            setts=space.setts[setts], shown=shown[of, step], division=parts[step],
        )  # fmt: skip


def _around(
    space: PleatSpace,
    kind: Kind,
    columns: Columns,
    numbers: Rows,
    middle: Numbers,
    left: Numbers,
    right: Numbers,
    far: Numbers,
    mirrored: Numbers | float = 1.0,
    **others: Numbers | Rows | float,
) -> None:
    """Knives `far` from one another both sides of the middle panel, the nearest `left`, `right` of it."""
    row, number = np.repeat(np.arange(len(numbers)), numbers), ramps(numbers)
    side = numbers // 2
    behind = number - side[row]
    offsets = number * far[row]
    offsets += np.where((behind >= 0) & (side[row] > 0), (left - far)[row], 0.0)
    offsets += np.where(behind > 0, (right - far)[row], 0.0)
    models = np.where(
        behind > 0, np.where(np.broadcast_to(mirrored, middle.shape)[row] > 0, side[row] + 1, 0), 0
    )
    models = np.where(behind == 0, LEFT_OUT, models)
    at = np.cumsum(numbers) - numbers
    lonely = side < 2
    columns.add(
        kind,
        numbers,
        first=phases_of(middle - offsets[at + side], space.sett.n),
        middle=middle,
        low=np.where(lonely, np.inf, far),
        high=np.where(lonely, -np.inf, far),
        near_low=np.where(side > 0, np.minimum(left, right), np.inf),
        near_high=np.where(side > 0, np.maximum(left, right), -np.inf),
        at=columns.cycles(offsets, models) + at,
        length=numbers,
        turn=0.0,
        centre_face=float(space.settings.pleats.centre_box_reveals),
        **others,
    )
