"""The tartan of an order: its count read while it is written, beside a live picture of the cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units, write_length
from pleatwright.order import Job, spelt, unspelt
from pleatwright.sett import SHADES, short_name, write_count
from pleatwright.shop.store import OrderCard, TartanCard
from pleatwright.web.document import Data, data_of, field_of, kept_text, text_of, with_fields
from pleatwright.web.forms import Fields, FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.names import named
from pleatwright.web.orders import back_to, order_page
from pleatwright.web.pages import render

router = APIRouter()

WEARER = {
    "client": {"name": "–"},
    "wearer": {"kind": "man", "waist": "36 in", "hips": "41 in", "drop": "22 in"},
}
"""Somebody to read a tartan with, where the order has no measurements yet; nothing of them is shown."""


def units_said(data: Data) -> Data:
    """The order's table that says its units, for an order that a part of it is read with."""
    return {name: data[name] for name in ("shop",) if name in data}


@dataclass(frozen=True)
class Stripe:
    """A stripe as the page lists it."""

    name: str
    colour: str
    threads: str
    wide: str


@dataclass(frozen=True)
class TartanLook:
    """A tartan read, or what is wrong with it; `key` names its picture."""

    job: Job | None
    problems: tuple[Problem, ...]
    key: str = ""
    stripes: tuple[Stripe, ...] = ()
    written: str = ""
    centres: str = ""


def tartan_look(house: House, data: Data, shop: Shop) -> TartanLook:
    """What is to be said of the tartan table of an order's data."""
    table = data.get("tartan")
    if not isinstance(table, dict) or not ({"count", "widths"} & table.keys()):
        return TartanLook(None, ())
    table = table if "sett" in table else {**table, "sett": "6 in"}
    text = text_of({**WEARER, **units_said(data), "tartan": table})
    try:
        job = house.desk.job(text, shop.text)
    except InputError as error:
        return TartanLook(None, error.problems)
    tartan, units = job.request.tartan, job.units
    sett = tartan.weft
    thread = float(job.request.sett_along) / sett.n
    stripes = tuple(
        Stripe(
            short_name(sett, stripe),
            tartan.hex_of(stripe.colour),
            f"{float(stripe.threads):g}",
            write_length(float(stripe.threads) * thread, units),
        )
        for stripe in sett.stripes
    )
    centres = ", ".join(short_name(sett, sett.stripe_at(centre)) for centre in sett.mirror_centres)
    return TartanLook(job, (), house.desk.keep_text(text, shop.text), stripes, write_count(sett), centres)


@router.get("/orders/{number}/tartan")
def tartan_page(request: Request, house: HouseOf, number: int) -> Response:
    """The tartan of an order."""
    card = house.card(number)
    return _page(request, house, card, data_of(card.document))


def _missing(house: House, data: Data, shop: Shop) -> tuple[Problem, ...]:
    """What the tartan still lacks: the size of its sett, unless the piece or the widths tell it."""
    needed: Data = {name: data[name] for name in ("tartan", "piece", "shop") if name in data}
    try:
        house.desk.job(text_of({**WEARER, **needed}), shop.text)
    except InputError as error:
        every = (named(each) for each in error.problems)
        return tuple(each for each in every if each.field.startswith("tartan"))
    return ()


def _page(
    request: Request,
    house: House,
    card: OrderCard,
    data: Data,
    missing: tuple[Problem, ...] = (),
    status: int = 200,
) -> Response:
    shop = house.shop()
    look = tartan_look(house, data, shop)
    return order_page(
        request,
        house,
        card,
        "order/tartan.html",
        status=status,
        f=Fields(data, look.problems or missing, _shown(data)),
        look=look,
        units=shop.units_of(data),
        shade_choices=[(shade, shade) for shade in SHADES],
        book=[(one, _fills(one, shop.units_of(data))) for one in house.store.tartans(limit=500)],
    )


def _shown(data: Data) -> dict[str, str]:
    """A sett size that was written short, in its long form."""
    short = {name: field_of(data, name) for name in ("tartan.sett", "tartan.sett_across")}
    return {f"{name}.measured": text for name, text in short.items() if text}


def _fills(card: TartanCard, units: Units) -> dict[str, str]:
    """The fields that a tartan of the book fills in, in an order of these units."""
    try:
        table = data_of(card.document)
    except InputError:
        return {}
    table = unspelt({"tartan": table.get("tartan", table)}, units)["tartan"]
    names = ("name", "count", "pivots", "shade", "sett", "sett.measured", "sett.over")
    found = {f"tartan.{name}": field_of(table, name) for name in names}
    if found["tartan.sett"]:
        found["tartan.sett.measured"] = found.pop("tartan.sett")
    return {name: text for name, text in found.items() if text}


@router.post("/orders/{number}/tartan/look")
def look_at_tartan(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """The tartan as it is being written; nothing is kept."""
    card = house.card(number)
    data = with_fields(data_of(card.document), form.under("tartan"))
    shop = house.shop()
    look, missing = tartan_look(house, data, shop), _missing(house, data, shop)
    return render(request, "parts/tartan_look.html", look=look, missing=missing)


@router.post("/orders/{number}/tartan")
def save_tartan(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Keep the tartan in the order, and in the book where that is asked for."""
    card = house.card(number)
    data = with_fields(_without_short(data_of(card.document)), form.under("tartan"))
    look = tartan_look(house, data, house.shop())
    card = house.store.save(replace(card, version=form.version, document=kept_text(data)))
    missing = _missing(house, data, house.shop())
    if look.job is None or missing:
        return _page(request, house, card, data, missing, 422)
    if form.get("book") == "true":
        name = field_of(data, "tartan.name") or "unnamed"
        apart = spelt({"tartan": data["tartan"]}, house.shop().units_of(data))
        house.store.add(TartanCard(name, document=kept_text(apart)))
    return back_to(card, "cloth")


def _without_short(data: Data) -> Data:
    """The order without sett sizes in their short form, which the page writes in the long one."""
    table = data.get("tartan")
    if isinstance(table, dict):
        kept = {
            name: part
            for name, part in table.items()
            if not name.startswith("sett") or isinstance(part, dict)
        }
        return {**data, "tartan": kept}
    return data
