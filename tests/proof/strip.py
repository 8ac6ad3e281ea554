"""One strip of cloth as a ruler, and the ways a piece can be laid: straight loops over straight lines."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil, floor

from pleatwright.cloth import Piece, Reading
from pleatwright.layout import Request
from tests.proof.pattern import Pattern

SAME_PLACE = 1e-9
ON_KNOT = 1e-6
GOES_ON = 26.0
"""Inches of readings whose mean scale goes on beyond the last one [our choice]."""
MEET = 1 / 16
"""Inches within which horizontals meet: the working grid."""

Knot = tuple[float, float]
"""Thread, tape position in inches."""


@dataclass(frozen=True)
class Strip:
    """Straight lines between knots; `blocked` are stretches of tape that must not show."""

    pattern: Pattern
    knots: tuple[Knot, ...]
    length: float
    blocked: tuple[tuple[float, float], ...] = ()

    def tape(self, thread: float) -> float:
        (t0, x0), (t1, x1) = self._piece(thread, 0)
        return x0 + (thread - t0) * (x1 - x0) / (t1 - t0)

    def thread(self, tape: float) -> float:
        (t0, x0), (t1, x1) = self._piece(tape, 1)
        return t0 + (tape - x0) * (t1 - t0) / (x1 - x0)

    def size(self, thread: float) -> float:
        """Inches a thread, just there; on a knot as beyond it."""
        (t0, x0), (t1, x1) = self._piece(thread + ON_KNOT, 0)
        return (x1 - x0) / (t1 - t0)

    @property
    def even(self) -> bool:
        """Whether a thread is as wide everywhere."""
        sizes = [self.size(thread) for thread, _ in self.knots[:-1]]
        return max(sizes) - min(sizes) <= 1e-9 * sizes[0]

    def _piece(self, at: float, what: int) -> tuple[Knot, Knot]:
        behind = bisect_right(self.inner[what], at)
        return self.knots[behind], self.knots[behind + 1]

    @cached_property
    def inner(self) -> tuple[list[float], list[float]]:
        """Threads, and tape positions, of the knots between the first and the last."""
        between = self.knots[1:-1]
        return [thread for thread, _ in between], [tape for _, tape in between]

    def next(self, tape: float, phase: float) -> float:
        """The first thread at or beyond a tape position with this phase; anywhere on plain cloth."""
        thread, n = self.thread(tape), self.pattern.n
        if self.pattern.plain:
            return thread
        return phase + n * ceil((thread - phase) / n - SAME_PLACE)

    def in_a_mirror(self) -> Strip:
        """Left and right exchanged."""
        return Strip(
            self.pattern.reversed(),
            tuple((-thread, self.length - tape) for thread, tape in reversed(self.knots)),
            self.length,
            tuple(sorted((self.length - end, self.length - start) for start, end in self.blocked)),
        )

    def turned(self) -> Strip:
        """Turned by 180 degrees: the other end first, the pattern running on about a mirror centre."""
        about = 0.0 if self.pattern.plain else self.pattern.mirrors[0]
        return Strip(
            self.pattern,
            tuple((2 * about - thread, self.length - tape) for thread, tape in reversed(self.knots)),
            self.length,
            tuple(sorted((self.length - end, self.length - start) for start, end in self.blocked)),
        )


@dataclass(frozen=True)
class Joined:
    """Two strips to be sewn end to end, the second's threads counted on; the seam lies in low..high.

    `off`: inches by which the second's horizontals lie higher.
    """

    first: Strip
    second: Strip
    low: float
    high: float
    off: float

    def sewn(self, thread: float) -> Strip:
        """The one strip with its seam at this thread."""
        at = self.first.tape(thread)
        on = at - self.second.tape(thread)
        knots = [knot for knot in self.first.knots if knot[0] < thread]
        knots += [(thread, at)]
        knots += [(t, x + on) for t, x in self.second.knots if t > thread]
        left = [(a, min(b, at)) for a, b in self.first.blocked if a < at]
        right = [(max(a + on, at), b + on) for a, b in self.second.blocked if b + on > at]
        return Strip(self.first.pattern, tuple(knots), self.second.length + on, (*left, *right))


@dataclass(frozen=True)
class Laid:
    """One way of laying the piece; `mirrored` for a kilt that opens on the left."""

    one: Strip | None
    joined: Joined | None
    turned: bool
    mirrored: bool

    @property
    def window(self) -> tuple[float, float] | None:
        """Threads of the plan between which the seam may lie."""
        if self.joined is None:
            return None
        low, high = self.joined.low, self.joined.high
        return (-high, -low) if self.mirrored else (low, high)

    def strip(self, seam: float | None = None) -> Strip:
        """The strip the plan goes along, the seam at this thread of the plan or amid its window."""
        if self.joined is not None:
            middle = (self.joined.low + self.joined.high) / 2
            at = middle if seam is None else -seam if self.mirrored else seam
            strip = self.joined.sewn(at)
        else:
            assert self.one is not None
            strip = self.one
        return strip.in_a_mirror() if self.mirrored else strip


def _read(pattern: Pattern, length: float, readings: tuple[Reading, ...], size: float) -> Strip:
    """The ruler that tape readings give, continued both ways at the mean scale of the next 26 inches."""
    knots = sorted((reading.thread, reading.at) for reading in readings)
    if len(knots) == 1:
        thread, at = knots[0]
        per = pattern.n / size
        return Strip(pattern, ((thread - at * per, 0.0), (thread + (length - at) * per, length)), length)

    def gone_on(inward: list[Knot], to: float) -> Knot:
        thread, at = inward[0]
        far = inward[-1]
        for knot in inward:
            if abs(knot[1] - at) >= GOES_ON:
                far = knot
                break
        return thread + (to - at) * (far[0] - thread) / (far[1] - at), to

    every = list(knots)
    if knots[0][1] > 0:
        every.insert(0, gone_on(knots, 0.0))
    if knots[-1][1] < length:
        every.append(gone_on(knots[::-1], length))
    return Strip(pattern, tuple(every), length)


def _evenly(pattern: Pattern, length: float, size: float, phase: float) -> Strip:
    return Strip(pattern, ((phase, 0.0), (phase + pattern.n * length / size, length)), length)


def _blocked(piece: Piece, strip: int, height: Fraction) -> tuple[tuple[float, float], ...]:
    return tuple(
        sorted(
            (float(fault.start), float(fault.end))
            for fault in piece.faults
            if fault.strip == strip and (fault.low is None or fault.low < height)
        )
    )


def _off(piece: Piece, warp: Pattern) -> float:
    """Inches between the horizontals of a strip and of its turned neighbour."""
    if piece.selvedge is None or warp.plain:
        return 0.0
    size, width = float(piece.sett_across), float(piece.width)
    if piece.readings_across:
        ruler = _read(warp, width, piece.readings_across, size)
    else:
        ruler = _evenly(
            warp, width, size, piece.selvedge.phase - warp.n * float(piece.selvedge.distance) / size
        )
    gap = ruler.thread(0.0) - (2 * warp.mirrors[0] - ruler.thread(width))
    return ((gap + warp.n / 2) % warp.n - warp.n / 2) * ruler.size(ruler.thread(0.0))


def ways_of_laying(request: Request) -> list[Laid]:
    """One strip; the same turned end for end, where it has faults; two strips joined, by two overlaps."""
    piece, left = request.piece, request.opens_on == "left"
    weft, warp = Pattern.of(request.tartan.weft), Pattern.of(request.tartan.warp)
    if piece is None:
        return [
            Laid(_evenly(weft, float(request.sett_along), float(request.sett_along), 0.0), None, False, left)
        ]
    size, length, total = float(piece.sett_along), float(piece.length), request.sizes.total
    if piece.readings:
        first = _read(weft, length, piece.readings, size)
    else:
        anchor = piece.left_end
        phase = (anchor.phase - weft.n * float(anchor.distance) / size) % weft.n
        first = _evenly(weft, length, size, phase)
    second = _read(weft, length, piece.second_readings, size) if piece.second_readings else first
    first = replace(first, blocked=_blocked(piece, 1, total))
    found = [Laid(first, None, False, left)]
    if not all(pattern.plain or pattern.mirrors for pattern in (warp, weft)):
        return found
    off = _off(piece, warp)
    if abs(off) <= MEET and first.blocked:
        found.append(Laid(first.turned(), None, True, left))
    if piece.width >= 2 * total:
        allowance = float(request.settings.cloth.seam_allowance)
        n = 1 if weft.plain else weft.n
        tall = [total, total]
        most = min(piece.width - 2 * total, request.settings.wearer.hem_most)
        if MEET < abs(off) <= most:  # the strip with the higher lines is let down
            tall[off > 0] += Fraction(abs(off))
        first = replace(first, blocked=_blocked(piece, 1, tall[0]))
        second = replace(second, blocked=_blocked(piece, 2, tall[1])).turned()
        end, start = first.thread(length - allowance), second.thread(allowance)
        for spare in range(2):
            on = (floor((end - start) / n) - spare) * n
            shifted = replace(second, knots=tuple((thread + on, tape) for thread, tape in second.knots))
            found.append(Laid(None, Joined(first, shifted, start + on, end, off), False, left))
    return found
