"""The workshop's database: clients, measurements, orders, cloth, plans, checks, sewing, quotes.

SQLite in one file by default, PostgreSQL where PLEATWRIGHT_DATABASE_URL says so; the same values go in and
come out of both.
"""

from pleatwright.shop.store.backup import read_backup, restore_backup, write_backup
from pleatwright.shop.store.errors import Conflict, NotKept, Unavailable
from pleatwright.shop.store.kept import value_of
from pleatwright.shop.store.opening import VARIABLE, default_file, open_store
from pleatwright.shop.store.personal import Forgotten, client_bundle, forget_client
from pleatwright.shop.store.private import private_file
from pleatwright.shop.store.states import MOVES, OPEN, State, may_move
from pleatwright.shop.store.store import Store
from pleatwright.shop.store.values import (
    CheckEntry,
    Client,
    ClothPiece,
    Draft,
    Entry,
    Kept,
    MarkEntry,
    Measurements,
    OrderCard,
    OrderLine,
    OrderVersion,
    PlanVersion,
    Quote,
    QuoteLine,
    SewingEntry,
    ShopText,
    Taken,
    TartanCard,
)

__all__ = [
    "MOVES",
    "OPEN",
    "VARIABLE",
    "CheckEntry",
    "Client",
    "ClothPiece",
    "Conflict",
    "Draft",
    "Entry",
    "Forgotten",
    "Kept",
    "MarkEntry",
    "Measurements",
    "NotKept",
    "OrderCard",
    "OrderLine",
    "OrderVersion",
    "PlanVersion",
    "Quote",
    "QuoteLine",
    "SewingEntry",
    "ShopText",
    "State",
    "Store",
    "Taken",
    "TartanCard",
    "Unavailable",
    "client_bundle",
    "default_file",
    "forget_client",
    "may_move",
    "open_store",
    "private_file",
    "read_backup",
    "restore_backup",
    "value_of",
    "write_backup",
]
