"""Gauge sizes for every pleat: whole steps of the grid that add up to the pleated width exactly."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.ruler import grid_of
from pleatwright.layout import Option, Request
from pleatwright.lengths import MILLIMETRE, Grid, on_grid, spread
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class GaugeRow:
    """One pleat, numbered from the over-apron: its width at the hip line and at the strap line, in inches."""

    pleat: int
    hip: Fraction
    strap: Fraction


@dataclass(frozen=True)
class GaugeSize:
    """A width in inches that is wanted, and on how many pleats at either level."""

    size: Fraction
    at_hip: int
    at_strap: int


@dataclass(frozen=True)
class Gauge:
    """A gauge to have at hand: cut to `width` (inches), read between its two chalk lines.

    `outside`: what it reads across the outsides of its lines, where that is a wanted size too, else None.
    """

    width: Fraction
    outside: Fraction | None


@dataclass(frozen=True)
class GaugeList:
    """Every pleat's widths; totals are the pleated widths on the grid, in inches."""

    rows: tuple[GaugeRow, ...]
    hip_total: Fraction
    strap_total: Fraction
    grid: Grid
    sizes: tuple[GaugeSize, ...]
    gauges: tuple[Gauge, ...]


def gauge_list(option: Option, request: Request) -> GaugeList:
    """Gauges for one option: neighbouring sizes, evenly mixed, mirrored for an odd number of pleats."""
    grid = grid_of(request)
    hip_total, strap_total = (
        on_grid(request.sizes.level(level).pleated, grid) for level in (LevelName.HIP, LevelName.STRAP)
    )
    hips = _widths(option, hip_total, grid)
    straps = _widths(option, strap_total, grid)
    rows = tuple(
        GaugeRow(number, hip, strap) for number, (hip, strap) in enumerate(zip(hips, straps, strict=True), 1)
    )
    at_hip, at_strap = Counter(hips), Counter(straps)
    sizes = tuple(GaugeSize(size, at_hip[size], at_strap[size]) for size in sorted({*hips, *straps}))
    return GaugeList(
        rows, hip_total, strap_total, grid, sizes, _fewest(tuple(s.size for s in sizes), _line(request))
    )


def _widths(option: Option, total: Fraction, grid: Grid) -> tuple[Fraction, ...]:
    """One width a pleat.  A centre box keeps its proportion to a step, and both its sides are alike."""
    units, parts = int(total / grid.step), option.pleats
    if option.centre_face == 1 or parts < 3:
        return tuple(size * grid.step for size in spread(units, parts))
    share = option.centre_face / (parts - 1 + option.centre_face)
    middle = units - 2 * round(units * (1 - share) / 2)
    side = spread((units - middle) // 2, parts // 2)
    return tuple(size * grid.step for size in (*side, middle, *side[::-1]))


def _line(request: Request) -> Fraction:
    """Width of one chalk line in inches."""
    bench = request.settings.bench
    if request.units == "metric":
        return Fraction(str(bench.chalk_line_mm)) * MILLIMETRE
    return bench.chalk_line


def _fewest(sizes: tuple[Fraction, ...], line: Fraction) -> tuple[Gauge, ...]:
    """The fewest gauges for these rising sizes, each serving its own width and that and two lines more.

    Chalked round, a gauge reads its width between the lines and a line more on either side across them
    (common practice, no source).  Taking the smallest size left each time is the fewest: only
    its own gauge, or one that no other size needs, can serve it.
    """
    left, gauges = list(sizes), []
    while left:
        width = left.pop(0)
        outside = width + 2 * line
        shared = line > 0 and outside in left
        if shared:
            left.remove(outside)
        gauges.append(Gauge(width, outside if shared else None))
    return tuple(gauges)
