"""The search gives the very best: the same as if every candidate had been looked at closely."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from itertools import accumulate

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.cloth import Run
from pleatwright.layout import Candidate, Frame, Search
from pleatwright.layout.scoring import INCHES_A_YARD, MATCH_SHARES
from pleatwright.pleats import (
    TARTAN_KINDS,
    Form,
    Kind,
    PleatSpace,
    Shows,
    Wishes,
    alike,
    pattern_match,
    reveals,
)
from pleatwright.sett import Sett, parse_count
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, LevelName, Sizes, Taper, sizes

SHOP = default_settings()
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft

runs = st.lists(st.tuples(st.sampled_from("BKWG"), st.integers(1, 24)), min_size=2, max_size=5)
setts = st.one_of(runs, runs.map(lambda one: one + one[-2:0:-1])).map(Sett.of_runs)
patterned = setts.filter(lambda sett: not sett.plain)


def body_sizes(waist: int, hips: int) -> Sizes:
    return sizes(
        Body(Fraction(waist), Fraction(hips), Fraction(22), Fraction(7)), taper=Taper.MAN, settings=SHOP
    )


def search(run: Run, size: float, wishes: Wishes, waist: int = 34, hips: int = 41) -> Search:
    frame = Frame.of(body_sizes(waist, hips), SHOP)
    return Search(run, frame, PleatSpace(run.sett, size, frame.widths, SHOP, wishes), SHOP)


def candidates(one: Search) -> list[Candidate]:
    """Every candidate of the field."""
    return [one.field.candidate(row) for row in range(len(one.field.which))]


@st.composite
def small_searches(draw: st.DrawFn) -> Search:
    """A few hundred candidates on cloth that is bought or not, even or wandering, long or short."""
    sett = draw(patterned)
    size = draw(st.sampled_from([2.0, 4.5, 6.5, 9.0]))
    what = draw(st.sampled_from(["even", "wandering", "not bought"]))
    length = draw(st.sampled_from([180.0, 260.0, 400.0]))
    if what == "wandering":
        thread = size / sett.n
        sizes_of_thread = (thread, thread * draw(st.sampled_from([0.98, 1.01, 1.02])))
        steps = [length / 2 / one for one in sizes_of_thread]
        run = Run(sett, length, (0.0, length / 2, length), tuple(accumulate(steps, initial=3.0)))
    else:
        run = Run.uniform(sett, size, 3.0, None if what == "not bought" else length)
    kinds = draw(st.sets(st.sampled_from(TARTAN_KINDS), min_size=1, max_size=2))
    pleats = draw(st.sampled_from([9, 21, 26, 27]))
    wishes = Wishes(frozenset(kinds), pleats, same_middle=draw(st.booleans()))
    return search(run, size, wishes, draw(st.integers(30, 42)), draw(st.integers(36, 42)))


@settings(max_examples=25)
@given(small_searches())
def test_the_best_of_each_kind_is_the_best_of_looking_at_everything(one: Search) -> None:
    full: defaultdict[tuple[Kind, tuple[str, ...]], list[Candidate]] = defaultdict(list)
    for candidate in candidates(one):
        if one.run.length is None or candidate.placement.used <= one.run.length:
            looked_at = one.finished(candidate)
            if looked_at is not None:
                stripes = candidate.pleating.stripes if candidate.pleating.shows is Shows.STRIPE else ()
                full[candidate.kind, stripes].append(looked_at)
    best = {group: min(some, key=lambda c: c.rank) for group, some in full.items()}
    expected = []
    for kind in {group[0] for group in best}:
        ranked = sorted((c for group, c in best.items() if group[0] == kind), key=lambda c: c.rank)
        expected += ranked[: 3 if kind == (Form.KNIFE, Shows.STRIPE) else 1]
    found = one.run_through()
    assert {c.rank for c in found.best} == {c.rank for c in expected}
    standings = [c.points.standing for c in found.best]
    assert standings == pytest.approx(sorted(standings, reverse=True), abs=1e-6)


@settings(max_examples=15)
@given(small_searches())
def test_a_closer_look_only_ever_takes_points_away(one: Search) -> None:
    for candidate in candidates(one)[:60]:
        looked_at = one.finished(candidate)
        if looked_at is not None:
            assert looked_at.points.score <= candidate.points.score + 1e-9
            assert all(lost >= 0 for lost in looked_at.points)


@settings(max_examples=10)
@given(small_searches())
def test_counts_are_of_everything_that_was_laid(one: Search) -> None:
    laid = [candidate.placement.used for candidate in candidates(one)]
    found = one.run_through()
    assert found.searched == len(laid)
    length = float("inf") if one.run.length is None else one.run.length
    assert found.fitting == sum(used <= length for used in laid)
    assert (found.shortest.placement.used if found.shortest else None) == min(laid, default=None)


@settings(max_examples=10)
@given(small_searches())
def test_progress_is_told_and_changes_nothing(one: Search) -> None:
    told: list[int] = []
    assert one.run_through(told.append) == one.run_through()
    assert told == sorted(told)


@settings(max_examples=15)
@given(small_searches())
def test_match_does_not_depend_on_which_candidate_was_looked_at_first(one: Search) -> None:
    for candidate in candidates(one)[:20]:
        measured = one.measure(candidate)
        if measured is None:
            continue
        pleating, strip = candidate.pleating, one.strip(candidate.apron_phase)
        threads = candidate.placement.strip_threads(pleating)
        local = [strip.inches_a_thread(t) for t in threads]
        for level in MATCH_SHARES:
            reveal = reveals(one.frame.widths[level], pleating.pleats, pleating.centre_face)
            groups = alike(pleating, threads, local, one.sett.n)
            direct = pattern_match(one.sett, pleating, groups, reveal)
            assert measured.match[level] == pytest.approx(direct, abs=1e-6)


def test_points_are_the_published_rule() -> None:
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT)}), pleats=26)
    one = search(Run.uniform(MILITARY, 6.5, 0.0, 300.0), 6.5, wishes)
    reveal = float(body_sizes(34, 41).level(LevelName.HIP).pleated) / 26
    for candidate in candidates(one):
        full = one.finished(candidate)
        measured = one.measure(candidate)
        assert full is not None
        assert measured is not None
        points, laid, pleating = full.points, full.placement, full.pleating
        assert points.reveal == pytest.approx(1.5 * abs(reveal - 0.75) * 16)
        assert points.cloth == pytest.approx(1.5 * laid.used / INCHES_A_YARD)
        assert points.bulk == pytest.approx(laid.deep_pleat - 6 + laid.reverse_pleat - 4)
        assert (points.middle, points.few_pleats, points.style) == (1.5, 0, 0)
        assert pleating.division is not None
        assert points.square == pytest.approx(25 * abs(reveal / (6.5 / pleating.division) - 1))
        missed = 1 - sum(share * measured.match[level] for level, share in MATCH_SHARES.items())
        assert points.match == pytest.approx(60 * missed)
        at_risk = sum(len(line.pleats) for line in measured.lines)
        assert points.lines == pytest.approx(12 * at_risk / 26)
        assert points.score == pytest.approx(100 - sum(points))
        assert points.standing == pytest.approx(points.score + points.match)


def test_cloth_not_bought_yet_begins_where_the_apron_needs_it() -> None:
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT)}), pleats=26)
    one = search(Run.uniform(MILITARY, 6.5, 0.0, None), 6.5, wishes)
    for candidate in candidates(one):
        assert candidate.placement.over_centre == pytest.approx(one.frame.start)


def test_a_mirrored_place_counts_as_the_same_stripe() -> None:
    one = search(Run.uniform(MILITARY, 6.5, 0.0, 300.0), 6.5, Wishes())
    others = np.array([335.0, 119.0 + 426, 170.0, 284.0])
    assert one.same_stripe(119.0, others).tolist() == [True, True, False, False]


@pytest.mark.parametrize("pleats,mirrors", [(26, True), (27, False)])
def test_mirrored_occurrences_make_the_ends_mirror_only_with_an_even_number(
    pleats: int, mirrors: bool
) -> None:
    uneven = Sett.of_runs(
        [("B", 30), ("G", 20), ("W", 6), ("R", 9), ("K", 30), ("R", 9), ("W", 6), ("G", 20)]
    )
    white = uneven.centre_of(uneven.stripes[2])
    one = search(
        Run.uniform(uneven, 8.0, 0.0, None),
        8.0,
        Wishes(frozenset({Kind(Form.KNIFE, Shows.STRIPE)}), pleats, stripe=white),
    )
    found = [one.mirrors(c.pleating) for c in candidates(one) if c.pleating.takes == "each occurrence"]
    assert found
    assert set(found) == {mirrors}


@pytest.mark.parametrize("pleats,mirrors", [(26, False), (27, True)])
def test_alternate_stripes_mirror_only_with_an_odd_number(pleats: int, mirrors: bool) -> None:
    sett = Sett.of_runs([("B", 30), ("W", 6), ("B", 30), ("R", 6)])
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.ALTERNATE)}), pleats)
    one = search(Run.uniform(sett, 6.0, 0.0, None), 6.0, wishes)
    found = [one.mirrors(c.pleating) for c in candidates(one)]
    assert found
    assert set(found) == {mirrors}


def test_an_asymmetric_sett_to_the_sett_has_ends_that_do_not_mirror() -> None:
    sett = parse_count("...B4 W2 G3 R5 K6 Y2 G4 R3 W5 K1 G3 Y4...").weft  # no stripe fills a reveal
    one = search(
        Run.uniform(sett, 4.0, 0.0, None), 4.0, Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT)}), pleats=25)
    )
    found = [one.mirrors(c.pleating) for c in candidates(one)]
    assert found
    assert not any(found)
