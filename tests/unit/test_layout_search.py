"""The search gives the very best: the same as if every candidate had been looked at closely."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.cloth import Run
from pleatwright.layout import Candidate, Frame, Placement, Search, place
from pleatwright.layout.contest import Contest, Entries
from pleatwright.layout.lays import Lay
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
    lay = Lay(run, None, turned=False, off=0.0, mirrored=False)
    return Search(lay, frame, PleatSpace(run.sett, size, frame.widths, SHOP, wishes), SHOP)


def candidates(one: Search) -> list[Candidate]:
    """Every candidate of the field."""
    return [one.field.candidate(row) for row in range(len(one.field.which))]


@st.composite
def small_searches(draw: st.DrawFn) -> Search:
    """A few hundred candidates on cloth bought or not, even or wandering, long or short, sound or not."""
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
    if run.length is not None and draw(st.booleans()):
        start = draw(st.integers(0, int(length)))
        run = replace(run, blocked=((start, start + draw(st.sampled_from([0.25, 1.5, 30.0]))),))
    kinds = draw(st.sets(st.sampled_from(TARTAN_KINDS), min_size=1, max_size=2))
    pleats = draw(st.sampled_from([9, 21, 26, 27]))
    wishes = Wishes(frozenset(kinds), pleats, same_middle=draw(st.booleans()))
    return search(run, size, wishes, draw(st.integers(30, 42)), draw(st.integers(36, 42)))


def best_of_everything(one: Search) -> list[Candidate]:
    """The best of each kind (to the stripe with knives: of three stripes), every candidate looked at."""
    full: defaultdict[tuple[Kind, tuple[str, ...]], list[Candidate]] = defaultdict(list)
    for candidate in candidates(one):
        if one.run.length is None or candidate.placement.used <= one.run.length:
            looked_at = one.finished(candidate)
            if looked_at is not None:
                stripes = candidate.pleating.stripes if candidate.pleating.shows is Shows.STRIPE else ()
                full[candidate.kind, stripes].append(looked_at)
    best = {group: min(some, key=lambda c: c.rank) for group, some in full.items()}
    kept = []
    for kind in {group[0] for group in best}:
        ranked = sorted((c for group, c in best.items() if group[0] == kind), key=lambda c: c.rank)
        kept += ranked[: 3 if kind == (Form.KNIFE, Shows.STRIPE) else 1]
    return kept


@settings(max_examples=25)
@given(small_searches())
def test_the_best_of_each_kind_is_the_best_of_looking_at_everything(one: Search) -> None:
    expected = best_of_everything(one)
    found = one.run_through()
    assert {c.rank for c in found.best} == {c.rank for c in expected}
    standings = [c.points.standing for c in found.best]
    assert standings == pytest.approx(sorted(standings, reverse=True), abs=1e-6)


@settings(max_examples=25)
@given(small_searches())
def test_no_fault_shows_on_an_apron_or_a_pleat(one: Search) -> None:
    for candidate in one.run_through().best:
        laid, frame, pleating = candidate.placement, one.frame, candidate.pleating
        strip, half = one.strip(candidate.apron_phase), frame.greatest_reveal(pleating) / 2
        seen = [(laid.over_centre - frame.over_outer, laid.over_centre + frame.pleat_side)]
        seen += [(laid.under_centre - frame.pleat_side, laid.under_centre + frame.under_outer)]
        for i, thread in enumerate(laid.strip_threads(pleating)):
            face = half * pleating.face(i)
            seen.append((strip.tape_at(thread) - face, strip.tape_at(thread) + face))
        for start, end in strip.blocked:
            assert all(right <= start or end <= left for left, right in seen)
        if one.run.length is not None:
            assert laid.used <= one.run.length + 1e-6


FAULTS = [(float(start), float(start + long)) for long in (2, 12) for start in range(10, 290, 28)]


@pytest.mark.parametrize("length", [330.0, 266.0])
@pytest.mark.parametrize("fault", FAULTS)
def test_a_kilt_moves_on_from_a_fault_at_the_least_cost(fault: tuple[float, float], length: float) -> None:
    run = replace(Run.uniform(MILITARY, 6.5, 0.0, length), blocked=(fault,))
    one = search(run, 6.5, Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT)}), pleats=26))
    frame = one.frame

    def cost(laid: Placement) -> float:
        hidden = laid.deep_pleat + laid.reverse_pleat - frame.deep_least - frame.reverse_least
        return SHOP.weights.cloth * laid.used / 36 + SHOP.weights.bulk * hidden

    def sound(candidate: Candidate, laid: Placement) -> bool:
        half = frame.greatest_reveal(candidate.pleating) / 2
        centres = [run.tape_at(thread) for thread in laid.strip_threads(candidate.pleating)]
        seen = [(centre - half, centre + half) for centre in centres]
        seen.append((laid.over_centre - frame.over_outer, laid.over_centre + frame.pleat_side))
        seen.append((laid.under_centre - frame.pleat_side, laid.under_centre + frame.under_outer))
        hidden = all(right <= fault[0] or fault[1] <= left for left, right in seen)
        return hidden and laid.used <= length

    for candidate in candidates(one)[::19]:
        settled = one.settled(candidate)
        ways = [
            place(run, frame, candidate.pleating, candidate.apron_phase, (over, first, under))
            for over, first, under in product(range(15), range(4), range(4))
        ]
        possible = [cost(laid) for laid in ways if sound(candidate, laid)]
        assert (settled is None) == (not possible)
        if settled is not None:
            assert sound(candidate, settled.placement)
            assert cost(settled.placement) == pytest.approx(min(possible))


@pytest.mark.parametrize("length", [None, 300.0, 150.0])
def test_the_best_need_not_be_the_one_that_promises_most(length: float | None) -> None:
    forms = (Kind(Form.KNIFE, Shows.SETT), Kind(Form.KNIFE, Shows.STRIPE), Kind(Form.CENTRE_BOX, Shows.SETT))
    one = search(Run.uniform(MILITARY, 6.5, 0.0, length), 6.5, Wishes(frozenset(forms)))
    expected = best_of_everything(one)
    assert {c.rank for c in one.run_through().best} == {c.rank for c in expected}
    promising = {c.kind: c for c in sorted(candidates(one), key=lambda c: c.rank, reverse=True)}
    assert any(promising[c.kind].pleating != c.pleating for c in expected)


@settings(max_examples=15)
@given(small_searches())
def test_every_candidate_of_a_kind_is_taken_once_the_most_promising_first(one: Search) -> None:
    everything = np.arange(len(one.field))
    found = []
    for kind, rows, labels in one.field.kinds(everything):
        assert {one.field.candidate(row).kind for row in rows.tolist()} == {kind}
        contest = Contest(Entries.unmeasured(rows, np.zeros_like(rows), labels, one.field.bounds[rows]), [1])
        batches = [batch for many in (1, 5, len(rows)) if (batch := contest.next(many))]
        assert not contest.next(1)
        for batch, later in pairwise(batches):
            assert batch.score.min() >= later.score.max()
        found += [row for batch in batches for row in batch.row.tolist()]
    assert sorted(found) == everything.tolist()


@settings(max_examples=15)
@given(small_searches())
def test_the_bound_of_a_candidate_is_its_score_before_a_closer_look(one: Search) -> None:
    scores = [candidate.points.score for candidate in candidates(one)]
    assert one.field.bounds.tolist() == pytest.approx(scores)


def test_among_equals_the_first_stripe_of_the_count_comes_first() -> None:
    kinds = frozenset({Kind(Form.KNIFE, Shows.SETT)})
    one = search(Run.uniform(MILITARY, 6.5, 0.0, None), 6.5, Wishes(kinds, pleats=26, same_middle=False))

    def but_for_the_apron(candidate: Candidate) -> tuple[float, ...]:
        return candidate.rank[:6] + candidate.rank[7:]

    (best,) = one.run_through().best
    full = [looked_at for candidate in candidates(one) if (looked_at := one.finished(candidate))]
    equals = [c.apron_phase for c in full if but_for_the_apron(c) == but_for_the_apron(best)]
    assert len(equals) > 1
    assert best.apron_phase == min(equals)


@settings(max_examples=15)
@given(small_searches())
def test_no_two_candidates_stand_equal_in_everything(one: Search) -> None:
    ranks = [(candidate.kind, *candidate.rank) for candidate in candidates(one)]
    assert len(set(ranks)) == len(ranks)


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
    weights = SHOP.weights
    reveal = float(body_sizes(34, 41).level(LevelName.HIP).pleated) / 26
    for candidate in candidates(one):
        full = one.finished(candidate)
        measured = one.measure(candidate)
        assert full is not None
        assert measured is not None
        points, laid, pleating = full.points, full.placement, full.pleating
        assert points.reveal == pytest.approx(weights.reveal * abs(reveal - 0.75) * 16)
        assert points.cloth == pytest.approx(weights.cloth * laid.used / INCHES_A_YARD)
        assert points.bulk == pytest.approx(weights.bulk * (laid.deep_pleat - 6 + laid.reverse_pleat - 4))
        assert points.middle == weights.even_middle
        assert points.few_pleats == 0
        assert points.style == weights.style_sett
        assert pleating.division is not None
        assert points.square == pytest.approx(weights.square * abs(reveal / (6.5 / pleating.division) - 1))
        missed = 1 - sum(share * measured.match[level] for level, share in MATCH_SHARES.items())
        assert points.match == pytest.approx(weights.match * missed)
        at_risk = sum(len(line.pleats) for line in measured.lines)
        assert points.lines == pytest.approx(weights.line * at_risk / 26)
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
