"""Reading and writing lengths, the tape grid, and spreading whole units evenly.

A length is a `fractions.Fraction` of inches, exact to the last digit given. Makers read
fractions of an inch or millimetres; rounding happens here, for tape and paper, never inside the
geometry. Rounding never accumulates: positions are rounded, not steps.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from pleatwright.errors import InputError, Problem

Units = Literal["in", "metric"]
_Refuse = Callable[..., InputError]

MILLIMETRE = Fraction(5, 127)
"""One millimetre in inches; the inch is 25.4 mm by definition."""

ROUNDING = 1e-9
"""Inches by which a limit may be missed through rounding."""
NOISE_DIGITS = 9
"""Figures are cleared of rounding noise to so many digits before they are put on a grid."""

_INCHES = {"yd": Fraction(36), "ft": Fraction(12), "in": Fraction(1)}
_METRIC = {"m": 1000 * MILLIMETRE, "cm": 10 * MILLIMETRE, "mm": MILLIMETRE}
_SIZE = _INCHES | _METRIC
_SPELLINGS = {
    "yd": ("yd", "yds", "yard", "yards"),
    "ft": ("ft", "foot", "feet", "'", "\u2032", "\u2019"),
    "in": ("in", "ins", "inch", "inches", '"', "\u2033", "\u201d", "''", "\u2032\u2032"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
}
_UNIT_OF = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}
_UNIT_PATTERN = "|".join(re.escape(s) for s in sorted(_UNIT_OF, key=len, reverse=True))
_D = "[0-9]{1,40}"
_PART = re.compile(
    rf"(?:(?P<whole>{_D})(?:\s*-\s*|\s+))?(?P<top>{_D})\s*/\s*(?P<bottom>{_D})"
    rf"|(?P<decimal>{_D}(?:[.,][0-9]{{0,40}})?|[.,]{_D})"
)
_PIECE = re.compile(rf"\s*(?P<number>{_PART.pattern})\s*(?P<unit>(?:{_UNIT_PATTERN})\.?)?\s*")
_MOST = 10**6
_THOUSANDS = 3
_FINEST_EXPONENT = -40
_WRITE_INCHES = "write 40, 40 1/2 or 102 cm"
_WRITE_METRIC = 'write 102 or 102.5 (centimetres), 1020 mm or 40 1/2"'


def parse_length(
    value: str | int | float | Decimal | Fraction,
    *,
    field: str = "length",
    unit: Units = "in",
    allow_negative: bool = False,
) -> Fraction:
    """Read a length as exact inches.

    A bare number is inches, or centimetres when `unit` is "metric"; a written unit always wins.
    Read are `25`, `8 3/8`, `8-3/8`, `8⅜`, `3/4`, `8.375`, `21.3 cm`, `21,3 cm`, `213 mm`, `1.2 m`,
    `8 1/4 yd`, `2 ft`, `8 3/8"`, `5' 3"`. A decimal comma is read in metric lengths only, and
    not before three digits, where it could as well part thousands.

    Raises InputError, naming `field`, for anything else, and for a negative length unless
    `allow_negative`.
    """
    write = _WRITE_INCHES if unit == "in" else _WRITE_METRIC
    seen = f'"{value}"'

    def refuse(allowed: str, fix: str = write) -> InputError:
        return InputError(Problem(field, seen, allowed, fix))

    if isinstance(value, str):
        text, sign = _plain_text(value)
        length = _read(text, unit, refuse) * sign
    elif isinstance(value, bool) or not isinstance(value, int | float | Decimal | Fraction):
        raise refuse("is not a length")
    elif not math.isfinite(value):
        raise refuse("is not a finite length")
    elif isinstance(value, Decimal) and int(value.as_tuple().exponent) < _FINEST_EXPONENT:
        raise refuse("has more decimals than any tape")
    elif not -_MOST <= value <= _MOST:  # before a Decimal of many digits is written out in full
        raise refuse("is longer than any cloth")
    else:
        exact = Fraction(str(value)) if isinstance(value, float) else Fraction(value)
        length = exact * (_METRIC["cm"] if unit == "metric" else 1)
    if abs(length) > _MOST:
        raise refuse("is longer than any cloth")
    if length < 0 and not allow_negative:
        raise refuse("is negative, and a length here is never negative")
    return length


def _plain_text(value: str) -> tuple[str, int]:
    """The text with vulgar fractions spelt out, lower case, and its sign."""
    spelt = "".join(
        " " + unicodedata.normalize("NFKC", char)
        if unicodedata.category(char) == "No" and "\u2044" in unicodedata.normalize("NFKC", char)
        else char
        for char in value
    )
    text = spelt.replace("\u2044", "/").strip().lower()
    return (text[1:].lstrip(), -1) if text[:1] in ("-", "\u2212") else (text, 1)


def _read(text: str, unit: Units, refuse: _Refuse) -> Fraction:
    """Add up the parts of a written length; only yards, feet and inches go together."""
    total, at, units = Fraction(0), 0, list[str]()
    while at < len(text) or not units:
        piece = _PIECE.match(text, at)
        if piece is None:
            raise refuse("is not a length")
        spelling = piece["unit"]
        if spelling is None:
            if units:
                raise refuse("is not a length")
            name = "in" if unit == "in" else "cm"
        else:
            name = _UNIT_OF[spelling.removesuffix(".")]
        total += _number(piece, metric=name in _METRIC, refuse=refuse) * _SIZE[name]
        units.append(name)
        at = piece.end()
        if spelling is None and at < len(text):
            raise refuse("is not a length")
    order = [name for name in _INCHES if name in units]
    if len(units) > 1 and units != order:
        raise refuse("mixes units that do not go together")
    return total


def _number(piece: re.Match[str], *, metric: bool, refuse: _Refuse) -> Fraction:
    decimal = piece["decimal"]
    if decimal is not None:
        whole, comma, digits = decimal.partition(",")
        if comma and (not metric or len(digits) == _THOUSANDS):
            after = f" {piece['unit']}" if piece["unit"] else ""
            raise refuse(
                "has a comma that can be read in two ways",
                f"write {whole or '0'}.{digits}{after} or {whole}{digits}{after}",
            )
        return Fraction(decimal.replace(",", ".").rstrip("."))
    top, bottom = int(piece["top"]), int(piece["bottom"])
    if bottom == 0:
        raise refuse("has a fraction over zero")
    if piece["whole"] is None:
        return Fraction(top, bottom)
    if top >= bottom:
        raise refuse("has a fraction that is not below 1 after its whole number")
    return int(piece["whole"]) + Fraction(top, bottom)


class Grid(Enum):
    """What a maker's tape shows: positions are rounded to one of these steps."""

    SIXTEENTH = "1/16"
    THIRTYSECOND = "1/32"
    MILLIMETRE = "mm"

    @property
    def step(self) -> Fraction:
        """The step in inches."""
        return _STEPS[self]


