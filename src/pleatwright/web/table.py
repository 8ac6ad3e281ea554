"""Table mode: the marks one by one, for a tablet at the cutting table."""

from __future__ import annotations

from importlib.resources import files
from typing import Annotated

from fastapi import APIRouter, Body, Request
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from pleatwright.errors import InputError
from pleatwright.web.errors import Refused
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import order_page
from pleatwright.web.pages import render
from pleatwright.web.table_page import table_json
from pleatwright.web.table_work import Entered, enter, milliseconds, on_table
from pleatwright.web.texts import texts

router = APIRouter()

MOST = 500
"""Entries a table may send at once."""
BY = "table"
LATEST = 10**13
"""Milliseconds since 1970 beyond which no clock of a workshop goes."""


class Entry(BaseModel):
    """One thing entered at the table: a stripe that was found, or a mark that was chalked or rubbed out.

    `at`: when, by the workshop's clock, in milliseconds since 1970; left out: now.
    """

    model_config = ConfigDict(extra="forbid")

    key: Annotated[str, Field(min_length=8, max_length=64, pattern="^[A-Za-z0-9-]+$")]
    mark: Annotated[str, Field(min_length=1, max_length=120)]
    text: Annotated[str, Field(max_length=40)] = ""
    chalked: (
        Annotated[str, Field(max_length=20, pattern=r"^(\d{1,5}( \d{1,3}/\d{1,3})?|\d{1,6}/\d{1,3})?$")]
        | None
    ) = None
    stands: bool = False
    at: Annotated[int, Field(ge=0, le=LATEST)] | None = None


@router.get("/orders/{number}/table")
def table(request: Request, house: HouseOf, number: int) -> Response:
    """The page that shows one mark a screen; what is missing where there is nothing to mark yet."""
    card = house.card(number)
    try:
        here = on_table(house, number)
    except (InputError, Refused) as error:
        return order_page(request, house, card, "table/nothing.html", problems=error.problems)
    return render(request, "table/table.html", card=card, job=here.job, lan=house.lan)


@router.get("/orders/{number}/table/marks")
def table_marks(house: HouseOf, number: int) -> JSONResponse:
    """Everything the table shows, to be held there."""
    return JSONResponse(_held(house, number))


@router.post("/orders/{number}/table/entries")
def table_entries(
    house: HouseOf, number: int, entries: Annotated[list[Entry], Body(max_length=MOST, embed=True)]
) -> JSONResponse:
    """Keep what was entered at the table; the marks as they lie now, and what could not be followed.

    An entry that was sent before is not kept twice.
    """
    entered = [
        Entered(one.key, one.mark, one.text.strip(), one.chalked, one.stands, one.at) for one in entries
    ]
    try:
        problems = enter(house, number, entered, BY)
    except InputError as error:
        raise Refused(422, error.problems) from None
    wrong = [{"mark": p.field, "seen": p.seen, "allowed": p.allowed, "fix": p.fix} for p in problems]
    return JSONResponse({**_held(house, number), "problems": wrong})


@router.get("/sw.js")
def worker() -> Response:
    """The script that keeps the table's page at hand while the workshop's machine cannot be reached."""
    script = (files("pleatwright.web") / "static" / "table.worker.js").read_bytes()
    return Response(script, media_type="text/javascript", headers={"cache-control": "no-cache"})


@router.get("/authority.crt")
def authority(request: Request) -> Response:
    """The authority that vouches for this machine's certificate, to be put on a tablet; nothing secret."""
    if not request.app.state.authority:
        raise Refused(404)
    return Response(
        request.app.state.authority,
        media_type="application/x-x509-ca-cert",
        headers={"content-disposition": 'attachment; filename="pleatwright-authority.crt"'},
    )


def _held(house: House, number: int) -> dict[str, object]:
    here = on_table(house, number)
    checks = house.store.checks(number)
    moment = milliseconds(house.store.now())
    return table_json(here, checks[-1] if checks else None, moment, texts()["table"])
