"""Levels moved to a woven line, and what the rip leaves: from sizes and cloth to the sizes that are made."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from pleatwright.cloth import (
    LevelsAcross,
    MovedLevel,
    Piece,
    horizontals_off,
    join_hems,
    left_strip,
    snapped,
    turnable,
)
from pleatwright.errors import InputError
from pleatwright.findings import Finding, Severity
from pleatwright.lengths import Grid, Units, write_length
from pleatwright.order.measures import Measured
from pleatwright.sett import Tartan
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName, Sizes


def on_boundaries(
    measured: Measured, piece: Piece, tartan: Tartan, settings: Settings, units: Units
) -> tuple[Sizes, tuple[Finding, ...]]:
    """The sizes with top edge and hip line on a colour boundary, where one is near, and what moved.

    Strap line and bottom edge stay where they are on the cloth.  Where no kilt has the moved sizes, nothing
    moves.
    """
    old = measured.sizes
    grid = Grid.MILLIMETRE if units == "metric" else Grid(settings.bench.grid)
    levels = snapped(piece, tartan, settings, total=old.total, fell=old.fell, rise=old.rise, grid=grid)
    top, hip = _height(levels.top, old.total), _height(levels.hip, old.total - old.fell)
    if (top, hip) == (old.total, old.total - old.fell):
        return old, ()
    strap = old.total - old.rise
    try:
        moved = measured.resized(rise=top - strap, fell_drop=strap - hip)
    except InputError:
        return old, ()
    return replace(moved, fell_assumed=old.fell_assumed), _moved(levels, old, moved, units)


def _height(level: MovedLevel | None, old: Fraction) -> Fraction:
    return old if level is None else level.new


def _seen(level: MovedLevel, units: Units) -> bool:
    """Whether the move can be read off a tape."""
    return write_length(level.old, units) != write_length(level.new, units)


def _moved(levels: LevelsAcross, old: Sizes, new: Sizes, units: Units) -> tuple[Finding, ...]:
    found = []
    if levels.top is not None and _seen(levels.top, units):
        found.append(
            Finding(
                "cloth.top-edge-moved",
                Severity.NOTE,
                f"the top edge is moved from {write_length(old.total, units)} to "
                f"{write_length(new.total, units)} above the selvedge",
                f"it falls on {levels.top.boundary}",
                f"The rise is {write_length(new.rise, units)} in place of {write_length(old.rise, units)}; "
                "the drop is as measured.",
            )
        )
    if levels.hip is not None and _seen(levels.hip, units):
        found.append(
            Finding(
                "cloth.hip-line-moved",
                Severity.NOTE,
                f"the hip line is moved from {write_length(levels.hip.old, units)} to "
                f"{write_length(levels.hip.new, units)} above the selvedge",
                f"it falls on {levels.hip.boundary}",
                _below(write_length(new.fell, units), write_length(old.fell, units)),
            )
        )
    return tuple(found)


def _below(now: str, before: str) -> str:
    if now == before:
        return f"It lies {now} below the top edge, as before."
    return f"It lies {now} below the top edge in place of {before}."


def band_length(sizes: Sizes, settings: Settings) -> Fraction:
    """Inches along for the top band: (1 + share)·W + lap + opening above the strap line, and to spare."""
    top = sizes.level(LevelName.TOP)
    return top.over_apron + top.pleated + top.under_apron + settings.cloth.band_spare


def left_over(
    piece: Piece, tartan: Tartan, sizes: Sizes, settings: Settings, units: Units
) -> tuple[Finding, ...]:
    """What the strip left by the rip is good for; nothing where nothing is left."""
    strips = 2 if piece.width >= 2 * sizes.total else 1
    band = band_length(sizes, settings)
    hem = Fraction(0)
    if strips == 2 and turnable(tartan):
        off, room = horizontals_off(piece, tartan), piece.width - 2 * sizes.total
        hem = Fraction(max(join_hems(off, room, settings)))
    left = left_strip(replace(piece, width=piece.width - hem), sizes.total, band, settings, strips=strips)
    if not left.height:
        return ()
    height = write_length(settings.cloth.band_height, units)
    uses = [f"the top band ({height} × {write_length(band, units)})"] if left.band else []
    uses += ["belt loops"] if left.loops else []
    uses += ["a pair of flashes"] if left.flashes else []
    place = "between the two strips" if left.middle else "above the rip"
    return (
        Finding(
            "cloth.left-strip",
            Severity.NOTE,
            f"a strip {write_length(left.height, units)} high is left {place}",
            f"enough for {', '.join(uses)}" if uses else "too little for band, loops or flashes",
            "Put the band's mark exactly at the over-apron's centre before the rip."
            if left.band
            else "Settle where the band comes from before the rip.",
        ),
    )
