"""The field of candidates: every pleating with every apron stripe, placed, as columns with a row each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers
from pleatwright.layout.placing import Placement, Placements
from pleatwright.layout.scoring import Points
from pleatwright.pleats import Form, Kind, Pleating, Shows

SCORE_PLACES = 6
"""Scores are compared to a millionth of a point, so that rounding decides nothing."""

Rows = NDArray[np.intp]


@dataclass(frozen=True)
class Candidate:
    """One kilt: a pleating, the stripe at the aprons' centres, its place, the points it has lost so far.

    `seam`: the thread at which two strips are joined for it.
    """

    pleating: Pleating
    apron_phase: float
    placement: Placement
    points: Points
    seam: float | None = None

    @property
    def kind(self) -> Kind:
        """The kind of pleating."""
        return self.pleating.kind

    @property
    def key(self) -> tuple[float, ...]:
        """Order among equals: less cloth, then fewer pleats, parts, setts, then the phases."""
        p = self.pleating
        used = round(self.placement.used, SCORE_PLACES)
        return (used, p.pleats, p.division or 0, p.setts, p.first, self.apron_phase)

    @property
    def rank(self) -> tuple[float, ...]:
        """Sorts the best of one kind first."""
        return (-round(self.points.score, SCORE_PLACES), *self.key)


@dataclass(frozen=True)
class Block:
    """The candidates of one apron stripe: `which` pleatings, where they fall, the points they have lost."""

    apron_phase: float
    which: Rows
    places: Placements
    lost: Numbers


@dataclass(frozen=True)
class Field:
    """All candidates; `lost` has one column for each part of `Points`."""

    pleatings: tuple[Pleating, ...]
    which: Rows
    phases: Numbers
    places: Placements
    lost: Numbers

    @classmethod
    def of(cls, pleatings: Sequence[Pleating], blocks: Sequence[Block]) -> Field:
        """The blocks one after the other."""
        columns = zip(*(block.places for block in blocks), strict=True)
        return cls(
            tuple(pleatings),
            np.concatenate([block.which for block in blocks]),
            np.concatenate([np.full(len(block.which), block.apron_phase) for block in blocks]),
            Placements(*(np.concatenate(column) for column in columns)),
            np.concatenate([block.lost for block in blocks]),
        )

    def candidate(self, row: int) -> Candidate:
        """One candidate."""
        return Candidate(
            self.pleatings[self.which[row]],
            float(self.phases[row]),
            self.places.row(row),
            Points(*self.lost[row].tolist()),
        )

    @cached_property
    def _group_of_pleating(self) -> Rows:
        """A number for each group: a kind, and for knives to the stripe also the stripe."""
        numbers: dict[tuple[Kind, tuple[str, ...]], int] = {}
        stripe = Kind(Form.KNIFE, Shows.STRIPE)
        groups = ((p.kind, p.stripes if p.kind == stripe else ()) for p in self.pleatings)
        return np.array([numbers.setdefault(group, len(numbers)) for group in groups], dtype=np.intp)

    def ranked(self, fits: NDArray[np.bool_]) -> list[list[int]]:
        """The rows that fit, group by group, each in the order of `Candidate.rank`."""
        rows = np.flatnonzero(fits)
        which = self.which[rows]
        columns = np.array([(p.pleats, p.division or 0, p.setts, p.first) for p in self.pleatings])[which]
        keys = (
            self.phases[rows],
            *columns.T[::-1],
            np.round(self.places.used[rows], SCORE_PLACES),
            np.round(self.lost[rows].sum(axis=1) - 100, SCORE_PLACES),
            self._group_of_pleating[which],
        )
        order = rows[np.lexsort(keys)]
        groups = self._group_of_pleating[self.which[order]]
        return [part.tolist() for part in np.split(order, np.flatnonzero(np.diff(groups)) + 1) if len(part)]
