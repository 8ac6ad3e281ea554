"""The sewing log of an order: sew, measure, correct; entries are only added."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.bench.guide.card import begin_of
from pleatwright.bench.sewing import (
    Corrected,
    Entry,
    Fitted,
    Measured,
    Noted,
    SewingLog,
    SewingWords,
    Stage,
    Staged,
    Standing,
    Undone,
    begun,
    doubt_about,
    hand_of,
    standing,
    telling,
)
from pleatwright.errors import InputError
from pleatwright.lengths import parse_length
from pleatwright.sheets.drawing import Page
from pleatwright.sheets.pages.sewing_chart import sewing_chart
from pleatwright.sheets.svg import write_svg
from pleatwright.shop.sewing_record import entry_line, entry_of
from pleatwright.shop.store import OrderCard, SewingEntry, State
from pleatwright.trade import SewingSettings
from pleatwright.web.errors import NotYet, Refused
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf
from pleatwright.web.orders import Pinned, advance, back_to, in_force, order_page
from pleatwright.web.texts import mistake

router = APIRouter()

AHEAD = 8
"""Pleats shown ahead before the rest is unfolded."""
CHART_WIDE = 7.2
EARLY = tuple(state for state in State if list(State).index(state) < list(State).index(State.RIPPED))
"""States in which the cloth has not been ripped yet."""
FITTINGS = (
    ("waist", ("tight", "loose")),
    ("hips", ("tight", "loose")),
    ("front", ("long", "short")),
    ("side", ("long", "short")),
    ("back", ("long", "short")),
)
"""What a fitting looks at, and the words for too much and too little."""


@dataclass(frozen=True)
class Row:
    """An entry of the log as the page lists it; `counts`: whether it is not undone."""

    number: int
    words: str
    on: str
    by: str
    counts: bool
    first: bool


@dataclass(frozen=True)
class Bench:
    """A log at hand, with all that follows from it."""

    log: SewingLog
    now: Standing
    words: SewingWords
    settings: SewingSettings

    @property
    def rows(self) -> tuple[Row, ...]:
        """Every entry, the last first."""
        void = self.log.void()
        every = enumerate(self.log.entries, 1)
        return tuple(
            Row(number, self.words.entry(one), one.on, one.by, number not in void, number == 1)
            for number, one in every
        )[::-1]


def log_of(house: House, order: int) -> SewingLog | None:
    """The sewing log of an order; None while it has not begun."""
    entries = tuple(entry_of(one.record) for one in house.store.sewing(order))
    return SewingLog(entries) if entries else None


def _bench(house: House, card: OrderCard, found: Pinned) -> Bench | None:
    log = log_of(house, card.id)
    if log is None:
        return None
    settings = found.worked.job.request.settings.sewing
    return Bench(log, standing(log, settings), SewingWords(log, hand_of(log, settings)), settings)


@router.get("/orders/{number}/sewing")
def sewing_page(request: Request, house: HouseOf, number: int) -> Response:
    """Where the sewing stands."""
    card = house.card(number)
    return _page(request, house, card, in_force(house, card), Fields({}))


def _page(
    request: Request, house: House, card: OrderCard, found: Pinned, fields: Fields, status: int = 200
) -> Response:
    bench = _bench(house, card, found)
    return order_page(
        request,
        house,
        card,
        "order/sewing.html",
        status=status,
        f=fields,
        found=found,
        bench=bench,
        early=card.state in EARLY,
        begin=begin_of(found.worked.job),
        stages=list(Stage),
        fittings=FITTINGS,
        ahead=AHEAD,
        next_pleat=_next(bench),
    )


def _next(bench: Bench | None) -> str:
    """The pleat after which the next measurement is due."""
    if bench is None or not bench.now.ahead:
        return ""
    due = bench.now.ahead[min(bench.settings.measure_every, len(bench.now.ahead)) - 1]
    return str(due.pleat)


@router.get("/orders/{number}/sewing.svg")
def chart(house: HouseOf, number: int) -> Response:
    """How far the sewing is ahead or behind, pleat by pleat."""
    card = house.card(number)
    found = in_force(house, card)
    bench = _bench(house, card, found)
    if bench is None:
        raise Refused(404)
    block = sewing_chart(bench.log, bench.now, hand_of(bench.log, bench.settings), CHART_WIDE)
    svg = write_svg(Page(CHART_WIDE, block.height, block.items, "Sewing"))
    return Response(svg, media_type="image/svg+xml")


@router.post("/orders/{number}/sewing/start")
def start(house: HouseOf, number: int, form: FormSent) -> Response:
    """Begin the log with the figures of the plan in force."""
    card = house.card(number)
    found = in_force(house, card)
    if log_of(house, number) is not None:
        raise Refused(409, mistake("log_begun", "sewing"))
    begin: Literal["first", "last"] = "last" if form.get("begin") == "last" else "first"
    follow: Literal["spread", "least"] = "least" if form.get("follow") == "least" else "spread"
    entry = begun(
        found.worked.job, found.option, begin, follow, on=house.today().isoformat(), by=form.get("by")[:60]
    )
    _append(house, card, entry, 0)
    return back_to(advance(house, card, State.SEWING), "sewing")


@router.post("/orders/{number}/sewing")
def add_entry(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Add an entry: a width, a correction, a stage, a fitting, a note; or undo an earlier one."""
    card = house.card(number)
    found = in_force(house, card)
    bench = _bench(house, card, found)
    if bench is None:
        raise NotYet("sewing", mistake("no_log", "sewing"))
    if form.whole("entries") != len(bench.log.entries):
        problem = mistake("log_grown", "sewing")
        return _page(request, house, card, found, Fields({}, (problem,), dict(form.fields)), 409)
    try:
        entry = _entry(form, bench)
    except InputError as error:
        return _page(request, house, card, found, Fields({}, error.problems, dict(form.fields)), 422)
    entry = replace(entry, on=house.today().isoformat(), by=form.get("by")[:60])
    _append(house, card, telling(bench.log, entry, bench.settings), len(bench.log.entries))
    if isinstance(entry, Fitted):
        advance(house, card, State.FITTING)
    return back_to(card, "sewing")


