"""One order on the table of a workshop, as a tablet sees it; shared by the tests of table mode."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from pleatwright.lengths import parse_length
from pleatwright.order import read_order
from pleatwright.shop.store import Client, OrderCard, PlanVersion, Store
from pleatwright.web.app import make_app
from pleatwright.web.desk import Desk
from pleatwright.web.house import House
from pleatwright.web.orders import pin
from pleatwright.web.sessions import Sessions
from tests.whole.visitors import EXAMPLES, let_in

Json = dict[str, Any]
DESK = Desk()
PINNED: dict[tuple[str, tuple[str, str]], PlanVersion] = {}
"""Each example is planned, and its plan written down, once for all tests."""


class Table:
    """One order on the table of a workshop, as a tablet sees it."""

    def __init__(self, store: Store, example: str, change: tuple[str, str] = ("", "")) -> None:
        text = (EXAMPLES / f"{example}.toml").read_text().replace(*change)
        house = House(store, Sessions(lambda: 0.0), lambda: date(2031, 5, 1), desk=DESK)
        job = read_order(text)
        card = store.add(OrderCard(store.add(Client(job.client)).id, reference=job.reference, document=text))
        plan = PINNED.get((example, change)) or pin(house, card, house.shop(), 1)
        if (example, change) in PINNED:
            plan = store.append(PlanVersion(card.id, card.version, plan.plan_version, plan.record))
        PINNED[example, change] = plan
        self.store = store
        self.card = store.save(replace(card, plan=plan.number, option=1))
        self.web = let_in(make_app(store))
        self.sent = 0

    @property
    def path(self) -> str:
        return f"/orders/{self.card.id}/table"

    def marks(self) -> Json:
        answer = self.web.get(f"{self.path}/marks")
        assert answer.status_code == 200, answer.text
        found: Json = answer.json()
        return found

    def send(self, *entries: Json, token: bool = True) -> Any:
        page = self.web.get(self.path).text
        csrf = page.split('name="csrf" content="')[1].split('"')[0]
        numbered = []
        for entry in entries:
            self.sent += 1
            numbered.append({"key": f"entry-{self.sent:04d}", **entry})
        headers = {"accept": "application/json", **({"x-csrf": csrf} if token else {})}
        return self.web.post(f"{self.path}/entries", json={"entries": numbered}, headers=headers)

    def read(self, wanted: Json, *, longer: float = 0.0) -> Json:
        """Every stripe read where it was planned, each sett that much longer in inches than it was."""
        entries = []
        for step in wanted["steps"]:
            if step["kind"] == "reading":
                at = value(step["figure"]) + Fraction(longer * (step["repeat"] - 1)).limit_denominator(16)
                entries.append({"mark": step["stripe"]["key"], "text": f"{round(at * 16)}/16"})
        answer = self.send(*entries)
        assert answer.status_code == 200, answer.text
        found: Json = answer.json()
        return found


def value(figure: Json) -> Fraction:
    """The inches of a figure as it is shown."""
    if figure["unit"] == "mm":
        return parse_length(f"{figure['whole']} mm")
    top = Fraction(int(figure["top"] or 0), int(figure["bottom"] or 1))
    return int(figure["whole"] or 0) + top


def step(held: Json, what: str) -> Json:
    found: Json = next(one for one in held["steps"] if one["key"] == what)
    return found
