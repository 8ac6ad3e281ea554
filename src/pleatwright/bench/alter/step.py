"""One step of an alteration, and how its lengths are written."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.lengths import Grid, Units, write_length


@dataclass(frozen=True)
class Step:
    """What is done: `waist` and `hips` are the inches it adds to each round (negative: takes in)."""

    name: str
    words: str
    waist: Fraction
    hips: Fraction
    hours: float


@dataclass(frozen=True)
class Written:
    """Lengths in the maker's units, on the tape's grid."""

    units: Units
    grid: Grid

    def __call__(self, value: Fraction) -> str:
        """A length."""
        return write_length(value, self.units, self.grid)

    def wider(self, change: Fraction) -> str:
        """A change: `1/2" wider`."""
        if not change:
            return "no wider"
        return f"{self(abs(change))} {'wider' if change > 0 else 'narrower'}"
