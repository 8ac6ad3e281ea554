"""Lines to be kept whole, and lines split on purpose over two pleats: wishes for kilts to the sett."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate
from math import ceil, floor

import numpy as np

from pleatwright.cloth import Bools, Numbers
from pleatwright.pleats.pleating import Pleating, reveals
from pleatwright.pleats.wishes import Wishes
from pleatwright.sett import SAME_THREAD, Sett, Stripe, stripe_name
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

Shown = Numbers | float
"""Threads that a strip shows, of each strip or of all."""


@dataclass(frozen=True)
class LineWishes:
    """Stripes to be kept whole, stripes to be split; `clear`: threads from a whole one to a fold, at least.

    A strip stands for the flat tartan between two folds and shows one reveal round their middle.  A line is
    kept whole where no fold lies in it or, at the hip line, within `clear` of it, and the strip that stands
    for it shows all of it at every level.  A line is split where no strip stands for both its halves: a fold
    lies at its centre.
    """

    sett: Sett
    whole: tuple[Stripe, ...]
    split: tuple[Stripe, ...]
    clear: float

    @classmethod
    def of(cls, sett: Sett, wishes: Wishes, settings: Settings, thread: float) -> LineWishes:
        """The wishes for a sett of `thread` inches a thread; mirror images are meant with a stripe."""
        clear = float(settings.pleats.fold_clearance) / thread
        return cls(sett, _alike(sett, wishes.keep_whole), _alike(sett, wishes.split), clear)

    def __bool__(self) -> bool:
        return bool(self.whole or self.split)

    def met(self, left: Numbers, right: Numbers, hip: Shown, narrowest: Shown) -> Bools:
        """Which strips from fold `left` to fold `right` do as wished; all in threads.

        `hip`: what a strip shows at the hip line; `narrowest`: at the level where that is least.
        """
        met = np.ones(left.shape, dtype=bool)
        if not self:
            return met
        centre = (left + right) / 2
        reach = float(np.max(hip)) + self.clear + float(np.max(right - left))
        low, high = float(left.min()) - reach, float(right.max()) + reach
        for start, end in _repeats(self.sett, self.whole, low, high):
            stands_for_it = (left <= start + SAME_THREAD) & (end <= right + SAME_THREAD)
            shown = _shows(centre, hip, start - self.clear, end + self.clear)
            shown &= _shows(centre, narrowest, start, end)
            beside = end + self.clear <= centre - hip / 2 + SAME_THREAD
            beside |= centre + hip / 2 <= start - self.clear + SAME_THREAD
            beside &= (end <= left + SAME_THREAD) | (right <= start + SAME_THREAD)
            met &= np.where(stands_for_it, shown, beside)
        for start, end in _repeats(self.sett, self.split, low, high):
            middle = (start + end) / 2
            met &= (middle <= left + SAME_THREAD) | (right <= middle + SAME_THREAD)
        return met

    def met_by(self, pleating: Pleating, widths: Mapping[LevelName, float], thread: float) -> bool:
        """Whether every pleat does as wished, which pleats not to the sett always do.

        `widths`: pleated inches by level; `thread`: inches a thread.
        """
        if pleating.shown is None or not self:
            return True
        strips = range(pleating.pleats)
        faces = np.array([pleating.face(i) for i in strips])
        halves = np.array([pleating.stands_for(i) / 2 for i in strips])
        centres = np.array(list(accumulate(pleating.gaps, initial=pleating.first))) % self.sett.n
        hip, narrowest = (
            faces * reveals(width, pleating.pleats, pleating.centre_face) / thread
            for width in (widths[LevelName.HIP], min(widths.values()))
        )
        return bool(self.met(centres - halves, centres + halves, hip, narrowest).all())


def _alike(sett: Sett, phases: Iterable[float]) -> tuple[Stripe, ...]:
    names = {stripe_name(sett, sett.stripe_at(phase)) for phase in phases}
    return tuple(stripe for stripe in sett.stripes if stripe_name(sett, stripe) in names)


def _shows(centre: Numbers, wide: Shown, start: float, end: float) -> Bools:
    shows: Bools = (centre - wide / 2 <= start + SAME_THREAD) & (end <= centre + wide / 2 + SAME_THREAD)
    return shows


def _repeats(sett: Sett, stripes: Iterable[Stripe], low: float, high: float) -> Iterator[tuple[float, float]]:
    """Both edges of every repeat of some stripes between two thread positions."""
    for stripe in stripes:
        for turn in range(floor((low - stripe.end) / sett.n), ceil((high - stripe.start) / sett.n) + 1):
            yield stripe.start + turn * sett.n, stripe.end + turn * sett.n
