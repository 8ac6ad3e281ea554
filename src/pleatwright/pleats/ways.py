"""Many ways of pleating at once: a row each, as columns; a `Pleating` only of those looked at closely.

The strips of a pleating come in cycles: to the sett, all gaps are the same; alternate stripes take two in
turn; a sight is met at its occurrences.  So a row names its cycle, which lies in two columns of its own: how
far each strip of the cycle lies from the first one, and what it is held against.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple, TypeVar

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows
from pleatwright.pleats.forms import Form, Kind, deepest_fold
from pleatwright.pleats.pleating import Pleating

Entry = TypeVar("Entry", int, float)

SAME_PHASE = 1e-9
"""Threads within which a phase is the end of the sett, that is its beginning."""


class Strips(NamedTuple):
    """Strips of several pleatings, one after the other.

    `row`: whose, counted from 0.  `number`: from 0.  `thread`: from the first strip's centre.  `face`: its
    width in reveals.  `model`: the number of the strip it ought to look like; LEFT_OUT if like no other.
    `times`: how many strips it stands for.
    """

    row: Rows
    number: Rows
    thread: Numbers
    face: Numbers
    model: Rows
    times: Rows


@dataclass(frozen=True)
class Ways:
    """The columns.  Threads unless said otherwise.

    `kind`: its number in `kinds`; `stripe`, `other`, `takes`: numbers in `words` (0: none).  `shown`: NaN
    unless to the sett.  `division`: 0 unless even.  `low`, `high`: least and greatest gap between faces of a
    reveal; `near_low`, `near_high`: beside a wide middle panel.  `at`, `length`, `turn`: the cycle's place in
    `cycles` and `models`, its strips, and the threads from one cycle to the next.
    """

    kinds: tuple[Kind, ...]
    words: tuple[str, ...]
    kind: Rows
    pleats: Rows
    centre_face: Numbers
    first: Numbers
    middle: Numbers
    shown: Numbers
    division: Rows
    setts: Rows
    stripe: Rows
    other: Rows
    takes: Rows
    low: Numbers
    high: Numbers
    near_low: Numbers
    near_high: Numbers
    at: Rows
    length: Rows
    turn: Numbers
    cycles: Numbers
    models: Rows

    def __len__(self) -> int:
        return len(self.kind)

    @cached_property
    def faces(self) -> Numbers:
        """Reveals that make up the whole pleated width."""
        return self.pleats - 1 + self.centre_face

    @cached_property
    def span(self) -> Numbers:
        """Threads from the first strip's centre to the last one's."""
        return self.thread_of(self.pleats - 1)

    def thread_of(self, number: Rows) -> Numbers:
        """Threads from each row's first strip to its strip of this number."""
        return _reached(self.cycles, self.at, self.length, self.turn, number)

    def gaps(self, rows: Rows) -> Numbers:
        """Threads from each strip's centre to the next, a column a gap; 0 beyond a row's last one."""
        number = np.arange(int(self.pleats[rows].max(initial=1)) - 1)
        at, length = self.at[rows, None], self.length[rows, None]
        part = number % length
        start = self.cycles[at + part]
        again = self.cycles[at] + self.turn[rows, None]
        end = np.where(
            part == length - 1, again, self.cycles[np.minimum(at + part + 1, len(self.cycles) - 1)]
        )
        return np.where(number < self.pleats[rows, None] - 1, end - start, 0.0)

    def strip_faces(self, rows: Rows) -> Numbers:
        """Every strip's width in reveals, a column a strip; 1 beyond a row's last one."""
        number = np.arange(int(self.pleats[rows].max(initial=1)))
        return np.where(number == self.pleats[rows, None] // 2, self.centre_face[rows, None], 1.0)

    def of_form(self, form: Form) -> Bools:
        """Which rows are of this form."""
        kinds = np.array([kind.form is form for kind in self.kinds], dtype=bool)
        return np.asarray(kinds[self.kind])

    def depths(
        self, size: float, reveal: Numbers, rows: Rows | slice = slice(None)
    ) -> tuple[Numbers, Numbers]:
        """Least and greatest depth (inches) of these rows, or all, on cloth of `size` inches a thread.

        `reveal`: a figure for each of these rows.
        """
        near = (self.centre_face[rows] + 1) / 2 * reveal
        least, greatest, near_least, near_greatest = (
            self.folds(rows, gaps[rows] * size - faces, reveal)
            for gaps, faces in (
                (self.low, reveal),
                (self.high, reveal),
                (self.near_low, near),
                (self.near_high, near),
            )
        )
        return np.minimum(least, near_least), np.maximum(greatest, near_greatest)

    def folds(self, rows: Rows | slice, hidden: Numbers, face: Numbers) -> Numbers:
        """How far the deepest fold goes under, in these rows' forms; it grows evenly with both lengths."""
        with_hidden, with_face = self._folds
        depth: Numbers = with_hidden[rows] * hidden + with_face[rows] * face
        return depth

    @cached_property
    def _folds(self) -> tuple[Numbers, Numbers]:
        """Inches that the deepest fold goes under for an inch of hidden cloth, and for one of the face."""
        of_kinds = [
            (deepest_fold(kind.form, 1.0, 0.0), deepest_fold(kind.form, 0.0, 1.0)) for kind in self.kinds
        ]
        with_hidden, with_face = np.array(of_kinds).reshape(-1, 2)[self.kind].T.copy()
        return with_hidden, with_face

    def strips(self, rows: Rows, *, once: bool) -> Strips:
        """Every strip of these rows; `once`: of strips that show the same on even cloth only the first."""
        pleats, length = self.pleats[rows], self.length[rows]
        again = np.where((length == 1) & (self.division[rows] > 0), self.division[rows], length)
        running = (length == 1) & (self.division[rows] == 0) & ~np.isnan(self.shown[rows])
        count = np.minimum(pleats, np.where(running, pleats, again)) if once else pleats
        row = np.repeat(np.arange(len(rows)), count)
        number = ramps(count)
        where = rows[row]
        thread = _reached(self.cycles, self.at[where], self.length[where], self.turn[where], number)
        middle = number == self.pleats[where] // 2
        face = np.where(middle, self.centre_face[where], 1.0)
        model = self.models[self.at[where] + number % self.length[where]]
        model = np.where(np.isnan(self.shown[where]), model, number)
        whole, rest = np.divmod(pleats, count)
        times = whole[row] + (number < rest[row])
        return Strips(row, number, thread, face, model, times)

    def pleating(self, row: int) -> Pleating:
        """One of them in full."""
        kind, pleats, shown = self.kinds[self.kind[row]], int(self.pleats[row]), float(self.shown[row])
        at, length = int(self.at[row]), int(self.length[row])
        cycle, models = self.cycles[at : at + length].tolist(), self.models[at : at + length].tolist()
        ends = [*cycle[1:], cycle[0] + float(self.turn[row])]
        gaps = [end - start for start, end in zip(cycle, ends, strict=True)]
        stripes = tuple(self.words[word] for word in (self.stripe[row], self.other[row]) if word)
        return Pleating(
            kind.form,
            kind.shows,
            pleats,
            float(self.first[row]),
            _turned(gaps, pleats - 1),
            float(self.middle[row]),
            shown=None if np.isnan(shown) else shown,
            centre_face=float(self.centre_face[row]),
            division=int(self.division[row]) or None,
            setts=int(self.setts[row]),
            stripes=stripes,
            takes=self.words[self.takes[row]],
            classes=_turned(models, pleats) if stripes else (),
        )


def ramps(counts: Rows) -> Rows:
    """0, 1, 2 ... up to each count, one after the other."""
    return np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)


def phases_of(threads: Numbers, n: int) -> Numbers:
    """Thread positions as phases in [0, n); what rounding leaves just short of n is 0."""
    phases = threads % n
    return np.where(n - phases < SAME_PHASE, 0.0, phases)


def _reached(cycles: Numbers, at: Rows, length: Rows, turn: Numbers, number: Rows) -> Numbers:
    """Threads from the first strip's centre to that of the strip of this number."""
    whole, part = np.divmod(number, length)
    there: Numbers = whole * turn + cycles[at + part]
    return there


def _turned(pattern: Sequence[Entry], count: int) -> tuple[Entry, ...]:
    """The first `count` entries of a pattern repeated for ever."""
    return (tuple(pattern) * (count // len(pattern) + 1))[:count]
