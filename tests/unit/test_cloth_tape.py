"""Spots on the tape: which repeat each belongs to, which stand, how the sett wanders between them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import Reading, Run, Spot, drift
from pleatwright.cloth.population import draw_piece
from pleatwright.cloth.tape import accepted, checked, left_phase_of, placed, rising
from pleatwright.sett import parse_count

SETT = parse_count("B/24 W4 B24 R2 K24 G24 W/2").weft
SIZE = 6.5


def spots_of(run: Run, phases: list[float], *, counted: bool) -> list[Spot]:
    """Every third occurrence of each phase; counted from the left end or not."""
    found = []
    for phase in phases:
        first = run.next_thread(0.0, phase)
        for repeat in range(1, 40, 3):
            at = run.tape_at(first + (repeat - 1) * SETT.n)
            if run.length is not None and at < run.length:
                found.append(Spot("", phase, at, repeat if counted else None))
    return found


@given(st.floats(0, 181.9), st.floats(0.985, 1.015), st.booleans(), st.booleans())
def test_the_count_of_repeats_follows_cloth_that_runs_large_or_small(
    left: float, scale: float, counted: bool, mixed: bool
) -> None:
    run = Run.uniform(SETT, SIZE * scale, left, 250.0)
    phases = [12.0, 64.5, 130.0] if mixed else [64.5]
    spots = spots_of(run, phases, counted=counted)
    found = placed(spots, SETT, SIZE, left_phase_of(spots, SETT, SIZE))
    turns = {
        round((reading.thread - run.thread_at(spot.at)) / SETT.n, 6)
        for (reading, _), spot in zip(found, spots, strict=True)
    }
    assert len(turns) == 1  # one and the same whole number of setts off, if any
    assert turns.pop() % 1 == 0


def test_repeat_one_is_the_first_time_a_stripe_is_met_from_the_left_end() -> None:
    run = Run.uniform(SETT, SIZE, 100.0, 250.0)
    white, red = 12.0, 130.0
    spots = [
        Spot("white", white, run.tape_at(white + 182), 1),
        Spot("red", red, run.tape_at(red), 1),
        Spot("red", red, run.tape_at(red + 3 * 182), None),
    ]
    found = placed(spots, SETT, SIZE, 100.0)
    assert [reading.thread for reading, _ in found] == [white + 182, red, red + 3 * 182]
    assert [repeat for _, repeat in found] == [1, 1, 4]


@pytest.mark.parametrize("over", [-0.05, 0.05])
def test_a_stripe_at_the_very_end_may_or_may_not_be_the_first(over: float) -> None:
    phase, thread = 50.0, SIZE / SETT.n
    left = phase - over / thread
    spots = [Spot("", phase, over + (repeat - 1) * SIZE, repeat) for repeat in (2, 5, 8)]
    found = placed(spots, SETT, SIZE, left)
    assert [reading.thread for reading, _ in found] == pytest.approx(
        [phase + 182, phase + 5 * 182 - 182, 1324]
    )


def test_one_wrong_reading_does_not_lose_the_count_of_the_next_ones() -> None:
    run = Run.uniform(SETT, SIZE * 0.98, 40.0, 250.0)
    spots = spots_of(run, [64.5], counted=False)
    spots[4] = Spot("", 64.5, spots[4].at + 0.46 * SIZE)
    found = placed(spots, SETT, SIZE, 40.0)
    right = [run.thread_at(spot.at) for spot in spots]
    for at, (reading, _) in enumerate(found):
        if at != 4:
            assert reading.thread == pytest.approx(right[at], abs=1e-6)


def test_a_kept_reading_stands_whatever_the_others_say() -> None:
    piece = draw_piece(5, SETT, SIZE, length=250.0)
    readings = list(piece.readings)
    off = readings[4]
    for kept in (False, True):
        readings[4] = Reading(off.stripe, off.thread, off.at + 1.0, kept)
        checks = checked([(reading, 1) for reading in readings], SETT, SIZE)
        assert checks[4].doubtful is not kept


def test_of_two_readings_that_run_against_the_weave_the_worse_one_goes() -> None:
    threads = [0.0, 728.0, 730.0, 1456.0, 2184.0, 2912.0]
    at = [0.0, 26.1, 26.0, 52.0, 78.0, 104.0]
    readings = [Reading("", t, x) for t, x in zip(threads, at, strict=True)]
    checks = checked([(reading, 1) for reading in readings], SETT, SIZE)
    assert sum(check.doubtful for check in checks) == 1
    assert rising(accepted(checks))


def test_two_readings_of_one_place_count_as_their_mean() -> None:
    readings = [Reading("", t, x) for t, x in [(0.0, 1.0), (182.0, 7.5), (182.0, 7.5625), (364.0, 14.0)]]
    stand = accepted(checked([(reading, 1) for reading in readings], SETT, SIZE))
    assert [reading.at for reading in stand] == [1.0, 7.53125, 14.0]


def test_drift_gives_the_size_of_the_sett_between_readings() -> None:
    readings = [Reading("", t, x) for t, x in [(0.0, 1.0), (10.0, 1.4), (364.0, 14.2), (546.0, 20.6)]]
    found = drift(readings, SETT)
    assert found is not None
    assert [one.size for one in found.sizes] == pytest.approx([6.6, 6.4])
    assert [one.at for one in found.sizes] == pytest.approx([7.6, 17.4])
    assert (found.least, found.greatest) == pytest.approx((6.4, 6.6))
    assert found.mean == pytest.approx(19.6 / 3)
    assert drift(readings[:1], SETT) is None


def test_the_same_seed_draws_the_same_piece_and_a_fault_lies_on_it() -> None:
    one, other = (draw_piece(9, SETT, SIZE, faults=3) for _ in range(2))
    assert one == other
    assert draw_piece(10, SETT, SIZE).readings != one.readings
    assert all(0 <= fault.start < fault.end <= (one.truth.length or 0) for fault in one.faults)
