"""A body as measured, and the kilt's sizes at every level; all lengths are exact inches."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cached_property


class Taper(StrEnum):
    """How the kilt goes on above the strap line: parallel (man) or in the fell's straight line (woman)."""

    MAN = "man"
    WOMAN = "woman"


class LevelName(StrEnum):
    """The levels at which a kilt is measured, from the top down."""

    TOP = "top edge"
    STRAP = "strap line"
    MID = "mid-fell"
    HIP = "hip line"
    BOTTOM = "bottom edge"


FELL_LEVELS = (LevelName.TOP, LevelName.STRAP, LevelName.MID, LevelName.HIP)
"""The levels between which the pleats are sewn down."""


@dataclass(frozen=True)
class Body:
    """What the tape said, standing, in inches.

    `waist` snug at the strap line, `hips` loose at the fullest seat, `drop` from the strap line to the bottom
    edge, in front; `fell_drop` from the strap line to the fullest seat, None when it was not taken; `rise` as
    chosen, None for the shop's usual.  `drop_side` and `drop_back` are taken with a belly [from memory].
    `towel`: the hips were taken over a rolled towel that fills the hollow under a belly
    [public: xmarksthescot.com thread 96538].
    """

    waist: Fraction
    hips: Fraction
    drop: Fraction
    fell_drop: Fraction | None = None
    rise: Fraction | None = None
    drop_side: Fraction | None = None
    drop_back: Fraction | None = None
    towel: bool = False
    child: bool = False
    woman: bool = False

    @property
    def drops(self) -> tuple[Fraction, ...]:
        """Every drop that was taken: front, then side and back."""
        return tuple(drop for drop in (self.drop, self.drop_side, self.drop_back) if drop is not None)


@dataclass(frozen=True)
class Level:
    """The kilt at one level, in inches; `below_top` is measured from the top edge.

    `pleat_side` runs from the over-apron's centre to its pleat-side edge, and is the same on the under-apron.
    Under-apron and pleats close exactly round the body: under_apron + pleated = round.
    """

    name: LevelName
    below_top: Fraction
    round: Fraction
    pleated: Fraction
    over_apron: Fraction
    under_apron: Fraction
    pleat_side: Fraction

    @cached_property
    def over_outer(self) -> Fraction:
        """From the over-apron's centre to its fringed edge: the lap lies wholly on this side."""
        return self.over_apron - self.pleat_side

    @cached_property
    def under_outer(self) -> Fraction:
        """From the under-apron's centre to its outer edge."""
        return self.under_apron - self.pleat_side


@dataclass(frozen=True)
class Sizes:
    """What is sewn for one wearer, in inches.

    `waist` and `hips` with ease (W and H); `drop` the greatest drop taken; `total` what is ripped: drop, rise
    and hem; `fell` from the top edge to the hip line; `fell_assumed` when the fell drop was not taken and the
    fell is a share of the length.  `levels` are the five of `LevelName`, from the top down.
    """

    waist: Fraction
    hips: Fraction
    drop: Fraction
    rise: Fraction
    hem: Fraction
    total: Fraction
    fell: Fraction
    fell_assumed: bool
    lap: Fraction
    flare: Fraction
    taper: Taper
    levels: tuple[Level, ...]

    def level(self, name: LevelName) -> Level:
        """The level of that name."""
        return next(level for level in self.levels if level.name is name)

    @property
    def belly(self) -> bool:
        """Whether the pleats do not narrow towards the waist: W >= H."""
        return self.waist >= self.hips

    @property
    def pleat_side_greatest(self) -> Fraction:
        """From an apron's centre to its pleat-side edge at the widest level (inches): b of the layout."""
        return max(level.pleat_side for level in self.levels)

    @property
    def outer_over_greatest(self) -> Fraction:
        """From the over-apron's centre to its fringed edge at the widest level (inches)."""
        return max(level.over_outer for level in self.levels)

    @property
    def outer_under_greatest(self) -> Fraction:
        """From the under-apron's centre to its outer edge at the widest level (inches)."""
        return max(level.under_outer for level in self.levels)

    @property
    def greatest_pleated(self) -> Fraction:
        """The greatest pleated width of any level from the top edge to the hip line (inches)."""
        return max(self.level(name).pleated for name in FELL_LEVELS)
