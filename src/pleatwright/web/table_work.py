"""The kilt on the table: the plan that was chosen, laid on the cloth as it has been read by now.

What is found at the table becomes a reading of the order's piece, and the marks follow; the chosen kilt
itself is never searched again, and a mark that was chalked is never moved without a word.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from functools import cached_property

from pleatwright.bench import Landmark, Step, TablePart, table_steps
from pleatwright.cloth.readings import WANDER_LENGTH
from pleatwright.errors import InputError, Problem
from pleatwright.layout import Option, relaid
from pleatwright.lengths import exact_text, parse_length, write_length, write_metric
from pleatwright.order import Job
from pleatwright.sett import Stripe
from pleatwright.shop.kept_plan import kept_option
from pleatwright.shop.store import Conflict, MarkEntry, OrderCard, State
from pleatwright.web.document import data_of, text_of
from pleatwright.web.house import House
from pleatwright.web.orders import Pinned, pinned
from pleatwright.web.texts import mistake, texts

CHALKED, RUBBED_OUT, STANDS = "chalked at ", "rubbed out", "stands"
"""What the note of an entry says: a mark chalked at this tape position, rubbed out again, a reading kept."""
_KEY = re.compile(r"stripe (?P<number>\d+) at thread (?P<thread>-?[\d.]+)")
NEAR = Fraction(1, 4)
"""Setts by which a stripe may be found off its place; beyond that another repeat was taken [our choice]."""
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
TRIES = 5
"""Times a reading is put into an order that another bench is saving."""
RIPPED = (State.RIPPED, State.SEWING, State.FITTING, State.FINISHED, State.COLLECTED, State.CALLED_OFF)


@dataclass(frozen=True)
class OnTable:
    """One order on the table: `option` as it lies on the cloth as read by now.

    `steps`: with keys that stay the same whatever is read.  `entries`: everything found and chalked, in the
    order in which that was done, whenever it was told of.
    """

    card: OrderCard
    job: Job
    option: Option
    steps: tuple[Step, ...]
    entries: tuple[MarkEntry, ...]
    shift: int

    @cached_property
    def chalked(self) -> dict[str, Fraction]:
        """Tape positions of the marks that are chalked, by their step's key."""
        found: dict[str, Fraction] = {}
        for entry in self.entries:
            if entry.note.startswith(CHALKED):
                found[entry.mark] = _exact(entry.note.removeprefix(CHALKED))
            elif entry.note == RUBBED_OUT:
                found.pop(entry.mark, None)
        return found

    @cached_property
    def found(self) -> dict[str, MarkEntry]:
        """What was found last, by the stripe's key."""
        return {entry.mark: entry for entry in self.entries if entry.found is not None}

    @property
    def strays(self) -> dict[str, Fraction]:
        """Chalk that is on the cloth from an earlier plan and is no mark of this kilt, by its step's key."""
        keys = {step.key for step in self.steps}
        return {mark: at for mark, at in self.chalked.items() if mark not in keys}

    @property
    def ripped(self) -> bool:
        """Whether the rip is behind it."""
        return self.card.state in RIPPED


def on_table(house: House, order: int) -> OnTable:
    """An order with its chosen kilt; raises NotKept, and InputError where there is nothing to mark yet."""
    card = house.card(order)
    found = pinned(house, card)
    if found is None:
        raise InputError(mistake("no_kilt", "plan"))
    job, option = found.worked.job, found.option
    if job.request.piece is None or option.cloth is None:
        raise InputError(mistake("no_piece", "piece"))
    name = ("table", found.version.id, option.number, found.worked.key)
    shift, steps = house.desk.read_back(name, lambda: _steps(found))
    entries = sorted(house.store.marks(card.id), key=lambda entry: (_when(entry), entry.number))
    return OnTable(card, job, option, steps, tuple(entries), shift)


def milliseconds(moment: datetime) -> int:
    """A moment in whole milliseconds since 1970."""
    return (moment - EPOCH) // timedelta(milliseconds=1)


def _when(entry: MarkEntry) -> int:
    return 0 if entry.made_at is None else milliseconds(entry.made_at)


def _steps(found: Pinned) -> tuple[int, tuple[Step, ...]]:
    """The screens of a plan in force, and how many threads further its piece is counted now."""
    chosen = kept_option(found.version.record, found.option.number) or found.option
    shift = round(found.option.over_apron.thread - chosen.over_apron.thread)
    if chosen.cloth is not None and chosen.cloth.turned_end_for_end:
        shift = -shift
    return shift, tuple(
        replace(step, key=landmark_key(step.landmark, shift))
        if step.part is TablePart.READINGS and step.landmark is not None
        else step
        for step in table_steps(found.worked.job, found.option)
    )


