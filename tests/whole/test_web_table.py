"""Table mode over HTTP: what was found is kept, and the marks follow it."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from fractions import Fraction
from html import unescape

import pytest
from pypdf import PdfReader

from pleatwright.lengths import write_length
from pleatwright.order import read_order
from pleatwright.shop.store import CheckEntry, Client, OrderCard, State
from pleatwright.web.app import make_app
from tests.whole.tables import Table, step, value
from tests.whole.visitors import EXAMPLES, found, let_in


def test_a_cloth_whose_setts_are_longer_moves_every_mark_along_it(store):
    table = Table(store, "demo")
    before = table.marks()
    after = table.read(before, longer=1 / 16)
    assert after["problems"] == []
    last = "last pleat: centre"
    repeats = step(before, last)["repeat"]
    moved = value(step(after, last)["figure"]) - value(step(before, last)["figure"])
    assert moved == pytest.approx((repeats - 1) / 16, abs=1 / 8)
    assert step(after, last)["repeat"] == repeats  # the same stripe of the same repeat
    assert step(after, "levels: strap line")["figure"] == step(before, "levels: strap line")["figure"]


def test_what_was_found_becomes_a_reading_of_the_order(store):
    table = Table(store, "demo")
    table.read(table.marks())
    job = read_order(store.get(OrderCard, table.card.id).document)
    assert job.request.piece is not None
    assert len(job.request.piece.readings) >= 13
    assert job.version == table.marks()["version"]


def test_an_entry_that_is_sent_twice_is_kept_once(store):
    table = Table(store, "demo")
    entry = {"key": "the-same-entry", "mark": "levels: strap line", "chalked": "20"}
    for _ in range(2):
        assert table.send(entry).status_code == 200
    assert len(store.marks(table.card.id)) == 1


def test_two_readings_too_near_each_other_move_nothing_yet_but_are_kept(store):
    table = Table(store, "demo")
    before = table.marks()
    first = before["steps"][0]
    answer = table.send({"mark": first["stripe"]["key"], "text": "6 1/16"}).json()
    assert "too near" in answer["problems"][0]["allowed"]
    assert step(answer, "last pleat: centre")["figure"] == step(before, "last pleat: centre")["figure"]
    assert store.marks(table.card.id)[0].found == Fraction(97, 16)
    far = before["steps"][6]
    answer = table.send({"mark": far["stripe"]["key"], "text": f"{value(far['figure']) * 16}/16"}).json()
    assert answer["problems"] == []
    assert "6 1/16" in store.get(OrderCard, table.card.id).document


def test_a_stripe_found_a_repeat_off_is_refused_and_says_to_count_again(store):
    table = Table(store, "demo")
    first = table.marks()["steps"][0]
    answer = table.send({"mark": first["stripe"]["key"], "text": "12 1/2"}).json()
    assert answer["problems"][0]["mark"] == first["stripe"]["key"]
    assert "count the repeats" in answer["problems"][0]["fix"]
    assert store.marks(table.card.id) == ()


@pytest.mark.parametrize("text", ["4O", "a hand", "-3", "1/0", "9" * 30])
def test_what_is_no_length_is_told_beside_its_stripe(store, text):
    table = Table(store, "demo")
    first = table.marks()["steps"][0]
    answer = table.send({"mark": first["stripe"]["key"], "text": text})
    assert answer.status_code == 200
    assert answer.json()["problems"][0]["mark"] == first["stripe"]["key"]


def test_a_mark_that_was_chalked_is_not_moved_without_a_word(store):
    table = Table(store, "demo")
    before = table.marks()
    last = step(before, "last pleat: centre")
    answer = table.send({"mark": last["key"], "chalked": last["exact"]}).json()
    assert step(answer, last["key"])["chalked"] == {"figure": last["figure"], "moved": False}
    after = table.read(before, longer=1 / 16)
    chalked = step(after, last["key"])["chalked"]
    assert chalked == {"figure": last["figure"], "moved": True}
    assert any("moved" in words for words in after["steps"][-1]["more"])
    rubbed = table.send({"mark": last["key"], "chalked": ""}).json()
    assert step(rubbed, last["key"])["chalked"] is None


def test_a_reading_the_others_contradict_is_doubted_until_it_stands(store):
    table = Table(store, "demo")
    held = table.read(table.marks())
    doubtful = held["steps"][5]
    wrong = value(doubtful["figure"]) + 1
    answer = table.send({"mark": doubtful["stripe"]["key"], "text": f"{wrong * 16}/16"}).json()
    assert "measure again" in answer["steps"][5]["stripe"]["doubt"]
    far = step(held, "last pleat: centre")["figure"]
    assert step(answer, "last pleat: centre")["figure"] == far  # left out of the map
    answer = table.send(
        {"mark": doubtful["stripe"]["key"], "text": f"{wrong * 16}/16", "stands": True}
    ).json()
    assert answer["steps"][5]["stripe"]["doubt"] == ""


def test_a_reading_taken_at_the_table_while_the_office_saves_the_order_loses_neither(store):
    table = Table(store, "demo")
    held = table.marks()
    card = store.get(OrderCard, table.card.id)
    store.save(replace(card, notes="rang, wants it a week earlier"))
    table.read(held)
    after = store.get(OrderCard, table.card.id)
    assert after.notes == "rang, wants it a week earlier"
    assert "readings" in after.document
    assert store.drafts() == ()


def test_readings_are_followed_while_something_else_of_the_order_waits_for_a_new_plan(store):
    table = Table(store, "demo")
    before = table.marks()
    card = store.get(OrderCard, table.card.id)
    store.save(replace(card, document=card.document.replace('rise = "2"', 'rise = "1 3/4"')))
    after = table.read(before, longer=1 / 16)
    assert after["problems"] == []
    assert step(after, "last pleat: centre")["figure"] != step(before, "last pleat: centre")["figure"]
    assert step(after, "levels: strap line")["figure"] == step(before, "levels: strap line")["figure"]
    assert after["version"] in table.web.get(f"/orders/{card.id}/check").text
    assert 'rise = "1 3/4"' in store.get(OrderCard, card.id).document


def test_the_rip_is_go_only_for_the_very_marks_that_were_checked(store):
    table = Table(store, "demo")
    rip = table.marks()["steps"][-1]
    assert (rip["go"], rip["verdict"]) == (False, "STOP")
    store.append(CheckEntry(table.card.id, table.marks()["version"], "go", "{}"))
    assert table.marks()["steps"][-1]["verdict"] == "GO"
    after = table.read(table.marks(), longer=1 / 16)
    assert after["steps"][-1]["verdict"] == "STOP"
    store.append(CheckEntry(table.card.id, after["version"], "stop", "{}"))
    assert "said stop" in table.marks()["steps"][-1]["words"]


def test_after_the_rip_the_readings_of_the_order_stay(store):
    table = Table(store, "demo")
    held = table.marks()
    for state in (State.CHALKED, State.CHECKED, State.RIPPED):
        store.move(table.card.id, state)
    document = store.get(OrderCard, table.card.id).document
    assert table.read(held)["problems"] == []
    assert store.get(OrderCard, table.card.id).document == document


def test_in_a_metric_shop_every_figure_is_in_whole_millimetres(store):
    table = Table(store, "demo", ('units = "in"', 'units = "metric"'))
    held = table.marks()
    for one in held["steps"][:-1]:
        assert one["figure"]["unit"] == "mm"
        assert one["figure"]["whole"].isdigit()
        assert not one["figure"]["top"]
    first = held["steps"][0]
    far = held["steps"][8]
    answer = table.send(
        {"mark": first["stripe"]["key"], "text": f"{int(first['figure']['whole']) + 2} mm"},
        {"mark": far["stripe"]["key"], "text": f"{int(far['figure']['whole']) + 2} mm"},
    ).json()
    assert answer["problems"] == []
    before, after = (int(step(one, "over-apron: centre")["figure"]["whole"]) for one in (held, answer))
    assert after - before == 2


def test_a_change_without_the_pages_token_is_refused(store):
    table = Table(store, "demo")
    answer = table.send({"mark": "levels: strap line", "chalked": "20"}, token=False)
    assert answer.status_code == 403
    assert store.marks(table.card.id) == ()


@pytest.mark.parametrize(
    "entry",
    [
        {"mark": "x" * 200, "chalked": "20"},
        {"mark": "levels: strap line", "chalked": "20; drop"},
        {"mark": "levels: strap line", "more": 1},
        {"mark": "", "text": "4"},
    ],
)
def test_entries_of_another_shape_are_refused(store, entry):
    table = Table(store, "demo")
    assert table.send(entry).status_code == 422
    assert store.marks(table.card.id) == ()


def test_a_mark_this_kilt_does_not_have_is_told_and_not_kept(store):
    table = Table(store, "demo")
    answer = table.send({"mark": "third sleeve: centre", "chalked": "20"}).json()
    assert answer["problems"][0]["mark"] == "third sleeve: centre"
    assert store.marks(table.card.id) == ()


def test_an_order_without_a_chosen_kilt_says_what_is_missing(store):
    client = store.add(Client("Oda Quillfeather"))
    text = (EXAMPLES / "demo.toml").read_text()
    card = store.add(OrderCard(client.id, document=text))
    web = let_in(make_app(store))
    page = web.get(f"/orders/{card.id}/table")
    assert "choose one of the options first" in page.text
    answer = web.get(f"/orders/{card.id}/table/marks", headers={"accept": "application/json"})
    assert answer.status_code == 422
    assert web.get("/orders/999/table").status_code == 404


def test_a_name_with_marks_of_html_is_shown_as_it_was_written(store):
    table = Table(store, "demo", ("Wilfred Ashgrove", "<b>Wilfred</b> & <script>alert(1)</script>"))
    page = table.web.get(table.path).text
    assert "<script>alert" not in page
    assert "&lt;b&gt;Wilfred&lt;/b&gt;" in page


def test_the_tables_worker_keeps_no_page_but_the_tables(store):
    table = Table(store, "demo")
    answer = table.web.get("/sw.js")
    assert answer.headers["content-type"].startswith("text/javascript")
    assert r"^\/orders\/\d+\/table$" in answer.text


def test_after_a_finding_plan_page_packet_table_and_check_name_one_plan(store):
    table = Table(store, "demo")
    before = table.marks()["version"]
    after = table.read(table.marks(), longer=1 / 16)["version"]
    assert after != before
    pages = {name: table.web.get(f"/orders/{table.card.id}{name}").text for name in ("", "/plan", "/check")}
    assert all(after in page for page in pages.values())
    assert all(before not in pages[name] for name in ("", "/plan"))
    printed = table.web.get(f"/orders/{table.card.id}/print/packet.pdf").content
    foot = PdfReader(io.BytesIO(printed)).pages[1].extract_text()
    assert after in foot
    assert before not in foot
    last = write_length(value(step(table.marks(), "last pleat: centre")["figure"]), "in")
    row = unescape(pages["/plan"].rpartition("last pleat: centre</td>")[2][:60])
    assert f"<strong>{last}</strong>" in row.replace("\N{NO-BREAK SPACE}", " ")
    names = re.findall(r'<(?:input|textarea|select) id="([a-z_]+)" name="\1"', pages["/check"])
    fields = {name: "LB4 B24" if name.endswith("_stripes") else "0" for name in names}
    fields |= {"left_apron": "over-apron", "faults": "none", "checked_on": "2031-05-01"}
    fields["csrf"] = found(pages["/check"], r'name="csrf" content="([^"]+)"')
    for plan, word in ((before, True), (after, False)):
        answer = table.web.post(f"/orders/{table.card.id}/check", data={**fields, "plan": plan})
        assert answer.status_code == 200, answer.text
        assert ("the packet in hand is of plan" in answer.text) is word


@pytest.mark.parametrize("example, unit", [("asymmetric", "mm"), ("demo", "inches")])
def test_the_pad_names_the_unit_that_a_bare_number_is_taken_for(store, example, unit):
    table = Table(store, example)
    assert f"Found at, {unit}</label>" in table.web.get(table.path).text
