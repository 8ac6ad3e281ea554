"""How near a kilt is likely to end, reckoned before it is sewn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import erf, sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench.risk import Ends, ends, in_100, reaches, risk, risk_rows
from pleatwright.layout import Option, make_plan
from pleatwright.lengths import Grid
from pleatwright.order import Job, read_order
from pleatwright.sheets.drawing import Text
from pleatwright.sheets.look import frame_of
from pleatwright.sheets.pages.risk_block import risk_block
from pleatwright.trade import SewingSettings, default_settings

SEWING = default_settings().sewing
EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str) -> tuple[Job, Option]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), source=f"{name}.toml")
    return job, make_plan(job.request).options[0]


def hand(bias: Fraction | int, scatter: Fraction | int) -> SewingSettings:
    return replace(SEWING, bias=Fraction(bias), scatter=Fraction(scatter))


def test_an_unmeasured_end_adds_every_pleats_bias_and_the_root_of_its_scatter() -> None:
    # [derived]: sqrt(27² / 64² + 27 / 32²)
    made = ends(27, 0, SEWING, Grid.SIXTEENTH)
    assert made.sd == pytest.approx(sqrt(27**2 / 64**2 + 27 / 32**2))
    assert made.over_most == pytest.approx(1 - erf(0.25 / made.sd / sqrt(2)))
    assert made.left == 27
    assert made.readings == 0


def test_hips_and_waist_go_wrong_independently() -> None:
    made = ends(27, 9, SEWING, Grid.SIXTEENTH)
    assert made.either_good == pytest.approx(1 - (1 - made.over_good) ** 2)
    assert made.either_most == pytest.approx(1 - (1 - made.over_most) ** 2)


def test_the_end_is_what_is_unknown_after_the_last_reading_and_half_a_steps_rounding() -> None:
    # one reading of 10 pleats, 10 more to sew, by hand: conditional variance of a normal pair [derived]
    bias, scatter, step = 1 / 64, 1 / 32, 1 / 32
    seen = 100 * bias**2 + 10 * scatter**2 + step**2 / 12
    both = 200 * bias**2 + 10 * scatter**2
    all_told = 400 * bias**2 + 20 * scatter**2
    wanted = all_told - both**2 / seen + step**2 / 12
    free = replace(SEWING, change_most=Fraction(2), neighbours_most=Fraction(2))  # nothing is out of reach
    assert ends(20, 10, free, Grid.THIRTYSECOND).sd == pytest.approx(sqrt(wanted))


def test_the_last_pleat_can_take_up_only_a_step_more_or_less() -> None:
    steps = {far / (1 / 16) for far in reaches(1, 4, SEWING, Grid.SIXTEENTH)}
    assert steps <= {0.0, 1.0, 2.0}
    assert 1.0 in steps
    # measured once before the last pleat nearly all of the error stays
    late, never = ends(27, 26, SEWING, Grid.SIXTEENTH), ends(27, 0, SEWING, Grid.SIXTEENTH)
    assert 0.8 * never.sd < late.sd < never.sd


@given(
    pleats=st.integers(6, 45),
    every=st.integers(0, 44),
    grid=st.sampled_from(Grid),
    bias=st.fractions(0, Fraction(1, 16), max_denominator=256),
    scatter=st.fractions(0, Fraction(1, 8), max_denominator=256),
)
def test_chances_are_chances_and_good_is_harder_than_enough(
    pleats: int, every: int, grid: Grid, bias: Fraction, scatter: Fraction
) -> None:
    made = ends(pleats, every, hand(bias, scatter), grid)
    assert 0 <= made.over_most <= made.over_good <= 1 + 1e-9
    assert made.over_good <= made.either_good + 1e-9 <= 1 + 2e-9
    assert made.over_most <= made.either_most + 1e-9
    assert made.sd >= 0


@given(pleats=st.integers(12, 45), every=st.integers(1, 6), grid=st.sampled_from(Grid))
def test_measuring_every_few_pleats_always_ends_nearer_than_never(
    pleats: int, every: int, grid: Grid
) -> None:
    log, never = ends(pleats, every, SEWING, grid), ends(pleats, 0, SEWING, grid)
    assert log.sd < never.sd / 2
    assert log.over_most < never.over_most / 10


def test_a_hand_without_errors_ends_on_the_mark() -> None:
    exact = hand(0, 0)
    assert ends(27, 0, exact, Grid.SIXTEENTH) == Ends(0, 0, 27, 0.0, 0.0, 0.0, 0.0, 0.0)
    assert ends(27, 4, exact, Grid.SIXTEENTH).over_most == 0


def test_the_widest_interval_is_the_last_before_the_chance_is_too_great() -> None:
    job, option = planned("demo")
    made = risk(option, job.request)
    sewing = job.request.settings.sewing

    def chance(every: int) -> float:
        return ends(option.pleats, every, sewing, Grid.SIXTEENTH).either_most

    assert made.widest == 8
    assert all(chance(every) < 0.05 for every in range(1, made.widest + 1))
    assert chance(made.widest + 1) >= 0.05


def test_the_risk_in_a_makers_words() -> None:
    job, option = planned("demo")
    assert option.pleats == 27
    made = risk(option, job.request)
    assert made.words == (
        'At a usual hand, 58 in 100 such kilts end more than 1/4" off at the hip line, and as many at the '
        "strap line, unless measured while sewing.",
        "Measured every 4 pleats, and the rest re-spread each time: under 1 in 100. Then 91 in 100 end "
        'within 1/8" at hips and waist, instead of 5 in 100.',
        'Measure at least every 8 pleats: that keeps the chance of ending more than 1/4" off at hips or '
        "waist under 5 in 100. The last measurement counts most: take it with about three pleats to go.",
    )


def test_a_metric_maker_reads_millimetres() -> None:
    job, option = planned("asymmetric")
    said = " ".join(risk(option, job.request).words)
    assert "6 mm" in said
    assert '"' not in said


def of_hand(bias: Fraction | int, scatter: Fraction | int) -> tuple[int, str]:
    job, option = planned("demo")
    settings = replace(job.request.settings, sewing=hand(bias, scatter))
    made = risk(option, replace(job.request, settings=settings))
    return made.widest, made.words[-1]


def test_a_hand_too_uneven_is_told_to_sew_a_sample() -> None:
    widest, said = of_hand(Fraction(1, 8), Fraction(1, 4))
    assert widest == 0
    assert "sample" in said


def test_an_even_hand_needs_no_measuring() -> None:
    widest, said = of_hand(Fraction(1, 512), Fraction(1, 128))
    assert widest == 26
    assert "only as a check" in said


def test_the_wanted_interval_stands_among_those_compared() -> None:
    job, option = planned("demo")
    made = risk(option, job.request, 7)
    assert made.measured.every == 7
    assert made.measured in made.ladder
    assert [row[0] for row in risk_rows(made)][:2] == ["never", "every 12 pleats"]
    assert [one.every for one in made.ladder] == [2, 3, 4, 6, 7, 8, 12]


@pytest.mark.parametrize(
    "chance, said",
    [(0.0004, "under 1 in 100"), (0.58, "58 in 100"), (0.01, "1 in 100"), (0.9999, "over 99 in 100")],
)
def test_a_chance_is_never_told_as_none_or_all(chance: float, said: str) -> None:
    assert in_100(chance) == said


def test_the_block_for_a_page_tells_words_and_table_within_its_width() -> None:
    job, option = planned("demo")
    width = frame_of(job).width
    block = risk_block(job, option, width)
    texts = [item for item in block.items if isinstance(item, Text)]
    said = " ".join(item.text for item in texts)
    assert "58 in 100" in said
    row = next(item.y for item in texts if item.text == "every 4 pleats")
    assert [item.text for item in texts if item.y == row] == ["every 4 pleats", "3", "95", "91", "over 99"]
    assert all(0 <= item.x <= width for item in texts)
