"""From the order's piece to the cloth on the table: its measures, stripes and faults."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.cloth import Anchor, Arrival, Edge, Fault, Piece, Reading, Taped
from pleatwright.findings import Finding
from pleatwright.lengths import Units, exact_text, write_length
from pleatwright.order.material import Pattern, Scale
from pleatwright.order.mistakes import Slips
from pleatwright.order.models import AnchorTable, ArrivalTable, FaultTable, PieceTable
from pleatwright.order.references import Stripes
from pleatwright.order.tape import Edging, read_list, read_repeats, taped_edge
from pleatwright.sett import stripe_name

SHORTEST = Fraction(36)
"""Inches; a shorter piece is a length in yards without its unit [own choice]."""


@dataclass(frozen=True)
class MeasuredPiece:
    """The piece, every reading held against the others, and what that found."""

    piece: Piece
    taped: tuple[Taped, ...]
    findings: tuple[Finding, ...]


def read_piece(
    table: PieceTable, pattern: Pattern | None, scale: Scale | None, units: Units, slips: Slips
) -> MeasuredPiece | None:
    """The piece of cloth; None, with what is wrong among the slips, where it cannot be had."""
    before = len(slips.problems)
    _needed(table, pattern, slips)
    faults = tuple(_fault(one, table, at, units, slips) for at, one in enumerate(table.faults or (), 1))
    if pattern is None or scale is None or table.width is None or table.length is None:
        return None
    left_end = _anchor(table.left_end, pattern.along, "piece.left_end", slips)
    selvedge = _anchor(table.selvedge, pattern.across, "piece.selvedge", slips)
    along, across = (pattern.along, scale.along), (pattern.across, scale.across)
    length, width = float(table.length), float(table.width)
    first_edge = Edging("piece.readings", "along the bottom selvedge", *along, length, "piece.left_end")
    second_edge = Edging("piece.second_readings", "along the other selvedge", *along, length, "")
    upward = Edging("piece.readings_across", "up from the bottom selvedge", *across, width, "piece.selvedge")
    spots, sizes = read_list(table.readings, first_edge, slips), tuple[Finding, ...]()
    if table.repeats is not None:
        spots, sizes = read_repeats(table.repeats, first_edge, units, slips)
        if table.readings:
            slips.add("piece.repeats", "readings and repeats", "are both given", "keep one of the two")
    first, second, up = (
        taped_edge(spots, anchor, edge, units, slips)
        for spots, anchor, edge in (
            (spots, left_end, first_edge),
            (read_list(table.second_readings, second_edge, slips), None, second_edge),
            (read_list(table.readings_across, upward, slips), selvedge, upward),
        )
    )
    if left_end is None and pattern.tartan.weft.plain:
        left_end = Anchor(0.0, Fraction(0), "")
    left_end = _standing(left_end, first.readings, first.anchor_stands, pattern.along)
    selvedge = _standing(selvedge, up.readings, up.anchor_stands, pattern.across)
    if left_end is None or len(slips.problems) > before:
        return None
    piece = Piece(
        table.width,
        table.length,
        scale.along,
        scale.across,
        left_end,
        selvedge,
        first.readings,
        second.readings,
        up.readings,
        tuple(fault for fault in faults if fault is not None),
        _arrival(table.arrival),
    )
    edges = (first, second, up)
    return MeasuredPiece(
        piece,
        tuple(edge.taped for edge in edges if edge.taped.entries),
        (*sizes, *(finding for edge in edges for finding in edge.findings)),
    )


def _needed(table: PieceTable, pattern: Pattern | None, slips: Slips) -> None:
    """What no piece can do without."""
    if table.width is None:
        slips.missing("piece.width", "measure from selvedge to selvedge")
    if table.length is None:
        slips.missing("piece.length", 'measure along the selvedge, and write it as "8 1/2 yd"')
    elif table.length < SHORTEST:
        written = exact_text(table.length) + " inches"
        slips.add("piece.length", written, "is less than a yard", 'write the unit, as "8 yd" or "7.5 m"')
    for field, given in (("left_end", table.left_end), ("selvedge", table.selvedge)):
        if given is not None and given.distance is None:
            fix = "measure from the edge of the cloth to the stripe's centre"
            slips.missing(f"piece.{field}.distance", fix)
    read = table.readings or table.repeats or slips.spoils("piece.readings") or slips.spoils("piece.repeats")
    if table.left_end is None and not read and not (pattern and pattern.tartan.weft.plain):
        first = "K32" if pattern is None else pattern.along.label(pattern.along.sett.stripes[0])
        example = f'{{ stripe = "{first}", distance = "3 1/4" }}'
        slips.missing("piece.left_end", f"name a stripe near the left cut end, as left_end = {example}")


def _anchor(table: AnchorTable | None, stripes: Stripes, field: str, slips: Slips) -> Anchor | None:
    if table is None or stripes.sett.plain:
        return None
    with slips.collecting():
        stripe = stripes.find(table, field)
        if table.distance is not None:
            return Anchor(stripes.sett.centre_of(stripe), table.distance, stripe_name(stripes.sett, stripe))
    return None


def _standing(
    anchor: Anchor | None, readings: tuple[Reading, ...], stands: bool, stripes: Stripes
) -> Anchor | None:
    """The stripe named at the edge, unless the readings contradict it: then the reading nearest to it."""
    if not readings or (anchor is not None and stands):
        return anchor
    near = min(readings, key=lambda reading: reading.at)
    return Anchor(near.thread % stripes.sett.n, Fraction(near.at), near.stripe)


def _fault(table: FaultTable, piece: PieceTable, at: int, units: Units, slips: Slips) -> Fault | None:
    field = f"piece.faults, entry {at}"
    before = len(slips.problems)
    if table.kind is None:
        slips.missing(field, 'write its kind, as kind = "knot"')
    if table.start is None or table.end is None:
        slips.missing(field, 'write where it begins and ends on the tape, as from = "45 1/2", to = "46"')
        return None
    spans = [("from and to", table.start, table.end, piece.length, "the length of the piece")]
    if table.low is not None or table.high is not None:
        high = piece.width if table.high is None else table.high
        if high is not None:
            spans.append(("low and high", table.low or Fraction(0), high, piece.width, "the width"))
    for names, low, high, most, what in spans:
        written = f"{write_length(low, units)} to {write_length(high, units)}"
        if low >= high:
            slips.add(f"{field}, {names}", written, "does not run onward", "write the smaller one first")
        elif most is not None and high > most:
            slips.add(
                f"{field}, {names}", written, f"goes beyond {what}, {write_length(most, units)}", "measure it"
            )
    if len(slips.problems) > before:
        return None
    return Fault(
        table.kind or "", table.start, table.end, table.low, table.high, table.strip or 1, table.note or ""
    )


def _arrival(table: ArrivalTable | None) -> Arrival | None:
    if table is None:
        return None
    return Arrival(
        table.invoiced,
        table.end_out,
        table.skew,
        None if table.edge is None else Edge(table.edge),
        table.sound_from,
        table.shade or "",
        table.relaxed,
    )
