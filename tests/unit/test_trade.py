"""The trade's defaults and a shop's settings."""

from __future__ import annotations

from dataclasses import asdict, fields
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Grid
from pleatwright.trade import Kind, Settings, default_settings, provenance, with_overrides

DEFAULTS = default_settings()
TAGS = {"public", "practice", "memory", "derived", "own"}


def problems_of(overrides: dict[str, object]) -> dict[str, Problem]:
    with pytest.raises(InputError) as caught:
        with_overrides(DEFAULTS, overrides)
    return {problem.field: problem for problem in caught.value.problems}


def test_every_setting_has_one_default_and_every_default_a_setting() -> None:
    settings = {f"{group.name}.{key}" for group in fields(Settings) for key in asdict(DEFAULTS)[group.name]}
    assert settings == set(provenance())


def test_every_default_has_the_type_its_kind_promises() -> None:
    types = {
        Kind.LENGTH: Fraction,
        Kind.SHARE: Fraction,
        Kind.NUMBER: float,
        Kind.COUNT: int,
        Kind.TEXT: str,
    }
    for name, default in provenance().items():
        assert type(default.value) is types[default.kind], name
        assert getattr(getattr(DEFAULTS, default.group), default.key) == default.value


def test_every_default_says_where_it_comes_from() -> None:
    for name, default in provenance().items():
        assert default.tag in TAGS, name
        assert len(default.why) > 20, name


def test_every_public_default_names_its_page_or_says_that_it_was_not_kept() -> None:
    for name, default in provenance().items():
        if default.tag == "public":
            assert "." in default.why.split(";")[-1] or "address not kept" in default.why, name


@pytest.mark.parametrize(
    "name, value",
    [
        ("wearer.ease_hips", Fraction(1, 2)),
        ("wearer.fell_share", Fraction(1, 3)),
        ("cloth.deep_pleat", Fraction(6)),
        ("pleats.reveal_most", Fraction(9, 8)),
        ("pleats.standard_pleats", 23),
        ("search.division_least", 0.8),
        ("weights.line", 12.0),
        ("bench.chalk_line", Fraction(1, 32)),
    ],
)
def test_a_default_keeps_its_value(name: str, value: object) -> None:
    assert provenance()[name].value == value


def test_the_usual_grid_is_one_the_tape_knows() -> None:
    assert Grid(DEFAULTS.bench.grid) is Grid.SIXTEENTH
    assert {Grid(word) for word in provenance()["bench.grid"].allowed} == set(Grid)


def test_a_shop_puts_in_its_own_values_and_keeps_the_rest() -> None:
    ours = with_overrides(
        DEFAULTS, {"wearer": {"ease_hips": "1", "share_waist": "0.55"}, "pleats": {"standard_pleats": 27}}
    )
    assert ours.wearer.ease_hips == 1
    assert ours.wearer.share_waist == Fraction(11, 20)
    assert ours.pleats.standard_pleats == 27
    assert ours.wearer.rise == DEFAULTS.wearer.rise
    assert ours.cloth is DEFAULTS.cloth
    assert DEFAULTS.wearer.ease_hips == Fraction(1, 2)


def test_overrides_build_on_the_settings_given() -> None:
    shop = with_overrides(DEFAULTS, {"cloth": {"facing": "2 1/2"}})
    order = with_overrides(shop, {"cloth": {"deep_pleat": 7}})
    assert [order.cloth.facing, order.cloth.deep_pleat] == [Fraction(5, 2), 7]


def test_a_bare_length_is_centimetres_for_a_metric_maker() -> None:
    ours = with_overrides(DEFAULTS, {"cloth": {"facing": 7.62, "deep_pleat": '6 1/4"'}}, unit="metric")
    assert [ours.cloth.facing, ours.cloth.deep_pleat] == [3, Fraction(25, 4)]


def test_all_mistakes_are_told_at_once_each_with_its_fix() -> None:
    problems = problems_of(
        {
            "pleat": {},
            "cloth": 3,
            "wearer": {"ease_hip": "1", "facing": 2, "lap": "4O", "rise": 0},
            "pleats": {"standard_pleats": 23.5, "lost_share": "most", "box_least": True},
            "bench": {"grid": "1/8"},
        }
    )
    assert problems["settings.pleat"].fix == "did you mean pleats?"
    assert problems["settings.cloth"].allowed == "is not a table of settings"
    assert problems["settings.wearer.ease_hip"].fix == "did you mean ease_hips?"
    assert problems["settings.wearer.facing"].fix == "it belongs under cloth"
    assert problems["settings.wearer.lap"].seen == '"4O"'
    assert problems["settings.wearer.rise"].allowed == "must be at least 1/4 inches"
    assert problems["settings.pleats.standard_pleats"].allowed == "is not a whole number"
    assert problems["settings.pleats.lost_share"].fix == "write it as 0.75"
    assert problems["settings.pleats.box_least"].allowed == "is not a whole number"
    assert problems["settings.bench.grid"].fix == 'write one of "1/16", "1/32", "mm"'
    assert len(problems) == 10


