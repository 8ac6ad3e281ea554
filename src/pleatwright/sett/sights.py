"""Sights: the places of a sett that look the same on a pleat.

Two places look the same when the same colours follow in the same order, with their boundaries
within a tolerance, over half a reveal each side: straight on, or mirrored (common practice).
A pivot occurs once a sett; an ordinary stripe of a symmetric sett twice, mirrored, at two spacings
that are unequal in general.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from pleatwright.sett.stripes import Sett, Stripe

FUZZ = 1e-9
"""Threads; keeps a boundary that lies exactly on a limit on the same side of it."""

_Edge = tuple[float, str, str]  # threads from the place, colour to its left, colour to its right


@dataclass(frozen=True)
class _View:
    """What lies round a place: its colour, the boundaries, and which of them are within the window."""

    colour: str
    edges: tuple[_Edge, ...]
    shown: tuple[int, ...]

    def flipped(self) -> _View:
        last = len(self.edges) - 1
        edges = tuple((-offset, right, left) for offset, left, right in reversed(self.edges))
        return _View(self.colour, edges, tuple(last - at for at in reversed(self.shown)))


@dataclass(frozen=True)
class Occurrence:
    """One place of a sight: its phase in [0, n), in threads, and whether it is seen mirrored."""

    phase: float
    mirrored: bool


@dataclass(frozen=True)
class Sight:
    """All places of one true period that look like the centre of `stripe`.

    `occurrences` rise in phase; the first is the centre of `stripe` itself, not mirrored.  `widest`: threads
    of the widest stripe among them.
    """

    stripe: Stripe
    name: str
    occurrences: tuple[Occurrence, ...]
    n: int
    widest: int

    def __hash__(self) -> int:
        """Quick: sights are asked for by every number of pleats."""
        return hash((self.name, self.n, len(self.occurrences)))

    @cached_property
    def spacings(self) -> tuple[float, ...]:
        """Threads from each occurrence to the next, the last one round to the first; they sum to n."""
        phases = [occurrence.phase for occurrence in self.occurrences]
        return tuple(
            after - phase for phase, after in zip(phases, [*phases[1:], phases[0] + self.n], strict=True)
        )


def same_surroundings(
    sett: Sett, a: float, b: float, *, mirrored: bool, half_window: float, tolerance: float
) -> bool:
    """Whether the places `a` and `b` of the sett look the same, all lengths in threads.

    Compared are the colours within `half_window` each side of `a` with those round `b`, read the
    other way if `mirrored`; a boundary may lie up to `tolerance` off.
    """
    here = _view(sett, a, half_window, tolerance)
    there = _view(sett, b, half_window, tolerance)
    return _alike(here, there.flipped() if mirrored else there, tolerance)


def _view(sett: Sett, place: float, half_window: float, tolerance: float) -> _View:
    reach = half_window + tolerance
    edges: list[_Edge] = []
    if not sett.plain:
        start = sett.stripe_at(place - reach)
        index, offset = start.index, start.start - place
        offset -= ((offset + reach) // sett.n + 1) * sett.n  # a start before -reach
        while offset <= reach + FUZZ:
            if offset >= -reach - FUZZ:
                edges.append((offset, sett.stripes[index - 1].colour, sett.stripes[index].colour))
            offset += sett.stripes[index].threads
            index = (index + 1) % len(sett.stripes)
    shown = [at for at, edge in enumerate(edges) if abs(edge[0]) < half_window - FUZZ]
    return _View(sett.colour_at(place), tuple(edges), tuple(shown))


def _alike(here: _View, there: _View, tolerance: float) -> bool:
    if not here.shown:
        here, there = there, here
        if not here.shown:
            return here.colour == there.colour
    anchor = here.shown[0]
    offset = here.edges[anchor][0]
    return any(
        _agree(here, there, at - anchor, tolerance)
        for at, edge in enumerate(there.edges)
        if abs(edge[0] - offset) <= tolerance + FUZZ
    )


def _agree(here: _View, there: _View, shift: int, tolerance: float) -> bool:
    """Whether every shown boundary of either view meets its partner, `shift` places on in `there`."""
    for at in {*here.shown, *(other - shift for other in there.shown)}:
        if not (0 <= at < len(here.edges) and 0 <= at + shift < len(there.edges)):
            return False
        one, two = here.edges[at], there.edges[at + shift]
        if one[1:] != two[1:] or abs(one[0] - two[0]) > tolerance + FUZZ:
            return False
    return True
