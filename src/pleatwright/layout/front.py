"""A few kilts of one kind of which none is better than another in everything: cloth, match, reveal, bulk.

Pattern match may only be compared within one kind, so the kinds are not mixed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Bools, Numbers
from pleatwright.layout.contest import SAME_SCORE
from pleatwright.layout.detail import detailed
from pleatwright.layout.field import Candidate
from pleatwright.layout.option import Option
from pleatwright.layout.placing import Placement, Placements
from pleatwright.layout.plan import Plan, searches_made
from pleatwright.layout.request import Request
from pleatwright.layout.scoring import MATCH_SHARES, Taste
from pleatwright.layout.search import Search
from pleatwright.layout.winning import Measuring
from pleatwright.lengths import ROUNDING, Grid, Units, write_length, write_yards
from pleatwright.pleats import EVEN_KIND, UNEVEN_KIND, Kind
from pleatwright.wearer import LevelName

MOST_OFFERED = 6
"""Kilts offered for comparing; our choice: more is a wall of numbers."""


class Measures(NamedTuple):
    """Inches of cloth; share of the pattern that is true; inches off the preferred reveal; inches hidden.

    Hidden is what lies in deep and reverse pleat over their least.
    """

    cloth: float
    match: float
    reveal: float
    bulk: float

    @property
    def steps(self) -> tuple[int, int, int, int]:
        """The measures in steps that a maker can tell apart, each the better the less."""
        return (
            round(self.cloth / STEPS.cloth),
            -round(self.match / STEPS.match),
            round(self.reveal / STEPS.reveal),
            round(self.bulk / STEPS.bulk),
        )


STEPS = Measures(9 / 2, 1 / 100, 1 / 64, 1 / 2)
"""An eighth of a yard, one in a hundred, half the finest step of the tape, half an inch; our choice."""
PRAISE = ("least cloth", "truest pattern", "reveal nearest to the preferred one", "least hidden at the hips")


@dataclass(frozen=True)
class Compromise:
    """One of the few: `measures`, and in `best_in` where none of the others is better."""

    option: Option
    measures: Measures
    best_in: tuple[str, ...]

    def words(self, units: Units) -> str:
        """One line: the kilt, its figures, what it is best in."""
        praise = f": {', '.join(self.best_in)}" if self.best_in else ""
        return f"{self.option.title}: {self.figures(units)}{praise}"

    def figures(self, units: Units) -> str:
        """Its measures, and the lines at risk, in words."""
        cloth, match, reveal, bulk = self.measures
        off = write_length(reveal, units, Grid.THIRTYSECOND)
        where = "the preferred reveal" if off.startswith("0") else f"{off} off the preferred reveal"
        lines = len(self.option.lines_at_risk)
        risk = f", {lines} line{'s' if lines > 1 else ''} at risk" if lines else ""
        return (
            f"{write_yards(cloth, units)}, {100 * match:.0f}% true, {where}, "
            f"{write_length(bulk, units)} hidden{risk}"
        )


def undominated(steps: NDArray[np.int64]) -> Bools:
    """Which rows no other row beats: no more in every column and less in one.  Equal rows all stay."""
    if not len(steps):
        return np.zeros(0, dtype=bool)
    different, back = np.unique(steps, axis=0, return_inverse=True)
    front = np.zeros((0, steps.shape[1]), dtype=np.int64)
    kept = np.zeros(len(different), dtype=bool)
    for row in np.lexsort((*different.T[::-1], different.sum(axis=1))).tolist():
        if (
            not (front <= different[row]).all(axis=1).any()
        ):  # what could beat it has a lesser sum: it came before
            kept[row] = True
            front = np.concatenate([front, different[row : row + 1]])
    return np.asarray(kept[back.ravel()])


def nondominated(request: Request, plan: Plan, kind: Kind | None = None) -> tuple[Compromise, ...]:
    """At most six kilts of one kind of which none is better than another in everything, best score first.

    `kind`: that of the plan's first option, if it is not given; an uneven division stands beside the even
    ones.  They are taken from every candidate that fits.  Of more than six the best by score stays, the best
    in each of the four, and then the next by score.
    """
    if not plan.kept:
        return ()
    kind = kind or plan.kept[0][1].kind
    extra = [(lay, one) for lay, one in plan.kept if one.kind == kind == UNEVEN_KIND]
    searched = EVEN_KIND if kind == UNEVEN_KIND else kind
    only = replace(request, wishes=replace(request.wishes, kinds=frozenset({searched})))
    searches = searches_made(only)
    front = _front(searches, searched, extra)
    few = _few(front)
    return tuple(
        Compromise(
            detailed(searches[lay], one, request.sizes, request.tartan.weft, request.opens_on, number),
            measures,
            tuple(
                word
                for at, word in enumerate(PRAISE)
                if len({other.steps[at] for _, _, other in few}) > 1
                and measures.steps[at] == min(other.steps[at] for _, _, other in few)
            ),
        )
        for number, (lay, one, measures) in enumerate(few, 1)
    )


Kilt = tuple[int, Candidate, Measures]
"""Its lay's number, and its measures."""


