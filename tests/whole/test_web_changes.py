"""What changes after a plan: new plans, other benches, alterations; no mark is moved without a word."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import date
from fractions import Fraction

from pypdf import PdfReader

from pleatwright.shop.store import Client, OrderCard, State
from tests.whole.visitors import CLOTH, MEASURES, found, said


def test_a_changed_order_says_which_marks_a_new_plan_would_move_and_moves_none(maker, store):
    order = maker.planned()
    maker.post(f"{order}/chalked")
    marks = said(maker.get(f"{order}/plan")).split(" marks # ")[1]
    maker.save(f"{order}/measures", {**MEASURES, "wearer.hips": "42"})
    page = said(maker.get(f"{order}/plan"))
    assert "The order has changed since this plan was made" in page
    assert re.search(r"It would move \d+ marks", page)
    assert page.split(" marks # ")[1] == marks
    maker.post(f"{order}/plan", 409, option=1, version=store.get(OrderCard, 1).version)
    assert store.get(OrderCard, 1).plan == 1
    version = store.get(OrderCard, 1).version
    taken = said(maker.post(f"{order}/plan", option=1, version=version, sure="true"))
    assert "has changed since" not in taken
    assert "no. 2" in taken
    assert [one.number for one in store.plans(1)] == [1, 2]
    assert store.get(OrderCard, 1).state is State.PLANNED


def test_readings_added_later_move_the_marks_with_their_stripes(maker):
    order = maker.planned()
    maker.save(f"{order}/cloth", {**CLOTH, "piece.readings.3.repeat": "30", "piece.readings.3.at": "191 1/2"})
    page = said(maker.get(f"{order}/plan"))
    assert "The cloth has been read on since" in page
    assert "has changed since" not in page


def test_the_second_save_of_an_order_is_told_shown_both_and_loses_nothing(maker, store):
    order = maker.planned()
    version = store.get(OrderCard, 1).version
    maker.post(order, version=version, reference="24-001", notes="first bench")
    page = said(maker.post(order, 409, version=version, reference="24-001", notes="second bench"))
    assert "first bench" in page
    assert "second bench" in page
    assert store.get(OrderCard, 1).notes == "first bench"
    assert "kept aside" in said(maker.get(order))
    (draft,) = store.drafts()
    assert f"/drafts/{draft.id}" in maker.get("/").text
    assert "second bench" in said(maker.get(f"/drafts/{draft.id}"))
    maker.post(f"/drafts/{draft.id}/take", 409, version=version)
    assert store.get(OrderCard, 1).notes == "first bench"
    maker.post(f"/drafts/{draft.id}/take", version=store.get(OrderCard, 1).version)
    assert store.get(OrderCard, 1).notes == "second bench"
    assert draft.id not in [one.id for one in store.drafts()]


def test_a_save_that_is_refused_leaves_the_clients_book_as_it_was(maker, store):
    order = maker.order()
    maker.save(f"{order}/measures", MEASURES)
    card, kept = store.get(OrderCard, 1), store.measurements(1)
    late = {**MEASURES, "wearer.waist": "40", "again.waist": "40 1/8", "version": card.version}
    maker.post(order, version=card.version, reference="24-001", notes="first bench")
    maker.post(f"{order}/measures", 409, **late)
    assert store.measurements(1) == kept
    maker.post(f"{order}/measures", 422, **{**late, "client.promised": "soon"})
    assert store.measurements(1) == kept
    (draft,) = store.drafts()
    maker.post(f"/drafts/{draft.id}/take", version=store.get(OrderCard, 1).version)
    waist, hips, *_ = store.measurements(1)[0].taken
    assert (waist.first, waist.second, hips.first) == (40, None, 41)
    assert len(store.measurements(1)) == 1


def test_a_second_taking_alone_is_kept_though_the_order_is_as_it_was(maker, store):
    order = maker.order()
    maker.save(f"{order}/measures", MEASURES)
    before = store.get(OrderCard, 1)
    maker.save(f"{order}/measures", {**MEASURES, "again.hips": "41 1/8"})
    assert store.get(OrderCard, 1) == before
    assert store.measurements(1)[0].taken[1].second == Fraction(329, 8)


def test_what_was_kept_aside_is_thrown_away_when_it_is_settled(maker, store):
    maker.post("/clients", name="Posy Larkrise")
    version = store.get(Client, 1).version
    maker.post("/clients/1", version=version, name="Posy Larkrise", phone="first")
    maker.post("/clients/1", 409, version=version, name="Posy Larkrise", phone="second")
    (draft,) = store.drafts()
    assert maker.post(f"/drafts/{draft.id}/drop").url.path == "/clients/1"
    assert store.drafts() == ()
    assert store.get(Client, 1).phone == "first"
    maker.get(f"/drafts/{draft.id}", 404)


def test_a_kept_aside_save_never_takes_the_marks_off_the_cloth(maker, store):
    order = maker.planned()
    first = store.get(OrderCard, 1)
    maker.post(order, 409, version=first.version - 1, reference="24-001", notes="late")
    (draft,) = store.drafts()
    maker.save(f"{order}/options", {"wishes.styles[]": "box to the sett", "option": "1"})
    maker.post(f"{order}/chalked")
    chalked = store.get(OrderCard, 1)
    assert chalked.plan != first.plan
    maker.post(f"/drafts/{draft.id}/take", version=chalked.version)
    card = store.get(OrderCard, 1)
    assert (card.notes, card.state, card.plan) == ("late", State.CHALKED, chalked.plan)


def test_an_alteration_is_an_order_that_points_back_to_its_kilt(maker, store):
    order = maker.finished()
    before = store.get(OrderCard, 1)
    worked = said(maker.post(f"{order}/closing", waist="38"))
    answer = maker.post(f"{order}/alterations", waist="38")
    assert answer.url.path == "/orders/2"
    page = said(answer)
    assert "Alter it; about 8 hours" in worked
    assert "the over-apron's edges" in page
    assert f'href="{order}"' in answer.text
    card = store.get(OrderCard, 2)
    assert (card.kind, card.client, card.state) == ("alteration", before.client, State.MEASURED)
    assert store.get(OrderCard, 1) == before
    history = maker.get("/clients/1").text
    assert f'href="{order}"' in history
    assert 'href="/orders/2"' in history
    quote = maker.get("/orders/2/quote").text
    assert found(quote, r'name="line\.0\.quantity"[^>]*value="([\d.]+)"') == "8"
    store.save(replace(card, promised=date(2031, 5, 20)))
    assert found(said(maker.get("/")), r"Wilfred Ashgrove \S+ \+ \D+?([\d.]+) \d+") == "8"
    sheet = maker.post(f"{order}/alteration.pdf", waist="38").content
    assert "alteration" in PdfReader(io.BytesIO(sheet)).pages[0].extract_text().casefold()


def test_a_kilt_that_is_not_finished_is_planned_anew_and_not_altered(maker, store):
    order = maker.planned()
    maker.post(f"{order}/chalked")
    for where in ("closing", "alterations", "alteration.pdf"):
        refused = said(maker.post(f"{order}/{where}", 409, waist="38"))
        assert "is not finished (chalked). Put the new measurements into the order" in refused
        assert "unpick" not in refused
    page = said(maker.get(f"{order}/closing"))
    assert "Nothing is altered before the kilt is finished" in page
    assert "Work it out" not in page
    assert "alter it" not in said(maker.get("/clients/1"))
    for state in (State.CHECKED, State.RIPPED):
        store.move(1, state)
    assert "Sew on by its log" in said(maker.post(f"{order}/closing", 409, waist="38"))


def test_two_clients_of_one_name_are_never_mixed_up(maker, store):
    for phone in ("first", "second"):
        maker.post("/clients", name="Posy Larkrise", phone=phone)
    sent = {"client.name": "Posy Larkrise", "wearer.kind": "woman"}
    assert "2 clients have this name" in said(maker.post("/orders/new", 422, **sent))
    assert store.count_orders() == 0
    form = maker.get("/orders/new?client=2").text
    sent["client"] = found(form, r'name="client" value="(\d+)"')
    maker.post("/orders/new", **sent)
    assert store.get(OrderCard, 1).client == 2
    maker.post("/orders/new", **{**sent, "client.name": "Wilfred Ashgrove"})
    assert store.get(OrderCard, 2).client == 3


def test_an_alteration_of_nothing_is_not_taken(maker, store):
    order = maker.finished()
    for sizes in ({}, {"waist": "0"}, {"hips": "wide"}, {"waist": "60"}):
        maker.post(f"{order}/alterations", 422, **sizes)
    assert store.count_orders() == 1


def test_what_two_have_left_in_two_ways_is_named_once_and_days_as_elsewhere(maker, store):
    order = maker.order()
    maker.save(f"{order}/measures", {**MEASURES, "client.promised": "2032-01-05"})
    version = store.get(OrderCard, 1).version
    maker.save(f"{order}/measures", {**MEASURES, "client.promised": "2032-02-06"})
    page = said(
        maker.post(f"{order}/measures", 409, version=version, **{**MEASURES, "client.promised": "2032-03-07"})
    )
    assert page.count("Promised for") == 1
    assert "Promised for 7 Mar 2032 6 Feb 2032" in page
