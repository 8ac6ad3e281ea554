"""What a kilt costs: cloth, straps and buckles, inner parts, hours; margin and tax; rounded once a line.

The margin lies in the prices, each rounded to the cent with it: so every line multiplies to its amount.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


@dataclass(frozen=True)
class Priced:
    """One line: how many of what unit, and the price of one."""

    what: str
    quantity: Decimal
    unit: str
    price: Decimal

    @property
    def amount(self) -> Decimal:
        """Quantity times price, to the cent; halves go up."""
        return to_cents(self.quantity * self.price)


@dataclass(frozen=True)
class Total:
    """What the lines come to, in money: `lines` without the margin, `margin` what it adds to them.

    The tax is on both, the deposit of the whole.
    """

    lines: Decimal
    margin: Decimal
    tax: Decimal
    total: Decimal
    deposit: Decimal


def to_cents(value: Decimal) -> Decimal:
    """Money to the cent; halves go up."""
    return value.quantize(CENT, ROUND_HALF_UP)


def with_margin(line: Priced, margin: Decimal) -> Priced:
    """The line as the client is told it: the margin, in per cent, in its price."""
    return replace(line, price=to_cents(line.price * (100 + margin) / 100))


def total(lines: Iterable[Priced], *, margin: Decimal, tax: Decimal, deposit: Decimal) -> Total:
    """What the lines come to; margin, tax and deposit in per cent.  Its parts add up to its total exactly."""
    lines = tuple(lines)
    cost = sum((line.amount for line in lines), Decimal(0))
    net = sum((with_margin(line, margin).amount for line in lines), Decimal(0))
    taxed = to_cents(net * tax / 100)
    whole = net + taxed
    return Total(
        to_cents(cost), to_cents(net - cost), taxed, to_cents(whole), to_cents(whole * deposit / 100)
    )
