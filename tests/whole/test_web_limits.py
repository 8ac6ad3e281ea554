"""Drafts are not heaped up; HEAD is GET without the page; no body is too long by stealth."""

from __future__ import annotations

import pytest

from pleatwright.shop.store import OrderCard
from pleatwright.shop.store.kept import MOST_DRAFTS
from tests.whole.visitors import said


def test_what_is_kept_aside_is_kept_once_and_not_without_end(maker, store):
    order = maker.order()
    maker.save(order, {"notes": "first bench", "reference": "31-001"})
    for _ in range(3):
        maker.post(order, 409, version=1, reference="31-001", notes="second bench")
    assert len(store.drafts(store.get(OrderCard, 1))) == 1
    for number in range(MOST_DRAFTS - 1):
        maker.post(order, 409, version=1, reference="31-001", notes=f"bench {number}")
    told = said(maker.post(order, 422, version=1, reference="31-001", notes="one too many"))
    assert f"{MOST_DRAFTS} drafts are kept aside already, the oldest of" in told
    assert len(store.drafts()) == MOST_DRAFTS
    maker.post(order, 409, version=1, reference="31-001", notes="second bench")
    assert store.get(OrderCard, 1).notes == "first bench"


@pytest.mark.parametrize("where", ["/", "/orders", "/orders/1", "/form.pdf", "/static/app.css", "/nothing"])
def test_head_answers_as_get_without_the_page(maker, where):
    maker.order()
    head, page = maker.web.head(where), maker.web.get(where)
    assert head.status_code == page.status_code
    assert head.content == b""
    assert head.headers["content-length"] == str(len(page.content))
    assert head.headers["content-type"] == page.headers["content-type"]


@pytest.mark.parametrize(
    "where, kind",
    [("/orders/new", "application/x-www-form-urlencoded"), ("/orders/1/table/entries", "application/json")],
)
def test_a_body_sent_in_parts_is_refused_where_it_grows_too_long(maker, where, kind):
    maker.order()
    parts = (b"a" * 100_000 for _ in range(30))
    heads = {"content-type": kind, "x-csrf": maker.csrf}
    assert maker.web.post(where, content=parts, headers=heads).status_code == 413
