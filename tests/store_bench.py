"""A bench as a process of its own, run by the store's tests: it edits an order, makes a store, is killed."""

from __future__ import annotations

import os
import random
import sys
from dataclasses import replace
from pathlib import Path

from pleatwright.shop.store import (
    Client,
    ClothPiece,
    Conflict,
    MarkEntry,
    OrderCard,
    PlanVersion,
    Store,
    open_store,
    write_backup,
)


def edit(address: str, order: int, name: str, times: int) -> None:
    """Save an order as often as asked, each time over the version read before; say what became of each."""
    with open_store(address) as store:
        _say("ready")
        sys.stdin.readline()
        for number in range(times):
            read = store.get(OrderCard, order)
            try:
                store.save(replace(read, document=f"{name} {number}"), by=name)
            except Conflict:
                _say("told", number)
            else:
                _say("saved", number)


def make(address: str, name: str) -> None:
    """Open a store that may be new, together with others, and keep a client in it."""
    _say("ready")
    sys.stdin.readline()
    with open_store(address) as store:
        store.add(Client(name))


def be_killed(address: str, folder: str) -> None:
    """For each line read, become a new process that writes without end and says what is kept."""
    for line in sys.stdin:
        child = os.fork()  # quicker than to start anew
        if not child:
            number = int(line)
            _say("alive", os.getpid())
            with open_store(address) as store:
                _write_without_end(store, number, Path(folder))
        os.waitpid(child, 0)
        _say("dead")


def _write_without_end(store: Store, number: int, folder: Path) -> None:
    client = store.add(Client(f"Client {number}"))
    order = store.add(OrderCard(client.id, f"HL-{number}", document="0"))
    _say("order", order.id)
    draw, count = random.Random(number), 0
    while True:
        count += 1
        match draw.randrange(5):
            case 0 | 1:
                order = store.save(replace(order, document=f"{count}" * draw.randrange(1, 3000)))
                _say("saved", order.version)
            case 2:
                store.append(MarkEntry(order.id, "abc", f"pleat {count}"))
                plan = store.append(PlanVersion(order.id, order.version, "abc", f"{count}" * 9999))
                _say("planned", plan.number)
            case 3:
                bolt = store.add(ClothPiece(f"bolt {count}", order=order.id))
                ripped, *left = store.rip(bolt, [ClothPiece("left", order=order.id)] * 2)
                _say("ripped", ripped.id, *(piece.id for piece in left))
            case _ if number < 30:  # while there is little to copy
                write_backup(store, folder / f"{number}-{count}.zip")
                _say("copied", count)


def _say(*words: object) -> None:
    os.write(1, (" ".join(map(str, words)) + "\n").encode())  # whole, or not at all


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["edit", address, order, name, times]:
            edit(address, int(order), name, int(times))
        case ["make", address, name]:
            make(address, name)
        case ["be_killed", address, folder]:
            be_killed(address, folder)
