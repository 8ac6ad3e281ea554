"""A sett as cyclic stripes: period, mirror centres, edges."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.sett import Sett

Runs = list[tuple[str, int]]

stripe_runs = st.lists(st.tuples(st.sampled_from("ABC"), st.integers(1, 5)), min_size=1, max_size=7)


def mirrored(half: Runs) -> Runs:
    return half + half[-2:0:-1]


any_runs = st.one_of(
    stripe_runs,
    stripe_runs.map(mirrored),
    stripe_runs.map(lambda runs: runs * 2),
    stripe_runs.map(mirrored).flatmap(lambda runs: st.integers(0, 6).map(lambda by: runs[by:] + runs[:by])),
)


def spelt(runs: Runs) -> list[str]:
    return [colour for colour, threads in runs for _ in range(threads)]


@given(any_runs)
def test_the_true_periods_side_by_side_are_the_written_sett(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    assert sett.threads() * sett.written_periods == spelt(runs)


@given(any_runs)
def test_no_shorter_part_than_the_true_period_repeats(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    threads = sett.threads()
    shorter = [
        size for size in range(1, sett.n) if sett.n % size == 0 and threads[size:] + threads[:size] == threads
    ]
    assert bool(shorter) == (sett.plain and sett.n > 1)


@given(any_runs)
def test_stripes_are_maximal_and_fill_the_period_once(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    stripes = sett.stripes
    assert [stripe.index for stripe in stripes] == list(range(len(stripes)))
    assert sum(stripe.threads for stripe in stripes) == sett.n
    assert all(0 <= stripe.start < sett.n for stripe in stripes)
    for one, after in zip(stripes, stripes[1:] + stripes[:1], strict=True):
        assert one.end % sett.n == after.start % sett.n
        assert one.colour != after.colour or sett.plain


@given(any_runs, st.integers(-2000, 2000).map(lambda eighths: eighths / 8))
def test_a_phase_has_the_colour_of_the_thread_it_lies_on(runs: Runs, theta: float) -> None:
    sett = Sett.of_runs(runs)
    threads = sett.threads()
    assert sett.colour_at(theta) == threads[int(theta % sett.n)]
    stripe = sett.stripe_at(theta)
    assert (theta - stripe.start) % sett.n < stripe.threads


def test_a_phase_a_hair_below_zero_is_still_within_the_sett() -> None:
    sett = Sett.of_runs([("A", 3), ("B", 2)])
    assert sett.colour_at(-1e-20) == "B"
    assert sett.colour_at(5.0) == "A"
    assert sett.colour_at(3.0) == "B"
    assert sett.colour_at(2.999) == "A"


@given(any_runs)
def test_mirror_centres_are_those_a_plain_loop_over_all_places_finds(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    threads, n = sett.threads(), sett.n
    found = tuple(
        twice / 2
        for twice in range(2 * n)
        if all(threads[j] == threads[(twice - 1 - j) % n] for j in range(n))
    )
    assert sett.mirror_centres == (() if sett.plain else found)
    assert sett.symmetric == (len(sett.mirror_centres) == 2)


@given(any_runs)
def test_edges_are_where_the_colour_changes(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    threads = sett.threads()
    assert sett.edges == tuple(j for j in range(sett.n) if threads[j] != threads[j - 1])


@given(any_runs)
def test_reversing_turns_the_threads_round_and_twice_is_nothing(runs: Runs) -> None:
    sett = Sett.of_runs(runs)
    assert sett.reversed().threads() == sett.threads()[::-1]
    assert sett.reversed().reversed() == sett


def test_a_run_over_the_end_comes_last_and_its_centre_is_brought_back() -> None:
    sett = Sett.of_runs([("A", 2), ("B", 8), ("C", 2), ("A", 6)])
    last = sett.stripes[-1]
    assert (last.colour, last.start, last.end, last.centre) == ("A", 12, 20, 16.0)
    assert sett.centre_of(last) == 16.0
    sett = Sett.of_runs([("A", 6), ("B", 8), ("C", 2), ("A", 2)])
    assert sett.colour_at(-1e-20) == sett.colour_at(5.5) == "A"
    assert sett.stripes[-1].centre == 20.0
    assert sett.centre_of(sett.stripes[-1]) == 2.0
    assert sett.stripe_at(0) is sett.stripes[-1]
    assert sett.colours == ("A", "B", "C")


def test_plain_cloth_has_neither_edges_nor_mirror_centres() -> None:
    sett = Sett.of_runs([("G", 40), ("G", 60)])
    assert (sett.plain, sett.n, sett.written_periods) == (True, 100, 1)
    assert (sett.edges, sett.mirror_centres, sett.symmetric) == ((), (), False)


@pytest.mark.parametrize("runs", [[], [("A", 0)], [("A", 4), ("B", -1)]])
def test_a_sett_without_threads_is_refused(runs: Runs) -> None:
    with pytest.raises(ValueError, match="stripe"):
        Sett.of_runs(runs)
