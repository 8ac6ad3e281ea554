"""Orders: the list, a new one, one order's overview, its state."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import InputError, Problem
from pleatwright.order import read_order, with_units
from pleatwright.shop.store import Client, OrderCard, State, may_move
from pleatwright.web.alterations import altering
from pleatwright.web.document import Data, data_of, kept_text, with_fields
from pleatwright.web.errors import NotYet, Refused
from pleatwright.web.forms import Fields, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import back_to, current, order_page, pinned
from pleatwright.web.pages import render
from pleatwright.web.texts import mistake

router = APIRouter()

PAGE = 50
Search = Annotated[str, Query(max_length=200)]
PageNumber = Annotated[int, Query(ge=1, le=10_000)]


@router.get("/orders")
def list_orders(
    request: Request, house: HouseOf, q: Search = "", state: Search = "", page: PageNumber = 1
) -> Response:
    """Orders, the first promised first; searched by client and reference."""
    states = [one for one in State if one == state]
    lines = house.store.orders(q, states=states, limit=PAGE, offset=(page - 1) * PAGE)
    count = house.store.count_orders(q, states=states)
    return render(
        request,
        "orders.html",
        lines=lines,
        count=count,
        q=q,
        state=state,
        states=list(State),
        page=page,
        pages=max(1, -(-count // PAGE)),
        today=house.today(),
    )


@router.get("/orders/new")
def new_order(
    request: Request,
    house: HouseOf,
    client: Annotated[int | None, Query()] = None,
    like: Annotated[int | None, Query()] = None,
) -> Response:
    """An empty order, or one like another."""
    model = None if like is None else house.card(like)
    number = client if model is None else model.client
    known = None if number is None else house.client(number)
    return _new(request, house, Fields({}), known, model)


def _new(
    request: Request,
    house: House,
    fields: Fields,
    known: Client | None,
    model: OrderCard | None = None,
    status: int = 200,
) -> Response:
    return render(
        request,
        "order_new.html",
        status=status,
        f=fields,
        known=known,
        model=model,
        clients=house.store.clients(limit=500),
        suggested=_reference(house),
    )


def _reference(house: House) -> str:
    """A reference for the next order: the year, and one more than there are orders."""
    return f"{house.today():%y}-{house.store.count_orders() + 1:03d}"


@router.post("/orders/new")
def add_order(request: Request, house: HouseOf, form: FormSent) -> Response:
    """Begin an order, for a client of the list or a new one; or bring in an order file."""
    if "file" in form.files:
        return _brought(house, form.files["file"])
    problems: list[Problem] = []
    promised = None
    try:
        promised = form.day("client.promised")
    except InputError as error:
        problems += error.problems
    name = " ".join(form.get("client.name").split())
    if not name:
        problems.append(mistake("no_client", "client.name"))
    elif len(name) > 200:
        problems.append(mistake("name_too_long", "client.name"))
    known = house.client(form.whole("client")) if form.get("client") else None
    if known is not None and known.name != name:
        known = None
    model = house.card(form.whole("like")) if form.get("like") else None
    data: Data = (
        {"shop": {"units": house.shop().units}} if model is None else like_of(data_of(model.document))
    )
    data = with_fields(data, form.under("client", "wearer"))
    try:
        client = None if problems else known or _client(house, name)
    except InputError as error:
        client = None
        problems += error.problems
    if client is None:
        return _new(request, house, Fields(data, problems), known, model, 422)
    data["client"]["name"] = client.name
    card = house.store.add(
        OrderCard(
            client.id,
            reference=form.get("client.reference") or _reference(house),
            promised=promised,
            document=kept_text(data),
            tartan=None if model is None else model.tartan,
        )
    )
    return back_to(card, "measures")


def like_of(data: Data) -> Data:
    """What an order shares with another one for another wearer: units, settings, tartan, wishes, shape.

    The size of the sett as it was read on the cloth goes with the tartan: both come from one bolt.
    """
    made: Data = {name: data[name] for name in ("shop", "settings", "wishes") if name in data}
    kilt = {name: part for name, part in data.get("kilt", {}).items() if name in ("opens_on", "lap", "hem")}
    piece = data.get("piece", {})
    setts = {name: piece[name] for name in ("sett", "sett_across") if name in piece}
    if kilt:
        made["kilt"] = kilt
    if "tartan" in data:
        made["tartan"] = {**data["tartan"], **setts}
    return made


def _client(house: House, name: str) -> Client:
    """The client of that name where one is kept, else a new one; raises InputError where several are."""
    same = [one for one in house.store.clients(name) if one.name.casefold() == name.casefold()]
    if len(same) > 1:
        raise InputError(mistake("several_clients", "client.name", text=name, count=len(same)))
    return same[0] if same else house.store.add(Client(name))


def _brought(house: House, text: str) -> Response:
    """An order file as a new order; it must be whole."""
    shop = house.shop()
    job = read_order(text, source="order.toml", shop_text=shop.text)
    document, client = kept_text(data_of(with_units(text, shop.units))), _client(house, job.client)
    card = house.store.add(OrderCard(client.id, reference=job.reference, document=document))
    return back_to(house.store.move(card.id, State.MEASURED), "options")


@router.get("/orders/{number}")
def one_order(request: Request, house: HouseOf, number: int) -> Response:
    """An order's overview: its state, what is promised, what comes next."""
    card = house.card(number)
    if card.kind == "alteration":
        return _alteration(request, house, card)
    shop = house.shop()
    worked, problems = current(house, card, shop)
    found = pinned(house, card)
    return order_page(
        request,
        house,
        card,
        "order/overview.html",
        worked=worked,
        problems=problems,
        found=found,
        moves=_moves(card),
        versions=house.store.order_versions(number),
        plans=house.store.plans(number),
        drafts=house.store.drafts(card),
        f=Fields({}),
    )


