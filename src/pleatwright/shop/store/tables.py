"""The tables: a column for each field of a value, and `folded`, which is what a search looks at."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import (
    Boolean,
    Column,
    Date,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    UniqueConstraint,
)

from pleatwright.shop.store import values
from pleatwright.shop.store.columns import EXACT, LONG_TEXT, MOMENT, MONEY, PLAIN_TEXT, STATE, parts

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def _id() -> Column[int]:
    return Column("id", Integer, primary_key=True)


def _number(name: str) -> Column[int]:
    return Column(name, Integer, nullable=False)


def _text(name: str) -> Column[str]:
    return Column(name, PLAIN_TEXT, nullable=False)


def _of(name: str, table: str, *, needed: bool = False) -> Column[int]:
    return Column(name, Integer, ForeignKey(f"{table}.id"), nullable=not needed)


def _kept(name: str, *columns: Column[Any] | Index) -> Table:
    return Table(name, metadata, _id(), _number("version"), *columns, sqlite_autoincrement=True)


def _entries(name: str, *columns: Column[Any]) -> Table:
    return Table(
        name,
        metadata,
        _id(),
        _of("order", "orders", needed=True),
        _number("number"),
        Column("made_at", MOMENT, nullable=False),
        _text("by"),
        Column("key", PLAIN_TEXT),
        *columns,
        UniqueConstraint("order", "number"),
        UniqueConstraint("order", "key"),
        sqlite_autoincrement=True,
    )


clients = _kept(
    "clients",
    _text("name"),
    _text("email"),
    _text("phone"),
    _text("address"),
    _text("notes"),
    Column("forgotten_on", Date),
    _text("folded"),
)
measurements = _kept(
    "measurements",
    _of("client", "clients", needed=True),
    _text("wearer"),
    Column("taken_on", Date, nullable=False),
    _text("taken_by"),
    _text("kind"),
    Column("taken", parts(values.Taken), nullable=False),
    Column("towel", Boolean, nullable=False),
    _text("figure"),
    _text("notes"),
    Index(None, "client"),
)
tartans = _kept(
    "tartans",
    _text("name"),
    _text("document"),
    _text("weaver"),
    Column("restricted", Boolean, nullable=False),
    _text("notes"),
    _text("folded"),
)
orders = _kept(
    "orders",
    _of("client", "clients", needed=True),
    _text("reference"),
    _text("kind"),
    Column("state", STATE, nullable=False),
    Column("promised", Date),
    Column("deposit", MONEY),
    Column("deposit_paid_on", Date),
    _text("document"),
    _of("measurements", "measurements"),
    _of("tartan", "tartans"),
    Column("plan", Integer),
    Column("option", Integer),
    _text("notes"),
    _text("folded"),
    Index(None, "client"),
    Index(None, "measurements"),
    Index(None, "promised", "id"),
    Index(None, "state", "promised"),
)
order_versions = Table(
    "order_versions",
    metadata,
    _id(),
    _of("of", "orders", needed=True),
    _number("number"),
    Column("saved_at", MOMENT, nullable=False),
    _text("by"),
    Column("state", STATE, nullable=False),
    Column("document", LONG_TEXT, nullable=False),
    UniqueConstraint("of", "number"),
    sqlite_autoincrement=True,
)
pieces = _kept(
    "pieces",
    _text("name"),
    _text("state"),
    _of("tartan", "tartans"),
    _of("order", "orders"),
    Column("came_from", Integer, ForeignKey("pieces.id", deferrable=True, initially="DEFERRED")),
    _text("supplier"),
    Column("arrived_on", Date),
    Column("invoiced", EXACT),
    Column("length", EXACT),
    Column("width", EXACT),
    Column("weight", EXACT),
    _text("document"),
    _text("shelf"),
    _text("notes"),
    _text("folded"),
    Index(None, "order"),
    Index(None, "tartan"),
)
quotes = _kept(
    "quotes",
    _of("order", "orders", needed=True),
    Column("made_on", Date, nullable=False),
    _text("currency"),
    Column("lines", parts(values.QuoteLine), nullable=False),
    Column("margin", MONEY, nullable=False),
    Column("tax", MONEY, nullable=False),
    Column("total", MONEY, nullable=False),
    Column("valid_until", Date),
    _text("state"),
    _text("notes"),
    Column("letter", parts(values.Told), nullable=False, server_default="[]"),
    Index(None, "order"),
)
shop = _kept("shop", _text("document"))
plans = _entries(
    "plans",
    _number("order_version"),
    _text("plan_version"),
    Column("record", LONG_TEXT, nullable=False),
)
checks = _entries("checks", _text("plan_version"), _text("decision"), _text("record"))
marks = _entries("marks", _text("plan_version"), _text("mark"), Column("found", EXACT), _text("note"))
sewing = _entries("sewing", _text("record"))
drafts = Table(
    "drafts",
    metadata,
    _id(),
    _text("kind"),
    _number("of"),
    _number("base"),
    _text("by"),
    Column("kept_at", MOMENT, nullable=False),
    _text("text"),
    Index(None, "kind", "of"),
    sqlite_autoincrement=True,
)

TABLES: Mapping[type, Table] = {
    values.ShopText: shop,
    values.Client: clients,
    values.Measurements: measurements,
    values.TartanCard: tartans,
    values.OrderCard: orders,
    values.ClothPiece: pieces,
    values.OrderVersion: order_versions,
    values.Quote: quotes,
    values.PlanVersion: plans,
    values.CheckEntry: checks,
    values.MarkEntry: marks,
    values.SewingEntry: sewing,
    values.Draft: drafts,
}
"""Where each kind of value is kept."""

WORDS: Mapping[type, str] = {
    values.ShopText: "shop",
    values.Client: "client",
    values.Measurements: "measurements",
    values.TartanCard: "tartan",
    values.OrderCard: "order",
    values.OrderVersion: "order version",
    values.ClothPiece: "piece",
    values.Quote: "quote",
    values.PlanVersion: "plan",
    values.CheckEntry: "check",
    values.MarkEntry: "mark",
    values.SewingEntry: "sewing",
    values.Draft: "draft",
}
"""What each kind is called in a message."""
SEARCHED: Mapping[type, tuple[str, ...]] = {
    values.Client: ("name", "email", "phone"),
    values.TartanCard: ("name", "weaver"),
    values.OrderCard: ("reference",),
    values.ClothPiece: ("name", "supplier", "shelf"),
}
"""The fields a search looks at."""
