"""Which kilt stands first: of those about as good as each other the one that bears most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from pleatwright.layout.again import Girths
from pleatwright.layout.field import SCORE_PLACES, Candidate
from pleatwright.layout.found import KNIVES_TO_THE_STRIPE
from pleatwright.layout.robust import Usual
from pleatwright.layout.search import Search
from pleatwright.layout.winning import Measuring
from pleatwright.lengths import ROUNDING

RIVALS = 2
"""Others of its own kind that are set against a kilt."""
LOSS_PLACES = 2
"""Losses are compared to a hundredth of a point."""


@dataclass(frozen=True)
class Choice:
    """The kilts kept, each with its lay's number, in the order in which they are offered.

    `instead`: the kilt that would stand first by the points alone, where that is another.  `lost`, `loses`:
    points that the first one and that one lose in the worst of the usual cases.  `usual`: those cases of the
    first one, if they were looked at.
    """

    kept: list[tuple[int, Candidate]]
    instead: Candidate | None = None
    lost: float = 0.0
    loses: float = 0.0
    usual: Usual | None = None


def robust_first(searches: Sequence[Search], kept: Sequence[tuple[int, Candidate]], girths: Girths) -> Choice:
    """The kilts kept, best standing first, but for the one that bears more than the best.

    Set against each other are those that stand within `search.near_best` of the best, each with the best two
    other pleatings of its own kind that stand there too, and whose score lies within that of its own.  Of
    these, those whose worst loss is within `search.near_best` of the least bear as much as each other: the
    best of them stands first, in place of the one of its kind.
    """
    within = searches[0].settings.search.near_best if kept else 0.0
    if not within:
        return Choice(list(kept))
    near = _near_the_best(searches, kept, within)
    first = next(near)
    usual = {0: Usual.of(searches[first[1]], girths, first[2])}
    if usual[0].worst <= within:  # nothing bears so much more that it would stand before it
        return Choice(list(kept), usual=usual[0])
    every = [first, *near]
    usual |= {at: Usual.of(searches[lay], girths, one) for at, (_, lay, one) in enumerate(every) if at}
    losses = {at: one.worst for at, one in usual.items()}
    enough = round(min(losses.values()) + within, LOSS_PLACES)
    chosen = next(number for number in range(len(every)) if round(losses[number], LOSS_PLACES) <= enough)
    at, lay, best = every[chosen]
    order = [(lay, best), *kept[:at], *kept[at + 1 :]]
    return Choice(order, first[2] if chosen else None, losses[chosen], losses[0], usual[chosen])


def _near_the_best(
    searches: Sequence[Search], kept: Sequence[tuple[int, Candidate]], within: float
) -> Iterator[tuple[int, int, Candidate]]:
    """Kilts kept near the best, each with its rivals: number in `kept`, lay's number, kilt."""
    least = kept[0][1].points.standing - within - 10**-SCORE_PLACES
    for at, (lay, best) in enumerate(kept):
        if best.points.standing >= least:
            yield at, lay, best
            yield from ((at, lay, one) for one in _rivals(searches[lay], best, within, least))


def _rivals(search: Search, best: Candidate, within: float, stands: float) -> Iterator[Candidate]:
    """The best others of its kind, with other pleatings: of knives to the stripe those on the same stripe.

    None scores more than `within` below it, none stands below `stands`.
    """
    least, found = best.points.score - within, 0
    for row in _near(search, best, least):
        bare = search.field.candidate(row)
        met = search.space.line_wishes.met_by(bare.pleating, search.frame.widths, search.space.thread)
        one = search.finished(bare) if met else None
        if one is not None and one.points.score >= least and one.points.standing >= stands:
            yield one
            found += 1
        if found == RIVALS:
            return


def _near(search: Search, best: Candidate, least: float) -> list[int]:
    """Rows that score at least so much where they lie at first, a pleating once, best first."""
    field, ways = search.field, search.space.ways
    length = np.inf if search.run.length is None else search.run.length + ROUNDING
    bounds = field.bounds
    for kind, rows, stripes in field.kinds(np.flatnonzero((bounds >= least) & (field.places.used <= length))):
        if kind != best.kind:
            continue
        alike = np.full(len(rows), True)
        if kind == KNIVES_TO_THE_STRIPE:
            alike = stripes == ways.words.index(best.pleating.stripes[0])
        measuring = Measuring(search, settle=False)
        entries = measuring.looked_at(measuring.entries(rows[alike]))
        scores = entries.score - measuring.untrue(measuring.match(entries))
        order = np.lexsort((entries.row, -np.round(scores, SCORE_PLACES)))
        mine, which = entries.row, field.which[entries.row]
        once: dict[int, int] = {}
        for row, pleating, score in zip(
            mine[order].tolist(), which[order].tolist(), scores[order].tolist(), strict=True
        ):
            if score >= least and not (
                ways.pleats[pleating] == best.pleating.pleats and ways.pleating(pleating) == best.pleating
            ):
                once.setdefault(pleating, row)
        return list(once.values())
    return []
