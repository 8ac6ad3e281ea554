"""Amounts as makers of several countries write them; what may be two amounts is taken for neither."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError, Problem
from pleatwright.web.house import read_prices
from pleatwright.web.money import MONEY, PER_CENT, QUANTITY, Sort, read_amount


def refusal(text: str, sort: Sort) -> Problem:
    with pytest.raises(InputError) as refused:
        read_amount(text, "price", sort)
    return refused.value.problems[0]


@pytest.mark.parametrize(
    "text, value",
    [
        ("120", "120"),
        ("120.5", "120.50"),
        ("120,50", "120.50"),
        (",5", "0.50"),
        ("1200", "1200"),
        ("1,200.50", "1200.50"),
        ("1.200,50", "1200.50"),
        ("1 200,50", "1200.50"),
        ("1\N{NO-BREAK SPACE}200", "1200"),
        ("1’200", "1200"),
        ("1,200,000", "1200000"),
        ("0", "0"),
    ],
)
def test_an_amount_of_money_is_read_as_it_is_meant(text, value):
    assert read_amount(text, "price", MONEY) == Decimal(value)


@pytest.mark.parametrize("text", ["1,200", "1.200"])
def test_a_mark_before_three_digits_is_asked_about_with_both_readings(text):
    problem = refusal(text, MONEY)
    assert problem.allowed == "may be 1.20 or 1,200.00"
    assert problem.fix == "write 1.20 or 1200"


def test_a_quantity_with_a_comma_before_three_digits_is_asked_about_too():
    assert refusal("1,200", QUANTITY).fix == "write 1.200 or 1200"
    assert read_amount("8.125", "quantity", QUANTITY) == Decimal("8.125")


def test_a_tax_in_thousandths_of_a_per_cent_is_kept_whole():
    assert read_amount("8.875", "tax", PER_CENT) == read_amount("8,875", "tax", PER_CENT) == Decimal("8.875")


@pytest.mark.parametrize(
    "text",
    ["", "-5", "1e5", "NaN", "12,34.50", "1,20,000", "1,200,00", "£120", "0,1,2", "٣", "1.2.3", "1 2"],
)
def test_what_is_no_amount_is_refused(text):
    assert refusal(text, MONEY).allowed == "is not an amount"


@pytest.mark.parametrize(
    "text, sort",
    [("1000000000", MONEY), ("9" * 5000, MONEY), ("10000", QUANTITY), ("999999999", PER_CENT)],
)
def test_a_huge_amount_is_refused_at_its_field(text, sort):
    problem = refusal(text, sort)
    assert problem.allowed.startswith("is more than ")
    assert len(problem.seen) < 60


def test_a_part_of_a_cent_is_refused_and_never_rounded_away():
    assert refusal("35.5555", MONEY) == Problem(
        "price", '"35.5555"', "has more than 2 decimals", "write 35.56"
    )
    assert refusal("0.125", MONEY).fix == "write 0.13"


@given(st.decimals("0", "999999999.99", places=2))
def test_an_amount_as_the_pages_write_it_is_read_back(value):
    assert read_amount(f"{value:,.2f}", "price", MONEY) == value
    assert read_amount(f"{value}", "price", MONEY) == value


def test_the_shops_prices_are_read_as_its_page_took_them():
    prices = read_prices({"cloth": "62,50", "hour": "1,200.00", "tax": "8.875", "lining": "1,200"})
    assert (prices.cloth, prices.hour, prices.tax) == (Decimal("62.5"), Decimal(1200), Decimal("8.875"))
    assert prices.lining == 0
