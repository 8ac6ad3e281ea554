"""What the pages of one order share: head and steps, the plan in force, going from state to state."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from fastapi import Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.bench import Mark, marks
from pleatwright.errors import InputError, Problem
from pleatwright.findings import Finding
from pleatwright.layout import ClothToOrder, Option, Plan, relaid
from pleatwright.shop import plan_json
from pleatwright.shop.kept_plan import of_json
from pleatwright.shop.store import OrderCard, PlanVersion, State, may_move
from pleatwright.web.desk import Worked, key_of
from pleatwright.web.document import Data, data_of, text_of
from pleatwright.web.errors import NotYet, Refused
from pleatwright.web.house import House, Shop
from pleatwright.web.pages import render
from pleatwright.web.texts import mistake

STEPS = ("", "measures", "tartan", "cloth", "options", "plan", "table", "check", "sewing", "closing", "quote")
"""The pages of an order, in the order of the work; the first is its overview."""
OF_ALTERATION = ("", "quote")
"""Those of an alteration, which is worked out on its kilt's own pages."""
ON_CLOTH = (
    State.CHALKED,
    State.CHECKED,
    State.RIPPED,
    State.SEWING,
    State.FITTING,
    State.FINISHED,
    State.COLLECTED,
)
"""States in which the plan in force is on the cloth."""


@dataclass(frozen=True)
class Pinned:
    """The plan in force, read back from its record: what was chosen is not searched again.

    `worked`: the order it was made from, or, where only readings have been added since (`read_on`), the
    order as it is now, the same kilt laid on the cloth as it is read now.  `kept`: the marks as they were
    kept; `marks`: as they lie now.  `document`: the order it was made from.
    """

    version: PlanVersion
    worked: Worked
    option: Option
    kept: tuple[Mark, ...]
    marks: tuple[Mark, ...]
    document: str
    read_on: bool


@dataclass(frozen=True)
class Moved:
    """A mark that another plan would put elsewhere: its old and its new place, None where it has none."""

    group: str
    what: str
    old: Mark | None
    new: Mark | None

    @property
    def by(self) -> float | None:
        """Inches it would move."""
        return None if self.old is None or self.new is None else self.new.tape - self.old.tape


def order_page(request: Request, house: House, card: OrderCard, template: str, **values: Any) -> Response:
    """A page of an order, with its head and steps."""
    return render(
        request,
        template,
        card=card,
        client=house.client(card.client),
        steps=STEPS if card.kind == "kilt" else OF_ALTERATION,
        here=request.url.path.removeprefix(f"/orders/{card.id}").strip("/").split("/")[0],
        today=house.today(),
        **values,
    )


def back_to(card: OrderCard, step: str = "") -> Response:
    """Go on to a page of the order, after a change."""
    return RedirectResponse(f"/orders/{card.id}/{step}".rstrip("/"), 303)


def current(house: House, card: OrderCard, shop: Shop) -> tuple[Worked | None, tuple[Problem, ...]]:
    """The order as it is now, worked out; or what is wrong with it."""
    try:
        return house.worked(card.document, shop), ()
    except InputError as error:
        return None, error.problems


def pin(house: House, card: OrderCard, shop: Shop, number: int) -> PlanVersion:
    """Keep the order's plan with this option as the plan in force; returns it.

    Its record is plan.json, with the marks as they are to be chalked and the shop's file it was made with.
    """
    worked = house.worked(card.document, shop).chosen(number)
    option = worked.plan.chosen
    if option is None:
        raise Refused(422, mistake("no_option", "option", number=number))
    record = json.loads(plan_json(worked.job, worked.plan))
    record["marks"] = [vars(mark) for mark in marks(option, worked.job.request)]
    record["shop_file"] = shop.text
    text = json.dumps(record, ensure_ascii=False)
    return house.store.append(
        PlanVersion(
            card.id,
            card.version,
            worked.job.version,
            text,
            key=f"{card.version}-{worked.job.version}-{number}",
        )
    )


def pinned(house: House, card: OrderCard) -> Pinned | None:
    """The plan in force; None while none has been chosen.  Raises Refused where it cannot be read back."""
    version = None if card.plan is None else house.store.plan(card.id, card.plan)
    if version is None:
        return None
    versions = house.store.order_versions(card.id)
    document = next((one.document for one in versions if one.number == version.order_version), card.document)
    text = _read_on(document, card.document)
    name = f"{version.id}-{card.option}-{key_of(text, '')}"
    return house.desk.read_back(name, lambda: _read_back(house, version, card.option, document, text))


