"""One strip of cloth as a ruler: threads to tape and back.

x is the tape position in inches from the strip's left end; t is the thread position, counted on from repeat
to repeat without starting again (phase = t mod n).  Between two knots the map is a straight line, and the
first and last line go on beyond the knots.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from pleatwright.sett import Sett

Numbers = NDArray[np.float64]
Rows = NDArray[np.intp]
Bools = NDArray[np.bool_]

SAME_PLACE = 1e-9
"""A place this near (in repeats) to the wanted one counts as the wanted one."""
ON_KNOT = 1e-6
"""A thread this little (in threads) before a knot lies on it, so that rounding decides nothing."""


Places = TypeVar("Places", float, Numbers)


def _on_line(x0: Places, x1: Places, y0: Places, y1: Places, at: Places) -> Places:
    return y0 + (at - x0) * (y1 - y0) / (x1 - x0)


def _segments(knots: Numbers, at: Numbers) -> NDArray[np.intp]:
    """Index of the segment of the map each place lies on."""
    last = np.intp(len(knots) - 2)
    return np.minimum(np.maximum(np.searchsorted(knots, at, side="right") - 1, 0), last)


def _lines(xs: Numbers, ys: Numbers, at: Numbers) -> Numbers:
    i = _segments(xs, at)
    return _on_line(xs[i], xs[i + 1], ys[i], ys[i + 1], at)


def _line(xs: Sequence[float], ys: Sequence[float], at: float) -> float:
    """`_lines` for one place, many times quicker than an array of one."""
    i = min(max(bisect_right(xs, at) - 1, 0), len(xs) - 2)
    return _on_line(xs[i], xs[i + 1], ys[i], ys[i + 1], at)


Interval = tuple[float, float]
"""From one tape position to another, in inches."""


@dataclass(frozen=True)
class Seam:
    """Where two strips are sewn together: the thread, and the seam line as a tape position three ways.

    `tape` on the sewn strip, `first_cut` on the first strip, `second_at` on the second from its own left end
    as it is sewn.  `loss`: inches of cloth that the join takes.
    """

    thread: float
    tape: float
    first_cut: float
    second_at: float
    loss: float


@dataclass(frozen=True)
class Run:
    """A strip of cloth: its weft sett, its length in inches (None: not bought yet), and the map's knots.

    `blocked`: tape positions that must not show.  `seam`: where two strips were joined to make it.
    """

    sett: Sett
    length: float | None
    tape: tuple[float, ...]
    threads: tuple[float, ...]
    blocked: tuple[Interval, ...] = ()
    seam: Seam | None = None

    @classmethod
    def uniform(cls, sett: Sett, sett_size: float, phase: float, length: float | None) -> Run:
        """A strip whose every repeat measures `sett_size` inches; `phase` is the thread at the left end."""
        far = length or sett_size
        return cls(sett, length, (0.0, far), (phase, phase + sett.n * far / sett_size))

    @cached_property
    def _knots(self) -> tuple[Numbers, Numbers]:
        return np.array(self.tape), np.array(self.threads)

    def threads_at(self, x: Numbers) -> Numbers:
        """Thread positions at tape positions x (inches)."""
        tape, threads = self._knots
        return _lines(tape, threads, x)

    def tapes_at(self, t: Numbers) -> Numbers:
        """Tape positions (inches) of thread positions t."""
        tape, threads = self._knots
        return _lines(threads, tape, t)

    def thread_sizes(self, t: Numbers) -> Numbers:
        """Local size of one thread, in inches, at thread positions t; on a knot as beyond it."""
        tape, threads = self._knots
        sizes: Numbers = (np.diff(tape) / np.diff(threads))[_segments(threads, t + ON_KNOT)]
        return sizes

    def next_threads(self, x: Numbers, phase: Numbers | float) -> Numbers:
        """The first thread positions at or right of tape positions x that have this phase.

        On plain cloth every place is as good as any other, so it is x itself.
        """
        t = self.threads_at(x)
        if self.sett.plain:
            return t
        n = self.sett.n
        return phase + n * np.ceil((t - phase) / n - SAME_PLACE)

    def thread_at(self, x: float) -> float:
        """`threads_at` one tape position."""
        return _line(self.tape, self.threads, x)

    def tape_at(self, t: float) -> float:
        """`tapes_at` one thread position."""
        return _line(self.threads, self.tape, t)

    def inches_a_thread(self, t: float) -> float:
        """`thread_sizes` at one thread position."""
        i = min(max(bisect_right(self.threads, t + ON_KNOT) - 1, 0), len(self.threads) - 2)
        return (self.tape[i + 1] - self.tape[i]) / (self.threads[i + 1] - self.threads[i])

    def next_thread(self, x: float, phase: float) -> float:
        """`next_threads` from one tape position."""
        return float(self.next_threads(np.array([x]), phase)[0])

    @property
    def sizes(self) -> tuple[float, float]:
        """Inches of the least and of the greatest thread along the strip."""
        tape, threads = self._knots
        sizes = np.diff(tape) / np.diff(threads)
        return float(sizes.min()), float(sizes.max())

    @cached_property
    def uniform_cloth(self) -> bool:
        """Whether one size of thread holds along the whole strip, to a billionth."""
        tape, threads = self._knots
        sizes = np.diff(tape) / np.diff(threads)
        return bool(np.ptp(sizes) <= 1e-9 * sizes[0])

    def mirrored(self, length: float) -> Run:
        """The same strip seen in a mirror: x becomes length - x and threads run the other way."""
        seam = self.seam
        return Run(
            self.sett.reversed(),
            self.length,
            tuple(length - x for x in reversed(self.tape)),
            tuple(-t for t in reversed(self.threads)),
            tuple((length - end, length - start) for start, end in reversed(self.blocked)),
            None if seam is None else replace(seam, thread=-seam.thread, tape=length - seam.tape),
        )
