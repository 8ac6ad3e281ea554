"""The strips a piece gives, and how two of them are sewn end to end.

A double width gives two strips, one at each selvedge.  One of them is turned by 180°, so that both have a
selvedge at the bottom, and they are joined at equal phase, so that the pattern runs on.  Turning reverses
both ways at once, so both counts must be symmetric.  [derived]
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from pleatwright.cloth.across import run_across
from pleatwright.cloth.piece import Fault, Piece
from pleatwright.cloth.run import Interval, Run, Seam
from pleatwright.sett import Tartan
from pleatwright.trade import Settings

SPARE_REPEATS = 2
"""Overlaps that are tried at a join: the least, and a whole sett more for each further one."""
MEET = 1 / 16
"""Inches within which horizontals are taken to meet: the working grid."""


def turned(run: Run) -> Run:
    """The strip turned by 180°: x' = l - x, and threads run on about a mirror centre: t' = 2c - t."""
    if run.length is None:
        raise ValueError("only cloth that has been bought can be turned")
    length, centre = run.length, 0.0 if run.sett.plain else run.sett.mirror_centres[0]
    return Run(
        run.sett,
        length,
        tuple(length - x for x in reversed(run.tape)),
        tuple(2 * centre - t for t in reversed(run.threads)),
        blocked=tuple((length - end, length - start) for start, end in reversed(run.blocked)),
    )


def turnable(tartan: Tartan) -> bool:
    """Whether a turned strip carries the same pattern: both counts are symmetric."""
    return all(sett.symmetric or sett.plain for sett in (tartan.warp, tartan.weft))


def horizontals_off(piece: Piece, tartan: Tartan) -> float:
    """Inches by which the horizontals of the turned strip lie higher (negative: lower) than the first one's.

    φ_y' = 2c_y minus the phase at the other selvedge, read where stripes were read across, else of one size:
    2c_y - (φ_y + n_y·V/S_y) with the full width V [derived].  0 on plain cloth, or where no stripe was
    measured from the selvedge.
    """
    ruler = run_across(piece, tartan)
    if ruler is None:
        return 0.0
    n, width = ruler.sett.n, float(piece.width)
    other = 2 * ruler.sett.mirror_centres[0] - ruler.thread_at(width)
    off = (ruler.thread_at(0.0) - other + n / 2) % n - n / 2
    return off * ruler.inches_a_thread(ruler.thread_at(0.0))


def join_hems(off: float, room: Fraction, settings: Settings) -> tuple[float, float]:
    """By how many inches the first and the second strip are ripped higher, and hemmed, to make lines meet.

    The strip whose lines lie higher (`off` as `horizontals_off` has it) is let down by as much, and what then
    hangs below is hemmed [derived].  0 for both where the lines meet, or where that is more than `room`, what
    the piece has to spare beside two strips, or than the deepest hem that hangs well.
    """
    if not MEET < abs(off) <= min(room, settings.wearer.hem_most):
        return 0.0, 0.0
    return max(-off, 0.0), max(off, 0.0)


def blocked_along(faults: Iterable[Fault], strip: int, height: Fraction | float) -> tuple[Interval, ...]:
    """Where along a strip, as it lies, a fault would show: one that reaches into its lowest `height`."""
    return tuple(
        sorted(
            (float(fault.start), float(fault.end))
            for fault in faults
            if fault.strip == strip and (fault.low is None or fault.low < height)
        )
    )


@dataclass(frozen=True)
class Joint:
    """Two strips that can be sewn together; `low`..`high`: thread positions between which the seam may lie.

    `second`'s threads are counted on from `first`'s.  `allowance`: the seam's, in inches, on each strip.
    """

    first: Run
    second: Run
    low: float
    high: float
    allowance: float

    def sewn(self, thread: float) -> Run:
        """The one strip they make with the seam at this thread."""
        if self.first.length is None or self.second.length is None:
            raise ValueError("only cloth that has been bought can be joined")
        at, second_at = self.first.tape_at(thread), self.second.tape_at(thread)
        knots = [(t, x) for t, x in zip(self.first.threads, self.first.tape, strict=True) if t < thread]
        knots.append((thread, at))
        on = [(t, at + x - second_at) for t, x in zip(self.second.threads, self.second.tape, strict=True)]
        knots += [(t, x) for t, x in on if t > thread]
        threads, tape = zip(*knots, strict=True)
        length = at + self.second.length - second_at
        behind = [(max(at, at + a - second_at), at + b - second_at) for a, b in self.second.blocked]
        return Run(
            self.first.sett,
            length,
            tape,
            threads,
            blocked=(
                *((a, min(at, b)) for a, b in self.first.blocked if a < at),
                *((a, b) for a, b in behind if b > at),
            ),
            seam=Seam(thread, at, at, second_at, self.first.length + self.second.length - length),
        )


def joints(first: Run, second: Run, allowance: float) -> tuple[Joint, ...]:
    """The ways two strips can be joined at equal phase, the one that loses least first."""
    if first.length is None:
        return ()
    n = 1 if first.sett.plain else first.sett.n
    end = first.thread_at(first.length - allowance)
    start = second.thread_at(allowance)
    turns = floor((end - start) / n)
    found = []
    for on in range(turns, turns - SPARE_REPEATS, -1):
        shifted = Run(
            second.sett,
            second.length,
            second.tape,
            tuple(t + on * n for t in second.threads),
            blocked=second.blocked,
        )
        found.append(Joint(first, shifted, start + on * n, end, allowance))
    return tuple(found)
