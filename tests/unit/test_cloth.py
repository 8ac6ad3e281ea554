"""A strip as a ruler between tape and threads, and the piece it is ripped from."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate, pairwise
from math import floor

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pleatwright.cloth import Anchor, Piece, Run, phase_of
from pleatwright.sett import Sett, Tartan, parse_count

runs = st.lists(st.tuples(st.sampled_from("BKW"), st.integers(1, 12)), min_size=2, max_size=8)
setts = st.one_of(runs, runs.map(lambda one: one + one[-2:0:-1])).map(Sett.of_runs)
patterned = setts.filter(lambda sett: not sett.plain)
places = st.floats(-20, 320, allow_nan=False)


@st.composite
def strips(draw: st.DrawFn) -> Run:
    """Cloth that wanders: some knots, each stretch with its own size of thread."""
    sett = draw(patterned)
    steps = draw(st.lists(st.tuples(st.floats(5, 60), st.floats(0.01, 0.1)), min_size=1, max_size=6))
    tape = tuple(accumulate((inches for inches, _ in steps), initial=draw(st.floats(-1, 5))))
    start = draw(st.floats(-2 * sett.n, 2 * sett.n))
    threads = tuple(accumulate((inches / size for inches, size in steps), initial=start))
    return Run(sett, tape[-1], tape, threads)


def test_on_uniform_cloth_the_phase_goes_on_evenly() -> None:
    sett = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
    run = Run.uniform(sett, 6.5, 100.0, 306.0)
    for x in (0.0, 1.0, 6.5, 200.0, 306.0):
        assert run.thread_at(x) == pytest.approx(100 + 426 * x / 6.5)
    assert run.thread_at(6.5) - run.thread_at(0.0) == pytest.approx(426)
    assert run.inches_a_thread(50.0) == pytest.approx(6.5 / 426)


@given(strips(), places)
def test_tape_to_threads_and_back_is_the_same_place(run: Run, x: float) -> None:
    assert run.tape_at(run.thread_at(x)) == pytest.approx(x, abs=1e-8)


@given(strips(), places, places)
def test_further_along_the_tape_is_further_along_the_threads(run: Run, a: float, b: float) -> None:
    assume(abs(a - b) > 1e-6)
    assert (run.thread_at(a) < run.thread_at(b)) == (a < b)


@given(strips())
def test_the_map_goes_through_every_knot_and_straight_between_them(run: Run) -> None:
    knots = list(zip(run.tape, run.threads, strict=True))
    for x, t in knots:
        assert run.thread_at(x) == pytest.approx(t, abs=1e-7)
    for (x, t), (later_x, later_t) in pairwise(knots):
        assert run.thread_at((x + later_x) / 2) == pytest.approx((t + later_t) / 2, abs=1e-6)


@given(strips(), places)
def test_the_local_size_of_a_thread_is_the_slope_of_the_map(run: Run, x: float) -> None:
    step = 1e-3
    assume(all(abs(knot - x) > 2 * step for knot in run.tape))
    slope = 2 * step / (run.thread_at(x + step) - run.thread_at(x - step))
    assert run.inches_a_thread(run.thread_at(x)) == pytest.approx(slope, rel=1e-5)


def test_a_pleat_on_a_reading_is_as_wide_as_beyond_it_however_its_place_was_added_up() -> None:
    """16 1/3 threads a pleat: six of them added up end a rounding short of 98, six times one does not."""
    run = Run(Sett.of_runs([("W", 11), ("B", 3)]), 60.0, (0.0, 30.0, 60.0), (0.0, 98.0, 190.0))
    step = 14 + 14 / 6
    *_, added = accumulate([step] * 6)
    assert added < 6 * step == 98
    beyond = 30 / 92
    assert run.thread_sizes(np.array([added, 6 * step])).tolist() == pytest.approx([beyond, beyond])
    assert run.inches_a_thread(added) == run.inches_a_thread(6 * step) == pytest.approx(beyond)


@given(strips(), places, st.floats(0, 200))
def test_the_next_thread_of_a_phase_is_the_first_one_there_is(run: Run, x: float, phase: float) -> None:
    n = run.sett.n
    found = run.next_thread(x, phase)
    turns = (found - phase) / n
    assert turns == pytest.approx(round(turns), abs=1e-9)
    assert run.tape_at(found) >= x - 1e-6
    assert run.tape_at(found - n) < x


@given(patterned, st.integers(0, 40), st.integers(1, 400), st.integers(8, 256))
def test_a_place_that_already_has_the_phase_is_kept(
    sett: Sett, turns: int, twice: int, sixteenths: int
) -> None:
    run = Run.uniform(sett, sixteenths / 16, 0.0, 300.0)
    phase = twice / 2 % sett.n
    exact = phase + turns * sett.n
    assert run.next_thread(run.tape_at(exact), phase) == pytest.approx(exact, abs=1e-6)


def test_on_plain_cloth_every_place_will_do() -> None:
    run = Run.uniform(Sett.of_runs([("G", 40)]), 4.0, 3.0, 200.0)
    assert run.next_thread(17.3, 11.0) == run.thread_at(17.3)


@given(strips(), places, st.floats(100, 300))
def test_a_mirrored_strip_shows_the_same_colours_from_the_other_end(
    run: Run, x: float, length: float
) -> None:
    mirror = run.mirrored(length)
    assert mirror.thread_at(length - x) == pytest.approx(-run.thread_at(x), abs=1e-6)
    t = run.thread_at(x)
    assume(abs(t - round(t)) > 1e-4)
    assert mirror.sett.colour_at(mirror.thread_at(length - x)) == run.sett.colour_at(t)


@given(strips(), places, st.floats(100, 300))
def test_mirrored_twice_is_as_before(run: Run, x: float, length: float) -> None:
    again = run.mirrored(length).mirrored(length)
    assert again.sett == run.sett
    assert again.thread_at(x) == pytest.approx(run.thread_at(x), abs=1e-6)
    assert again.length == run.length


pieces = st.builds(
    Piece,
    width=st.just(Fraction(56)),
    length=st.integers(100, 400).map(Fraction),
    sett_along=st.integers(24, 240).map(lambda sixteenths: Fraction(sixteenths, 16)),
    sett_across=st.integers(24, 240).map(lambda sixteenths: Fraction(sixteenths, 16)),
    left_end=st.builds(
        Anchor,
        phase=st.integers(0, 90).map(lambda twice: twice / 2),
        distance=st.integers(0, 160).map(lambda sixteenths: Fraction(sixteenths, 16)),
        stripe=st.just("B"),
    ),
    selvedge=st.none(),
)


def tartan(warp: Sett, weft: Sett) -> Tartan:
    return Tartan("invented", warp, weft, (), "", "whole")


@given(pieces, patterned, patterned)
def test_the_stripe_named_at_the_end_lies_where_it_was_measured(piece: Piece, warp: Sett, weft: Sett) -> None:
    run = piece.run(tartan(warp, weft))
    setts_off = (run.thread_at(float(piece.left_end.distance)) - piece.left_end.phase) / weft.n
    assert setts_off == pytest.approx(floor(setts_off + 0.5), abs=1e-9)
    assert run.length == piece.length
    assert run.sett is weft


def test_the_phase_at_the_selvedge_is_counted_in_warp_threads() -> None:
    warp, weft = Sett.of_runs([("B", 10), ("W", 30)]), Sett.of_runs([("G", 7), ("R", 1)])
    anchor = Anchor(25.0, Fraction(1, 2), "W")
    piece = Piece(
        Fraction(30), Fraction(200), Fraction(2), Fraction(5), Anchor(3.5, Fraction(1), "G"), anchor
    )
    assert piece.selvedge_phase(tartan(warp, weft)) == pytest.approx(25 - 40 * 0.5 / 5)
    assert phase_of(weft, 2.0, Anchor(3.5, Fraction(1), "G")) == pytest.approx((3.5 - 4) % 8)


def test_a_selvedge_that_was_not_measured_has_phase_nought() -> None:
    sett = Sett.of_runs([("B", 10), ("W", 30)])
    piece = Piece(Fraction(30), Fraction(200), Fraction(2), Fraction(5), Anchor(3.5, Fraction(1), "B"), None)
    assert piece.selvedge_phase(tartan(sett, sett)) == 0.0
