"""Closing and finishing a kilt; what it can still give; and altering it."""

from __future__ import annotations

from fractions import Fraction

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.bench.alter import Alteration
from pleatwright.bench.closing import Closing
from pleatwright.errors import InputError
from pleatwright.lengths import write_length
from pleatwright.sheets import write_pdf
from pleatwright.sheets.pages.alteration_page import alteration_pages
from pleatwright.shop.store import OrderCard
from pleatwright.web.alterations import FINISHED, NEW, altered, order_alteration, refuse_unfinished
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import Pinned, back_to, in_force, order_page
from pleatwright.web.routes.files import PDF, attached

router = APIRouter()


@router.get("/orders/{number}/closing")
def closing_page(request: Request, house: HouseOf, number: int) -> Response:
    """Straps, inside, last measures, what the kilt can give later."""
    card = house.card(number)
    return _page(request, house, card, in_force(house, card), Fields({}))


def _page(
    request: Request,
    house: House,
    card: OrderCard,
    found: Pinned,
    fields: Fields,
    work: Alteration | None = None,
    status: int = 200,
) -> Response:
    job = found.worked.job
    made: Closing = house.desk.closing(found.worked, found.option)
    return order_page(
        request,
        house,
        card,
        "order/closing.html",
        status=status,
        f=fields,
        made=made,
        job=job,
        long=lambda value: write_length(max(value, Fraction(0)), job.units, job.grid),
        given=lambda value: write_length(value, job.units, job.grid) if value > 0 else "–",
        altered=work,
        finished=card.state in FINISHED,
        asked={name: fields.value(name) for name in NEW},
    )


@router.post("/orders/{number}/closing")
def plan_alteration(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Work out an alteration; nothing is kept."""
    card = house.card(number)
    refuse_unfinished(card)
    found = in_force(house, card)
    shown = _asked(form)
    try:
        work = altered(found, shown)
    except InputError as error:
        return _page(request, house, card, found, Fields({}, error.problems, shown), status=422)
    return _page(request, house, card, found, Fields({}, (), shown), work)


def _asked(form: Form) -> dict[str, str]:
    return {name: form.get(name) for name in NEW}


@router.post("/orders/{number}/alteration.pdf")
def alteration_pdf(house: HouseOf, number: int, form: FormSent) -> Response:
    """The alteration as pages for the bench."""
    card = house.card(number)
    refuse_unfinished(card)
    found = in_force(house, card)
    job = found.worked.job
    name = ", ".join(part for part in (job.client, job.reference) if part)
    pages = alteration_pages(altered(found, _asked(form)), name, job.units, job.grid, job.paper)
    return attached(write_pdf(pages, f"{name}, alteration"), PDF, f"{card.reference}-alteration.pdf")


@router.post("/orders/{number}/alterations")
def take_alteration(house: HouseOf, number: int, form: FormSent) -> Response:
    """Take an alteration on as an order of its own."""
    return back_to(order_alteration(house, house.card(number), _asked(form)))
