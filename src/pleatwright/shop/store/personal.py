"""What a client may ask for: all that is kept about them, or that it is forgotten."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection, Table, delete, or_, select, update

from pleatwright.errors import InputError, Problem
from pleatwright.shop.store import tables
from pleatwright.shop.store.errors import Unavailable, usable
from pleatwright.shop.store.kept import put_row
from pleatwright.shop.store.packing import pack
from pleatwright.shop.store.rows import from_row
from pleatwright.shop.store.states import OPEN
from pleatwright.shop.store.store import Store
from pleatwright.shop.store.tables import TABLES, WORDS
from pleatwright.shop.store.values import (
    CheckEntry,
    Client,
    ClothPiece,
    Draft,
    MarkEntry,
    Measurements,
    OrderCard,
    OrderVersion,
    PlanVersion,
    Quote,
    SewingEntry,
)
from pleatwright.shop.store.zipping import entry

_OF_ORDER = (OrderVersion, PlanVersion, CheckEntry, MarkEntry, SewingEntry)
_ABOUT = """Everything that is kept about one client.

client.json          name, contact, measurements, orders and when they were saved, quotes, plans and when
                     they were made, the cloth kept for the orders, and what was noted or sewn
order-N/order.toml   an order as it stands, and order-N/version-M.toml as it was saved before
order-N/plan-M.json  every plan that was made for it

