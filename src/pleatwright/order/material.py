"""From the order's tartan and piece to the pattern, its size as woven, and the cloth on the table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.findings import Finding, Severity
from pleatwright.lengths import Units, exact_text, write_length, write_metric
from pleatwright.order.mistakes import Slips
from pleatwright.order.models import PieceTable, SettTable, TartanTable
from pleatwright.order.references import Stripes
from pleatwright.order.values import nearest, shown
from pleatwright.sett import (
    CODES,
    SHADES,
    Sett,
    Tartan,
    default_palette,
    parse_count,
    sett_from_widths,
)

_CODE = re.compile(r"[A-Z]{1,3}")
_MEASURE_MANY = 'measure over several setts and write sett = { measured = "65", over = 10 }'


@dataclass(frozen=True)
class Pattern:
    """A tartan with its stripes along and across, and notes on how it was read."""

    tartan: Tartan
    along: Stripes
    across: Stripes
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Scale:
    """Inches of one true period along and across."""

    along: Fraction
    across: Fraction


def read_pattern(table: TartanTable, units: Units, slips: Slips) -> Pattern | None:
    """The tartan; None, with what is wrong among the slips, where it cannot be had."""
    before = len(slips.problems)
    colours = _own_colours(table, slips)
    shade = _shade(table, slips)
    pivots = table.pivots or "whole"
    warp: Sett | None = None
    weft: Sett | None = None
    inline: dict[str, str] = {}
    written, notes = "", tuple[str, ...]()
    if table.count is not None and table.widths is not None:
        slips.add("tartan", "count and widths", "are both given", "keep one of the two")
    elif table.count is not None:
        with slips.collecting():
            parsed = parse_count(table.count, pivots=pivots, known=colours)
            warp, weft, written, notes = parsed.warp, parsed.weft, parsed.written, parsed.notes
            inline = dict(parsed.palette)
    elif table.widths is not None:
        widths = [(code.strip("/ ").upper(), width) for code, width in table.widths]
        _known_codes(widths, colours, slips)
        if table.symmetric is None:
            slips.missing("tartan.symmetric", "write true if first and last stripe are pivots, else false")
        with slips.collecting():
            warp = weft = sett_from_widths(widths, bool(table.symmetric), pivots=pivots)
        written = _written_widths(widths, bool(table.symmetric), units)
        if table.symmetric:
            notes = (
                f"the width at a pivot was read as {'half' if pivots == 'half' else 'the whole'} stripe",
            )
    elif not {"tartan.count", "tartan.widths"} & slips.spoilt and "tartan" not in slips.spoilt:
        slips.missing("tartan.count", 'write it like count = "B/24 W4 B24 R2 K24 G24 W/2"')
    if warp is None or weft is None or len(slips.problems) > before:
        return None
    used = (*weft.colours, *warp.colours)
    _unused(colours, used, slips)
    if len(slips.problems) > before:
        return None
    shades = default_palette(shade)
    own = {**inline, **colours}
    palette = tuple((code, own.get(code) or shades[code]) for code in dict.fromkeys(used))
    tartan = Tartan(table.name or "unnamed", warp, weft, palette, written, pivots)
    halves = [pivots == "half" and ("/" in side or bool(table.symmetric)) for side in written.split("//")]
    return Pattern(
        tartan,
        Stripes(weft, halves[-1], "to the right", units),
        Stripes(warp, halves[0], "up from the selvedge", units),
        tuple(f"tartan: {note}" for note in notes),
    )


def _own_colours(table: TartanTable, slips: Slips) -> dict[str, str]:
    colours = {}
    for code, colour in (table.colours or {}).items():
        if _CODE.fullmatch(code.strip().upper()):
            colours[code.strip().upper()] = colour
        else:
            fix = 'write a code of one to three letters, as LB = "#8FB4D9"'
            slips.add(f"tartan.colours.{code}", shown(code), "is not a colour code", fix)
    return colours


def _shade(table: TartanTable, slips: Slips) -> str:
    shade = (table.shade or SHADES[0]).casefold()
    if shade not in SHADES:
        slips.add("tartan.shade", shown(table.shade), "is not known here", nearest(shade, SHADES))
    return shade


def _known_codes(widths: list[tuple[str, Fraction]], colours: Mapping[str, str], slips: Slips) -> None:
    for at, (code, _) in enumerate(widths, start=1):
        if code not in colours and code not in CODES:
            known = " ".join(sorted({*CODES, *colours}))
            fix = f'give its colour, [tartan.colours] {code} = "#4A6B8C", or use one of {known}'
            slips.add(f"tartan.widths, entry {at}", shown(code), "is an unknown colour code", fix)


def _unused(colours: Mapping[str, str], used: tuple[str, ...], slips: Slips) -> None:
    for code in colours:
        if code not in used:
            allowed = "is no colour of this tartan"
            slips.add(
                f"tartan.colours.{code}", shown(code), allowed, nearest(code, tuple(dict.fromkeys(used)))
            )


def _written_widths(widths: list[tuple[str, Fraction]], symmetric: bool, units: Units) -> str:
    """The measured widths in one regular spelling."""
    parts = [
        f"{code} {write_metric(width, 0.5) if units == 'metric' else exact_text(width) + chr(34)}"
        for code, width in widths
    ]
    return ", ".join(parts) + (", first and last are pivots" if symmetric else ", repeating")


SETTS_APART = Fraction(1, 8)
"""Share by which piece and tartan may differ in their sett without a word; cloth differs far less [own]."""


def read_scale(
    pattern: Pattern | None, tartan: TartanTable, piece: PieceTable | None, slips: Slips
) -> Scale | None:
    """The size of one true period along and across; None where it cannot be had.

    What was measured on the piece holds, else the tartan's size, else the measured widths.  Across, where
    nothing is said, a thread is as wide as along.  Plain cloth has no sett: its thread counts as an inch.
    """
    here = piece or PieceTable()
    sizes = {
        "piece.sett": here.sett,
        "tartan.sett": tartan.sett,
        "piece.sett_across": here.sett_across,
        "tartan.sett_across": tartan.sett_across,
    }
    for field, given in sizes.items():
        if given is not None and given.measured is None:
            slips.missing(f"{field}.measured", "write what the tape said over so many setts")
    if pattern is None:
        if here.sett is None and tartan.sett is None and tartan.widths is None:
            _no_sett("sett", slips)
        return None
    weft, warp = pattern.tartan.weft, pattern.tartan.warp
    along = _true_period(weft, _first_given(here.sett, tartan.sett))
    across = _true_period(warp, _first_given(here.sett_across, tartan.sett_across))
    if along is None:
        if here.sett is None and tartan.sett is None:
            _no_sett("sett", slips)
        return None
    if across is None and not weft.plain:
        across = along * warp.n / weft.n
    if across is None:
        _no_sett("sett_across", slips)
        return None
    return Scale(along, across)


def setts_apart(tartan: TartanTable | None, piece: PieceTable | None, units: Units) -> tuple[Finding, ...]:
    """A question where the setts of piece and tartan are not nearly of one size: how many were measured?"""
    found = []
    for name, way in (("sett", "along"), ("sett_across", "across")):
        here, known = (_first_given(getattr(table, name, None)) for table in (piece, tartan))
        if here is not None and known is not None and abs(here / known - 1) > SETTS_APART:
            found.append(
                Finding(
                    "cloth.setts-apart",
                    Severity.ASK,
                    f"a sett {way} this piece is {write_length(here, units)}",
                    f"one of the tartan is {write_length(known, units)}",
                    "Measure over ten setts again, and see that it says so beside the length: over = 10.",
                )
            )
    return tuple(found)


def _no_sett(name: str, slips: Slips) -> None:
    if not {f"tartan.{name}", f"piece.{name}", "tartan.widths", "piece"} & slips.spoilt:
        fix = f'measure over several setts and write {name} = {{ measured = "65", over = 10 }}'
        slips.missing(f"tartan.{name}", fix)


def _first_given(*tables: SettTable | None) -> Fraction | None:
    for table in tables:
        if table is not None and table.measured is not None:
            return table.measured / (table.over or 1)
    return None


def _true_period(sett: Sett, written: Fraction | None) -> Fraction | None:
    if sett.plain:
        return Fraction(sett.n)
    if written is not None:
        return written / sett.written_periods
    return None if sett.unit_inches is None else sett.n * sett.unit_inches
