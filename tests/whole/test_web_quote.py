"""Quotes through the app's own forms: what is written is what the client is told, to the cent."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal

import pytest
from pypdf import PdfReader

from pleatwright.shop.store import Quote
from tests.whole.visitors import MEASURES, TARTAN, found, said

PARTS = ("quantity", "unit", "price")
LINE = {"line.0.what": "Making", "line.0.quantity": "18.5", "line.0.unit": "hours", "line.0.price": "35.55"}


def quoted(maker, order, status=200, **fields):
    return maker.post(f"{order}/quote", status, **{**LINE, "currency": "USD", **fields})


def test_a_letter_says_a_price_that_times_the_quantity_is_the_amount(maker, store):
    order = maker.order()
    quoted(maker, order, margin="12.5")
    assert store.quotes(1)[0].total == Decimal("739.82")
    letter = PdfReader(io.BytesIO(maker.get(f"{order}/quotes/1.pdf").content)).pages[0].extract_text()
    assert "USD 39.99" in letter
    assert "USD 739.82" in letter


def test_a_price_that_may_be_two_prices_is_asked_about(maker, store):
    order = maker.order()
    page = said(quoted(maker, order, 422, **{"line.0.price": "1,200"}))
    assert '"1,200" may be 1.20 or 1,200.00 write 1.20 or 1200' in page
    assert store.quotes(1) == ()
    quoted(maker, order, **{"line.0.quantity": "1", "line.0.price": "1,200.00"})
    assert store.quotes(1)[0].total == Decimal(1200)


@pytest.mark.parametrize("name", ["line.0.price", "line.0.quantity", "margin", "tax"])
@pytest.mark.parametrize("digits", [9, 15, 4000])
def test_a_huge_amount_is_refused_at_its_field(maker, store, name, digits):
    order = maker.order()
    text = "9" * digits
    if (name, digits) == ("line.0.price", 9):
        quoted(
            maker, order, **{"line.0.price": text, "line.0.quantity": "9999", "margin": "999", "tax": "999"}
        )
        assert maker.get(f"{order}/quotes/1.pdf").content.startswith(b"%PDF")
        return
    answer = quoted(maker, order, 422, **{name: text})
    assert "is more than" in said(answer)
    assert found(answer.text, rf'id="({name.replace(".", "-")}-wrong-1)"')
    assert store.quotes(1) == ()


@pytest.mark.parametrize(
    "left_out, fix",
    [
        ("what", "write what it is for, or empty its quantity and price too"),
        ("quantity", "write how many, 1 for one"),
        ("price", "write the price of one, or 0"),
    ],
)
def test_a_line_that_is_begun_is_never_dropped_or_free_in_silence(maker, store, left_out, fix):
    order = maker.order()
    second = {name.replace(".0.", ".1."): text for name, text in LINE.items()}
    answer = quoted(maker, order, 422, **{**second, f"line.1.{left_out}": ""})
    assert f"nothing is given {fix}" in said(answer)
    assert found(answer.text, rf'id="(line-1-{left_out}-wrong-1)"')
    assert store.quotes(1) == ()


def test_rows_that_no_page_has_are_not_shown_either(maker):
    order = maker.order()
    page = quoted(maker, order, 422, **{"line.99999999999.what": "x", "line.x.what": "y", "tax": "no"}).text
    assert page.count('class="grid quote-line"') == 3


def test_a_quote_that_is_drawn_up_is_written_back_into_its_fields_as_it_is_read(maker, store):
    order = maker.order()
    quoted(maker, order, **{"line.0.quantity": "8.125", "tax": "8.875"})
    page = maker.get(f"{order}/quote").text
    sent = {
        name: found(page, rf'name="{name}" type="text" value="([^"]*)"')
        for name in (*LINE, "margin", "tax", "currency")
    }
    maker.post(f"{order}/quotes/1", version=1, state="sent")
    maker.post(f"{order}/quote", **sent)
    one, other = store.quotes(1)
    assert isinstance(one, Quote)
    assert one.total == other.total


def cloth_line(maker, order):
    """Quantity and unit of the cloth in a fresh quote, and its price."""
    page = maker.get(f"{order}/quote").text
    return tuple(found(page, rf'name="line.0.{part}" type="text" value="([^"]*)"') for part in PARTS)


def uncut(maker):
    """An order whose cloth has not been bought."""
    order = maker.order()
    lengths = {name: f"{text} in" for name, text in MEASURES.items() if name.startswith("wearer.")}
    maker.save(f"{order}/measures", {**MEASURES, **lengths, "wearer.kind": "man"})
    maker.save(f"{order}/tartan", {**TARTAN, "tartan.sett.measured": "65 in"})
    return order


@pytest.mark.parametrize("option, yards, most", [(1, "6.75", "6.55"), (5, "4.25", "4.20")])
def test_a_quote_is_for_the_cloth_of_the_kilt_that_was_taken(maker, option, yards, most):
    order = uncut(maker)
    maker.save(f"{order}/options", {"wishes.styles[]": "", "option": str(option)})
    assert cloth_line(maker, order)[:2] == (yards, "yd")
    page = said(maker.get(f"{order}/quote")).replace("\N{NO-BREAK SPACE}", " ")
    assert f"the kilt takes at most {most} yd" in page
    assert f"single width {yards} yd" in page
    packet = PdfReader(io.BytesIO(maker.get(f"{order}/print/packet.pdf").content))
    ordered = next(text for one in packet.pages if "Cloth to order" in (text := one.extract_text()))
    assert f"{yards} yd" in ordered.replace("\N{NO-BREAK SPACE}", " ")


def test_an_orders_own_units_count_and_the_price_follows_them(maker):
    maker.save("/shop", {"prices.cloth": "65"})
    order = uncut(maker)
    quantity, unit, price = cloth_line(maker, order)
    assert (unit, price) == ("yd", "65.00")
    maker.save("/shop", {"shop.units": "metric", "prices.cloth": "65"})
    assert cloth_line(maker, order) == (quantity, "yd", "65.00")
    maker.save("/shop", {"shop.units": "metric", "prices.cloth": "100"})
    assert cloth_line(maker, order) == (quantity, "yd", "91.44")
    assert cloth_line(maker, uncut(maker))[1:] == ("m", "100.00")


def test_a_form_that_is_sent_twice_makes_one_quote(maker, store):
    order = maker.order()
    with ThreadPoolExecutor() as pool:
        list(pool.map(lambda _: quoted(maker, order), range(4)))
    assert len(store.quotes(1)) == 1
    quoted(maker, order, notes="as talked over")
    quoted(maker, order)
    assert len(store.quotes(1)) == 3
