"""Pleats against what public pages and common practice say of them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.layout import Plan, Request, make_plan
from pleatwright.pleats import (
    Form,
    Kind,
    Pleating,
    PleatSpace,
    Shows,
    Wishes,
    deepest_fold,
    depth_range,
    hidden_cloth,
    pleatings,
    reveals,
)
from pleatwright.sett import Sett, Tartan, parse_count, sett_from_widths
from pleatwright.trade import Settings, default_settings, provenance
from pleatwright.wearer import Body, LevelName, Taper, sizes

SHOP = default_settings()
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft


def widths(hip: float, strap: float) -> dict[LevelName, float]:
    return {
        LevelName.TOP: strap,
        LevelName.STRAP: strap,
        LevelName.MID: (hip + strap) / 2,
        LevelName.HIP: hip,
    }


def tried(
    sett: Sett, size: float, wishes: Wishes, hip: float = 20.5, strap: float = 16.5, shop: Settings = SHOP
) -> list[Pleating]:
    return list(pleatings(PleatSpace(sett, size, widths(hip, strap), shop, wishes)))


def plan(pleats: int | None, kind: Kind) -> Plan:
    made = sizes(Body(Fraction(34), Fraction(41), Fraction(22), Fraction(7)), taper=Taper.MAN, settings=SHOP)
    tartan = Tartan("invented", MILITARY, MILITARY, (), "", "whole")
    wishes = Wishes(frozenset({kind}), pleats)
    return make_plan(Request(made, tartan, Fraction(13, 2), Fraction(13, 2), None, wishes, "right", SHOP))


def test_unequal_gaps_of_a_15_inch_sett_fold_alternately_deep_and_shallow() -> None:
    # gaps of 7 3/8" and 7 3/4" in a 15" sett [public: xmarksthescot.com thread 60560]
    inches = [("B", Fraction(57, 8)), ("W", Fraction(1, 4)), ("G", Fraction(15, 2))]
    sett = sett_from_widths(inches, True)
    assert sett.unit_inches is not None
    size = float(sett.n * sett.unit_inches)
    assert size == 15.125
    white = sett.centre_of(next(stripe for stripe in sett.stripes if stripe.colour == "W"))
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.STRIPE)}), pleats=27, stripe=white)
    found = [one for one in tried(sett, size, wishes) if one.takes == "each occurrence"]
    assert len(found) == 2  # beginning with the one gap or the other
    for one in found:
        gaps = [gap * size / sett.n for gap in one.gaps]
        assert sorted(gaps[:2]) == [7.375, 7.75]
        assert gaps == gaps[:2] * 13
        reveal = 20.5 / 27
        depths = depth_range(one, gaps, reveal)
        assert (depths.least, depths.greatest) == pytest.approx(((7.375 - reveal) / 2, (7.75 - reveal) / 2))
        assert depths.greatest - depths.least == pytest.approx(3 / 16)


def test_the_military_setts_wide_black_recurs_at_two_spacings_of_which_one_is_too_short_to_fold() -> None:
    # after 4.85" and 1.65" of 6 1/2" [derived]
    thread = 6.5 / MILITARY.n
    space = PleatSpace(MILITARY, 6.5, widths(20.5, 16.5), SHOP, Wishes(stripe=68.0))
    (black,) = space.sights(20.5 / 27)
    assert [gap * thread for gap in black.spacings] == pytest.approx([4.85, 1.65], abs=0.005)
    for pleats in (24, 27, 30):
        assert 1.65 < 20.5 / pleats + 2 * float(SHOP.pleats.depth_least) < 4.85
        wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.STRIPE)}), pleats, stripe=68.0)
        assert {one.takes for one in tried(MILITARY, 6.5, wishes)} == {"once a sett"}


@pytest.mark.parametrize("pleats,told", [(22, True), (23, False)])
def test_an_association_asks_for_at_least_23_pleats(pleats: int, told: bool) -> None:
    # [public: en.citizendium.org, "Kilt Makers Association of Scotland"]
    found = plan(pleats, Kind(Form.KNIFE, Shows.SETT))
    assert found.options
    assert ("plan.few-pleats" in {finding.code for finding in found.findings}) == told
    assert found.options[0].points.few_pleats == (SHOP.weights.few_pleats if told else 0)


@pytest.mark.parametrize("panel", [1.5, 2.0, 2.5])
def test_folds_of_a_box_pleat_meet_behind_when_a_panel_takes_three_times_its_width(panel: float) -> None:
    # a = w + 4u; a = 3w when u = w/2 [derived]; width about a third of the sett
    # [public: xmarksthescot.com thread 70749]
    underfold = deepest_fold(Form.BOX, hidden_cloth(3 * panel, panel, panel), panel)
    assert underfold == pytest.approx(panel / 2)


def test_a_box_pleat_to_the_sett_goes_under_by_a_quarter_of_its_setts() -> None:
    # u = kS/4 [derived]; the panel shows its own width of the tartan
    found = tried(MILITARY, 6.5, Wishes(frozenset({Kind(Form.BOX, Shows.SETT_RUNNING)})))
    assert found
    for one in found:
        reveal = reveals(20.5, one.pleats)
        depths = depth_range(one, one.gaps, reveal, 6.5 / 426)
        assert depths.least == pytest.approx(one.setts * 6.5 / 4)


def test_a_military_box_of_5_8_faces_over_half_setts_of_5_5_8() -> None:
    # about forty panels [public: xmarksthescot.com thread 75562]; a = 2w + 2u_deep [derived]
    deep = deepest_fold(Form.MILITARY_BOX, hidden_cloth(5.625, 0.625, 0.625), 0.625)
    assert 2 * 0.625 + 2 * deep == pytest.approx(5.625)
    sett = Sett.of_runs([("W", 4), ("B", 41)])
    kind = Kind(Form.MILITARY_BOX, Shows.STRIPE)
    found = tried(sett, 5.625, Wishes(frozenset({kind}), pleats=40), hip=25.0, strap=21.0)
    once = [one for one in found if one.takes == "once a sett"]
    assert once
    for one in once:
        assert reveals(25.0, one.pleats) == 0.625
        depths = depth_range(one, one.gaps, 0.625, 5.625 / 45)
        assert depths.least == depths.greatest == pytest.approx(deep)


def test_a_sixteenth_on_each_of_26_pleats_is_1_5_8_at_the_waist() -> None:
    # [public: xmarksthescot.com thread 25996]
    out_by = (reveals(21.0 + 1.625, 26) - reveals(21.0, 26)) * 16
    assert out_by == pytest.approx(1)


def test_reveals_searched_reach_from_5_8_to_7_8_and_none_is_too_wide() -> None:
    # search 5/8–7/8" [public: xmarksthescot.com thread 96647]; 1 1/2" is too wide, 1 1/8" a little wide
    # [public: xmarksthescot.com thread 82677]
    found = tried(MILITARY, 6.5, Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT_RUNNING)})))
    hips = sorted({reveals(20.5, one.pleats) for one in found})
    assert hips[0] < 5 / 8
    assert 7 / 8 < hips[-1] <= 1.125
    assert {one.pleats for one in found} >= set(range(24, 33))


def test_an_odd_number_puts_a_pleat_in_the_middle_of_the_back_and_is_preferred() -> None:
    # [public: xmarksthescot.com thread 96647]
    odd, even = (plan(pleats, Kind(Form.KNIFE, Shows.SETT_RUNNING)).options[0] for pleats in (27, 26))
    assert odd.strips[13].phase == pytest.approx(odd.middle_phase)
    assert odd.points.middle == 0 < even.points.middle
    assert "is a pleat on" in " ".join(odd.reasons)
    assert "is a fold on" in " ".join(even.reasons)


def test_a_line_may_not_lie_on_a_pleats_edge_unseen() -> None:
    # no line on a pleat's edge [public: xmarksthescot.com thread 82677]
    for option in plan(None, Kind(Form.KNIFE, Shows.SETT)).options:
        for line in option.lines_at_risk:
            assert line.pleats
            assert line.why
            assert set(line.pleats) <= set(range(1, option.pleats + 1))


def test_a_centre_boxs_first_neighbour_lies_half_of_both_faces_and_two_depths_away() -> None:
    # first neighbour at (w_c + r)/2 + 2·depth [derived]
    kind = Kind(Form.CENTRE_BOX, Shows.PLAIN)
    depth, wide = float(SHOP.pleats.plain_depth), SHOP.pleats.centre_box_reveals
    for one in tried(Sett.of_runs([("G", 10)]), 1.0, Wishes(frozenset({kind}))):
        reveal = reveals(20.5, one.pleats, wide)
        middle = one.pleats // 2
        assert one.gaps[middle] / 10 == pytest.approx((wide * reveal + reveal) / 2 + 2 * depth)
        assert one.gaps[0] / 10 == pytest.approx(reveal + 2 * depth)


def test_usual_depth_reaches_from_2_to_4_inches_and_no_fold_beyond_15_cm_is_sought() -> None:
    # one maker's rule is 7–15 cm [public: askivalofstrathearn.co.uk, quality criteria]
    assert provenance()["pleats.depth_usual_most"].tag == "public"
    found = tried(MILITARY, 6.5, Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT_RUNNING)})))
    for one in found:
        deepest = depth_range(one, one.gaps, reveals(20.5, one.pleats), 6.5 / 426).greatest
        assert 2 <= deepest <= 15 / 2.54 + 0.1
