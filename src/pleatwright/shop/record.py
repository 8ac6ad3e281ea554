"""Values as JSON, and the JSON Schema of those values: one walk over the types serves both.

Lengths that are exact (Fraction) become {"inches": 8.375, "exact": "8 3/8"}; other numbers have six decimals,
rounded half to even.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from pleatwright.lengths import exact_text, file_number

Json = dict[str, Any] | list[Any] | str | float | int | bool | None

EXACT_LENGTH = {
    "type": "object",
    "description": "an exact length: inches as a number and as a fraction",
    "properties": {"inches": {"type": "number"}, "exact": {"type": "string"}},
    "required": ["inches", "exact"],
    "additionalProperties": False,
}


def as_json(value: Any) -> Json:
    """The value as plain JSON data; raises TypeError for a type no record holds."""
    if isinstance(value, Fraction):
        return {"inches": file_number(value), "exact": exact_text(value)}
    if isinstance(value, Enum):
        return str(value.value)
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return file_number(value)
    if is_dataclass(value):
        return {field.name: as_json(getattr(value, field.name)) for field in fields(value)}
    if hasattr(value, "_asdict"):
        return {name: as_json(part) for name, part in value._asdict().items()}
    if isinstance(value, Mapping):
        return {str(as_json(key)): as_json(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [as_json(part) for part in value]
    raise TypeError(f"{type(value).__name__} has no place in a record")


def schema_of(kind: Any, described: dict[str, Any]) -> dict[str, Any]:
    """The schema of a type; `described` collects the schemas of records by name, for "$defs"."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return {"anyOf": [schema_of(one, described) for one in inner]}
    if origin is tuple and len(inner) == 2 and inner[1] is Ellipsis:
        return {"type": "array", "items": schema_of(inner[0], described)}
    if origin is tuple:
        return {
            "type": "array",
            "prefixItems": [schema_of(one, described) for one in inner],
            "minItems": len(inner),
            "maxItems": len(inner),
        }
    if kind is Fraction:
        return EXACT_LENGTH
    simple = {NoneType: "null", bool: "boolean", int: "integer", float: "number", str: "string"}
    if kind in simple:
        return {"type": simple[kind]}
    if isinstance(kind, type) and issubclass(kind, Enum):
        return {"enum": [member.value for member in kind]}
    if is_dataclass(kind) or hasattr(kind, "_fields"):
        return _record_schema(kind, described)
    raise TypeError(f"{kind} has no place in a record")


def _record_schema(kind: Any, described: dict[str, Any]) -> dict[str, Any]:
    name = kind.__name__
    text = " ".join((kind.__doc__ or "").split())
    if name in described and described[name].get("description", text) != text:
        raise TypeError(f"two records are called {name}")
    if name not in described:
        described[name] = {"description": text}
        hints = get_type_hints(kind)
        names = [field.name for field in fields(kind)] if is_dataclass(kind) else list(kind._fields)
        described[name] = {
            "type": "object",
            "description": text,
            "properties": {each: schema_of(hints[each], described) for each in names},
            "required": names,
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{name}"}
