"""The best kilt of each kind, found without measuring those that cannot win.

Match, lines at risk and mirroring are the dear measures.  A candidate's points without them bound its score
from above.  So the candidates of a kind are taken in the order of that bound, some at a time and all kinds
together, and what is left of a kind once the bound falls below the best score found stays unmeasured: the
best is the same as if all had been measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows
from pleatwright.layout.field import SCORE_PLACES, Candidate

SAME_SCORE = 10**-SCORE_PLACES


class Entries(NamedTuple):
    """Rows of the field that may still win, a column each.

    `of`: row, number of its kind, and label: what only the best is kept of, numbered through all kinds.
    `points`: the score, which is a bound, the nearer the more was measured; lost to mirror, and to lines.
    """

    of: Rows
    points: Numbers

    @classmethod
    def unmeasured(cls, row: Rows, kind: Rows, label: Rows, bound: Numbers) -> Entries:
        """Rows of which nothing was measured yet."""
        return cls(np.stack([row, kind, label]), np.stack([bound, *np.zeros((2, len(row)))]))

    def __bool__(self) -> bool:
        return len(self.row) > 0

    @property
    def row(self) -> Rows:
        """Rows of the field."""
        column: Rows = self.of[0]
        return column

    @property
    def kind(self) -> Rows:
        """Numbers of the kinds."""
        column: Rows = self.of[1]
        return column

    @property
    def label(self) -> Rows:
        """Labels."""
        column: Rows = self.of[2]
        return column

    @property
    def score(self) -> Numbers:
        """Bounds of the scores."""
        column: Numbers = self.points[0]
        return column

    def where(self, which: Bools | Rows) -> Entries:
        """Some of them."""
        return Entries(self.of[:, which], self.points[:, which])

    def in_order(self) -> Entries:
        """Kind by kind, the most promising of each first."""
        return self.where(np.lexsort((-self.score, self.kind)))

    def first(self, many: int) -> Bools:
        """Which are among the first so many of their kind; they stand in order."""
        number = np.arange(len(self.kind)) - np.searchsorted(self.kind, self.kind)
        return np.asarray(number < many)


class Contest:
    """Who leads in each kind; the best of each label is kept, of so many labels as a kind has `places`."""

    def __init__(self, entries: Entries, places: Sequence[int]) -> None:
        self._left, self._places = entries.in_order(), places
        self._waiting = entries.where(np.zeros(0, dtype=np.intp))
        self._best: dict[int, Candidate] = {}
        self._scores: list[dict[int, float]] = [{} for _ in places]
        self._floors = np.full(int(entries.label.max(initial=0)) + 1, -np.inf)
        self._kind_floors = np.full(len(places), -np.inf)

    def best(self) -> list[Candidate]:
        """The best of each label that was measured; those beyond the places may not be its very best."""
        return list(self._best.values())

    def beats(self, kind: int, label: int, score: float) -> bool:
        """Whether one with this score may still win a place."""
        return bool(score >= self._floors[label] and score >= self._kind_floors[kind])

    def may_win(self, entries: Entries, lost: Numbers | float = 0.0) -> Bools:
        """Which may still win a place though they lose so much more."""
        floors = np.maximum(self._floors[entries.label], self._kind_floors[entries.kind])
        return np.asarray(entries.score - lost >= floors)

    def next(self, many: int) -> Entries:
        """The next rows of each kind in the order of their bounds, so many; none when nobody else can win."""
        left = self._left.where(self.may_win(self._left))
        now = left.first(many)
        self._left = left.where(~now)
        return left.where(now)

    def wait(self, entries: Entries) -> None:
        """Entries of which a part is still to be measured."""
        self._waiting = Entries(
            np.concatenate([self._waiting.of, entries.of], axis=1),
            np.concatenate([self._waiting.points, entries.points], axis=1),
        )

    def foremost(self, many: int) -> Entries:
        """The most promising of each kind that wait, at most so many; hopeless ones are dropped."""
        waiting = self._waiting.where(self.may_win(self._waiting)).in_order()
        now = waiting.first(many)
        self._waiting = waiting.where(~now)
        return waiting.where(now)

    def challenge(self, kind: int, label: int | None, score: float) -> None:
        """A kilt of another contest that is to be beaten; `label` None: one that nobody bears here."""
        scores, places = self._scores[kind], self._places[kind]
        label = -1 - len(scores) if label is None else label
        scores[label] = max(scores.get(label, -np.inf), score - SAME_SCORE)
        if label >= 0:
            self._floors[label] = scores[label]
        if len(scores) >= places:
            self._kind_floors[kind] = sorted(scores.values())[-places]

    def enter(self, kind: int, label: int, candidate: Candidate) -> None:
        """A kilt with every point counted."""
        best = self._best.get(label)
        if best is None or candidate.rank < best.rank:
            self._best[label] = candidate
            self.challenge(kind, label, candidate.points.score)


def growing(first: int) -> Iterator[int]:
    """So many, then twice as many, and so on."""
    while True:
        yield first
        first *= 2
