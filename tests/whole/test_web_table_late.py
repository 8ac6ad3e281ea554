"""What a table tells twice, late, or of an earlier plan is kept once and never put over what is newer."""

from __future__ import annotations

import json
from datetime import date
from fractions import Fraction

from pleatwright.shop.store import CheckEntry, OrderCard
from pleatwright.web.house import House
from pleatwright.web.orders import pin
from pleatwright.web.sessions import Sessions
from tests.whole.tables import DESK, Json, Table, step, value


def test_chalk_of_an_earlier_plan_that_is_told_of_late_is_kept_and_told_until_it_is_rubbed_out(store):
    table = Table(store, "demo")
    house = House(store, Sessions(lambda: 0.0), lambda: date(2031, 5, 1), desk=DESK)
    pin(house, table.card, house.shop(), 2)  # another kilt was in force for a while
    marks = [
        f"{one['group']}: {one['what']}" for one in json.loads(store.plans(table.card.id)[1].record)["marks"]
    ]
    here = {one["key"] for one in table.marks()["steps"]}
    other = next(mark for mark in marks if mark not in here)
    answer = table.send({"mark": other, "chalked": "48 3/8"}).json()
    assert "no mark of this kilt" in answer["problems"][0]["allowed"]
    stray = step(answer, other)
    assert value(stray["figure"]) == Fraction(387, 8)
    assert "rub it out" in stray["words"]
    store.append(CheckEntry(table.card.id, answer["version"], "go", "{}"))
    rip = table.marks()["steps"][-1]
    assert rip["verdict"] == "STOP"
    assert any("no marks of this kilt: 1" in words for words in rip["more"])
    answer = table.send({"mark": other, "chalked": ""}).json()
    assert answer["problems"] == []
    assert other not in {one["key"] for one in answer["steps"]}
    assert answer["steps"][-1]["verdict"] == "GO"


def test_chalk_that_lies_elsewhere_stops_the_rip_whatever_the_check_said(store):
    table = Table(store, "demo")
    last = step(table.marks(), "last pleat: centre")
    held = table.send({"mark": last["key"], "chalked": str(value(last["figure"]) + Fraction(1, 4))}).json()
    store.append(CheckEntry(table.card.id, held["version"], "go", "{}"))
    rip = table.marks()["steps"][-1]
    assert rip["verdict"] == "STOP"
    assert "not where these marks are" in rip["words"]
    table.send({"mark": last["key"], "chalked": ""}, {"mark": last["key"], "chalked": last["exact"]})
    assert table.marks()["steps"][-1]["verdict"] == "GO"


def test_an_entry_that_comes_again_after_a_later_one_does_not_undo_it(store):
    table = Table(store, "demo")
    first = {"key": "told-of-first", "mark": "levels: strap line", "chalked": "20"}
    then = {"key": "told-of-then", "mark": "levels: strap line", "chalked": "21 1/2"}
    for sent in ((first,), (first, then), (first,)):
        assert table.send(*sent).status_code == 200
    answer = table.marks()
    assert [entry.key for entry in store.marks(table.card.id)] == ["told-of-first", "told-of-then"]
    assert value(step(answer, "levels: strap line")["chalked"]["figure"]) == Fraction(43, 2)


def test_a_reading_told_of_late_is_kept_and_the_one_taken_later_counts(store):
    table = Table(store, "demo")
    held = table.read(table.marks())
    first, document = held["steps"][0], store.get(OrderCard, table.card.id).document
    late = {
        "key": "from-a-cupboard",
        "mark": first["stripe"]["key"],
        "text": "6 1/16",
        "at": minutes_ago(held),
    }
    answer = table.send(late).json()
    (problem,) = answer["problems"]
    assert problem["mark"] == first["stripe"]["key"]
    assert problem["seen"] == 'that it was found at 6 1/16"'
    assert problem["allowed"] == 'is kept, but it was found at 5 15/16" since, and that counts'
    assert len([entry for entry in store.marks(table.card.id) if entry.mark == problem["mark"]]) == 2
    assert step(answer, first["key"])["stripe"]["found"] == first["figure"]
    assert store.get(OrderCard, table.card.id).document == document
    assert table.send(late).json()["problems"] == []  # sent again it is kept, and told of, no more
    answer = table.send({**late, "key": "measured-now", "at": table.marks()["now"]}).json()
    assert answer["problems"] == []
    assert value(step(answer, first["key"])["stripe"]["found"]) == Fraction(97, 16)


def test_chalk_told_of_late_does_not_take_the_place_of_what_was_done_since(store):
    table = Table(store, "demo")
    last = step(table.marks(), "last pleat: centre")
    held = table.send({"mark": last["key"], "chalked": last["exact"]}).json()
    answer = table.send({"mark": last["key"], "chalked": "", "at": minutes_ago(held)}).json()
    assert "was rubbed out" in answer["problems"][0]["seen"]
    assert step(answer, last["key"])["chalked"] == {"figure": last["figure"], "moved": False}
    assert [entry.note for entry in store.marks(table.card.id)][1] == "rubbed out"


def test_a_tablet_whose_clock_is_ahead_does_not_have_the_last_word_for_good(store):
    table = Table(store, "demo")
    mark = "levels: strap line"
    table.send({"mark": mark, "chalked": "20", "at": table.marks()["now"] + 10**9})
    answer = table.send({"mark": mark, "chalked": "21"}).json()
    assert answer["problems"] == []
    assert value(step(answer, mark)["chalked"]["figure"]) == 21


def minutes_ago(held: Json) -> int:
    """Five minutes before a table was told the time."""
    return int(held["now"]) - 5 * 60_000
