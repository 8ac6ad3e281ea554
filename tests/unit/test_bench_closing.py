"""Closing a kilt: what is reckoned agrees with marks, gauges and sizes, and nothing is lost on the way."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from pleatwright.bench import gauge_list, marks
from pleatwright.bench.care import care_card
from pleatwright.bench.closing import ApronName, Closing, Strap, closing, half_hours, write_hours
from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.straps import _buckle
from pleatwright.layout import Option, make_plan
from pleatwright.lengths import on_grid, write_length
from pleatwright.order import Job, read_order
from pleatwright.sheets.drawing import Text
from pleatwright.sheets.look import frame_of
from pleatwright.sheets.pages.measures_page import measures_sheets
from pleatwright.shop.record import as_json, schema_of
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def made(name: str = "demo", closing_settings: str = "", opens_on: str = "right") -> tuple[Job, Option]:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    text = text.replace('opens_on = "right"', f'opens_on = "{opens_on}"')
    if closing_settings:
        text += f"\n[settings.closing]\n{closing_settings}\n"
    job = read_order(text)
    return job, make_plan(job.request).options[0]


def closed(name: str = "demo", closing_settings: str = "", opens_on: str = "right") -> Closing:
    return closing(*made(name, closing_settings, opens_on))


NAMES = ("demo", "belly", "womans-taper", "child-hem", "box-four-yards", "double-width", "no-cloth-yet")


@pytest.mark.parametrize("name", NAMES)
def test_the_band_is_as_long_as_all_it_binds_and_lies_where_it_is_marked(name: str):
    job, option = made(name)
    band = closing(job, option).band
    top = job.sizes.level(LevelName.TOP)
    assert band.binds == top.over_apron + top.pleated + top.under_apron
    assert band.length == band.binds + job.request.settings.cloth.band_spare
    marked = [mark.tape for mark in marks(option, job.request) if mark.group == "top band"]
    assert [at for at in (band.tape_from, band.tape_mark, band.tape_to) if at is not None] == marked
    if marked:
        assert abs(marked[2] - marked[0]) == pytest.approx(float(band.length), abs=1 / 8)


@pytest.mark.parametrize("name", NAMES)
def test_every_hole_further_out_fits_a_greater_waist_and_the_chosen_one_the_wearers(name: str):
    job, option = made(name)
    for strap in closing(job, option).straps:
        assert all(a.waist < b.waist for a, b in pairwise(strap.holes))
        assert all(b.waist - a.waist == b.from_edge - a.from_edge for a, b in pairwise(strap.holes))
        assert strap.chosen.waist == job.body.waist
        assert strap.chosen.from_edge == strap.reach
        assert strap.holes[-1].from_end < strap.length


@pytest.mark.parametrize("name", NAMES)
def test_a_strap_reaches_exactly_from_its_apron_to_its_buckle(name: str):
    job, option = made(name)
    done = closing(job, option)
    for strap in done.straps:
        lap = job.sizes.lap if strap.apron is ApronName.OVER else 0
        assert strap.buckle.from_seam - lap == strap.reach


@pytest.mark.parametrize("name", NAMES)
def test_the_buckle_lies_on_the_pleat_that_is_named(name: str):
    job, option = made(name)
    shape = Shape.of(option, job.sizes)
    for strap in closing(job, option).straps:
        edges, buckle = shape.edges(strap.below_top), strap.buckle
        under = strap.apron is ApronName.UNDER
        at = buckle.from_seam if under else edges[-1] - buckle.from_seam
        assert edges[buckle.pleat - 1] <= at <= edges[buckle.pleat]
        near = at - edges[buckle.pleat - 1] if under else edges[buckle.pleat] - at
        assert near == buckle.from_pleat


def with_reveal(shape: Shape, reveal: Fraction) -> Shape:
    """The shape with every pleat as wide as this at every height, and no lap."""
    wide = reveal * (shape.pleats - 1 + shape.centre_face)
    levels = tuple(replace(level, pleated=wide) for level in shape.sizes.levels)
    return replace(shape, sizes=replace(shape.sizes, levels=levels, lap=Fraction(0)))


def test_a_buckle_between_two_pleats_is_said_to_lie_on_their_seam():
    shape = Shape.of(made()[1], made()[0].sizes)
    under, over = (strap for strap in closed().straps[:2])
    line, reach = under.below_top, under.reach
    for apart, said in (
        (0, "on the seam of pleats 4 and 5"),
        (Fraction(1, 64), "on the seam of pleats 4 and 5"),
    ):
        for way in (1, -1):
            wide = with_reveal(shape, (reach + way * apart) / 4)
            first = _buckle(ApronName.UNDER, reach, line, wide, made()[0].request, inside=False)
            assert said in first.words
            assert "near edge" not in first.words
            last = _buckle(ApronName.OVER, reach, line, wide, made()[0].request, inside=False)
            assert f"on the seam of pleats {shape.pleats - 4} and {shape.pleats - 3}" in last.words
    assert "near edge" in (under.buckle.words + over.buckle.words)


@pytest.mark.parametrize("units", ["in", "metric"])
def test_the_last_measures_lie_exactly_as_far_off_as_the_page_says(units: str):
    job = read_order((EXAMPLES / "womans-taper.toml").read_text(encoding="utf-8"), units=units)
    option = make_plan(job.request).options[0]
    sewing, step = job.request.settings.sewing, job.grid.step
    good, most = (on_grid(off, job.grid) for off in (sewing.off_good, sewing.off_most))
    intro = " ".join(
        item.text
        for sheet in measures_sheets(job, option, frame_of(job))
        for item in sheet.items
        if isinstance(item, Text)
    )
    for off in (good, most):
        assert write_length(off, job.units, job.grid) in intro
    near = [one for one in closing(job, option).measures if one.good_least != one.least]
    assert len(near) > 10
    for one in near:
        assert (one.wanted / step).denominator == 1
        assert (one.wanted - one.least, one.most - one.wanted) == (most, most)
        assert (one.wanted - one.good_least, one.good_most - one.wanted) == (good, good)


def test_the_strap_hole_lies_at_the_first_gauge_and_is_longer_than_the_strap_is_wide():
    job, option = made()
    done = closing(job, option)
    hole, strap = done.strap_hole, done.straps[0]
    assert hole is not None
    assert hole.from_seam == gauge_list(option, job.request).rows[0].strap
    assert hole.length == strap.width + job.request.settings.closing.strap_hole_longer
    assert hole.top_below + hole.bottom_below == 2 * strap.below_top


def test_a_buckle_stays_clear_of_the_hole_on_wide_panels():
    job, option = made("box-four-yards")
    done = closing(job, option)
    assert done.strap_hole is not None
    clear = done.straps[0].buckle.from_seam - done.strap_hole.from_seam
    assert clear >= job.request.settings.closing.buckle_clear


def test_hips_change_places_when_the_kilt_opens_on_the_left():
    right, left = closed(), closed(opens_on="left")
    assert [strap.hip for strap in right.straps] == ["left", "right"]
    assert [strap.hip for strap in left.straps] == ["right", "left"]
    assert "left hip" in right.straps[0].words
    assert "right hip" in left.straps[0].words
    card = care_card(made(opens_on="left")[0], left)
    assert card.advice[0].lines[0].startswith("First the strap at your right hip")


def test_a_strap_inside_needs_no_hole():
    done = closed(closing_settings='under_strap = "inside"')
    assert done.strap_hole is None
    assert done.straps[0].inside
    assert not done.straps[0].through_hole


def test_a_third_strap_lies_lower_down_and_the_interfacing_backs_it():
    done = closed(closing_settings="straps = 3")
    third = done.straps[2]
    assert third.apron is ApronName.OVER
    assert third.below_top > done.straps[1].below_top + third.width
    over = next(panel for panel in done.inside.interfacing if panel.name == "over-apron")
    assert over.height > third.below_top + third.width / 2


def test_folds_are_cut_above_the_hip_line_only_and_leave_a_seam():
    job, option = made()
    folds = closing(job, option).inside.folds
    settings = job.request.settings.closing
    assert folds.cut_below_top == job.sizes.fell - settings.fold_cut_clear
    assert len(folds.folds) == option.pleats - 1
    for cut in folds.folds:
        assert cut.out_top <= 2 * (cut.depth_strap - float(settings.fold_left)) + 1e-9
        assert option.level(LevelName.HIP).depth_least - 1e-9 <= cut.depth_hip
        assert cut.depth_hip <= option.level(LevelName.HIP).depth_greatest + 1e-9
    tall = float(folds.cut_below_top)
    widest = sum(max(cut.out_top, cut.out_bottom) for cut in folds.folds)
    least = sum(min(cut.out_top, cut.out_bottom) for cut in folds.folds)
    assert least * tall - 1e-6 <= folds.area <= widest * tall + 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_depths_of_the_folds_are_those_of_the_plan(name: str):
    job, option = made(name)
    cuts = closing(job, option).inside.folds.folds
    for level, depths in (
        (LevelName.STRAP, [cut.depth_strap for cut in cuts]),
        (LevelName.HIP, [cut.depth_hip for cut in cuts]),
    ):
        planned = option.level(level)
        assert min(depths) == pytest.approx(planned.depth_least, abs=1e-6)
        assert max(depths) == pytest.approx(planned.depth_greatest, abs=1e-6)


@pytest.mark.parametrize(
    "name, settings", [("child-hem", ""), ("demo", 'let_out_later = "yes"')], ids=["child", "marked"]
)
def test_a_kilt_that_will_be_let_out_keeps_its_folds_whole(name: str, settings: str):
    done = closed(name, settings)
    folds = done.inside.folds
    assert folds.kept
    assert folds.area == 0
    assert all(cut.kept and not cut.out_top + cut.out_bottom for cut in folds.folds)
    assert done.weight.cut_out == 0


def test_the_fold_that_hides_a_seam_is_never_cut():
    job, option = made("double-width")
    join = None if option.cloth is None else option.cloth.join
    cuts = closing(job, option).inside.folds.folds
    kept = [cut.after for cut in cuts if cut.kept]
    assert join is not None
    pairs = [
        (a.number, sorted((a.centre, b.centre)))
        for a, b in pairwise(option.strips)
        if min(a.centre, b.centre) < join.tape < max(a.centre, b.centre)
    ]
    assert kept == [number for number, _ in pairs]


@pytest.mark.parametrize("name", NAMES)
def test_stabiliser_and_lining_cover_the_pleats_they_lie_on(name: str):
    job, option = made(name)
    inside = closing(job, option).inside
    shape = Shape.of(option, job.sizes)
    strip = inside.stabiliser
    for height in (strip.top_below, strip.top_below + strip.height):
        assert strip.width_top - 2 * strip.turning >= shape.pleated(height) - Fraction(1, 16)
    if not inside.folds.kept:
        assert strip.top_below + strip.height == inside.folds.cut_below_top
    deepest = max(panel.height for panel in inside.interfacing)
    assert all(panel.height - panel.turning > deepest for panel in inside.lining)


@pytest.mark.parametrize("name", NAMES)
def test_the_last_measures_are_those_of_the_plan_and_lie_within_their_bounds(name: str):
    job, option = made(name)
    measures = closing(job, option).measures
    for one in measures:
        assert one.least <= one.good_least <= one.wanted <= one.good_most <= one.most
    wanted = {one.what: one.wanted for one in measures}
    assert wanted["waist"] == job.sizes.waist
    assert wanted["hips"] == job.sizes.hips
    assert wanted["in front"] == job.body.drop + job.sizes.rise
    aprons = wanted["under-apron at the hip line"] + wanted["pleats at the hip line"]
    assert aprons == wanted["hips"]


def test_a_slower_maker_takes_longer_over_every_stage():
    job, option = made()
    text = (EXAMPLES / "demo.toml").read_text(encoding="utf-8")
    slow = read_order(text + "\n[settings.sewing]\npace_pleats_an_hour = 2.5\n")
    stages = zip(closing(slow, option).work.stages, closing(job, option).work.stages, strict=True)
    # both are told on the half hour, a quarter off at most
    assert all(abs(slowly.hours - 2 * usual.hours) <= 0.75 for slowly, usual in stages)
    assert closing(slow, option).work.hours == pytest.approx(2 * closing(job, option).work.hours, rel=0.1)


@pytest.mark.parametrize(
    "hours, told", [(2.24, 2), (2.25, 2.5), (2.75, 3), (18.25, 18.5), (5.4, 5.5), (0, 0)]
)
def test_hours_are_told_on_the_half_hour_a_quarter_rounded_up(hours: float, told: float):
    assert half_hours(hours) == told
    assert write_hours(hours) == f"{told:g} hours"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("pace", ["5", "4.3", "2.7"])
def test_the_hours_that_are_shown_add_up_to_the_hours_in_all(name: str, pace: str):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    job = read_order(text + f"\n[settings.sewing]\npace_pleats_an_hour = {pace}\n")
    work = closing(job, made(name)[1]).work
    assert sum(float(f"{stage.hours:.1f}") for stage in work.stages) == work.hours
    assert all(stage.hours * 2 == int(stage.hours * 2) for stage in work.stages)


@pytest.mark.parametrize("name", NAMES)
def test_everything_can_be_written_into_a_record(name: str):
    described: dict[str, object] = {}
    schema_of(Closing, described)
    assert "Strap" in described
    record = as_json(closed(name))
    assert isinstance(record, dict)
    assert record["opens_on"] == made(name)[1].opens_on


def test_metric_figures_are_whole_millimetres():
    text = (EXAMPLES / "demo.toml").read_text(encoding="utf-8")
    job = read_order(text, units="metric")
    done = closing(job, make_plan(job.request).options[0])

    def whole(strap: Strap) -> bool:
        lengths = [strap.reach, strap.sewn, strap.length, *(hole.from_edge for hole in strap.holes)]
        return all((length / job.grid.step).denominator == 1 for length in lengths)

    assert all(whole(strap) for strap in done.straps)
    assert (done.inside.stabiliser.width_top / job.grid.step).denominator == 1
