"""How an order names one stripe of a sett."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError, Problem
from pleatwright.order.models import StripeRef
from pleatwright.order.references import Stripes
from pleatwright.sett import Sett, parse_count, sett_from_widths

# The public registers' military sett of 1739: its wide blacks recur mirrored.
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft


def stripes_of(sett: Sett, *, halved: bool = False) -> Stripes:
    return Stripes(sett, halved, "to the right", "in")


def refused(sett: Sett, wanted: StripeRef) -> Problem:
    with pytest.raises(InputError) as caught:
        stripes_of(sett).find(wanted, "piece.left_end")
    (problem,) = caught.value.problems
    return problem


def test_a_pivot_is_named_by_itself() -> None:
    assert stripes_of(MILITARY).find(StripeRef(stripe="a/28"), "x").start == 0


def test_mirror_images_are_told_apart_by_what_follows_to_the_right() -> None:
    find = stripes_of(MILITARY).find
    left, right = (find(StripeRef(stripe="K32", then=then), "x") for then in ("A32", "A6"))
    assert [MILITARY.stripe_at(stripe.end).threads for stripe in (left, right)] == [32, 6]
    assert left.start == 28 + 6 + 6 + 6 + 6 + 32 + 32 + 6 + 32
    assert right.end == MILITARY.n - 4 * 6


def test_a_bare_colour_is_no_place_and_every_possibility_is_offered() -> None:
    problem = refused(parse_count("B/24 W4 G20 K/10").weft, StripeRef(stripe="W"))
    assert problem.allowed == "is a colour, not a stripe"
    assert problem.fix == (
        'write { stripe = "W4", then = "G20" } for white, 4 threads, between the blue and the green; '
        '{ stripe = "W4", then = "B24" } for white, 4 threads, between the blue and the green'
    )


def test_a_stripe_that_occurs_twice_is_not_guessed_at() -> None:
    assert refused(MILITARY, StripeRef(stripe="K32")).allowed == "occurs 4 times in the sett"
    again = refused(MILITARY, StripeRef(stripe="K32", then="G32"))
    assert again.allowed == "followed by G32 occurs 2 times in the sett"
    assert [offer in again.fix for offer in ('then = "G32 K6 G32 K32 A32"', "number = 6", "number = 16")] == [
        False,
        True,
        True,
    ]


def test_several_stripes_that_follow_tell_places_apart() -> None:
    sett = parse_count("B/48 G6 B6 G28 W4 G28 K/24").weft
    problem = refused(sett, StripeRef(stripe="W4"))
    assert 'then = "G28 K24"' in problem.fix
    assert 'then = "G28 B6"' in problem.fix
    found = [stripes_of(sett).find(StripeRef(stripe="W4", then=f"G28, {last}"), "x") for last in ("K24", "b")]
    assert [stripe.index for stripe in found] == [4, 8]
    assert refused(sett, StripeRef(stripe="W4", then="G28 W4")).allowed.startswith("never follows W4")


def test_a_stripe_that_is_not_there_offers_those_of_its_colour() -> None:
    assert refused(MILITARY, StripeRef(stripe="G30")).fix.count("green, 32 threads") == 4
    assert refused(MILITARY, StripeRef(stripe="R4")).fix == "it has A, K, G"
    assert refused(MILITARY, StripeRef(stripe="K32", then="K6")).allowed == "never follows K32 to the right"
    assert refused(MILITARY, StripeRef(stripe="K32", then="?")).fix == "write what follows, as G32"


def test_a_number_must_agree_with_the_stripe_it_is_given_for() -> None:
    assert stripes_of(MILITARY).find(StripeRef(stripe="K6", number=2), "x").index == 1
    assert "is not K6 but" in refused(MILITARY, StripeRef(stripe="K6", number=3)).allowed
    assert "is more than the 24 stripes" in refused(MILITARY, StripeRef(number=99)).allowed


def test_half_pivots_are_named_as_they_are_written() -> None:
    sett = parse_count("B/12 W4 G/8", pivots="half").weft
    stripes = stripes_of(sett, halved=True)
    assert stripes.find(StripeRef(stripe="B12"), "x").threads == 24
    assert stripes.find(StripeRef(stripe="G16"), "x").threads == 16
    assert stripes.label(sett.stripes[0]) == "B12"


def test_measured_stripes_are_named_by_their_width() -> None:
    widths = [("B", Fraction(3, 2)), ("W", Fraction(1, 4)), ("K", Fraction(3, 4))]
    sett = sett_from_widths(widths, symmetric=True)
    assert stripes_of(sett).find(StripeRef(stripe="B 1 1/2"), "x").index == 0
    metric = Stripes(sett, False, "to the right", "metric")
    assert metric.find(StripeRef(stripe='K 3/4"'), "x").index == 2


counts = st.lists(st.tuples(st.sampled_from("BGKRW"), st.integers(1, 12)), min_size=2, max_size=9)


@given(counts, st.booleans())
def test_whatever_is_offered_finds_the_stripe_it_was_offered_for(
    runs: list[tuple[str, int]], mirrored: bool
) -> None:
    sett = Sett.of_runs([*runs, *runs[-2:0:-1]] if mirrored else runs)
    stripes = stripes_of(sett)
    with pytest.raises(InputError) as caught:
        stripes.find(StripeRef(), "x")
    offers = re.findall(r"\{ (.*?) \} for", caught.value.problems[0].fix)
    found = [stripes.find(_reference(offer), "x").index for offer in offers]
    assert found == list(range(min(len(sett.stripes), 12)))


def _reference(offer: str) -> StripeRef:
    """What a maker writes on being offered this."""
    return StripeRef.model_validate(dict(re.findall(r'(\w+) = "?([^"]+)"?(?:, |$)', offer)))
