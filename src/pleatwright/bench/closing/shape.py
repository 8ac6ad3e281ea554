"""The kilt's widths at any height, between the levels in straight lines."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from pleatwright.layout import Option
from pleatwright.wearer import FELL_LEVELS, Level, LevelName, Sizes


@dataclass(frozen=True)
class Shape:
    """One kilt's outline in exact inches; heights are measured down from the top edge."""

    sizes: Sizes
    pleats: int
    centre_face: Fraction

    @classmethod
    def of(cls, option: Option, sizes: Sizes) -> Shape:
        """The shape of an option."""
        return cls(sizes, option.pleats, Fraction(option.centre_face))

    def at(self, below_top: Fraction, what: str) -> Fraction:
        """A width of `Level` at a height; below the bottom edge as there."""
        for upper, lower in pairwise(self.sizes.levels):
            if below_top <= lower.below_top:
                return _between(upper, lower, below_top, what)
        return Fraction(getattr(self.sizes.levels[-1], what))

    def pleated(self, below_top: Fraction) -> Fraction:
        """Pleated width at a height; below the hip line as there."""
        return self.at(min(below_top, self.sizes.level(LevelName.HIP).below_top), "pleated")

    def edges(self, below_top: Fraction) -> tuple[Fraction, ...]:
        """From the over-apron's pleat-side edge to every pleat's edges: one more than there are pleats."""
        reveal, middle = self.reveal(below_top), self.pleats // 2
        edges = [i * reveal for i in range(middle + 1)]
        edges += [(i + self.centre_face) * reveal for i in range(middle, self.pleats)]
        return tuple(edges)

    def reveal(self, below_top: Fraction) -> Fraction:
        """Width of every pleat at a height but the middle one, which may have another face."""
        return self.pleated(below_top) / (self.pleats - 1 + self.centre_face)

    def pleat_at(self, from_seam: Fraction, below_top: Fraction) -> tuple[int, Fraction]:
        """The pleat at a distance from the over-apron's seam, and how far that is beyond its near edge."""
        edges = self.edges(below_top)
        number = next((i for i in range(1, self.pleats) if from_seam < edges[i]), self.pleats)
        return number, from_seam - edges[number - 1]

    def widest(self, what: str, top: Fraction, bottom: Fraction) -> Fraction:
        """The greatest of a width between two heights."""
        heights = [level.below_top for level in self.sizes.levels if top < level.below_top < bottom]
        return max(self.at(height, what) for height in (top, *heights, bottom))

    @property
    def fell_heights(self) -> tuple[Fraction, ...]:
        """The heights of the levels between which the pleats are sewn down."""
        return tuple(self.sizes.level(name).below_top for name in FELL_LEVELS)


def _between(upper: Level, lower: Level, below_top: Fraction, what: str) -> Fraction:
    high, low = Fraction(getattr(upper, what)), Fraction(getattr(lower, what))
    tall = lower.below_top - upper.below_top
    return low if not tall else high + (low - high) * (below_top - upper.below_top) / tall
