"""Between a value and its row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any, TypeVar

from pleatwright.errors import InputError, Problem
from pleatwright.shop.store.tables import SEARCHED, WORDS

V = TypeVar("V")
_MOST = 2**31


def to_row(value: Any) -> dict[str, Any]:
    """A value's row, without its id."""
    row = {field.name: getattr(value, field.name) for field in fields(value) if field.name != "id"}
    if "key" in row:
        row["key"] = row["key"] or None
    if type(value) in SEARCHED:
        row["folded"] = " ".join(row[name] for name in SEARCHED[type(value)]).casefold()
    return row


def from_row(kind: type[V], row: Mapping[str, Any]) -> V:
    """A row's value."""
    found = {field.name: row[field.name] for field in fields(kind)}  # type: ignore[arg-type]  # all are records
    if "key" in found:
        found["key"] = found["key"] or ""
    return kind(**found)


def keepable(value: Any) -> None:
    """Raise InputError for what no database keeps: a NUL, half a character, a number past all counting."""
    what, problems = WORDS[type(value)], list[Problem]()
    for name, part in _leaves(value):
        if isinstance(part, str) and not _whole(part):
            problems.append(Problem(f"{what}.{name}", "its text", "holds what is no text", "write it again"))
        elif isinstance(part, int) and not -_MOST <= part < _MOST:
            problems.append(Problem(f"{what}.{name}", "its number", "is too great", "write a smaller one"))
        elif isinstance(part, Decimal) and not part.is_finite():
            problems.append(Problem(f"{what}.{name}", str(part), "is no amount", "write it in figures"))
    if problems:
        raise InputError(problems)


def _whole(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return "\0" not in text


def _leaves(value: Any, where: str = "") -> Iterator[tuple[str, Any]]:
    """Every single value inside a value, with its dotted name."""
    if isinstance(value, tuple):
        for number, part in enumerate(value, 1):
            yield from _leaves(part, f"{where}, entry {number}")
    elif is_dataclass(value):
        for field in fields(value):
            name = f"{where}.{field.name}" if where else field.name
            yield from _leaves(getattr(value, field.name), name)
    else:
        yield where, value
