"""The cloth's own stripes as a ruler: numbered repeats, and any place in a maker's words.

Repeat k is the k-th time, counted from the left end (or up from the selvedge), that the centre of the
reference stripe is met: of the first mirror centre, or of the first written stripe where the sett has none.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import NamedTuple

from pleatwright.cloth import Run, run_across
from pleatwright.layout import Option, Request
from pleatwright.lengths import NOISE_DIGITS, Grid, on_grid, write_length
from pleatwright.sett import SAME_THREAD, Stripe, short_name


class Ways(NamedTuple):
    """The words for the two ways along a ruler: where a thing lies, and which way to measure."""

    before: str
    after: str
    back: str
    on: str


ALONG = Ways("left of", "right of", "to the left", "to the right")
ACROSS = Ways("below", "above", "down", "up")


@dataclass(frozen=True)
class Place:
    """One place, on the grid: its tape position, its repeat, inches from it (signed), the words.

    `repeat` is 0 where there is none to count from; `from_repeat` is then the tape position itself.
    """

    tape: Fraction
    repeat: int
    from_repeat: Fraction
    words: str


@dataclass(frozen=True)
class Ruler:
    """One edge of the cloth, `length` inches long."""

    run: Run
    length: float
    request: Request
    ways: Ways

    @cached_property
    def reference(self) -> Stripe:
        """The stripe whose centres are numbered."""
        sett = self.run.sett
        return sett.stripe_at(sett.mirror_centres[0] if sett.symmetric else 0.0)

    @cached_property
    def repeats(self) -> tuple[float, ...]:
        """Tape position (inches) of every numbered repeat; none on plain cloth."""
        sett = self.run.sett
        if sett.plain:
            return ()
        found = []
        thread = self._first
        while self.run.tape_at(thread) <= self.length:
            found.append(self.run.tape_at(thread))
            thread += sett.n
        return tuple(found)

    @cached_property
    def _first(self) -> float:
        """Thread position of repeat 1."""
        return self.run.next_thread(0.0, self.run.sett.centre_of(self.reference))

    def snapped(self, x: float) -> Fraction:
        """Tape position x as the tape shows it, in inches."""
        return on_grid(round(x, NOISE_DIGITS), grid_of(self.request))

    def place(self, x: float) -> Place:
        """The place at tape position x (inches), three ways (common practice, no source).

        Positions are rounded, never steps: the words' distance and the stripe's own position, both on the
        grid, add up to the tape figure exactly.
        """
        tape = self.snapped(x)
        if not self.repeats:
            return Place(tape, 0, tape, "")
        stripe, thread = self.landmark(x)
        repeat = self._repeat_of(thread)
        start = self.snapped(self.repeats[repeat - 1])
        words = self._where(stripe, thread, repeat)
        step = tape - self.snapped(self.run.tape_at(thread))
        if step:
            written = write_length(abs(step), self.request.units, grid_of(self.request))
            words += f", then {written} {self.ways.on if step > 0 else self.ways.back}"
        return Place(tape, repeat, tape - start, words)

    def landmark(self, x: float) -> tuple[Stripe, float]:
        """The stripe to measure from, and its centre's thread position.

        The nearest centre, a wide stripe counting as a quarter of its width further: the centre of a narrow
        line is found by eye, that of a broad one is not [our choice].
        """
        sett, t = self.run.sett, self.run.thread_at(x)

        def key(one: tuple[Stripe, float]) -> tuple[bool, float, int]:
            stripe, thread = one
            at = self.run.tape_at(thread)
            wide = stripe.threads * self.run.inches_a_thread(thread)
            return (not 0 <= at <= self.length, round(abs(at - x) + wide / 4, NOISE_DIGITS), stripe.index)

        nearest = []
        for stripe in sett.stripes:
            centre = sett.centre_of(stripe)
            turn = round((t - centre) / sett.n)
            nearest += [(stripe, centre + sett.n * (turn + near)) for near in (-1, 0, 1)]
        return min(nearest, key=key)

    def _repeat_of(self, thread: float) -> int:
        """Number of the nearest repeat on the cloth; halfway between two, the one on the left."""
        turns = ceil((thread - self._first) / self.run.sett.n - 0.5 - SAME_THREAD)
        return min(max(turns + 1, 1), len(self.repeats))

    def _where(self, stripe: Stripe, thread: float, repeat: int) -> str:
        sett = self.run.sett
        start = self._first + (repeat - 1) * sett.n
        name = short_name(sett, stripe)
        if abs(thread - start) < SAME_THREAD:
            return f"repeat {repeat}, centre of {name}"
        side = self.ways.after if thread > start else self.ways.before
        low, high = sorted((thread, start))
        before = sum(
            1
            for other in sett.stripes
            if short_name(sett, other) == name
            for turn in range(-2, len(self.repeats) + 2)
            if low + SAME_THREAD < sett.centre_of(other) + sett.n * turn < high - SAME_THREAD
        )
        if before:
            name = f"the {'second' if before == 1 else 'third'} {name.removeprefix('the ')}"
        return f"{side} repeat {repeat}, centre of {name}"


def grid_of(request: Request) -> Grid:
    """The grid that figures are read on: millimetres, or the shop's part of an inch."""
    if request.units == "metric":
        return Grid.MILLIMETRE
    grid = Grid(request.settings.bench.grid)
    return Grid.SIXTEENTH if grid is Grid.MILLIMETRE else grid


def ruler_of(option: Option, request: Request) -> Ruler | None:
    """The ruler along the strip an option lies on, joined or turned as it may be; None without a piece."""
    if request.piece is None or option.cloth is None:
        return None
    return Ruler(option.cloth.run(request.tartan.weft), option.cloth.length, request, ALONG)


def ruler_across(request: Request) -> Ruler | None:
    """The ruler up from the bottom selvedge; None where no stripe was measured from it."""
    piece = request.piece
    if piece is None:
        return None
    run = run_across(piece, request.tartan)
    return None if run is None else Ruler(run, float(piece.width), request, ACROSS)
