"""Uneven division to the sett: looked for beside every even division, offered where it stands better.

Number of pleats, parts of a sett, whole setts in a fold, middle of the back and apron stripe are those of an
even division; only the folds within a sett move.  What a strip loses for lines at risk, for checks that are
not square and for pattern that is not true does not depend on the other strips, so the best folds are found
exactly (`pleats.uneven`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import ceil

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout.field import SCORE_PLACES, Candidate
from pleatwright.layout.found import in_order
from pleatwright.layout.placing import place
from pleatwright.layout.scoring import MATCH_SHARES, depth_points, moved_points, square_points, style_points
from pleatwright.layout.search import Search
from pleatwright.lengths import ROUNDING
from pleatwright.pleats import (
    EVEN_KIND,
    UNEVEN_KIND,
    Division,
    FoldPlaces,
    Form,
    Pleating,
    Shows,
    Wishes,
    agreements,
    best_division,
    count_at_risk,
    depth_range,
    phases_of,
    reveals,
)
from pleatwright.wearer import LevelName

BEATEN = (Shows.SETT, Shows.SETT_RUNNING)
"""What the knives of an uneven division are set against."""


def with_uneven(
    searches: Sequence[Search], kept: Sequence[tuple[int, Candidate]], wishes: Wishes
) -> list[tuple[int, Candidate]]:
    """The options kept, each with its lay's number, and the best uneven division if that is better placed.

    It must stand before even and running division where those are wished for.  Kinds that were not wished for
    are left out: even division is searched wherever uneven division is wished for.
    """
    options = [(lay, one) for lay, one in kept if wishes.wants(one.kind)]
    if wishes.wants(UNEVEN_KIND):
        rivals = [one for _, one in options if one.kind.form is Form.KNIFE and one.kind.shows in BEATEN]
        least = max((one.points.standing for one in rivals), default=-np.inf)
        found = [(lay, Uneven(search).best(least)) for lay, search in enumerate(searches)]
        better = [(lay, one) for lay, one in found if one is not None]
        options += sorted(better, key=lambda each: (each[1].rank, each[0]))[:1]
    return in_order(options)


@dataclass(frozen=True)
class _Strips:
    """Every strip that may be cut for one number of pleats, a row a left fold, a column a width.

    `centre`, `step`, and `shown` by level: threads.  `lost`: points on one pleat for lines and squares.
    """

    places: FoldPlaces
    centre: Numbers
    step: Numbers
    shown: dict[LevelName, float]
    lost: Numbers


@dataclass(frozen=True)
class Uneven:
    """Uneven divisions beside the even ones of one search."""

    search: Search
    _strips: dict[tuple[int, int], _Strips] = field(default_factory=dict, init=False)
    _untrue: dict[tuple[int, int], Numbers] = field(default_factory=dict, init=False)
    _bounds: dict[tuple[int, int, int, float], float] = field(default_factory=dict, init=False)
    _divided: dict[tuple[int, int, int, float], Pleating | None] = field(default_factory=dict, init=False)

    def best(self, least: float) -> Candidate | None:
        """The uneven division with the highest score of those that stand better than `least`.

        An even division beside which none can, or none with a higher score than the best found, is passed
        over: its own points tell, its own place on the cloth taken for theirs, with those that the best folds
        lose for lines and squares alone.
        """
        best: Candidate | None = None
        slack = self._slack
        for even in self._even():
            floor = max(least, -np.inf if best is None else best.points.score)
            if even.points.score + slack <= floor:
                break
            if self._bound(even, self._squares(even.pleating)) <= floor:
                continue
            if self._bound(even, self._folds(even.pleating)) <= floor:
                continue
            one = self._beside(even)
            if one is not None and one.points.standing > least + 10**-SCORE_PLACES:
                best = one if best is None or one.rank < best.rank else best
        return best

    def _even(self) -> Iterator[Candidate]:
        """Even divisions that the cloth is long enough for, the one that loses least first."""
        search, field = self.search, self.search.field
        if search.sett.plain or not len(field):
            return
        length = np.inf if search.run.length is None else search.run.length + ROUNDING
        for kind, rows, _ in field.kinds(np.flatnonzero(field.places.used <= length)):
            if kind == EVEN_KIND:
                best_first = np.argsort(-np.round(field.bounds[rows], SCORE_PLACES), kind="stable")
                yield from map(field.candidate, rows[best_first].tolist())

    def _bound(self, even: Candidate, lost: float) -> float:
        """The score an uneven division beside this even one can reach if it loses so much for its folds."""
        style = style_points(UNEVEN_KIND, self.search.settings)
        return even.points._replace(square=0.0, style=style).score - lost

    def _squares(self, even: Pleating) -> float:
        """The least that can be lost for squares: |r/σ - 1| is convex in σ below the reveal r and concave
        above it, so with a mean step above r it is least with every step at r or at its greatest.  [derived]
        """
        settings, thread = self.search.settings, self.search.space.thread
        reveal = reveals(self.search.frame.widths[LevelName.HIP], even.pleats)
        most, mean = float(settings.pleats.uneven_most), even.stands_for(0) * thread
        if abs(mean - reveal) > most + ROUNDING:
            return np.inf
        return settings.weights.square * max(reveal / mean - 1, (mean - reveal) / (reveal + most))

    @property
    def _slack(self) -> float:
        """What uneven folds and the style may give back, at most, of an even division's points."""
        settings = self.search.settings
        share = float(settings.pleats.uneven_most / settings.pleats.reveal_least) / 2
        styles = style_points(EVEN_KIND, settings) - style_points(UNEVEN_KIND, settings)
        return settings.weights.square * share**2 + styles

    def _folds(self, even: Pleating) -> float:
        """The least that can be lost for lines and squares."""
        key = (even.pleats, even.division or 1, even.setts, even.middle)
        if key not in self._bounds:
            division = self._best(even, self._strips_for(even).lost)
            self._bounds[key] = np.inf if division is None else division.lost / even.pleats
        return self._bounds[key]

    def _beside(self, even: Candidate) -> Candidate | None:
        """The best uneven kilt in place of this one, judged; None if there is none, or no cloth for it."""
        search, thread = self.search, self.search.space.thread
        pleating = self.division_for(even.pleating)
        if pleating is None:
            return None
        placement = place(search.strip(even.apron_phase), search.frame, pleating, even.apron_phase)
        if search.run.length is not None and placement.used > search.run.length + ROUNDING:
            return None
        settings, reveal = search.settings, reveals(search.frame.widths[LevelName.HIP], pleating.pleats)
        usual = float(settings.pleats.depth_usual_least), float(settings.pleats.depth_usual_most)
        folds = depth_range(pleating, pleating.gaps, reveal, thread)
        points = moved_points(even.points, placement, search.frame, settings)._replace(
            square=float(np.mean(square_points(reveal, np.array(pleating.steps) * thread, settings))),
            depth=float(depth_points(*folds, *usual, settings)),
            style=style_points(UNEVEN_KIND, settings),
        )
        return search.finished(Candidate(pleating, even.apron_phase, placement, points))

    def division_for(self, even: Pleating) -> Pleating | None:
        """The best uneven division in place of this even one; None if there is none within the limit."""
        key = (even.pleats, even.division or 1, even.setts, even.middle)
        if key not in self._divided:
            strips = self._strips_for(even)
            division = self._best(even, strips.lost + self._pattern_lost(even))
            self._divided[key] = None if division is None else _pleated(even, division, self.search.sett.n)
        return self._divided[key]

    def _best(self, even: Pleating, lost: Numbers) -> Division | None:
        sett, places = self.search.sett, self._strips_for(even).places
        mirrored = even.middle in sett.mirror_centres
        return best_division(even.division or 1, even.pleats, even.middle, mirrored, places, lost)

    def _key(self, even: Pleating) -> tuple[int, int]:
        """Number of pleats, and the least step (threads) that leaves a fold deep enough between two of it."""
        space = self.search.space
        least = float(space.least_gap(even.form, np.array([even.pleats]))[0]) - even.setts * space.sett.n
        return even.pleats, max(0, ceil(least))

    def _strips_for(self, even: Pleating) -> _Strips:
        """The strips for this number of pleats; those that do not do as wished are not allowed."""
        key = self._key(even)
        if key in self._strips:
            return self._strips[key]
        space, settings, sett = self.search.space, self.search.settings, self.search.sett
        thread = space.thread
        faces = {level: reveals(width, even.pleats) for level, width in space.widths.items()}
        shown = {level: face / thread for level, face in faces.items()}
        hip, strap = faces[LevelName.HIP], faces[LevelName.STRAP]
        places = FoldPlaces.of(thread, hip, float(settings.pleats.uneven_most), key[1])
        left, right = places.strips(sett.n)
        centre, step = (left + right) / 2, right - left
        different, which = np.unique(centre % sett.n, return_inverse=True)
        sizes, hips, straps = (np.full(len(different), inches) for inches in (thread, hip, strap))
        lines = count_at_risk(sett, different, sizes, hips, straps, settings)[which].reshape(centre.shape)
        lost = settings.weights.line * lines + square_points(shown[LevelName.HIP], step, settings)
        met = space.line_wishes.met(left, right, shown[LevelName.HIP], min(shown.values()))
        lost[~met] = np.inf
        self._strips[key] = _Strips(places, centre, step, shown, lost)
        return self._strips[key]

    def _pattern_lost(self, even: Pleating) -> Numbers:
        """What each of the strips loses for pattern that is not true."""
        key = self._key(even)
        if key not in self._untrue:
            strips = self._strips_for(even)
            centre, step = strips.centre.ravel(), strips.step.ravel()
            missed = np.ones(centre.size)
            for level, share in MATCH_SHARES.items():
                shown = np.full(centre.size, strips.shown[level])
                missed -= share * agreements(self.search.sett, centre, shown, centre, step)
            self._untrue[key] = self.search.settings.weights.match * missed.reshape(strips.step.shape)
        return self._untrue[key]


def _pleated(even: Pleating, division: Division, n: int) -> Pleating:
    """The division as pleats, with as many whole setts in each fold as before."""
    steps, centres = division.of_pleats(even.pleats)
    gaps = tuple(even.setts * n + b - a for a, b in pairwise(centres))
    first = float(phases_of(np.array(centres[:1]), n)[0])
    return replace(even, shows=UNEVEN_KIND.shows, first=first, gaps=gaps, steps=steps)
