"""The unit an order's bare numbers have: said once for the whole order, or written beside every length.

An order says it in its table [shop]; a tartan or a piece kept apart from any order writes it beside each
length ("7 3/8 in"), so that it means the same in whatever order it is put into.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pleatwright.errors import InputError
from pleatwright.lengths import Units, parse_length
from pleatwright.order.document import read_toml
from pleatwright.order.models import OrderFile, Table
from pleatwright.order.values import Length, Size
from pleatwright.trade import Kind, provenance

WRITTEN: Mapping[Units, str] = {"in": "in", "metric": "cm"}
"""The unit of a bare number, as it is written beside it."""
_HEADER = re.compile(r"(?m)^\s*\[\s*shop\s*\][^\n]*$")
_INLINE = re.compile(r"(?m)^\s*shop\s*=\s*\{")
_Change = Callable[[Any], Any]


def stated_units(data: Mapping[str, Any], otherwise: Units) -> Units:
    """The units that the data of an order, or of a shop's file, states; a word not known states nothing."""
    shop = data.get("shop")
    stated = str(shop.get("units", "")).strip().casefold() if isinstance(shop, Mapping) else ""
    return "metric" if stated == "metric" else "in" if stated == "in" else otherwise


def with_units(text: str, units: Units) -> str:
    """An order's text that says its units, these where it said none; the rest of it stays as it was written.

    A text that is empty, or cannot be read, stays as it is.
    """
    data, problems = read_toml(text)
    shop = data.get("shop", {})
    if problems or not data or not isinstance(shop, dict) or "units" in shop:
        return text
    line = f'units = "{units}"'
    wanted = {**data, "shop": {**shop, "units": units}}
    for made in (
        f"{text.rstrip()}\n\n[shop]\n{line}\n",
        _HEADER.sub(lambda found: f"{found[0]}\n{line}", text, count=1),
        _INLINE.sub(lambda found: f"{found[0]} {line},", text, count=1),
        f"shop.{line}\n{text}",
    ):
        if read_toml(made) == (wanted, []):
            return made
    return text


def spelt(data: Mapping[str, Any], units: Units) -> dict[str, Any]:
    """The tables of an order, or of a shop's file, with its unit beside every length that had none."""
    return _with_lengths(data, lambda value: _spelt(value, units))


def unspelt(data: Mapping[str, Any], units: Units) -> dict[str, Any]:
    """The same tables with bare numbers where these units are meant anyway."""
    return _with_lengths(data, lambda value: _unspelt(value, units))


def _with_lengths(data: Mapping[str, Any], change: _Change) -> dict[str, Any]:
    made = _changed(OrderFile, dict(data), change)
    settings = made.get("settings")
    if isinstance(settings, dict):
        made["settings"] = {group: _in_group(group, table, change) for group, table in settings.items()}
    return dict(made)


def _in_group(group: str, table: Any, change: _Change) -> Any:
    if not isinstance(table, Mapping):
        return table
    lengths = {name for name, one in provenance().items() if one.kind is Kind.LENGTH}
    return {name: change(part) if f"{group}.{name}" in lengths else part for name, part in table.items()}


def _changed(kind: Any, value: Any, change: _Change) -> Any:
    """A value of a table's field with the lengths in it changed; `kind` is the field's type."""
    if kind in (Length, Size):
        return change(value)
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _changed(inner[0], value, change)
    if origin in (Union, UnionType):
        for one in inner:
            value = value if one is NoneType else _changed(one, value, change)
        return value
    if origin is list and isinstance(value, list):
        return [_changed(inner[0], part, change) for part in value]
    if origin is tuple and isinstance(value, list | tuple) and len(value) == len(inner):
        return [_changed(one, part, change) for one, part in zip(inner, value, strict=True)]
    if isinstance(kind, type) and issubclass(kind, Table):
        return _in_table(kind, value, change)
    return value


def _in_table(kind: type[Table], value: Any, change: _Change) -> Any:
    fields = {field.alias or name: field.annotation for name, field in kind.model_fields.items()}
    if isinstance(value, Mapping):
        return {
            name: _changed(fields[name], part, change) if name in fields else part
            for name, part in value.items()
        }
    plain = not isinstance(value, list) and kind.plain
    return _changed(fields[kind.plain], value, change) if plain else value


def _spelt(value: Any, units: Units) -> Any:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return value
    text = str(value).strip()
    return value if _read(text, "in") == _read(text, "metric") else f"{text} {WRITTEN[units]}"


def _unspelt(value: Any, units: Units) -> Any:
    end = f" {WRITTEN[units]}"
    if not isinstance(value, str) or not value.endswith(end):
        return value
    short = value.removesuffix(end)
    return short if _read(short, units) == _read(value, units) else value


def _read(text: str, units: Units) -> Any:
    try:
        return parse_length(text, unit=units)
    except InputError:
        return None
