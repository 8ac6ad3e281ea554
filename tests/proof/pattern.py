"""A sett as a ring of threads, looked at thread by thread: mirror centres, sights, agreement, lines at risk.

Nothing here is shared with the search it judges: only the colour of each thread is taken over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import ceil, floor

from pleatwright.sett import Sett
from pleatwright.trade import PleatsSettings

FUZZ = 1e-9

Boundary = tuple[float, str, str]
"""Threads from a place, the colour before it, the colour after it."""

Name = tuple[object, ...]
"""What tells one stripe from another."""


@dataclass(frozen=True)
class Line:
    """A run of one colour: its first thread's edge, its number of threads, its number along the sett."""

    start: int
    threads: int
    number: int


@dataclass
class Pattern:
    """The threads of one true period in order."""

    colours: list[str]
    _mirrors: list[float] | None = None
    _shares: dict[tuple[float, float, float, float], float] = field(default_factory=dict)

    @classmethod
    def of(cls, sett: Sett) -> Pattern:
        """The threads of a sett as it was read."""
        colours = [""] * sett.n
        for stripe in sett.stripes:
            for thread in range(stripe.start, stripe.start + stripe.threads):
                colours[thread % sett.n] = stripe.colour
        return cls(colours)

    def __post_init__(self) -> None:
        self.n = len(self.colours)
        self.edges = [j for j in range(self.n) if self.colours[j - 1] != self.colours[j]]
        self.plain = not self.edges

    @cached_property
    def lines(self) -> list[Line]:
        edges = self.edges
        ends = [*edges[1:], edges[0] + self.n] if edges else []
        pairs = zip(edges, ends, strict=True)
        return [Line(start, end - start, number) for number, (start, end) in enumerate(pairs)]

    def reversed(self) -> Pattern:
        """The same cloth seen in a mirror."""
        return Pattern(self.colours[::-1])

    def colour(self, place: float) -> str:
        return self.colours[floor(place) % self.n]

    def centre(self, line: Line) -> float:
        return (line.start + line.threads / 2) % self.n

    @property
    def centres(self) -> list[float]:
        """Centres of all stripes, rising."""
        return sorted(self.centre(line) for line in self.lines)

    @property
    def mirrors(self) -> list[float]:
        """Places about which every thread finds its like on the other side; none in plain cloth."""
        if self._mirrors is None:
            n = self.n
            turns = [] if self.plain else range(2 * n)
            self._mirrors = [
                twice / 2
                for twice in turns
                if all(self.colours[j] == self.colours[(twice - 1 - j) % n] for j in range(n))
            ]
        return self._mirrors

    def same_place(self, one: float, other: float) -> bool:
        """Whether two phases are one place of the sett, straight or in a mirror centre."""
        gaps = [one - other, *(one + other - 2 * c for c in self.mirrors)]
        return self.plain or any(abs((gap + self.n / 2) % self.n - self.n / 2) < 1e-6 for gap in gaps)

    # ------------------------------------------------------------------ what looks alike on a pleat

    def boundaries(self, place: float, reach: float) -> list[Boundary]:
        """Every change of colour within `reach` threads of a place, left to right."""
        found = []
        for turn in range(floor((place - reach) / self.n) - 1, floor((place + reach) / self.n) + 2):
            for edge in self.edges:
                off = edge + turn * self.n - place
                if abs(off) <= reach + FUZZ:
                    found.append((off, self.colours[edge - 1], self.colours[edge]))
        return sorted(found)

    def looks_like(self, one: float, other: float, mirrored: bool, half: float, tolerance: float) -> bool:
        """Whether two places look the same within `half` threads each side, boundaries `tolerance` apart."""
        here, there = self.boundaries(one, half + tolerance), self.boundaries(other, half + tolerance)
        if mirrored:
            there = [(-off, after, before) for off, before, after in reversed(there)]
        must_here = [i for i, (off, _, _) in enumerate(here) if abs(off) < half - FUZZ]
        must_there = [i for i, (off, _, _) in enumerate(there) if abs(off) < half - FUZZ]
        if not must_here and not must_there:
            return self.colour(one) == self.colour(other)

        def agree(i: int, k: int) -> bool:
            if not (0 <= i < len(here) and 0 <= k < len(there)):
                return False
            return here[i][1:] == there[k][1:] and abs(here[i][0] - there[k][0]) <= tolerance + FUZZ

        return any(
            all(agree(i, i + on) for i in must_here) and all(agree(k - on, k) for k in must_there)
            for on in range(-len(here), len(there) + 1)
        )

    def sights(self, half: float, tolerance: float) -> list[list[tuple[float, bool]]]:
        """The stripes' centres sorted into looks: (phase, seen mirrored) each, the first one straight."""
        looks: list[list[tuple[float, bool]]] = []
        for centre in self.centres:
            for look in looks:
                first = look[0][0]
                if self.colour(first) != self.colour(centre):
                    continue
                straight = self.looks_like(first, centre, False, half, tolerance)
                if straight or self.looks_like(first, centre, True, half, tolerance):
                    look.append((centre, not straight))
                    break
            else:
                looks.append([(centre, False)])
        return looks

    def name(self, look: list[tuple[float, bool]]) -> Name:
        """What a maker calls a look: its first stripe; that stripe alone where others of its words differ."""
        words = {self.centre(line): self.words(line) for line in self.lines}
        phases, first = {phase for phase, _ in look}, look[0][0]
        if {phase for phase in words if words[phase] == words[first]} <= phases:
            return words[first]
        return (*words[first], next(self.line_of(line) for line in self.lines if self.centre(line) == first))

    def words(self, line: Line) -> Name:
        """Colour, threads, and the colours it lies between."""
        beside = sorted((self.colours[line.start - 1], self.colour(line.start + line.threads)))
        return (self.colours[line.start], line.threads, *beside)

    # ------------------------------------------------------------------ measures of one strip

    def cuts(self, centre: float, threads: float) -> list[float]:
        """Where changes of colour cut a face, as shares of it from its middle."""
        low, high = centre - threads / 2, centre + threads / 2
        places = (
            edge + turn * self.n
            for turn in range(floor(low / self.n), floor(high / self.n) + 1)
            for edge in self.edges
        )
        return [(place - centre) / threads for place in places if low < place < high]

    def agreement(self, centre: float, threads: float, other: float, other_threads: float) -> float:
        """The share of a face over which two strips show the same colour; both fill it."""
        key = (round(centre % self.n, 9), threads, round(other % self.n, 9), other_threads)
        if key not in self._shares:
            cuts = [-0.5, *self.cuts(key[0], threads), *self.cuts(key[2], other_threads), 0.5]
            cuts.sort()
            same = 0.0
            for left, right in pairwise(cuts):
                middle = (left + right) / 2
                if self.colour(key[0] + middle * threads) == self.colour(key[2] + middle * other_threads):
                    same += right - left
            self._shares[key] = same
        return self._shares[key]

    def line_of(self, line: Line) -> float:
        """What a maker counts as one line: a stripe and its mirror image are one."""
        if not self.mirrors:
            return float(line.number)
        away = (self.centre(line) - self.mirrors[0]) % self.n
        return round(min(away, self.n - away), 3)

    def at_risk(
        self, phase: float, size: float, hip: float, strap: float, limits: PleatsSettings
    ) -> set[float]:
        """The lines at risk on one strip: `size` inches a thread, faces at hip and strap line in inches."""
        phase, n = round(phase % self.n, 9), self.n
        clear, widest = float(limits.fold_clearance) + FUZZ, float(limits.narrow_line) / size + FUZZ
        half_hip, half_strap = hip / 2, strap / 2
        reach = (max(half_hip, half_strap) + clear) / size + 1
        found = set()
        for line in self.lines:
            if line.threads > widest:
                continue
            first = ceil((phase - reach - line.start - line.threads) / n)
            for turn in range(first, floor((phase + reach - line.start) / n) + 1):
                left = (line.start + turn * n - phase) * size
                right = left + line.threads * size
                at_hip = max(0.0, min(right, half_hip) - max(left, -half_hip))
                at_strap = max(0.0, min(right, half_strap) - max(left, -half_strap))
                lost = at_hip > FUZZ and at_strap <= limits.lost_share * at_hip + FUZZ
                appears = at_hip <= FUZZ < at_strap
                near = min(abs(abs(left) - half_hip), abs(abs(right) - half_hip))
                if lost or appears or near <= clear:
                    found.add(self.line_of(line))
        return found
