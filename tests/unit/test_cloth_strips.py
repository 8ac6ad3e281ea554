"""Strips turned and joined: phases against brute force on the threads of the cloth."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import (
    Anchor,
    Fault,
    Piece,
    Reading,
    Run,
    blocked_along,
    horizontals_off,
    joints,
    turnable,
    turned,
)
from pleatwright.sett import Sett, Tartan, parse_count

MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
COUNTS = st.sampled_from(
    [MILITARY, parse_count("B/24 W4 B24 R2 K24 G24 W/2").weft, parse_count("R/20 W20 B20 K/120").weft]
)


def tartan(sett: Sett) -> Tartan:
    return Tartan("invented", sett, sett, (), "", "whole")


def piece(sett: Sett, *, height: float = 2.0) -> Piece:
    centre = sett.mirror_centres[0] if sett.symmetric else sett.centre_of(sett.stripes[0])
    return Piece(
        Fraction(58),
        Fraction(150),
        Fraction(13, 2),
        Fraction(13, 2),
        Anchor(centre, Fraction(1), "left"),
        Anchor(centre, Fraction(height), "selvedge"),
    )


@given(COUNTS, st.floats(0, 400), st.floats(20, 200), st.floats(0, 1))
def test_a_turned_strip_shows_the_same_colours_the_other_way_round(
    sett: Sett, phase: float, length: float, share: float
):
    run = Run.uniform(sett, 6.5, phase, length)
    x = share * length
    turned_run = turned(run)
    t = turned_run.thread_at(length - x)
    edge = min(abs((t - e + sett.n / 2) % sett.n - sett.n / 2) for e in sett.edges)
    if edge > 1e-6:  # on an edge either colour is right
        assert sett.colour_at(t) == sett.colour_at(run.thread_at(x))


@given(COUNTS, st.floats(0, 400), st.floats(20, 200))
def test_the_phase_at_a_turned_strip_s_new_left_end(sett: Sett, phase: float, length: float):
    """φ' = 2c - (φ + nℓ/S) [derived], for either mirror centre."""
    for centre in sett.mirror_centres:
        wanted = 2 * centre - (phase + sett.n * length / 6.5)
        found = turned(Run.uniform(sett, 6.5, phase, length)).thread_at(0.0)
        assert (found - wanted + sett.n / 2) % sett.n - sett.n / 2 == pytest.approx(0.0, abs=1e-6)


def test_turning_twice_gives_the_strip_back():
    run = replace(Run.uniform(MILITARY, 6.5, 33.0, 100.0), blocked=((10.0, 11.0), (40.0, 42.0)))
    again = turned(turned(run))
    assert again.tape == pytest.approx(run.tape)
    assert again.threads == pytest.approx(run.threads)
    assert np.array(again.blocked) == pytest.approx(np.array(run.blocked))


@given(COUNTS, st.floats(0, 400), st.floats(60, 200), st.floats(0, 1))
def test_a_join_runs_on_at_equal_phase_and_loses_at_most_a_sett_and_its_seams(
    sett: Sett, phase: float, length: float, share: float
):
    allowance = 0.5
    first = Run.uniform(sett, 6.5, phase, length)
    least, more = joints(first, turned(first), allowance)
    for joint, extra in ((least, 0.0), (more, 6.5)):
        assert joint.low <= joint.high + 1e-6
        sewn = joint.sewn(joint.low + share * (joint.high - joint.low))
        assert sewn.seam is not None
        assert sewn.length is not None
        assert sewn.seam.first_cut <= length - allowance + 1e-6
        assert sewn.seam.second_at >= allowance - 1e-6
        assert sewn.seam.loss == pytest.approx(2 * length - sewn.length)
        assert 2 * allowance - 1e-6 <= sewn.seam.loss - extra <= 6.5 + 2 * allowance + 1e-6
        for x in (0.0, sewn.seam.tape - 1, sewn.seam.tape, sewn.seam.tape + 1, sewn.length):
            assert sewn.thread_at(x) == pytest.approx(sewn.thread_at(0.0) + sett.n * x / 6.5, abs=1e-5)
        behind = sewn.seam.tape + 5 - sewn.seam.tape + sewn.seam.second_at
        own = turned(first).thread_at(behind)
        apart = (own - sewn.thread_at(sewn.seam.tape + 5)) / sett.n
        assert apart == pytest.approx(round(apart), abs=1e-6)


