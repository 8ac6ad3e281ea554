"""Every text of the pages, by language; English is the only one there is so far."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

ENGLISH = "en"


@cache
def texts(language: str = ENGLISH) -> Mapping[str, Any]:
    """The texts of a language, by page and name; raises FileNotFoundError for one there is none of."""
    folder = files("pleatwright.web") / "texts"
    found = tomllib.loads((folder / f"{language}.toml").read_text(encoding="utf-8"))
    for part in ("table", "names"):
        found |= tomllib.loads((folder / f"{language}.{part}.toml").read_text(encoding="utf-8"))
    return found
