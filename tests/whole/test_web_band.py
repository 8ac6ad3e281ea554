"""Several kilts alike, from one bolt: another like this, and a length cut off for each."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from pleatwright.lengths import parse_length
from pleatwright.shop.store import ClothPiece, OrderCard, State
from pleatwright.web.bolt import parted
from pleatwright.web.document import data_of
from tests.whole.visitors import CLOTH, MEASURES, TARTAN, found, said

BOLT = {
    "name": "Mallowbeck, bolt 4",
    "piece.width": "29",
    "piece.length": "30 yd",
    "piece.arrival.invoiced": "30 yd",
    "piece.sett.measured": "65",
    "piece.sett.over": "10",
    "piece.left_end.stripe": "W4",
    "piece.left_end.then": "G28 K24",
    "piece.left_end.distance": "3 1/4",
    "notes": "from the mill's second beam",
}


def test_another_like_this_takes_tartan_and_wishes_over_and_no_measurement(maker, store):
    order = maker.planned()
    maker.save(f"{order}/measures", {**MEASURES, "kilt.opens_on": "left", "kilt.taper": "man"})
    page = maker.get(found(maker.get(order).text, r'href="(/orders/new\?like=1)"').replace("&amp;", "&"))
    assert "The wearer is measured anew" in said(page)
    sent = {"client.name": "Posy Larkrise", "wearer.kind": "woman"}
    like = found(page.text, r'name="like" value="(\d+)"')
    answer = maker.post("/orders/new", like=like, **sent)
    assert answer.url.path == "/orders/2/measures"
    first, second = (data_of(store.get(OrderCard, number).document) for number in (1, 2))
    assert second["wearer"] == {"kind": "woman"}
    assert second["client"]["name"] == "Posy Larkrise"
    assert second["kilt"] == {"opens_on": "left"}
    assert (second["wishes"], second["shop"]) == (first["wishes"], first["shop"])
    assert second["tartan"] == first["tartan"]
    assert "piece" not in second
    assert store.measurements(2) == ()


def test_a_length_is_cut_off_the_bolt_for_each_order(maker, store):
    maker.post("/cloth/new", **BOLT)
    first = maker.order()
    maker.save(f"{first}/measures", MEASURES)
    maker.save(f"{first}/tartan", TARTAN)
    page = maker.get(f"{first}/cloth")
    cut = maker.get(found(page.text, r'href="(/cloth/1\?order=1)#cut"'))
    assert "30.00 yd are left" in said(cut)
    length = found(cut.text, r'name="cut_length"[^>]*value="([^"]+)"')
    assert 6 < float(length.removesuffix(" yd")) < 9
    version = store.get(ClothPiece, 1).version
    there = maker.post("/cloth/1/cut", version=version, cut_length="8 1/2 yd", cut_for="1")
    assert there.url.path == "/orders/1/cloth"
    assert found(there.text, r'name="piece\.length"[^>]*value="([^"]+)"') == "306"
    assert found(there.text, r'name="piece\.left_end\.distance"[^>]*value="([^"]+)"') == "3 1/4"
    bolt, off = store.get(ClothPiece, 1), store.get(ClothPiece, 2)
    assert (bolt.length, bolt.order, bolt.state) == (30 * 36 - 306, None, "here")
    assert bolt.notes.endswith(f"8.50 yd cut off for {store.get(OrderCard, 1).reference}; 21.50 yd left")
    assert bolt.invoiced is None or bolt.invoiced == 30 * 36
    assert "left_end" not in data_of(bolt.document)["piece"]
    assert (off.length, off.order, off.came_from, off.width) == (306, 1, 1, 29)
    maker.save(f"{first}/cloth", {**CLOTH, "stock": "2"})
    maker.save(f"{first}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
    second = maker.order("Posy Larkrise")
    cloth = said(maker.get(f"{second}/cloth"))
    assert "Not offered: Mallowbeck, bolt 4" in cloth
    assert "whose kilt takes" in cloth
    assert "cut this kilt's length off: Mallowbeck, bolt 4, 21.50 yd" in cloth
    about = said(maker.get("/cloth/1"))
    assert "21.50 yd are left" in about
    assert "8.50 yd × 29" in about
    assert "whose kilt takes" in about


def test_no_more_is_cut_off_than_there_is_or_less_than_the_kilt_takes(maker, store):
    maker.post("/cloth/new", **BOLT)
    order = maker.planned()
    maker.save(f"{order}/cloth", {**CLOTH, "stock": "1"})
    maker.order("Posy Larkrise")

    def cut(**fields):
        return said(maker.post("/cloth/1/cut", 422, version=store.get(ClothPiece, 1).version, **fields))

    assert "is not less than what is left, 30.00 yd" in cut(cut_length="31 yd", cut_for="1")
    assert "is less than its kilt takes" in cut(cut_length="3 yd", cut_for="1")
    assert "whose marks count from its left end" in cut(cut_length="8 yd", cut_for="2")
    assert "nothing is given" in cut(cut_for="1")
    assert store.pieces() == (store.get(ClothPiece, 1),)
    maker.post("/cloth/1/cut", version=store.get(ClothPiece, 1).version, cut_length="9 yd", cut_for="1")
    maker.post("/cloth/1/cut", version=store.get(ClothPiece, 1).version, cut_length="9 yd", cut_for="2")
    assert [one.length for one in store.pieces(order=2)] == [324]
    assert store.get(ClothPiece, 1).length == 30 * 36 - 2 * 324
    assert store.get(OrderCard, 2).state is State.ASKED


def test_a_fault_lies_on_the_part_it_is_on_and_no_cloth_is_lost():
    table: dict[str, Any] = {
        "width": "29 in",
        "length": "30 yd",
        "readings": [{"stripe": "W4", "at": "9 in", "repeat": 2}, {"at": "400 in", "repeat": 61}],
        "faults": [
            {"kind": "knot", "from": "20 in", "to": "21 in"},
            {"kind": "stain", "from": "300 in", "to": "310 in"},
            {"kind": "hole", "from": "500 in", "to": "501 in"},
        ],
        "arrival": {"invoiced": "30 yd", "end_out": "1 in", "shade": "darker"},
    }
    first, rest = parted(table, Fraction(306), Fraction(774))
    assert parse_length(first["length"]) + parse_length(rest["length"]) == 30 * 36
    assert first["readings"] == table["readings"][:1]
    assert "readings" not in rest
    assert [(one["kind"], one["from"], one["to"]) for one in first["faults"]] == [
        ("knot", "20 in", "21 in"),
        ("stain", "300 in", "310 in"),
    ]
    assert [(one["kind"], one["from"], one["to"]) for one in rest["faults"]] == [
        ("stain", "0 in", "4 in"),
        ("hole", "194 in", "195 in"),
    ]
    assert (first["arrival"], rest["arrival"]) == (
        {"end_out": "1 in", "shade": "darker"},
        {"shade": "darker"},
    )
