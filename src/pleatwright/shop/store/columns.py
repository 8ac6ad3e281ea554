"""Column types that keep a value exactly, in both databases alike."""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from sqlalchemy import Dialect, LargeBinary, Text
from sqlalchemy.types import TypeDecorator, TypeEngine

from pleatwright.shop.store.packing import pack, unpack
from pleatwright.shop.store.states import State

PLAIN_TEXT = Text().with_variant(Text(collation="C"), "postgresql")
"""Text that sorts by its letters' numbers in both."""


class Written(TypeDecorator[Any]):
    """A value kept as text: how it is written, and how it is read again."""

    impl: type[TypeEngine[Any]] = Text
    cache_ok = True

    def __init__(self, write: Callable[[Any], Any], read: Callable[[Any], Any]) -> None:
        self.write, self.read = write, read
        super().__init__()

    def process_bind_param(self, value: Any, _dialect: Dialect) -> Any:
        """As kept."""
        return None if value is None else self.write(value)

    def process_result_value(self, value: Any, _dialect: Dialect) -> Any:
        """As read."""
        return None if value is None else self.read(value)


class Pressed(Written):
    """A value kept as bytes."""

    impl = LargeBinary
    cache_ok = True


def _in_utc(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


EXACT = Written(str, Fraction)
"""A fraction, kept as 67/8."""
MONEY = Written(str, Decimal)
"""A decimal number, kept as it was written."""
MOMENT = Written(_in_utc, datetime.fromisoformat)
"""A moment, kept in UTC to the microsecond; it sorts as it reads."""
STATE = Written(str, State)
"""The state of an order, kept as its word."""
LONG_TEXT = Pressed(lambda text: zlib.compress(text.encode()), lambda kept: zlib.decompress(kept).decode())
"""A long text, kept small."""


def parts(kind: type) -> Written:
    """A tuple of small values of one kind, kept as JSON."""
    return Written(
        lambda value: json.dumps(pack(value), ensure_ascii=False),
        lambda text: tuple(unpack(kind, part) for part in json.loads(text)),
    )
