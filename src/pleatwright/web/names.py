"""What the fields of an order, and of the book, are called on a page; mistakes told in those words."""

from __future__ import annotations

import re

from pleatwright.errors import Problem
from pleatwright.web.texts import texts

ROWS = (
    "piece.readings",
    "piece.second_readings",
    "piece.readings_across",
    "piece.faults",
    "tartan.widths",
)
"""Lists of an order that a page shows as rows."""

_ENTRY = re.compile(r"(?P<name>[^,]+), entry (?P<number>\d+)(?P<rest>.*)")
_ROW = re.compile(r"(?P<list>[a-z_.]+?)(?:\.(?P<row>\d+)| (?P<number>\d+))(?:\.(?P<part>[a-z_]+))?")
_MISSING = "nothing"


def named(problem: Problem) -> Problem:
    """The problem as a page names it: rows counted from 0, between dots; a missing table by its page."""
    where = problem.field.removeprefix(": ")
    found = _ENTRY.fullmatch(where)
    if found is not None:
        rows = next((rows for rows in ROWS if found["name"].startswith(rows)), found["name"])
        where = f"{rows}.{int(found['number']) - 1}{found['name'].removeprefix(rows)}{found['rest']}"
    fix = texts()["missing"].get(where, problem.fix) if problem.seen == _MISSING else problem.fix
    return Problem(where, problem.seen, problem.allowed, fix)


def name_of(field: str) -> str:
    """A field's name in words; what is no field of ours keeps the name it has.

    Rows of a list are counted from 0 between dots, or from 1 behind a space.
    """
    names, rows = texts()["names"], texts()["rows"]
    if field in names:
        return str(names[field])
    found = _ROW.fullmatch(field)
    if found is None or found["list"] not in names:
        return field
    number = int(found["number"]) if found["number"] else int(found["row"]) + 1
    part = found["part"]
    return f"{names[found['list']]} {number}" + (f": {rows.get(part, part)}" if part else "")
