"""TOML text as plain data; where it is not TOML, what the maker probably meant.

The commonest slips (a fraction without quotes, an inch mark inside double quotes, a key written twice) are
mended after they have been reported, so that the rest of the file is still read.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from pleatwright.errors import Problem

LONGEST = 100_000
"""Characters; a longer order is some other file [own choice]."""

_AT_LINE = re.compile(r"\(at line (\d+), column \d+\)$")
_PAIR = re.compile(r"(?P<key>\s*[\w.-]+)\s*=\s*(?P<value>[^#]*?)\s*(?:#.*)?")
_OPEN_HEADER = re.compile(r"\s*\[\s*([\w.]+)\s*(?:#.*)?")
_INCH_MARK = re.compile(r'"([^"]+)""')
_DIGITS = re.compile(r"[0-9A-Fa-f_]{200,}")
_TEXT = re.compile(r"""\"(?:[^"\\]|\\.)*(?:"|$)|'[^']*(?:'|$)""")
"""A text between quotes, on a line without any of several lines."""


def read_toml(text: str) -> tuple[dict[str, Any], list[Problem]]:
    """The data of a TOML text, and every slip in its writing; after a slip that hides the rest, no data."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    if len(text) > LONGEST:
        problem = Problem(
            "the file", f"{len(text)} characters", "are too many for an order", "name another file"
        )
        return {}, [problem]
    lines = text.split("\n")
    problems: list[Problem] = []
    for at, line in enumerate(lines):
        if _DIGITS.search(line) and _DIGITS.search(_but_texts(line)):
            allowed = "holds a number of too many digits"
            problems.append(Problem(f"line {at + 1}", _shown(line), allowed, "write it shorter"))
            lines[at] = ""
    while not problems or len(problems) <= len(lines):
        try:
            return tomllib.loads("\n".join(lines)), problems
        except tomllib.TOMLDecodeError as error:
            found = _AT_LINE.search(str(error))
            at = int(found[1]) - 1 if found else len(lines) - 1
            problem, mended = _slip(lines[at], _AT_LINE.sub("", str(error)).strip(), f"line {at + 1}")
            problems.append(problem)
            if mended is None or mended == lines[at]:
                return {}, problems
            lines[at] = mended
        except (RecursionError, ValueError):
            fix = "write lists and tables as the commented order does"
            return {}, [*problems, Problem("the file", "its text", "cannot be read as TOML", fix)]
    return {}, problems


def _but_texts(line: str) -> str:
    """What of a line may be a number."""
    return line if '"""' in line or "'''" in line else _TEXT.sub('""', line)


def _slip(line: str, why: str, where: str) -> tuple[Problem, str | None]:
    """The problem with one line, and the line as it may be read on; None where the rest cannot be trusted."""
    pair = _PAIR.fullmatch(line)
    if why.startswith("Cannot overwrite") and pair:
        problem = Problem(where, _shown(line), f"gives {pair['key'].strip()} twice", "keep one of the two")
        return problem, ""
    header = _OPEN_HEADER.fullmatch(line)
    if header:
        fix = f"write [{header[1]}]"
        return Problem(where, _shown(line), "is a table's name with one bracket", fix), f"[{header[1]}]"
    if pair is None:
        fix = 'write name = "value", or begin a remark with #'
        return Problem(where, _shown(line), f"is not TOML ({_lower(why)})", fix), None
    key, value = pair["key"], pair["value"]
    inch_mark = _INCH_MARK.fullmatch(value)
    if inch_mark:
        mended = f"{key} = '{inch_mark[1]}\"'"
        allowed = "has an inch mark inside double quotes"
        return Problem(where, _shown(line), allowed, f'write {key.strip()} = "{inch_mark[1]}"'), mended
    if not value:
        return Problem(where, _shown(line), "has no value", "write one, or take the line out"), ""
    if value[0] in "\"'[{" or "'" in value or "\\" in value:
        fix = f"write {key.strip()} as in the commented order, with its quotes and brackets closed"
        return Problem(where, _shown(line), f"is not TOML ({_lower(why)})", fix), None
    quote = "'" if '"' in value else '"'
    mended = f"{key} = {quote}{value}{quote}"
    problem = Problem(where, _shown(line), "has a value that needs quotes", f"write {mended.strip()}")
    return problem, mended


def _shown(line: str) -> str:
    line = line.strip()
    return f'"{line}"' if len(line) <= 80 else f'"{line[:77]}..."'


def _lower(why: str) -> str:
    return why[:1].lower() + why[1:].rstrip(".")
