"""What every request passes before a page sees it: host, size, session, origin; the headers of the answer."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import urlsplit

from pleatwright.web.sessions import Session, Sessions
from pleatwright.web.texts import texts

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

COOKIE = "pleatwright"
LARGEST = 2_000_000
"""Bytes of one request."""
SAFE = ("GET", "HEAD")
OPEN_PATHS = ("/pair", "/open", "/sw.js", "/authority.crt")
"""What a browser that is not paired yet may see, beside the look of the pages."""
LOOPBACK = ("127.0.0.1", "::1")

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "font-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=(), screen-wake-lock=(self)"),
)


class TooLargeError(Exception):
    """The body of a request is larger than any form here."""


class Guard:
    """The outermost layer; `hosts`: the names, without port, under which the app may be asked for."""

    def __init__(self, app: App, sessions: Sessions, hosts: frozenset[str], *, secure: bool = False) -> None:
        self.app, self.sessions, self.hosts, self.secure = app, sessions, hosts, secure

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            await self._http(scope, receive, send)

    async def _http(self, scope: Scope, receive: Receive, send: Send) -> None:
        heads = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        if _name_of(heads.get("host", "")) not in self.hosts:
            await _answer(send, 400, texts()["guard"]["address"])
            return
        declared = heads.get("content-length", "0")
        if not declared.isdigit() or int(declared) > LARGEST:
            await _answer(send, 413, texts()["guard"]["large"])
            return
        if scope["method"] not in SAFE and not _same_origin(heads):
            await _answer(send, 403, texts()["guard"]["elsewhere"])
            return
        session = self.sessions.find(_cookie(heads.get("cookie", ""), cookie_name(scope)))
        path = scope["path"]
        kept = path.startswith("/static/")
        if session is None and not kept and path not in OPEN_PATHS:
            if scope["method"] in SAFE:
                await _answer(send, 303, texts()["guard"]["first"], [(b"location", b"/pair")])
            else:
                await _answer(send, 401, texts()["guard"]["closed"])
            return
        scope.setdefault("state", {})["session"] = session
        started, taken = False, 0

        async def answer(message: Message) -> None:
            nonlocal started
            if taken > LARGEST and not started:
                raise TooLargeError  # whoever read the body may have made another refusal of it
            if message["type"] == "http.response.start":
                started = True
                given = {name.lower() for name, _ in message["headers"]}
                message["headers"] = [*message["headers"], *(h for h in HEADERS if h[0] not in given)]
                if b"cache-control" not in given:
                    rule = b"public, max-age=3600" if kept else b"no-store"
                    message["headers"].append((b"cache-control", rule))
            await send(message)

        async def receiving() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > LARGEST:
                raise TooLargeError
            return message

        try:
            await self.app(scope, receiving, answer)
        except TooLargeError:
            if not started:
                await _answer(send, 413, texts()["guard"]["large"])


def from_here(scope: Scope) -> bool:
    """Whether a request comes from this machine itself."""
    client = scope.get("client")
    return client is not None and client[0] in LOOPBACK


def cookie_name(scope: Scope) -> str:
    """The name of a session's cookie, a port's own: browsers share cookies between the ports of a machine."""
    return f"{COOKIE}-{scope['server'][1]}"


def cookie_of(session: Session, scope: Scope, secure: bool) -> str:
    """The Set-Cookie header of a session."""
    rest = "; Path=/; HttpOnly; SameSite=Strict; Max-Age=604800"
    return f"{cookie_name(scope)}={session.secret}{rest}{'; Secure' if secure else ''}"


def _cookie(header: str, name: str) -> str:
    try:
        found = SimpleCookie(header).get(name)
    except CookieError:
        return ""
    return "" if found is None else found.value


def _name_of(host: str) -> str:
    """A Host header without its port; "" for what is none."""
    try:
        return (urlsplit(f"//{host}").hostname or "").rstrip(".")
    except ValueError:
        return ""


def _same_origin(heads: dict[str, str]) -> bool:
    """Whether a change comes from a page of ours: by what the browser says, where it says anything."""
    if heads.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return False
    origin = heads.get("origin")
    if origin is None:
        return True
    try:
        return urlsplit(origin).netloc.lower() == heads.get("host", "").lower()
    except ValueError:
        return False


async def _answer(send: Send, status: int, words: str, more: list[tuple[bytes, bytes]] | None = None) -> None:
    body = f"{words}\n".encode()
    heads = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    heads += [*HEADERS, (b"cache-control", b"no-store"), *(more or [])]
    await send({"type": "http.response.start", "status": status, "headers": heads})
    await send({"type": "http.response.body", "body": body})
