"""The check before the rip: what is measured again, and go or stop."""

from __future__ import annotations

import json
from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.bench import Blank, Kind, Question, questions
from pleatwright.errors import InputError, Problem
from pleatwright.findings import Severity
from pleatwright.shop import CheckRecord, check_record, read_found
from pleatwright.shop.found import WHO
from pleatwright.shop.record import as_json
from pleatwright.shop.store import CheckEntry, OrderCard, State
from pleatwright.web.document import text_of
from pleatwright.web.errors import NotYet
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import Pinned, advance, back_to, in_force, order_page
from pleatwright.web.texts import mistake

router = APIRouter()

OVERRIDES = "override."
"""Begins the names of the reasons for which a stop is taken on."""


@dataclass(frozen=True)
class Past:
    """A check that was made: its entry, its record as JSON has it, whether it was for the plan in force."""

    entry: CheckEntry
    record: dict[str, object]
    now: bool


@router.get("/orders/{number}/check")
def check_page(request: Request, house: HouseOf, number: int) -> Response:
    """The questions of the check, and the checks made before."""
    card = house.card(number)
    return _page(request, house, card, in_force(house, card), Form(), ())


def _asked(found: Pinned) -> tuple[Question, ...]:
    if found.worked.job.request.piece is None or found.option.cloth is None:
        raise NotYet("cloth", mistake("no_piece", "piece"))
    return questions(found.worked.job, found.option)


def _page(
    request: Request,
    house: House,
    card: OrderCard,
    found: Pinned,
    form: Form,
    problems: tuple[Problem, ...],
    made: CheckRecord | None = None,
    status: int = 200,
) -> Response:
    asked = _asked(found)
    past = [
        Past(one, json.loads(one.record), one.plan_version == found.worked.job.version)
        for one in reversed(house.store.checks(card.id))
    ]
    stops = [] if made is None else [one for one in made.findings if one.severity is Severity.STOP]
    shown = {"checked_on": house.today().isoformat(), **dict(form.fields)}
    return order_page(
        request,
        house,
        card,
        "order/check.html",
        status=status,
        f=Fields({}, problems, shown),
        asked=asked,
        joined=any(blank.sewn for question in asked for blank in question.blanks),
        kinds=Kind,
        past=past,
        made=made,
        stops=stops,
        versions=_versions(found),
        job=found.worked.job,
    )


def _versions(found: Pinned) -> list[str]:
    """Versions of the plan that may be at the foot of the marks in hand, the one printed now first."""
    return list(dict.fromkeys([found.worked.job.version, found.version.plan_version]))


@router.post("/orders/{number}/check")
def make_check(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Judge what was found, keep the record, and say go or stop."""
    card = house.card(number)
    found = in_force(house, card)
    asked = _asked(found)
    data: dict[str, object] = {name: form.get(name) for name in WHO if form.get(name)}
    for question in asked:
        for blank in question.blanks:
            data[blank.key] = _written(blank, form.get(blank.key))
    reasons = {
        name.removeprefix(OVERRIDES): text.strip()
        for name, text in form.fields
        if name.startswith(OVERRIDES) and text.strip()
    }
    if reasons.keys() - {"by"}:
        data["override"] = reasons
    try:
        entered = read_found(text_of(data), found.worked.job, found.option, source="")
    except InputError as error:
        return _page(request, house, card, found, form, error.problems, status=422)
    made = check_record(found.worked.job, found.option, entered)
    record = json.dumps(as_json(made), ensure_ascii=False)
    by = form.get("checked_by")[:60]
    house.store.append(CheckEntry(card.id, found.worked.job.version, made.decision.value, record, by=by))
    if made.decision == "stop":
        return _page(request, house, card, found, form, (), made)
    advance(house, advance(house, card, State.CHALKED), State.CHECKED)
    return back_to(card, "check")


def _written(blank: Blank, text: str) -> object:
    """A blank's text as the file of what was found has it; places one to a line, their height after @."""
    if blank.kind is not Kind.PLACES or not text or text.casefold() == "none":
        return text
    places = []
    for line in text.replace(";", "\n").split("\n"):
        at, _, height = line.partition("@")
        if at.strip():
            places.append({"at": at.strip(), **({"height": height.strip()} if height.strip() else {})})
    return places
