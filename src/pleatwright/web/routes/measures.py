"""Measurements: taken twice, beside a figure that shows where; questions while they are written."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.errors import InputError, Problem
from pleatwright.findings import Finding
from pleatwright.lengths import Units, parse_length, write_length
from pleatwright.order import Job, with_units
from pleatwright.shop.store import Measurements, NotKept, OrderCard, State, Taken
from pleatwright.web.document import Data, data_of, field_of, kept_text, text_of, with_fields
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.orders import advance, back_to, order_page
from pleatwright.web.pages import render

router = APIRouter()

TABLES = ("client", "wearer", "kilt")
TAKEN = ("waist", "hips", "fell_drop", "drop", "total", "drop_side", "drop_back")
"""What the tape takes, in the order of the measuring form; the rise is chosen."""
TWICE = "again."
"""Begins the names of the second takings."""
APART = Fraction(1, 4)
"""Inches by which two takings may differ before a third is asked for [our choice]."""


@dataclass(frozen=True)
class Difference:
    """How far two takings of one measurement lie apart; `far`: a third is needed."""

    words: str
    far: bool


@dataclass(frozen=True)
class Look:
    """What is to be said about measurements as they stand in the form."""

    job: Job | None
    questions: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    apart: Mapping[str, Difference]


@router.get("/orders/{number}/measures")
def measures_page(request: Request, house: HouseOf, number: int) -> Response:
    """The measurements of an order."""
    card = house.card(number)
    try:
        data = data_of(card.document)
    except InputError as error:
        return _unread(request, house, card, card.document, error.problems)
    return _page(request, house, card, data, _second(house, card, house.shop().units_of(data)))


def _unread(
    request: Request,
    house: House,
    card: OrderCard,
    text: str,
    problems: tuple[Problem, ...],
    status: int = 200,
) -> Response:
    """An order whose text cannot be read: the text itself, to be put right."""
    return order_page(request, house, card, "order/unread.html", status=status, text=text, problems=problems)


@router.post("/orders/{number}/measures/text")
def save_text(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Keep the order's text as it was put right by hand, where it can be read again."""
    card, text = house.card(number), form.get("document")
    try:
        kept = kept_text(data_of(with_units(text, house.shop().units)))
    except InputError as error:
        return _unread(request, house, card, text, error.problems, 422)
    return back_to(house.store.save(replace(card, version=form.version, document=kept)), "measures")


def _page(
    request: Request, house: House, card: OrderCard, data: Data, again: Mapping[str, str], status: int = 200
) -> Response:
    shop = house.shop()
    look = _look(house, data, again, shop)
    shown = look.problems if status != 200 or field_of(data, "wearer.waist") else ()
    return order_page(
        request,
        house,
        card,
        "order/measures.html",
        status=status,
        f=Fields(data, shown, {**again, **_usual(house, card, data)}),
        look=look,
        units=shop.units_of(data),
        names=TAKEN,
        kept=_kept(house, card),
        history=house.store.measurements(card.client),
    )


def _usual(house: House, card: OrderCard, data: Data) -> dict[str, str]:
    """What a field shows before anything is written into it."""
    usual = {"client.reference": card.reference, "client.measured_on": house.today().isoformat()}
    if card.promised is not None:
        usual["client.promised"] = card.promised.isoformat()
    return {name: text for name, text in usual.items() if not field_of(data, name)}


