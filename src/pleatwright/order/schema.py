"""The JSON Schema of order files, for editors; schemas/order.schema.json is this, written out."""

from __future__ import annotations

from typing import Any

from pleatwright.order.models import OrderFile
from pleatwright.order.styles import STYLES
from pleatwright.trade import Default, Kind, provenance

ORDER_FORMAT = 1
SCHEMA_ID = f"urn:pleatwright:order:{ORDER_FORMAT}"


def order_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of an order file read as data."""
    schema = _tidied(OrderFile.model_json_schema())
    schema["properties"]["settings"] = _settings_schema()
    tables = schema["$defs"]
    tables["WishesTable"]["properties"]["styles"] = _styles_schema(
        tables["WishesTable"]["properties"]["styles"]
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": SCHEMA_ID,
        **schema,
        "title": "pleatwright order",
    }


def _tidied(schema: Any) -> Any:
    """Without what TOML has no word for: null, defaults of nothing, titles made from names."""
    if isinstance(schema, list):
        return [_tidied(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {
        name: {key: _tidied(value) for key, value in part.items()}
        if name in ("properties", "$defs")
        else _tidied(part)
        for name, part in schema.items()
        if not (name == "title" and isinstance(part, str)) and not (name == "default" and part is None)
    }
    if "anyOf" in kept:
        choices = [choice for choice in kept.pop("anyOf") if choice != {"type": "null"}]
        kept = {**(choices[0] if len(choices) == 1 else {"anyOf": choices}), **kept}
    return kept


def _styles_schema(described: dict[str, Any]) -> dict[str, Any]:
    """One style or a list of them; the plain names are offered, other spellings allowed."""
    name = {"anyOf": [{"enum": list(STYLES)}, {"type": "string"}]}
    return {
        "description": described["description"],
        "anyOf": [name, {"type": "array", "items": name}],
    }


def _settings_schema() -> dict[str, Any]:
    groups: dict[str, dict[str, Any]] = {}
    for default in provenance().values():
        groups.setdefault(default.group, {})[default.key] = _setting_schema(default)
    return {
        "type": "object",
        "description": "The shop's settings, as far as this order differs.",
        "properties": {
            group: {"type": "object", "properties": keys, "additionalProperties": False}
            for group, keys in groups.items()
        },
        "additionalProperties": False,
    }


def _setting_schema(default: Default) -> dict[str, Any]:
    described = {"description": f"{default.why} [{default.tag}]"}
    if default.kind is Kind.TEXT:
        return {"enum": list(default.allowed), **described}
    return {"type": ["string", "number"], **described}
