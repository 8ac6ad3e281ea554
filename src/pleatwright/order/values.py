"""Single values of an order as they are written: lengths, shares, numbers, days, words, colours.

Each is checked where pydantic meets it; what is wrong is put in the words of a `Problem`.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from difflib import get_close_matches
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, PlainValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from pleatwright.errors import InputError
from pleatwright.lengths import Units, parse_length
from pleatwright.trade import SHARE_ABOVE, SHARE_BELOW

LONGEST_TEXT = 2_000

_SHARE = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9}|/[0-9]{1,9})?")
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")


def refused(seen: object, allowed: str, fix: str) -> PydanticCustomError:
    """A mistake in our own words, for pydantic to carry."""
    parts = {"seen": shown(seen), "allowed": allowed, "fix": fix}
    return PydanticCustomError("ours", "{seen} {allowed}; {fix}", parts)


def shown(seen: object) -> str:
    """What was written, in quotes and not too long."""
    text = str(seen)
    if isinstance(seen, bool):
        text = text.lower()
    return f'"{text}"' if len(text) <= 80 else f'"{text[:77]}..."'


def nearest(word: str, known: tuple[str, ...]) -> str:
    """A fix that names the known word most like this one, or all of them."""
    near = get_close_matches(word.casefold(), [each.casefold() for each in known], n=1)
    if near:
        return f"did you mean {next(each for each in known if each.casefold() == near[0])}?"
    return f"known are {', '.join(known)}"


def _units(info: ValidationInfo) -> Units:
    return "metric" if info.context and info.context.get("units") == "metric" else "in"


def _length(value: Any, info: ValidationInfo) -> Fraction:
    try:
        return parse_length(value, unit=_units(info))
    except InputError as error:
        (problem,) = error.problems
        raise refused(value, problem.allowed, problem.fix) from None


def _size(value: Any, info: ValidationInfo) -> Fraction:
    length = _length(value, info)
    if not length:
        raise refused(value, "must be more than 0", "measure it again")
    return length


def _share(value: Any) -> Fraction:
    text = str(value).strip()
    try:
        share = Fraction(text if _SHARE.fullmatch(text) else "none")
    except (ValueError, ZeroDivisionError):
        raise refused(value, "is not a proportion", "write it as 1/2 or 0.45") from None
    if not SHARE_ABOVE < share < SHARE_BELOW:
        allowed = f"must lie between {SHARE_ABOVE} and {SHARE_BELOW}"
        raise refused(value, allowed, "write the apron's part of the round, usually 1/2")
    return share


def _count(least: int, example: int) -> Callable[[Any], int]:
    def read(value: Any) -> int:
        text = str(value).strip()
        if isinstance(value, bool) or not re.fullmatch(r"[0-9]{1,6}", text) or int(text) < least:
            raise refused(value, f"is not a whole number from {least} up", f"write it like {example}")
        return int(text)

    return read


def _day(value: Any) -> str:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value.isoformat()
    try:
        return datetime.date.fromisoformat(str(value).strip()).isoformat()
    except ValueError:
        raise refused(value, "is not a day", "write year-month-day, as 2031-05-04") from None


def _day_or_words(value: Any) -> str:
    return value.isoformat() if isinstance(value, datetime.date) else _text(value)


def _text(value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise refused(value, "is not text", "write it in quotes")
    text = " ".join(str(value).split())
    if len(text) > LONGEST_TEXT:
        raise refused(text, f"has more than {LONGEST_TEXT} characters", "write it shorter")
    if not text.isprintable():
        raise refused(text, "holds signs that cannot be printed", "write letters, figures and marks only")
    return text


def _colour(value: Any) -> str:
    if not isinstance(value, str) or not _HEX.fullmatch(value.strip()):
        raise refused(value, "is not a colour", "write red, green and blue, as #4A6B8C")
    return value.strip().upper()


def _one_of(*words: str) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        for word in words:
            if isinstance(value, str) and value.strip().casefold() == word.casefold():
                return word
        quoted = [f'"{word}"' for word in words]
        choices = f"{', '.join(quoted[:-1])} or {quoted[-1]}"
        raise refused(value, "is not known here", f"write {choices}")

    return read


def _strip(value: Any) -> int:
    if isinstance(value, bool) or str(value).strip() not in ("1", "2"):
        raise refused(value, "is not a strip", "write 1 for the bottom selvedge's, 2 for the other one's")
    return int(value)


_LENGTH_SCHEMA = {
    "type": ["string", "number"],
    "minimum": 0,
    "description": 'a length: 40, "40 1/2", "40-1/2", "102 cm"; a bare number is inches, or cm in metric',
}
_TEXT_SCHEMA = {"type": ["string", "number"]}

Length = Annotated[Fraction, PlainValidator(_length), WithJsonSchema(_LENGTH_SCHEMA)]
Size = Annotated[Fraction, PlainValidator(_size), WithJsonSchema(_LENGTH_SCHEMA)]
Share = Annotated[Fraction, PlainValidator(_share), WithJsonSchema({"type": ["string", "number"]})]
Count = Annotated[int, PlainValidator(_count(1, 10)), WithJsonSchema({"type": "integer", "minimum": 1})]
Pleats = Annotated[int, PlainValidator(_count(2, 27)), WithJsonSchema({"type": "integer", "minimum": 2})]
Day = Annotated[str, PlainValidator(_day), WithJsonSchema({"type": "string"})]
DayOrWords = Annotated[str, PlainValidator(_day_or_words), WithJsonSchema({"type": "string"})]
Text = Annotated[str, PlainValidator(_text), WithJsonSchema(_TEXT_SCHEMA)]
Colour = Annotated[
    str, PlainValidator(_colour), WithJsonSchema({"type": "string", "pattern": "^#[0-9A-Fa-f]{6}$"})
]
WearerKind = Annotated[Literal["man", "woman", "child"], BeforeValidator(_one_of("man", "woman", "child"))]
TaperWord = Annotated[Literal["man", "woman"], BeforeValidator(_one_of("man", "woman"))]
Side = Annotated[Literal["right", "left"], BeforeValidator(_one_of("right", "left"))]
PivotsWord = Annotated[Literal["whole", "half"], BeforeValidator(_one_of("whole", "half"))]
FirstSewn = Annotated[Literal["over-apron", "pleats"], BeforeValidator(_one_of("over-apron", "pleats"))]
UnitsWord = Annotated[Literal["in", "metric"], BeforeValidator(_one_of("in", "metric"))]
EdgeWord = Annotated[
    Literal["true", "tucked", "open fringe"], BeforeValidator(_one_of("true", "tucked", "open fringe"))
]
StripNumber = Annotated[
    Literal[1, 2], BeforeValidator(_strip), WithJsonSchema({"enum": [1, 2], "type": "integer"})
]
PaperWord = Annotated[Literal["A4", "Letter"], BeforeValidator(_one_of("A4", "Letter"))]