Lengths are inches, as exact fractions; measurements were taken once ("first") or twice ("second").
"""


@dataclass(frozen=True)
class Forgotten:
    """What forgetting a client has done, in words: what is erased, what stays and why."""

    client: int
    erased: tuple[str, ...]
    stays: tuple[str, ...]


def client_bundle(store: Store, client: int) -> bytes:
    """All that is kept about a client, as the bytes of a zip; raises NotKept.

    JSON for all, each version of an order as its order file, each plan as plan.json.
    """
    with store.reading() as connection:
        card = store.look_up(connection, Client, client)
        orders = _found(connection, OrderCard, tables.orders.c.client == client)
        numbers = [order.id for order in orders]
        lists: dict[str, tuple[Any, ...]] = {
            "measurements": _found(connection, Measurements, tables.measurements.c.client == client),
            "orders": orders,
            "quotes": _found(connection, Quote, tables.quotes.c.order.in_(numbers)),
            "pieces": _found(connection, ClothPiece, tables.pieces.c.order.in_(numbers)),
            **{TABLES[kind].name: _of_orders(connection, kind, numbers) for kind in _OF_ORDER},
            "drafts": tuple(
                from_row(Draft, row._asdict())
                for row in connection.execute(select(tables.drafts).where(_drafts_of(client)))
            ),
        }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr(entry("README.txt"), _ABOUT)
        for order in lists["orders"]:
            packed.writestr(entry(f"order-{order.id}/order.toml"), order.document)
        for version in lists["order_versions"]:
            packed.writestr(entry(f"order-{version.of}/version-{version.number}.toml"), version.document)
        for plan in lists["plans"]:
            packed.writestr(entry(f"order-{plan.order}/plan-{plan.number}.json"), plan.record)
        everything = {"client": pack(card), **{name: pack(values) for name, values in lists.items()}}
        for text, inside in (("document", "order_versions"), ("record", "plans")):
            for packed_value in everything[inside]:
                del packed_value[text]  # it is a file of its own
        packed.writestr(entry("client.json"), json.dumps(everything, indent=1, ensure_ascii=False) + "\n")
    return out.getvalue()


def forget_client(store: Store, client: int) -> Forgotten:
    """Erase name, contact and body of a client; of the orders stay the figures that accounts need.

    Raises NotKept; InputError while an order is still open.  Backups made before are not touched.
    """
    with store.writing() as connection:
        card = store.look_up(connection, Client, client, to_change=True)
        orders = _found(connection, OrderCard, tables.orders.c.client == client)
        still = [order for order in orders if order.state in OPEN]
        if still:
            named = ", ".join(order.reference or str(order.id) for order in still)
            allowed = "is still open, and is made from what would be forgotten"
            raise InputError(Problem("client", f"order {named}", allowed, "finish it or call it off first"))
        numbers = [order.id for order in orders]
        drafts = _erase(connection, tables.drafts, _drafts_of(client))
        connection.execute(
            update(tables.orders).where(tables.orders.c.client == client).values(measurements=None)
        )
        bodies = _erase(connection, tables.measurements, tables.measurements.c.client == client)
        erased = {
            kind: _erase(connection, TABLES[kind], _order_of(TABLES[kind]).in_(numbers)) for kind in _OF_ORDER
        }
        for order in orders:
            bare = replace(order, document="", notes="", measurements=None, version=order.version + 1)
            put_row(connection, bare)
        for quote in _found(connection, Quote, tables.quotes.c.order.in_(numbers)):
            put_row(connection, replace(quote, notes="", letter=(), version=quote.version + 1))
        day = card.forgotten_on or store.now().date()
        name = f"forgotten client {client}"
        put_row(connection, Client(name, forgotten_on=day, id=client, version=card.version + 1))
    swept = _sweep(store)
    return Forgotten(
        client,
        erased=(
            "name, mail, telephone, address and notes",
            f"{bodies} measurements of the body",
            f"the documents and notes of {len(orders)} orders, with {erased[OrderVersion]} earlier versions",
            f"{erased[PlanVersion]} plans, {erased[CheckEntry]} checks, {erased[MarkEntry]} marks and "
            f"{erased[SewingEntry]} entries of sewing logs",
            f"{drafts} drafts",
        ),
        stays=(
            "for the accounts: every order's reference, state, dates and deposit; its quotes without notes",
            "the cloth in stock, with its own notes",
            "backups and exports made before today: look through them yourself",
            *((swept,) if swept else ()),
        ),
    )


def _found(connection: Connection, kind: type[Any], which: Any) -> tuple[Any, ...]:
    table = TABLES[kind]
    rows = connection.execute(select(table).where(which).order_by(table.c.id))
    return tuple(from_row(kind, row._asdict()) for row in rows)


def _order_of(table: Table) -> Any:
    return table.c.of if table is tables.order_versions else table.c.order


def _of_orders(connection: Connection, kind: type[Any], numbers: list[int]) -> tuple[Any, ...]:
    return _found(connection, kind, _order_of(TABLES[kind]).in_(numbers))


def _drafts_of(client: int) -> Any:
    """Which drafts are of a client, and of the orders, measurements and quotes that are the client's."""
    columns, orders = tables.drafts.c, tables.orders.c
    own = select(orders.id).where(orders.client == client)
    bodies = select(tables.measurements.c.id).where(tables.measurements.c.client == client)
    quotes = select(tables.quotes.c.id).where(tables.quotes.c.order.in_(own))
    return or_(
        (columns.kind == WORDS[Client]) & (columns.of == client),
        (columns.kind == WORDS[OrderCard]) & columns.of.in_(own),
        (columns.kind == WORDS[Measurements]) & columns.of.in_(bodies),
        (columns.kind == WORDS[Quote]) & columns.of.in_(quotes),
    )


def _erase(connection: Connection, table: Table, which: Any) -> int:
    return connection.execute(delete(table).where(which)).rowcount


def _sweep(store: Store) -> str:
    """Write the database's files anew, without what was erased; returns in words what may be left in them."""
    postgres = store.engine.dialect.name == "postgresql"
    options = {"isolation_level": "AUTOCOMMIT"} if postgres else {"outside": True}
    try:
        with usable(), store.engine.connect() as connection:
            connection.execution_options(**options)
            if postgres:
                connection.detach()  # its patience is not for others
                connection.exec_driver_sql("SET lock_timeout = '10s'")
                connection.exec_driver_sql(
                    f"VACUUM FULL {', '.join(table.name for table in TABLES.values())}"
                )
                return "traces in PostgreSQL's own journal, until that is written over"
            connection.exec_driver_sql("VACUUM")
            busy = connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)").scalar()
    except Unavailable:
        busy = True
    return "traces in the store's files: forget the client again when nobody else is at work" if busy else ""
