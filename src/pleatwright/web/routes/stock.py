"""Cloth in stock: pieces, where they lie, for whom they are kept, what is left after a rip."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units, exact_text, round_up_yards, write_length, write_yards
from pleatwright.order import spelt, unspelt
from pleatwright.shop.store import OPEN, ClothPiece, State
from pleatwright.shop.store.values import PieceState
from pleatwright.web.bolt import HERE, cut_off, needed, wants
from pleatwright.web.document import data_of, field_of, kept_text, with_fields
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.pages import render
from pleatwright.web.routes.orders import PageNumber, Search
from pleatwright.web.texts import mistake, texts

router = APIRouter()

PAGE = 100
UNCUT = tuple(state for state in OPEN if list(State).index(state) < list(State).index(State.RIPPED))
"""States of orders for which cloth may still be cut off."""
STATES: tuple[PieceState, ...] = ("ordered", "here", "ripped", "used up")


@router.get("/cloth")
def list_pieces(request: Request, house: HouseOf, q: Search = "", page: PageNumber = 1) -> Response:
    """The pieces in stock."""
    pieces = house.store.pieces(q, limit=PAGE + 1, offset=(page - 1) * PAGE)
    return render(
        request,
        "stock.html",
        pieces=pieces[:PAGE],
        q=q,
        page=page,
        more=len(pieces) > PAGE,
        units=house.shop().units,
    )


@router.get("/cloth/new")
def new_piece(request: Request, house: HouseOf) -> Response:
    """An empty piece."""
    return _page(request, house, ClothPiece(""), Fields({}, (), {"arrived_on": house.today().isoformat()}))


@router.post("/cloth/new")
def add_piece(request: Request, house: HouseOf, form: FormSent) -> Response:
    """A new piece in stock."""
    try:
        piece = house.store.add(_filled(house, ClothPiece(""), form))
    except InputError as error:
        return _again(request, house, ClothPiece(""), form, error)
    return RedirectResponse(f"/cloth/{piece.id}", 303)


@router.get("/cloth/{number}")
def one_piece(
    request: Request, house: HouseOf, number: int, order: Annotated[int | None, Query()] = None
) -> Response:
    """One piece; with an order's number, what is to be cut off for it."""
    piece = house.store.get(ClothPiece, number)
    return _page(request, house, piece, _fields(house, piece), wanted=_wanted(house, order))


def _wanted(house: House, order: int | None) -> dict[str, str]:
    """The fields of a cut for an order: its number, and what it needs, in quarters of a yard or 10 cm."""
    if order is None:
        return {}
    shop, card = house.shop(), house.card(order)
    inches = needed(house, card, shop)
    length = "" if inches is None else write_yards(round_up_yards(inches, shop.units), shop.units)
    return {"cut_for": str(order), "cut_length": length}


