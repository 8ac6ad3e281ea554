"""Every text says its unit, the shop's own as it stands now; quotes keep what else they told."""

import json
import tomllib
from collections.abc import Callable
from typing import Any

import sqlalchemy as sa
from alembic import op

from pleatwright.lengths import Units

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Go through everything that is kept, drafts too; what was saved earlier stays as it was saved."""
    op.add_column("quotes", sa.Column("letter", sa.Text(), nullable=False, server_default="[]"))
    connection = op.get_bind()
    tables = ("orders", "pieces", "tartans", "drafts")
    if any(connection.execute(sa.text(f"SELECT id FROM {table} LIMIT 1")).first() for table in tables):
        _say_units(connection)


def _say_units(connection: sa.Connection) -> None:
    from pleatwright.order import stated_units  # a new store is opened without the order's reader

    shop = connection.execute(sa.text("SELECT document FROM shop")).scalar() or ""
    units = stated_units(_data(shop), "in")
    changes: dict[str, Callable[[str, Units], str]] = {
        "orders": _order,
        "pieces": lambda text, units: _apart("piece", text, units),
        "tartans": lambda text, units: _apart("tartan", text, units),
    }
    for table, change in changes.items():
        for number, text in connection.execute(sa.text(f"SELECT id, document FROM {table}")).all():
            _put(connection, table, "document", number, text, change(text, units))
    for number, kind, text in connection.execute(sa.text("SELECT id, kind, text FROM drafts")).all():
        value = json.loads(text)
        if kind == "quote":
            value["letter"] = []
        elif f"{kind}s" in changes:
            value["document"] = changes[f"{kind}s"](value["document"], units)
        _put(connection, "drafts", "text", number, text, json.dumps(value, ensure_ascii=False))


def _put(connection: sa.Connection, table: str, column: str, number: int, old: str, new: str) -> None:
    if new != old:
        query = sa.text(f"UPDATE {table} SET {column} = :new WHERE id = :number")
        connection.execute(query, {"new": new, "number": number})


def _data(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except ValueError:
        return {}


def _order(text: str, units: Units) -> str:
    from pleatwright.order import with_units

    return text if "alteration" in _data(text) else with_units(text, units)


def _apart(name: str, text: str, units: Units) -> str:
    """A table kept apart from any order, as it is or under its name, with the unit beside every length."""
    from pleatwright.order import spelt
    from pleatwright.order.writing import text_of

    data = _data(text)
    table = data.get(name, data)
    if not data or not isinstance(table, dict):
        return text
    told = spelt({name: table}, units)
    made = {**data, **told} if name in data else told[name]
    return text if made == data else text_of(made)
