"""The piece of cloth of an order: where its stripes lie, readings, faults; how its sett wanders, drawn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.bench.readings import reading_told
from pleatwright.cloth import Taped
from pleatwright.errors import InputError, Problem
from pleatwright.findings import Finding
from pleatwright.lengths import Units
from pleatwright.order import Job, unspelt
from pleatwright.shop.store import ClothPiece, OrderCard, State
from pleatwright.web.bolt import HERE, taken, wants
from pleatwright.web.document import Data, data_of, field_of, kept_text, text_of, with_fields
from pleatwright.web.drift import Plot, plot_of
from pleatwright.web.errors import Refused
from pleatwright.web.forms import Fields, FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.orders import advance, back_to, order_page
from pleatwright.web.pages import render
from pleatwright.web.routes.tartan import WEARER, units_said
from pleatwright.web.texts import mistake

router = APIRouter()

SETTS = ("sett", "sett_across")
EDGES = ("readings", "second_readings", "readings_across")
"""Where the tape is read: along the bottom selvedge, along the other one, up from the bottom one."""
BOLTS = 8
"""Pieces that are named as bolts to cut from, or as kept for others."""
ROWS = {"readings": (6, 2), "second_readings": (2, 1), "readings_across": (2, 1), "faults": (1, 1)}
"""Empty rows on a page without any, and below those there are."""


@dataclass(frozen=True)
class ReadingRow:
    """A reading against what the others foretell, in words."""

    number: str
    stripe: str
    repeat: str
    read: str
    likely: str
    apart: str
    doubtful: bool


@dataclass(frozen=True)
class ClothLook:
    """What is to be said of a piece: findings, plot, every reading held against the others."""

    job: Job | None
    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...] = ()
    plot: Plot | None = None
    edges: tuple[tuple[str, tuple[ReadingRow, ...]], ...] = ()


def cloth_look(house: House, data: Data, shop: Shop) -> ClothLook:
    """The piece of an order's data, read with its tartan and whoever is to wear it."""
    if not isinstance(data.get("piece"), dict):
        return ClothLook(None, ())
    needed: Data = {
        name: data[name]
        for name in ("client", "wearer", "kilt", "tartan", "settings", "shop")
        if name in data
    }
    try:
        job = house.desk.job(text_of({**WEARER, **needed, "piece": data["piece"]}), shop.text)
    except InputError as error:
        return ClothLook(None, error.problems)
    edges = tuple((edge.where, _rows(edge, job)) for edge in job.taped)
    return ClothLook(job, (), job.cloth_findings, plot_of(job), edges)


def _rows(edge: Taped, job: Job) -> tuple[ReadingRow, ...]:
    rows = []
    for check in edge.checks:
        rows.append(
            ReadingRow(
                str(check.number) if check.number <= edge.entries else "–",
                check.reading.stripe,
                str(check.repeat),
                *reading_told(check, job),
                check.doubtful,
            )
        )
    return tuple(rows)


@router.get("/orders/{number}/cloth")
def cloth_page(request: Request, house: HouseOf, number: int) -> Response:
    """The cloth of an order."""
    card = house.card(number)
    return _page(request, house, card, data_of(card.document))


def _page(request: Request, house: House, card: OrderCard, data: Data, status: int = 200) -> Response:
    shop = house.shop()
    look = cloth_look(house, data, shop)
    pieces = [one for one in house.store.pieces(limit=300) if one.state in HERE]
    held = next((one for one in pieces if one.order == card.id), None)
    units = shop.units_of(data)
    filled = _fills(held, units) if held is not None and "piece" not in data else {}
    fields = Fields(data, look.problems, {**filled, **_shown(data)})
    free = [one for one in pieces if one.order in (None, card.id)]
    tartan = field_of(data, "tartan.name").casefold()
    free.sort(key=lambda one: not (tartan and tartan in one.name.casefold()))
    return order_page(
        request,
        house,
        card,
        "order/cloth.html",
        status=status,
        f=fields,
        look=look,
        units=units,
        rows={
            name: fields.rows(f"piece.{name}", more if fields.rows(f"piece.{name}") else first)
            for name, (first, more) in ROWS.items()
        },
        edges=EDGES,
        pieces=[(one, _fills(one, units)) for one in free],
        held=None if held is None else held.id,
        bolts=[one for one in free if one.order is None and one.length][:BOLTS],
        others=[wants(house, one) for one in pieces if one.order not in (None, card.id)][:BOLTS],
        takes=taken(house, card),
        labels=_labels(house, data, shop),
    )


