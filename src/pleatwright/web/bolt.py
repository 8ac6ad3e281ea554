"""A bolt for several kilts: each order's length is cut off it, from its left end, as a piece of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import exact_text, parse_length, write_yards
from pleatwright.shop.store import ClothPiece, OrderCard
from pleatwright.web.document import Data, data_of, kept_text
from pleatwright.web.errors import Refused
from pleatwright.web.house import House, Shop
from pleatwright.web.orders import current, pinned
from pleatwright.web.texts import mistake, texts

READ = ("readings", "second_readings", "repeats")
"""Readings along the piece, from its left end."""
AT_COMING = ("invoiced", "sound_from", "end_out", "edge")
"""What was found at the ends of the piece when it came, and is not true of a new end."""
HERE = ("ordered", "here")
"""States of a piece that can still be cut."""


@dataclass(frozen=True)
class Wants:
    """A piece, the order it is kept for, and the inches that order's kilt takes, where they are known."""

    piece: ClothPiece
    order: OrderCard | None
    takes: float | None


def wants(house: House, piece: ClothPiece) -> Wants:
    """For whom a piece is kept."""
    order = None if piece.order is None else house.card(piece.order)
    return Wants(piece, order, None if order is None else taken(house, order))


def taken(house: House, card: OrderCard) -> float | None:
    """Inches of cloth that the kilt in force takes; None while none is."""
    try:
        found = pinned(house, card)
    except Refused:
        return None
    return None if found is None else found.option.cloth_used


def needed(house: House, card: OrderCard, shop: Shop) -> float | None:
    """Inches of cloth to cut off for an order: what its kilt takes, or would at most; None if unknown."""
    found = taken(house, card)
    if found is not None or card.kind != "kilt":
        return found
    worked, _ = current(house, card, shop)
    if worked is None:
        return None
    order, chosen = worked.plan.to_order, worked.plan.chosen
    return order.needed if order is not None else chosen.cloth_used if chosen is not None else None


def cut_off(
    house: House, piece: ClothPiece, length: Fraction, card: OrderCard | None, name: str
) -> tuple[ClothPiece, ClothPiece]:
    """Cut a length (inches) off a piece's left end; returns the rest and what was cut off, both as kept.

    Raises InputError where that cannot be: there is not so much, it is kept whole for another order, or the
    order's kilt takes more.
    """
    units = house.shop().units
    problems = tuple(_against(house, piece, length, card))
    if problems:
        raise InputError(problems)
    left = (piece.length or Fraction(0)) - length
    words = texts()["stock"]
    note = (words["was_cut"] if card is None else words["was_cut_for"]).format(
        day=house.today().isoformat(),
        length=write_yards(length, units),
        order=card and (card.reference or card.id),
        left=write_yards(left, units),
    )
    first, rest = parted(_table(piece), length, left)
    off = replace(
        piece,
        name=name,
        order=None if card is None else card.id,
        length=length,
        invoiced=None,
        document=kept_text({"piece": first}),
        notes="",
        id=0,
        version=0,
    )
    rest_of_it = replace(
        piece,
        order=None,
        length=left,
        document=kept_text({"piece": rest}),
        notes="\n".join(part for part in (piece.notes, note) if part),
    )
    kept, made = house.store.part(rest_of_it, [off])
    return kept, made


def _against(house: House, piece: ClothPiece, length: Fraction, card: OrderCard | None) -> Iterator[Problem]:
    units, field = house.shop().units, "cut_length"
    seen = write_yards(length, units)
    if piece.state not in HERE or piece.length is None:
        yield mistake("no_length", field, piece=piece.name)
    elif not 0 < length < piece.length:
        yield mistake("cut_too_long", field, length=seen, left=write_yards(piece.length, units))
    holder = wants(house, piece).order
    if holder is not None and (card is None or card.id != holder.id):
        yield mistake("cut_kept", "cut_for", piece=piece.name, order=holder.reference or holder.id)
    takes = None if card is None else taken(house, card)
    if takes is not None and length < takes:
        yield mistake("cut_too_short", field, length=seen, taken=write_yards(takes, units))


def parted(table: Mapping[str, Any], length: Fraction, left: Fraction) -> tuple[Data, Data]:
    """A piece's table parted at `length` inches from its left end: what is cut off, and the rest, of `left`.

    What is cut off keeps its left end, and the readings and faults on it.  The rest has a new left end that
    must be read anew; its faults lie nearer to it.
    """
    arrival = {name: part for name, part in table.get("arrival", {}).items() if name != "invoiced"}
    first: Data = {**table, "length": _written(length)}
    for name in ("readings", "second_readings"):
        if name in table:
            first[name] = [one for one in table[name] if _inches(one.get("at", 0)) <= length]
    rest: Data = {name: part for name, part in table.items() if name not in (*READ, "left_end", "arrival")}
    rest["length"] = _written(left)
    later = {name: part for name, part in arrival.items() if name not in AT_COMING}
    first.pop("arrival", None)
    first |= {"arrival": arrival} if arrival else {}
    rest |= {"arrival": later} if later else {}
    if "faults" in table:
        first["faults"] = [one for one in table["faults"] if _inches(one.get("from", 0)) < length]
        rest["faults"] = [
            _nearer(one, length) for one in table["faults"] if _inches(one.get("to", 0)) > length
        ]
    return first, rest


def _nearer(fault: Mapping[str, Any], by: Fraction) -> Data:
    ends = {name: _written(max(_inches(fault.get(name, 0)) - by, Fraction(0))) for name in ("from", "to")}
    return {**fault, **ends}


def _inches(value: Any) -> Fraction:
    """A length of a piece kept apart, which says its unit."""
    return parse_length(value)


def _written(value: Fraction) -> str:
    return f"{exact_text(value)} in"


def _table(piece: ClothPiece) -> Data:
    data = data_of(piece.document)
    table = data.get("piece", data)
    return dict(table) if isinstance(table, dict) else {}
