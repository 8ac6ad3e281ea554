"""What a page of table mode needs, as plain JSON data: figures in parts, colours, words, what is said."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from typing import Any

from pleatwright.bench import Drawn, Step, TablePart, spoken
from pleatwright.cloth import Check
from pleatwright.lengths import MILLIMETRE, Grid, Units, on_grid, write_length
from pleatwright.order import Job
from pleatwright.sett import Tartan, colour_word
from pleatwright.shop.store import CheckEntry
from pleatwright.web.table_work import OnTable, landmark_key

Json = dict[str, Any]
MEMORY = 10_000
"""Figures and sentences that are asked for again and again: some hundred tables."""


def table_json(here: OnTable, check: CheckEntry | None, moment: int, texts: Mapping[str, Any]) -> Json:
    """Everything that one order's table mode shows; `check`: the last check before the rip.

    `moment`: now by the workshop's clock, in milliseconds since 1970, so that a tablet can set its own by it.
    """
    job, steps = here.job, [_step(step, here, texts) for step in here.steps]
    steps += [_stray(mark, at, job, texts) for mark, at in here.strays.items()]
    parts = [
        {"key": part, "name": texts["parts"][part.replace(" ", "_").replace("-", "_")]}
        for part, _ in groupby(step["part"] for step in steps)
    ]
    rip = TablePart.RIP.value
    return {
        "order": here.card.id,
        "now": moment,
        "reference": job.reference,
        "client": job.client,
        "version": job.version,
        "units": job.units,
        "grid": 1 if job.units == "metric" else job.grid.step.denominator,
        "hand": job.hand,
        "title": here.option.title,
        "opens_on": here.option.opens_on,
        "parts": [*parts, {"key": rip, "name": texts["parts"][rip]}],
        "steps": [*steps, {"key": rip, "part": rip, "kind": "rip", **_rip(here, check, texts)}],
    }


def _step(step: Step, here: OnTable, texts: Mapping[str, Any]) -> Json:
    job, reading = here.job, step.part is TablePart.READINGS
    chalked = here.chalked.get(step.key)
    made: Json = {
        "key": step.key,
        "part": step.part.value,
        "kind": "reading" if reading else "mark",
        "number": step.number,
        "group": step.group,
        "what": step.what,
        "across": step.across,
        "exact": str(step.tape),
        "figure": figure(step.tape, job),
        "repeat": step.repeat,
        "from": _signed(step.from_repeat, job) if step.repeat else None,
        "words": step.words,
        "say": _say(step, job, texts),
        "stripes": [_stripe(one, job.request.tartan) for one in step.stripes],
        "chalked": None
        if chalked is None
        else {"figure": figure(chalked, job), "moved": chalked != step.tape},
        "stripe": None,
    }
    if step.landmark is not None:
        key = landmark_key(step.landmark, here.shift)
        entry, check = here.found.get(key), _check(job, step.landmark.thread)
        at = None if entry is None else entry.found
        if at is None and reading and check is not None:
            at = Fraction(check.reading.at).limit_denominator(12700)
        made["stripe"] = {
            "key": key,
            "name": step.landmark.name,
            "planned": figure(step.landmark.at, job),
            "found": None if at is None else figure(at, job),
            "doubt": _doubt(check, job, texts),
        }
    return made


def _stray(mark: str, at: Fraction, job: Job, texts: Mapping[str, Any]) -> Json:
    """The screen of a mark that is on the cloth and is none of this kilt any more."""
    group, _, what = mark.partition(": ")
    return {
        "key": mark,
        "part": TablePart.REST.value,
        "kind": "mark",
        "number": 0,
        "group": group,
        "what": what,
        "across": None,
        "exact": str(at),
        "figure": figure(at, job),
        "repeat": 0,
        "from": None,
        "words": texts["stray"],
        "say": spoken(f"{group}, {what}. {write_length(at, job.units, job.grid)}. {texts['stray']}"),
        "stripes": [],
        "chalked": {"figure": figure(at, job), "moved": False},
        "stripe": None,
    }


def _check(job: Job, thread: float) -> Check | None:
    """The reading of that thread, held against the others."""
    checks = (check for taped in job.taped if taped.field == "piece.readings" for check in taped.checks)
    return next((check for check in checks if abs(check.reading.thread - thread) < 1e-3), None)


def _doubt(check: Check | None, job: Job, texts: Mapping[str, Any]) -> str:
    if check is None or not check.doubtful:
        return ""
    if check.likely is None:
        return str(texts["doubt_plain"])
    likely = write_length(check.likely, job.units, job.grid)
    slip = f" ({check.slip})" if check.slip else ""
    return str(texts["doubt"]).format(likely=likely) + slip


def _rip(here: OnTable, check: CheckEntry | None, texts: Mapping[str, Any]) -> Json:
    """Go or stop: go only if the last check said so of the marks in force, and no chalk lies elsewhere."""
    marks = [step for step in here.steps if step.part is not TablePart.READINGS]
    open_marks = sum(step.key not in here.chalked for step in marks)
    moved = sum(here.chalked.get(step.key, step.tape) != step.tape for step in marks)
    if here.ripped:
        go, why = False, texts["ripped"]
    elif check is None:
        go, why = False, texts["unchecked"]
    elif check.plan_version != here.job.version:
        go, why = False, texts["changed"]
    elif check.decision == "stop":
        go, why = False, texts["stopped"]
    elif moved or here.strays:
        go, why = False, texts["elsewhere"]
    else:
        go, why = True, texts["go_why"]
    more = []
    if open_marks > 0:
        more.append(texts["left"].format(count=open_marks))
    if moved:
        more.append(texts["moved_count"].format(count=moved))
    if here.strays:
        more.append(texts["stray_count"].format(count=len(here.strays)))
    return {"go": go, "verdict": texts["go"] if go else texts["stop"], "words": why, "more": more, "say": why}


def _stripe(drawn: Drawn, tartan: Tartan) -> Json:
    return {
        "colour": tartan.hex_of(drawn.colour),
        "word": colour_word(drawn.colour),
        "start": round(drawn.start, 4),
        "end": round(drawn.end, 4),
    }


def figure(value: Fraction, job: Job) -> Json:
    """A length in its parts, so that a fraction can be stacked: whole, top, bottom, sign of the unit."""
    return _figure(value, job.grid, job.units).copy()


@lru_cache(MEMORY)
def _figure(value: Fraction, grid: Grid, units: Units) -> Json:
    at = on_grid(value, grid)
    if units == "metric":
        return {"whole": str(round(at / MILLIMETRE)), "top": "", "bottom": "", "unit": "mm"}
    whole, rest = divmod(at, 1)
    return {
        "whole": str(whole) if whole or not rest else "",
        "top": str(rest.numerator) if rest else "",
        "bottom": str(rest.denominator) if rest else "",
        "unit": "″",
    }


def _signed(value: Fraction, job: Job) -> Json | None:
    if not value:
        return None
    return {"sign": "+" if value > 0 else "−", **figure(abs(value), job)}


def _say(step: Step, job: Job, texts: Mapping[str, Any]) -> str:
    """What is read aloud: what it is, its figure, its words."""
    what = step.what if step.part is TablePart.READINGS else f"{step.group}, {step.what}"
    end = texts["say_up"] if step.across else texts["say_along"]
    return _aloud(f"{what}. {write_length(step.tape, job.units, job.grid)} {end}. {step.words}")


@lru_cache(MEMORY)
def _aloud(words: str) -> str:
    return spoken(words)
