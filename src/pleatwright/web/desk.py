"""What is worked out for a page: an order's text read, planned and drawn, each once while it stays in use.

Everything goes the one way that the command line goes: read_order, make_plan, then marks, pages, pictures.
"""

from __future__ import annotations

import gc
import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, replace
from functools import _lru_cache_wrapper, cached_property
from typing import Any, TypeVar

from pleatwright.bench import cloth_findings
from pleatwright.bench.closing import Closing, closing
from pleatwright.findings import Finding
from pleatwright.layout import Compromise, Option, Plan, cloth_for, make_plan, nondominated, sensitivities
from pleatwright.order import Job, read_order
from pleatwright.picture import back_picture, front_picture, png_bytes
from pleatwright.web.document import Data, data_of, text_of

T = TypeVar("T")

STAND_IN = {"tartan": {"count": "K/20 W/20", "sett": "6"}}
"""A tartan to read measurements with, where the order has none yet; nothing of it is shown."""
WORKED, PICTURES, FIGURES = 48, 160, 10_000
"""Plans, pictures and single figures kept in memory."""
WIDEST, CLOTH_WIDE = 1600, 640


@dataclass(frozen=True)
class Worked:
    """An order worked out; `key` names it in the addresses of its pictures."""

    key: str
    job: Job
    plan: Plan

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Everything to be said of the plan and its cloth."""
        return (*self.job.questions, *cloth_findings(self.job, self.plan), *self.plan.findings)

    def option(self, number: int | None) -> Option | None:
        """The option of that number, the first where there is no such number, None without any."""
        named = [option for option in self.plan.options if option.number == number]
        return named[0] if named else self.plan.chosen

    def chosen(self, number: int | None) -> Worked:
        """The same with that option first, as the packet wants it, and the cloth to order for it."""
        first = self.option(number)
        if first is None:
            return self
        rest = tuple(option for option in self.plan.options if option is not first)
        to_order = cloth_for(first, self.job.request)
        return replace(self, plan=replace(self.plan, options=(first, *rest), to_order=to_order))


@dataclass(frozen=True)
class Few:
    """A few kilts of one kind to compare; `worked` has them as its options, for their pictures."""

    worked: Worked
    compromises: tuple[Compromise, ...]


class Kept:
    """The values made last, by name; what two threads want at once is made once.

    What is being made while everything is forgotten is not kept either.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._made: OrderedDict[Hashable, Any] = OrderedDict()
        self._lock = threading.Lock()
        self._making: dict[Hashable, threading.Lock] = {}
        self._cleared = 0

    def get(self, name: Hashable, make: Callable[[], T]) -> T:
        """The value of that name, made now if it is not there; what `make` raises is not kept."""
        found = self.find(name)
        if found is not None:
            value: T = found
            return value
        with self._lock:
            making, cleared = self._making.setdefault(name, threading.Lock()), self._cleared
        try:
            with making:
                found = self.find(name)
                if found is None:
                    found = make()
                    with self._lock:
                        if cleared == self._cleared:
                            self._made[name] = found
                        while len(self._made) > self._most:
                            self._made.popitem(last=False)
        finally:
            with self._lock:
                self._making.pop(name, None)
        result: T = found
        return result

    def __len__(self) -> int:
        with self._lock:
            return len(self._made)

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._made.clear()
            self._cleared += 1

    def find(self, name: Hashable) -> Any:
        """The value of that name, or None."""
        with self._lock:
            if name not in self._made:
                return None
            self._made.move_to_end(name)
            return self._made[name]


