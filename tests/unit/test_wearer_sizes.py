"""Sizes at every level: ease, split, taper, flare, and what cannot be."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError, Problem
from pleatwright.trade import default_settings, with_overrides
from pleatwright.wearer import FELL_LEVELS, Body, LevelName, Sizes, Taper, sizes

SETTINGS = default_settings()
BODY = Body(waist=Fraction(36), hips=Fraction(40), drop=Fraction(22), fell_drop=Fraction(6))


def sized(body: Body = BODY, taper: Taper = Taper.MAN, **given: Fraction) -> Sizes:
    return sizes(body, taper=taper, settings=SETTINGS, **given)


def problems_of(body: Body, taper: Taper = Taper.MAN, **given: Fraction) -> dict[str, Problem]:
    with pytest.raises(InputError) as caught:
        sized(body, taper, **given)
    return {problem.field: problem for problem in caught.value.problems}


eighths = st.integers


def inches(least: int, most: int) -> st.SearchStrategy[Fraction]:
    return eighths(8 * least, 8 * most).map(lambda units: Fraction(units, 8))


bodies = st.builds(
    Body,
    waist=inches(18, 60),
    hips=inches(20, 60),
    drop=inches(14, 30),
    fell_drop=st.none() | inches(4, 10),
    rise=st.none() | inches(1, 3),
    child=st.booleans(),
)
shares = st.integers(30, 70).map(lambda percent: Fraction(percent, 100))


def test_ease_is_added_at_the_hips_and_not_at_the_waist() -> None:
    kilt = sized()
    assert [kilt.waist, kilt.hips] == [36, Fraction(81, 2)]


def test_a_child_has_its_own_ease_and_hem() -> None:
    kilt = sized(replace(BODY, child=True))
    assert [kilt.waist, kilt.hips, kilt.hem, kilt.total] == [37, 41, 3, 27]


def test_a_hem_that_was_chosen_stands_against_the_childs_usual() -> None:
    assert sized(replace(BODY, child=True), hem=Fraction(1)).total == 25


def test_what_is_ripped_is_drop_and_rise_and_hem() -> None:
    kilt = sized(replace(BODY, rise=Fraction(3, 2)), hem=Fraction(2))
    assert [kilt.drop, kilt.rise, kilt.hem, kilt.total] == [22, Fraction(3, 2), 2, Fraction(51, 2)]
    assert kilt.level(LevelName.BOTTOM).below_top == Fraction(47, 2)


def test_the_greatest_drop_is_ripped_where_drops_differ() -> None:
    kilt = sized(replace(BODY, drop_side=Fraction(45, 2), drop_back=Fraction(23)))
    assert [kilt.drop, kilt.total] == [23, 25]


def test_the_five_levels_come_from_the_top_down() -> None:
    kilt = sized()
    assert [level.name for level in kilt.levels] == list(LevelName)
    assert [level.below_top for level in kilt.levels] == [0, 2, 5, 8, 24]


def test_half_of_the_round_is_apron() -> None:
    hip = sized().level(LevelName.HIP)
    assert hip.pleated == hip.over_apron == hip.under_apron == Fraction(81, 4)
    assert hip.pleat_side == Fraction(81, 8)


def test_a_share_holds_at_its_own_level() -> None:
    kilt = sized(share_waist=Fraction(3, 5))
    assert kilt.level(LevelName.STRAP).under_apron == Fraction(108, 5)
    assert kilt.level(LevelName.HIP).under_apron == Fraction(81, 4)
    assert kilt.level(LevelName.TOP).pleated == kilt.level(LevelName.STRAP).pleated == Fraction(72, 5)


def test_the_lap_lies_wholly_at_the_fringed_edge() -> None:
    plain, lapped = sized(), sized(lap=Fraction(1))
    for before, after in zip(plain.levels, lapped.levels, strict=True):
        assert after.pleat_side == before.pleat_side
        assert after.over_outer == before.over_outer + 1
        assert after.under_apron == before.under_apron
    assert lapped.outer_over_greatest == lapped.pleat_side_greatest + 1


def test_the_flare_is_shared_by_both_edges_of_the_apron() -> None:
    kilt = sized()
    hip, bottom = kilt.level(LevelName.HIP), kilt.level(LevelName.BOTTOM)
    assert bottom.over_apron == hip.over_apron + 1
    assert bottom.pleat_side == hip.pleat_side + Fraction(1, 2)
    assert bottom.pleated == hip.pleated


def test_a_mans_taper_runs_parallel_above_the_strap_line() -> None:
    kilt = sized()
    top, strap = kilt.level(LevelName.TOP), kilt.level(LevelName.STRAP)
    assert replace(top, name=strap.name, below_top=strap.below_top) == strap


def test_an_opening_above_the_strap_line_is_split_like_the_waist() -> None:
    top = sized(opening_above_strap=Fraction(1), share_waist=Fraction(3, 5)).level(LevelName.TOP)
    assert [top.round, top.under_apron, top.pleated] == [37, Fraction(111, 5), Fraction(74, 5)]


def test_a_womans_taper_is_one_straight_line() -> None:
    kilt = sized(taper=Taper.WOMAN)
    top, strap, hip = (kilt.level(name) for name in (LevelName.TOP, LevelName.STRAP, LevelName.HIP))
    assert top.pleated == strap.pleated - (hip.pleated - strap.pleated) * 2 / 6
    assert top.round == 36 - Fraction(9, 2) / 3


def test_a_womans_opening_is_added_to_the_line() -> None:
    plain = sized(taper=Taper.WOMAN).level(LevelName.TOP)
    opened = sized(taper=Taper.WOMAN, opening_above_strap=Fraction(1)).level(LevelName.TOP)
    assert opened.round == plain.round + 1
    assert opened.pleated == plain.pleated + Fraction(1, 2)


def test_without_a_fell_drop_the_hip_line_lies_at_a_third_of_the_length() -> None:
    kilt = sized(replace(BODY, fell_drop=None), hem=Fraction(3))
    assert [kilt.fell, kilt.fell_assumed] == [8, True]
    assert not sized().fell_assumed


def test_a_belly_widens_upward_and_is_no_error() -> None:
    kilt = sized(replace(BODY, waist=Fraction(46)))
    assert kilt.belly
    assert kilt.level(LevelName.STRAP).pleated > kilt.level(LevelName.HIP).pleated
    assert kilt.greatest_pleated == 23
    assert kilt.pleat_side_greatest == Fraction(23, 2)
    assert not sized().belly


def test_ease_decides_whether_equal_girths_are_a_belly() -> None:
    equal = replace(BODY, waist=Fraction(40))
    assert not sized(equal).belly
    bare = with_overrides(SETTINGS, {"wearer": {"ease_hips": 0}})
    assert sizes(equal, taper=Taper.MAN, settings=bare).belly


def test_settings_give_what_the_order_leaves_out() -> None:
    ours = with_overrides(
        SETTINGS,
        {"wearer": {"lap": 1, "rise": 3, "flare": 2, "opening_above_strap": "1/2", "share_hips": "0.4"}},
    )
    kilt = sizes(BODY, taper=Taper.MAN, settings=ours)
    assert [kilt.lap, kilt.rise, kilt.flare] == [1, 3, 2]
    assert kilt.level(LevelName.TOP).round == Fraction(73, 2)
    assert kilt.level(LevelName.HIP).under_apron == Fraction(81, 5)


@given(bodies, st.sampled_from(Taper), shares, shares, inches(0, 2), inches(0, 1))
def test_aprons_and_pleats_close_exactly_round_the_body(
    body: Body, taper: Taper, share_waist: Fraction, share_hips: Fraction, lap: Fraction, opening: Fraction
) -> None:
    try:
        kilt = sized(
            body,
            taper,
            lap=lap,
            opening_above_strap=opening,
            share_waist=share_waist,
            share_hips=share_hips,
        )
    except InputError:
        # only a woman's line may close below the top edge, or a fell reach past a child's short drop
        assert taper is Taper.WOMAN or body.fell_drop is None
        return
    for level in kilt.levels:
        assert level.under_apron + level.pleated == level.round
        assert level.over_apron - level.under_apron == lap
        assert level.over_outer - level.pleat_side == lap
        assert min(level.pleated, level.under_apron, level.over_outer) > 0
    assert all(upper.below_top < lower.below_top for upper, lower in pairwise(kilt.levels))
    strap, mid, hip = (kilt.level(name) for name in FELL_LEVELS[1:])
    assert mid.pleated == (strap.pleated + hip.pleated) / 2
    assert mid.below_top - strap.below_top == hip.below_top - mid.below_top
    assert kilt.greatest_pleated == max(kilt.level(name).pleated for name in FELL_LEVELS)
    assert kilt.outer_over_greatest == kilt.pleat_side_greatest + lap
    assert kilt.outer_under_greatest == kilt.pleat_side_greatest


def test_measures_that_are_nothing_are_all_told_at_once() -> None:
    problems = problems_of(
        Body(
            waist=Fraction(0),
            hips=Fraction(-1),
            drop=Fraction(22),
            fell_drop=Fraction(0),
            rise=Fraction(0),
            drop_back=Fraction(0),
        ),
        lap=Fraction(-1),
        share_hips=Fraction(9, 10),
    )
    wrong = {"waist", "hips", "fell_drop", "rise", "drop_back"}
    assert set(problems) == {f"wearer.{name}" for name in wrong} | {"kilt.lap", "kilt.share_hips"}
    assert problems["wearer.rise"].seen == '"0"'
    assert problems["kilt.share_hips"].allowed == "must lie between 1/5 and 4/5"


def test_a_fell_that_ends_below_the_bottom_edge_is_refused() -> None:
    problem = problems_of(replace(BODY, fell_drop=Fraction(22)))["wearer.fell_drop"]
    assert problem.allowed == "must be less than the drop, 22"
    assert "fullest seat" in problem.fix


def test_a_fell_must_end_above_the_shortest_drop() -> None:
    assert "wearer.fell_drop" in problems_of(replace(BODY, drop_side=Fraction(6)))


def test_a_rise_that_leaves_no_fell_is_refused() -> None:
    problem = problems_of(replace(BODY, fell_drop=None, drop=Fraction(4), rise=Fraction(3)))["wearer.rise"]
    assert "measure wearer.fell_drop" in problem.fix


def test_a_womans_line_that_closes_below_the_top_edge_is_refused() -> None:
    tapered = replace(BODY, waist=Fraction(20), hips=Fraction(60), fell_drop=Fraction(2))
    problem = problems_of(tapered, Taper.WOMAN)["wearer.rise"]
    assert "man's taper" in problem.fix


def test_a_lap_as_wide_as_the_apron_is_refused() -> None:
    assert problems_of(BODY, lap=Fraction(18))["kilt.lap"].allowed == "must be less than the apron, 18"
