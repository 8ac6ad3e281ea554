"""An order as data between page and file: the same TOML the command line reads, written and taken apart.

A field's name on a page is its dotted name in the order: wearer.waist, piece.readings.0.at.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from typing import Any

from pleatwright.errors import InputError
from pleatwright.order.document import read_toml
from pleatwright.order.writing import FALSE, TRUE, text_of
from pleatwright.web.texts import mistake

__all__ = ["Data", "data_of", "field_of", "kept_text", "rows_of", "text_of", "with_fields"]

Data = dict[str, Any]

BOOLEANS = frozenset(
    {"wearer.towel", "wishes.same_middle", "piece.arrival.relaxed", "tartan.symmetric", "kept"}
)
"""Fields that are yes or no, by their dotted name or, in rows, by their last part."""
NUMBERS = frozenset({"number", "strip", "over", "repeat", "pleats"})
"""Fields that are whole numbers, by their last part."""


def data_of(text: str) -> Data:
    """The data of an order's text; raises InputError where it is not TOML."""
    data, problems = read_toml(text)
    if problems:
        raise InputError(problems)
    return data


def kept_text(data: Mapping[str, Any]) -> str:
    """TOML text that may be kept; raises InputError where it could not be read again as it was written."""
    text = text_of(data)
    try:
        if data_of(text) == data:
            return text
    except InputError:
        pass
    raise InputError(mistake("not_kept", "order", count=len(text)))


def field_of(data: Mapping[str, Any], name: str) -> str:
    """What a field shows: the value as it was written, "" where there is none."""
    value: Any = data
    for part in name.split("."):
        if isinstance(value, Mapping):
            value = value.get(part, "")
        elif isinstance(value, list) and part.isdigit() and int(part) < len(value):
            value = value[int(part)]
        else:
            return ""
    if isinstance(value, bool):
        return TRUE if value else FALSE
    if isinstance(value, list):
        return ", ".join(str(one) for one in value)
    return "" if isinstance(value, Mapping) else str(value)


def rows_of(data: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    """The rows of a list of tables; none where there is no such list."""
    value: Any = data
    for part in name.split("."):
        value = value.get(part) if isinstance(value, Mapping) else None
    return [row for row in value if isinstance(row, Mapping)] if isinstance(value, list) else []


def with_fields(data: Mapping[str, Any], fields: Iterable[tuple[str, str]]) -> Data:
    """The data with a form's fields put in: an empty field takes its value out, the rest stays.

    Fields with a number in their name are rows; the rows of a list are replaced as a whole, empty ones left
    out.  Of several values of one field the last counts, but those of a name that ends in [] are a list.
    """
    made = deepcopy(dict(data))
    rows: dict[str, dict[int, list[tuple[str, str]]]] = {}
    lists: dict[str, list[str]] = {}
    for name, text in fields:
        if name.endswith("[]"):
            lists.setdefault(name[:-2], []).extend([text] if text else [])
            continue
        before, number, after = _row(name)
        if number is None:
            _put(made, name.split("."), _typed(name, text))
        else:
            rows.setdefault(before, {}).setdefault(number, []).append((after, text))
    for name, chosen in lists.items():
        _put(made, name.split("."), chosen or None)
    for name, numbered in rows.items():
        kept = [with_fields({}, numbered[number]) for number in sorted(numbered)]
        _put(made, name.split("."), [row for row in kept if row] or None)
    return made


def _row(name: str) -> tuple[str, int | None, str]:
    parts = name.split(".")
    for at, part in enumerate(parts[:-1]):
        if at and part.isascii() and part.isdigit() and len(part) < 4:
            return ".".join(parts[:at]), int(part), ".".join(parts[at + 1 :])
    return name, None, ""


def _typed(name: str, text: str) -> Any:
    text = text.strip()
    last = name.rpartition(".")[2]
    if not text:
        return None
    if (name in BOOLEANS or last in BOOLEANS) and text in (TRUE, FALSE):
        return text == TRUE
    if last in NUMBERS and text.isascii() and text.isdigit() and len(text) < 7:
        return int(text)
    return text


def _put(data: Data, path: list[str], value: Any) -> None:
    """Set one value, or take it out where it is None; a table that is left empty goes with it."""
    inner = data.get(path[0])
    if len(path) == 1:
        data.pop(path[0], None) if value is None else data.__setitem__(path[0], value)
        return
    if not isinstance(inner, dict):
        if value is None:
            return
        inner = data[path[0]] = {}
    _put(inner, path[1:], value)
    if not inner:
        del data[path[0]]