@router.post("/cloth/{number}/cut")
def cut_piece(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Cut a length off a piece, for an order or to lie by."""
    piece = replace(house.store.get(ClothPiece, number), version=form.version)
    card = house.card(form.whole("cut_for")) if form.get("cut_for") else None
    try:
        length = form.length("cut_length", form.units(house.shop().units))
        if length is None:
            raise InputError(mistake("no_cut", "cut_length"))
        whose = str(card.reference or card.id) if card else texts()["stock"]["cut_off"]
        name = form.get("cut_name") or f"{piece.name}, {whose}"
        _, off = cut_off(house, piece, length, card, name[:200])
    except InputError as error:
        fields = _fields(house, piece)
        told = Fields(fields.data, error.problems, {**fields.more, **dict(form.fields)})
        return _page(request, house, piece, told, 422, units=form.units(house.shop().units))
    return RedirectResponse(f"/cloth/{off.id}" if card is None else f"/orders/{card.id}/cloth", 303)


@router.post("/cloth/{number}")
def save_piece(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Save a piece."""
    piece = replace(house.store.get(ClothPiece, number), version=form.version)
    try:
        house.store.save(_filled(house, piece, form))
    except InputError as error:
        return _again(request, house, piece, form, error)
    return RedirectResponse(f"/cloth/{number}", 303)


@router.post("/cloth/{number}/rip")
def rip_piece(house: HouseOf, number: int, form: FormSent) -> Response:
    """Say that a piece was ripped, and what is left of it."""
    piece = replace(house.store.get(ClothPiece, number), version=form.version)
    units = form.units(house.shop().units)
    long, wide = form.length("left_length", units), form.length("left_width", units)
    left = []
    if long and wide:
        name = f"{piece.name}, {form.get('left_name') or 'left'}"[:200]
        left.append(
            ClothPiece(
                name,
                tartan=piece.tartan,
                length=long,
                width=wide,
                weight=piece.weight,
                shelf=form.get("left_shelf"),
            )
        )
    house.store.rip(piece, left)
    return RedirectResponse(f"/cloth/{number}", 303)


def _page(
    request: Request,
    house: House,
    piece: ClothPiece,
    fields: Fields,
    status: int = 200,
    wanted: dict[str, str] | None = None,
    units: Units | None = None,
) -> Response:
    fields.more.update(wanted or {})
    return render(
        request,
        "piece.html",
        status=status,
        piece=piece,
        f=fields,
        units=units or house.shop().units,
        states=STATES,
        tartans=[(str(one.id), one.name) for one in house.store.tartans(limit=500)],
        kept=wants(house, piece),
        parts=[
            wants(house, one)
            for one in house.store.pieces(limit=500)
            if piece.id and one.came_from == piece.id
        ],
        cuts=bool(piece.id and piece.length and piece.state in HERE),
        orders=[
            (str(one.id), f"{one.reference or one.id}, {one.client_name}")
            for one in house.store.orders(states=UNCUT, limit=300)
            if one.kind == "kilt"
        ],
    )


def _again(request: Request, house: House, piece: ClothPiece, form: Form, error: InputError) -> Response:
    return _page(
        request,
        house,
        piece,
        Fields(data_of(piece.document), error.problems, dict(form.fields)),
        422,
        units=form.units(house.shop().units),
    )


def _fields(house: House, piece: ClothPiece) -> Fields:
    units = house.shop().units

    def long(value: Fraction | None) -> str:
        return (
            ""
            if value is None
            else write_length(value, units).rstrip('"')
            if units == "metric"
            else exact_text(value)
        )

    shown = {
        "name": piece.name,
        "state": piece.state,
        "supplier": piece.supplier,
        "shelf": piece.shelf,
        "notes": piece.notes,
        "tartan": "" if piece.tartan is None else str(piece.tartan),
        "arrived_on": "" if piece.arrived_on is None else piece.arrived_on.isoformat(),
        "weight": "" if piece.weight is None else exact_text(piece.weight),
        "piece.width": long(piece.width),
        "piece.length": long(piece.length),
    }
    data = unspelt(data_of(piece.document), units)
    return Fields(data, (), {name: text for name, text in shown.items() if text and not field_of(data, name)})


def _filled(house: House, piece: ClothPiece, form: Form) -> ClothPiece:
    """The piece with the form's fields; raises InputError with every mistake."""
    units, problems = form.units(house.shop().units), list[Problem]()

    def length(name: str) -> Fraction | None:
        try:
            return form.length(name, units)
        except InputError as error:
            problems.extend(error.problems)
            return None

    name = " ".join(form.get("name").split())[:200]
    if not name:
        problems.append(mistake("no_piece_name", "name"))
    state: PieceState = next((one for one in STATES if one == form.get("state")), "here")
    tartan = form.get("tartan")
    data = spelt(with_fields(data_of(piece.document), form.under("piece")), units)
    made = replace(
        piece,
        name=name,
        state=state,
        tartan=int(tartan) if tartan.isascii() and tartan.isdigit() and len(tartan) < 10 else None,
        supplier=form.get("supplier")[:200],
        shelf=form.get("shelf")[:100],
        notes=form.get("notes"),
        arrived_on=form.day("arrived_on"),
        width=length("piece.width"),
        length=length("piece.length"),
        weight=_weight(form, problems),
        order=None if form.get("free") == "true" else piece.order,
        document=kept_text(data) if data else "",
    )
    if problems:
        raise InputError(problems)
    return made


def _weight(form: Form, problems: list[Problem]) -> Fraction | None:
    text = form.get("weight")
    if not text:
        return None
    try:
        value = Fraction(text)
    except (ValueError, ZeroDivisionError):
        value = Fraction(-1)
    if not 0 < value < 100:
        problems.append(mistake("no_weight", "weight", text=text[:40]))
        return None
    return value
