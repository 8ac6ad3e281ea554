"""Templates filled in: every value is escaped, and a name that is not there is an error."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined

import pleatwright
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Job
from pleatwright.web.names import name_of, named
from pleatwright.web.texts import texts
from pleatwright.web.unbroken import unbroken


@cache
def environment() -> Environment:
    """The templates' surroundings, made once."""
    made = Environment(
        loader=PackageLoader("pleatwright.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    made.globals["t"] = texts()
    made.globals["made_by"] = f"pleatwright {pleatwright.__version__}"
    made.filters["fill"] = _fill
    made.filters["day"] = _day
    made.filters["money"] = _money
    made.filters["length_of"] = _length_of
    made.filters["length_in"] = write_length
    made.filters["yards_in"] = write_yards
    made.filters["moment"] = _moment
    made.filters["named"] = named
    made.filters["name_of"] = name_of
    made.filters["weekday"] = _weekday
    made.globals["m"] = made.get_template("macros.html").module
    return made


def render(request: Request, template: str, *, status: int = 200, **values: Any) -> HTMLResponse:
    """A page, or a part of one, for this request's session."""
    session = getattr(request.state, "session", None)
    page = (
        environment()
        .get_template(template)
        .render(
            request=request,
            path=request.url.path,
            csrf="" if session is None else session.csrf,
            status=status,
            **values,
        )
    )
    return HTMLResponse(unbroken(page), status)


def _fill(text: str, **values: object) -> str:
    return text.format(**values)


def _day(value: date | None) -> str:
    return "" if value is None else f"{value.day} {value:%b %Y}"


def _money(value: Decimal | None) -> str:
    return "" if value is None else f"{value:,.2f}"


def _length_of(value: Fraction | float, job: Job) -> str:
    return write_length(value, job.units, job.grid)


def _moment(value: datetime | None) -> str:
    return "" if value is None else f"{_day(value.astimezone())}, {value.astimezone():%H:%M}"


def _weekday(value: date) -> str:
    return f"{value:%A}"
