"""Queries behind the lists."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from sqlalchemy import Select, and_, or_, select

from pleatwright.shop.store.states import State
from pleatwright.shop.store.tables import TABLES, clients, orders


def listed(kind: type, search: str) -> Select[Any]:
    """Everything of a kind by name, as far as every word of the search occurs in it."""
    table = TABLES[kind]
    query = select(table).order_by(table.c.folded, table.c.id)
    return query.where(
        and_(True, *(table.c.folded.contains(word, autoescape=True) for word in words(search)))
    )


def listed_orders(
    search: str, states: Sequence[State], client: int | None, due_by: date | None
) -> Select[Any]:
    """Orders as lines of a list."""
    of, kept = orders.c, clients.c
    query = select(
        of.id,
        of.reference,
        of.kind,
        of.client,
        kept.name.label("client_name"),
        of.state,
        of.promised,
        of.deposit,
        of.plan,
        of.option,
        of.version,
    ).join(clients, kept.id == of.client)
    for word in words(search):
        query = query.where(
            or_(of.folded.contains(word, autoescape=True), kept.folded.contains(word, autoescape=True))
        )
    if states:
        query = query.where(of.state.in_(states))
    if client is not None:
        query = query.where(of.client == client)
    if due_by is not None:
        query = query.where(of.promised <= due_by)
    return query


def words(search: str) -> list[str]:
    """The words of a search, as they are kept: no capitals, no NUL."""
    return search.replace("\0", " ").encode(errors="ignore").decode().casefold().split()
