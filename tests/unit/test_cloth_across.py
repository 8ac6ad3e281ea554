"""Levels moved to a woven line, and the strip the rip leaves."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import Anchor, Piece, Reading, left_strip, snapped
from pleatwright.cloth.across import boundaries, run_across
from pleatwright.sett import Sett, Tartan
from pleatwright.trade import default_settings

SETTINGS = default_settings()
# Across, one thread is 1/8": green 0 to 5 inches, white to 5 1/4, green again to 16 5/8, black to 25.
WARP = Sett.of_runs([("G", 40), ("W", 2), ("G", 91), ("K", 67)])
TARTAN = Tartan("invented", WARP, Sett.of_runs([("G", 8), ("K", 8)]), (), "", "whole")
PIECE = Piece(
    width=Fraction(30),
    length=Fraction(300),
    sett_along=Fraction(2),
    sett_across=Fraction(25),
    left_end=Anchor(4.0, Fraction(1), "G"),
    selvedge=Anchor(41.0, Fraction(41, 8), "W"),
)


def test_a_hip_line_eight_inches_down_moves_to_eight_and_three_eighths() -> None:
    """Common practice, no source: L 25", strap line 2 1/2" from the top, hip line 8" moved to 8 3/8"."""
    found = snapped(PIECE, TARTAN, SETTINGS, total=Fraction(25), fell=Fraction(8), rise=Fraction(5, 2))
    assert found.top is None  # it lies on the edge of the black already
    assert found.hip is not None
    assert (found.hip.old, found.hip.new) == (Fraction(17), Fraction(133, 8))
    assert Fraction(25) - found.hip.new == Fraction(67, 8)
    assert found.hip.boundary == "the lower edge of the wide black in the green"


def test_a_level_stays_where_no_boundary_is_within_the_tolerance() -> None:
    found = snapped(PIECE, TARTAN, SETTINGS, total=Fraction(24), fell=Fraction(10), rise=Fraction(2))
    assert (found.top, found.hip) == (None, None)
    wide = replace(SETTINGS, cloth=replace(SETTINGS.cloth, snap_tolerance=Fraction(1)))
    assert (
        snapped(PIECE, TARTAN, wide, total=Fraction(24), fell=Fraction(10), rise=Fraction(2)).top is not None
    )


def test_a_selvedge_that_was_not_measured_moves_nothing() -> None:
    bare = replace(PIECE, selvedge=None)
    found = snapped(bare, TARTAN, SETTINGS, total=Fraction(25), fell=Fraction(8), rise=Fraction(5, 2))
    assert (found.top, found.hip) == (None, None)


def test_heights_as_read_go_before_the_size_of_the_sett() -> None:
    read = (Reading("", 41.0, 5.125), Reading("", 133.0, 16.875))
    found = snapped(
        replace(PIECE, readings_across=read),
        TARTAN,
        SETTINGS,
        total=Fraction(25),
        fell=Fraction(8),
        rise=Fraction(5, 2),
    )
    assert found.hip is not None
    assert found.hip.new == Fraction(135, 8)


@pytest.mark.parametrize(
    "width, moves",
    [
        (Fraction(113, 4), False),  # the band would no longer fit
        (Fraction(51, 2), True),  # it does not fit in any case
        (Fraction(101, 4), False),  # the boundary lies beyond the other selvedge
    ],
)
def test_a_top_edge_takes_away_neither_band_nor_cloth_there_is(width: Fraction, moves: bool) -> None:
    """The edge of the black lies at 25 3/8", the total is 25"."""
    narrow = replace(PIECE, width=width, selvedge=Anchor(41.0, Fraction(11, 2), "W"))
    found = snapped(narrow, TARTAN, SETTINGS, total=Fraction(25), fell=Fraction(8), rise=Fraction(5, 2))
    assert (found.top is not None) is moves


def test_the_rise_stays_within_the_usual_ones() -> None:
    short = snapped(PIECE, TARTAN, SETTINGS, total=Fraction(202, 8), fell=Fraction(5), rise=Fraction(1))
    assert short.top is None  # down to 25" would leave a rise of 3/4"
    assert (
        snapped(PIECE, TARTAN, SETTINGS, total=Fraction(202, 8), fell=Fraction(6), rise=Fraction(5, 4)).top
        is not None
    )


@given(st.integers(160, 460), st.integers(60, 150), st.integers(16, 48))
def test_a_moved_level_lies_within_the_tolerance_on_a_boundary(total: int, fell: int, rise: int) -> None:
    ripped, down = Fraction(total, 16), Fraction(fell, 16) + Fraction(rise, 16)
    if down >= ripped:
        down = ripped / 2 + Fraction(rise, 32)
    found = snapped(PIECE, TARTAN, SETTINGS, total=ripped, fell=down, rise=Fraction(rise, 16))
    run = run_across(PIECE, TARTAN)
    assert run is not None
    lines = [line.height for line in boundaries(run, 0.0, 30.0)]
    for level in (found.top, found.hip):
        if level is not None:
            assert abs(level.new - level.old) <= SETTINGS.cloth.snap_tolerance
            assert min(abs(float(level.new) - line) for line in lines) <= 1 / 32
            assert level.new <= PIECE.width
    if found.hip is not None:
        assert found.hip.new < ripped - Fraction(rise, 16)  # below the strap line


def test_the_strip_left_above_the_rip_and_the_one_between_two() -> None:
    single = left_strip(PIECE, Fraction(24), Fraction(60), SETTINGS)
    assert (single.height, single.middle, single.band, single.loops, single.flashes) == (
        Fraction(6),
        False,
        True,
        True,
        True,
    )
    double = left_strip(replace(PIECE, width=Fraction(50)), Fraction(24), Fraction(60), SETTINGS, strips=2)
    assert (double.height, double.middle, double.band, double.flashes) == (Fraction(2), True, False, True)
    assert not left_strip(PIECE, Fraction(24), Fraction(301), SETTINGS).band
    low = left_strip(replace(PIECE, width=Fraction(25)), Fraction(24), Fraction(60), SETTINGS)
    assert (low.band, low.loops, low.flashes) == (False, False, False)
    short = left_strip(
        replace(PIECE, width=Fraction(27), length=Fraction(62)), Fraction(24), Fraction(60), SETTINGS
    )
    assert (short.band, short.loops, short.flashes) == (True, False, False)
