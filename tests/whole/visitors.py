"""A maker at the workshop's own machine, for the tests of the app that need no browser."""

from __future__ import annotations

import re
from datetime import date
from html import unescape
from pathlib import Path
from typing import Any

import httpx2 as httpx
from fastapi import FastAPI
from fastapi.testclient import TestClient

from pleatwright.shop.store import State, Store
from pleatwright.web.app import WebSettings, make_app

EXAMPLES = Path(__file__).parents[2] / "examples"
TODAY = date(2031, 5, 1)
HERE = ("127.0.0.1", 50000)

MEASURES = {
    "wearer.kind": "man",
    "wearer.waist": "36",
    "wearer.hips": "41",
    "wearer.drop": "22",
    "wearer.fell_drop": "6 1/2",
    "wearer.rise": "2",
    "again.waist": "36 1/8",
    "again.by": "EL",
    "client.measured_on": "2031-04-30",
}
TARTAN = {
    "tartan.name": "Mallowbeck",
    "tartan.count": "B/48 G6 B6 G28 W4 G28 K/24",
    "tartan.sett.measured": "65",
    "tartan.sett.over": "10",
}
CLOTH = {
    "piece.width": "29",
    "piece.length": "8 1/2 yd",
    "piece.left_end.stripe": "W4",
    "piece.left_end.then": "G28 K24",
    "piece.left_end.distance": "3 1/4",
    "piece.selvedge.stripe": "K24",
    "piece.selvedge.distance": "1 1/2",
    "piece.readings.0.stripe": "W4",
    "piece.readings.0.then": "G28 K24",
    "piece.readings.0.repeat": "2",
    "piece.readings.0.at": "9 3/4",
    "piece.readings.1.repeat": "20",
    "piece.readings.1.at": "126 7/8",
    "piece.readings.2.repeat": "40",
    "piece.readings.2.at": "257",
}


def let_in(app: FastAPI, **more: Any) -> TestClient:
    """A client that came by the link that is printed; `more` goes to the client."""
    made = TestClient(app, base_url="http://localhost", client=HERE, **more)
    made.get(f"/open?key={app.state.house.sessions.link()}")
    return made


class Maker:
    """A maker at the workshop's own machine, filling in forms."""

    def __init__(self, store: Store) -> None:
        self.app = make_app(store, WebSettings(today=lambda: TODAY))
        self.web = let_in(self.app, follow_redirects=True)
        self.csrf = found(self.web.get("/").text, r'name="csrf" content="([^"]+)"')

    def get(self, where: str, status: int = 200) -> httpx.Response:
        answer = self.web.get(where)
        assert answer.status_code == status, said(answer)
        return answer

    def post(self, where: str, /, status: int = 200, **fields: Any) -> httpx.Response:
        data = {"csrf": self.csrf, **{str(name): str(value) for name, value in fields.items()}}
        answer = self.web.post(where, data=data)
        assert answer.status_code == status, said(answer)
        return answer

    def save(self, where: str, fields: dict[str, str], status: int = 200) -> httpx.Response:
        """Fill in a page's form as it stands and send it."""
        version = found(self.get(where).text, r'name="version" value="(\d+)"')
        sent: dict[str, Any] = {"version": version, **fields}
        return self.post(where, status, **sent)

    def order(self, name: str = "Wilfred Ashgrove") -> str:
        """A new order; the address of its pages."""
        fields: dict[str, Any] = {"client.name": name, "wearer.kind": "man"}
        answer = self.post("/orders/new", **fields)
        return found(str(answer.url), r"(/orders/\d+)/measures$")

    def planned(self) -> str:
        """An order with its first kilt chosen."""
        order = self.order()
        self.save(f"{order}/measures", MEASURES)
        self.save(f"{order}/tartan", TARTAN)
        self.save(f"{order}/cloth", CLOTH)
        self.save(f"{order}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
        return order

    def finished(self) -> str:
        """An order whose kilt is finished."""
        order = self.planned()
        for state in (State.CHALKED, State.CHECKED, State.RIPPED, State.SEWING, State.FINISHED):
            self.app.state.house.store.move(int(order.rpartition("/")[2]), state)
        return order


def found(text: str, pattern: str) -> str:
    found = re.search(pattern, text)
    assert found is not None, f"{pattern} is not in {text[:300]}"
    return found[1]


def said(answer: httpx.Response) -> str:
    """A page's words."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.text)).split())


def assert_refused(answer: httpx.Response, status: int, field: str) -> None:
    """An error has one shape: a status, a title, and problems that say field, seen, allowed, fix."""
    body = answer.json()
    assert answer.status_code == body["status"] == status
    assert body["title"]
    assert set(body) == {"status", "title", "problems"}
    assert all(set(one) == {"field", "seen", "allowed", "fix"} for one in body["problems"])
    assert field in [one["field"] for one in body["problems"]]