def test_a_name_like_no_other_is_answered_with_the_names_there_are() -> None:
    problem = problems_of({"bench": {"zzz": 1}})["settings.bench.zzz"]
    assert problem.fix == "known are chalk_line, chalk_line_mm, gauge_tolerance, gauge_tolerance_mm, grid"


@pytest.mark.parametrize("value", ["1/5", "4/5", 0, 1, "0.95", -0.5])
def test_a_share_outside_a_fifth_to_four_fifths_is_refused(value: object) -> None:
    allowed = problems_of({"wearer": {"share_hips": value}})["settings.wearer.share_hips"].allowed
    assert allowed == "must lie between 1/5 and 4/5"


@pytest.mark.parametrize(
    "value", ["1/0", "1e400000000", "", "half", float("nan"), float("inf"), None, [1], True]
)
def test_what_is_no_number_is_refused(value: object) -> None:
    for key in ("match", "line"):
        problem = problems_of({"weights": {key: value}})[f"settings.weights.{key}"]
        assert problem.allowed == "is not a number"


@pytest.mark.parametrize("value", [None, [1], True, {"in": 3}])
def test_what_is_no_length_is_refused(value: object) -> None:
    assert problems_of({"cloth": {"facing": value}})["settings.cloth.facing"].allowed == "is not a length"


@pytest.mark.parametrize(
    "group, key, value, allowed",
    [
        ("weights", "match", -1, "must be at least 0"),
        ("pleats", "lost_share", 1.5, "must be at most 1"),
        ("pleats", "standard_pleats", 0, "must be at least 1"),
        ("search", "setts_most", 13, "must be at most 12"),
        ("search", "division_least", "1.1", "must be at most 1"),
        ("search", "division_most", "0.9", "must be at least 1"),
    ],
)
def test_bounds_are_kept(group: str, key: str, value: object, allowed: str) -> None:
    assert problems_of({group: {key: value}})[f"settings.{group}.{key}"].allowed == allowed


@pytest.mark.parametrize(
    "pleats",
    [
        {"reveal_least": "1 1/4"},
        {"reveal_least": "1", "reveal_most": "7/8", "reveal_preferred": "7/8"},
        {"reveal_most": "5/16", "reveal_preferred": "1/4"},
    ],
)
def test_the_least_reveal_may_not_be_over_the_most(pleats: dict[str, object]) -> None:
    problem = problems_of({"pleats": pleats})["settings.pleats.reveal_least"]
    assert problem.allowed.startswith("must not be over reveal_most, which is ")


def test_a_least_and_a_most_may_be_moved_together() -> None:
    ours = with_overrides(DEFAULTS, {"pleats": {"box_least": 16, "box_most": 20}})
    assert [ours.pleats.box_least, ours.pleats.box_most] == [16, 20]


@given(st.sampled_from(sorted(provenance())))
def test_every_default_may_be_written_as_it_stands(name: str) -> None:
    default = provenance()[name]
    written = str(default.value) if isinstance(default.value, Fraction) else default.value
    assert with_overrides(DEFAULTS, {default.group: {default.key: written}}) == DEFAULTS


@given(
    st.dictionaries(
        st.sampled_from(["wearer", "pleats", "bench", "x"]),
        st.dictionaries(
            st.sampled_from(["rise", "share_hips", "box_most", "grid", "chalk_line_mm", "y"]),
            st.one_of(st.text(max_size=8), st.integers(), st.floats(), st.none(), st.booleans()),
        ),
    )
)
def test_any_table_gives_settings_or_an_input_error(overrides: dict[str, object]) -> None:
    problems: tuple[Problem, ...] = ()
    ours = None
    try:
        ours = with_overrides(DEFAULTS, overrides)
    except InputError as error:
        problems = error.problems
    assert isinstance(ours, Settings) != bool(problems)
    assert all(problem.fix and problem.field.startswith("settings.") for problem in problems)
