"""A sett as a cyclic sequence of stripes.

Thread j covers [j, j+1); θ = 0 is the left edge of the first written stripe, a pivot taken in
full; everything is periodic with the true period n.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

SAME_THREAD = 1e-6
"""Threads by which two places may differ through rounding, and be the same."""


@dataclass(frozen=True)
class Stripe:
    """A maximal run of one colour: threads `start` to `end`, 0 <= start < n.

    `end` and `centre` pass n when the run holds the end and the beginning of the written sett.
    """

    index: int
    colour: str
    threads: int
    start: int

    @property
    def end(self) -> int:
        """The right edge, in threads; may pass n."""
        return self.start + self.threads

    @property
    def centre(self) -> float:
        """The centre, in threads; may pass n. `Sett.centre_of` brings it back into [0, n)."""
        return self.start + self.threads / 2


@dataclass(frozen=True)
class Sett:
    """One true period of a tartan in one direction.

    `stripes` are in order of their start; a run that wraps round comes last. `written_periods`
    says how many true periods the written sett held (two equal halves: 2). `unit_inches` is the
    width of one "thread" when the sett was made from measured stripes, else None. Of plain cloth
    n is the number of threads written.
    """

    stripes: tuple[Stripe, ...]
    n: int
    written_periods: int = 1
    unit_inches: Fraction | None = None

    @staticmethod
    def of_runs(runs: Iterable[tuple[str, int]], *, unit_inches: Fraction | None = None) -> Sett:
        """A sett from colours and threads in the order they repeat, from θ = 0 on.

        Neighbours of one colour become one stripe, and equal parts one true period. Raises
        ValueError when there is no stripe, or one without threads.
        """
        merged: list[tuple[str, int]] = []
        for colour, threads in runs:
            if threads < 1:
                raise ValueError(f"a stripe of {threads} threads; a stripe has 1 or more")
            if merged and merged[-1][0] == colour:
                merged[-1] = (colour, merged[-1][1] + threads)
            else:
                merged.append((colour, threads))
        if not merged:
            raise ValueError("a sett needs at least one stripe")
        n = sum(threads for _, threads in merged)
        start = 0
        if len(merged) > 1 and merged[0][0] == merged[-1][0]:
            colour, start = merged.pop(0)
            merged[-1] = (colour, merged[-1][1] + start)
        periods = _periods(merged)
        stripes = []
        for index, (colour, threads) in enumerate(merged[: len(merged) // periods]):
            stripes.append(Stripe(index, colour, threads, start))
            start += threads
        return Sett(tuple(stripes), n // periods, periods, unit_inches)

    def __hash__(self) -> int:
        """Counted once: setts are keys of every cache."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.stripes, self.n, self.written_periods, self.unit_inches))

    @property
    def plain(self) -> bool:
        """Whether there is only one colour, and so no pattern."""
        return len(self.stripes) == 1

    @cached_property
    def colours(self) -> tuple[str, ...]:
        """The colour codes, each once, in the order they are met from θ = 0."""
        return tuple(dict.fromkeys([self.colour_at(0), *(stripe.colour for stripe in self.stripes)]))

    @cached_property
    def edges(self) -> tuple[int, ...]:
        """Where the colour changes, in threads within [0, n), rising; none in plain cloth."""
        return () if self.plain else self._starts

    @cached_property
    def mirror_centres(self) -> tuple[float, ...]:
        """Every c in [0, n), in threads, about which the whole sett mirrors; rising, exact.

        There are two, half the period apart, or none. Plain cloth has none to speak of: ().
        """
        count = len(self.stripes)
        if count % 2:
            return ()  # an odd cycle of runs cannot mirror: two neighbours would share a colour
        runs = [(stripe.colour, stripe.threads) for stripe in self.stripes]
        half = count // 2
        for at in range(half):
            if all(runs[at + step] == runs[at - step] for step in range(1, half)):
                return tuple(sorted(self.centre_of(self.stripes[at + turn]) for turn in (0, half)))
        return ()

    @property
    def symmetric(self) -> bool:
        """Whether the sett has mirror centres."""
        return bool(self.mirror_centres)

    def stripe_at(self, theta: float) -> Stripe:
        """The stripe that covers phase `theta` (threads; any number)."""
        return self.stripes[bisect_right(self._starts, theta % self.n) - 1]

    def colour_at(self, theta: float) -> str:
        """The colour code at phase `theta` (threads; any number); thread j covers [j, j+1)."""
        return self.stripe_at(theta).colour

    def centre_of(self, stripe: Stripe) -> float:
        """The stripe's centre as a phase in [0, n), in threads."""
        return stripe.centre % self.n

    def reversed(self) -> Sett:
        """The sett as seen with left and right changed: phase θ becomes n - θ."""
        turned = sorted(self.stripes, key=lambda stripe: -stripe.end % self.n)
        stripes = tuple(
            Stripe(index, stripe.colour, stripe.threads, -stripe.end % self.n)
            for index, stripe in enumerate(turned)
        )
        return Sett(stripes, self.n, self.written_periods, self.unit_inches)

    def threads(self) -> list[str]:
        """The colour code of each of the n threads, from θ = 0 on."""
        codes = [""] * self.n
        for stripe in self.stripes:
            for thread in range(stripe.start, stripe.end):
                codes[thread % self.n] = stripe.colour
        return codes

    @cached_property
    def _starts(self) -> tuple[int, ...]:
        return tuple(stripe.start for stripe in self.stripes)


def _periods(runs: list[tuple[str, int]]) -> int:
    """How many equal parts the cycle of runs holds."""
    count = len(runs)
    for length in range(1, count // 2 + 1):
        if count % length == 0 and runs[length:] == runs[:-length]:
            return count // length
    return 1
