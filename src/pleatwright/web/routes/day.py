"""The day: what is due, what waits, and the bench hours left before what is promised."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.shop.store import OPEN, OrderLine, State
from pleatwright.web.hours import Hours, hours_left
from pleatwright.web.house import HouseOf
from pleatwright.web.pages import render

router = APIRouter()

SHOWN = 40
"""Orders looked at closely; what is promised later than these is listed with the orders."""
AHEAD = timedelta(days=60)
WAITING = {
    State.ASKED: "measures",
    State.MEASURED: "quote",
    State.QUOTED: "quote",
    State.CLOTH_ORDERED: "cloth",
    State.CLOTH_HERE: "cloth",
    State.PLANNED: "plan",
    State.CHALKED: "check",
    State.CHECKED: "check",
    State.RIPPED: "sewing",
    State.SEWING: "sewing",
    State.FITTING: "sewing",
    State.FINISHED: "closing",
}
"""The page of what comes next, state by state."""


@dataclass(frozen=True)
class Due:
    """An order on the day's list; `total`: bench hours of it and of all that is promised before it."""

    line: OrderLine
    hours: Hours | None
    total: float


@router.get("/")
def the_day(request: Request, house: HouseOf) -> Response:
    """What is due, what waits, bench hours left before promised dates."""
    today = house.today()
    lines = house.store.orders(states=OPEN, due_by=today + AHEAD, limit=SHOWN)
    total, due = 0.0, list[Due]()
    for line in lines:
        hours = hours_left(house, line)
        total += 0.0 if hours is None else hours.left
        due.append(Due(line, hours, total))
    more = house.store.count_orders(states=OPEN, due_by=today + AHEAD) - len(lines)
    counts = house.store.count_by_state()
    waiting = [
        (state, counts[state], house.store.orders(states=[state], limit=5))
        for state in WAITING
        if state in counts
    ]
    return render(
        request,
        "day.html",
        today=today,
        due=due,
        late=sum(1 for one in due if one.line.promised is not None and one.line.promised < today),
        waiting=waiting,
        step=_step,
        more=max(0, more),
        drafts=house.store.drafts(),
        hours=total,
        days=working_days(today, today + AHEAD),
        empty=not counts,
    )


def _step(line: OrderLine) -> str:
    """The page of what comes next; an alteration has but one."""
    return f"/orders/{line.id}" if line.kind == "alteration" else f"/orders/{line.id}/{WAITING[line.state]}"


def working_days(start: date, end: date) -> int:
    """Days from Monday to Friday in between, the first counted."""
    return sum(1 for day in range((end - start).days) if (start + timedelta(days=day)).weekday() < 5)