def _labels(house: House, data: Data, shop: Shop) -> list[str]:
    """How the tartan's stripes are written, for a field's list."""
    from pleatwright.order.references import Stripes

    if not isinstance(data.get("tartan"), dict):
        return []
    try:
        table = {"sett": "6 in", **data["tartan"]}
        job = house.desk.job(text_of({**WEARER, **units_said(data), "tartan": table}), shop.text)
    except InputError:
        return []
    tartan = job.request.tartan
    stripes = Stripes(tartan.weft, tartan.pivots == "half", "to the right", job.units)
    return list(dict.fromkeys(stripes.label(stripe) for stripe in tartan.weft.stripes))


def _shown(data: Data) -> dict[str, str]:
    short = {name: field_of(data, f"piece.{name}") for name in SETTS}
    found = {f"piece.{name}.measured": text for name, text in short.items() if text}
    for name in ("left_end", "selvedge"):
        found |= {f"piece.{name}.stripe": text for text in [field_of(data, f"piece.{name}")] if text}
    return found


def _fills(piece: ClothPiece, units: Units) -> dict[str, str]:
    """The fields that a piece in stock fills in, in an order of these units."""
    try:
        table = data_of(piece.document)
    except InputError:
        table = {}
    found: dict[str, str] = {}
    _spread(found, "piece", unspelt({"piece": table.get("piece", table)}, units)["piece"])
    return found


def _spread(found: dict[str, str], where: str, part: Any) -> None:
    if isinstance(part, dict):
        for name, inner in part.items():
            _spread(found, f"{where}.{name}", inner)
    elif isinstance(part, list):
        for number, inner in enumerate(part):
            _spread(found, f"{where}.{number}", inner)
    else:
        found[where] = (
            {True: "true", False: "false"}.get(part, str(part)) if isinstance(part, bool) else str(part)
        )


@router.post("/orders/{number}/cloth/look")
def look_at_cloth(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """The piece as it is being written; nothing is kept."""
    card = house.card(number)
    data = with_fields(_without_short(data_of(card.document)), form.under("piece"))
    look = cloth_look(house, data, house.shop())
    return render(request, "parts/cloth_look.html", look=look, f=Fields(data, look.problems))


@router.post("/orders/{number}/cloth")
def save_cloth(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Keep the cloth in the order; `none` takes it out while none has been bought."""
    card = house.card(number)
    data = _without_short(data_of(card.document))
    if form.get("none") == "true":
        data.pop("piece", None)
    else:
        data = with_fields(data, form.under("piece"))
    look = cloth_look(house, data, house.shop())
    card = house.store.save(replace(card, version=form.version, document=kept_text(data)))
    if form.get("stock"):
        _keep_for(house, card, form.whole("stock"))
    if look.problems:
        return _page(request, house, card, data, 422)
    if look.job is not None:
        card = advance(house, card, State.CLOTH_HERE)
    return back_to(card, "options")


def _keep_for(house: House, card: OrderCard, number: int) -> None:
    """Put a piece in stock by for this order; raises Refused where it is kept for another one."""
    piece = house.store.get(ClothPiece, number)
    if piece.order not in (None, card.id):
        raise Refused(409, mistake("kept_for_another", "stock", piece=piece.name))
    house.store.save(replace(piece, order=card.id))


def _without_short(data: Data) -> Data:
    """The order without tables of the piece in their short form, which the page writes in the long one."""
    table = data.get("piece")
    if not isinstance(table, dict):
        return data
    short = (*SETTS, "left_end", "selvedge")
    kept = {name: part for name, part in table.items() if name not in short or isinstance(part, dict)}
    return {**data, "piece": kept}
