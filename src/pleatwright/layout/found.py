"""What a search found, and which kilts are kept: the best of each kind, over all ways of laying the cloth."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from pleatwright.layout.field import SCORE_PLACES, Candidate
from pleatwright.pleats import Form, Kind, Shows

KNIVES_TO_THE_STRIPE = Kind(Form.KNIFE, Shows.STRIPE)
STRIPES_OFFERED = 3
"""Options with knives to the stripe that are kept: the best for each of so many stripes."""


@dataclass(frozen=True)
class Found:
    """What a search found: `best` on this cloth, `longer` the best of each kind were the cloth long enough.

    `searched` counts every candidate, `fitting` those that the cloth is long enough for.
    """

    searched: int
    fitting: int
    best: tuple[Candidate, ...]
    longer: tuple[Candidate, ...]
    shortest: Candidate | None


def best_of_lays(found: Sequence[Found]) -> list[tuple[int, Candidate]]:
    """The best of each kind over several lays, each with its lay's number."""
    return kept([(lay, candidate) for lay, one in enumerate(found) for candidate in one.best])


def kept(candidates: Sequence[tuple[int, Candidate]]) -> list[tuple[int, Candidate]]:
    """The best of each kind, best standing first; of knives to the stripe the best of a few stripes."""
    groups: defaultdict[Kind, set[tuple[str, ...]]] = defaultdict(set)
    best = []
    for lay, candidate in sorted(candidates, key=lambda one: (one[1].rank, one[0])):
        stripes = candidate.pleating.stripes if candidate.kind == KNIVES_TO_THE_STRIPE else ()
        known = groups[candidate.kind]
        if stripes not in known and len(known) < (STRIPES_OFFERED if stripes else 1):
            known.add(stripes)
            best.append((lay, candidate))
    return in_order(best)


def in_order(options: Sequence[tuple[int, Candidate]]) -> list[tuple[int, Candidate]]:
    """Kilts of different kinds, each with its lay's number, best standing first."""
    return sorted(options, key=lambda one: (-round(one[1].points.standing, SCORE_PLACES), *one[1].key))
