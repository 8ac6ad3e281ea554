"""Gauge sizes for every pleat: whole steps of the grid that add up to the pleated width exactly."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.drawer import Gauge, GaugeSize, drawer_findings, fewest
from pleatwright.bench.ruler import grid_of
from pleatwright.findings import Finding
from pleatwright.layout import Option, Request
from pleatwright.lengths import MILLIMETRE, Grid, on_grid, spread
from pleatwright.order import OwnedGauge
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class GaugeRow:
    """One pleat, numbered from the over-apron: its width at the hip line and at the strap line, in inches."""

    pleat: int
    hip: Fraction
    strap: Fraction


@dataclass(frozen=True)
class GaugeList:
    """Every pleat's widths; totals are the pleated widths on the grid, in inches.

    `hip_off` and `strap_off`: inches by which all pleats together come out wider, at either level, because
    owned gauges do not read their sizes exactly.  `findings`: what the drawer has to say.
    """

    rows: tuple[GaugeRow, ...]
    hip_total: Fraction
    strap_total: Fraction
    grid: Grid
    sizes: tuple[GaugeSize, ...]
    gauges: tuple[Gauge, ...]
    hip_off: Fraction
    strap_off: Fraction
    findings: tuple[Finding, ...]


def gauge_list(option: Option, request: Request, drawer: Sequence[OwnedGauge] = ()) -> GaugeList:
    """Gauges for one option: neighbouring sizes, evenly mixed, mirrored for an odd number of pleats.

    `drawer`: the gauges the shop owns; those that serve are used before any is cut.
    """
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
    owned = tuple((gauge.marked, gauge.width) for gauge in drawer)
    line, tolerance = chalk_line(request), _tolerance(request)
    gauges = fewest(sizes, line, request.sizes.rise, owned, tolerance)
    hip_off = sum((use.off * use.at_hip for gauge in gauges for use in gauge.uses), Fraction(0))
    strap_off = sum((use.off * use.at_strap for gauge in gauges for use in gauge.uses), Fraction(0))
    off = {LevelName.HIP.value: hip_off, LevelName.STRAP.value: strap_off}
    return GaugeList(
        rows,
        hip_total,
        strap_total,
        grid,
        sizes,
        gauges,
        hip_off,
        strap_off,
        drawer_findings(sizes, owned, off, request),
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


def chalk_line(request: Request) -> Fraction:
    """Width of one chalk line in inches."""
    bench = request.settings.bench
    if request.units == "metric":
        return Fraction(str(bench.chalk_line_mm)) * MILLIMETRE
    return bench.chalk_line


def _tolerance(request: Request) -> Fraction:
    """How far an owned gauge may read off a size, in inches."""
    bench = request.settings.bench
    if request.units == "metric":
        return Fraction(str(bench.gauge_tolerance_mm)) * MILLIMETRE
    return bench.gauge_tolerance
