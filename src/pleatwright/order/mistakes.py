"""Collecting every mistake of a file, and what remains to be read once they are set aside."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from copy import deepcopy
from dataclasses import replace
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units
from pleatwright.order.models import OrderFile, Table
from pleatwright.order.values import nearest, shown

T = TypeVar("T", bound=Table)
Path = tuple[str | int, ...]

_FIRST_WORD = re.compile(r"\w+")

_PLAINLY = {
    "bool": ("is neither true nor false", "write true or false, without quotes"),
    "list": ("is not a list", 'write it in brackets, as ["one", "two"]'),
    "tuple": ("is not a pair", 'write colour and width, as ["B", "1 1/2"]'),
    "missing": ("lacks its second part", 'write colour and width, as ["B", "1 1/2"]'),
    "too": ("has too many parts", 'write colour and width, as ["B", "1 1/2"]'),
    "string": ("is not text", "write it in quotes"),
    "model": ("is not a table", ""),
    "dict": ("is not a table", "write name = value inside it"),
}


class Slips:
    """Every mistake found so far in one file; `prefix` begins the names in its messages.

    `spoilt` names the fields whose values could not be read.
    """

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.problems: list[Problem] = []
        self.spoilt: set[str] = set()

    def add(self, field: str, seen: str, allowed: str, fix: str) -> None:
        """Note one mistake."""
        self.problems.append(Problem(field, seen, allowed, fix))

    def missing(self, field: str, fix: str) -> None:
        """Note that a field no order can do without is not there; one that could not be read is there."""
        if not any(field == spoilt or field.startswith(f"{spoilt}.") for spoilt in self.spoilt):
            self.add(field, "nothing", "is given, and it is needed", fix)

    def spoils(self, field: str) -> bool:
        """Whether something in this field could not be read."""
        return any(spoilt == field or spoilt.startswith(f"{field}.") for spoilt in self.spoilt)

    @contextmanager
    def collecting(self) -> Iterator[None]:
        """Take in the mistakes of another room and go on after the block."""
        try:
            yield
        except InputError as error:
            self.problems += error.problems

    def named(self) -> list[Problem]:
        """Every mistake once, with the file's name, in the order of the file's tables."""
        first = ("line", "the", *OrderFile.model_fields)

        def place(problem: Problem) -> int:
            table = _FIRST_WORD.match(problem.field)
            return first.index(table[0]) if table and table[0] in first else len(first)

        in_order = sorted(dict.fromkeys(self.problems), key=place)
        return [replace(problem, field=self.prefix + problem.field) for problem in in_order]


def read_tables(model: type[T], data: Mapping[str, Any], units: Units, slips: Slips) -> T:
    """The file's tables with every value that cannot be read noted and left out."""
    rest = deepcopy(dict(data))
    while True:
        try:
            return model.model_validate(rest, context={"units": units})
        except ValidationError as error:
            found = error.errors(include_url=False)
            paths = [_in_data(rest, details["loc"]) for details in found]
            for details, path in zip(found, paths, strict=True):
                slips.problems.append(_problem(model, details, path))
                slips.spoilt.add(".".join(step for step in path if isinstance(step, str)))
            for path in paths:
                _leave_out(rest, path)


def _problem(model: type[Table], details: ErrorDetails, path: Path) -> Problem:
    field, seen = _dotted(path), shown(details["input"])
    kind = details["type"]
    if kind == "ours":
        ours = details["ctx"]
        return Problem(field, ours["seen"], ours["allowed"], ours["fix"])
    if kind == "extra_forbidden":
        name = str(path[-1])
        return Problem(field, shown(name), "is not known here", _belongs(model, path))
    allowed, fix = _PLAINLY.get(
        kind.split("_")[0], ("cannot be read", "write it as the commented order does")
    )
    if kind == "model_type":
        inside = table_at(model, path)
        names = inside.required or names_of(inside)[:2]
        fix = f"write it as {{ {', '.join(f'{name} = ...' for name in names)} }}"
    if isinstance(details["input"], dict | list):
        seen = "a table" if isinstance(details["input"], dict) else "a list"
    return Problem(field, seen, allowed, fix)


def _belongs(model: type[Table], path: Path) -> str:
    """Where an unknown name belongs, or the name most like it."""
    name = str(path[-1])
    known = names_of(table_at(model, path[:-1]))
    homes = [top for top in model.model_fields if name in _fields_of(model, top)]
    if len(homes) == 1 and homes[0] != path[0]:
        return f"it belongs under [{homes[0]}]"
    return nearest(name, known)


def _fields_of(model: type[Table], top: str) -> tuple[str, ...]:
    inner = _table_in(model.model_fields[top].annotation)
    return () if inner is None else names_of(inner)


def names_of(table: type[Table]) -> tuple[str, ...]:
    """The names a table's fields have in the file."""
    return tuple(field.alias or name for name, field in table.model_fields.items())


def table_at(model: type[Table], path: Path) -> type[Table]:
    """The table a path leads to, as far as it leads."""
    for step in (one for one in path if isinstance(one, str)):
        field = model.model_fields.get(step)
        inner = None if field is None else _table_in(field.annotation)
        if inner is None:
            break
        model = inner
    return model


def _table_in(annotation: Any) -> type[Table] | None:
    if get_origin(annotation) in (Union, UnionType, list):
        return next((found for one in get_args(annotation) if (found := _table_in(one))), None)
    return annotation if isinstance(annotation, type) and issubclass(annotation, Table) else None


def _in_data(data: Any, loc: Path) -> Path:
    """The part of a location that is there in the file."""
    path: list[str | int] = []
    for step in loc:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            break
        path.append(step)
    return tuple(path)


def _dotted(path: Path) -> str:
    """A location as a maker reads it: `wearer.hips`, `tartan.widths, entry 2`."""
    names = [step for step in path if isinstance(step, str)]
    entry = next((f", entry {step + 1}" for step in path if isinstance(step, int)), "")
    return ".".join(names) + entry


def _leave_out(data: Any, path: Path) -> None:
    """Take the value at a location out of the data; of a list the whole list."""
    keys = path[: next((at for at, step in enumerate(path) if isinstance(step, int)), len(path))]
    for step in keys[:-1]:
        data = data.get(step, {}) if isinstance(data, dict) else {}
    if isinstance(data, dict):
        data.pop(keys[-1], None)
