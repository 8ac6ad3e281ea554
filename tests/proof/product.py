"""The one place where the proof touches the search's inside: every kilt it can make of a request.

A search that is built otherwise answers the same two questions here, and nothing else in the proof changes.
"""

from __future__ import annotations

from collections.abc import Iterator

from pleatwright.layout import Candidate, Request, Search
from pleatwright.layout.plan import searches_of
from tests.proof.candidates import Pleats

Key = tuple[object, ...]


def searches(request: Request) -> list[Search]:
    """One search for each way of laying the cloth, in order; turned end for end only where faults are."""
    return [one for one in searches_of(request) if not one.lay.turned or one.run.blocked]


def fitting(search: Search) -> Iterator[Candidate]:
    """Every candidate that the cloth is long enough for, at its first place."""
    length = float("inf") if search.run.length is None else search.run.length + 1e-9
    for row in range(len(search.field)):
        candidate = search.field.candidate(row)
        if candidate.placement.used <= length:
            yield candidate


def key(candidate: Candidate) -> Key:
    """What tells a candidate from the others of its search."""
    p = candidate.pleating
    return (
        p.kind,
        p.pleats,
        p.division,
        p.setts,
        *_rounded(p.first, candidate.apron_phase, p.middle, *p.gaps),
    )


def key_of(pleats: Pleats, apron: float) -> Key:
    """The same of one of our own."""
    p = pleats
    return (p.kind, p.count, p.parts, p.setts, *_rounded(p.first, apron, p.middle, *p.gaps))


def _rounded(*places: float) -> tuple[float, ...]:
    return tuple(round(place, 6) for place in places)
