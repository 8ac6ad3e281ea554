"""What could not be saved because somebody else had saved since: kept aside until it is settled."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import InputError
from pleatwright.shop.store import Draft, Kept, OrderCard, ShopText, value_of
from pleatwright.web.conflict import both, page_of
from pleatwright.web.document import Data, data_of
from pleatwright.web.errors import Refused
from pleatwright.web.forms import FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import ON_CLOTH
from pleatwright.web.routes.measures import keep_measured
from pleatwright.web.texts import mistake

router = APIRouter()


def _draft(house: House, number: int) -> Draft:
    found = next((one for one in house.store.drafts() if one.id == number), None)
    if found is None:
        raise Refused(404, mistake("no_draft", "draft", number=number))
    return found


def _as_kept(house: House, mine: Kept) -> Kept:
    """The same thing as it is kept now; raises NotKept."""
    return house.store.shop() if isinstance(mine, ShopText) else house.store.get(type(mine), mine.id)


def _kept_apart(house: House, mine: Kept) -> Kept:
    """What may be put over what is kept now: an order's state only moves, and what is on the cloth stays."""
    if not isinstance(mine, OrderCard):
        return mine
    now = house.card(mine.id)
    mine = replace(mine, state=now.state, measurements=now.measurements)
    return replace(mine, plan=now.plan, option=now.option) if now.state in ON_CLOTH else mine


@router.get("/drafts/{draft}")
def show_draft(request: Request, house: HouseOf, draft: int) -> Response:
    """What was kept aside beside what is kept now."""
    found = _draft(house, draft)
    mine = value_of(found)
    return both(request, found, mine, _as_kept(house, mine))


def _data(mine: OrderCard) -> Data:
    """What an order's text holds; nothing where it cannot be read."""
    try:
        return data_of(mine.document)
    except InputError:
        return {}


@router.post("/drafts/{draft}/take")
def take_draft(house: HouseOf, draft: int, form: FormSent) -> Response:
    """Put what was kept aside over what is kept now; the version says what was seen beside it."""
    found = _draft(house, draft)
    mine = replace(_kept_apart(house, value_of(found)), version=form.version)
    match mine:
        case ShopText():
            kept: Kept = house.store.save_shop(mine)
        case OrderCard():
            kept = keep_measured(house, mine, _data(mine), None)
        case _:
            kept = house.store.save(mine)
    house.store.drop_draft(draft)
    return RedirectResponse(page_of(kept), 303)


@router.post("/drafts/{draft}/drop")
def drop_draft(house: HouseOf, draft: int) -> Response:
    """Throw away what was kept aside, once it is settled."""
    found = _draft(house, draft)
    house.store.drop_draft(draft)
    return RedirectResponse(page_of(value_of(found)), 303)