def landmark_key(landmark: Landmark, shift: int) -> str:
    """A stripe's name for good: its number, and its thread as the chosen plan counts them."""
    return f"stripe {landmark.number} at thread {landmark.thread - shift:.12g}"


@dataclass(frozen=True)
class Entered:
    """What came from a table: `key` names it, so that what is sent twice is kept once.

    `mark`: a step's or a stripe's key.  `text`: what was found there, "" where the mark was only chalked.
    `chalked`: None where this says nothing about chalk.  `stands`: measured again, and it stands.  `at`: when
    it was entered, in milliseconds since 1970; None: now.
    """

    key: str
    mark: str
    text: str = ""
    chalked: str | None = None
    stands: bool = False
    at: int | None = None


def enter(house: House, order: int, entered: Iterable[Entered], by: str) -> tuple[Problem, ...]:
    """Keep what came from a table and put what was found into the order's readings.

    Every entry is kept.  What was entered last counts, also where it was told of first, as when a tablet had
    no connection.  Returned is what could not be followed, each with the stripe's or step's key as its field.
    Raises NotKept, and InputError where the order has nothing on the table.
    """
    here = on_table(house, order)
    taking = _Taking(here)
    problems, now = list[Problem](), house.store.now()
    for each in entered:
        made_at = now if each.at is None else min(now, EPOCH + timedelta(milliseconds=each.at))
        entry = MarkEntry(order, here.job.version, each.mark, by=by, key=each.key, made_at=made_at)
        try:
            if each.text:
                entry = replace(entry, found=taking.found(each), note=STANDS if each.stands else "")
                house.store.append(entry)
                problems += taking.take(entry)
            elif each.chalked is not None:
                entry = replace(entry, note=_chalk(each.mark, each.chalked))
                if each.mark in taking.keys or each.mark in _once_marks(house, order):
                    house.store.append(entry)
                    problems += taking.take(entry)
                if each.mark not in taking.keys and each.chalked:
                    problems.append(_no_mark(each.mark))
        except InputError as error:
            problems += error.problems
    if here.ripped:
        return tuple(problems)
    return (*problems, *_follow(house, order, by))


class _Taking:
    """Entries as they come in, each held against the cloth as it has been found so far."""

    def __init__(self, here: OnTable) -> None:
        self.here, request = here, here.job.request
        if request.piece is None:
            raise ValueError("nothing lies on the table")
        self.run = request.piece.run(request.tartan)
        self.keys = {step.key for step in here.steps}
        self.kept = {entry.key for entry in here.entries}
        self.last = {entry.mark: entry for entry in here.entries}
        """What was entered last, by its mark."""
        self.off: dict[float, float] = {0.0: 0.0}
        """Inches by which stripes were found beyond their planned places, by those places."""
        for mark, entry in here.found.items():
            planned = self.planned(mark)
            if planned is not None and entry.found is not None:
                self.off[planned] = float(entry.found) - planned

    def planned(self, mark: str) -> float | None:
        """Tape position in inches of a stripe by its key; None for what is no stripe of this piece."""
        key, sett = _KEY.fullmatch(mark), self.run.sett
        if key is None:
            return None
        thread = float(key["thread"]) + self.here.shift
        at = self.run.tape_at(thread)
        named = sett.stripe_at(thread).index + 1 == int(key["number"])
        return at if named and -1 <= at <= (self.run.length or 0.0) + 1 else None

    def older(self, entry: MarkEntry) -> bool:
        """Whether something was entered of the same mark since then."""
        last = self.last.get(entry.mark)
        return last is not None and entry.key not in self.kept and _when(entry) < _when(last)

    def take(self, entry: MarkEntry) -> tuple[Problem, ...]:
        """Have an entry counted, now that it is kept; told is what counts in its place."""
        if self.older(entry):
            return (_late(entry, self.last[entry.mark], self.here.job),)
        if entry.key not in self.kept:
            self.last[entry.mark] = entry
            planned = self.planned(entry.mark)
            if planned is not None and entry.found is not None:
                self.off[planned] = float(entry.found) - planned
        return ()

    def found(self, each: Entered) -> Fraction:
        """Inches where a stripe was found; raises InputError where that is on another repeat.

        A piece may run longer or shorter than planned by more than a repeat in all, so a stripe is held
        against the nearest one that was found.
        """
        job = self.here.job
        at = parse_length(each.text, field=each.mark, unit=job.units)
        planned = self.planned(each.mark)
        if planned is None:
            raise InputError(mistake("no_stripe", each.mark, text=each.text))
        near = self.off[min(self.off, key=lambda place: abs(place - planned))]
        off = abs(float(at) - planned - near)
        if off > NEAR * job.request.sett_along:
            told = write_length(off, job.units, job.grid)
            raise InputError(mistake("another_repeat", each.mark, text=each.text, off=told))
        return at


