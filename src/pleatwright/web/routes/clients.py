"""Clients: the book, one client's history, what is kept of them, taken along or forgotten."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.shop.store import Client, Forgotten, client_bundle, forget_client
from pleatwright.web.errors import Refused
from pleatwright.web.forms import Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.pages import render
from pleatwright.web.routes.files import ZIP, attached
from pleatwright.web.routes.orders import PageNumber, Search
from pleatwright.web.texts import mistake

router = APIRouter()

PAGE = 100


@router.get("/clients")
def list_clients(request: Request, house: HouseOf, q: Search = "", page: PageNumber = 1) -> Response:
    """The clients by name."""
    clients = house.store.clients(q, limit=PAGE + 1, offset=(page - 1) * PAGE)
    return render(request, "clients.html", clients=clients[:PAGE], q=q, page=page, more=len(clients) > PAGE)


@router.post("/clients")
def add_client(house: HouseOf, form: FormSent) -> Response:
    """A new client."""
    return _to(house.store.add(_filled(Client(""), form)))


@router.get("/clients/{number}")
def one_client(request: Request, house: HouseOf, number: int) -> Response:
    """One client: address, measurements, orders, alterations."""
    return _page(request, house, number)


def _page(request: Request, house: House, number: int, done: Forgotten | None = None) -> Response:
    client = house.client(number)
    return render(
        request,
        "client.html",
        client=client,
        orders=house.store.orders(client=number, limit=200),
        history=house.store.measurements(number),
        units=house.shop().units,
        today=house.today(),
        done=done,
    )


@router.post("/clients/{number}")
def save_client(house: HouseOf, number: int, form: FormSent) -> Response:
    """Save a client's name and address."""
    client = replace(house.client(number), version=form.version)
    return _to(house.store.save(_filled(client, form)))


def _filled(client: Client, form: Form) -> Client:
    name = " ".join(form.get("name").split())[:200]
    if not name:
        raise Refused(422, mistake("no_client", "name"))
    return replace(
        client,
        name=name,
        email=form.get("email")[:200],
        phone=form.get("phone")[:100],
        address=form.get("address")[:1000],
        notes=form.get("notes"),
    )


def _to(client: Client) -> Response:
    return RedirectResponse(f"/clients/{client.id}", 303)


@router.get("/clients/{number}/export.zip")
def export_client(house: HouseOf, number: int) -> Response:
    """Everything that is kept of a client, in one file."""
    client = house.client(number)
    return attached(client_bundle(house.store, number), ZIP, f"client-{client.id}.zip")


@router.post("/clients/{number}/forget")
def forget(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Erase a client's name, contact and measurements; what the accounts need stays."""
    client = house.client(number)
    if form.get("sure") != client.name:
        raise Refused(422, mistake("not_the_name", "sure", text=form.get("sure")[:60]))
    done = forget_client(house.store, number)
    house.desk.clear()
    return _page(request, house, number, done)
