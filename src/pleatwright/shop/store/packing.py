"""Values as JSON data and back again, exactly: by their types, so that nothing is guessed."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints


def pack(value: Any) -> Any:
    """A value as JSON data: fractions as 67/8, money as written, days and hours in ISO form."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Fraction | Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [pack(part) for part in value]
    if is_dataclass(value):
        return {field.name: pack(getattr(value, field.name)) for field in fields(value)}
    return value


def unpack(kind: Any, data: Any) -> Any:
    """JSON data as a value of a type; raises ValueError where it is none."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin is UnionType:
        kinds = [one for one in inner if one is not NoneType]
        return None if data is None else unpack(kinds[0], data)
    if origin is tuple and isinstance(data, list):
        return tuple(unpack(inner[0], part) for part in data)
    if origin is Literal and data in inner:
        return data
    if isinstance(kind, type):
        return _of_class(kind, data)
    raise ValueError(f"no {kind}")


def _of_class(kind: type, data: Any) -> Any:
    if is_dataclass(kind) and isinstance(data, dict):
        hints = hints_of(kind)
        if set(data) != set(hints):
            raise ValueError(f"no {kind.__name__}")
        return kind(**{name: unpack(hint, data[name]) for name, hint in hints.items()})
    if isinstance(data, str):
        if kind in (date, datetime):
            return kind.fromisoformat(data)
        if kind in (Fraction, Decimal) or issubclass(kind, Enum):
            try:
                return kind(data)
            except ArithmeticError as error:
                raise ValueError(f"no {kind.__name__}") from error
    if type(data) is kind:
        return data
    raise ValueError(f"no {kind.__name__}")


@cache
def hints_of(kind: type) -> dict[str, Any]:
    """The types of a value's fields, by name."""
    return get_type_hints(kind)
