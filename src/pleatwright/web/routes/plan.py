"""The plan in force: its kilt, its marks, everything to print; and what another plan would move."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from pleatwright.bench import marks
from pleatwright.lengths import write_length
from pleatwright.picture import alt_text
from pleatwright.shop.store import State
from pleatwright.web.errors import NotYet
from pleatwright.web.forms import FormSent
from pleatwright.web.house import HouseOf
from pleatwright.web.orders import (
    ON_CLOTH,
    Moved,
    advance,
    back_to,
    changed_since,
    current,
    in_force,
    like,
    moved,
    order_page,
    pin,
    pinned,
)
from pleatwright.web.routes.options import figures
from pleatwright.web.texts import mistake

router = APIRouter()

LISTED = ("guide.pdf", "gauges.pdf", "templates.zip", "closing.pdf", "care-card.pdf")
"""What is printed on its own, beside the packet."""


@router.get("/orders/{number}/plan")
def plan_page(
    request: Request, house: HouseOf, number: int, option: Annotated[int | None, Query()] = None
) -> Response:
    """The plan in force; with the number of an option, what taking that one instead would move."""
    card = house.card(number)
    shop = house.shop()
    found = pinned(house, card)
    if found is None:
        return order_page(request, house, card, "order/no_plan.html", found=None)
    job = found.worked.job
    now, problems = current(house, card, shop)
    changed = changed_since(found, card)
    other = None if now is None else like(found.option, now.plan.options)
    if now is not None and option is not None:
        other = next((one for one in now.plan.options if one.number == option), other)
        changed = changed or (other is not None and other.title != found.option.title)
    moves: tuple[Moved, ...] = ()
    if changed and now is not None:
        moves = moved(found.kept, () if other is None else marks(other, now.job.request))
    elif found.read_on:
        moves = moved(found.kept, found.marks)
    return order_page(
        request,
        house,
        card,
        "order/plan.html",
        found=found,
        figures=figures(found.worked, found.option),
        alt={side: alt_text(found.option, job.request, side) for side in ("back", "front")},
        findings=found.worked.findings,
        long=lambda value: write_length(value, job.units, job.grid),
        problems=problems,
        changed=changed,
        other=other,
        moves=moves,
        wished=option is not None,
        on_cloth=card.state in ON_CLOTH,
        plans=house.store.plans(number),
        prints=LISTED,
    )


@router.post("/orders/{number}/plan")
def new_plan(house: HouseOf, number: int, form: FormSent) -> Response:
    """Put the plan of the order as it is now in force; the one before is kept."""
    card = house.card(number)
    if card.state in ON_CLOTH and form.get("sure") != "true":
        raise NotYet("plan", mistake("on_the_cloth", "plan"))
    kept = pin(house, card, house.shop(), form.whole("option"))
    changed = replace(card, version=form.version, plan=kept.number, option=form.whole("option"))
    card = house.store.save(changed)
    if card.state in (State.CHALKED, State.CHECKED):
        card = house.store.move(card.id, State.PLANNED)
    return back_to(card, "plan")


@router.post("/orders/{number}/chalked")
def chalked(house: HouseOf, number: int) -> Response:
    """Say that the marks are on the cloth."""
    card = house.card(number)
    in_force(house, card)
    return back_to(advance(house, card, State.CHALKED), "check")
