"""The workshop app under load: 20 clients on a store of 5,000 orders, on this machine alone.

    python -m benchmarks.web

For every page: the 95th percentile of its time; how many times that of a bare FastAPI page it is, asked for
by the same clients in the same run; and the slowest first visit, when an order has to be planned.  Bounded:
so many requests a client and page, and so many seconds a page.
Figures are printed, never asserted.
"""

from __future__ import annotations

import http.client
import multiprocessing
import socket
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from multiprocessing.queues import Queue
from pathlib import Path

CLIENTS, REQUESTS = 20, 10
"""At once; and of each, for each page."""
SECONDS = 10.0
"""No page is asked for longer than this."""
ORDERS, PLANNED = 5_000, 10
"""Orders in the store, and how many of them have their kilt chosen."""
HOST = "127.0.0.1"
TODAY = datetime.now().astimezone().date()
EXAMPLE = Path(__file__).parents[1] / "examples" / "demo.toml"
PAGES = {
    "a bare page": "/only/bare",
    "The day": "/",
    "Orders": "/orders",
    "Orders, searched": "/orders?q=Ashgrove+12",
    "Orders, the last page": f"/orders?page={ORDERS // 50}",
    "one order": "/orders/{order}",
    "Measurements": "/orders/{order}/measures",
    "Cloth": "/orders/{order}/cloth",
    "Options": "/orders/{order}/options",
    "Plan": "/orders/{order}/plan",
    "Table": "/orders/{order}/table",
    "Table, its marks": "/orders/{order}/table/marks",
    "Check": "/orders/{order}/check",
    "Quote": "/orders/{order}/quote",
    "Clients": "/clients",
    "a style sheet": "/static/app.css",
}


def fill(url: str) -> None:
    """A store of many orders; the first ones with their kilt chosen."""
    from pleatwright.shop.store import Client, OrderCard, open_store
    from pleatwright.web.house import House
    from pleatwright.web.orders import pin
    from pleatwright.web.sessions import Sessions

    text = EXAMPLE.read_text()
    with open_store(url) as store:
        house = House(store, Sessions(time.monotonic), lambda: TODAY)
        clients = [store.add(Client(f"Ashgrove {number}")) for number in range(ORDERS // 5)]
        for number in range(ORDERS):
            card = store.add(
                OrderCard(
                    clients[number % len(clients)].id,
                    reference=f"B-{number + 1}",
                    promised=TODAY + timedelta(days=number % 400),
                    document=text.replace("HL-101", f"B-{number + 1}"),
                )
            )
            if number < PLANNED:
                plan = pin(house, card, house.shop(), 1)
                store.save(replace(card, plan=plan.number, option=1))


def serve(url: str, port: int, links: Queue[str]) -> None:
    """The app, and beside it a page that does nothing, in one process; `links` let the visitors in."""
    import uvicorn
    from fastapi import FastAPI
    from fastapi.responses import HTMLResponse

    from pleatwright.shop.store import open_store
    from pleatwright.web.app import make_app

    bare = FastAPI()

    @bare.get("/bare", response_class=HTMLResponse)
    def page() -> str:
        return "<!doctype html><title>bare</title><p>" + "x" * 4000

    with open_store(url) as store:
        workshop = make_app(store)
        for _ in range(CLIENTS):
            links.put(workshop.state.house.sessions.link())

        @asynccontextmanager
        async def begun(_: FastAPI) -> AsyncIterator[None]:
            async with workshop.router.lifespan_context(workshop):
                yield

        both = FastAPI(lifespan=begun)
        both.mount("/only", bare)
        both.mount("/", workshop)

        uvicorn.run(both, host=HOST, port=port, log_level="error", access_log=False, timeout_keep_alive=120)


@dataclass
class Times:
    """Seconds that requests took, and how many were not answered with 200."""

    seconds: list[float]
    failed: int = 0

    @property
    def p95(self) -> float:
        """The 95th percentile in milliseconds."""
        return statistics.quantiles(self.seconds, n=20)[-1] * 1000


class Visitor:
    """One browser that keeps its connection and its cookie."""

    def __init__(self, port: int, number: int) -> None:
        self.connection = http.client.HTTPConnection(HOST, port, timeout=30)
        self.number, self.cookie = number, ""

    def ask(self, path: str) -> tuple[float, int]:
        """Seconds until the whole answer was there, and its status."""
        path = path.replace("{order}", str(self.number % PLANNED + 1))
        begun = time.perf_counter()
        self.connection.request("GET", path, headers={"cookie": self.cookie} if self.cookie else {})
        answer = self.connection.getresponse()
        answer.read()
        took = time.perf_counter() - begun
        self.cookie = (answer.getheader("set-cookie") or self.cookie).split(";")[0]
        return took, answer.status


def load(visitors: list[Visitor], path: str) -> Times:
    """All of them ask for one page at once, again and again."""
    times = Times([])
    until = time.monotonic() + SECONDS
    lock, together = threading.Lock(), threading.Barrier(len(visitors))

    def visit(visitor: Visitor) -> None:
        together.wait()
        for _ in range(REQUESTS):
            if time.monotonic() > until:
                return
            took, status = visitor.ask(path)
            with lock:
                times.seconds.append(took)
                times.failed += status != 200

    threads = [threading.Thread(target=visit, args=(visitor,)) for visitor in visitors]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def reached(port: int) -> None:
    """Wait until the app answers; give up after a minute."""
    for _ in range(600):
        try:
            with socket.create_connection((HOST, port), timeout=1):
                return
        except OSError:
            time.sleep(0.1)
    sys.exit("the app did not start")


def main() -> None:
    """Fill, serve, ask, print."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/store.sqlite"
        begun = time.perf_counter()
        fill(url)
        print(f"{ORDERS} orders kept in {time.perf_counter() - begun:.0f} s, one transaction each")
        port = free_port()
        spawning = multiprocessing.get_context("spawn")
        links: Queue[str] = spawning.Queue()
        server = spawning.Process(target=serve, args=(url, port, links), daemon=True)
        server.start()
        try:
            reached(port)
            visitors = [Visitor(port, number) for number in range(CLIENTS)]
            for visitor in visitors:
                visitor.ask(f"/open?key={links.get(timeout=60)}")
            print(
                f"{CLIENTS} clients at once, {REQUESTS} times each, after one visit of every client alone\n"
            )
            print(f"{'page':24}{'p95':>10}{'median':>11}{'× a bare page':>16}{'first, alone':>15}")
            bare = 0.0
            for name, path in PAGES.items():
                first = max(visitor.ask(path)[0] for visitor in visitors) * 1000
                times = load(visitors, path)
                p95, median = times.p95, statistics.median(times.seconds) * 1000
                failed = f"  {times.failed} not answered" if times.failed else ""
                bare = bare or p95
                print(
                    f"{name:24}{p95:7.1f} ms{median:8.1f} ms{p95 / bare:16.1f}{first:12.1f} ms{failed}",
                    flush=True,
                )
        finally:
            server.terminate()
            server.join(10)


if __name__ == "__main__":
    main()
