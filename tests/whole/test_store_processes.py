"""Benches as processes of their own: several at once on one order, and one killed while it writes."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
import zipfile
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from pleatwright.shop.store import Client, ClothPiece, OrderCard, Store, open_store, read_backup, value_of

if TYPE_CHECKING:
    from tests.conftest import Databases, NewStore

PROGRAM = Path(__file__).parent.parent / "store_bench.py"


@contextmanager
def bench(*arguments: object) -> Iterator[subprocess.Popen[str]]:
    """A bench at work; ended when it is done with."""
    command = [sys.executable, str(PROGRAM), *map(str, arguments)]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    with process:
        try:
            yield process
        finally:
            process.stdin.close()  # type: ignore[union-attr]  # it is a pipe
            process.wait(60)


def said(process: subprocess.Popen[str]) -> list[str]:
    """The words of the next line a bench says."""
    return process.stdout.readline().split()  # type: ignore[union-attr]  # it is a pipe


def tell(process: subprocess.Popen[str], line: object) -> None:
    """Say a line to a bench."""
    print(line, file=process.stdin, flush=True)


def test_two_processes_on_one_order_lose_nothing_of_what_either_saved(new_store: NewStore):
    address, times = new_store(), 15
    with open_store(address) as store:
        order = store.add(OrderCard(store.add(Client("Rowan Millbeck")).id, document="first"))
    found = defaultdict[str, list[str]](list)
    with (
        bench("edit", address, order.id, "one", times) as one,
        bench("edit", address, order.id, "two", times) as two,
    ):
        for process in (one, two):
            assert said(process) == ["ready"]
        for process in (one, two):
            tell(process, "go")
        for name, process in (("one", one), ("two", two)):
            for _ in range(times):
                word, number = said(process)
                found[word].append(f"{name} {number}")
    with open_store(address) as store:
        versions = store.order_versions(order.id)
        drafts = [value_of(draft).document for draft in store.drafts(order)]  # type: ignore[union-attr]  # of orders
        last = store.get(OrderCard, order.id)
    assert sorted(version.document for version in versions) == sorted(["first", *found["saved"]])
    assert sorted(drafts) == sorted(found["told"])
    assert [version.number for version in versions] == list(range(1, last.version + 1))
    assert last.document == versions[-1].document


def test_processes_that_open_a_new_store_together_make_it_once(databases: Databases):
    address = databases.empty()
    with bench("make", address, "a") as one, bench("make", address, "b") as two:
        for process in (one, two):
            assert said(process) == ["ready"]
        for process in (one, two):
            tell(process, "go")
    assert (one.returncode, two.returncode) == (0, 0)
    with open_store(address) as store:
        assert [client.name for client in store.clients()] == ["a", "b"]


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "fork"), reason="a process is killed as only POSIX knows it")
def test_what_was_acknowledged_outlives_two_hundred_kills_and_the_rest_is_whole_or_absent(tmp_path: Path):
    address, draw = f"sqlite:///{tmp_path}/store.sqlite", random.Random(5)
    open_store(address).close()
    acknowledged, cut, copied = 0, 0, list[str]()
    with bench("be_killed", address, tmp_path) as nursery:
        for number in range(200):
            tell(nursery, number)
            word, pid = said(nursery)
            assert word == "alive"
            told = [said(nursery) for _ in range(draw.randrange(10))]
            time.sleep(draw.uniform(0, 0.01))
            os.kill(int(pid), signal.SIGKILL)
            told += iter(lambda: said(nursery), ["dead"])
            acknowledged += len(told)
            copied += [f"{number}-{count}.zip" for word, *(count, *_) in told if word == "copied"]
            with open_store(address) as store:
                cut += _is_whole(store, number, told)
    with open_store(address) as store, store.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalars().all() == ["ok"]
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
    copies = sorted(tmp_path.glob("[0-9]*.zip"))
    assert copied
    assert {copy.name for copy in copies} >= set(copied)
    for copy in copies:
        with zipfile.ZipFile(copy) as packed:
            assert packed.testzip() is None
    with open_store(f"sqlite:///{tmp_path}/again.sqlite") as again:
        assert read_backup(again, copies[-1])
    assert acknowledged > 700
    assert cut > 10, "the killing hit something"


def _is_whole(store: Store, number: int, told: list[list[str]]) -> bool:
    """Hold what is kept of a killed bench against what it had said; whether more was kept than it said."""
    numbers = defaultdict[str, list[list[int]]](list)
    for word, *said in told:
        numbers[word].append([int(one) for one in said])
    if not numbers["order"]:
        return any(line.reference == f"HL-{number}" for line in store.orders(f"HL-{number}"))
    order = store.get(OrderCard, numbers["order"][0][0])
    assert order.reference == f"HL-{number}"
    saved = max((version for (version,) in numbers["saved"]), default=1)
    assert order.version in (saved, saved + 1)
    versions = store.order_versions(order.id)
    assert [version.number for version in versions] == list(range(1, order.version + 1))
    assert versions[-1].document == order.document
    plans, marks = store.plans(order.id), store.marks(order.id)
    planned = len(numbers["planned"])
    assert [plan.number for plan in plans] == list(range(1, len(plans) + 1))
    assert planned <= len(plans) <= len(marks) <= planned + 1
    assert all(len(plan.record) % 9999 == 0 for plan in plans)
    ripped = len(numbers["ripped"])
    for ids in numbers["ripped"]:
        bolt, *left = (store.get(ClothPiece, one) for one in ids)
        assert (bolt.state, [one.came_from for one in left]) == ("ripped", [bolt.id] * 2)
    pieces = store.pieces(order=order.id, limit=10_000)
    bolts = [piece for piece in pieces if piece.came_from is None]
    assert sum(piece.state == "ripped" for piece in bolts) * 2 == len(pieces) - len(bolts)
    assert ripped <= len(bolts) <= ripped + 1
    return order.version > saved or len(marks) > planned or len(bolts) > ripped
