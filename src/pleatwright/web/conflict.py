"""Two benches saved the same thing: the second is shown both, field by field, and loses nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from datetime import date
from typing import Any

from fastapi import Request
from fastapi.responses import Response

from pleatwright.errors import InputError
from pleatwright.shop.store import (
    Client,
    ClothPiece,
    Conflict,
    Draft,
    Kept,
    Measurements,
    OrderCard,
    Quote,
    TartanCard,
)
from pleatwright.web.document import data_of
from pleatwright.web.errors import error_response
from pleatwright.web.names import name_of
from pleatwright.web.pages import day, render
from pleatwright.web.texts import mistake

_DAY = re.compile(r"\d{4}-\d\d-\d\d")


@dataclass(frozen=True)
class Differs:
    """A field that two people have left in two ways."""

    name: str
    mine: str
    theirs: str


def conflict_page(request: Request, error: Conflict) -> Response:
    """Both versions side by side (409)."""
    if "application/json" in request.headers.get("accept", ""):
        said = {"mine": error.mine.version, "theirs": error.theirs.version, "draft": error.draft.id}
        return error_response(request, 409, [mistake("not_last", error.draft.kind, **said)])
    return both(request, error.draft, error.mine, error.theirs, 409)


def both(request: Request, draft: Draft, mine: Kept, theirs: Kept, status: int = 200) -> Response:
    """What was kept aside beside what is kept now, and the choice between them."""
    return render(
        request,
        "conflict.html",
        status=status,
        draft=draft,
        differing=differences(mine, theirs),
        where=page_of(theirs),
        version=theirs.version,
    )


def page_of(kept: Kept) -> str:
    """The page on which something that is kept is changed."""
    match kept:
        case OrderCard():
            return f"/orders/{kept.id}"
        case Client():
            return f"/clients/{kept.id}"
        case Measurements():
            return f"/clients/{kept.client}"
        case ClothPiece():
            return f"/cloth/{kept.id}"
        case TartanCard():
            return f"/tartans/{kept.id}"
        case Quote():
            return f"/orders/{kept.order}/quote"
    return "/shop"


def differences(mine: Kept, theirs: Kept) -> tuple[Differs, ...]:
    """Every field that differs, by its name in words; what an order and its document both hold once."""
    one, other = _flat(mine), _flat(theirs)
    differing = (
        Differs(name_of(name), _told(one.get(name, "")), _told(other.get(name, "")))
        for name in dict.fromkeys([*one, *other])
        if one.get(name, "") != other.get(name, "")
    )
    return tuple(dict.fromkeys(differing))


def _told(text: str) -> str:
    """A value as it is shown: a day as the pages write it."""
    try:
        return day(date.fromisoformat(text)) if _DAY.fullmatch(text) else text
    except ValueError:
        return text


def _flat(value: Kept) -> dict[str, str]:
    found: dict[str, str] = {}
    for field in fields(value):
        part = getattr(value, field.name)
        if field.name in ("id", "version") or part is None:
            continue
        if field.name == "document":
            try:
                _spread(found, "", data_of(part))
            except InputError:
                found["document"] = part
        else:
            found[field.name] = str(part)
    return found


def _spread(found: dict[str, str], where: str, part: Any) -> None:
    if isinstance(part, dict):
        for name, inner in part.items():
            _spread(found, f"{where}.{name}" if where else name, inner)
    elif isinstance(part, list):
        for number, inner in enumerate(part, 1):
            _spread(found, f"{where} {number}", inner)
    else:
        found[where] = str(part)