@router.post("/orders/{number}/measures/look")
def look_at_measures(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """The questions about measurements that are being written; nothing is kept."""
    card = house.card(number)
    data, again = _sent(card, form)
    look = _look(house, data, again, house.shop())
    shown = [each for each in look.problems if "nothing" not in each.seen]
    return render(request, "order/measures_look.html", look=look, problems=shown, names=TAKEN)


@router.post("/orders/{number}/measures")
def save_measures(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Keep the measurements, in the order and in the client's book."""
    card = house.card(number)
    data, again = _sent(card, form)
    shop = house.shop()
    look = _look(house, data, again, shop)
    kept = replace(card, version=form.version, document=kept_text(data))
    if form.get("client.reference"):
        kept = replace(kept, reference=form.get("client.reference")[:100])
    promised = form.get("client.promised")
    if promised:
        kept = replace(kept, promised=form.day("client.promised"))
    card = keep_measured(house, kept, data, again)
    if look.problems:
        return _page(request, house, card, data, again, 422)
    card = advance(house, card, State.MEASURED)
    return back_to(card, "tartan" if "tartan" not in data else "options")


def _sent(card: OrderCard, form: Form) -> tuple[Data, dict[str, str]]:
    """The order with the form's fields, and the second takings."""
    again = {name: text for name, text in form.fields if name.startswith(TWICE) and text}
    return with_fields(data_of(card.document), form.under(*TABLES)), again


def _look(house: House, data: Data, again: Mapping[str, str], shop: Shop) -> Look:
    units = shop.units_of(data)
    apart = {name: found for name in TAKEN if (found := _apart(data, again, name, units)) is not None}
    try:
        job = house.desk.measured(text_of(data), shop.text)
    except InputError as error:
        return Look(None, (), error.problems, apart)
    return Look(job, job.questions, (), apart)


def _apart(data: Data, again: Mapping[str, str], name: str, units: Units) -> Difference | None:
    first, second = (
        _length(field_of(data, f"wearer.{name}"), units),
        _length(again.get(TWICE + name, ""), units),
    )
    if first is None or second is None:
        return None
    off = second - first
    sign = "+" if off > 0 else "−" if off < 0 else "±"
    return Difference(f"{sign}{write_length(abs(off), units)}", abs(off) > APART)


def _length(text: str, units: Units) -> Fraction | None:
    try:
        return parse_length(text, unit=units) if text else None
    except InputError:
        return None


def _kept(house: House, card: OrderCard) -> Measurements | None:
    if card.measurements is None:
        return None
    try:
        return house.store.get(Measurements, card.measurements)
    except NotKept:
        return None


def _second(house: House, card: OrderCard, units: Units) -> dict[str, str]:
    """The second takings as they are kept, and who took them."""
    kept = _kept(house, card)
    if kept is None:
        return {}
    found = {
        TWICE + one.name: write_length(one.second, units).rstrip('"')
        for one in kept.taken
        if one.second is not None
    }
    return {**found, f"{TWICE}by": kept.taken_by} if kept.taken_by else found


def keep_measured(house: House, card: OrderCard, data: Data, again: Mapping[str, str] | None) -> OrderCard:
    """Save an order, and what was taken for it in the client's book; raises Conflict, and keeps neither.

    `again`: the second takings; None: those that are kept of what is the same still.
    """
    units, kept = house.shop().units_of(data), _kept(house, card)
    seconds = {} if kept is None else {(one.name, one.first): one.second for one in kept.taken}
    taken = []
    for name in TAKEN:
        first = _length(field_of(data, f"wearer.{name}"), units)
        if first is not None and first > 0:
            second = (
                seconds.get((name, first)) if again is None else _length(again.get(TWICE + name, ""), units)
            )
            taken.append(Taken(name, first, second, field_of(data, f"wearer.taken.{name}")))
    if not taken:
        return house.store.save(card)
    day = house.today()
    with suppress(ValueError):
        day = date.fromisoformat(field_of(data, "client.measured_on"))
    by = "" if kept is None else kept.taken_by
    found = replace(
        kept or Measurements(card.client, day),
        taken_on=day,
        taken_by=by if again is None else again.get(f"{TWICE}by", ""),
        kind=field_of(data, "wearer.kind") or "man",
        taken=tuple(taken),
        towel=field_of(data, "wearer.towel") == "true",
        figure=field_of(data, "wearer.figure"),
    )
    return house.store.measure(card, found)