def _moves(card: OrderCard) -> list[State]:
    """Where the order may go, what comes next first."""
    every = list(State)
    here = every.index(card.state)
    return sorted(
        may_move(card.kind, card.state), key=lambda one: (every.index(one) < here, every.index(one))
    )


def _alteration(request: Request, house: House, card: OrderCard) -> Response:
    """An alteration's overview: what is done to which kilt."""
    found, problems = None, tuple[Problem, ...]()
    try:
        found = altering(house, card)
    except (Refused, InputError) as error:
        problems = error.problems
    return order_page(
        request,
        house,
        card,
        "order/alteration.html",
        found=found,
        problems=problems,
        moves=_moves(card),
        versions=house.store.order_versions(card.id),
        drafts=house.store.drafts(card),
    )


@router.post("/orders/{number}/state")
def move_order(house: HouseOf, number: int, form: FormSent) -> Response:
    """Bring the order to another state."""
    wanted = next((one for one in State if one == form.get("state")), None)
    if wanted is None:
        raise Refused(422, mistake("no_state", "order.state", text=form.get("state")[:40]))
    card = house.card(number)
    if wanted is State.CHECKED and not any(one.decision == "go" for one in house.store.checks(number)):
        raise NotYet("check", mistake("not_checked", "order.state"))
    card = house.store.move(card.id, wanted)
    if wanted is State.RIPPED:
        for piece in house.store.pieces(order=card.id):
            if piece.state == "here":
                return RedirectResponse(f"/cloth/{piece.id}#rip", 303)
    return back_to(card)


@router.post("/orders/{number}")
def save_order(house: HouseOf, number: int, form: FormSent) -> Response:
    """Save what the shop notes of an order: promised day, deposit, notes."""
    card = house.card(number)
    changed = replace(
        card,
        version=form.version,
        reference=form.get("reference")[:100],
        promised=form.day("promised"),
        deposit=form.amount("deposit"),
        deposit_paid_on=form.day("deposit_paid_on"),
        notes=form.get("notes"),
    )
    return back_to(house.store.save(changed))
