"""Plain data as TOML text."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

TRUE, FALSE = "true", "false"


def text_of(data: Mapping[str, Any]) -> str:
    """TOML text of data; read again it gives the same data."""
    lines: list[str] = []
    _table(lines, (), data)
    return "\n".join(lines).lstrip("\n") + "\n"


def _table(lines: list[str], path: tuple[str, ...], table: Mapping[str, Any]) -> None:
    plain = {name: value for name, value in table.items() if not isinstance(value, Mapping)}
    if path and (plain or not table):
        lines += ["", f"[{'.'.join(_key(part) for part in path)}]"]
    lines += [f"{_key(name)} = {_value(value)}" for name, value in plain.items()]
    for name, value in table.items():
        if isinstance(value, Mapping):
            _table(lines, (*path, name), value)


def _key(name: str) -> str:
    bare = name.isascii() and name.replace("_", "").replace("-", "").isalnum()
    return name if bare else _value(name)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return TRUE if value else FALSE
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(name)} = {_value(part)}" for name, part in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(part) for part in value) + "]"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return str(value)  # whole numbers, decimals and days are written as Python writes them
