"""The field of candidates: every pleating with every apron stripe, placed, as columns with a row each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from pleatwright.cloth import Numbers, Rows
from pleatwright.layout.placing import Placement, Placements
from pleatwright.layout.scoring import Points
from pleatwright.pleats import Kind, Pleating, Ways
from pleatwright.wearer import LevelName

SCORE_PLACES = 6
"""Decimals to which points, inches and threads are compared, so that rounding decides nothing."""


@dataclass(frozen=True)
class Candidate:
    """One kilt: a pleating, the stripe at the aprons' centres, its place, the points it has lost so far.

    `seam`: the thread at which two strips are joined for it.  `match`: pattern match by level, once measured.
    """

    pleating: Pleating
    apron_phase: float
    placement: Placement
    points: Points
    seam: float | None = None
    match: Mapping[LevelName, float] = field(default_factory=dict)

    @property
    def kind(self) -> Kind:
        """The kind of pleating."""
        return self.pleating.kind

    @cached_property
    def key(self) -> tuple[float, ...]:
        """Order among equals: less cloth, then fewer pleats, parts, setts, lower phases, narrower gaps."""
        p = self.pleating
        places = (self.placement.used, p.first, self.apron_phase, *p.gaps)
        used, first, apron, *gaps = (round(place, SCORE_PLACES) for place in places)
        return (used, p.pleats, p.division or 0, p.setts, first, apron, *gaps)

    @property
    def rank(self) -> tuple[float, ...]:
        """Sorts the best of one kind first."""
        return (-round(self.points.score, SCORE_PLACES), *self.key)


@dataclass(frozen=True)
class Block:
    """The candidates of one apron stripe: `which` pleatings, where they fall, the points they lose there."""

    apron_phase: float
    which: Rows
    places: Placements
    lost: Mapping[str, Numbers]


@dataclass(frozen=True)
class Field:
    """All candidates.  Points lost by part: `lost_anywhere` by pleating, `lost_here` by candidate."""

    ways: Ways
    which: Rows
    phases: Numbers
    places: Placements
    lost_anywhere: Mapping[str, Numbers]
    lost_here: Mapping[str, Numbers]

    @classmethod
    def of(cls, ways: Ways, lost: Mapping[str, Numbers], blocks: Sequence[Block]) -> Field:
        """The blocks one after the other."""
        return cls(
            ways,
            np.concatenate([block.which for block in blocks]),
            np.repeat([block.apron_phase for block in blocks], [len(block.which) for block in blocks]),
            Placements(*map(np.concatenate, zip(*(block.places for block in blocks), strict=True))),
            lost,
            {part: np.concatenate([block.lost[part] for block in blocks]) for part in blocks[0].lost},
        )

    def __len__(self) -> int:
        return len(self.which)

    @cached_property
    def bounds(self) -> Numbers:
        """The score of every candidate, were it to lose nothing to what is measured last."""
        lost: Numbers = np.add.reduce(list(self.lost_anywhere.values()))[self.which]
        for points in self.lost_here.values():
            lost += points
        return 100 - lost

    def candidate(self, row: int) -> Candidate:
        """One candidate."""
        which = int(self.which[row])
        lost = {part: float(points[which]) for part, points in self.lost_anywhere.items()}
        lost |= {part: float(points[row]) for part, points in self.lost_here.items()}
        return Candidate(
            self.ways.pleating(which), float(self.phases[row]), self.places.row(row), Points(**lost)
        )

    def kinds(self, rows: Rows) -> Iterator[tuple[Kind, Rows, Rows]]:
        """The kinds of these rows, each with its rows and the stripes they show (numbers of words)."""
        which = self.which[rows]
        of, stripe = self.ways.kind[which], self.ways.stripe[which]
        for number, kind in enumerate(self.ways.kinds):
            mine = of == number
            if mine.any():
                yield kind, rows[mine], stripe[mine]