class Desk:
    """The app's working memory; nothing in it is needed after a restart."""

    def __init__(self) -> None:
        self._jobs, self._worked, self._pictures = Kept(WORKED), Kept(WORKED), Kept(PICTURES)
        self._figures, self._plans = Kept(FIGURES), Kept(WORKED)

    def job(self, text: str, shop: str) -> Job:
        """The order read; raises InputError with every mistake."""
        return self._jobs.get(key_of(text, shop), lambda: read_order(text, source="", shop_text=shop))

    def measured(self, text: str, shop: str) -> Job:
        """The order read for its measurements alone, with a tartan to stand in; raises InputError."""
        data = data_of(text)
        kept: Data = {name: data[name] for name in ("client", "wearer", "kilt", "shop") if name in data}
        return self.job(text_of({**kept, **STAND_IN}), shop)

    def worked(self, text: str, shop: str) -> Worked:
        """The order read and planned; raises InputError with every mistake."""
        key = key_of(text, shop)

        def make() -> Worked:
            job = self.job(text, shop)
            return Worked(key, job, make_plan(job.request))

        return self._worked.get(key, make)

    def keep_text(self, text: str, shop: str) -> str:
        """Read an order that a page only looks at; returns the key of its pictures.  Raises InputError."""
        self.job(text, shop)
        return key_of(text, shop)

    def known_job(self, key: str) -> Job | None:
        """The order that was read lately under that key."""
        found: Job | None = self._jobs.find(key)
        return found

    def known(self, key: str) -> Worked | None:
        """What was worked out lately under that key."""
        found: Worked | None = self._worked.find(key)
        return found

    def remember(self, worked: Worked) -> Worked:
        """Keep something worked out elsewhere, so that its pictures can be asked for."""
        return self._worked.get(worked.key, lambda: worked)

    def read_back(self, name: Hashable, make: Callable[[], T]) -> T:
        """A plan in force, read back from its record."""
        return self._plans.get(name, make)

    def picture(self, worked: Worked, option: Option, side: str, width: int) -> bytes:
        """The back or the front of an option as PNG, `width` pixels wide."""

        def make() -> bytes:
            draw = back_picture if side == "back" else front_picture
            return png_bytes(draw(option, worked.job.request, width_px=min(width, WIDEST)))

        return self._pictures.get((worked.key, option.number, side, width), make)

    def cloth(self, key: str, job: Job) -> bytes:
        """A sett and a half of flat cloth as PNG."""
        from pleatwright.picture import tartan_picture

        request = job.request
        sizes = (float(request.sett_along), float(request.sett_across))

        def make() -> bytes:
            return png_bytes(tartan_picture(request.tartan, width_px=CLOTH_WIDE, setts=1.5, sett_sizes=sizes))

        return self._pictures.get((key, "cloth"), make)

    def closing(self, worked: Worked, option: Option) -> Closing:
        """What closes a kilt, and its hours of work."""
        name = ("closing", worked.key, option.number)
        return self._plans.get(name, lambda: closing(worked.job, option))

    def bears(self, worked: Worked) -> Mapping[int, str]:
        """What each option bears, in words, by its number."""

        def make() -> Mapping[int, str]:
            found = sensitivities(worked.job.request, worked.plan)
            options = worked.plan.options
            return {option.number: one.words for option, one in zip(options, found, strict=True)}

        return self._plans.get(("bears", worked.key), make)

    def few(self, worked: Worked) -> Few:
        """The few kilts worth comparing with a plan's first."""

        def make() -> Few:
            found = nondominated(worked.job.request, worked.plan)
            plan = replace(worked.plan, options=tuple(one.option for one in found))
            return Few(Worked(f"{worked.key}-few", worked.job, plan), found)

        made = self._plans.get(("few", worked.key), make)
        self.remember(made.worked)
        return made

    def figures(self, name: Hashable, make: Callable[[], tuple[float, ...]]) -> tuple[float, ...]:
        """Figures that take long to work out."""
        return self._figures.get(name, make)

    def clear(self) -> None:
        """Forget everything, as when a client is forgotten, the rooms' own caches too."""
        for one in (self._jobs, self._worked, self._pictures, self._figures, self._plans):
            one.clear()
        for each in gc.get_objects():
            if isinstance(each, _lru_cache_wrapper) and each.__module__.startswith("pleatwright."):
                each.cache_clear()


def key_of(text: str, shop: str) -> str:
    """A name for an order and its shop's file."""
    return hashlib.sha256(f"{text}\0{shop}".encode()).hexdigest()[:24]
