"""Every refusal of the app has one shape, as a page and as JSON.

{"status": 422, "title": "...", "problems": [{"field", "seen", "allowed", "fix"}]}
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fastapi import Request
from fastapi.responses import JSONResponse, Response

from pleatwright.errors import PleatwrightError, Problem
from pleatwright.web.pages import render
from pleatwright.web.texts import texts


class Refused(PleatwrightError):  # noqa: N818 -- read with its status: raise Refused(404)
    """A request that cannot be done; caught once, where the app is made."""

    title = ""

    def __init__(self, status: int, problems: Problem | Iterable[Problem] = ()) -> None:
        self.status = status
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__(f"{status}: {len(self.problems)} problems")


class NotYet(Refused):
    """Something of an order that comes before; `step` is the page on which it is done."""

    title = "not_yet"

    def __init__(self, step: str, problem: Problem) -> None:
        self.step = step
        super().__init__(409, problem)


def error_body(status: int, problems: Iterable[Problem], title: str = "") -> dict[str, Any]:
    """The one shape of an error."""
    return {
        "status": status,
        "title": title_of(status, title),
        "problems": [
            {"field": each.field, "seen": each.seen, "allowed": each.allowed, "fix": each.fix}
            for each in problems
        ],
    }


def title_of(status: int, title: str = "") -> str:
    """What a status means here, in words; `title` names words of its own."""
    known = texts()["errors"]
    return str(known.get(title or f"s{status}", known["other"]))


def as_page(request: Request) -> bool:
    """Whether a whole page is wanted."""
    wanted = request.headers.get("accept", "")
    return "application/json" not in wanted and request.headers.get("hx-request") != "true"


def error_response(
    request: Request, status: int, problems: Iterable[Problem] = (), title: str = ""
) -> Response:
    """The error as JSON where that is asked for, else as a page."""
    problems = tuple(problems)
    if "application/json" in request.headers.get("accept", ""):
        return JSONResponse(error_body(status, problems, title), status)
    if request.headers.get("hx-request") == "true":
        return render(request, "parts/problems.html", status=status, problems=problems)
    return render(request, "error.html", status=status, title=title_of(status, title), problems=problems)