_STEPS = {
    Grid.SIXTEENTH: Fraction(1, 16),
    Grid.THIRTYSECOND: Fraction(1, 32),
    Grid.MILLIMETRE: MILLIMETRE,
}


def on_grid(value: Fraction | float, grid: Grid) -> Fraction:
    """The nearest point of the grid, in inches; halves go to the even step."""
    (top, bottom), step = value.as_integer_ratio(), grid.step
    whole, rest = divmod(top * step.denominator, bottom * step.numerator)
    half = 2 * rest - bottom * step.numerator
    return Fraction((whole + (half > 0 or (half == 0 and whole % 2))) * step.numerator, step.denominator)


def spread(units: int, parts: int) -> tuple[int, ...]:
    """Spread whole units over parts: two neighbouring sizes, evenly mixed, adding up exactly.

    size_i = floor((i+1)U/N + 1/2) - floor(iU/N + 1/2) [derived]; the same from left and from
    right for an odd number of parts. Raises ValueError for fewer than one part.
    """
    if parts < 1:
        raise ValueError(f"cannot spread over {parts} parts; give 1 or more")
    marks = [(2 * i * units + parts) // (2 * parts) for i in range(parts + 1)]
    return tuple(right - left for left, right in pairwise(marks))


def exact_text(value: Fraction) -> str:
    """The exact value as whole number and fraction: `8 3/8`, `213/254`, `-1/2`, `7`."""
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def write_inches(value: Fraction | float, grid: Grid = Grid.SIXTEENTH) -> str:
    """Inches as read off a tape, rounded to the grid: `8 3/8"`."""
    return f'{exact_text(on_grid(value, grid))}"'


def write_metric(value: Fraction | float, step_mm: int | float | Fraction = 1) -> str:
    """Inches written as millimetres, rounded to a multiple of `step_mm`: `213 mm`."""
    step = Fraction(str(step_mm))
    millimetres = round(Fraction(value) / MILLIMETRE / step) * step
    return f"{float(millimetres):.3f}".rstrip("0").rstrip(".") + " mm"


def write_length(value: Fraction | float, units: Units, grid: Grid | None = None) -> str:
    """Inches written for the maker: on the inch grid (default 1/16), or in whole millimetres.

    A grid of the other kind of unit is not used.
    """
    if units == "metric":
        return write_metric(value)
    return write_inches(value, Grid.THIRTYSECOND if grid is Grid.THIRTYSECOND else Grid.SIXTEENTH)


def write_yards(value: Fraction | float, units: Units) -> str:
    """Inches of cloth written as yards, or as metres, to two decimals: `7.25 yd`, `6.63 m`."""
    name, size = ("m", _METRIC["m"]) if units == "metric" else ("yd", _INCHES["yd"])
    return f"{float(round(Fraction(value) / size, 2)):.2f} {name}"


def round_up_yards(value: Fraction | float, units: Units) -> Fraction:
    """Inches of cloth rounded up to what is bought: a quarter yard, or a tenth of a metre."""
    step = _METRIC["m"] / 10 if units == "metric" else Fraction(9)
    return math.ceil(Fraction(value) / step) * step


def file_number(value: Fraction | float) -> float:
    """A number for a file: six decimals, halves to even."""
    return float(round(Fraction(value), 6))
