"""What every page needs: the store, the desk, the sessions, today; and the shop's own file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from fastapi import Depends, Request

from pleatwright.errors import InputError
from pleatwright.lengths import Units
from pleatwright.order import stated_units
from pleatwright.shop.store import Client, OrderCard, ShopText, Store
from pleatwright.web.desk import Desk, Worked
from pleatwright.web.document import Data, data_of, text_of
from pleatwright.web.money import MONEY, PER_CENT, SHARE, Sort, read_amount
from pleatwright.web.sessions import Sessions

PRICES = "prices"
"""The table of the shop's text that only the quote reads."""


@dataclass(frozen=True)
class Prices:
    """What a quote reckons with: money in `currency`, margin, tax and deposit in per cent.

    `cloth` is for a yard, or a metre in a metric shop.
    """

    currency: str = ""
    cloth: Decimal = Decimal(0)
    hardware: Decimal = Decimal(0)
    lining: Decimal = Decimal(0)
    hour: Decimal = Decimal(0)
    margin: Decimal = Decimal(0)
    tax: Decimal = Decimal(0)
    deposit: Decimal = Decimal(50)
    valid_days: int = 30


@dataclass(frozen=True)
class Shop:
    """The shop's own file: as it is kept, as the order's reader wants it, and its prices."""

    kept: ShopText
    data: Data
    text: str
    prices: Prices

    @property
    def table(self) -> Mapping[str, Any]:
        """Name, paper, units, hand, gauges."""
        found = self.data.get("shop")
        return found if isinstance(found, dict) else {}

    @property
    def name(self) -> str:
        """The shop's name."""
        return str(self.table.get("name", ""))

    @property
    def units(self) -> Units:
        """What a bare number means, and what is shown, where an order says nothing else."""
        return stated_units(self.data, "in")

    def units_of(self, order: Mapping[str, Any]) -> Units:
        """What a bare number means in an order's data, and what its pages show: its own units always."""
        return stated_units(order, self.units)


@dataclass
class House:
    """One run of the app."""

    store: Store
    sessions: Sessions
    today: Callable[[], date]
    lan: bool = False
    desk: Desk = field(default_factory=Desk)

    def shop(self) -> Shop:
        """The shop's file as it is now."""
        kept = self.store.shop()
        try:
            data = data_of(kept.document)
        except InputError:  # never written by the page that keeps it
            data = {}
        prices = data.get(PRICES)
        rest = {name: value for name, value in data.items() if name != PRICES}
        return Shop(kept, data, text_of(rest) if rest else "", read_prices(prices))

    def card(self, number: int) -> OrderCard:
        """An order; raises NotKept."""
        return self.store.get(OrderCard, number)

    def client(self, number: int) -> Client:
        """A client; raises NotKept."""
        return self.store.get(Client, number)

    def worked(self, text: str, shop: Shop) -> Worked:
        """An order's text worked out; raises InputError."""
        return self.desk.worked(text, shop.text)


def sort_of(name: str) -> Sort:
    """What sort of amount a price of the shop's is."""
    return SHARE if name == "deposit" else PER_CENT if name in ("margin", "tax") else MONEY


def read_prices(table: object) -> Prices:
    """The prices of the shop's text; what cannot be read is left at nothing."""
    given = table if isinstance(table, Mapping) else {}
    found: dict[str, Any] = {}
    for name, usual in vars(Prices()).items():
        text = str(given.get(name, "")).strip()
        if not text:
            continue
        if isinstance(usual, str):
            found[name] = text
        elif isinstance(usual, Decimal):
            with suppress(InputError):
                found[name] = read_amount(text, name, sort_of(name))
        elif text.isascii() and text.isdigit() and len(text) < 5:
            found[name] = int(text)
    return Prices(**found)


async def house_of(request: Request) -> House:
    """The house a request came to."""
    found: House = request.app.state.house
    return found


HouseOf = Annotated[House, Depends(house_of)]
