"""Uneven division: a sett cut into strips that are not all alike, its folds laid where they do least harm.

A maker narrows one pleat and widens the next in a plain ground, so that a line does not fall on a fold; or
splits a line over two pleats on purpose (kiltmakernh.com, 13 November 2012).  Strip i stands for the flat
tartan between folds f_i and f_i+1 and shows one reveal of cloth round their middle; every sett is cut alike.
Which folds are best is found by dynamic programming over the places a fold may have, exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers
from pleatwright.lengths import ROUNDING

FINEST = 1 / 32
"""Inches between two places for a fold, at most: the finest step of the tape."""
BILLION = 1_000_000_000
NEVER = 2**53
"""What is not allowed costs more than anything else, and is small enough to be added up and multiplied."""

Whole = NDArray[np.int64]


class FoldPlaces(NamedTuple):
    """Where folds may lie, and how wide a strip may be: `per_thread` places a thread (an even number, so that
    stripes' centres are among them), widths from `narrowest` to `widest` places."""

    per_thread: int
    narrowest: int
    widest: int

    @classmethod
    def of(cls, thread: float, reveal: float, most: float, least_step: float) -> FoldPlaces:
        """Half threads, or finer where those are wider than the finest step of the tape.

        `thread`: inches a thread.  A strip stands for `reveal` inches of tartan, give or take `most`, and for
        at least `least_step` threads.
        """
        per_thread = 2 * ceil(thread / 2 / FINEST - ROUNDING)
        place = thread / per_thread
        narrowest = max(ceil((reveal - most) / place - ROUNDING), ceil(least_step * per_thread - ROUNDING), 1)
        return cls(per_thread, narrowest, floor((reveal + most) / place + ROUNDING))

    @property
    def widths(self) -> range:
        """Every width of a strip, in places."""
        return range(self.narrowest, self.widest + 1)

    @property
    def halves(self) -> range:
        """Half the width of every strip whose middle lies on a place."""
        return range(-(-self.narrowest // 2), self.widest // 2 + 1)

    def strips(self, n: int) -> tuple[Numbers, Numbers]:
        """Both folds (threads) of every strip that may be cut from a sett of n threads: a row for each place
        of its left fold from θ = 0 on, a column for each width."""
        left = np.arange(n * self.per_thread)[:, None] / self.per_thread
        wide = np.array(self.widths)[None, :] / self.per_thread
        return np.broadcast_to(left, (len(left), wide.shape[1])), left + wide


@dataclass(frozen=True)
class Division:
    """One way of cutting a sett: folds f_0 < … < f_m = f_0 + n (threads), and the points its strips lose.

    Strip 0 is the middle pleat (odd number of pleats) or the first one right of the middle (even).  `lost` is
    added up over all pleats of the kilt.
    """

    folds: tuple[float, ...]
    lost: float

    @property
    def steps(self) -> tuple[float, ...]:
        """Threads of flat tartan that each strip of a sett stands for."""
        return tuple(right - left for left, right in pairwise(self.folds))

    def of_pleats(self, pleats: int) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Of every pleat, threads of flat tartan that it stands for, and where in it its middle lies."""
        n, parts = self.folds[-1] - self.folds[0], len(self.folds) - 1
        steps, centres = [], []
        for strip in range(-(pleats // 2), pleats - pleats // 2):
            turn, i = divmod(strip, parts)
            a, b = self.folds[i], self.folds[i + 1]
            steps.append(b - a)
            centres.append((a + b) / 2 + turn * n)
        return tuple(steps), tuple(centres)


def times_shown(pleats: int, parts: int) -> tuple[int, ...]:
    """On how many of the kilt's pleats each strip of the sett is shown, counted from the middle pleat on."""
    times = [0] * parts
    for strip in range(-(pleats // 2), pleats - pleats // 2):
        times[strip % parts] += 1
    return tuple(times)


def best_division(
    parts: int, pleats: int, middle: float, mirrored: bool, places: FoldPlaces, points: Numbers
) -> Division | None:
    """The division of a sett into `parts` that loses least; None if none is allowed.

    `points`: what one pleat of every strip of `places.strips` loses, infinite where it is not allowed.
    The middle of the back keeps its stripe: the middle pleat is centred on `middle`, or, with an even number
    of pleats, a fold lies there.  `mirrored`: the sett mirrors about `middle`, and so do the folds.
    """
    if not places.widths:
        return None
    costs = np.full(points.shape, NEVER)
    allowed = np.isfinite(points)
    costs[allowed] = np.rint(points[allowed] * BILLION)
    start = round(middle * places.per_thread)
    board = _Board(np.roll(costs, -start, axis=0), places, times_shown(pleats, parts))
    if mirrored:
        found = board.mirrored(odd=pleats % 2 == 1)
    else:
        found = board.round_middle() if pleats % 2 else board.round_fold()
    if found is None:
        return None
    lost, folds = found
    return Division(tuple((start + fold) / places.per_thread for fold in folds), lost / BILLION)


Chain = tuple[int, list[int]]
"""What a division costs, and its folds."""


@dataclass(frozen=True)
class _Board:
    """Costs of strips by the place of their left fold, counted from the middle of the back."""

    costs: Whole
    places: FoldPlaces
    times: tuple[int, ...]

    def strip(self, left: int, width: int, times: int) -> int:
        """What one strip costs on so many pleats."""
        cost = int(self.costs[left % len(self.costs), width - self.places.narrowest])
        return min(cost * times, NEVER)

    def chain(self, begin: Whole, end: Whole, times: Sequence[int]) -> Chain | None:
        """The cheapest way from a place to another, one strip for each entry of `times`.

        `begin` and `end`: what it costs to begin or end at each place; a row for each way to do both.  Best
        ways to every place are kept strip by strip.  [derived: dynamic programming]
        """
        far, widths = begin.shape[1], np.array(self.places.widths)
        lefts = np.arange(far)[:, None] - widths
        costs = np.where(lefts < 0, NEVER, self.costs[lefts % len(self.costs), np.arange(len(widths))])
        lefts = np.maximum(lefts, 0)
        best, chosen = begin, []
        for many in times:
            total = best[:, lefts] + np.minimum(costs * many, NEVER)
            chosen.append(total.argmin(axis=2))
            best = np.minimum(total.min(axis=2), NEVER)
        total = best + end
        way, at = divmod(int(total.argmin()), far)
        folds = [at]
        for which in reversed(chosen):
            folds.append(folds[-1] - int(widths[which[way, folds[-1]]]))
        return None if total[way, at] >= NEVER else (int(total[way, at]), folds[::-1])

    def mirrored(self, *, odd: bool) -> Chain | None:
        """Folds that mirror: from the middle of the back half a sett on, each strip with its mirror image.

        Half a sett on is the other mirror centre; there lies a fold, or the middle of one more strip.
        """
        parts, whole = len(self.times), len(self.costs)
        far = whole // 2
        begin, end = _ends(far, [0], [far])
        halves = [half for half in self.places.halves if half <= far]
        if odd:
            begin[0, 0] = NEVER
            begin[0, halves] = [self.strip(-half, 2 * half, self.times[0]) for half in halves]
        if (parts - odd) % 2:
            end[0, far] = NEVER
            end[0, [far - half for half in halves]] = [
                self.strip(far - half, 2 * half, self.times[parts // 2]) for half in halves
            ]
        pairs = [2 * self.times[i] for i in range(odd, (parts + odd) // 2)]
        found = self.chain(begin, end, pairs)
        if found is None:
            return None
        cost, right = found
        left = [whole - fold for fold in reversed(right) if fold < far]
        return cost, [-right[0], *right, *left[:-1], whole - right[0]] if odd else [*right, *left]

    def round_middle(self) -> Chain | None:
        """The middle pleat centred on the middle of the back, the others round from its right to its left."""
        whole = len(self.costs)
        halves = list(self.places.halves)
        begin, end = _ends(whole, halves, [whole - half for half in halves])
        for row, half in enumerate(halves):
            begin[row, half] = self.strip(-half, 2 * half, self.times[0])
        found = self.chain(begin, end, self.times[1:]) if halves else None
        return None if found is None else (found[0], [found[1][-1] - whole, *found[1]])

    def round_fold(self) -> Chain | None:
        """A fold in the middle of the back, the pleats of a sett from there on."""
        whole = len(self.costs)
        return self.chain(*_ends(whole, [0], [whole]), self.times)


def _ends(far: int, first: Sequence[int], last: Sequence[int]) -> tuple[Whole, Whole]:
    """Chains that begin at one place and end at another, both at no cost, each chain a row."""
    begin, end = np.full((2, len(first), far + 1), NEVER)
    for row, (one, other) in enumerate(zip(first, last, strict=True)):
        begin[row, one] = end[row, other] = 0
    return begin, end
