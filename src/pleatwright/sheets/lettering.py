"""The packaged letters: how wide a text is, where it breaks, how it is made to fit."""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO
from typing import Any

POINTS = 72
"""Points in an inch."""

REGULAR, BOLD = "DejaVuSans", "DejaVuSans-Bold"

_WORD = re.compile(r"\S*\d (?:\d+/\d+|(?:mm|cm|m|yd)\b)\S*|\S+")
"""A word; a number is one with its fraction and its unit, as in 8 3/8" and 213 mm."""

CAPITALS = 0.73
"""Height of capitals and figures as a share of the text's size, of these letters."""


@cache
def register() -> None:
    """Make the packaged fonts known to the PDF library, once."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for name in (REGULAR, BOLD):
        font = files("pleatwright").joinpath("fonts", f"{name}.ttf").read_bytes()
        pdfmetrics.registerFont(TTFont(name, BytesIO(font)))


def clean(text: str) -> str:
    """The text without control characters, which no page can show."""
    if text.isprintable():  # nearly every text; asking letter by letter is ten times slower
        return text
    return "".join(" " if unicodedata.category(char) == "Cc" else char for char in text)


@lru_cache(maxsize=20_000)
def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line in inches; `size` in points."""
    wide = _letter_widths(bold)
    return 0.001 * size * sum([wide[letter] for letter in text]) / POINTS


class _Widths(dict[str, float]):
    """Each letter's width in thousandths of its size."""

    def __init__(self, face: Any) -> None:
        super().__init__((chr(code), width) for code, width in face.charWidths.items())
        self.unknown: float = face.defaultWidth

    def __missing__(self, letter: str) -> float:
        return self.unknown


@cache
def _letter_widths(bold: bool) -> _Widths:
    from reportlab.pdfbase.pdfmetrics import getFont

    register()
    return _Widths(getFont(BOLD if bold else REGULAR).face)


@lru_cache(maxsize=20_000)
def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text broken into lines at most `width` inches wide; a single longer word is broken too."""
    lines: list[str] = []
    line = ""
    for word in _WORD.findall(clean(text)):
        longer = f"{line} {word}" if line else word
        if width_of(longer, size, bold=bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, size, bold=bold) > width and len(line) > 1:
            cut = _longest(line, width, size, bold)
            lines.append(line[:cut])
            line = line[cut:]
    return (*lines, line) if line or not lines else tuple(lines)


def _longest(text: str, width: float, size: float, bold: bool) -> int:
    """How many letters go on the line; at least one."""
    cut = len(text)
    while cut > 1 and width_of(text[:cut], size, bold=bold) > width:
        cut -= 1
    return cut


def fitted(text: str, width: float, size: float, least: float, *, bold: bool = False) -> tuple[str, float]:
    """The text and the size, down to `least`, at which it is at most `width` inches wide; else cut short."""
    text = clean(text)
    wide = width_of(text, size, bold=bold)
    if wide <= width:
        return text, size
    smaller = size * width / wide
    if smaller >= least:
        return text, smaller
    while text and width_of(f"{text}…", least, bold=bold) > width:
        text = text[:-1]
    return f"{text.rstrip()}…", least
