"""The options page: wishes and what they cost, what each kilt bears, what is worth comparing."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape
from typing import Any

from pleatwright.layout import Wish, make_plan, nondominated, sensitivities, what_if
from pleatwright.order import read_order
from pleatwright.shop.store import OrderCard, Store
from pleatwright.web.document import data_of, text_of
from tests.whole.visitors import Maker, found, said


def test_wishes_redraw_the_options_and_are_not_kept_until_they_are_saved(maker, store):
    order = maker.planned()
    before = store.get(OrderCard, 1).document
    look = said(maker.post(f"{order}/options/look", **{"wishes.styles[]": "box"}))
    assert "box pleats" in look
    assert "knife pleats" not in look
    assert store.get(OrderCard, 1).document == before


def cost(maker: Maker, order: str, **wishes: str) -> str:
    """What the page says that these wishes cost."""
    fields: dict[str, Any] = {f"wishes.{name}": text for name, text in wishes.items()}
    return said(maker.post(f"{order}/options/costs", **{"wishes.styles[]": "", **fields}))


def test_a_wish_says_what_it_costs_and_says_it_as_the_command_does(maker, store):
    order = maker.planned()
    request = read_order(bare(store)).request
    (answer,) = what_if(request, Wish(pleats=25)).alone
    told = cost(maker, order, pleats="25")
    assert told == f"What these wishes cost {answer.words}"
    assert "yd" in told


def bare(store: Store) -> str:
    """The order without its wishes."""
    data = data_of(store.get(OrderCard, 1).document)
    return text_of({name: part for name, part in data.items() if name != "wishes"})


def test_several_wishes_are_told_one_by_one_and_then_together(maker):
    order = maker.planned()
    told = cost(maker, order, pleats="25", reveal="5/8", same_middle="false")
    for wish in (
        "With 25 pleats:",
        'With a reveal of 5/8" aimed at:',
        "With another stripe allowed",
        "With all of it: 25 ",
    ):
        assert told.count(wish) == 1


def test_a_wish_that_leaves_no_kilt_says_so(maker):
    told = cost(maker, maker.planned(), pleats="90", reveal="5/8")
    assert "With 90 pleats no kilt is left." in told
    assert "With all of it no kilt is left." in told


def test_without_a_wish_nothing_is_said_to_cost_anything(maker):
    order = maker.planned()
    assert cost(maker, order) == ""
    assert cost(maker, order, pleats="a few") == ""  # told beside its field
    page = maker.post(f"{order}/options/look", version=0, **{"wishes.styles[]": ""}).text
    assert "options/costs" not in page


def test_a_stripe_wished_for_by_its_name_is_still_wished_for_when_the_page_is_saved(maker, store):
    order = maker.planned()
    card = store.get(OrderCard, 1)
    store.save(replace(card, document=bare(store) + '\n[wishes]\nstripe = "W4"\napron_stripe = "K24"\n'))
    asked = read_order(store.get(OrderCard, 1).document).request.wishes
    page = maker.get(f"{order}/options").text
    chosen = re.findall(r'<option value="(\d+)" selected', page)
    version = found(page, r'name="version" value="(\d+)"')
    wishes = {"wishes.stripe.number": chosen[0], "wishes.apron_stripe.number": chosen[1]}
    maker.post(f"{order}/options", version=version, **wishes)
    kept = read_order(store.get(OrderCard, 1).document).request.wishes
    assert (kept.stripe, kept.apron_phase) == (asked.stripe, asked.apron_phase)
    assert kept.stripe is not None


def test_every_kilt_says_what_it_bears(maker, store):
    order = maker.planned()
    page = maker.get(f"{order}/options").text
    job = read_order(store.get(OrderCard, 1).document)
    plan = make_plan(job.request)
    asked = re.findall(r'hx-get="(/kilts/\w+/\d+/bears)"', page)
    for where, one in zip(asked, sensitivities(job.request, plan), strict=True):
        assert said(maker.get(where)) == one.words
    maker.get(asked[0].replace("/1/", "/99/"), 404)
    maker.get("/kilts/0123456789/1/bears", 404)
    in_force = found(maker.get(f"{order}/plan").text, r"/pictures/(\w+)/1/back")
    for what in ("1/bears", "few"):
        maker.get(f"/kilts/{in_force}/{what}", 404)


def test_what_is_worth_comparing_is_a_few_kilts_each_with_its_picture_and_one_line(maker, store):
    order = maker.planned()
    page = maker.get(f"{order}/options").text
    answer = maker.get(found(page, r'hx-get="(/kilts/\w+/few)"'))
    told = answer.text
    job = read_order(store.get(OrderCard, 1).document)
    few = nondominated(job.request, make_plan(job.request))
    assert 1 < len(few) <= 6
    assert told.count("<li>") == len(few)
    for one in few:
        assert one.figures(job.units) in said(answer)
    for picture in re.findall(r'src="([^"]+)"', told):
        assert maker.get(picture).content.startswith(b"\x89PNG")
    assert 'href="#kilt-1"' in told
    assert re.search(r'data-pleats="\d+" data-style="knife to the sett"', told)


def test_a_card_gives_each_figure_a_line_of_its_own(maker):
    order = maker.planned()
    page = maker.get(f"{order}/options").text
    (card, *_) = re.findall(r"<article.*?</article>", page, re.DOTALL)
    facts = dict(re.findall(r"<dt>([^<]+)</dt><dd[^>]*>([^<]+)</dd>", card))
    assert {"pleats", "reveal", "folds", "cloth", "left over", "pattern", "standing"} <= set(facts)
    assert all(len(unescape(words)) <= 16 for name, words in facts.items() if name != "at risk")
