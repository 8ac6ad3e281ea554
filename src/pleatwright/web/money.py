"""Amounts as a maker writes them: read as they are meant, or both readings named and neither taken."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from pleatwright.errors import InputError
from pleatwright.lengths import Units
from pleatwright.web.texts import mistake


@dataclass(frozen=True)
class Sort:
    """What may stand in a field: less than `below`, with at most so many decimals."""

    below: Decimal
    decimals: int


MONEY = Sort(Decimal(10) ** 9, 2)
QUANTITY = Sort(Decimal(10) ** 4, 3)
PER_CENT = Sort(Decimal(1000), 3)
"""Far beyond what a kilt can come to [our choice]; a tax of 8.875 per cent is one."""
SHARE = Sort(Decimal("100.001"), 3)
"""Per cent of a whole: 100 at most."""

YARD_IN_METRES = Decimal("0.9144")

_PLAIN = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")
_GROUPED = re.compile(r"[1-9][0-9]{0,2}([ '.,])[0-9]{3}(?:\1[0-9]{3})*(?:(?!\1)[.,][0-9]+)?")
_SPACES = re.compile(r"[\s\u2019]")
_LONGEST = 40


def read_amount(text: str, field: str, sort: Sort) -> Decimal:
    """The amount a text says; raises InputError.

    1200, 1200.50, 1200,50, 1,200.50, 1.200,50 and 1 200,50 say one thing each.  1,200 may be 1.20 or 1200,
    and is taken for neither, unless one of them is more than the field takes; a point before three digits
    is a decimal point where the field takes three.
    """
    text = text.strip()
    readings = _readings(text, sort)
    small = [each for each in readings if each < sort.below]
    shown = text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."
    if len(small) > 1:
        plain, grouped = (each.quantize(_step(sort), ROUND_HALF_UP) for each in small)
        both = {"plain": plain, "grouped": grouped, "whole": grouped.to_integral_value()}
        raise InputError(mistake("two_amounts", field, text=shown, **both))
    if readings and not small:
        most = sort.below - _step(sort)
        raise InputError(mistake("amount_too_large", field, text=shown, most=most if most % 1 else int(most)))
    if not small:
        raise InputError(mistake("no_amount", field, text=shown))
    value = small[0]
    if value != value.quantize(_step(sort), ROUND_HALF_UP):
        rounded = value.quantize(_step(sort), ROUND_HALF_UP)
        said = {"most": sort.decimals, "rounded": rounded}
        raise InputError(mistake("many_decimals", field, text=shown, **said))
    return value.quantize(_step(MONEY)) if sort is MONEY else value


def price_in(units: Units, price: Decimal, before: Units) -> Decimal:
    """The price of a yard, or of a metre in metric units, for what cost so much in the units before."""
    if units == before:
        return price
    return (price * YARD_IN_METRES if units == "in" else price / YARD_IN_METRES).quantize(_step(MONEY))


def _step(sort: Sort) -> Decimal:
    return Decimal(1).scaleb(-sort.decimals)


def _readings(text: str, sort: Sort) -> list[Decimal]:
    """With its mark before decimals, and with its mark between thousands; each that is one."""
    found = []
    text = _SPACES.sub(lambda space: "'" if space[0] == "\u2019" else " ", text)
    if _PLAIN.fullmatch(text):
        found.append(Decimal(text.replace(",", ".")))
        if "." in text and sort.decimals >= 3:
            return found
    grouped = _GROUPED.fullmatch(text)
    if grouped:
        found.append(Decimal(text.replace(grouped[1], "").replace(",", ".")))
    return found
