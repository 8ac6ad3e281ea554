"""Values that can be changed: kept, saved over a version that was read, read again."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, Select, Table, insert, select, update

from pleatwright.errors import InputError, Problem
from pleatwright.shop.store import tables
from pleatwright.shop.store.errors import Conflict, NotKept, usable
from pleatwright.shop.store.packing import pack, unpack
from pleatwright.shop.store.rows import from_row, keepable, to_row
from pleatwright.shop.store.states import State, may_move
from pleatwright.shop.store.tables import TABLES, WORDS
from pleatwright.shop.store.values import (
    Client,
    ClothPiece,
    Draft,
    Entry,
    Kept,
    Measurements,
    OrderCard,
    OrderVersion,
    Quote,
    ShopText,
    TartanCard,
)

K = TypeVar("K", bound=Kept)
V = TypeVar("V")
MOST_DRAFTS = 20
"""Drafts of one thing; beyond that somebody must settle them first [our choice]."""
_KINDS = {word: kind for kind, word in WORDS.items()}


class KeptValues:
    """What the store does with any value that can be changed."""

    def __init__(self, engine: Engine, now: Callable[[], datetime]) -> None:
        self._engine, self._now = engine, now

    @property
    def engine(self) -> Engine:
        """The database; for this package."""
        return self._engine

    def now(self) -> datetime:
        """The moment, by the clock the store was opened with."""
        return self._now()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One look at the store, in which nothing changes meanwhile; for this package."""
        with usable(), self._engine.connect() as connection:
            if connection.dialect.name == "postgresql":
                connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One change of the store, done whole or not at all; for this package."""
        with usable(), self._engine.connect() as connection:
            connection.execution_options(writing=True)
            with connection.begin():
                yield connection

    def add(self, value: K, *, by: str = "") -> K:
        """Keep a new value; returns it with its id, as version 1.

        Raises InputError where it cannot be kept.
        """
        keepable(value)
        with self.writing() as connection:
            refuse_forgotten(connection, value)
            _refuse_strange(connection, value)
            return self.put_new(connection, value, by)

    def save(self, value: K, *, by: str = "") -> K:
        """Keep a changed value; `value.version` is the version that was read.

        Returns it as the next version; where nothing differs from what is kept, what is kept.  Raises
        Conflict where somebody else has saved since, and has kept the value as a draft by then; NotKept;
        InputError where an order may not go from its state to the new one, or its client was forgotten or is
        another one now.
        """
        keepable(value)
        with self.writing() as connection:
            kept, draft = self.put_changed(connection, value, by)
        if draft is not None:
            raise Conflict(value, kept, draft)
        return kept

    def move(self, order: int, state: State, *, by: str = "") -> OrderCard:
        """Bring an order to another state, whatever else is being changed in it meanwhile.

        Raises NotKept; InputError where it may not go there.
        """
        with self.writing() as connection:
            refuse_forgotten(connection, self.look_up(connection, OrderCard, order))
            card = self.look_up(connection, OrderCard, order, to_change=True)
            if card.state is state:
                return card
            moved = replace(card, state=state)
            _refuse_move(card, moved)
            return self.put_over(connection, moved, by)

    def get(self, kind: type[K], number: int) -> K:
        """What is kept under a number; raises NotKept."""
        with self.reading() as connection:
            return self.look_up(connection, kind, number)

    def drafts(self, value: Kept | None = None) -> tuple[Draft, ...]:
        """What could not be saved and has not been settled yet, of one value or of all."""
        query, columns = select(tables.drafts), tables.drafts.c
        if value is not None:
            query = query.where(columns.kind == WORDS[type(value)], columns.of == value.id)
        return self.values(Draft, query.order_by(columns.id))

    def drop_draft(self, number: int) -> None:
        """Throw a draft away, once what it held is settled."""
        with self.writing() as connection:
            connection.execute(tables.drafts.delete().where(tables.drafts.c.id == number))

    # Inside a transaction; for this package

    def values(self, kind: type[V], query: Select[Any]) -> tuple[V, ...]:
        """Every value a query finds, read in a transaction of its own."""
        with self.reading() as connection:
            return tuple(from_row(kind, row._asdict()) for row in connection.execute(query).all())

    def look_up(self, connection: Connection, kind: type[K], number: int, *, to_change: bool = False) -> K:
        """What is kept under a number; `to_change`: nobody else may change it meanwhile."""
        table = TABLES[kind]
        if not 0 < number < 2**31:
            raise NotKept(WORDS[kind], number)
        query = select(table).where(table.c.id == number)
        row = connection.execute(query.with_for_update() if to_change else query).first()
        if row is None:
            raise NotKept(WORDS[kind], number)
        return from_row(kind, row._asdict())

    def put_changed(self, connection: Connection, value: K, by: str) -> tuple[K, Draft | None]:
        """What is kept once a value is saved; with a draft where somebody else has saved since."""
        refuse_forgotten(connection, value)
        theirs = self.look_up(connection, type(value), value.id, to_change=True)
        _refuse_other_owner(theirs, value)
        _refuse_strange(connection, value)
        if replace(theirs, version=value.version) == value:
            return theirs, None
        if theirs.version == value.version:
            _refuse_move(theirs, value)
            return self.put_over(connection, value, by), None
        return theirs, self.put_aside(connection, value, by)

    def put_new(self, connection: Connection, value: K, by: str) -> K:
        """Keep a new value as version 1."""
        kept = replace(value, version=1)
        kept = replace(kept, id=put(connection, TABLES[type(value)], kept))
        self._remember(connection, kept, by)
        return kept

    def put_over(self, connection: Connection, value: K, by: str) -> K:
        """Keep a value as the version after its own."""
        kept = replace(value, version=value.version + 1)
        put_row(connection, kept)
        self._remember(connection, kept, by)
        return kept

    def put_aside(self, connection: Connection, value: Kept, by: str) -> Draft:
        """Keep as a draft what cannot be saved; what is kept aside already is not kept twice.

        Raises InputError where too many are kept aside already: none of them is thrown away for another.
        """
        text = json.dumps(pack(value), ensure_ascii=False)
        columns = tables.drafts.c
        query = select(tables.drafts).where(columns.kind == WORDS[type(value)], columns.of == value.id)
        drafts = [
            from_row(Draft, row._asdict()) for row in connection.execute(query.order_by(columns.id)).all()
        ]
        for one in drafts:
            if replace(value_of(one), version=value.version) == value:
                return one
        if len(drafts) >= MOST_DRAFTS:
            oldest = f"{drafts[0].kept_at.date().isoformat()}{f' by {drafts[0].by}' if drafts[0].by else ''}"
            allowed = f"are kept aside already, the oldest of {oldest}; this one is not"
            fix = "settle the oldest on the page The day, go back in the browser and save again"
            raise InputError(Problem(f"{WORDS[type(value)]}.drafts", f"{len(drafts)} drafts", allowed, fix))
        draft = Draft(WORDS[type(value)], value.id, value.version, by, self._now(), text)
        return replace(draft, id=put(connection, tables.drafts, draft))

    def _remember(self, connection: Connection, value: Kept, by: str) -> None:
        if isinstance(value, OrderCard):
            version = OrderVersion(value.id, value.version, self._now(), by, value.state, value.document)
            put(connection, tables.order_versions, version)


def put(connection: Connection, table: Table, value: Any) -> int:
    """Add a row for a value; returns its id."""
    key = connection.execute(insert(table).values(to_row(value))).inserted_primary_key
    return int(key[0]) if key is not None else 0


def put_row(connection: Connection, value: Kept) -> None:
    """Put a value in the place of what is kept under its number."""
    table = TABLES[type(value)]
    connection.execute(update(table).where(table.c.id == value.id).values(to_row(value)))


def refuse_forgotten(connection: Connection, value: Kept | Entry) -> None:
    """Raise InputError for what belongs to a client who was forgotten; until the end nobody can be.

    Comes before any other row is held: all hold the client first, so that no two wait for each other.
    """
    columns = tables.clients.c
    query = select(columns.id, columns.forgotten_on).with_for_update(read=not isinstance(value, Client))
    if isinstance(value, Client):
        query = query.where(columns.id == value.id)
    elif isinstance(value, Measurements | OrderCard):
        query = query.where(columns.id == value.client)
    elif isinstance(value, TartanCard | ClothPiece | ShopText):
        return
    else:
        orders = tables.orders.c
        query = query.where(
            columns.id == select(orders.client).where(orders.id == value.order).scalar_subquery()
        )
    row = connection.execute(query).first()
    if row is not None and row.forgotten_on is not None:
        allowed = f"was forgotten on {row.forgotten_on.isoformat()}"
        raise InputError(Problem("client", str(row.id), allowed, "begin with a new client"))


def _refuse_other_owner(kept: Kept, wanted: Kept) -> None:
    """Raise InputError for what would go over to another client, or a quote to another order."""
    if not isinstance(kept, Measurements | OrderCard | Quote):
        return
    name = "order" if isinstance(kept, Quote) else "client"
    stays, seen = getattr(kept, name), getattr(wanted, name)
    if seen != stays:
        fix = "begin a new one there"
        raise InputError(Problem(f"{WORDS[type(kept)]}.{name}", str(seen), f"must stay {stays}", fix))


def _refuse_strange(connection: Connection, value: Kept) -> None:
    """Raise InputError for an order made from the body of another client."""
    if not isinstance(value, OrderCard) or value.measurements is None:
        return
    columns = tables.measurements.c
    client = connection.execute(select(columns.client).where(columns.id == value.measurements)).scalar()
    if client is not None and client != value.client:
        fix = "choose measurements of the order's client, or take them"
        raise InputError(Problem("order.measurements", str(value.measurements), "are another client's", fix))


def _refuse_move(kept: Kept, wanted: Kept) -> None:
    """Raise InputError for an order that would go where its state does not lead."""
    if not isinstance(kept, OrderCard) or not isinstance(wanted, OrderCard) or wanted.state is kept.state:
        return
    allowed = may_move(kept.kind, kept.state)
    if wanted.state not in allowed:
        fix = "choose " + ", ".join(allowed) if allowed else "begin a new order"
        raise InputError(Problem("order.state", wanted.state, f"cannot follow {kept.state}", fix))


def value_of(draft: Draft) -> Kept:
    """The value a draft keeps."""
    value: Kept = unpack(_KINDS[draft.kind], json.loads(draft.text))
    return value
