"""How far round two stripes look the same, for every pair of a sett at once, and the sights this makes.

Two places look the same when the same colours follow in the same order, with their boundaries within a
tolerance, over half a reveal each side: straight on, or mirrored [common practice, no source].  A wider
window only ever tells more places apart, so one number a pair says it for every window: the half window
beyond which a boundary shows that does not meet its partner.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from pleatwright.sett.names import plain_name, stripe_names
from pleatwright.sett.sights import FUZZ, Occurrence, Sight
from pleatwright.sett.stripes import Sett

Ints = NDArray[np.intp]
Numbers = NDArray[np.float64]
Pair = tuple[int, int]
"""Two stripes by their index."""


@dataclass(frozen=True)
class Likeness:
    """Which stripes of a sett look the same, their boundaries within `tolerance` (threads)."""

    sett: Sett
    tolerance: float
    _known: dict[int, tuple[Sight, ...]] = field(default_factory=dict, init=False, compare=False, repr=False)
    _made: dict[tuple[int, tuple[Occurrence, ...]], Sight] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def _straight_on(self, one: int, other: int, limit: float) -> bool:
        """Whether two stripes' centres look the same, neither seen in a mirror."""
        if self._dull(one, limit) and self._dull(other, limit):
            return self.sett.stripes[one].colour == self.sett.stripes[other].colour
        return self._straight.get((one, other), -1.0) >= limit

    def mirrored(self, one: Ints, other: Ints, half_windows: Numbers) -> NDArray[np.bool_]:
        """Whether pairs of stripes' centres look the same, one in a mirror, over half windows in threads."""
        codes, reach = self._mirrored_codes
        wanted = one * len(self.sett.stripes) + other
        at = np.minimum(np.searchsorted(codes, wanted), len(codes) - 1)
        limit = half_windows - FUZZ
        same = np.where(codes[at] == wanted, reach[at], -1.0) >= limit
        halves, colours = self._halves_and_colours
        dull = (halves[one] >= limit) & (halves[other] >= limit)
        return np.where(dull, colours[one] == colours[other], same)

    def stripes_at(self, phases: Numbers) -> Ints:
        """The index of the stripe whose centre lies at each phase; -1 for none."""
        centres, index = self._centres
        at = np.minimum(np.searchsorted(centres, phases), len(centres) - 1)
        return np.where(centres[at] == phases, index[at], -1)

    def sights(self, half_window: float) -> tuple[Sight, ...]:
        """One sight for every class of stripe centres that look the same; none in plain cloth.

        Where straight and mirrored agree, as at a pivot, the place counts as straight.
        """
        if self.sett.plain:
            return ()
        slot = bisect_left(self._changes, half_window - FUZZ)
        if slot not in self._known:
            self._known[slot] = self._sights(half_window)
        return self._known[slot]

    def _sights(self, half_window: float) -> tuple[Sight, ...]:
        stripes, limit = self.sett.stripes, half_window - FUZZ
        classes: dict[int, list[Occurrence]] = {}
        members: dict[int, list[int]] = {}
        dull: dict[str, int] = {}
        for index in self._in_order:
            phase, colour = self.sett.centre_of(stripes[index]), stripes[index].colour
            firsts = [
                one for one in self._partners[index] if one in classes and self._meet(one, index, limit)
            ]
            if self._dull(index, limit):
                firsts += [dull[colour]] if colour in dull else []
            first = min(firsts, key=self._in_order.index, default=index)
            straight = first == index or self._straight_on(first, index, limit)
            classes.setdefault(first, []).append(Occurrence(phase, not straight))
            members.setdefault(first, []).append(index)
            if first == index and self._dull(index, limit):
                dull.setdefault(colour, index)
        return tuple(self._sight(members[first], tuple(classes[first])) for first in classes)

    def _sight(self, members: list[int], occurrences: tuple[Occurrence, ...]) -> Sight:
        """The sight of these stripes; one and the same for every window that has it."""
        stripes, key = self.sett.stripes, (members[0], occurrences)
        if key not in self._made:
            widest = max(stripes[index].threads for index in members)
            sight = Sight(stripes[members[0]], self._name(members), occurrences, self.sett.n, widest)
            self._made[key] = sight
        return self._made[key]

    def _name(self, members: list[int]) -> str:
        """The first stripe's name; without its addition when the sight holds all places of that name."""
        plain = self._plain_names
        of_the_name = Counter(plain)[plain[members[0]]]
        if sum(plain[index] == plain[members[0]] for index in members) == of_the_name:
            return plain[members[0]]
        return stripe_names(self.sett)[members[0]]

    @cached_property
    def _centres(self) -> tuple[Numbers, Ints]:
        """The phases of the stripes' centres, rising, and the stripes' indices."""
        index = np.array(self._in_order, dtype=np.intp)
        return np.array([self.sett.centre_of(self.sett.stripes[i]) for i in self._in_order]), index

    @cached_property
    def _halves_and_colours(self) -> tuple[Numbers, Ints]:
        stripes = self.sett.stripes
        colours = [self.sett.colours.index(stripe.colour) for stripe in stripes]
        return np.array([stripe.threads / 2 for stripe in stripes]), np.array(colours, dtype=np.intp)

    @cached_property
    def _mirrored_codes(self) -> tuple[Ints, Numbers]:
        """Pairs that mirror, as one number each, rising, and how far round they do."""
        many = len(self.sett.stripes)
        pairs = sorted((one * many + other, reach) for (one, other), reach in self._mirrored.items())
        codes, reach = np.array([(-1, -1.0), *pairs]).T
        return codes.astype(np.intp), reach

    @cached_property
    def _plain_names(self) -> list[str]:
        return [plain_name(self.sett, stripe) for stripe in self.sett.stripes]

    @cached_property
    def _in_order(self) -> list[int]:
        """The stripes by the phase of their centres."""
        return sorted(range(len(self.sett.stripes)), key=lambda i: self.sett.centre_of(self.sett.stripes[i]))

    def _dull(self, index: int, limit: float) -> bool:
        """Whether a stripe fills the window: no boundary shows."""
        return self.sett.stripes[index].threads / 2 >= limit

    def _meet(self, one: int, other: int, limit: float) -> bool:
        pair = (one, other)
        return max(self._straight.get(pair, -1.0), self._mirrored.get(pair, -1.0)) >= limit

    @cached_property
    def _partners(self) -> list[list[int]]:
        """For each stripe those of its colour that it may look like."""
        stripes = self.sett.stripes
        partners: list[list[int]] = [[] for _ in stripes]
        for one, other in self._straight.keys() | self._mirrored.keys():
            if one != other and stripes[one].colour == stripes[other].colour:
                partners[other].append(one)
        return partners

    @cached_property
    def _changes(self) -> list[float]:
        """Half windows beyond which a pair no longer looks the same, or a stripe's edges show; rising."""
        halves = {stripe.threads / 2 for stripe in self.sett.stripes}
        return sorted(halves.union(self._straight.values(), self._mirrored.values()))

    @cached_property
    def _straight(self) -> dict[Pair, float]:
        return self._compared(1)

    @cached_property
    def _mirrored(self) -> dict[Pair, float]:
        return self._compared(-1)

    def _compared(self, way: int) -> dict[Pair, float]:
        """The half window up to which each pair looks the same; read the other way where `way` is -1.

        Boundary k of a stripe, counted from its left edge, is held against boundary b + way·k; both stripes'
        own edges must meet.  Where stripes are narrower than the tolerance b may be a neighbour's edge.
        """
        sett, many = self.sett, len(self.sett.stripes)
        starts = np.array([stripe.start for stripe in sett.stripes], dtype=float)
        centres = starts + np.array([stripe.threads for stripe in sett.stripes]) / 2
        colours = np.array([sett.colours.index(stripe.colour) for stripe in sett.stripes])
        before, count = np.roll(colours, 1), len(sett.colours)
        codes = before * count + colours
        others = codes if way > 0 else colours * count + before

        def off(boundary: Ints, stripe: Ints) -> Numbers:
            whole, part = np.divmod(boundary, many)
            turn, of = np.divmod(stripe, many)
            away: Numbers = starts[part] - centres[of] + sett.n * (whole - turn)
            return away

        def met(one: Ints, edge: Ints, other: Ints, steps: int) -> tuple[Numbers, Numbers]:
            """The half window that the boundaries so many steps out allow, and how far out they are."""
            k = np.arange(-steps, steps + 2)
            ours, theirs = one[:, None] + k, edge[:, None] + way * k
            here, there = off(ours, one[:, None]), way * off(theirs, other[:, None])
            near = np.minimum(np.abs(here), np.abs(there))
            parted = np.abs(here - there) > self.tolerance + FUZZ
            parted |= codes[ours % many] != others[theirs % many]
            return np.where(parted, near, np.inf).min(axis=1), np.minimum(near[:, 0], near[:, -1])

        both = codes * count**2 + np.roll(codes, -1)
        both_others = others * count**2 + np.roll(others, -way)
        one_of, edge_of = np.nonzero(both[:, None] == both_others)
        found: dict[Pair, float] = {}
        shifts = int(self.tolerance + FUZZ)
        for shift in range(-shifts, shifts + 1):
            one, edge = one_of, edge_of
            other = edge - shift if way > 0 else edge - 1 + shift
            going, steps = np.isinf(met(one, edge, other, 0)[0]), 4
            while going.any():
                one, edge, other = one[going], edge[going], other[going]
                reach, out = met(one, edge, other, min(steps, many))
                going = (reach > out) & (steps < many)
                columns = (column[~going].tolist() for column in (one, other % many, reach))
                for a, b, least in zip(*columns, strict=True):
                    found[a, b] = max(found.get((a, b), 0.0), least)
                steps *= 4
        return found


@lru_cache(maxsize=16)
def likeness(sett: Sett, tolerance: float) -> Likeness:
    """What looks the same in a sett, `tolerance` in threads; found once for all bodies and lays."""
    return Likeness(sett, tolerance)


def sights(
    sett: Sett, inches_per_thread: float, half_window: float, tolerance: float = 1 / 32
) -> tuple[Sight, ...]:
    """The sights in one window; `half_window` (half a reveal) and `tolerance` are inches."""
    return Likeness(sett, tolerance / inches_per_thread).sights(half_window / inches_per_thread)
