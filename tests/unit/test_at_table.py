"""The marks as they are made at the table, the kilt laid again as the cloth is read, what is read aloud."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import isclose
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench import Step, TablePart, marks, spoken, table_steps
from pleatwright.cloth import Reading
from pleatwright.layout import Option, make_plan, relaid
from pleatwright.order import Job, read_order
from pleatwright.shop import plan_json
from pleatwright.shop.kept_plan import kept_option
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"
WITH_CLOTH = (
    "demo",
    "measured-piece",
    "double-width",
    "belly",
    "asymmetric",
    "womans-taper",
    "box-four-yards",
)


@cache
def planned(name: str) -> tuple[Job, tuple[Option, ...]]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text())
    return job, make_plan(job.request).options


def steps_of(name: str) -> tuple[Step, ...]:
    job, options = planned(name)
    return table_steps(job, options[0])


def read_again(job: Job, scale: float) -> Job:
    """The job with its piece read from the same left end, every sett `scale` times as large."""
    piece = job.request.piece
    assert piece is not None
    run = piece.run(job.request.tartan)
    threads = [run.thread_at(0.0) + on * run.sett.n for on in range(1, 40)]
    readings = tuple(Reading("a stripe", thread, run.tape_at(thread) * scale) for thread in threads)
    return replace(job, request=replace(job.request, piece=replace(piece, readings=readings)))


@pytest.mark.parametrize("name", WITH_CLOTH)
def test_a_kilt_laid_again_on_the_same_cloth_has_the_same_marks(name):
    job, options = planned(name)
    for option in options:
        again = relaid(option, job.request)
        assert marks(again, job.request) == marks(option, job.request)
        for figure in ("deep_pleat", "reverse_pleat", "cloth_used", "cloth_left"):
            assert isclose(getattr(again, figure), getattr(option, figure), abs_tol=1e-6)


@pytest.mark.parametrize("name", WITH_CLOTH)
def test_a_kept_plan_is_read_back_and_gives_the_same_marks(name):
    job, options = planned(name)
    record = plan_json(job, make_plan(job.request))
    for option in options:
        kept = kept_option(record, option.number)
        assert kept is not None
        assert marks(relaid(kept, job.request), job.request) == marks(option, job.request)


def test_a_plan_without_that_option_has_none_and_other_text_is_refused():
    job, _ = planned("demo")
    record = plan_json(job, make_plan(job.request))
    assert kept_option(record, 99) is None
    with pytest.raises(ValueError, match="no plan"):
        kept_option('{"options": "none"}')
    with pytest.raises(ValueError, match="no "):
        kept_option(record.replace('"pleats"', '"folds"'))


@given(st.floats(0.99, 1.01))
def test_every_pleat_and_apron_stays_on_its_stripe_when_the_cloth_is_read(scale):
    job, options = planned("demo")
    again = read_again(job, scale)
    for option in options[:3]:
        moved = relaid(option, again.request)
        assert moved.cloth is not None
        run = moved.cloth.run(job.request.tartan.weft)
        n = run.sett.n
        for before, after in zip(option.strips, moved.strips, strict=True):
            assert after.thread == before.thread
            assert isclose(run.thread_at(after.centre) % n, before.phase, abs_tol=1e-6)
        for kept, lain in ((option.over_apron, moved.over_apron), (option.under_apron, moved.under_apron)):
            assert lain.thread == kept.thread
            assert isclose(lain.right - lain.left, kept.right - kept.left)


@given(st.floats(0.99, 1.01))
def test_the_parts_of_a_kilt_laid_again_add_up_to_the_cloth_it_takes(scale):
    job, options = planned("demo")
    moved = relaid(options[0], read_again(job, scale).request)
    reveal = moved.level(LevelName.HIP).reveal
    pleats = moved.strips[-1].centre - moved.strips[0].centre + reveal
    aprons = moved.over_apron.allotted + moved.under_apron.allotted
    parts = aprons + moved.deep_pleat + pleats + moved.reverse_pleat
    assert isclose(parts, moved.under_apron.right - moved.over_apron.left, abs_tol=1e-6)


@pytest.mark.parametrize("name", WITH_CLOTH)
def test_the_table_holds_every_mark_once_and_in_working_order(name):
    job, options = planned(name)
    steps = steps_of(name)
    assert len({step.key for step in steps}) == len(steps)
    chalked = [step for step in steps if step.part is not TablePart.READINGS]
    assert sorted(step.number for step in chalked) == [mark.number for mark in marks(options[0], job.request)]
    order = list(TablePart)
    places = [order.index(step.part) for step in steps]
    assert places == sorted(places)
    assert order.index(TablePart.DEEP_PLEAT) > order.index(TablePart.OVER_APRON)  # common practice, no source


def test_the_first_screens_read_a_stripe_every_four_setts_to_the_far_end():
    job, _ = planned("demo")
    read = [step for step in steps_of("demo") if step.part is TablePart.READINGS]
    assert job.request.piece is not None
    size = float(job.request.sett_along)
    gaps = [float(after.tape - before.tape) for before, after in pairwise(read)]
    assert max(gaps) < 4.01 * size
    assert float(job.request.piece.length - read[-1].tape) < size


def test_what_was_read_already_is_not_asked_for_again():
    job, _ = planned("measured-piece")
    read = [step for step in steps_of("measured-piece") if step.part is TablePart.READINGS]
    assert len(read) == sum(taped.entries for taped in job.taped if taped.field == "piece.readings")


@pytest.mark.parametrize("name", WITH_CLOTH)
def test_the_stripes_drawn_are_those_of_the_cloth_and_the_mark_lies_among_them(name):
    job, options = planned(name)
    sett = job.request.tartan.weft
    assert options[0].cloth is not None
    run = options[0].cloth.run(sett)
    for step in steps_of(name):
        if step.across or not step.stripes or step.part is TablePart.READINGS:
            continue
        assert len(step.stripes) >= 3
        assert step.stripes[0].start <= 0.05
        assert step.stripes[-1].end >= -0.05
        for one in step.stripes:
            middle = float(step.tape) + (one.start + one.end) / 2
            if one.end - one.start > 0.2:  # the drawing is about the exact place, the figure is on the grid
                assert sett.colour_at(run.thread_at(middle)) == one.colour


def test_beyond_a_join_nothing_found_speaks_for_the_piece_as_it_was_read():
    _, options = planned("double-width")
    assert options[0].cloth is not None
    assert options[0].cloth.join is not None
    seam = options[0].cloth.join.tape
    for step in steps_of("double-width"):
        if step.landmark is not None and step.part is not TablePart.READINGS:
            assert float(step.landmark.at) <= seam + 1 / 32


@pytest.mark.parametrize(
    "written, said",
    [
        ('19 11/16"', "19 and 11 sixteenths inches"),
        ('1/2"', "1 half of an inch"),
        ('1"', "1 inch"),
        ('278 1/32"', "278 and 1 thirty-second inches"),
        ("1 mm", "1 millimetre"),
        ("501 mm up", "501 millimetres up"),
        ('repeat 3, then 3/8" to the left', "repeat 3, then 3 eighths of an inch to the left"),
    ],
)
def test_lengths_are_read_aloud_in_words(written, said):
    assert spoken(written) == said


def test_nothing_that_is_read_aloud_holds_a_slash():
    for name in WITH_CLOTH:
        for step in steps_of(name):
            assert not re.search(r'\d/\d|\d"', spoken(step.words)), step.words
