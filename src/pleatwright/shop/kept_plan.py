"""The option of a plan that was kept, read back from its record: what was chosen is not searched again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from pleatwright.layout import Option


def kept_option(record: str, number: int | None = None) -> Option | None:
    """The option of that number in plan.json's text, the first where none is given; None without any.

    Numbers are as the record has them, to six decimals of an inch or thread.  Raises ValueError for text that
    is no plan of this version.
    """
    data = json.loads(record)
    if not isinstance(data, dict) or not isinstance(data.get("options"), list):
        raise ValueError("no plan")
    options: tuple[Option, ...] = of_json(tuple[Option, ...], data["options"])
    if number is None:
        return options[0] if options else None
    return next((option for option in options if option.number == number), None)


def of_json(kind: Any, data: Any) -> Any:
    """A record's JSON data as a value of a type, the way back from `as_json`; raises ValueError."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        if data is None and NoneType in inner:
            return None
        return of_json(next(one for one in inner if one is not NoneType), data)
    if origin is tuple and isinstance(data, list):
        kinds = [inner[0]] * len(data) if inner[-1] is Ellipsis else list(inner)
        return tuple(of_json(one, part) for one, part in zip(kinds, data, strict=True))
    if isinstance(data, Mapping):
        return _of_table(kind, data)
    if kind is float and isinstance(data, int | float):
        return float(data)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(data)
    if type(data) is kind:
        return data
    raise ValueError(f"no {kind}")


def _of_table(kind: Any, data: Mapping[str, Any]) -> Any:
    if kind is Fraction and isinstance(data.get("exact"), str):
        return sum((Fraction(part) for part in data["exact"].split()), Fraction(0))
    if not isinstance(kind, type) or set(data) != set(_hints(kind)):
        raise ValueError(f"no {kind}")
    return kind(**{name: of_json(hint, data[name]) for name, hint in _hints(kind).items()})


@cache
def _hints(kind: type) -> Mapping[str, Any]:
    """The types of a record's fields, by name."""
    hints = get_type_hints(kind)
    if is_dataclass(kind):
        return {field.name: hints[field.name] for field in fields(kind)}
    return {name: hints[name] for name in getattr(kind, "_fields", ())}
