"""Reading and writing lengths."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError
from pleatwright.lengths import (
    Grid,
    exact_text,
    file_number,
    on_grid,
    parse_length,
    round_up_yards,
    spread,
    write_inches,
    write_length,
    write_metric,
    write_yards,
)

F = Fraction
MM = F(10, 254)
lengths = st.fractions(min_value=0, max_value=500, max_denominator=10_000)


@pytest.mark.parametrize(
    "text,inches",
    [
        ("25", F(25)),
        (" 8 3/8 ", F(67, 8)),
        ("8-3/8", F(67, 8)),
        ("8 - 3/8", F(67, 8)),
        ("8⅜", F(67, 8)),
        ("8 ⅜", F(67, 8)),
        ("8 3⁄8", F(67, 8)),
        ("⅓", F(1, 3)),
        ("3/4", F(3, 4)),
        ("9/8", F(9, 8)),
        ("8.375", F(67, 8)),
        (".5", F(1, 2)),
        ("8.", F(8)),
        ("21.3 cm", 213 * MM),
        ("21,3 cm", 213 * MM),
        ("213mm", 213 * MM),
        ("213 MM", 213 * MM),
        ("1.2 m", 1200 * MM),
        ("1 metre", 1000 * MM),
        ("8 yd", F(288)),
        ("8 1/4 yards", F(297)),
        ("½ yd", F(18)),
        ("2 ft", F(24)),
        ('8 3/8"', F(67, 8)),
        ("8″", F(8)),
        ("8''", F(8)),
        ("8 in", F(8)),
        ("8 in.", F(8)),
        ("8 inches", F(8)),
        ("5' 3\"", F(63)),
        ("5′3½″", F(127, 2)),
        ("5 ft 3 in", F(63)),
        ("2 yd 1 ft 3 in", F(87)),
    ],
)
def test_a_length_is_read_however_makers_write_it(text: str, inches: F) -> None:
    assert parse_length(text) == inches


@pytest.mark.parametrize(
    "number,inches",
    [
        (25, F(25)),
        (8.375, F(67, 8)),
        (0.1, F(1, 10)),
        (Decimal("8.3"), F(83, 10)),
        (F(1, 3), F(1, 3)),
        (0, F(0)),
    ],
)
def test_a_number_is_taken_exactly_as_it_is_written(number: int | float | Decimal | F, inches: F) -> None:
    assert parse_length(number) == inches


@pytest.mark.parametrize("value", [102, "102", "102,0", "102 cm", "1020 mm", Decimal("102")])
def test_a_bare_number_of_a_metric_maker_is_centimetres(value: str | int | Decimal) -> None:
    assert parse_length(value, unit="metric") == 1020 * MM


def test_a_written_unit_wins_over_the_makers_own() -> None:
    assert parse_length('40 1/2"', unit="metric") == F(81, 2)


@pytest.mark.parametrize(
    "value",
    [
        "", "  ", "4O", "l2", "forty", "8 3/8 x", "8..5", "8 3 8", "8 3/", "/8", "1e3", "nan", "inf", ".",
        "5' 3", "3 in 5 ft", "5 ft 5 ft", "1 m 2 cm", "1 ft 2 cm", "8 3/8 3/8", "8.5 3/8", "-", "--3", "8²",
        "٣", "1/0", "2 1/0", "8 8/8", "8,375", "1,234 mm", "99999999", "9" * 41,
        float("nan"), float("inf"), Decimal("NaN"), Decimal("1e999999"), Decimal("1e-999999"), 10**9,
        True, None, [8],
    ],
)  # fmt: skip
def test_what_is_not_a_length_is_refused_with_its_field_and_value(value: Any) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(value, field="wearer.hips")
    (problem,) = caught.value.problems
    assert problem.field == "wearer.hips"
    assert problem.seen == f'"{value}"'
    assert problem.fix.startswith("write ")


def test_the_message_carries_field_value_rule_and_fix() -> None:
    with pytest.raises(InputError) as caught:
        parse_length("4O", field="wearer.hips")
    assert str(caught.value) == 'wearer.hips: "4O" is not a length; write 40, 40 1/2 or 102 cm'


def test_a_doubtful_comma_is_answered_with_both_readings() -> None:
    with pytest.raises(InputError, match=r"write 1\.234 mm or 1234 mm"):
        parse_length("1,234 mm")


@pytest.mark.parametrize("value", ["-3", "−3", -3, Decimal("-3"), "-7 1/2"])
def test_a_negative_length_is_refused_unless_allowed(value: str | int | Decimal) -> None:
    with pytest.raises(InputError, match="negative"):
        parse_length(value)
    assert parse_length(value, allow_negative=True) in (F(-3), F(-15, 2))


@given(st.text(alphabet="0123456789 /.,-'\"⅜½inftcmyd″x", max_size=14))
def test_any_text_is_a_length_of_at_least_nothing_or_an_input_error(text: str) -> None:
    try:
        length = parse_length(text)
    except InputError:
        return
    assert length >= 0


@given(lengths, st.sampled_from([Grid.SIXTEENTH, Grid.THIRTYSECOND]))
def test_inches_written_on_the_tape_read_back_to_the_tape(value: F, grid: Grid) -> None:
    assert parse_length(write_inches(value, grid)) == on_grid(value, grid)
    assert write_length(value, "in", grid) == write_inches(value, grid)


@given(lengths, st.sampled_from([F(1), F(1, 2), F(1, 10)]))
def test_millimetres_written_read_back_within_half_a_step(value: F, step: F) -> None:
    back = parse_length(write_metric(value, step))
    assert abs(back - value) <= step * MM / 2
    assert back % (step * MM) == 0


@given(st.fractions(min_value=-100, max_value=100, max_denominator=999))
def test_the_exact_text_reads_back_exactly(value: F) -> None:
    assert parse_length(exact_text(value), allow_negative=True) == value


@given(lengths, st.sampled_from(Grid))
def test_no_grid_point_is_nearer_than_the_one_chosen(value: F, grid: Grid) -> None:
    point = on_grid(value, grid)
    assert point % grid.step == 0
    assert abs(point - value) <= grid.step / 2


def test_a_length_halfway_goes_to_the_even_step() -> None:
    assert on_grid(F(1, 32), Grid.SIXTEENTH) == 0
    assert on_grid(F(3, 32), Grid.SIXTEENTH) == F(1, 8)
    assert on_grid(0.53, Grid.MILLIMETRE) == 13 * MM


@given(st.integers(0, 5000), st.integers(1, 80))
def test_spreading_keeps_the_sum_and_two_neighbouring_sizes(units: int, parts: int) -> None:
    sizes = spread(units, parts)
    assert len(sizes) == parts
    assert sum(sizes) == units
    assert set(sizes) <= {units // parts, -(-units // parts)}
    for upto in range(parts + 1):  # no rounding adds up along the way
        assert abs(sum(sizes[:upto]) - F(units * upto, parts)) <= F(1, 2)
    if parts % 2:
        assert sizes == sizes[::-1]


def test_a_half_unit_is_rounded_up() -> None:
    assert spread(1, 2) == (1, 0)
    assert spread(3, 2) == (2, 1)
    assert spread(328, 27)[:4] == (12, 12, 12, 13)


def test_spreading_over_no_parts_is_refused() -> None:
    with pytest.raises(ValueError, match="0 parts"):
        spread(4, 0)


@pytest.mark.parametrize(
    "value,units,grid,written",
    [
        (F(67, 8), "in", None, '8 3/8"'),
        (F(3, 4), "in", None, '3/4"'),
        (F(8), "in", Grid.MILLIMETRE, '8"'),
        (F(1, 32), "in", Grid.THIRTYSECOND, '1/32"'),
        (F(-67, 8), "in", None, '-8 3/8"'),
        (0.0, "in", None, '0"'),
        (213 * MM, "metric", None, "213 mm"),
        (1000 * MM, "metric", Grid.THIRTYSECOND, "1000 mm"),
    ],
)
def test_lengths_are_written_as_the_tape_reads(
    value: F | float, units: Literal["in", "metric"], grid: Grid | None, written: str
) -> None:
    assert write_length(value, units, grid) == written


def test_half_millimetres_are_written_when_asked_for() -> None:
    assert write_metric(F(427, 2) * MM, 0.5) == "213.5 mm"


def test_cloth_is_written_in_yards_or_metres() -> None:
    assert write_yards(F(261), "in") == "7.25 yd"
    assert write_yards(F(261), "metric") == "6.63 m"


@given(lengths, st.sampled_from([("in", F(9)), ("metric", 100 * MM)]))
def test_cloth_to_buy_is_never_less_and_never_a_step_more(
    value: F, units: tuple[Literal["in", "metric"], F]
) -> None:
    name, step = units
    bought = round_up_yards(value, name)
    assert bought % step == 0
    assert value <= bought < value + step


def test_file_numbers_have_six_decimals_with_halves_to_even() -> None:
    assert file_number(F(1, 3)) == 0.333333
    assert file_number(F(5, 10**7)) == 0.0
    assert file_number(F(15, 10**7)) == 0.000002
    assert str(file_number(-1e-9)) == "0.0"
