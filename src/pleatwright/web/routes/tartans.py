"""The shop's tartan book."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import InputError
from pleatwright.order import spelt, unspelt
from pleatwright.sett import SHADES
from pleatwright.shop.store import TartanCard
from pleatwright.web.document import Data, data_of, field_of, kept_text, with_fields
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.pages import render
from pleatwright.web.routes.orders import PageNumber, Search
from pleatwright.web.routes.tartan import TartanLook, tartan_look
from pleatwright.web.texts import mistake

router = APIRouter()

PAGE = 60


@router.get("/tartans")
def list_tartans(request: Request, house: HouseOf, q: Search = "", page: PageNumber = 1) -> Response:
    """The tartans of the book, each with its cloth."""
    cards = house.store.tartans(q, limit=PAGE + 1, offset=(page - 1) * PAGE)
    shop = house.shop()
    looks = [(card, tartan_look(house, _data(card), shop)) for card in cards[:PAGE]]
    return render(request, "tartans.html", looks=looks, q=q, page=page, more=len(cards) > PAGE)


def _data(card: TartanCard) -> Data:
    """The order's data that holds this tartan."""
    data = data_of(card.document)
    return data if isinstance(data.get("tartan"), dict) else {"tartan": data} if data else {}


@router.get("/tartans/new")
def new_tartan(request: Request, house: HouseOf) -> Response:
    """An empty tartan."""
    return _page(request, house, TartanCard(""), {})


@router.post("/tartans/new")
def add_tartan(request: Request, house: HouseOf, form: FormSent) -> Response:
    """A new tartan in the book."""
    return _kept(request, house, TartanCard(""), form)


@router.post("/tartans/look")
def look_at(request: Request, house: HouseOf, form: FormSent) -> Response:
    """A tartan as it is being written; nothing is kept."""
    shop = house.shop()
    data = spelt(with_fields({}, form.under("tartan")), form.units(shop.units))
    look = tartan_look(house, data, shop)
    return render(request, "parts/tartan_look.html", look=look)


@router.get("/tartans/{number}")
def one_tartan(request: Request, house: HouseOf, number: int) -> Response:
    """One tartan of the book."""
    card = house.store.get(TartanCard, number)
    return _page(request, house, card, _data(card))


@router.post("/tartans/{number}")
def save_tartan(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Save a tartan of the book."""
    card = replace(house.store.get(TartanCard, number), version=form.version)
    return _kept(request, house, card, form)


def _page(
    request: Request,
    house: House,
    card: TartanCard,
    data: Data,
    look: TartanLook | None = None,
    status: int = 200,
) -> Response:
    shop = house.shop()
    look = look or tartan_look(house, data, shop)
    shown = unspelt(data, shop.units)
    short = {f"tartan.{name}.measured": field_of(shown, f"tartan.{name}") for name in ("sett", "sett_across")}
    return render(
        request,
        "tartan.html",
        status=status,
        card=card,
        look=look,
        f=Fields(shown, look.problems, {name: text for name, text in short.items() if text}),
        units=shop.units,
        shade_choices=[(shade, shade) for shade in SHADES],
    )


def _kept(request: Request, house: House, card: TartanCard, form: Form) -> Response:
    data = spelt(with_fields({}, form.under("tartan")), form.units(house.shop().units))
    name = field_of(data, "tartan.name")
    look = tartan_look(house, data, house.shop())
    if look.job is None or not name:
        problems = look.problems or (mistake("no_count", "tartan.count"),)
        if not name:
            problems = (*problems, mistake("no_tartan_name", "tartan.name"))
        return _page(request, house, card, data, TartanLook(None, problems), 422)
    made = replace(
        card,
        name=name,
        document=kept_text(data),
        weaver=form.get("weaver")[:200],
        restricted=form.get("restricted") == "true",
        notes=form.get("notes"),
    )
    try:
        kept = house.store.save(made) if made.id else house.store.add(made)
    except InputError as error:
        return _page(request, house, card, data, TartanLook(None, error.problems), 422)
    return RedirectResponse(f"/tartans/{kept.id}", 303)
