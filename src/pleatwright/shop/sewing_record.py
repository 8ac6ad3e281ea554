"""The sewing log's file: one entry to a line (JSON), lines are added and never changed.

A crash in the middle of a write leaves a torn last line.  It is no entry; the next one begins on a new line
and says how many bytes were torn before it, so that the torn ones are told from lines that something else has
damaged.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from types import UnionType
from typing import Any, Literal, get_args, get_origin, get_type_hints

import pleatwright
from pleatwright.bench.sewing import (
    Corrected,
    Entry,
    Fitted,
    Measured,
    Noted,
    SewingLog,
    Staged,
    Started,
    Undone,
)
from pleatwright.errors import InputError, Problem
from pleatwright.lengths import exact_text, file_number, parse_length
from pleatwright.shop.lines import append_line

FORMAT = "pleatwright sewing log"
FORMAT_VERSION = 1
KINDS: Mapping[str, type[Entry]] = {
    "started": Started,
    "measured": Measured,
    "corrected": Corrected,
    "undone": Undone,
    "stage": Staged,
    "fitting": Fitted,
    "note": Noted,
}
_NAME_OF = {kind: name for name, kind in KINDS.items()}
_KIND, _TORN = "kind", "after_torn"
_NUMBER_CUT = re.compile(r"\.|-|[eE][+-]?")
"""What is left of a number that was cut off, after its last whole part."""


@dataclass(frozen=True)
class KeptLog:
    """A log as read from its file; `log` None while nothing whole is in it.

    `torn`: what crashes left at its end, or b"".
    """

    log: SewingLog | None
    torn: bytes = b""


def log_beside(order: Path) -> Path:
    """Where an order's sewing log is kept unless another file is named: beside the order."""
    return order.with_name(f"{order.stem}-sewing.jsonl")


def append_entry(path: Path, entry: Entry, kept: KeptLog) -> None:
    """Add an entry to the file that was read as `kept`; raises InputError where it cannot be written."""
    append_line(path, entry_line(entry, torn=len(kept.torn)), option="--log")


def entry_line(entry: Entry, *, torn: int = 0) -> str:
    """An entry as one line of a log; `torn`: bytes that a crash left before it."""
    data: dict[str, Any] = {_KIND: _NAME_OF[type(entry)]}
    if isinstance(entry, Started):
        made_by = f"pleatwright {pleatwright.__version__}"
        data = {"format": FORMAT, "format_version": FORMAT_VERSION, "made_by": made_by, **data}
    data.update(_written(entry))
    if torn:
        data[_TORN] = torn
    return json.dumps(data, ensure_ascii=False)


def entry_of(line: str) -> Entry:
    """One line's entry; raises ValueError or InputError where it is none."""
    return _read(line.encode())[0]


def read_log(path: Path) -> KeptLog:
    """Read a log; a file that is not there is an empty one.

    Raises InputError, naming the line, for damage that no torn write explains.
    """
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        return KeptLog(None)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        problem = Problem("--log", f'"{path}"', f"cannot be read ({reason})", "name another file with --log")
        raise InputError(problem) from None
    entries, torn, first_torn = list[Entry](), list[bytes](), 0
    for number, line in enumerate(content.split(b"\n"), 1):
        if not line.strip():
            continue
        try:
            entry, after_torn = _read(line)
        except (ValueError, InputError) as error:
            if not _cut_off(line):
                raise _damaged(path, number, line, str(error)) from None
            torn.append(line)
            first_torn = first_torn or number
            continue
        if torn and after_torn != len(b"\n".join(torn)):
            raise _damaged(path, first_torn, torn[0], "it is cut off")
        entries.append(entry)
        torn, first_torn = [], 0
    if not entries:
        return KeptLog(None, b"\n".join(torn))
    try:
        log = SewingLog(tuple(entries))
    except ValueError as error:
        fix = "put back a copy of the file from before"
        problem = Problem(path.name, "the log", f"contradicts itself ({error})", fix)
        raise InputError(problem) from None
    return KeptLog(log, b"\n".join(torn))


def _cut_off(line: bytes) -> bool:
    """Whether a line is the beginning of an entry that was not written to its end."""
    try:
        json.loads(line.decode(errors="ignore"))
    except json.JSONDecodeError as error:
        left = error.doc[error.pos :]
        word = any(word.startswith(left) for word in ("", "true", "false", "null"))
        return word or error.msg.startswith("Unterminated") or _NUMBER_CUT.fullmatch(left) is not None
    return False


def _damaged(path: Path, number: int, line: bytes, reason: str) -> InputError:
    shown = line[:40].decode(errors="replace") + ("…" if len(line) > 40 else "")
    return InputError(
        Problem(
            f"{path.name}, line {number}",
            f"'{shown}'",
            f"is no entry of a sewing log ({reason})",
            "mend that line, or put back a copy of the file from before",
        )
    )


def _written(value: Any) -> Any:
    """An entry or a part of it as plain JSON data; lengths in inches, as their exact fractions."""
    if isinstance(value, Fraction):
        return exact_text(value)
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return file_number(value)
    if isinstance(value, tuple):
        return [_written(part) for part in value]
    if is_dataclass(value):
        return {field.name: _written(getattr(value, field.name)) for field in fields(value)}
    return value


def _read(line: bytes) -> tuple[Entry, int]:
    """One line's entry, and the bytes torn before it; raises ValueError or InputError where it is none."""
    data = json.loads(line)  # UnicodeDecodeError and JSONDecodeError are ValueErrors
    if not isinstance(data, dict) or data.get(_KIND) not in KINDS:
        raise ValueError("it does not say which entry it is")
    kind = KINDS[data.pop(_KIND)]
    torn = data.pop(_TORN, 0)
    if kind is Started:
        version = data.pop("format_version", None)
        if data.pop("format", None) != FORMAT or version != FORMAT_VERSION:
            raise ValueError(f"it is not {FORMAT}, version {FORMAT_VERSION}")
        data.pop("made_by", None)
    entry: Entry = _value(kind, data, str(kind.__name__).lower())
    return entry, torn if isinstance(torn, int) else 0


def _value(kind: Any, data: Any, where: str) -> Any:
    """Data as a value of a type of the log; raises ValueError or InputError where it is none."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin is UnionType:
        return None if data is None else _value(inner[0], data, where)
    if origin is tuple and isinstance(data, list):
        return tuple(_value(inner[0], part, where) for part in data)
    if origin is Literal and data in inner:
        return data
    if kind is Fraction and isinstance(data, str):
        return _length(data)
    if kind is float and type(data) in (int, float):
        return float(data)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(data)
    if is_dataclass(kind) and isinstance(data, dict):
        return _record(kind, data, where)
    if type(data) is kind:
        return data
    raise ValueError(f"{where} is {data!r}"[:80])


@lru_cache(maxsize=1000)
def _length(text: str) -> Fraction:
    return parse_length(text, allow_negative=True)


_hints = cache(get_type_hints)


def _record(kind: Any, data: Mapping[str, Any], where: str) -> Any:
    hints, known = _hints(kind), {field.name: field for field in fields(kind)}
    strange = data.keys() - known.keys()
    missing = [name for name, field in known.items() if name not in data and field.default is MISSING]
    if strange or missing:
        raise ValueError(f"{where} {'has no ' if missing else 'knows no '}{sorted(missing or strange)[0]}")
    return kind(**{name: _value(hints[name], part, f"{where}.{name}") for name, part in data.items()})
