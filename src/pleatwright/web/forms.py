"""Forms: what was sent, cleaned; and a page's fields with their values and their mistakes beside them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from fastapi import Depends, Request
from starlette.datastructures import FormData, UploadFile

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units, parse_length
from pleatwright.web.document import Data, field_of, rows_of
from pleatwright.web.errors import Refused
from pleatwright.web.money import MONEY, Sort, read_amount
from pleatwright.web.names import named
from pleatwright.web.texts import mistake

CSRF, CSRF_HEADER = "csrf", "x-csrf"
VERSION = "version"
OURS = (CSRF, VERSION)
MOST_FIELDS, LONGEST = 1_500, 20_000
LONGEST_OF = {"document": 1_000_000}
"""An order's whole text may be longer than any field of it."""
LARGEST_FILE = 100_000

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_.-]{0,80}(\[\])?")


@dataclass(frozen=True)
class Form:
    """What a form sent: names and texts in order; `files` by name."""

    fields: tuple[tuple[str, str], ...] = ()
    files: Mapping[str, str] = field(default_factory=dict)

    def get(self, name: str) -> str:
        """The last text of that name, "" where there is none."""
        return next((text.strip() for key, text in reversed(self.fields) if key == name), "")

    def all(self, name: str) -> tuple[str, ...]:
        """Every text of that name."""
        return tuple(text.strip() for key, text in self.fields if key == name and text.strip())

    def under(self, *tables: str) -> tuple[tuple[str, str], ...]:
        """The fields of these tables of the order."""
        return tuple(
            (name, text) for name, text in self.fields if name.split(".")[0] in tables and "." in name
        )

    @property
    def version(self) -> int:
        """The version of what the form was made from; raises Refused where it says none."""
        return self.whole(VERSION)

    def whole(self, name: str) -> int:
        """A whole number; raises Refused."""
        text = self.get(name)
        if not (text.isascii() and text.isdigit() and len(text) < 10):
            raise Refused(422, mistake("no_whole_number", name, text=text))
        return int(text)

    def units(self, otherwise: Units) -> Units:
        """The units the page was shown in, which stay meant whatever the shop has changed to since."""
        text = self.get("units")
        return "metric" if text == "metric" else "in" if text == "in" else otherwise

    def length(self, name: str, units: Units) -> Fraction | None:
        """A length in inches, None where it was left empty; raises InputError."""
        text = self.get(name)
        return parse_length(text, field=name, unit=units) if text else None

    def day(self, name: str) -> date | None:
        """A day, None where it was left empty; raises InputError."""
        text = self.get(name)
        if not text:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise InputError(mistake("no_day", name, text=text)) from None

    def amount(self, name: str, sort: Sort = MONEY) -> Decimal | None:
        """An amount, None where it was left empty; raises InputError."""
        text = self.get(name)
        return read_amount(text, name, sort) if text else None


async def form_of(request: Request) -> Form:
    """The form of a request; raises Refused for what no page of ours sends."""
    kind = request.headers.get("content-type", "").split(";")[0].strip().lower()
    if kind not in ("application/x-www-form-urlencoded", "multipart/form-data"):
        raise Refused(415, mistake("no_form", "content-type", text=kind[:60]))
    sent = await _sent(request)
    fields: list[tuple[str, str]] = []
    files: dict[str, str] = {}
    for name, value in sent.multi_items():
        if not _NAME.fullmatch(name):
            raise Refused(422, mistake("no_field", "form", text=cleaned(name)[:60]))
        if isinstance(value, UploadFile):
            if value.filename:
                files[name] = await _file_text(name, value)
        elif len(value) > LONGEST_OF.get(name, LONGEST):
            raise Refused(413, mistake("too_many_letters", name, count=len(value)))
        else:
            fields.append((name, cleaned(value)))
    return Form(tuple(fields), files)


async def _sent(request: Request) -> FormData:
    return await request.form(max_files=1, max_fields=MOST_FIELDS, max_part_size=LARGEST_FILE)


async def _file_text(name: str, upload: UploadFile) -> str:
    content = await upload.read(LARGEST_FILE + 1)
    await upload.close()
    if len(content) > LARGEST_FILE:
        raise Refused(413, mistake("file_too_large", name, most=LARGEST_FILE))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused(415, mistake("no_plain_text", name)) from None


async def same_page(request: Request) -> None:
    """Every change carries its session's token: the form's field or the header; raises Refused."""
    if request.method in ("GET", "HEAD"):
        return
    session = getattr(request.state, "session", None)
    if session is None:  # a device that pairs has none yet; its code stands for it
        return
    token = request.headers.get(CSRF_HEADER)
    if token is None and "form" in request.headers.get("content-type", ""):
        value = (await _sent(request)).get(CSRF)
        token = value if isinstance(value, str) else None
    if token != session.csrf:
        raise Refused(403, mistake("earlier_session", CSRF))


FormSent = Annotated[Form, Depends(form_of)]


def cleaned(text: str) -> str:
    """Text without control characters (but line breaks) and without halves of characters."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = "".join(char for char in text if char == "\n" or unicodedata.category(char) not in ("Cc", "Cs"))
    return unicodedata.normalize("NFC", kept)


class Fields:
    """A page's fields: an order's data, and every mistake beside the field it is about."""

    def __init__(self, data: Data, problems: Iterable[Problem] = (), more: Mapping[str, str] | None = None):
        self.data, self.more = data, dict(more or {})
        self._problems = tuple(named(each) for each in problems)
        self._shown: set[str] = set()

    def value(self, name: str) -> str:
        """What stands in the field."""
        return self.more.get(name) or field_of(self.data, name)

    def chosen(self, name: str) -> tuple[str, ...]:
        """What is chosen in a list."""
        value: Any = self.data
        for part in name.split("."):
            value = value.get(part) if isinstance(value, Mapping) else None
        return tuple(value) if isinstance(value, list) else (value,) if isinstance(value, str) else ()

    def rows(self, name: str, more: int = 0) -> range:
        """Numbers of the rows to show: those there are, and some empty ones."""
        return range(len(rows_of(self.data, name)) + more)

    def problems(self, name: str) -> tuple[Problem, ...]:
        """The mistakes of one field."""
        found = tuple(each for each in self._problems if each.field == name)
        if found:
            self._shown.add(name)
        return found

    def others(self, *tables: str) -> tuple[Problem, ...]:
        """The mistakes of these tables that no field has shown yet; without tables, of all."""
        return tuple(
            each
            for each in self._problems
            if each.field not in self._shown and (not tables or re.split(r"[^a-z_]", each.field)[0] in tables)
        )