def test_horizontals_meet_where_the_full_width_mirrors_and_else_miss_by_what_brute_force_finds():
    for height in (0.0, 1.0, 2.0, 3.3):
        cloth = piece(MILITARY, height=height)
        off = horizontals_off(cloth, tartan(MILITARY))
        size, n = 6.5 / MILITARY.n, MILITARY.n
        low = cloth.selvedge_phase(tartan(MILITARY))
        for y in (1.0, 7.7, 13.1):
            here = (low + y / size) % n
            there = (low + (58 - (y + off)) / size) % n  # the same height on the turned strip, as it lay
            mirrored = (2 * MILITARY.mirror_centres[0] - there) % n
            assert (mirrored - here + n / 2) % n - n / 2 == pytest.approx(0.0, abs=1e-6)
    meeting = piece(MILITARY, height=float(Fraction(58) % Fraction(13, 2)) / 2)
    assert horizontals_off(meeting, tartan(MILITARY)) == pytest.approx(0.0, abs=1e-9)


def test_only_symmetric_counts_both_ways_may_be_turned():
    asymmetric = parse_count("...B20 K4 G16 Y2 R8...").weft
    assert turnable(tartan(MILITARY))
    assert not turnable(tartan(asymmetric))
    assert not turnable(Tartan("mixed", asymmetric, MILITARY, (), "", "whole"))
    assert turnable(tartan(parse_count("G").weft))


def test_a_fault_above_the_rip_or_on_the_other_strip_blocks_nothing():
    faults = (
        Fault("knot", Fraction(10), Fraction(11)),
        Fault("stain", Fraction(20), Fraction(22), Fraction(25), Fraction(26)),
        Fault("hole", Fraction(30), Fraction(31), strip=2),
    )
    assert blocked_along(faults, 1, Fraction(24)) == ((10.0, 11.0),)
    assert blocked_along(faults, 1, Fraction(26)) == ((10.0, 11.0), (20.0, 22.0))
    assert blocked_along(faults, 2, Fraction(24)) == ((30.0, 31.0),)


def test_faults_follow_their_strip_into_the_joined_cloth():
    first = replace(Run.uniform(MILITARY, 6.5, 0.0, 100.0), blocked=((40.0, 41.0), (99.8, 100.0)))
    second = turned(replace(Run.uniform(MILITARY, 6.5, 0.0, 100.0), blocked=((30.0, 31.0),)))
    joint = joints(first, second, 0.5)[0]
    sewn = joint.sewn((joint.low + joint.high) / 2)
    assert sewn.seam is not None
    shift = sewn.seam.tape - sewn.seam.second_at
    wanted = np.array([(40.0, 41.0), (69.0 + shift, 70.0 + shift)])
    assert np.array(sewn.blocked) == pytest.approx(wanted)


def test_stripes_read_across_decide_whether_horizontals_meet():
    """The cloth is 2% wider than its sett says: the other selvedge lies on another thread."""
    cloth = piece(MILITARY, height=2.0)
    centre = MILITARY.mirror_centres[0]
    read = tuple(Reading("azure", centre + turn * MILITARY.n, 2.0 + turn * 6.5 * 1.02) for turn in range(8))
    measured = horizontals_off(replace(cloth, readings_across=read), tartan(MILITARY))
    low, high = centre - 2.0 * MILITARY.n / 6.63, centre + 56.0 * MILITARY.n / 6.63
    n = MILITARY.n
    wanted = ((low + high - 2 * centre + n / 2) % n - n / 2) * 6.63 / n
    assert measured == pytest.approx(wanted, abs=1e-6)
    assert abs(measured - horizontals_off(cloth, tartan(MILITARY))) > 0.5
