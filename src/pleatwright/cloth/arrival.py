"""What to see to when the cloth comes, before any reading and long before the rip [from memory]."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.cloth.piece import Arrival, Edge, Fault, Piece
from pleatwright.findings import Finding, Severity
from pleatwright.lengths import Units, write_length
from pleatwright.trade import Settings

WIDTHS = Fraction(18), Fraction(66)
"""Inches between which no width is asked about [own], well round what is woven [public]."""
SHORT_BY = Fraction(1, 2)
"""Inches a piece may be shorter than invoiced without a word: two tapes differ by less [own]."""
OUT_OF_SQUARE = Fraction(1, 4)
"""Inches an end may run out of square over the width without a word; the facing takes it [own]."""


def arrival_findings(
    piece: Piece, settings: Settings, height: Fraction, units: Units = "in"
) -> tuple[Finding, ...]:
    """What was found when the piece came and what to do about it; `height` (inches) is what will be ripped.

    Weavers take back or allow for cloth that has not been cut, so every claim comes first [from memory].
    """
    arrival = piece.arrival or Arrival()
    found = [
        _width(piece, units),
        _short(piece, arrival, units),
        _ends(piece, arrival, height, units),
        _skew(piece, arrival, height, settings, units),
        _edge(arrival, units),
        _shade(arrival),
        _relaxed(piece, arrival),
    ]
    return (*(one for one in found if one is not None), *(_fault(one, units) for one in piece.faults))


def _width(piece: Piece, units: Units) -> Finding | None:
    narrowest, widest = WIDTHS
    if narrowest <= piece.width <= widest:
        return None
    return Finding(
        "cloth.width-unusual",
        Severity.ASK,
        f"the piece is {write_length(piece.width, units)} from selvedge to selvedge",
        'kilt cloth is woven 26" to 30" or 54" to 60" wide'
        if units == "in"
        else "kilt cloth is woven 66 to 76 cm or 137 to 152 cm wide",
        "Measure the width again, square to the selvedge, and see which unit was written.",
    )


def _short(piece: Piece, arrival: Arrival, units: Units) -> Finding | None:
    if arrival.invoiced is None or piece.length >= arrival.invoiced - SHORT_BY:
        return None
    return Finding(
        "cloth.short",
        Severity.WARN,
        f"the piece measures {write_length(piece.length, units)}",
        f"{write_length(arrival.invoiced, units)} were invoiced",
        f"Measure once more along the other selvedge; then claim the missing "
        f"{write_length(arrival.invoiced - piece.length, units)} before anything is cut.",
    )


def _ends(piece: Piece, arrival: Arrival, height: Fraction, units: Units) -> Finding | None:
    out = arrival.end_out
    if not out:
        return None
    lost = out * min(height / piece.width, Fraction(1))
    return Finding(
        "cloth.ends-crooked",
        Severity.WARN if out > OUT_OF_SQUARE else Severity.NOTE,
        f"an end runs {write_length(out, units)} out of square over the width",
        f"a strip {write_length(height, units)} high loses {write_length(lost, units)} at that end",
        "Cut along a pulled weft thread, measure the length again, and read the tape from the square end.",
    )


def _skew(
    piece: Piece, arrival: Arrival, height: Fraction, settings: Settings, units: Units
) -> Finding | None:
    if not arrival.skew:
        return None
    leaning = arrival.skew * min(height / piece.width, Fraction(1))
    stop, warn = settings.cloth.skew_stop, settings.cloth.skew_warn
    if leaning < warn:
        return None
    weight, limit = (Severity.STOP, stop) if leaning >= stop else (Severity.WARN, warn)
    return Finding(
        "cloth.skew",
        weight,
        f"a weft stripe leans {write_length(leaning, units)} over the {write_length(height, units)} to be "
        "ripped",
        f"less than {write_length(limit, units)}",
        "Steam the cloth and pull it square, corner from corner, let it lie and measure again; cloth that "
        "stays skewed goes back to the weaver uncut.",
    )


def _edge(arrival: Arrival, units: Units) -> Finding | None:
    if arrival.edge in (None, Edge.TRUE):
        return None
    if arrival.sound_from is None:
        return Finding(
            "cloth.edge",
            Severity.ASK,
            f"the left end is {arrival.edge}",
            "every tape figure counts from the first sound thread",
            "Find the first thread that runs from selvedge to selvedge, and say how far in it lies "
            "(sound_from); length and readings are measured from there.",
        )
    return Finding(
        "cloth.edge",
        Severity.NOTE,
        f"the left end is {arrival.edge}; the first sound thread lies "
        f"{write_length(arrival.sound_from, units)} in",
        "every tape figure counts from that thread",
        "Put the tape's end on that thread, not on the end of the cloth.",
    )


def _shade(arrival: Arrival) -> Finding | None:
    if not arrival.shade:
        return None
    return Finding(
        "cloth.shade",
        Severity.WARN,
        f"the shade is off: {arrival.shade}",
        "the shade of the sample or of the earlier piece",
        "Lay both side by side in daylight; settle it with weaver and client before anything is cut.",
    )


def _relaxed(piece: Piece, arrival: Arrival) -> Finding | None:
    if arrival.relaxed is not False:
        return None
    read = "the readings were taken before" if piece.readings else "nothing may be read off it yet"
    return Finding(
        "cloth.not-relaxed",
        Severity.WARN,
        f"the cloth has not lain or been steamed; {read}",
        "cloth that has come to rest before the first reading",
        "Let it lie open overnight or steam it, then take every reading again.",
    )


def _fault(fault: Fault, units: Units) -> Finding:
    where = f"from {write_length(fault.start, units)} to {write_length(fault.end, units)} along"
    low = None if fault.low is None else write_length(fault.low, units)
    high = None if fault.high is None else write_length(fault.high, units)
    if low and high:
        where += f", {low} to {high} above its selvedge"
    elif low or high:
        where += f", from {low} above its selvedge up" if low else f", up to {high} above its selvedge"
    strip = ", on the strip at the other selvedge" if fault.strip == 2 else ""
    note = f" ({fault.note})" if fault.note else ""
    return Finding(
        "cloth.fault",
        Severity.NOTE,
        f"{fault.kind}{note}{strip}, {where}",
        "the plan keeps it off aprons and reveals; inside a fold it may lie",
        f"Mark it with a thread in the selvedge; claim the {write_length(fault.end - fault.start, units)} it "
        "spoils before anything is cut.",
    )
