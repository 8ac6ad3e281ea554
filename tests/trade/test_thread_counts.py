"""Thread counts checked against published ones and against arithmetic."""

from __future__ import annotations

import pytest

from pleatwright.sett import Sett, parse_count, sights

MILITARY = "A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6"


def warp(count: str) -> Sett:
    return parse_count(count).warp


def test_a_symmetric_count_repeats_neither_pivot() -> None:
    # [derived]: 24 + 2 x (4 + 24 + 2 + 24 + 24) + 2
    sett = warp("B/24 W4 B24 R2 K24 G24 W/2")
    assert sett.n == 182
    assert sett.mirror_centres == (12.0, 103.0)


def test_mirror_centres_of_the_military_sett() -> None:
    # [derived] from the military sett of 1739 in the public registers
    sett = warp(MILITARY)
    assert sett.n == 426
    assert sett.mirror_centres == (14.0, 227.0)


def test_a_published_count_read_out_stripe_by_stripe() -> None:
    # [public: tartansauthority.com, "Understanding Thread Counts"]: 4 blue, 56 red, 28 green, 28 blue,
    # 4 red, then mirrored; 232 threads in all is [derived]
    sett = warp("B/4 R56 G28 B28 R/4")
    read_out = [("B", 4), ("R", 56), ("G", 28), ("B", 28), ("R", 4), ("B", 28), ("G", 28), ("R", 56)]
    assert sett.n == 232
    assert sett.threads() == [colour for colour, threads in read_out for _ in range(threads)]


def test_slashes_mirror_and_dots_repeat() -> None:
    # [public: tartansauthority.com, "Asymmetric Tartans"]
    mirrored = warp("R/20 W20 B20 K/120")
    repeated = warp("...R20 W20 B20 K120...")
    assert (mirrored.n, mirrored.symmetric) == (220, True)
    assert (repeated.n, repeated.symmetric, repeated.mirror_centres) == (180, False, ())
    assert warp("R20 W20 B20 K120") == repeated


def test_slashes_outside_the_codes_mark_the_pivots_too() -> None:
    # a published oddity, common practice, no source
    assert warp("/K4 R24 K24 Y4/") == warp("K/4 R24 K24 Y/4")
    assert warp("/K4 R24 K24 Y4/").n == 104  # [derived]


def test_older_lists_give_half_the_pivot() -> None:
    # common practice, no source
    assert parse_count("B/12 W4 G24 W/1", pivots="half").warp == warp("B/24 W4 G24 W/2")


@pytest.mark.parametrize("count,parts", [("R8 G8 R8 G8", 2), ("R/8 G8 R8 G/8", 3), ("R4 G8 R8 G8 R4", 2)])
def test_a_sett_written_as_equal_parts_has_its_true_period(count: str, parts: int) -> None:
    # [derived] from what a repeat is
    sett = warp(count)
    assert (sett.n, sett.written_periods) == (16, parts)


def test_the_wide_black_of_the_military_sett_recurs_at_two_unequal_spacings() -> None:
    # [derived]: 4.85" and 1.65" of a sett of 6 1/2"; the reveal is that of 27 pleats over 20 1/2"
    sett, size = warp(MILITARY), 6.5
    reveal = 20.5 / 27
    found = sights(sett, size / sett.n, reveal / 2)
    (black,) = (sight for sight in found if sight.stripe.start == 52)
    assert black.stripe.colour == "K"
    assert [(occurrence.phase, occurrence.mirrored) for occurrence in black.occurrences] == [
        (68.0, False),
        (386.0, True),
    ]
    assert [round(spacing * size / sett.n, 2) for spacing in black.spacings] == [4.85, 1.65]


def test_a_stripe_alike_both_ways_counts_as_straight() -> None:
    # [derived]: the black in the green has the same green and black on either side within the reveal
    sett = warp(MILITARY)
    (line,) = (sight for sight in sights(sett, 6.5 / sett.n, 20.5 / 54) if sight.stripe.start == 116)
    assert line.name == "black, 6 threads, in the green"
    assert [(place.phase, place.mirrored) for place in line.occurrences] == [(119.0, False), (335.0, False)]


def test_a_pivot_occurs_once_a_sett_and_an_ordinary_stripe_twice_mirrored() -> None:
    # common practice, no source; a window of half the sett sees all there is to see
    sett = warp(MILITARY)
    found = sights(sett, 1.0, sett.n / 2, 0.5)
    pivots = [sight for sight in found if len(sight.occurrences) == 1]
    assert [sight.stripe.centre for sight in pivots] == [14.0, 227.0]
    for sight in found:
        if sight not in pivots:
            assert [occurrence.mirrored for occurrence in sight.occurrences] == [False, True]
            assert sum(occurrence.phase for occurrence in sight.occurrences) % sett.n == 28.0
