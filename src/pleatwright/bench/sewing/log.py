"""The sewing log as values: entries that are only added, and what follows from all of them.

Entries are numbered from 1 in their order; the first says what was planned when sewing began, and those
figures stay the log's own.  Every entry that changes what is told carries the sizes told from then on, so
that what was sewn is never reckoned away by a later measurement, a later plan or a later version of the
program.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Literal

from pleatwright.bench.sewing.kilt import Kilt
from pleatwright.bench.sewing.maker import SEWN_LEVELS, Sewn
from pleatwright.lengths import Grid, Units, on_grid
from pleatwright.wearer import LevelName


class Stage(StrEnum):
    """Where the work is, beside the pleats."""

    PINNED = "pinned"
    SEWN = "sewn"
    CUT_OUT = "folds cut out"
    STABILISER = "stabiliser"
    APRONS = "aprons"
    BASTED = "basted"
    FITTED = "fitted"
    BAND = "band"
    PRESSED = "pressed"


@dataclass(frozen=True)
class Told:
    """Every pleat's told size at either level, in inches, numbered from the over-apron."""

    hip: tuple[Fraction, ...] = ()
    strap: tuple[Fraction, ...] = ()

    def at(self, level: LevelName) -> tuple[Fraction, ...]:
        """The sizes of one level."""
        return self.hip if level is LevelName.HIP else self.strap


@dataclass(frozen=True)
class Started:
    """Sewing began: the plan's own figures.  `begin`: the pleat sewn first; `told`: the sizes as planned.

    `follow`: whether the rest is re-spread after every measurement or only the smallest change is told.
    """

    plan: str
    client: str
    reference: str
    option: int
    title: str
    opens_on: str
    units: Units
    grid: Grid
    hand: str
    begin: Literal["first", "last"]
    sewn_first: str
    follow: Literal["spread", "least"]
    kilt: Kilt
    told: Told
    on: str = ""
    by: str = ""


@dataclass(frozen=True)
class Measured:
    """The tape across the pleats `first` to `last`: inches, and as written; None where it was not laid.

    `sure`: kept although it was asked about.
    """

    first: int
    last: int
    hip: Fraction | None
    strap: Fraction | None
    hip_written: str = ""
    strap_written: str = ""
    sure: bool = False
    told: Told = Told()
    on: str = ""
    by: str = ""


@dataclass(frozen=True)
class Corrected:
    """A measurement put right: what the tape really said; None leaves that level as it was."""

    entry: int
    hip: Fraction | None
    strap: Fraction | None
    hip_written: str = ""
    strap_written: str = ""
    reason: str = ""
    told: Told = Told()
    on: str = ""
    by: str = ""


@dataclass(frozen=True)
class Undone:
    """An entry that does not count any more; undone itself, that entry counts again."""

    entry: int
    told: Told = Told()
    on: str = ""
    by: str = ""


@dataclass(frozen=True)
class Staged:
    """A stage was reached."""

    stage: Stage
    on: str = ""
    by: str = ""


@dataclass(frozen=True)
class Fitted:
    """What a fitting found, in inches: tight (positive) or loose, long (positive) or short; 0 where it is
    right.

    `left`: pleats still to be sewn then; with none the waist or hips go to the aprons whole.
    """

    waist: Fraction
    hips: Fraction
    front: Fraction
    side: Fraction
    back: Fraction
    left: int
    words: str = ""
    told: Told = Told()
    on: str = ""
    by: str = ""

    def asked(self, level: LevelName) -> Fraction:
        """What it found at hip line or strap line."""
        return self.hips if level is LevelName.HIP else self.waist

    @property
    def fits(self) -> bool:
        """Whether nothing at all was found."""
        return not (self.words or any((self.waist, self.hips, self.front, self.side, self.back)))


@dataclass(frozen=True)
class Noted:
    """The maker's own words."""

    words: str
    on: str = ""
    by: str = ""


Entry = Started | Measured | Corrected | Undone | Staged | Fitted | Noted
Telling = Started | Measured | Corrected | Undone | Fitted
"""Entries after which other sizes are told."""


