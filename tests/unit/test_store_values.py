"""What the store keeps, before it is kept: as JSON and back, what it refuses, which way an order goes."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.errors import InputError
from pleatwright.shop.store import (
    MOVES,
    OPEN,
    Client,
    MarkEntry,
    Measurements,
    OrderCard,
    Quote,
    QuoteLine,
    State,
    Taken,
    may_move,
)
from pleatwright.shop.store.packing import hints_of, pack, unpack
from pleatwright.shop.store.rows import keepable
from pleatwright.shop.store.tables import SEARCHED, TABLES

DAY = date(2031, 5, 4)


@settings(max_examples=60)
@given(st.sampled_from(list(TABLES)).flatmap(st.from_type))
def test_every_value_comes_back_from_its_json_as_it_was(value: Any):
    if "NaN" not in repr(value):  # which equals nothing, not even itself
        assert unpack(type(value), pack(value)) == value


@pytest.mark.parametrize(
    "data",
    [
        {"name": "waist", "first": "x", "second": None, "end_points": ""},
        {"name": "waist", "first": "1/0", "second": None, "end_points": ""},
        {"name": "waist", "first": 34, "second": None, "end_points": ""},
        {"name": "waist", "first": "34", "second": None},
        {"name": "waist", "first": "34", "second": None, "end_points": "", "more": 1},
        [],
    ],
)
def test_json_that_is_no_value_is_refused(data: Any):
    with pytest.raises(ValueError):  # noqa: PT011  # whatever is wrong with it, it is one kind of error
        unpack(Taken, data)


def test_a_word_that_no_state_has_is_refused():
    with pytest.raises(ValueError, match="asleep"):
        unpack(State, "asleep")


def test_every_field_has_its_column():
    for kind, table in TABLES.items():
        assert set(table.columns.keys()) - {"folded"} == set(hints_of(kind))
        assert ("folded" in table.columns) == (kind in SEARCHED)


def test_the_second_taking_is_held_against_the_first():
    assert Taken("waist", Fraction(34), Fraction(271, 8)).difference == Fraction(-1, 8)
    assert Taken("waist", Fraction(34)).difference is None


@pytest.mark.parametrize(
    "value, field",
    [
        (Client("Rowan\0"), "client.name"),
        (Client("Rowan", notes="\ud800"), "client.notes"),
        (OrderCard(2**31), "order.client"),
        (OrderCard(1, plan=-(2**31) - 1), "order.plan"),
        (Measurements(1, DAY, taken=(Taken("waist\0", Fraction(34)),)), "measurements.taken, entry 1.name"),
        (Quote(1, DAY, "€", margin=Decimal("NaN")), "quote.margin"),
        (
            Quote(1, DAY, "€", (QuoteLine("cloth", Decimal("Infinity"), "yd", Decimal(1)),)),
            "quote.lines, entry 1.quantity",
        ),
        (MarkEntry(1, "abc", "pleat 1", note="\0"), "mark.note"),
    ],
)  # fmt: skip
def test_what_no_database_keeps_is_refused_by_its_field(value: Any, field: str):
    with pytest.raises(InputError) as refused:
        keepable(value)
    assert [problem.field for problem in refused.value.problems] == [field]


def test_every_state_can_be_reached_and_the_rip_comes_after_the_check_alone():
    assert set(MOVES) == set(State)
    assert {goal for goals in MOVES.values() for goal in goals} == set(State)
    assert [state for state in State if State.RIPPED in MOVES[state]] == [State.CHECKED]
    assert [state for state in State if State.CHECKED in MOVES[state]] == [State.CHALKED]


def test_what_is_ripped_does_not_go_back_on_the_bolt():
    reached, ahead = set[State](), [State.RIPPED]
    while ahead:
        state = ahead.pop()
        goals = [goal for goal in MOVES[state] if goal not in reached and goal is not State.CALLED_OFF]
        reached.update(goals)
        ahead += goals
    assert reached == {State.SEWING, State.FITTING, State.FINISHED, State.COLLECTED}


def test_an_alteration_needs_no_rip():
    assert State.SEWING in may_move("alteration", State.MEASURED)
    assert State.SEWING not in may_move("kilt", State.MEASURED)
    assert may_move("alteration", State.SEWING) == may_move("kilt", State.SEWING)


def test_what_is_collected_or_called_off_wants_no_more_work():
    assert set(State) - set(OPEN) == {State.COLLECTED, State.CALLED_OFF}
