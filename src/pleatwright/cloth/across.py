"""Up from the selvedge: levels moved to a woven line, and the strip that the rip leaves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from pleatwright.cloth.piece import Piece
from pleatwright.cloth.readings import run_of_readings
from pleatwright.cloth.run import Run
from pleatwright.lengths import Grid, on_grid
from pleatwright.sett import Sett, Tartan, short_name
from pleatwright.trade import Settings

LOOPS = 2
LOOP_LONG, LOOP_WIDE = Fraction(3), Fraction(3, 2)
"""Two loops for the belt, each cut 3" x 1 1/2" [own]."""
FLASHES = 2
FLASH_LONG, FLASH_WIDE = Fraction(10), Fraction(2)
"""A pair of flashes, each cut about 10" x 2" [own]."""


def run_across(piece: Piece, tartan: Tartan) -> Run | None:
    """The warp stripes as a ruler up from the bottom selvedge: as read, else of one size throughout.

    None where no stripe was measured from the selvedge, and on cloth that is plain across.
    """
    if piece.selvedge is None or tartan.warp.plain:
        return None
    size, width = float(piece.sett_across), float(piece.width)
    if piece.readings_across:
        return run_of_readings(tartan.warp, width, piece.readings_across, size)
    return Run.uniform(tartan.warp, size, piece.selvedge_phase(tartan), width)


@dataclass(frozen=True)
class Boundary:
    """A line between two colours across the cloth: its height above the selvedge (inches), its name."""

    height: float
    name: str


@dataclass(frozen=True)
class MovedLevel:
    """A level before and after it was moved to a boundary; heights above the bottom selvedge, inches."""

    old: Fraction
    new: Fraction
    boundary: str


@dataclass(frozen=True)
class LevelsAcross:
    """The levels that moved; None for one that stays where it is."""

    top: MovedLevel | None
    hip: MovedLevel | None


def boundaries(run: Run, low: float, high: float) -> Iterator[Boundary]:
    """Every line between two colours from one height to another, rising."""
    sett = run.sett
    if not sett.edges:
        return
    first, last = run.thread_at(low), run.thread_at(high)
    for turn in range(floor(first / sett.n), ceil(last / sett.n) + 1):
        for edge in sett.edges:
            thread = edge + turn * sett.n
            if first <= thread <= last:
                yield Boundary(run.tape_at(thread), _name(sett, edge))


def _name(sett: Sett, edge: int) -> str:
    """The boundary by the narrower of the two stripes it parts."""
    above, below = sett.stripe_at(edge), sett.stripe_at(edge - 0.5)
    if below.threads <= above.threads:
        return f"the upper edge of {short_name(sett, below)}"
    return f"the lower edge of {short_name(sett, above)}"


def snapped(
    piece: Piece,
    tartan: Tartan,
    settings: Settings,
    *,
    total: Fraction,
    fell: Fraction,
    rise: Fraction,
    grid: Grid = Grid.SIXTEENTH,
) -> LevelsAcross:
    """Top edge and hip line on the nearest colour boundary within the tolerance (inches), where there is one.

    A line woven into the cloth is easier to keep to, pleat after pleat, than a chalked one [common practice,
    no source].  `total` is what is ripped, hem and all; `fell` and `rise` go down from the top edge.  Strap
    line and bottom stay where they are on the cloth, so a moved top edge changes the rise: it stays within
    the usual rises [own].  A top edge goes no higher than the width allows, and takes no second strip and no
    top band away that the piece is wide enough for.  New heights lie on the tape's grid.
    """
    run = run_across(piece, tartan)
    if run is None:
        return LevelsAcross(None, None)
    usual = settings.wearer
    strap = total - rise
    least = strap + min(rise, usual.rise_usual_least)
    most = min(strap + max(rise, usual.rise_usual_most), _highest(piece, total, settings))
    tolerance = settings.cloth.snap_tolerance
    return LevelsAcross(
        _moved(run, total, tolerance, least, most, grid),
        _moved(run, total - fell, tolerance, Fraction(0), strap, grid),
    )


def _highest(piece: Piece, total: Fraction, settings: Settings) -> Fraction:
    width, band = piece.width, settings.cloth.band_height
    for limit in ((width - band) / 2, width / 2, width - band, width):
        if total <= limit:
            return limit
    return width


def _moved(
    run: Run, old: Fraction, tolerance: Fraction, least: Fraction, most: Fraction, grid: Grid
) -> MovedLevel | None:
    """The level on the nearest boundary; of two as near the lower one."""
    low, high = max(least, old - tolerance), min(most, old + tolerance)
    found = [
        (abs(new - old), new, boundary.name)
        for boundary in boundaries(run, float(low - grid.step), float(high + grid.step))
        if low <= (new := on_grid(boundary.height, grid)) <= high and new > 0
    ]
    if not found:
        return None
    by, new, name = min(found)
    return MovedLevel(old, new, name) if by else None


@dataclass(frozen=True)
class LeftStrip:
    """The strip that the rip leaves: inches.  `middle`: it lies between two ripped strips.

    `band`: it is high and long enough for the top band.  `loops`, `flashes`: what it yields besides the band.
    """

    height: Fraction
    middle: bool
    band: bool
    loops: bool
    flashes: bool


def left_strip(
    piece: Piece, total: Fraction, band_length: Fraction, settings: Settings, *, strips: int = 1
) -> LeftStrip:
    """What is left when one strip is ripped (width less `total`), or two (the middle one)."""
    height = piece.width - strips * total
    band_height = settings.cloth.band_height
    band = height >= band_height and piece.length >= band_length
    beside = piece.length - (band_length if band else 0)
    above = height - band_height if band else Fraction(0)

    def yields(wide: Fraction, long: Fraction) -> bool:
        return (height >= wide and beside >= long) or (above >= wide and piece.length >= long)

    return LeftStrip(
        max(height, Fraction(0)),
        strips == 2,
        band,
        yields(LOOP_WIDE, LOOPS * LOOP_LONG),
        yields(FLASH_WIDE, FLASHES * FLASH_LONG),
    )
