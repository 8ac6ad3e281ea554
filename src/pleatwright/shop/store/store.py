"""The store: values in, values out; every call is one transaction, done whole or not at all.

What it returned has reached the disk.  Nothing that was saved by two benches at once is lost: the second one
is told (`Conflict`), and what it brought is kept as a draft.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TypeVar

from sqlalchemy import Connection, func, select

from pleatwright.shop.store import tables
from pleatwright.shop.store.errors import Conflict
from pleatwright.shop.store.kept import KeptValues, put, refuse_forgotten
from pleatwright.shop.store.lists import listed, listed_orders
from pleatwright.shop.store.rows import from_row, keepable
from pleatwright.shop.store.states import OPEN, State
from pleatwright.shop.store.tables import TABLES
from pleatwright.shop.store.values import (
    CheckEntry,
    Client,
    ClothPiece,
    MarkEntry,
    Measurements,
    OrderCard,
    OrderLine,
    OrderVersion,
    PlanVersion,
    Quote,
    SewingEntry,
    ShopText,
    TartanCard,
)

E = TypeVar("E", PlanVersion, CheckEntry, MarkEntry, SewingEntry)


class Store(KeptValues):
    """An open store; made by `open_store`, used by several threads at once."""

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    # Lists

    def clients(self, search: str = "", *, limit: int = 100, offset: int = 0) -> tuple[Client, ...]:
        """Clients by name; `search` looks into name, mail and telephone."""
        return self.values(Client, listed(Client, search).limit(limit).offset(offset))

    def tartans(self, search: str = "", *, limit: int = 100, offset: int = 0) -> tuple[TartanCard, ...]:
        """The tartan book by name."""
        return self.values(TartanCard, listed(TartanCard, search).limit(limit).offset(offset))

    def pieces(
        self,
        search: str = "",
        *,
        tartan: int | None = None,
        order: int | None = None,
        limit: int = 100,
        offset: int = 0,
    ) -> tuple[ClothPiece, ...]:
        """Pieces of cloth by name, of one tartan or for one order where that is given."""
        query, columns = listed(ClothPiece, search), tables.pieces.c
        if tartan is not None:
            query = query.where(columns.tartan == tartan)
        if order is not None:
            query = query.where(columns.order == order)
        return self.values(ClothPiece, query.limit(limit).offset(offset))

    def orders(
        self,
        search: str = "",
        *,
        states: Sequence[State] = (),
        client: int | None = None,
        due_by: date | None = None,
        limit: int = 100,
        offset: int = 0,
    ) -> tuple[OrderLine, ...]:
        """Orders, the first promised first; `search` looks into the reference and the client's name."""
        columns = tables.orders.c
        query = listed_orders(search, states, client, due_by).order_by(
            columns.promised.nulls_last(), columns.id
        )
        return self.values(OrderLine, query.limit(limit).offset(offset))

    def count_orders(
        self,
        search: str = "",
        *,
        states: Sequence[State] = (),
        client: int | None = None,
        due_by: date | None = None,
    ) -> int:
        """How many orders `orders` would list."""
        query = select(func.count()).select_from(listed_orders(search, states, client, due_by).subquery())
        with self.reading() as connection:
            return connection.execute(query).scalar_one()

    def count_by_state(self) -> dict[State, int]:
        """How many orders stand in each state that any order stands in."""
        state = tables.orders.c.state
        with self.reading() as connection:
            found = connection.execute(select(state, func.count()).group_by(state)).all()
        return {State(name): count for name, count in found}

    def due(self, until: date) -> tuple[OrderLine, ...]:
        """Open orders promised until a day, that day included."""
        return self.orders(states=OPEN, due_by=until, limit=1000)

    def measurements(self, client: int) -> tuple[Measurements, ...]:
        """A client's measurements, the newest first."""
        columns = tables.measurements.c
        query = select(tables.measurements).where(columns.client == client)
        return self.values(Measurements, query.order_by(columns.taken_on.desc(), columns.id.desc()))

    def quotes(self, order: int) -> tuple[Quote, ...]:
        """An order's quotes, the newest first."""
        columns = tables.quotes.c
        query = select(tables.quotes).where(columns.order == order)
        return self.values(Quote, query.order_by(columns.id.desc()))

    def draw_up(self, quote: Quote, *, by: str = "") -> Quote:
        """Keep a new quote; one that says the same as the order's last, not sent yet, is that one.

        So a form that is sent twice makes one quote.  Raises as `add`.
        """
        keepable(quote)
        with self.writing() as connection:
            refuse_forgotten(connection, quote)
            self.look_up(connection, OrderCard, quote.order, to_change=True)
            of_order = select(tables.quotes).where(tables.quotes.c.order == quote.order)
            row = connection.execute(of_order.order_by(tables.quotes.c.id.desc())).first()
            last = None if row is None else from_row(Quote, row._asdict())
            if last is not None and replace(last, id=quote.id, version=quote.version) == quote:
                return last
            return self.put_new(connection, quote, by)

    def order_versions(self, order: int) -> tuple[OrderVersion, ...]:
        """Every version of an order as it was saved, the first first."""
        columns = tables.order_versions.c
        query = select(tables.order_versions).where(columns.of == order)
        return self.values(OrderVersion, query.order_by(columns.number))

    def shop(self) -> ShopText:
        """The shop's own file; empty, with id 0, until `save_shop`."""
        with self.reading() as connection:
            row = connection.execute(select(tables.shop)).first()
        return ShopText() if row is None else from_row(ShopText, row._asdict())

    def save_shop(self, text: ShopText, *, by: str = "") -> ShopText:
        """Keep the shop's own file; raises Conflict where somebody else has saved since."""
        keepable(text)
        if text.id:
            return self.save(text, by=by)
        with self.writing() as connection:
            if connection.dialect.name == "postgresql":
                connection.exec_driver_sql("LOCK TABLE shop IN EXCLUSIVE MODE")
            row = connection.execute(select(tables.shop)).first()
            if row is None:
                return self.put_new(connection, text, by)
            theirs = from_row(ShopText, row._asdict())
        return self.save(replace(text, id=theirs.id), by=by)

    def measure(self, order: OrderCard, taken: Measurements, *, by: str = "") -> OrderCard:
        """Save an order with what its wearer measures, new or as it is corrected; both in one go.

        Returns the order; raises as `save`, and then neither is kept.
        """
        keepable(order)
        keepable(taken)
        with self.writing() as connection:
            refuse_forgotten(connection, order)
            theirs = self.look_up(connection, OrderCard, order.id, to_change=True)
            if replace(theirs, version=order.version) == order:
                order = theirs
            if order.version == theirs.version:
                order = replace(order, measurements=self._put_taken(connection, taken, by).id)
            kept, draft = self.put_changed(connection, order, by)
        if draft is not None:
            raise Conflict(order, kept, draft)
        return kept

    def _put_taken(self, connection: Connection, taken: Measurements, by: str) -> Measurements:
        if not taken.id:
            return self.put_new(connection, taken, by)
        kept = self.look_up(connection, Measurements, taken.id, to_change=True)
        taken = replace(taken, version=kept.version)
        return kept if taken == kept else self.put_over(connection, taken, by)

    # What is only added to an order

    def append(self, entry: E) -> E:
        """Add an entry to its order; returns it with its number, from 1, and the moment it was made.

        One whose key the order already holds is not added again: the one that is kept is returned.
        """
        keepable(entry)
        table = TABLES[type(entry)]
        with self.writing() as connection:
            refuse_forgotten(connection, entry)
            self.look_up(connection, OrderCard, entry.order, to_change=True)
            of_order = select(table).where(table.c.order == entry.order)
            if entry.key:
                row = connection.execute(of_order.where(table.c.key == entry.key)).first()
                if row is not None:
                    return from_row(type(entry), row._asdict())
            last = connection.execute(
                select(func.max(table.c.number)).where(table.c.order == entry.order)
            ).scalar()
            numbered = replace(entry, number=(last or 0) + 1, made_at=entry.made_at or self._now())
            return replace(numbered, id=put(connection, table, numbered))

    def plans(self, order: int) -> tuple[PlanVersion, ...]:
        """Every plan of an order, the first first."""
        return self._entries(PlanVersion, order)

    def plan(self, order: int, number: int | None = None) -> PlanVersion | None:
        """An order's plan of that number, or its last; None where there is none."""
        columns = tables.plans.c
        query = select(tables.plans).where(columns.order == order).order_by(columns.number.desc()).limit(1)
        if number is not None:
            query = query.where(columns.number == number)
        found = self.values(PlanVersion, query)
        return found[0] if found else None

    def checks(self, order: int) -> tuple[CheckEntry, ...]:
        """Every check of an order, the first first."""
        return self._entries(CheckEntry, order)

    def marks(self, order: int) -> tuple[MarkEntry, ...]:
        """Every mark found or made at the table, the first first."""
        return self._entries(MarkEntry, order)

    def sewing(self, order: int) -> tuple[SewingEntry, ...]:
        """The order's sewing log, the first entry first."""
        return self._entries(SewingEntry, order)

    def _entries(self, kind: type[E], order: int) -> tuple[E, ...]:
        table = TABLES[kind]
        return self.values(kind, select(table).where(table.c.order == order).order_by(table.c.number))

    # Cloth

    def rip(self, piece: ClothPiece, left: Sequence[ClothPiece], *, by: str = "") -> tuple[ClothPiece, ...]:
        """Say that a piece was ripped, and keep what is left of it; as `part`."""
        return self.part(replace(piece, state="ripped"), left, by=by)

    def part(self, piece: ClothPiece, parts: Sequence[ClothPiece], *, by: str = "") -> tuple[ClothPiece, ...]:
        """Save a piece from which something has come off, and keep that as pieces of their own.

        Returns the piece and then its parts, all kept in one go; raises as `save`.
        """
        for one in (piece, *parts):
            keepable(one)
        with self.writing() as connection:
            theirs = self.look_up(connection, ClothPiece, piece.id, to_change=True)
            if theirs.version == piece.version:
                kept = self.put_over(connection, piece, by)
                made = (self.put_new(connection, replace(one, came_from=piece.id), by) for one in parts)
                return (kept, *made)
            draft = self.put_aside(connection, piece, by)
        raise Conflict(piece, theirs, draft)
