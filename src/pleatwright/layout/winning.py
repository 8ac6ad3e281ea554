"""The best candidates of each kind in a field, found without measuring those that cannot win (`contest`)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows, Run
from pleatwright.layout.closer import CloserLook
from pleatwright.layout.contest import Contest, Entries, growing
from pleatwright.layout.field import Candidate
from pleatwright.layout.found import KNIVES_TO_THE_STRIPE, STRIPES_OFFERED, kept
from pleatwright.layout.placing import Placements
from pleatwright.layout.scoring import MATCH_SHARES, line_points, match_points, of_place
from pleatwright.layout.settling import Settled, Stand
from pleatwright.layout.stripes import ends_mirror

if TYPE_CHECKING:
    from pleatwright.layout.search import Search

LOOKED_AT, FINISHED = 24, 2
"""Candidates of a kind whose lines are looked for, and whose match is measured, in a first round."""


def best_of_each(
    search: Search, fits: Bools, rivals: Sequence[Candidate] = (), *, settle: bool = True
) -> tuple[Candidate, ...]:
    """The best of each kind, and for knives to the stripe of each stripe, best standing first.

    On even cloth a kilt is judged before it is settled: moving it on can only cost points.  What is too long
    for the cloth is not settled (`settle` False): there is no place to settle it on.  `rivals`: kilts kept
    from other ways of laying the cloth; what they beat is not looked for.
    """
    winning = Measuring(search, settle and search.settles)
    contest = winning.contest(np.flatnonzero(fits), rivals)
    for many in growing(LOOKED_AT):
        entries = contest.next(many)
        if not entries:
            break
        if winning.settle and not search.run.uniform_cloth:
            entries = winning.moved(entries)
        contest.wait(winning.looked_at(entries))
        for few in growing(FINISHED):
            foremost = contest.foremost(few)
            if not foremost:
                break
            winning.enter(contest, foremost)
    return tuple(candidate for _, candidate in kept([(0, candidate) for candidate in contest.best()]))


@dataclass(frozen=True)
class Measuring:
    """Candidates of one search measured, many at once, where they lie at first or where they settle.

    `there`: where they have settled, by their rows.
    """

    search: Search
    settle: bool
    there: dict[int, Stand] = field(default_factory=dict)

    def entries(self, rows: Rows, kinds: Rows | None = None, labels: Rows | None = None) -> Entries:
        """Rows of which nothing was measured yet."""
        search, same = self.search, np.zeros_like(rows)
        bounds = search.bounds if self.settle else search.field.bounds
        return Entries.unmeasured(
            rows,
            same if kinds is None else kinds,
            same if labels is None else labels,
            bounds[rows] - sum(search.of_lay.values()),
        )

    def contest(self, fits: Rows, rivals: Sequence[Candidate]) -> Contest:
        """One kind against itself; knives to the stripe stripe by stripe."""
        search, words = self.search, self.search.space.ways.words
        none = np.zeros(0, dtype=np.intp)
        columns, places, labels = [(none, none, none)], list[int](), 0
        challenges: list[tuple[int, int | None, float]] = []
        for number, (kind, rows, stripes) in enumerate(search.field.kinds(fits)):
            to_the_stripe = kind == KNIVES_TO_THE_STRIPE
            label = labels + (stripes if to_the_stripe else np.zeros_like(stripes))
            mine = [rival for rival in rivals if rival.kind == kind]
            if to_the_stripe and mine:
                met = {words[one]: labels + one for one in set(stripes.tolist())}
                challenges += [(number, met.get(one.pleating.stripes[0]), one.points.score) for one in mine]
            else:
                challenges += [(number, labels, one.points.score) for one in mine]
            labels = int(label.max()) + 1
            places.append(STRIPES_OFFERED if to_the_stripe else 1)
            columns.append((rows, np.full_like(rows, number), label))
        rows, of, label = map(np.concatenate, zip(*columns, strict=True))
        contest = Contest(self.entries(rows, of, label), places)
        for challenge in challenges:
            contest.challenge(*challenge)
        return contest

    def moved(self, entries: Entries) -> Entries:
        """Those that find a place, with the points they have there."""
        if not entries:
            return entries
        search, rows = self.search, entries.row
        settled = search.settle(rows)
        stands = [settled.stand(at) for at in range(len(rows))]
        self.there.update((row, one) for row, one in zip(rows.tolist(), stands, strict=True) if one)
        places = settled.places
        if search.lay.window is not None:  # on cloth that wanders the seam has shifted them
            there = [places.row(at) if one is None else one[0] for at, one in enumerate(stands)]
            places = Placements(*np.array(there).T)
        scores = search.field.bounds[rows] - sum(search.of_lay.values()) - self.dearer(rows, places)
        found = np.array([one is not None for one in stands], dtype=bool)
        return entries._replace(points=np.stack([scores, *entries.points[1:]])).where(found)

    def places(self, entries: Entries) -> Placements:
        """Where they lie, at first or where they have settled."""
        rows, first = entries.row.tolist(), self.search.field.places
        if not self.there:
            return Placements(*(column[entries.row] for column in first))
        return Placements(*np.array([self.there[row][0] for row in rows]).reshape(len(rows), -1).T)

    def dearer(self, rows: Rows, places: Placements) -> Numbers:
        """Points that candidates lose for lying elsewhere than at their first places."""
        search, lost = self.search, np.zeros(len(rows))
        for part, points in of_place(places, search.frame, search.settings).items():
            lost += points - search.field.lost_here[part][rows]
        return lost

    def looked_at(self, entries: Entries) -> Entries:
        """Those that keep every limit, with what mirror and lines take counted."""
        if not entries:
            return entries
        search, ways = self.search, self.search.space.ways
        which = search.field.which[entries.row]
        first = ways.first[which]
        reveal = max(search.frame.widths.values()) / ways.faces[which]
        ends = ends_mirror(search.space, first, first + ways.span[which], reveal)
        deep, at_risk = self._measured(entries, lambda look: np.stack([look.deep_enough(), look.at_risk()]))
        mirror = np.where(ends, 0.0, search.settings.weights.mirror)
        lines = line_points(at_risk, ways.pleats[which].astype(float), search.settings)
        score = entries.score - mirror - lines
        return entries._replace(points=np.stack([score, mirror, lines])).where(deep > 0)

    def match(self, entries: Entries) -> Numbers:
        """The share of the pattern that is true, a row a level."""
        return self._measured(entries, lambda look: np.stack(list(look.match().values())))

    def untrue(self, true: Numbers) -> Numbers:
        """Points lost to the rest."""
        lost: Numbers = match_points(dict(zip(MATCH_SHARES, true, strict=True)), self.search.settings)
        return lost

    def enter(self, contest: Contest, entries: Entries) -> None:
        """Measure the match of these, and let those that may win by it enter, best first."""
        search = self.search
        true = self.match(entries)
        lost = self.untrue(true)
        settled: Settled | None = None
        dearer = np.zeros(len(lost))
        if self.settle and search.run.uniform_cloth:
            some = np.flatnonzero(contest.may_win(entries, lost))
            entries, lost, true = entries.where(some), lost[some], true[:, some]
            settled = search.settle(entries.row)
            dearer = self.dearer(entries.row, settled.places)
        columns = (column.tolist() for column in (*entries.of, *entries.points, lost, dearer))
        every = list(zip(*columns, true.T.tolist(), strict=True))
        for at in np.argsort(lost + dearer - entries.score, kind="stable").tolist():
            row, kind, label, score, mirror, lines, points, more, shares = every[at]
            if not contest.beats(kind, label, score - points - more):
                continue
            stand = settled.stand(at) if settled else self.there.get(row)
            if self.settle and stand is None:
                continue
            bare = search.field.candidate(row)
            counted = {"mirror": mirror, "lines": lines, "match": points, **search.of_lay}
            match = dict(zip(MATCH_SHARES, shares, strict=True))
            full = replace(bare, points=bare.points._replace(**counted), match=match)
            contest.enter(kind, label, full if stand is None else search.standing(full, stand))

    def _measured(self, entries: Entries, of: Callable[[CloserLook], Numbers]) -> Numbers:
        """What a closer look finds of each entry, a column each.

        On uniform cloth only the pleating matters, not its place, so one look serves every place.
        """
        search, rows = self.search, entries.row
        which, first = search.field.which[rows], search.field.places.first_thread[rows]
        if search.run.uniform_cloth:
            once, back = np.unique(which, return_inverse=True)
            return of(self._closer(search.run, once, search.space.ways.first[once]))[:, back]
        by_seam: defaultdict[float | None, list[int]] = defaultdict(list)
        for number, row in enumerate(rows.tolist()):
            stand = self.there.get(row)
            if stand is not None:
                first[number] = stand[0].first_thread
            by_seam[None if stand is None else stand[1]].append(number)
        found = [
            of(self._closer(search.run if seam is None else search.lay.run(seam), which[some], first[some]))
            for seam, some in by_seam.items()
        ]
        order = np.argsort(np.concatenate(list(by_seam.values())))
        return np.concatenate(found, axis=1)[:, order]

    def _closer(self, run: Run, which: Rows, first: Numbers) -> CloserLook:
        search = self.search
        return CloserLook(run, search.frame, search.settings, search.space.ways, which, first)
