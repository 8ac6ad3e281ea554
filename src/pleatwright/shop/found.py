"""The file of what was found before the rip: written to be filled in, read with every mistake named."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from pleatwright.bench import Blank, FaultSeen, Found, Kind, Override, Question, Seen, questions
from pleatwright.errors import InputError, Problem
from pleatwright.layout import Option
from pleatwright.lengths import parse_length
from pleatwright.order import Job
from pleatwright.order.document import read_toml
from pleatwright.order.references import Stripes
from pleatwright.order.values import nearest, shown
from pleatwright.sett import Sett

WHO = ("checked_by", "checked_on")
"""Initials and day; neither is judged."""
OVERRIDE = "override"

_NAME = re.compile(r"/?(?P<colour>[a-z]{1,3})[/ ]*(?P<size>[^/ ].*?)??/?")

Entry = str | tuple[str, ...]


@dataclass(frozen=True)
class Entered:
    """A found file as read: the values to judge, what is taken on, and every entry as it was written."""

    found: Found
    overrides: tuple[Override, ...]
    as_written: tuple[tuple[str, Entry], ...]


def found_form(job: Job, option: Option) -> str:
    """A found file to fill in; it does not say what is expected.

    Raises ValueError while there is no piece of cloth.
    """
    lines = [
        f"# The check before the rip: {job.client}, {job.reference}".rstrip(", "),
        "# Measure the chalked cloth again and write what you find, not what the packet says: the expected",
        "# values are left out here on purpose, so that nobody copies them.",
        f"# {_how_lengths(job)}",
        f"# {_how_stripes(job)}",
        "",
        *(f'{name} = ""' for name in WHO),
    ]
    for number, question in enumerate(questions(job, option), 1):
        lines += ["", f"# {number}. {question.title}. {question.why}"]
        for blank in question.blanks:
            pinned = "* " if blank.sewn else ""
            lines.append(f'{blank.key} = ""'.ljust(26) + f"# {pinned}{blank.ask}{_choices(blank)}")
    if any(blank.sewn for question in questions(job, option) for blank in question.blanks):
        lines += [
            "",
            "# Leave all that is marked * empty until both strips are ripped and pinned together.",
        ]
    lines += [
        "",
        "# To go on against a stop, write its code and your reason; both stay in the record.",
        f"# [{OVERRIDE}]",
        '# by = "initials"',
        '# facing-short = "the client wants a narrow facing"',
    ]
    return "\n".join(lines) + "\n"


def _how_lengths(job: Job) -> str:
    if job.units == "metric":
        return 'Lengths: "59.7" is centimetres; "597 mm" or "23 1/2 in" may be written too.'
    return 'Lengths: "23 1/2" is inches; "23.5" or "59.7 cm" may be written too.'


def _how_stripes(job: Job) -> str:
    if job.request.tartan.weft.unit_inches is None:
        return "Stripes: colour and threads as in the count, one after the other."
    return "Stripes: colour and width as in the order, with a comma between them."


def _choices(blank: Blank) -> str:
    if blank.choices:
        return ": " + " or ".join(f'"{choice}"' for choice in blank.choices)
    if blank.kind is Kind.PLACES:
        return '; as ["47 1/2", { at = "112", height = "5" }]'
    return ""


def read_found(text: str, job: Job, option: Option, *, source: str = "found.toml") -> Entered:
    """Read a found file; `source` names it in messages.

    Raises InputError with every mistake in it, and for every blank that was left empty; where two strips are
    joined, those of the pinned strips may all be empty.
    """
    reader = _Reader(job, option, f"{source}: ")
    data, problems = read_toml(text)
    reader.problems += [Problem(reader.prefix + p.field, p.seen, p.allowed, p.fix) for p in problems]
    if data or not problems:
        reader.read(data)
    if reader.problems:
        raise InputError(reader.problems)
    return reader.entered()


class _Reader:
    """One file being read: its values by kind, and every problem met on the way."""

    def __init__(self, job: Job, option: Option, prefix: str) -> None:
        self.job, self.prefix = job, prefix
        self.asked: tuple[Question, ...] = questions(job, option)
        self.problems: list[Problem] = []
        self.lengths: dict[str, Fraction] = {}
        self.stripes: dict[str, Seen] = {}
        self.counts: dict[str, int] = {}
        self.words: dict[str, str] = {}
        self.faults: tuple[FaultSeen, ...] = ()
        self.overrides: tuple[Override, ...] = ()
        self.as_written: list[tuple[str, Entry]] = []

    def entered(self) -> Entered:
        """What was read."""
        plan = self.words.pop("plan")
        found = Found(plan, self.lengths, self.stripes, self.counts, self.words, self.faults)
        return Entered(found, self.overrides, tuple(self.as_written))

    def read(self, data: Mapping[str, Any]) -> None:
        """Read every blank and the overrides."""
        blanks = [blank for question in self.asked for blank in question.blanks]
        known = (*WHO, *(blank.key for blank in blanks), OVERRIDE)
        for name in data:
            if name not in known:
                self._refuse(name, shown(name), "is no blank of this check", nearest(name, known))
        for name in WHO:
            if data.get(name):
                self.as_written.append((name, str(data[name])))
        pinned = any(not _empty(data.get(blank.key)) for blank in blanks if blank.sewn)
        for blank in blanks:
            value = data.get(blank.key)
            if not _empty(value):
                self._blank(blank, value)
            elif pinned or not blank.sewn:
                self._refuse(blank.key, "nothing", "is given, and it is needed", f"measure: {blank.ask}")
        self._overrides(data.get(OVERRIDE, {}))

    def _refuse(self, field: str, seen: str, allowed: str, fix: str) -> None:
        self.problems.append(Problem(self.prefix + field, seen, allowed, fix))

    def _blank(self, blank: Blank, value: Any) -> None:
        if blank.kind is Kind.PLACES:
            self._places(blank, value)
            return
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            self._refuse(blank.key, "a list or table", "is not one value", f'write {blank.key} = "..."')
            return
        text = " ".join(str(value).split())
        self.as_written.append((blank.key, text))
        if blank.kind is Kind.LENGTH:
            length = self._length(blank.key, value)
            if length is not None:
                self.lengths[blank.key] = length
        elif blank.kind is Kind.COUNT:
            if text.isascii() and text.isdigit() and len(text) < 5:
                self.counts[blank.key] = int(text)
            else:
                self._refuse(blank.key, shown(value), "is not a whole number", "count, and write it as 34")
        elif blank.kind is Kind.STRIPES:
            self._stripes(blank, text)
        elif blank.kind is Kind.CHOICE:
            choice = next((one for one in blank.choices if one == text.casefold()), None)
            if choice is None:
                fix = "write " + " or ".join(f'"{one}"' for one in blank.choices)
                self._refuse(blank.key, shown(value), "is neither of the two", fix)
            else:
                self.words[blank.key] = choice
        else:
            self.words[blank.key] = text.casefold()

    def _length(self, field: str, value: Any) -> Fraction | None:
        try:
            return parse_length(value, field=self.prefix + field, unit=self.job.units)
        except InputError as error:
            self.problems += error.problems
            return None

    def _stripes(self, blank: Blank, text: str) -> None:
        tartan = self.job.request.tartan
        sett = tartan.warp if blank.across else tartan.weft
        labels = _labels(sett, tartan.written.split("//")[0 if blank.across else -1], self.job)
        counted = sett.unit_inches is None
        parts = text.replace(",", " ").split() if counted else text.split(",")
        if len(parts) != blank.stripes:
            example = (" " if counted else ", ").join(list(labels)[: blank.stripes])
            allowed = f"names {len(parts)} instead of {blank.stripes} stripes"
            self._refuse(blank.key, shown(text), allowed, f"write them as {example}")
            return
        seen = []
        for part in parts:
            named = _named(part, labels)
            if named is None:
                known = ", ".join(dict.fromkeys(labels))
                self._refuse(
                    blank.key, shown(part.strip()), "is no one stripe of this sett", f"it has {known}"
                )
                return
            seen.append(named)
        self.stripes[blank.key] = tuple(seen)

    def _places(self, blank: Blank, value: Any) -> None:
        if isinstance(value, str) and value.strip().casefold() == "none":
            self.as_written.append((blank.key, "none"))
            return
        entries = value if isinstance(value, list) else [value]
        faults, written = [], []
        for number, entry in enumerate(entries, 1):
            field = f"{blank.key}, entry {number}"
            table = entry if isinstance(entry, dict) else {"at": entry}
            if "at" not in table or set(table) - {"at", "height"}:
                self._refuse(field, shown(entry), "is no place", 'write { at = "47 1/2", height = "5" }')
                continue
            at = self._length(field, table["at"])
            height = self._length(field, table["height"]) if "height" in table else None
            if at is not None:
                faults.append(FaultSeen(at, height))
            written.append(" at height ".join(str(each) for each in table.values()))
        self.faults = tuple(faults)
        self.as_written.append((blank.key, tuple(written)))

    def _overrides(self, table: Any) -> None:
        if not isinstance(table, dict):
            self._refuse(OVERRIDE, shown(table), "is not a table", f"write [{OVERRIDE}] and its lines below")
            return
        table = dict(table)
        by = str(table.pop("by", "")).strip()
        inner = table.pop("check", {})  # check.facing-short written without quotes
        reasons = {**table, **(inner if isinstance(inner, dict) else {"check": inner})}
        if reasons and not by:
            self._refuse(f"{OVERRIDE}.by", "nothing", "is written", "write the initials of who takes it on")
        found = []
        for code, reason in reasons.items():
            if not isinstance(reason, str) or not reason.strip():
                allowed, fix = "gives no reason", f'write {code} = "why it is safe to go on"'
                self._refuse(f"{OVERRIDE}.{code}", shown(reason), allowed, fix)
                continue
            full = code if code.startswith("check.") else f"check.{code}"
            found.append(Override(full, " ".join(reason.split()), by))
        self.overrides = tuple(found)


def _empty(value: Any) -> bool:
    return value is None or (isinstance(value, str) and not value.strip())


def _labels(sett: Sett, written: str, job: Job) -> dict[str, frozenset[int]]:
    """Every way to write a stripe, and the stripes it may be; `written` is that side's count."""
    pivots = "/" in written or "are pivots" in written
    stripes = Stripes(sett, job.request.tartan.pivots == "half" and pivots, "", job.units)
    found: dict[str, set[int]] = {}
    for stripe in sett.stripes:
        found.setdefault(stripes.label(stripe), set()).add(stripe.index)
    return {label: frozenset(indices) for label, indices in found.items()}


def _named(part: str, labels: Mapping[str, frozenset[int]]) -> frozenset[int] | None:
    """The stripes a name may mean: as labelled; a colour alone where its stripes are all of one size."""
    text = _plain(part)
    for label, indices in labels.items():
        if _plain(label) == text:
            return indices
    alone = [indices for label, indices in labels.items() if (_plain(label)[0], "") == text]
    return alone[0] if len(alone) == 1 else None


def _plain(text: str) -> tuple[str, str]:
    """A stripe's name as colour and size, however it was spaced: G/32 and g 32 are one."""
    parts = _NAME.fullmatch(" ".join(text.casefold().replace('"', "").split()))
    return (text, "") if parts is None else (parts["colour"], parts["size"] or "")