def _append(house: House, card: OrderCard, entry: Entry, after: int) -> None:
    """Add an entry as the one after so many; raises Refused where another bench was first."""
    record = entry_line(entry)
    kept = house.store.append(SewingEntry(card.id, record, by=entry.by, key=f"entry {after + 1}"))
    if kept.record != record:
        raise Refused(409, mistake("log_grown", "sewing"))


def _entry(form: Form, bench: Bench) -> Entry:
    """The entry a form makes; raises InputError, and Refused for what no page of ours sends."""
    match form.get("kind"):
        case "width":
            return _measured(form, bench)
        case "correct":
            return _corrected(form, bench)
        case "undo":
            return _undone(form, bench)
        case "stage":
            stage = next((one for one in Stage if one == form.get("stage")), None)
            if stage is None:
                raise Refused(422, mistake("no_stage", "stage"))
            return Staged(stage)
        case "fitting":
            return _fitted(form, bench)
        case "note":
            words = " ".join(form.get("words").split())
            if not words:
                raise InputError(mistake("no_words", "words"))
            return Noted(words)
    raise Refused(422, mistake("no_entry", "kind"))


def _width(form: Form, name: str, bench: Bench) -> Fraction | None:
    length = form.length(name, bench.log.started.units)
    if length == 0:
        raise InputError(mistake("no_width", name, text=form.get(name)))
    return length


def _widths(form: Form, bench: Bench) -> tuple[Fraction | None, Fraction | None]:
    hip, strap = _width(form, "hip", bench), _width(form, "strap", bench)
    if hip is None and strap is None:
        raise InputError(mistake("no_measure", "hip"))
    return hip, strap


def _measured(form: Form, bench: Bench) -> Measured:
    pleats = len(bench.log.started.told.hip)
    ends = []
    for name in ("first", "last"):
        text = form.get(name)
        if not (text.isascii() and text.isdigit() and len(text) < 4 and 1 <= int(text) <= pleats):
            raise InputError(mistake("no_pleat", name, text=text[:20], pleats=pleats))
        ends.append(int(text))
    hip, strap = _widths(form, bench)
    sure = form.get("sure") == "true"
    made = Measured(min(ends), max(ends), hip, strap, form.get("hip"), form.get("strap"), sure)
    _ask(made, bench.log, bench)
    return made


def _ask(entry: Measured, log: SewingLog, bench: Bench) -> None:
    """Raise InputError, with a question, for what is hardly possible and not said to be sure."""
    asked = None if entry.sure else doubt_about(log, entry, bench.settings)
    if asked is not None:
        guesses = "".join(f"{guess} " for guess in asked.guesses)
        raise InputError(mistake("hardly_possible", "hip", said=asked.said, guesses=guesses))


def _corrected(form: Form, bench: Bench) -> Corrected:
    number = form.whole("entry")
    measured = dict(bench.log.readings()).get(number)
    if measured is None:
        raise InputError(mistake("no_measurement", "entry", number=number))
    hip, strap = _widths(form, bench)
    sure = form.get("sure") == "true"
    _ask(replace(measured, hip=hip, strap=strap, sure=sure), bench.log.adding(Undone(number)), bench)
    return Corrected(
        number, hip, strap, form.get("hip"), form.get("strap"), " ".join(form.get("reason").split())
    )


def _undone(form: Form, bench: Bench) -> Undone:
    number = form.whole("entry")
    if not 2 <= number <= len(bench.log.entries) or number in bench.log.void():
        raise InputError(mistake("not_undone", "entry", number=number))
    return Undone(number)


def _fitted(form: Form, bench: Bench) -> Fitted:
    found: dict[str, Fraction] = {}
    for name, (_, less) in FITTINGS:
        text, units = form.get(name), bench.log.started.units
        size = parse_length(text, field=name, unit=units) if text else Fraction(0)
        found[name] = -size if form.get(f"{name}_way") == less else size
    left = len(bench.log.started.told.hip) - bench.log.done()
    return Fitted(
        found["waist"],
        found["hips"],
        found["front"],
        found["side"],
        found["back"],
        left,
        words=" ".join(form.get("words").split()),
    )
