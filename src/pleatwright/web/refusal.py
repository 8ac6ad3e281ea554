"""A refusal about an order, told on a page of that order: its steps stay at hand, the way on is named."""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress

from fastapi import Request
from fastapi.responses import Response

from pleatwright.errors import InputError, Problem
from pleatwright.shop.store import NotKept, OrderCard, Unavailable
from pleatwright.web.document import data_of
from pleatwright.web.errors import NotYet, Refused, as_page, error_response, title_of
from pleatwright.web.orders import order_page

_OF_ORDER = re.compile(r"/orders/([0-9]{1,9})/")


def told(
    request: Request, status: int, problems: Iterable[Problem], error: Refused | None = None
) -> Response:
    """The refusal in the one shape of errors; as a page with the head of the order it is about."""
    title = "" if error is None else error.title
    problems = tuple(problems)
    found = _OF_ORDER.match(request.url.path)
    if found is not None and as_page(request):
        house = request.app.state.house
        with suppress(NotKept, Unavailable):
            card = house.card(int(found[1]))
            return order_page(
                request,
                house,
                card,
                "order/refused.html",
                status=status,
                title=title_of(status, title),
                problems=problems,
                way_on=_way_on(card, error),
            )
    return error_response(request, status, problems, title)


def _way_on(card: OrderCard, error: Refused | None) -> str:
    """The page of the order on which it is put right; "" where none is known."""
    if isinstance(error, NotYet):
        return error.step
    try:
        data_of(card.document)
    except InputError:
        return "measures"
    return ""
