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
from pleatwright.bench.closing import half_hours, write_hours
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Job
from pleatwright.web.names import name_of, named, told
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
    made.filters["day"] = day
    made.filters["money"] = _money
    made.filters["length_of"] = _length_of
    made.filters["length_in"] = write_length
    made.filters["yards_in"] = write_yards
    made.filters["hours"] = write_hours
    made.filters["half_hours"] = _half_hours
    made.filters["moment"] = _moment
    made.filters["named"] = named
    made.filters["told"] = told
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


def day(value: date | None) -> str:
    """A day as every page writes it, as 20 Jan 2027; "" for none."""
    return "" if value is None else f"{value.day} {value:%b %Y}"


def _money(value: Decimal | None) -> str:
    return "" if value is None else f"{value:,.2f}"


def _length_of(value: Fraction | float, job: Job) -> str:
    return write_length(value, job.units, job.grid)


def _half_hours(value: float) -> str:
    return f"{half_hours(value):g}"


def _moment(value: datetime | None) -> str:
    return "" if value is None else f"{day(value.astimezone())}, {value.astimezone():%H:%M}"


def _weekday(value: date) -> str:
    return f"{value:%A}"
