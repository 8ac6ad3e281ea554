"""Altering: the least work that gives the new sizes, and never more cloth than there is."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench.alter import Alteration, Kilt, Verdict, Wanted, alter, kilt_of
from pleatwright.bench.closing.ranges import pleat_range
from pleatwright.errors import InputError
from pleatwright.layout import make_plan
from pleatwright.lengths import MILLIMETRE, Grid, Units
from pleatwright.order import read_order
from pleatwright.shop.kilt_file import new_kilt_text, read_kilt
from pleatwright.trade import default_settings, with_overrides
from pleatwright.wearer import draw_bodies

SHOP = default_settings()
EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def theirs(units: Units = "in") -> Kilt:
    return read_kilt(new_kilt_text(units)).kilt


def altered(kilt: Kilt, waist: object = None, hips: object = None, drop: object = None) -> Alteration:
    def length(value: object) -> Fraction | None:
        return None if value is None else Fraction(str(value))

    wanted = Wanted(length(waist), length(hips), length(drop))
    return alter(kilt, wanted, SHOP, units="in", grid=Grid.SIXTEENTH)


def names(made: Alteration) -> list[str]:
    return [step.name for step in made.steps]


def test_what_is_within_good_work_is_left_alone():
    made = altered(theirs(), "36.125", "41.4")
    assert (made.verdict, made.steps, made.hours) == (Verdict.AS_IT_IS, (), 0)
    assert made.after == made.before


@pytest.mark.parametrize("waist, hole", [("36.5", 4), ("37", 5), ("35.5", 2), ("35", 1)])
def test_half_an_inch_is_one_hole(waist: str, hole: int):
    made = altered(theirs(), waist)
    assert names(made) == ["another hole"]
    assert made.after.hole == hole
    assert made.hours == 0
    assert made.after.waist == Fraction(waist)


@pytest.mark.parametrize("waist, way", [("36.75", "forward"), ("35.25", "back")])
def test_between_two_holes_the_buckles_are_moved(waist: str, way: str):
    made = altered(theirs(), waist)
    assert names(made) == ["move the buckles"]
    assert f"Move the buckles {way} by 3/4" in made.steps[0].words
    assert made.after.waist == Fraction(waist)


def test_new_hips_always_move_the_aprons():
    made = altered(theirs(), "37", "42.5")
    assert names(made) == ["the over-apron's edges", "the under-apron's edges"]
    assert [made.after.waist, made.after.hips] == [37, Fraction("42.5")]
    assert made.after.over.hips == made.before.over.hips + 1
    assert made.after.under.waist == made.before.under.waist + 1


def test_what_the_aprons_cannot_give_comes_from_the_pleats():
    made = altered(theirs(), "40", "45.5")
    assert names(made) == ["sew the pleats again", "the over-apron's edges", "the under-apron's edges"]
    assert [made.after.waist, made.after.hips] == [40, Fraction("45.5")]
    assert made.hours > 16


def test_a_kilt_that_has_no_cloth_left_must_be_remade_and_says_why():
    made = altered(theirs(), "46", "50")
    assert made.verdict is Verdict.REMAKE
    assert made.after == made.before
    assert any("the waist would be let out by 10" in reason for reason in made.why)


def test_the_drop_comes_from_the_hem_first_then_from_the_straps():
    kilt = theirs()
    assert names(altered(kilt, drop="22.5")) == ["straps and buckles up"]
    assert names(altered(kilt, drop="21.5")) == ["straps and buckles down"]
    assert names(altered(kilt, drop="20")) == ["turn a hem up"]
    assert altered(kilt, drop="24").verdict is Verdict.REMAKE
    assert altered(kilt, drop="17").verdict is Verdict.REMAKE
    hemmed = alter(kilt, Wanted(drop=Fraction(20)), SHOP, units="in", grid=Grid.SIXTEENTH).after
    down = altered(hemmed, drop="22")
    assert names(down) == ["let the hem down"]
    assert [down.after.hem, down.after.drop] == [0, 22]


SIXTEENTHS = st.integers(-80, 80).map(lambda units: Fraction(units, 16))


@given(SIXTEENTHS, SIXTEENTHS, st.sampled_from(["in", "metric"]))
def test_an_alteration_neither_makes_nor_loses_cloth(waist: Fraction, hips: Fraction, units: Units):
    kilt = theirs(units)
    wanted = Wanted(kilt.waist + waist, kilt.hips + hips)
    made = alter(kilt, wanted, SHOP, units="in", grid=Grid.SIXTEENTH)
    after = made.after
    assert after.cloth == kilt.cloth
    if made.verdict is Verdict.REMAKE:
        assert made.why
        return
    good = SHOP.sewing.off_good
    assert abs(after.waist - kilt.waist - waist) <= good
    assert abs(after.hips - kilt.hips - hips) <= good
    for side, keep in ((after.over, SHOP.closing.deep_keep), (after.under, SHOP.closing.reverse_keep)):
        assert side.facing >= SHOP.closing.facing_keep
        resewn = 2 * SHOP.closing.resew_most  # re-sewing takes half a pleat's change from either end fold
        assert side.pleat >= keep - resewn
    assert min(after.depth_waist, after.depth_hips) >= SHOP.pleats.depth_least
    assert sum(step.hours for step in made.steps) == made.hours


@given(SIXTEENTHS)
def test_taking_in_and_letting_out_again_gives_the_same_kilt(change: Fraction):
    kilt = theirs()
    assert kilt.resewn(change, change).resewn(-change, -change) == kilt


def test_bodies_as_they_grow_stouter_need_ever_more_work():
    kilt = theirs()
    hours = [altered(kilt, kilt.waist + grown, kilt.hips + grown).hours for grown in (0, 1, 2, 3, 4, 5)]
    assert hours == sorted(hours)


@pytest.mark.parametrize("sex", ["man", "woman"])
def test_any_body_gets_an_answer(sex: str):
    kilt = theirs()
    verdicts = set()
    for body in draw_bodies(60, 7, "man" if sex == "man" else "woman"):
        made = altered(kilt, body.waist, body.hips + SHOP.wearer.ease_hips, body.drop)
        verdicts.add(made.verdict)
        assert bool(made.why) == (made.verdict is Verdict.REMAKE)
        assert made.after.cloth == kilt.cloth
    assert verdicts == {Verdict.ALTER, Verdict.REMAKE}


def test_a_kilt_of_ours_is_as_planned_and_unchanged_by_its_own_sizes():
    job = read_order((EXAMPLES / "demo.toml").read_text(encoding="utf-8"))
    kilt = kilt_of(job, make_plan(job.request).options[0])
    assert (kilt.waist, kilt.hips, kilt.drop) == (job.sizes.waist, job.sizes.hips, job.sizes.drop)
    same = alter(
        kilt,
        Wanted(kilt.waist, kilt.hips, kilt.drop),
        job.request.settings,
        units=job.units,
        grid=job.grid,
    )
    assert same.verdict is Verdict.AS_IT_IS


def test_a_fold_is_never_made_shallower_than_an_inch():
    deep = theirs()
    just = replace(deep, depth_waist=Fraction(17, 16), depth_hips=Fraction(17, 16))
    shallow = replace(deep, depth_waist=Fraction(1), depth_hips=Fraction(1))
    gives = [
        pleat_range(kilt, SHOP, Fraction(1, 16)).waist_out / kilt.pleats for kilt in (deep, just, shallow)
    ]
    assert gives == [Fraction(1, 8), Fraction(1, 8), 0]
    box = replace(just, layers=1)
    assert pleat_range(box, SHOP, Fraction(1, 16)).hips_out == box.pleats * Fraction(1, 16)


def test_a_cut_fold_gives_less_than_a_whole_one():
    text = new_kilt_text().replace('fold_left = "1"', 'fold_left = "1/2"')
    assert "1/2" in text
    narrow, whole = read_kilt(text).kilt, theirs()
    assert altered(whole, "40", "45.5").verdict is Verdict.ALTER
    assert altered(narrow, "40", "45.5").verdict is Verdict.REMAKE


def test_a_shops_own_limits_are_kept():
    shop = with_overrides(SHOP, {"closing": {"let_out_most": "1", "resew_most": "0"}})
    kilt = theirs()
    made = alter(kilt, Wanted(kilt.waist + 2, kilt.hips + 2), shop, units="in", grid=Grid.SIXTEENTH)
    assert made.verdict is Verdict.REMAKE


@pytest.mark.parametrize("wider", range(5, 40))
def test_what_is_told_of_an_edge_adds_up_to_the_whole(wider: int):
    kilt = theirs("metric")
    made = alter(
        kilt, Wanted(None, kilt.hips + wider * MILLIMETRE), SHOP, units="metric", grid=Grid.MILLIMETRE
    )
    assert len(made.steps) == 2
    for side, step in zip((kilt.over, kilt.under), made.steps, strict=True):
        needed = side.let_out(Fraction(0), wider * MILLIMETRE).allotted - side.allotted
        given = sum(int(told) for told in re.findall(r"gives (\d+) mm", step.words))
        assert given == round(needed / MILLIMETRE)


def test_the_start_file_is_valid_in_both_units_and_means_about_the_same_kilt():
    inches, metric = theirs(), theirs("metric")
    assert float(inches.waist) == pytest.approx(float(metric.waist), abs=0.1)
    assert float(inches.over.pleat) == pytest.approx(float(metric.over.pleat), abs=0.15)
    example = (EXAMPLES / "kilts" / "let-out.toml").read_text(encoding="utf-8")
    assert read_kilt(example).kilt == inches


def test_every_mistake_of_a_kilt_file_is_named():
    text = 'waist = "3x"\nhips = 40\n[over_apron]\nwaist = 3\nzz = 2\n[straps]\nholes = 3\nhole = 5\n'
    with pytest.raises(InputError) as caught:
        read_kilt(text, source="old.toml")
    fields = {problem.field for problem in caught.value.problems}
    assert fields >= {
        "old.toml: waist",
        "old.toml: over_apron.zz",
        "old.toml: over_apron.hips",
        "old.toml: under_apron",
        "old.toml: drop",
        "old.toml: pleats",
        "old.toml: straps.hole",
    }


def test_an_apron_wider_than_the_round_is_refused():
    text = new_kilt_text().replace('waist = "36"', 'waist = "17"')
    with pytest.raises(InputError) as caught:
        read_kilt(text)
    assert [problem.field for problem in caught.value.problems] == ["kilt.toml: under_apron.waist"]