def _few(front: Sequence[Kilt]) -> list[Kilt]:
    """The best by score, the best in each measure, then by score again, as many as are offered."""
    ranked = sorted(front, key=lambda kilt: (kilt[1].rank, kilt[0]))
    chosen = ranked[:1]
    for at in range(len(PRAISE)):
        best = min(ranked, key=lambda kilt: kilt[2].steps[at], default=None)
        if best is not None and best not in chosen:
            chosen.append(best)
    chosen += [kilt for kilt in ranked if kilt not in chosen]
    return sorted(chosen[:MOST_OFFERED], key=ranked.index)


class _Entrant(NamedTuple):
    """One that may be in the front: its lay and row, its measures, the most it can score.

    `settled`: whether they hold where it settles.  `one`: the kilt with every point counted.
    """

    lay: int
    row: int
    measures: Measures
    score: float
    settled: bool
    one: Candidate | None = None


def _front(searches: Sequence[Search], kind: Kind, extra: Sequence[tuple[int, Candidate]]) -> list[Kilt]:
    """Every kilt that none beats, of equals the best.

    Moving a kilt on for faults or a join can only make it dearer where the cloth is even: so what lies in the
    front is settled, and the front is found anew until all of it is settled.  Where the cloth wanders
    everything is settled first.  Then the best of equals are worked out, in which a seam may yet find no
    place.
    """
    entrants = [one for lay, search in enumerate(searches) for one in _entrants(search, lay, kind)]
    entrants += [
        _Entrant(lay, -1, _measures(searches[lay], one), one.points.score, True, one) for lay, one in extra
    ]
    while True:
        table = np.array([one.measures.steps for one in entrants], dtype=np.int64).reshape(-1, len(PRAISE))
        front = [entrants[at] for at in np.flatnonzero(undominated(table)).tolist()]
        open_ = [one for one in front if not one.settled]
        found = _settled(searches, open_)
        if not open_:
            open_ = [one for one in _best_of_equals(front) if one.one is None]
            found = [_finished(searches[one.lay], one) for one in open_]
        if not open_:
            break
        instead = dict(zip(((one.lay, one.row) for one in open_), found, strict=True))
        entrants = [one for old in entrants if (one := instead.get((old.lay, old.row), old)) is not None]
    best: dict[tuple[int, ...], Kilt] = {}
    for lay, _, measures, _, _, kilt in _best_of_equals(front):
        if kilt is not None:
            same = best.setdefault(measures.steps, (lay, kilt, measures))
            if (kilt.rank, lay) < (same[1].rank, same[0]):
                best[measures.steps] = (lay, kilt, measures)
    return list(best.values())


