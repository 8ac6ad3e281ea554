"""Whatever is sent to any address of the app, it never answers with an error of its own (500)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from schemathesis.core.result import Ok

from pleatwright.order import read_order
from pleatwright.shop.store import Client, OrderCard, Store, open_store
from pleatwright.web.app import make_app
from pleatwright.web.house import House
from pleatwright.web.orders import pin
from pleatwright.web.sessions import Sessions
from tests.whole.visitors import let_in

EXAMPLES = Path(__file__).parents[2] / "examples"
EXPECTED = frozenset(range(200, 500))


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A store with an order that is being marked, and one that has only been asked for."""
    with open_store(f"sqlite:///{tmp_path_factory.mktemp('store')}/store.sqlite") as opened:
        text = (EXAMPLES / "demo.toml").read_text()
        client = opened.add(Client(read_order(text).client))
        house = House(opened, Sessions(lambda: 0.0), lambda: date(2031, 5, 1))
        card = opened.add(OrderCard(client.id, document=text))
        plan = pin(house, card, house.shop(), 1)
        opened.save(replace(card, plan=plan.number, option=1))
        opened.add(OrderCard(client.id))
        yield opened


@pytest.fixture(scope="module")
def app(store: Store) -> FastAPI:
    return make_app(store)


@pytest.fixture(scope="module")
def web(app: FastAPI) -> TestClient:
    """A browser on this machine, its session begun; what goes wrong in the app is its answer."""
    return let_in(app, raise_server_exceptions=False, follow_redirects=False)


def token(web: TestClient) -> str:
    """What a change must carry; a session that was left begins anew."""
    if web.get("/orders/new").status_code == 303:
        assert isinstance(web.app, FastAPI)
        web.get(f"/open?key={web.app.state.house.sessions.link()}")
    return str(web.get("/orders/new").text.split('name="csrf" content="')[1].split('"')[0])


def asked(web: TestClient, operation: Any) -> list[tuple[int, str]]:
    """What an address answers to what its description allows, and to some that it does not."""
    answers = []
    carried = {"x-csrf": token(web)}

    @seed(7)
    @settings(max_examples=10, database=None, suppress_health_check=list(HealthCheck))
    @given(operation.as_strategy())
    def sent(case: Any) -> None:
        arguments = case.as_transport_kwargs(base_url="http://localhost", headers=carried)
        arguments.pop("cookies", None)
        answers.append((web.request(**arguments).status_code, f"{case.method} {case.path} {arguments}"))

    sent()
    return answers


@pytest.mark.slow
def test_no_address_answers_with_an_error_of_the_apps_own(app, web):
    described = schemathesis.openapi.from_dict(app.openapi())
    found = list(described.get_all_operations())
    operations = [one.ok() for one in found if isinstance(one, Ok)]
    assert len(operations) == len(found) > 50
    answers = [answer for operation in operations for answer in asked(web, operation)]
    assert [said for said in answers if said[0] not in EXPECTED] == []


class Forms(HTMLParser):
    """The forms of a page: where each is sent, and the names of its fields."""

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path, self.found = path, list[tuple[str, list[str]]]()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "form":
            self.found.append((given.get("action") or self.path, []))
        if given.get("hx-post") and self.found:
            self.found.append((str(given["hx-post"]), self.found[-1][1]))
        if given.get("name") and self.found and tag in ("input", "select", "textarea", "button"):
            self.found[-1][1].append(str(given["name"]))


STEPS = ("", "measures", "tartan", "cloth", "options", "plan", "check", "sewing", "closing", "quote")
PAGES = ("/orders/new", "/clients", "/clients/1", "/cloth/new", "/tartans/new", "/shop", "/pair")
NASTY = st.sampled_from(
    [
        "",
        "0",
        "-1",
        "1",
        "9" * 30,
        "1e999",
        "NaN",
        "4O",
        "8 3/8",
        "1/0",
        "=1+1",
        "'; --",
        "<b>",
        "\x00",
        "\u202e",
        "true",
    ]
)


def typed(web: TestClient, action: str, names: tuple[str, ...]) -> list[tuple[int, str]]:
    """What a form answers to this and that in its fields: the status, and what was sent."""
    answers = []
    carried = token(web)

    @seed(11)
    @settings(max_examples=10, database=None, suppress_health_check=list(HealthCheck))
    @given(st.fixed_dictionaries({}, optional=dict.fromkeys(names, st.one_of(NASTY, st.text(max_size=20)))))
    def sent(fields: dict[str, str]) -> None:
        answer = web.post(action, data={**fields, "csrf": carried})
        answers.append((answer.status_code, f"{action} {fields}"))

    sent()
    return answers


@pytest.mark.slow
def test_no_form_breaks_whatever_is_typed_into_it(web):
    token(web)
    forms: dict[tuple[str, tuple[str, ...]], None] = {}
    for path in (*(f"/orders/{order}/{step}".rstrip("/") for order in (1, 2) for step in STEPS), *PAGES):
        page = Forms(path)
        page.feed(web.get(path).text)
        forms.update({(action, tuple(dict.fromkeys(names))): None for action, names in page.found})
    assert len(forms) > 25
    answers = [answer for action, names in forms for answer in typed(web, action, names)]
    assert [said for said in answers if said[0] not in EXPECTED] == []
    refused = sum(status == 403 for status, _ in answers)
    assert refused < len(answers) / 10  # they were let in


@pytest.mark.parametrize("number", [-1, 0, 1, 2, 3, 2**31, 10**20, "x", "%00"])
def test_no_page_of_an_order_breaks_whatever_its_number_is(app, web, number):
    for path in app.openapi()["paths"]:
        if "{" in path:
            answer = web.get(re.sub(r"\{\w+\}", str(number), path))
            assert answer.status_code in EXPECTED, f"{path} with {number}: {answer.status_code}"
