"""What cannot be done is told on the order's own pages, in the trade's words, with a way on."""

from __future__ import annotations

import re
from dataclasses import fields, replace

import pytest

from pleatwright.order import new_order_text
from pleatwright.shop.store import Client, ClothPiece, Measurements, OrderCard, Quote, TartanCard
from pleatwright.web.document import data_of, kept_text
from pleatwright.web.names import name_of
from tests.whole.visitors import CLOTH, EXAMPLES, MEASURES, TARTAN, assert_refused, found, said

DIGITS = "1234567890" * 40
BROKEN = '[wearer]\nwaist = "36'


@pytest.mark.parametrize("field", ["client.notes", "wearer.waist", "wearer.kind", "wearer.figure"])
def test_a_text_of_many_digits_never_locks_an_order(maker, store, field):
    order = maker.order()
    status = 200 if field in ("client.notes", "wearer.figure") else 422
    maker.save(f"{order}/measures", {**MEASURES, field: DIGITS}, status)
    assert DIGITS in store.get(OrderCard, 1).document
    for page in ("measures", "tartan", "cloth", "options"):
        maker.get(f"{order}/{page}")
    maker.save(f"{order}/measures", {**MEASURES, field: "man" if field == "wearer.kind" else "36"})


def test_what_could_not_be_read_again_is_not_kept(maker, store):
    order = maker.order()
    before = store.get(OrderCard, 1)
    long = {f"wearer.taken.{name}": "w" * 19_000 for name in ("waist", "hips", "drop", "total", "fell_drop")}
    page = said(maker.save(f"{order}/measures", {**MEASURES, **long, "client.notes": "n" * 19_000}, 422))
    assert "could not be read again, and is not kept" in page
    assert store.get(OrderCard, 1) == before


def test_an_order_that_cannot_be_read_opens_with_its_text_to_put_it_right(maker, store):
    order = maker.order()
    store.save(replace(store.get(OrderCard, 1), document=BROKEN))
    for page in ("tartan", "cloth"):
        answer = maker.get(f"{order}/{page}", 422)
        assert f'class="button main" href="{order}/measures"' in answer.text
    answer = maker.get(f"{order}/measures")
    assert "The order's text cannot be read" in said(answer)
    assert "waist = &#34;36" in answer.text
    version = found(answer.text, r'name="version" value="(\d+)"')
    again = maker.post(f"{order}/measures/text", 422, version=version, document='waist = "40')
    assert "waist = &#34;40" in again.text
    assert store.get(OrderCard, 1).document == BROKEN
    right = new_order_text()
    maker.post(f"{order}/measures/text", version=version, document=right)
    assert data_of(store.get(OrderCard, 1).document) == data_of(right)
    assert 'name="wearer.waist"' in maker.get(f"{order}/measures").text


@pytest.mark.parametrize("page", ["check", "sewing", "closing"])
def test_a_page_that_wants_a_kilt_first_says_so_among_the_orders_steps(maker, page):
    order = maker.order()
    answer = maker.get(f"{order}/{page}", 409)
    assert f'href="{order}/{page}" aria-current="page"' in answer.text
    assert f'class="button main" href="{order}/options"' in answer.text
    words = said(answer)
    assert "Something else comes first" in words
    assert "changed meanwhile" not in words
    assert "no kilt has been chosen yet. Choose one of the options first" in words
    asked = maker.web.get(f"{order}/{page}", headers={"accept": "application/json"})
    assert_refused(asked, 409, "plan")
    assert asked.json()["title"] == "Something else comes first"


def test_an_order_without_a_tartan_is_told_where_to_write_it(maker):
    order = maker.order()
    maker.save(f"{order}/measures", MEASURES)
    words = said(maker.get(f"{order}/options"))
    assert "Tartan nothing is given" in words
    assert "Write its thread count and the size of its sett on the page Tartan" in words
    assert ": Tartan" not in words
    assert "[tartan]" not in words.casefold()


def test_the_check_of_one_strip_says_nothing_of_two(maker):
    order = maker.planned()
    words = said(maker.get(f"{order}/check"))
    assert "A bare number is inches." in words
    assert "*" not in words
    assert "strips" not in words.partition("A bare number is inches.")[2][:60]


def test_the_check_of_two_strips_says_what_its_stars_mean(maker):
    maker.web.post(
        "/orders/new",
        data={"csrf": maker.csrf},
        files={"file": ("order.toml", (EXAMPLES / "double-width.toml").read_text(), "text/plain")},
    )
    maker.save("/orders/1/options", {"option": "1"})
    words = said(maker.get("/orders/1/check"))
    assert "Leave what is marked * empty until both strips are ripped" in words
    assert words.count("*") > 1


def test_no_page_breaks_a_length_over_two_lines(maker):
    order = maker.planned()
    maker.get(order)
    for page in ("measures", "cloth", "options", "plan", "check", "closing", "quote"):
        text = maker.get(f"{order}/{page}").text
        words = re.sub(r"<(?:option|textarea)\b[^>]*>[^<]*|<[^>]*>", "", text)
        assert not re.search(r"\d (?:\d+/\d|yd\b)", words), page
        assert "\N{NO-BREAK SPACE}" in words or page == "check", page
    assert 'value="6 1/2"' in maker.get(f"{order}/measures").text


def test_what_two_have_saved_is_told_in_the_trades_words(maker, store):
    order = maker.order()
    maker.save(f"{order}/measures", MEASURES)
    maker.save(f"{order}/tartan", TARTAN)
    version = store.get(OrderCard, 1).version
    maker.save(f"{order}/cloth", CLOTH)
    page = maker.post(f"{order}/measures", 409, **{**MEASURES, "wearer.waist": "37", "version": version})
    names = re.findall(r"<tr><td>([^<]*)</td>", page.text)
    assert names == ["Waist"]
    other = {**CLOTH, "piece.readings.0.at": "9 7/8", "piece.faults.0.kind": "knot", "version": version}
    names = re.findall(r"<tr><td>([^<]*)</td>", maker.post(f"{order}/cloth", 409, **other).text)
    assert names == ["Tape reading 1: tape", "Fault 1: what"]
    assert not [name for name in names if re.search(r"[._]", name)]


def test_every_field_of_every_page_and_of_all_that_is_kept_has_a_name(maker):
    order = maker.planned()
    shown = set()
    for page in ("measures", "tartan", "cloth", "options"):
        shown |= set(
            re.findall(
                r'name="((?:client|wearer|kilt|tartan|piece|wishes)\.[^"]+)"',
                maker.get(f"{order}/{page}").text,
            )
        )
    shown |= set(re.findall(r'name="((?:shop|settings|prices)\.[^"]+)"', maker.get("/shop").text))
    assert len(shown) > 60
    for kind in (Client, ClothPiece, Measurements, OrderCard, Quote, TartanCard):
        shown |= {each.name for each in fields(kind)} - {"id", "version"}
    raw = {name for name in shown if name_of(name.removesuffix("[]")) == name.removesuffix("[]")}
    assert raw == set()


def test_a_text_that_is_kept_reads_back_as_it_was():
    data = {
        "client": {"notes": f"{DIGITS} \"quoted\" 'too' \\ {DIGITS}\nand more"},
        "piece": {"readings": [{"at": DIGITS}]},
    }
    assert data_of(kept_text(data)) == data
