"""The app put together: guard, pages, errors."""

from __future__ import annotations

import logging
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import date, datetime
from time import monotonic

from anyio.to_thread import current_default_thread_limiter
from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

import pleatwright
from pleatwright.errors import InputError
from pleatwright.shop.store import Conflict, NotKept, Store, Unavailable
from pleatwright.web.conflict import conflict_page
from pleatwright.web.errors import Refused, error_response
from pleatwright.web.forms import same_page
from pleatwright.web.guard import App, Guard, Message, Receive, Scope, Send, TooLargeError
from pleatwright.web.house import House
from pleatwright.web.names import named
from pleatwright.web.refusal import told
from pleatwright.web.routes import ROUTERS
from pleatwright.web.sessions import Sessions
from pleatwright.web.texts import mistake

log = logging.getLogger("pleatwright.web")

AT_ONCE = 4
"""Requests worked on at a time, the others wait their turn: more hold each other up on one interpreter
[our choice; with forty at a time twenty browsers wait twice as long]."""


@dataclass(frozen=True)
class WebSettings:
    """How the app is served.

    `hosts`: names it may be asked for, without port.  `lan`: other devices may be paired.  `tell` hears every
    new code.  `secure`: over TLS only, its certificate vouched for by `authority` (PEM).  `today`: the
    day of the workshop's own clock.
    """

    hosts: tuple[str, ...] = ("localhost", "127.0.0.1", "::1")
    lan: bool = False
    secure: bool = False
    authority: bytes = b""
    tell: Callable[[str], None] = lambda _: None
    today: Callable[[], date] = lambda: datetime.now().astimezone().date()
    clock: Callable[[], float] = monotonic


def make_app(store: Store, settings: WebSettings | None = None) -> FastAPI:
    """The workshop app over an open store; whoever opened it closes it."""
    settings = settings or WebSettings()
    sessions = Sessions(settings.clock, settings.tell)
    if settings.lan:  # another device will want one
        sessions.code()
    app = FastAPI(
        title="Pleatwright, the workshop app",
        version=pleatwright.__version__,
        docs_url=None,
        redoc_url=None,
        dependencies=[Depends(same_page)],
        lifespan=_few_at_once,
    )
    app.state.house = House(store, sessions, settings.today, settings.lan)
    app.state.secure = settings.secure
    app.state.authority = settings.authority
    for router in ROUTERS:
        app.include_router(router)
    app.mount("/static", StaticFiles(packages=[("pleatwright.web", "static")]), name="static")
    _errors(app)
    app.add_middleware(Heads)
    app.add_middleware(Quietly)
    app.add_middleware(Guard, sessions=sessions, hosts=frozenset(settings.hosts), secure=settings.secure)
    return app


@asynccontextmanager
async def _few_at_once(_: FastAPI) -> AsyncIterator[None]:
    current_default_thread_limiter().total_tokens = AT_ONCE
    yield


class Heads:
    """HEAD answers as GET does, without the body: a page has no other answer of its own."""

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer the request."""
        if scope.get("method") != "HEAD":
            await self.app(scope, receive, send)
            return

        async def sending(message: Message) -> None:
            empty = {"body": b""} if message["type"] == "http.response.body" else {}
            await send({**message, **empty})

        await self.app({**scope, "method": "GET"}, receive, sending)


class Quietly:
    """What no page expects ends here, inside the guard: its kind is logged, never its words or values."""

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer the request, with an error of the one shape if nothing else has been sent yet."""
        started = False

        async def sending(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, receive, sending)
        except TooLargeError:
            raise
        except Exception as error:  # whatever it is, it must not reach a log with its values
            route = getattr(scope.get("route"), "path", "?")
            log.error("%s %s: %s", scope.get("method"), route, type(error).__name__)
            if not started:
                await error_response(Request(scope), 500)(scope, receive, send)


def _errors(app: FastAPI) -> None:
    """Every error that is expected, in the one shape."""

    @app.exception_handler(Refused)
    def refused(request: Request, error: Refused) -> Response:
        return told(request, error.status, error.problems, error)

    @app.exception_handler(NotKept)
    def not_kept(request: Request, error: NotKept) -> Response:
        return error_response(request, 404, error.problems)

    @app.exception_handler(InputError)
    def bad_input(request: Request, error: InputError) -> Response:
        return told(request, 422, [named(each) for each in error.problems])

    @app.exception_handler(Conflict)
    def conflict(request: Request, error: Conflict) -> Response:
        return conflict_page(request, error)

    @app.exception_handler(Unavailable)
    def unavailable(request: Request, error: Unavailable) -> Response:
        return error_response(request, 503, [mistake("store_unavailable", "store", said=error)])

    @app.exception_handler(RequestValidationError)
    def not_valid(request: Request, error: RequestValidationError) -> Response:
        if any(each["loc"][0] == "path" for each in error.errors()):
            return error_response(request, 404)
        problems = [
            mistake("not_valid", ".".join(str(part) for part in each["loc"]), said=each["msg"].lower())
            for each in error.errors()
        ]
        return error_response(request, 422, problems)

    @app.exception_handler(HTTPException)
    def http(request: Request, error: HTTPException) -> Response:
        return error_response(request, error.status_code)
