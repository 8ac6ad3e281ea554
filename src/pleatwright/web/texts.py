"""Every text of the pages, by language; English is the only one there is so far."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from pleatwright.errors import Problem

ENGLISH = "en"


@cache
def texts(language: str = ENGLISH) -> Mapping[str, Any]:
    """The texts of a language, by page and name; raises FileNotFoundError for one there is none of."""
    folder = files("pleatwright.web") / "texts"
    found = tomllib.loads((folder / f"{language}.toml").read_text(encoding="utf-8"))
    for part in ("table", "names", "mistakes"):
        found |= tomllib.loads((folder / f"{language}.{part}.toml").read_text(encoding="utf-8"))
    return found


def mistake(name: str, field: str, **said: object) -> Problem:
    """The mistake of that name among the texts, of a field, with what is said of it filled in."""
    seen, allowed, fix = texts()["mistakes"][name]
    return Problem(field, seen.format(**said), allowed.format(**said), fix.format(**said))
