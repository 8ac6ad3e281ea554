"""What a kilt costs, to the cent."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from io import BytesIO

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench.quote import Priced, to_cents, total, with_margin
from pleatwright.sheets import write_pdf
from pleatwright.sheets.pages.measuring_form import ASKED, measuring_form
from pleatwright.sheets.pages.quote_page import QuoteLetter, quote_pages

CENTS = st.decimals("0", "5000", places=2)
LINES = st.lists(st.builds(Priced, st.just("cloth"), CENTS, st.just("yd"), CENTS), min_size=1, max_size=8)
PER_CENT = st.decimals("0", "100", places=2)


def priced(what: str, quantity: str, price: str) -> Priced:
    return Priced(what, Decimal(quantity), "", Decimal(price))


def test_margin_lies_on_the_lines_and_tax_on_both():
    lines = (priced("cloth", "8.25", "62"), priced("making", "20", "30"))
    sums = total(lines, margin=Decimal(10), tax=Decimal(20), deposit=Decimal(50))
    assert sums.lines == Decimal("1111.50")
    assert sums.margin == Decimal("111.15")
    assert sums.tax == Decimal("244.53")
    assert sums.total == Decimal("1467.18")
    assert sums.deposit == Decimal("733.59")


@given(LINES, PER_CENT, PER_CENT)
def test_the_parts_of_a_quote_add_up_to_its_total(lines, margin, tax):
    sums = total(lines, margin=margin, tax=tax, deposit=Decimal(50))
    assert sums.lines + sums.margin + sums.tax == sums.total
    assert sums.lines == sum((line.amount for line in lines), Decimal(0))


@given(LINES, PER_CENT)
def test_what_the_client_is_told_adds_up_with_the_margin_in_the_prices(lines, margin):
    sums = total(lines, margin=margin, tax=Decimal(0), deposit=Decimal(0))
    told = [with_margin(line, margin) for line in lines]
    assert sum(line.amount for line in told) == sums.lines + sums.margin
    for line in told:
        assert line.price == to_cents(line.price)
        assert line.amount == to_cents(line.price * line.quantity)


def test_a_price_with_its_margin_times_the_hours_is_the_amount():
    line = with_margin(priced("making", "18.5", "35.55"), Decimal("12.5"))
    assert (line.price, line.amount) == (Decimal("39.99"), Decimal("739.82"))
    sums = total(
        [priced("making", "18.5", "35.55")], margin=Decimal("12.5"), tax=Decimal(0), deposit=Decimal(0)
    )
    assert sums.total == Decimal("739.82")


def letter(client: str = "Wilfred Ashgrove", currency: str = "£", hour: str = "30") -> QuoteLetter:
    lines = (priced("Cloth", "8.25", "62"), priced("=Making", "20", hour))
    sums = total(lines, margin=Decimal(10), tax=Decimal(20), deposit=Decimal(50))
    told = tuple(with_margin(line, Decimal(10)) for line in lines)
    return QuoteLetter(
        "Harebell Lane Kilts", client, "24-001", ("A kilt in Mallowbeck.",), told, sums, currency,
        Decimal(20), Decimal(50), date(2031, 5, 4), date(2031, 6, 3), "Cloth takes six weeks.", "A4",
    )  # fmt: skip


def test_the_letter_says_what_is_to_be_paid_and_not_the_margin():
    with pdfplumber.open(BytesIO(write_pdf(quote_pages(letter())))) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for words in ("£1,467.18", "£733.59", "£1,222.65", "Tax, 20 per cent", "3 June 2031", "Wilfred Ashgrove"):
        assert words in text
    assert "111.15" not in text


@pytest.mark.parametrize("hour, whole", [("45", "USD 1,863.18"), ("9999999.99", "USD 264,000,674.94")])
def test_an_amount_of_any_size_stands_on_one_line(hour, whole):
    with pdfplumber.open(BytesIO(write_pdf(quote_pages(letter(currency="USD", hour=hour))))) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
        for page in pdf.pages:
            assert all(char["x0"] >= 0 and char["x1"] <= page.width for char in page.chars)
    assert f"In all {whole}" in text


def test_a_long_name_stays_on_the_paper():
    with pdfplumber.open(BytesIO(write_pdf(quote_pages(letter("Wilfred " * 25))))) as pdf:
        for page in pdf.pages:
            assert all(char["x0"] >= 0 and char["x1"] <= page.width for char in page.chars)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("units", ["in", "metric"])
def test_the_measuring_form_is_one_page_that_names_every_measurement(paper, units):
    with pdfplumber.open(BytesIO(write_pdf(measuring_form("Harebell Lane Kilts", units, paper)))) as pdf:
        assert len(pdf.pages) == 1
        text = pdf.pages[0].extract_text()
    assert all(name in text for _, name, _ in ASKED)
    assert ("centimetres" if units == "metric" else "inches") in text
