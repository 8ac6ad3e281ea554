"""Names of stripes, and the places that look the same."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.sett import (
    Likeness,
    Occurrence,
    Sett,
    Stripe,
    parse_count,
    same_surroundings,
    sett_from_widths,
    short_name,
    short_names,
    sights,
    stripe_name,
    stripe_names,
)

Runs = list[tuple[str, int]]

stripe_runs = st.lists(st.tuples(st.sampled_from("BKW"), st.integers(1, 9)), min_size=2, max_size=8)
setts = st.one_of(stripe_runs, stripe_runs.map(lambda runs: runs + runs[-2:0:-1])).map(Sett.of_runs)
patterned = setts.filter(lambda sett: not sett.plain)


def sett_of(count: str) -> Sett:
    return parse_count(count).warp


def names_of(count: str) -> list[str]:
    sett = sett_of(count)
    return [stripe_name(sett, stripe) for stripe in sett.stripes]


def test_a_stripe_is_named_by_colour_threads_and_what_it_lies_in() -> None:
    names = names_of("B/24 W4 B24 R2 K24 G24 W/1")
    assert names[1] == "white, 4 threads, in the blue"
    assert names[3] == "red, 2 threads, between the black and the blue"
    assert names[6] == "white, 1 thread, in the green"


def test_in_running_text_a_stripe_is_narrow_or_wide() -> None:
    sett = sett_of("B/24 W4 B24 R2 K10 G24 W/2")
    assert short_name(sett, sett.stripes[1]) == "the narrow white in the blue"
    assert short_name(sett, sett.stripes[5]) == "the wide green between the black and the white"
    assert short_name(sett, sett.stripes[4]) == "the black between the green and the red"


def test_mirror_images_share_a_name() -> None:
    names = names_of("B/24 W4 B24 R2 K24 G24 W/2")
    assert names[1:6] == names[:6:-1]


def test_places_of_the_same_words_are_counted_from_the_pivot() -> None:
    names = names_of("R/30 K6 G20 K6 G40 K6 G/10")
    black = ["black, 6 threads, in the green, the 1st from the red pivot"]
    assert [name for name in names[:7] if name.startswith("black")][1:] == [
        "black, 6 threads, in the green, the 1st from the red pivot",
        "black, 6 threads, in the green, the 2nd from the red pivot",
    ]
    assert names.count(black[0]) == 2


def test_a_pivot_among_namesakes_is_called_the_pivot() -> None:
    names = names_of("R/6 G20 R6 G40 B/6")
    assert names[0] == "red, 6 threads, in the green, at the red pivot"
    assert names[2] == "red, 6 threads, in the green, the 1st from the red pivot"


@pytest.mark.parametrize(
    "count,first,second",
    [
        ("R/8 G20 W4 G30 R/8", "at the first red pivot", "at the second red pivot"),
        ("R/8 G20 W4 G30 R/6", None, None),
    ],
)
def test_pivots_alike_in_all_are_first_and_second(count: str, first: str | None, second: str | None) -> None:
    names = names_of(count)
    assert names[0] == "red, 8 threads, in the green" + (f", {first}" if first else "")
    assert names[4].endswith(second or "6 threads, in the green")


def test_in_running_text_pivots_of_one_colour_are_told_apart_by_width() -> None:
    sett = sett_of("R/8 G40 R/6")
    assert [short_name(sett, stripe) for stripe in sett.stripes if stripe.colour == "R"] == [
        "the narrow red in the green, at the wide red pivot",
        "the narrow red in the green, at the narrow red pivot",
    ]
    sett = sett_of("R/6 G40 R/8")
    assert short_name(sett, sett.stripes[0]) == "the narrow red in the green, at the narrow red pivot"


def test_without_pivots_places_are_counted_from_the_start_of_the_sett() -> None:
    names = names_of("W2 G10 W2 G12 R4 G3")
    assert names[0] == "white, 2 threads, in the green, the 1st from the start of the sett"
    assert names[2] == "white, 2 threads, in the green, the 2nd from the start of the sett"


def test_measured_stripes_have_widths_for_names() -> None:
    sett = sett_from_widths([("B", Fraction(3, 4)), ("W", Fraction(3, 16))], False)
    assert stripe_names(sett) == ('blue, 3/4" wide, in the white', 'white, 3/16" wide, in the blue')
    millimetre = Fraction(5, 127)
    sett = sett_from_widths([("B", 20 * millimetre), ("W", Fraction(5, 2) * millimetre)], False)
    assert stripe_names(sett) == ("blue, 20 mm wide, in the white", "white, 2.5 mm wide, in the blue")
    sett = sett_from_widths([("B", Fraction(1)), ("W", Fraction(1, 3))], False)
    assert stripe_names(sett)[1] == 'white, 5/16" wide, in the blue'


def test_plain_cloth_is_called_plain() -> None:
    sett = sett_of("DG100")
    assert stripe_name(sett, sett.stripes[0]) == "plain dark green"
    assert short_name(sett, sett.stripes[0]) == "the plain dark green"
    assert sights(sett, 0.05, 0.4) == ()


@given(patterned)
def test_two_stripes_share_a_name_exactly_when_they_are_mirror_images(sett: Sett) -> None:
    turns = [0.0] if not sett.symmetric else [2 * sett.mirror_centres[0]]

    def images(one: Stripe, two: Stripe) -> bool:
        away = (turns[0] - sett.centre_of(one) - sett.centre_of(two)) % sett.n
        return one is two or (sett.symmetric and away == 0)

    for names in (stripe_names(sett), short_names(sett)):
        for one in sett.stripes:
            for two in sett.stripes:
                assert (names[one.index] == names[two.index]) == images(one, two)


@given(patterned, st.floats(0.2, 12), st.floats(0, 1.5))
def test_sights_part_the_stripes_and_their_spacings_sum_to_the_sett(
    sett: Sett, window: float, tolerance: float
) -> None:
    found = sights(sett, 1.0, window, tolerance)
    phases = [occurrence.phase for sight in found for occurrence in sight.occurrences]
    assert sorted(phases) == sorted(sett.centre_of(stripe) for stripe in sett.stripes)
    assert len({sight.name for sight in found}) == len(found)
    for sight in found:
        assert sight.occurrences[0] == Occurrence(sett.centre_of(sight.stripe), False)
        assert sum(sight.spacings) == pytest.approx(sett.n)
        assert min(sight.spacings) > 0


fine_runs = st.lists(st.tuples(st.sampled_from("BKW"), st.integers(1, 3)), min_size=2, max_size=8)
fine = st.one_of(fine_runs, fine_runs.map(lambda runs: runs + runs[-2:0:-1])).map(Sett.of_runs)


@given(fine, st.integers(0, 20), st.integers(0, 20), st.integers(0, 2), st.integers(1, 16), st.booleans())
def test_without_tolerance_places_look_the_same_when_every_thread_does(
    sett: Sett, first: int, second: int, off: int, twice_window: int, mirrored: bool
) -> None:
    a = sett.centre_of(sett.stripes[first % len(sett.stripes)])
    b = sett.centre_of(sett.stripes[second % len(sett.stripes)]) + off / 2
    quarters = [step / 4 for step in range(1 - 2 * twice_window, 2 * twice_window, 2)]
    alike = all(sett.colour_at(a + u) == sett.colour_at(b - u if mirrored else b + u) for u in quarters)
    window = twice_window / 2
    assert same_surroundings(sett, a, b, mirrored=mirrored, half_window=window, tolerance=0.0) == alike


@given(patterned, st.floats(0, 60), st.floats(0, 60), st.floats(0.5, 10), st.booleans())
def test_looking_the_same_goes_both_ways(
    sett: Sett, a: float, b: float, window: float, mirrored: bool
) -> None:
    def same(one: float, two: float) -> bool:
        return same_surroundings(sett, one, two, mirrored=mirrored, half_window=window, tolerance=0.7)

    assert same(a, b) == same(b, a)


@given(patterned, st.floats(0.5, 10), st.floats(0, 1.5))
def test_stripes_that_look_the_same_in_a_mirror_are_told_for_all_pairs_at_once(
    sett: Sett, half: float, tolerance: float
) -> None:
    likeness, centres = Likeness(sett, tolerance), [sett.centre_of(stripe) for stripe in sett.stripes]
    pairs = [(one, other) for one in sett.stripes for other in sett.stripes]
    one, other = (np.array([pair[which].index for pair in pairs]) for which in (0, 1))
    assert likeness.stripes_at(np.array([*centres, centres[0] + 0.25])).tolist() == [
        *(stripe.index for stripe in sett.stripes),
        -1,
    ]
    found = likeness.mirrored(one, other, np.full(len(pairs), half))
    assert found.tolist() == [
        same_surroundings(
            sett, centres[a.index], centres[b.index], mirrored=True, half_window=half, tolerance=tolerance
        )
        for a, b in pairs
    ]


def test_a_boundary_may_be_off_by_the_tolerance_and_no_more() -> None:
    sett = sett_of("W4 G10 W5 G10 R20 G12")
    white, other = sett.stripes[0].centre, sett.stripes[2].centre

    def same(tolerance: float, window: float = 6) -> bool:
        return same_surroundings(sett, white, other, mirrored=False, half_window=window, tolerance=tolerance)

    assert same(0.5)
    assert not same(0.49)
    assert not same(0.5, window=13)  # the red comes into view on one side only


def test_a_line_thinner_than_the_tolerance_is_still_seen() -> None:
    sett = sett_of("G20 W1 G20 R9 G41 R9")
    line, bare = 20.5, 70.5
    for a, b in ((line, bare), (bare, line)):
        assert not same_surroundings(sett, a, b, mirrored=False, half_window=10, tolerance=2)


def test_the_same_line_in_other_colours_does_not_look_the_same() -> None:
    sett = sett_of("W4 G10 W4 K10")
    assert not same_surroundings(sett, 14, 0, mirrored=False, half_window=1, tolerance=1)
    assert not same_surroundings(sett, 14, 0, mirrored=True, half_window=1, tolerance=1)


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_line_seen_on_one_side_only_tells_two_places_apart(mirrored: bool) -> None:
    sett = sett_of("G20 R20 W9 G7 R20") if not mirrored else sett_of("G20 R20 G7 W9 R20")
    bare, lined = (17.0, 53.0) if not mirrored else (17.0, 43.0)  # 3 threads from the red
    for a, b in ((bare, lined), (lined, bare)):
        assert same_surroundings(sett, a, b, mirrored=mirrored, half_window=3.5, tolerance=0.5)
        assert not same_surroundings(sett, a, b, mirrored=mirrored, half_window=6, tolerance=0.5)


def test_neighbouring_hair_lines_are_not_taken_for_one_another() -> None:
    sett = sett_of("W1 K1 G30")
    found = sights(sett, 1.0, 4.0, 1.5)
    assert [sight.stripe.colour for sight in found] == ["W", "K", "G"]


def test_a_boundary_just_out_of_view_matches_one_just_in_view() -> None:
    sett = sett_of("W4 G10 W5 G10 R20 G12")
    for a, b in ((2.0, 16.5), (16.5, 2.0)):
        assert same_surroundings(sett, a, b, mirrored=False, half_window=2.2, tolerance=0.5)
        assert not same_surroundings(sett, a, b, mirrored=False, half_window=2.2, tolerance=0.2)


def test_plain_places_look_the_same_everywhere() -> None:
    assert same_surroundings(sett_of("G40"), 3, 17.5, mirrored=True, half_window=5, tolerance=0)
