"""The app served to a real browser, and what is looked at there; screenshots are left in out/screens."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import uvicorn
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect

from pleatwright.order import read_order
from pleatwright.shop.store import Client, OrderCard, PlanVersion, Store, open_store
from pleatwright.web.desk import Desk
from pleatwright.web.house import House
from pleatwright.web.orders import pin
from pleatwright.web.serving import Serving, listen
from pleatwright.web.sessions import Sessions

ROOT = Path(__file__).parents[3]
SCREENS = ROOT / "out" / "screens"
CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
TABLET, DESKTOP = ViewportSize(width=1024, height=768), ViewportSize(width=1440, height=900)
PHONE = ViewportSize(width=360, height=740)
DESK = Desk()
PINNED: dict[str, PlanVersion] = {}
"""Each example is planned, and its plan written down, once for all tests."""

Opening = Callable[..., Page]


class Workshop:
    """The app served on a free port of this machine."""

    def __init__(self, folder: Path) -> None:
        self.store: Store = open_store(f"sqlite:///{folder}/store.sqlite")
        listener = listen(0, lan=False)
        self.told: list[str] = []
        self.serving = Serving(self.store, listener, lan=False, tell=self.told.append)
        self.base = self.serving.addresses[0].rstrip("/")
        self.server = uvicorn.Server(uvicorn.Config(self.serving.app, log_level="error", access_log=False))
        self.thread = threading.Thread(target=self.server.run, kwargs={"sockets": [listener]}, daemon=True)
        self.thread.start()

    def close(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)
        self.store.close()

    def order(self, example: str) -> OrderCard:
        """An example as an order with its first kilt chosen."""
        text = (ROOT / "examples" / f"{example}.toml").read_text()
        job = read_order(text)
        house = House(self.store, Sessions(lambda: 0.0), lambda: date(2031, 5, 1), desk=DESK)
        client = self.store.add(Client(job.client))
        card = self.store.add(OrderCard(client.id, reference=job.reference, document=text))
        plan = PINNED.get(example) or pin(house, card, house.shop(), 1)
        if example in PINNED:
            plan = self.store.append(PlanVersion(card.id, card.version, plan.plan_version, plan.record))
        PINNED[example] = plan
        return self.store.save(replace(card, plan=plan.number, option=1))

    def let_in(self, browser: Browser, **more: Any) -> BrowserContext:
        """A browser's own window with a session, as after its link was opened; `more` goes to the context."""
        context = browser.new_context(base_url=self.base, **more)
        assert context.request.get(self.serving.link()).ok
        context.set_default_timeout(10_000)
        return context


def shot(page: Page, name: str) -> None:
    page.screenshot(path=SCREENS / f"{name}.png", full_page=True)


def at_table(opening: Opening, card: OrderCard, viewport: ViewportSize | None = None, **more: Any) -> Page:
    page = opening(f"/orders/{card.id}/table", viewport, **more)
    page.wait_for_selector("#parts li")
    return page


def to_part(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=False).first.click()
    expect(page.locator("#parts [aria-current]")).to_contain_text(name)


def millimetres(page: Page, selector: str) -> float:
    """Height of an element in millimetres, as style sheets reckon them: 96 pixels an inch."""
    box = page.locator(selector).first.bounding_box()
    assert box is not None
    return box["height"] / 96 * 25.4


@contextmanager
def cut_off(page: Page) -> Iterator[None]:
    """The connection dropped, and there again afterwards."""
    page.context.set_offline(True)
    yield
    page.context.set_offline(False)


def serious(page: Page) -> list[str]:
    """What axe finds that is serious or worse, and where."""
    return [
        f"{page.url}: {one['id']}: {one['nodes'][0]['html'][:120]}"
        for one in Axe().run(page).response["violations"]
        if one["impact"] in ("serious", "critical")
    ]


def overflows(page: Page) -> bool:
    return bool(page.evaluate("() => document.documentElement.scrollWidth > window.innerWidth + 1"))