def _best_of_equals(front: Sequence[_Entrant]) -> list[_Entrant]:
    """Those that may score best among those whose measures are the same."""
    most: defaultdict[tuple[int, ...], float] = defaultdict(lambda: -np.inf)
    for one in front:
        most[one.measures.steps] = max(most[one.measures.steps], one.score)
    return [one for one in front if one.score >= most[one.measures.steps] - 2 * SAME_SCORE]


def _settled(searches: Sequence[Search], entrants: Sequence[_Entrant]) -> list[_Entrant | None]:
    """The entrants where no fault shows; None where that is nowhere."""
    found: list[_Entrant | None] = [None] * len(entrants)
    for lay, search in enumerate(searches):
        mine = [at for at, one in enumerate(entrants) if one.lay == lay]
        if not mine:
            continue
        rows = np.array([entrants[at].row for at in mine])
        there = search.settle(rows)
        dearer = Measuring(search, settle=True).dearer(rows, there.places)
        used, hidden = there.places.used, _hidden(search, there.places)
        for at, sound, lost, cloth, bulk in zip(
            mine, there.found.tolist(), dearer.tolist(), used.tolist(), hidden.tolist(), strict=True
        ):
            one = entrants[at]
            measures = one.measures._replace(cloth=cloth, bulk=bulk)
            if sound:
                found[at] = one._replace(measures=measures, score=one.score - lost, settled=True)
    return found


def _finished(search: Search, entrant: _Entrant) -> _Entrant | None:
    """The entrant with every point counted, a join's seam out of sight; None if that is nowhere."""
    one = search.finished(search.field.candidate(entrant.row))
    if one is None:
        return None
    return entrant._replace(measures=_measures(search, one), score=one.points.score, one=one)


def _measures(search: Search, one: Candidate) -> Measures:
    """The four measures of one kilt where it lies."""
    look, frame, place = search.measure(one), search.frame, one.placement
    match = 0.0 if look is None else sum(share * look.match[level] for level, share in MATCH_SHARES.items())
    hip = frame.widths[LevelName.HIP] / one.pleating.faces
    return Measures(place.used, match, _off(search, one.kind, hip), float(_hidden(search, place)))


def _hidden(search: Search, place: Placement | Placements) -> Numbers:
    """Inches in deep and reverse pleat over their least."""
    frame = search.frame
    hidden = place.deep_pleat - frame.deep_least + place.reverse_pleat - frame.reverse_least
    return np.maximum(0.0, hidden)


def _off(search: Search, kind: Kind, reveal: float) -> float:
    aimed = Taste.of(kind, search.space.wishes.reveal, search.settings).reveal
    return 0.0 if aimed is None else abs(reveal - aimed)


def _entrants(search: Search, lay: int, kind: Kind) -> Iterator[_Entrant]:
    """Every candidate of the kind that fits and keeps the limits."""
    if not len(search.field):
        return
    field, ways, frame = search.field, search.space.ways, search.frame
    length = np.inf if search.run.length is None else search.run.length
    fits = np.flatnonzero((field.places.used <= length + ROUNDING) & search.as_wished)
    rows = next((rows for one, rows, _ in field.kinds(fits) if one == kind), fits[:0])
    wanders = search.settles and not search.run.uniform_cloth
    measuring = Measuring(search, settle=wanders)
    entries = measuring.entries(rows)
    if wanders:
        entries = measuring.moved(entries)
    entries = measuring.looked_at(entries)
    if not entries:
        return
    true = measuring.match(entries)
    score = entries.score - measuring.untrue(true)
    match = sum(share * level for share, level in zip(MATCH_SHARES.values(), true, strict=True))
    reveal = frame.widths[LevelName.HIP] / ways.faces[field.which[entries.row]]
    places = measuring.places(entries)
    columns = (entries.row, score, places.used, match, reveal, _hidden(search, places))
    for row, points, used, share, hip, bulk in zip(
        *(np.asarray(column).tolist() for column in columns), strict=True
    ):
        measures = Measures(used, share, _off(search, kind, hip), bulk)
        yield _Entrant(lay, row, measures, points, wanders or not search.settles)