@dataclass(frozen=True)
class SewingLog:
    """All entries, in order.  Raises ValueError where one leans on another that is not there."""

    entries: tuple[Entry, ...]

    def __post_init__(self) -> None:
        if not self.entries or not isinstance(self.entries[0], Started):
            raise ValueError("a log begins with the entry that sewing began")
        pleats = len(self.started.told.hip)
        for number, entry in enumerate(self.entries, 1):
            _sound(self.entries, number, entry, pleats)

    @property
    def started(self) -> Started:
        """The first entry."""
        first = self.entries[0]
        assert isinstance(first, Started)  # held when the log was made
        return first

    @property
    def from_over_apron(self) -> bool:
        """Whether sewing began at the pleat beside the over-apron."""
        return self.started.begin == "first"

    def adding(self, entry: Entry) -> SewingLog:
        """The log with one more entry."""
        return SewingLog((*self.entries, entry))

    def void(self) -> frozenset[int]:
        """Numbers of the entries that do not count; a later word on an entry goes before an earlier one."""
        void = set[int]()
        for number in range(len(self.entries), 0, -1):
            entry = self.entries[number - 1]
            if isinstance(entry, Undone) and number not in void:
                void.add(entry.entry)
        return frozenset(void)

    def undone_by(self, number: int) -> int | None:
        """The number of the entry that undoes another; None where that one counts."""
        void = self.void()
        found = (
            at
            for at, entry in enumerate(self.entries, 1)
            if isinstance(entry, Undone) and entry.entry == number and at not in void
        )
        return max(found, default=None)

    def readings(self, before: int | None = None) -> tuple[tuple[int, Measured], ...]:
        """The measurements that count, as corrected, with their numbers; `before`: up to that entry."""
        void = self.void()
        found: dict[int, Measured] = {}
        for number, entry in enumerate(self.entries, 1):
            if number in void or (before is not None and number >= before):
                continue
            if isinstance(entry, Measured):
                found[number] = entry
            elif isinstance(entry, Corrected) and entry.entry in found:
                found[entry.entry] = _put_right(found[entry.entry], entry)
        return tuple(found.items())

    def sewn(self, before: int | None = None) -> tuple[Sewn, ...]:
        """The same, a level each."""
        return tuple(
            Sewn(level, one.first, one.last, width)
            for _, one in self.readings(before)
            for level, width in ((LevelName.HIP, one.hip), (LevelName.STRAP, one.strap))
            if width is not None
        )

    def done(self, before: int | None = None) -> int:
        """Pleats sewn: from where sewing began to the furthest one that was measured at either level."""
        pleats = len(self.started.told.hip)
        ends = [
            one.last if self.from_over_apron else pleats + 1 - one.first for _, one in self.readings(before)
        ]
        return max(ends, default=0)

    def fittings(self) -> tuple[tuple[int, Fitted], ...]:
        """The fittings that count, with their numbers."""
        void = self.void()
        return tuple(
            (number, entry)
            for number, entry in enumerate(self.entries, 1)
            if isinstance(entry, Fitted) and number not in void
        )

    def fitting_at(self, level: LevelName) -> tuple[int, Fitted] | None:
        """The last fitting that spoke of a level or found that all fits, with its number.

        It tried the kilt as it was then, so it stands in place of the earlier ones.
        """
        found = [(number, one) for number, one in self.fittings() if one.asked(level) or one.fits]
        return found[-1] if found else None

    def counting(self) -> tuple[int, ...]:
        """Numbers of the entries after the first that say something and count, in order.

        An undoing says nothing of its own, and a correction nothing where its measurement does not count.
        """
        void = self.void()
        return tuple(
            number
            for number, entry in enumerate(self.entries, 1)
            if number not in void
            and not isinstance(entry, Started | Undone)
            and not (isinstance(entry, Corrected) and entry.entry in void)
        )

    def told(self, before: int | None = None) -> Told:
        """The sizes told now; `before`: up to that entry."""
        entries = self.entries if before is None else self.entries[: before - 1]
        told = (entry.told for entry in reversed(entries) if isinstance(entry, Telling))
        return next(one for one in told if one.hip)

    def told_before(self) -> Told:
        """What the last change of the told sizes set out from.

        An entry that is undone before anything else was told leaves no trace: what was told before it holds.
        """
        number, entry = self._telling(len(self.entries))
        before, last = self._telling(number - 1)
        if isinstance(entry, Undone) and entry.entry == before:
            return self._telling(before - 1)[1].told
        return last.told

    def _telling(self, upto: int) -> tuple[int, Telling]:
        """The last entry up to that number that changed what is told."""
        for number in range(upto, 0, -1):
            entry = self.entries[number - 1]
            if isinstance(entry, Telling):
                return number, entry
        return 1, self.started

    def stages(self) -> tuple[Stage, ...]:
        """The stages reached, in order, each once."""
        void = self.void()
        reached = (
            entry.stage
            for number, entry in enumerate(self.entries, 1)
            if isinstance(entry, Staged) and number not in void
        )
        return tuple(dict.fromkeys(reached))


def pleats_take(kilt: Kilt, level: LevelName, fitted: Fitted, grid: Grid) -> Fraction:
    """By how much the pleats of a level are made wider after a fitting: their share of the round, on the
    grid.

    Nothing where no pleat was left: then it is the aprons' to take.
    """
    share = kilt.level(level).pleats_share
    return on_grid(fitted.asked(level) * share, grid) if fitted.left else Fraction(0)


def _put_right(measured: Measured, by: Corrected) -> Measured:
    if by.hip is not None:
        measured = replace(measured, hip=by.hip, hip_written=by.hip_written)
    if by.strap is not None:
        measured = replace(measured, strap=by.strap, strap_written=by.strap_written)
    return measured


def _sound(entries: Sequence[Entry], number: int, entry: Entry, pleats: int) -> None:
    """Raise ValueError for an entry that cannot stand there."""
    if isinstance(entry, Started) and number > 1:
        raise ValueError(f"entry {number}: sewing began already, in entry 1")
    if isinstance(entry, Measured) and not 1 <= entry.first <= entry.last <= pleats:
        raise ValueError(f"entry {number}: there are no pleats {entry.first} to {entry.last} among {pleats}")
    if isinstance(entry, Corrected):
        meant = entries[entry.entry - 1] if 1 <= entry.entry < number else None
        if not isinstance(meant, Measured):
            raise ValueError(f"entry {number}: entry {entry.entry} is no measurement")
    if isinstance(entry, Undone) and not 2 <= entry.entry < number:
        raise ValueError(f"entry {number}: entry {entry.entry} cannot be undone")
    if isinstance(entry, Telling):
        for level in SEWN_LEVELS:
            if len(entry.told.at(level)) not in (0, pleats):
                raise ValueError(f"entry {number}: tells {len(entry.told.at(level))} of {pleats} pleats")
