"""Letting a browser in: by the link that opens the app once, or by a one-time code."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import Problem
from pleatwright.web.forms import FormSent
from pleatwright.web.guard import cookie_of, from_here
from pleatwright.web.house import House, HouseOf
from pleatwright.web.pages import render
from pleatwright.web.sessions import IDLE, LONGEST, Session
from pleatwright.web.texts import mistake

router = APIRouter()


@router.get("/open")
def open_page(request: Request, house: HouseOf, key: Annotated[str, Query(max_length=100)] = "") -> Response:
    """Let in the browser that comes by the link that was printed; the link is good once.

    It goes on by itself, from a page of ours: a browser withholds the cookie while it follows a link from
    elsewhere.
    """
    session = house.sessions.opened(key)
    if session is not None:
        return _let_in(request, session, render(request, "opened.html"))
    if getattr(request.state, "session", None) is not None:
        return RedirectResponse("/", 303)
    return _pairing(request, house, 403, (mistake("link_used", "link"),))


@router.get("/pair")
def pair_page(request: Request, house: HouseOf) -> Response:
    """Where a browser that is not let in yet enters the code, which is told anew where it has run out."""
    return _pairing(request, house, 200, ())


@router.post("/pair")
def pair(request: Request, house: HouseOf, form: FormSent) -> Response:
    """Let this browser in, if the code is right."""
    session = house.sessions.pair(form.get("code"), LONGEST if from_here(request.scope) else IDLE)
    if session is None:
        return _pairing(request, house, 403, (mistake("wrong_code", "code"),))
    return _let_in(request, session, RedirectResponse("/", 303))


def _pairing(request: Request, house: House, status: int, problems: tuple[Problem, ...]) -> Response:
    house.sessions.code()
    return render(request, "pair.html", status=status, problems=problems)


def _let_in(request: Request, session: Session, answer: Response) -> Response:
    answer.headers["set-cookie"] = cookie_of(session, request.scope, request.app.state.secure)
    return answer
