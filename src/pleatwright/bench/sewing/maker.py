"""What is to be sewn at one level, what the tape said of it, and how a maker usually sews."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from pleatwright.bench.gauges import gauge_list
from pleatwright.layout import Option, Request
from pleatwright.lengths import Grid
from pleatwright.trade import SewingSettings
from pleatwright.wearer import LevelName

SEWN_LEVELS = (LevelName.HIP, LevelName.STRAP)
"""The levels at which a maker measures while sewing: both ends of the taper."""


@dataclass(frozen=True)
class Target:
    """One level as planned: every pleat's width in inches, numbered from the over-apron.

    `more`: inches that a fitting has added since (negative: taken off).
    """

    level: LevelName
    sizes: tuple[Fraction, ...]
    more: Fraction = Fraction(0)

    @property
    def total(self) -> Fraction:
        """The pleated width to end with, in inches."""
        return sum(self.sizes, self.more)


@dataclass(frozen=True)
class Sewn:
    """One reading of the tape, in inches, across the pleats `first` to `last`, both included."""

    level: LevelName
    first: int
    last: int
    width: Fraction


@dataclass(frozen=True)
class Maker:
    """How far from its told size a pleat comes out, in inches, one standard deviation each.

    A pleat is sewn at its told size + b + e: `bias` of b, the same for all pleats of one level; `scatter` of
    e, new for every pleat.  `reading`: of one reading of the tape.
    """

    bias: float
    scatter: float
    reading: float


def maker_of(sewing: SewingSettings, grid: Grid) -> Maker:
    """The usual maker; a reading is rounded to the grid's step, an error of step/sqrt(12) [derived]."""
    return Maker(float(sewing.bias), float(sewing.scatter), float(grid.step) / sqrt(12))


def targets_of(option: Option, request: Request) -> tuple[Target, Target]:
    """What an option plans at the hip line and at the strap line."""
    rows = gauge_list(option, request).rows
    return (
        Target(LevelName.HIP, tuple(row.hip for row in rows)),
        Target(LevelName.STRAP, tuple(row.strap for row in rows)),
    )
