"""Who may use the app: sessions that expire, the link and the code that let a browser in once."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from hmac import compare_digest

IDLE = 12 * 3600.0
"""Seconds without use after which another device's session ends [our choice]."""
LONGEST = 7 * 24 * 3600.0
"""Seconds after which every session ends [our choice]."""
MOST = 500
"""Sessions kept; the one not used for longest goes first."""
TRIES = 5
"""Wrong codes after which there is a new one."""
CODE_LASTS, PAUSE = 600.0, 60.0
"""Seconds that a code is good for, and seconds in which none is after too many wrong ones [our choice]."""
LINKS = 50
"""Links that may be out at once."""


@dataclass(frozen=True)
class Session:
    """One browser: its secret, the token of every change, when it began and was last seen (seconds).

    `idle`: seconds without use after which it ends.
    """

    secret: str
    csrf: str
    began: float
    seen: float
    idle: float = IDLE


class Sessions:
    """The sessions of one run of the app; `clock` gives seconds that never run backwards.

    `told` hears every new code; without it no browser can be paired.  A code is made when it is asked for.
    """

    def __init__(self, clock: Callable[[], float], told: Callable[[str], None] | None = None) -> None:
        self._clock, self._told = clock, told
        self._open: dict[str, Session] = {}
        self._links: list[str] = []
        self._lock = threading.Lock()
        self._code, self._wrong, self._made, self._shut = "", 0, 0.0, 0.0

    def code(self) -> str:
        """The code that pairs the next browser, a new one where there is none or the last has run out; ""
        where none may be paired.
        """
        with self._lock:
            if not self._code or self._clock() - self._made > CODE_LASTS:
                self._renew()
            return self._code

    def link(self) -> str:
        """A secret that opens the app once, for the link that starts this machine's own browser."""
        made = secrets.token_urlsafe(24)
        with self._lock:
            self._links = [*self._links, made][-LINKS:]
        return made

    def opened(self, link: str) -> Session | None:
        """A session for the browser that comes by a link; None where it was used before or never made."""
        with self._lock:
            found = next((one for one in self._links if compare_digest(one.encode(), link.encode())), None)
            if found is None:
                return None
            self._links.remove(found)
        return self.begin(LONGEST)

    def begin(self, idle: float = IDLE) -> Session:
        """A new session; `idle`: seconds without use after which it ends."""
        now = self._clock()
        made = Session(secrets.token_urlsafe(32), secrets.token_urlsafe(24), now, now, idle)
        with self._lock:
            if len(self._open) >= MOST:
                del self._open[min(self._open.values(), key=lambda one: one.seen).secret]
            self._open[made.secret] = made
        return made

    def find(self, secret: str) -> Session | None:
        """The session of a cookie, if it has not expired."""
        now = self._clock()
        with self._lock:
            found = self._open.get(secret)
            if found is None:
                return None
            if now - found.seen > found.idle or now - found.began > LONGEST:
                del self._open[secret]
                return None
            found = self._open[secret] = replace(found, seen=now)
        return found

    def end(self, secret: str) -> None:
        """Close a session."""
        with self._lock:
            self._open.pop(secret, None)

    def pair(self, code: str, idle: float = IDLE) -> Session | None:
        """A session for the browser that shows the code; `idle` as for `begin`.

        A code is good once and for ten minutes; after five wrong ones there is a new one, and for a minute
        none is good.  Spaces in it do not count.
        """
        with self._lock:
            now = self._clock()
            if not self._code or now < self._shut:
                return None
            right = compare_digest("".join(code.split()).encode(), self._code.encode())
            right = right and now - self._made <= CODE_LASTS
            self._wrong += not right
            if not right and self._wrong >= TRIES:
                self._shut = now + PAUSE
            if right or self._wrong >= TRIES or now - self._made > CODE_LASTS:
                self._code = ""
        return self.begin(idle) if right else None

    def _renew(self) -> None:
        if self._told is not None:
            self._code, self._wrong, self._made = f"{secrets.randbelow(10**8):08d}", 0, self._clock()
            self._told(self._code)