def _read_back(house: House, version: PlanVersion, number: int | None, document: str, text: str) -> Pinned:
    record = json.loads(version.record)
    try:
        options = of_json(tuple[Option, ...], record["options"])
        plan = Plan(
            options,
            of_json(tuple[Finding, ...], record["findings"]),
            record["searched"],
            record["fitting"],
            of_json(ClothToOrder | None, record["cloth_to_order"]),
        )
        shop = record.get("shop_file", "")
        job = house.desk.job(text, shop)
    except (KeyError, TypeError, ValueError, InputError):
        raise Refused(409, mistake("plan_unreadable", "plan", number=version.number)) from None
    option = next((one for one in options if one.number == number), options[0])
    kept = tuple(Mark(**one) for one in record.get("marks", ()))
    read_on = text != document
    if read_on:
        try:
            option = relaid(option, job.request)
        except ValueError:
            job, read_on = house.desk.job(document, shop), False
    rest = tuple(one for one in options if one.number != option.number)
    plan = replace(plan, options=(option, *rest))
    worked = Worked(key_of(version.record, text), job, plan).chosen(option.number)
    lie = marks(option, job.request) if read_on or not kept else kept
    return Pinned(version, house.desk.remember(worked), option, kept or lie, lie, document, read_on)


def _read_on(document: str, now: str) -> str:
    """The order a plan was made from, with the readings its piece has by now; what else changed waits."""
    planned, changed = _compared(document, now)
    if planned == changed:
        same = data_of(document).get("piece") == data_of(now).get("piece")
        return document if same else now
    if not planned.get("piece") or any(planned.get(one) != changed.get(one) for one in ("piece", "tartan")):
        return document
    data, readings = data_of(document), data_of(now)["piece"].get("readings")
    if readings == data["piece"].get("readings"):
        return document
    data["piece"] = {**planned["piece"], **({"readings": readings} if readings else {})}
    return text_of(data)


def _compared(document: str, now: str) -> tuple[Data, Data]:
    """Two orders but for their readings; that only the later one says its units is no change."""
    planned, changed = _but_readings(document), _but_readings(now)
    if "units" not in planned.get("shop", {}) and "shop" in changed:
        rest = {name: part for name, part in changed["shop"].items() if name != "units"}
        changed = {name: part for name, part in changed.items() if name != "shop"}
        changed |= {"shop": rest} if rest else {}
    return planned, changed


def _but_readings(document: str) -> Data:
    """An order without its tape readings, which may be added to at the table."""
    try:
        data = data_of(document)
    except InputError:
        return {"": document}
    piece = data.get("piece")
    if isinstance(piece, dict):
        data["piece"] = {name: part for name, part in piece.items() if name != "readings"}
    return data


def changed_since(found: Pinned, card: OrderCard) -> bool:
    """Whether the order has changed since its plan in force, in more than readings."""
    planned, changed = _compared(found.document, card.document)
    return planned != changed


def in_force(house: House, card: OrderCard) -> Pinned:
    """The plan in force; raises Refused where no kilt has been chosen yet."""
    found = pinned(house, card)
    if found is None:
        raise NotYet("options", mistake("no_kilt", "plan"))
    return found


def moved(old: Sequence[Mark], new: Sequence[Mark]) -> tuple[Moved, ...]:
    """The marks of one plan that another one moves, takes away or adds."""
    before = {(mark.group, mark.what): mark for mark in old}
    after = {(mark.group, mark.what): mark for mark in new}
    every = (Moved(*key, before.get(key), after.get(key)) for key in dict.fromkeys([*before, *after]))
    return tuple(
        one
        for one in every
        if one.old is None or one.new is None or (one.old.tape, one.old.axis) != (one.new.tape, one.new.axis)
    )


def like(option: Option, others: Sequence[Option]) -> Option | None:
    """The kilt most like this one among others: the same kind and number of pleats, else the same kind."""
    kinds = [one for one in others if (one.form, one.shows) == (option.form, option.shows)]
    same = [one for one in kinds if one.pleats == option.pleats and one.stripes == option.stripes]
    return next(iter([*same, *kinds]), None)


def advance(house: House, card: OrderCard, state: State) -> OrderCard:
    """Bring an order on to a state, if it is not further already and may go there."""
    every = list(State)
    if every.index(card.state) >= every.index(state) or state not in may_move(card.kind, card.state):
        return card
    return house.store.move(card.id, state)
