"""The guide's steps: complete for every form, every number the plan's own, the maker's order kept."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from pleatwright.bench import CAUTIONS, Part, regions
from pleatwright.bench.check_expected import expected_of
from pleatwright.bench.gauges import gauge_list
from pleatwright.bench.guide import Drawn, Kilt, Step, begin_of, card_rows, fold_depths, guide, steps_of
from pleatwright.layout import Option, Plan, make_plan
from pleatwright.lengths import parse_length, write_length
from pleatwright.order import Job, read_order
from pleatwright.pleats import Form
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
LENGTH = re.compile(r'\d+ \d+/\d+"|\d+/\d+"|\d+"|\d+ mm')
CLOTH = (
    Drawn.PIECE,
    Drawn.READING,
    Drawn.LEVELS,
    Drawn.APRON_MARKS,
    Drawn.BAND_MARK,
    Drawn.PLEAT_MARKS,
    Drawn.FAR_MARKS,
    Drawn.CHECK,
    Drawn.RIP,
)
FOLDS = (Drawn.FRINGE, Drawn.APRONS, Drawn.DEEP_PLEAT, Drawn.PLEAT_FOLD, Drawn.BASTED)
SEWN = (Drawn.STRAP_HOLE, Drawn.FELL, Drawn.WHOLE_FELL)
ENDS = (Drawn.REVERSE_PLEAT, Drawn.UNDER_APRON, Drawn.FOLDS_CUT, Drawn.INTERFACING, Drawn.STRAPS, Drawn.BAND)
LAST = (Drawn.FITTING, Drawn.PRESSING, Drawn.MEASURING)


@cache
def planned(name: str, units: str | None = None) -> tuple[Job, Plan]:
    """An example's plan; after a colon, another height of the selvedge's stripe."""
    name, _, selvedge = name.partition(":")
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    if selvedge:
        text = text.replace('stripe = "W6", distance = "3"', f'stripe = "W6", distance = "{selvedge}"')
    job = read_order(text, units=units)
    return job, make_plan(job.request)


def steps(name: str, number: int = 1, *, units: str | None = None, **changes: object) -> tuple[Step, ...]:
    job, plan = planned(name, units)
    return guide(replace(job, **changes), plan.options[number - 1])  # type: ignore[arg-type]  # a job's fields


def drawn(made: tuple[Step, ...]) -> tuple[Drawn, ...]:
    return tuple(step.drawing for step in made)


def said(made: tuple[Step, ...]) -> str:
    return "\n".join(text for step in made for text in (step.title, *step.do))


def options_of_every_form() -> list[tuple[str, int]]:
    found = [(name, 1) for name in NAMES]
    _, plan = planned("demo")
    found += [("demo", option.number) for option in plan.options if option.form is not Form.KNIFE]
    return found


@pytest.mark.parametrize("name, number", options_of_every_form())
def test_every_form_has_a_whole_guide_in_the_order_of_the_bench(name: str, number: int) -> None:
    job, plan = planned(name)
    option = plan.options[number - 1]
    made = steps(name, number)
    joined = option.cloth is not None and option.cloth.join is not None
    wanted = (
        *CLOTH,
        *((Drawn.JOIN,) if joined else ()),
        *FOLDS,
        Drawn.GAUGE,
        Drawn.APRON_SEAM,
        *SEWN,
        *ENDS,
        Drawn.LINING,
        *((Drawn.HEM,) if job.sizes.hem else ()),
        *LAST,
    )
    assert drawn(made) == wanted
    assert [step.number for step in made] == list(range(1, len(made) + 1))
    for step in made:
        assert step.do
        assert step.tools
        assert step.proof.what
        assert step.proof.wanted
        assert step.proof.allowed


def test_a_maker_who_sews_the_pleats_first_sews_the_over_apron_after_the_whole_fell() -> None:
    made = drawn(steps("demo", sewn_first="pleats"))
    assert made.index(Drawn.APRON_SEAM) == made.index(Drawn.WHOLE_FELL) + 1
    assert made.index(Drawn.GAUGE) + 1 == made.index(Drawn.STRAP_HOLE)


def test_a_left_handed_maker_begins_with_the_last_pleat_and_comes_to_the_strap_hole_at_the_end() -> None:
    made = drawn(steps("demo", hand="left"))
    at = made.index(Drawn.LAST_SEAM)
    assert made[at : at + 4] == (Drawn.LAST_SEAM, Drawn.FELL, Drawn.STRAP_HOLE, Drawn.WHOLE_FELL)
    text = said(steps("demo", hand="left"))
    assert "its top edge to your right" in text
    assert "left to right" in text
    assert "right to left" not in text


def test_the_beginning_may_be_chosen_against_the_hand() -> None:
    job, plan = planned("demo")
    assert begin_of(job) == "first"
    assert Drawn.LAST_SEAM in drawn(guide(job, plan.options[0], "last"))
    assert Drawn.LAST_SEAM not in drawn(guide(replace(job, hand="left"), plan.options[0], "first"))


def test_a_kilt_that_opens_on_the_left_is_told_in_the_mirror() -> None:
    left, right = said(steps("womans-taper")), said(steps("demo"))
    assert "the fold points to your left" in left
    assert "Begin at the right end" in left
    assert "the fold points to your right" in right
    assert "Begin at the left end" in right
    assert "under-apron to the right hip" in left
    assert "under-apron to the left hip" in right


def test_boxes_are_panels_that_meet_and_knives_lie_over_one_another() -> None:
    box, knife = said(steps("box-four-yards")), said(steps("demo"))
    assert "7 panels" in said(steps("box-four-yards")) or "panel" in box
    assert "folds of two neighbours meet" in box
    assert "lies over the next pleat" in knife
    assert "panel" not in knife


def test_a_belly_is_told_that_the_pleats_widen_upward() -> None:
    assert "widen upward" in said(steps("belly"))
    assert "widen upward" not in said(steps("demo"))


def test_a_childs_folds_stay_whole() -> None:
    text = said(steps("child-hem"))
    assert "Cut nothing out of the folds" in text
    assert "let down as the child grows" in text


def test_without_cloth_no_step_has_a_place_on_the_tape() -> None:
    made = steps("no-cloth-yet")
    assert not any(figure.name.startswith("mark ") for step in made for figure in step.figures)
    assert "The cloth has not come yet" in said(made)


def test_every_caution_stands_where_it_belongs() -> None:
    made = steps("demo")
    assert {text for step in made for text in step.cautions} == {caution.text for caution in CAUTIONS}
    by_drawing = {step.drawing: " ".join(step.cautions) for step in made}
    assert "wear a mask" in by_drawing[Drawn.RIP]
    assert "cannot be undone" in by_drawing[Drawn.RIP]
    assert "Shears closed" in by_drawing[Drawn.FOLDS_CUT]
    assert "needles and pins" in by_drawing[Drawn.STRAP_HOLE]
    assert "iron is hot" in by_drawing[Drawn.PRESSING]
    assert "naked flames" in by_drawing[Drawn.FITTING]


def _numbers(value: object) -> Iterator[Fraction | float]:
    """Every length that a value holds."""
    if isinstance(value, Fraction | float):
        yield value
    elif is_dataclass(value):
        for field in fields(value):
            yield from _numbers(getattr(value, field.name))
    elif isinstance(value, tuple):
        for one in value:
            yield from _numbers(one)


def _known(job: Job, option: Option) -> set[str]:
    """Every length of plan, marks, gauges, closing and settings, as it is written."""
    kilt = Kilt.of(job, option)
    piece, sizes, settings = job.request.piece, job.sizes, job.request.settings
    numbers: list[Fraction | float] = [
        *_numbers((job.body, sizes, kilt.gauges, kilt.marks, kilt.closing, settings, option.levels)),
        *_numbers((option.over_apron, option.under_apron)),
        *(value for row in kilt.rows for value in (row.hip_total, row.strap_total)),
        *fold_depths(kilt),
        *(part.width for part in regions(option, option.cloth_used)),
        *(abs(b.centre - a.centre) for a, b in zip(option.strips, option.strips[1:], strict=False)),
        *(kilt.cloth_in(part) / share for part in (Part.DEEP_PLEAT, Part.REVERSE_PLEAT) for share in (1, 2)),
        option.facing,
        option.cloth_used,
        option.strips[-1].centre - option.strips[0].centre,
        option.strips[0].centre - option.strips[-1].centre,
        sizes.total - sizes.hem,
        sizes.total - sizes.fell,
        sizes.total - sizes.fell - sizes.hem,
        float(sizes.pleat_side_greatest),
        job.request.sett_along,
        job.grid.step,
        option.levels[0].reveal / 2,
        kilt.closing.strap_hole.length if kilt.closing.strap_hole else 0.0,
    ]
    if piece is not None:
        numbers += [piece.length, piece.width]
        numbers += [place for fault in piece.faults for place in (fault.start, fault.end)]
    if option.cloth is not None and option.cloth.join is not None:
        join, expected = option.cloth.join, expected_of(job.request, option)
        numbers += [join.missed, join.hem, expected.repeat_over_seam, expected.needed]
        numbers += [sizes.total + Fraction(hem) for hem in (join.hem_first, join.hem_second)]
    return {kilt.write(number) for number in numbers}


ALLOWED = (
    "place of repeat",
    "centre of the first",
    "length along the selvedge",
    "length along each selvedge",
)
"""Checks along the tape: what they may be off grows with the way, so it is no number of the plan."""


@pytest.mark.parametrize("units", ["in", "metric"])
@pytest.mark.parametrize(
    "name", ["demo", "womans-taper", "double-width", "double-width:2", "double-width:4", "box-four-yards"]
)
def test_every_length_in_a_step_is_the_plans_own(name: str, units: str) -> None:
    job, plan = planned(name, units)
    known = _known(job, plan.options[0])
    for step in steps(name, units=units):
        texts = [figure.value for figure in step.figures if not figure.name.startswith("repeat ")]
        texts += [figure.name for figure in step.figures]
        texts += list(step.do)
        if not step.proof.what.startswith(ALLOWED):
            texts.append(step.proof.wanted)
        for text in texts:
            for length in LENGTH.findall(text):
                assert length in known, (step.title, text, length)


def step_of(made: tuple[Step, ...], drawing: Drawn) -> Step:
    return next(step for step in made if step.drawing is drawing)


@pytest.mark.parametrize("name", ["double-width", "double-width:2"])
def test_two_strips_are_measured_and_read_each_with_its_own_tape(name: str) -> None:
    job, plan = planned(name)
    option, made = plan.options[0], steps(name)
    piece, join, cloth = job.request.piece, option.join, option.cloth
    assert piece is not None
    assert join is not None
    assert cloth is not None
    along = float(piece.length)
    wanted = float(parse_length(step_of(made, Drawn.PIECE).proof.wanted))
    allowance = float(job.request.settings.cloth.seam_allowance)
    takes = max(join.first_cut + allowance, join.second_at + option.cloth_used - join.tape)
    assert wanted == pytest.approx(takes, abs=1 / 16)
    assert wanted <= along  # the joined length is far more
    places = {
        figure.name: float(parse_length(figure.value))
        for figure in step_of(made, Drawn.READING).figures
        if figure.name.startswith("repeat ")
    }
    assert all(0 <= place <= along for place in places.values())
    last = {
        strip: max(int(name.split()[1].rstrip(",")) for name in places if strip in name) for strip in STRIPS
    }
    run = cloth.run(job.request.tartan.weft)
    pivot = run.sett.mirror_centres[0]
    repeat = [run.tape_at(run.next_thread(0.0, pivot) + turn * run.sett.n) for turn in range(last["second"])]
    first = sum(place < join.tape for place in repeat)
    assert last == {"first": first, "second": len(repeat)}
    assert places["repeat 1, first strip"] == pytest.approx(repeat[0], abs=1 / 16)
    assert places[f"repeat {first}, first strip"] == pytest.approx(repeat[first - 1], abs=1 / 16)
    # the second strip as it lies at the other selvedge, from the end that will be its left one
    turned = piece.second_run(job.request.tartan)
    for number in (first + 1, len(repeat)):
        place = places[f"repeat {number}, second strip"]
        apart = (turned.thread_at(along - place) - pivot) / run.sett.n
        assert apart == pytest.approx(round(apart), abs=0.01)
        assert place - join.second_at == pytest.approx(repeat[number - 1] - join.tape, abs=1 / 16)


STRIPS = ("first", "second")


@pytest.mark.parametrize("name, hemmed", [("double-width:2", "second"), ("double-width:4", "first")])
def test_the_hem_of_one_strip_is_in_levels_rip_and_join(name: str, hemmed: str) -> None:
    job, _ = planned(name)
    total = job.sizes.total
    high = {strip: total + (2 if strip == hemmed else 0) for strip in STRIPS}
    made = steps(name)
    levels = {figure.name: figure.value for figure in step_of(made, Drawn.LEVELS).figures}
    assert f"The {hemmed} strip's horizontals lie 2\" higher" in said((step_of(made, Drawn.LEVELS),))
    for strip in STRIPS:
        assert levels[f"{strip} strip, top edge"] == write_length(high[strip], "in")
        up = high[strip] - job.sizes.level(LevelName.HIP).below_top
        assert levels[f"{strip} strip, hip line"] == write_length(up, "in")
    assert levels[f"{hemmed} strip, fold of the hem"] == '2"'
    rip = {figure.name: figure.value for figure in step_of(made, Drawn.RIP).figures}
    assert [rip[f"height of the {strip} strip"] for strip in STRIPS] == [
        write_length(high[strip], "in") for strip in STRIPS
    ]
    assert step_of(made, Drawn.RIP).proof.wanted == write_length(high["first"], "in")
    assert f"Fold the {hemmed} strip's selvedge up inside by 2\"" in said((step_of(made, Drawn.JOIN),))


def test_the_totals_on_the_way_are_the_gauges_added_up() -> None:
    job, plan = planned("demo")
    gauges = gauge_list(plan.options[0], job.request)
    figures = {
        figure.name: figure.value
        for step in steps("demo")
        for figure in step.figures
        if "after" in figure.name
    }
    assert figures["after pleat 4"] == '3" · 2 5/8"'
    for name, value in figures.items():
        done = int(name.removeprefix("after pleat "))
        kilt = Kilt.of(job, plan.options[0])
        hips = sum((row.hip for row in gauges.rows[:done]), Fraction(0))
        straps = sum((row.strap for row in gauges.rows[:done]), Fraction(0))
        assert value == f"{kilt.write(hips)} · {kilt.write(straps)}"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("every", [1, 3, 4, 50])
def test_the_card_ends_at_the_pleated_widths_from_either_end(name: str, every: int) -> None:
    job, plan = planned(name)
    gauges = gauge_list(plan.options[0], job.request)
    first, last = card_rows(gauges, "first", every), card_rows(gauges, "last", every)
    count = len(gauges.rows)
    for rows in (first, last):
        assert (rows[-1].hip_total, rows[-1].strap_total) == (gauges.hip_total, gauges.strap_total)
        assert [done for done, row in enumerate(rows, 1) if row.measure] == sorted(
            {*range(every, count + 1, every), count}
        )
    assert [row.pleat for row in first] == list(range(1, count + 1))
    assert [(row.pleat, row.hip, row.strap) for row in last] == [
        (row.pleat, row.hip, row.strap) for row in first[::-1]
    ]


def test_the_strap_hole_is_the_closings_and_an_inside_strap_has_none() -> None:
    job, plan = planned("demo")
    kilt = Kilt.of(job, plan.options[0])
    hole = kilt.closing.strap_hole
    assert hole is not None
    step = next(step for step in steps_of(kilt) if step.drawing is Drawn.STRAP_HOLE)
    assert kilt.write(hole.top_below) in [figure.value for figure in step.figures]
    settings = job.request.settings
    inside = replace(settings, closing=replace(settings.closing, under_strap="inside"))
    without = guide(replace(job, request=replace(job.request, settings=inside)), plan.options[0])
    seam = next(step for step in without if step.drawing is Drawn.STRAP_HOLE)
    assert "no hole" in " ".join(seam.do)
    assert "hole" not in seam.title
