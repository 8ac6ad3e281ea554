"""What the fields of an order, and of the book, are called on a page; mistakes told in those words."""

from __future__ import annotations

import re

from pleatwright.errors import Problem
from pleatwright.web.texts import texts

ROWS = (
    "shop.gauges",
    "piece.readings",
    "piece.second_readings",
    "piece.readings_across",
    "piece.faults",
    "tartan.widths",
)
"""Lists of an order, or of the shop's file, that a page shows as rows."""

_ENTRY = re.compile(r"(?P<name>[^,]+), entry (?P<number>\d+)(?P<rest>.*)")
_ROW = re.compile(r"(?P<list>[a-z_.]+?)(?:\.(?P<row>\d+)| (?P<number>\d+))(?:\.(?P<part>[a-z_]+))?")
_MISSING = "nothing"
_TABLE = re.compile(
    r'\{ (?:stripe = "(?P<stripe>[^"]*)"(?:, then = "(?P<then>[^"]*)")?|number = (?P<number>\d+)) \}'
)
_QUOTED = re.compile(r'"([^"]*)"')
_GIVEN = re.compile(r'\b(as|like) (\w+ = "[^"]*"(?:, \w+ = "[^"]*")*)')


def named(problem: Problem) -> Problem:
    """The problem as a page names it: rows counted from 0, between dots; a missing table by its page.

    What a file holds that has a name stays in the words of that file.
    """
    where = problem.field.removeprefix(": ")
    if ": " in where:
        return problem
    found = _ENTRY.fullmatch(where)
    if found is not None:
        name, rest = found["name"], found["rest"].partition(",")[0]
        rows = next((rows for rows in ROWS if f"{name}.".startswith(f"{rows}.")), name)
        where = f"{rows}.{int(found['number']) - 1}{name.removeprefix(rows)}{rest}"
    fix = texts()["missing"].get(where, problem.fix) if problem.seen == _MISSING else problem.fix
    return Problem(where, problem.seen, problem.allowed, told(_stripes(fix, where, problem.seen)))


def told(words: str) -> str:
    """What is said to whoever writes an order's file, as it is said to whoever fills in the pages."""
    for written, here in texts()["told"]["pairs"]:
        words = words.replace(written, here)
    return _GIVEN.sub(lambda given: f"{given[1]} {', '.join(_QUOTED.findall(given[2]))}", words)


def _stripes(fix: str, where: str, seen: str) -> str:
    """The stripes of a fix by the fields they go into; only what follows, where that alone is wanting."""
    cloth, said = texts()["cloth"], texts()["told"]
    follows = cloth["then_up" if where.startswith(("piece.selvedge", "piece.readings_across")) else "then"]
    ways = [one.groupdict() for one in _TABLE.finditer(fix)]
    if ways and all(one["then"] and seen == f'"{one["stripe"]}"' for one in ways):
        begun = fix.replace("write ", said["then"].format(field=follows), 1)
        return _TABLE.sub(lambda one: f'"{one["then"]}"', begun)
    return _TABLE.sub(lambda one: said[_way(one)].format(field=follows, **one.groupdict()), fix)


def _way(one: re.Match[str]) -> str:
    return "number" if one["number"] else "both" if one["then"] else "stripe"


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
