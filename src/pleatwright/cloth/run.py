"""One strip of cloth as a ruler: threads to tape and back.

x is the tape position in inches from the strip's left end; t is the thread position, counted on from repeat
to repeat without starting again (phase = t mod n).  Between two knots the map is a straight line.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from pleatwright.sett import Sett

SAME_PLACE = 1e-9
"""A place this near (in repeats) to the wanted one counts as the wanted one."""


def _line(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    """Straight lines through the knots (xs, ys), continued beyond both ends."""
    i = min(max(bisect_right(xs, x) - 1, 0), len(xs) - 2)
    return ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])


@dataclass(frozen=True)
class Run:
    """A strip of cloth: its weft sett, its length in inches (None: not bought yet), and the map's knots."""

    sett: Sett
    length: float | None
    tape: tuple[float, ...]
    threads: tuple[float, ...]

    @classmethod
    def uniform(cls, sett: Sett, sett_size: float, phase: float, length: float | None) -> Run:
        """A strip whose every repeat measures `sett_size` inches; `phase` is the thread at the left end."""
        far = length or sett_size
        return cls(sett, length, (0.0, far), (phase, phase + sett.n * far / sett_size))

    def thread_at(self, x: float) -> float:
        """Thread position at tape position x (inches)."""
        if self.uniform_cloth:
            return self.threads[0] + (x - self.tape[0]) / self._thread
        return _line(self.tape, self.threads, x)

    def tape_at(self, t: float) -> float:
        """Tape position (inches) of thread position t."""
        if self.uniform_cloth:
            return self.tape[0] + (t - self.threads[0]) * self._thread
        return _line(self.threads, self.tape, t)

    def inches_a_thread(self, t: float) -> float:
        """Local size of one thread, in inches, at thread position t."""
        if self.uniform_cloth:
            return self._thread
        i = min(max(bisect_right(self.threads, t) - 1, 0), len(self.threads) - 2)
        return (self.tape[i + 1] - self.tape[i]) / (self.threads[i + 1] - self.threads[i])

    def next_thread(self, x: float, phase: float) -> float:
        """The first thread position at or right of tape position x that has this phase.

        On plain cloth every place is as good as any other, so it is x itself.
        """
        t = self.thread_at(x)
        if self.sett.plain:
            return t
        n = self.sett.n
        return phase + n * ceil((t - phase) / n - SAME_PLACE)

    @cached_property
    def uniform_cloth(self) -> bool:
        """Whether one size of thread holds along the whole strip."""
        return len(self.tape) == 2

    @cached_property
    def _thread(self) -> float:
        """Inches a thread from the first knot to the last."""
        return (self.tape[-1] - self.tape[0]) / (self.threads[-1] - self.threads[0])

    def mirrored(self, length: float) -> Run:
        """The same strip seen in a mirror: x becomes length - x and threads run the other way."""
        return Run(
            self.sett.reversed(),
            self.length,
            tuple(length - x for x in reversed(self.tape)),
            tuple(-t for t in reversed(self.threads)),
        )
