"""A quote that was drawn up says for good what it said then."""

from __future__ import annotations

import io

from pypdf import PdfReader

from pleatwright.shop.store import State, forget_client
from tests.whole.visitors import MEASURES

SHOP = {"shop.name": "Harebell Lane Kilts", "prices.deposit": "40"}
QUOTE = {
    "line.0.what": "Making",
    "line.0.quantity": "20",
    "line.0.price": "30",
    "tax": "20",
    "currency": "£",
    "notes": "as talked over",
}


def letter(maker, order: str, number: int = 1) -> str:
    content = maker.get(f"{order}/quotes/{number}.pdf").content
    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)


def test_a_quote_that_was_drawn_up_does_not_change(maker):
    maker.save("/shop", SHOP)
    order = maker.planned()
    maker.post(f"{order}/quote", **QUOTE)
    before = letter(maker, order)
    assert "Harebell Lane Kilts" in before
    assert "£288.00 are asked for as a deposit" in before
    assert 'waist 36"' in before.replace("\N{NO-BREAK SPACE}", " ")
    maker.save("/shop", {"shop.name": "Other Lane", "prices.deposit": "10", "shop.units": "metric"})
    maker.save(f"{order}/measures", {**MEASURES, "wearer.waist": "40", "client.reference": "other"})
    maker.save(f"{order}/options", {"wishes.styles[]": "box to the sett", "option": "1"})
    assert letter(maker, order) == before
    maker.post(f"{order}/quote", **QUOTE)
    assert "Other Lane" in letter(maker, order, 2)


def test_a_forgotten_clients_quote_holds_no_measurement(maker, store):
    order = maker.planned()
    maker.post(f"{order}/quote", **QUOTE)
    assert 'waist 36"' in store.quotes(1)[0].letter[0].kilt
    store.move(1, State.CALLED_OFF)
    forget_client(store, 1)
    assert store.quotes(1)[0].letter == ()