def _chalk(mark: str, at: str) -> str:
    """The note of a mark that was chalked at a tape position, or rubbed out; raises InputError."""
    return CHALKED + exact_text(parse_length(at, field=mark)) if at else RUBBED_OUT


def _late(entry: MarkEntry, last: MarkEntry, job: Job) -> Problem:
    """What is told of late: both are kept, the later one counts."""
    return mistake("told_late", entry.mark, said=_said(entry, job), since=_said(last, job))


def _said(entry: MarkEntry, job: Job) -> str:
    """What an entry says, as it is told."""
    words = texts()["entries"]
    if entry.found is not None:
        return str(words["found"]).format(at=write_length(entry.found, job.units, job.grid))
    if entry.note == RUBBED_OUT:
        return str(words["rubbed_out"])
    at = _exact(entry.note.removeprefix(CHALKED))
    return str(words["chalked"]).format(at=write_length(at, job.units, job.grid))


def _once_marks(house: House, order: int) -> set[str]:
    """The marks of every plan of an order: chalk that is told of late may be of an earlier one."""
    records = (json.loads(version.record) for version in house.store.plans(order))
    return {f"{mark['group']}: {mark['what']}" for record in records for mark in record.get("marks", ())}


def _no_mark(mark: str) -> Problem:
    return mistake("no_mark", mark, mark=mark)


def _follow(house: House, order: int, by: str) -> tuple[Problem, ...]:
    """Put everything found into the order as readings, however many benches save it meanwhile."""
    for _ in range(TRIES):
        here = on_table(house, order)
        document = _with_readings(here)
        if document is None:
            return ()
        try:
            job = house.desk.job(document, house.shop().text)
            problem = _too_short(job)
            if problem is None:
                relaid(here.option, job.request)
                house.store.save(replace(here.card, document=document), by=by)
            return () if problem is None else (problem,)
        except InputError as error:
            return error.problems
        except ValueError as error:
            return (mistake("piece_as_read", "piece", said=error),)
        except Conflict as conflict:
            house.store.drop_draft(conflict.draft.id)
    return (mistake("being_saved", "order"),)


def _too_short(job: Job) -> Problem | None:
    """Two stripes near each other say nothing about the cloth far off: a sixteenth becomes an inch."""
    piece = job.request.piece
    ats = [] if piece is None else [reading.at for reading in piece.readings]
    if not ats or max(ats) - min(ats) >= WANDER_LENGTH:
        return None
    far = write_length(min(ats) + WANDER_LENGTH, job.units, job.grid)
    return mistake("too_near", "piece.readings", far=far)


def _named(job: Job, stripe: Stripe) -> dict[str, str | int]:
    """A stripe as a reading names it: by its number, and as the count writes it where that is plain."""
    tartan = job.request.tartan
    number: dict[str, str | int] = {"number": stripe.index + 1}
    if tartan.pivots == "half" or tartan.weft.unit_inches is not None:
        return number
    return {"stripe": f"{stripe.colour}{stripe.threads}", **number}


def _with_readings(here: OnTable) -> str | None:
    """The order's text with everything found as readings of its piece; None where it holds them already."""
    data, sett = data_of(here.card.document), here.job.request.tartan.weft
    rows = list(data["piece"].get("readings", ()))
    taken = [check for taped in here.job.taped if taped.field == "piece.readings" for check in taped.checks]
    row_of = {
        round(check.reading.thread, 3): check.number - 1 for check in taken if check.number <= len(rows)
    }
    changed = False
    for mark, entry in here.found.items():
        key = _KEY.fullmatch(mark)
        if entry.found is None or key is None:
            continue
        number, thread = int(key["number"]), float(key["thread"])
        metric = here.job.units == "metric"
        at = write_metric(entry.found, Fraction(1, 10)) if metric else exact_text(entry.found)
        row = {"at": at, **({"kept": True} if entry.note == STANDS else {})}
        index = row_of.get(round(thread + here.shift, 3))
        if index is None:
            rows.append({**_named(here.job, sett.stripes[number - 1]), **row})
            changed = True
        elif (rows[index].get("at"), rows[index].get("kept")) != (at, row.get("kept")):
            rows[index] = {**{k: v for k, v in rows[index].items() if k != "kept"}, **row}
            changed = True
    return text_of({**data, "piece": {**data["piece"], "readings": rows}}) if changed else None


def _exact(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))
