"""What the store keeps, as plain values.

`id` is 0 until a value is kept.  `version` counts its savings: whoever saves gives the version that was read,
and is told when somebody else has saved since.  Entries have no version, for they are never changed; `key`
names an entry where it was made, so that one sent twice is kept once.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from pleatwright.shop.store.states import State

OrderKind = Literal["kilt", "alteration"]
QuoteState = Literal["drawn up", "sent", "accepted", "declined"]
PieceState = Literal["ordered", "here", "ripped", "used up"]
Decision = Literal["go", "stop"]


@dataclass(frozen=True)
class Client:
    """A client; `forgotten_on` is the day name, contact and measurements were erased."""

    name: str
    email: str = ""
    phone: str = ""
    address: str = ""
    notes: str = ""
    forgotten_on: date | None = None
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class Taken:
    """One measurement in inches, taken once or twice; `end_points` says from where to where.

    `name` is its field in the order's wearer table: waist, hips, drop, fell_drop...
    """

    name: str
    first: Fraction
    second: Fraction | None = None
    end_points: str = ""

    @property
    def difference(self) -> Fraction | None:
        """How much more the second taking found, in inches; None where there was none."""
        return None if self.second is None else self.second - self.first


@dataclass(frozen=True)
class Measurements:
    """One wearer measured on one day; `wearer` is empty where it is the client.

    `kind`: man, woman or child.  `towel`: the hips were taken over a rolled towel.
    """

    client: int
    taken_on: date
    wearer: str = ""
    taken_by: str = ""
    kind: str = "man"
    taken: tuple[Taken, ...] = ()
    towel: bool = False
    figure: str = ""
    notes: str = ""
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class OrderCard:
    """An order: its document is the order file's text, kept version by version.

    `reference`: the shop's own.  `deposit`: in the shop's currency.  `plan` and `option`: the numbers of the
    chosen plan and of its option.
    """

    client: int
    reference: str = ""
    kind: OrderKind = "kilt"
    state: State = State.ASKED
    promised: date | None = None
    deposit: Decimal | None = None
    deposit_paid_on: date | None = None
    document: str = ""
    measurements: int | None = None
    tartan: int | None = None
    plan: int | None = None
    option: int | None = None
    notes: str = ""
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class OrderLine:
    """An order as a line of a list."""

    id: int
    reference: str
    kind: OrderKind
    client: int
    client_name: str
    state: State
    promised: date | None
    deposit: Decimal | None
    plan: int | None
    option: int | None
    version: int


@dataclass(frozen=True)
class OrderVersion:
    """An order as it was saved once: which version, when, at which bench."""

    of: int
    number: int
    saved_at: datetime
    by: str
    state: State
    document: str
    id: int = 0


@dataclass(frozen=True)
class TartanCard:
    """A tartan of the shop's book; `document` is the order file's tartan table as text.

    `restricted`: ask before weaving or making.
    """

    name: str
    document: str = ""
    weaver: str = ""
    restricted: bool = False
    notes: str = ""
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class ClothPiece:
    """A piece of cloth in stock: lengths in inches, weight in ounces a yard.

    `document` is the order file's piece table as text: readings, faults, what was found on arrival.
    `came_from`: the piece it is left of.  `order`: the order it is kept for.
    """

    name: str
    state: PieceState = "here"
    tartan: int | None = None
    order: int | None = None
    came_from: int | None = None
    supplier: str = ""
    arrived_on: date | None = None
    invoiced: Fraction | None = None
    length: Fraction | None = None
    width: Fraction | None = None
    weight: Fraction | None = None
    document: str = ""
    shelf: str = ""
    notes: str = ""
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class QuoteLine:
    """One line of a quote; `price` is for one of its unit."""

    what: str
    quantity: Decimal
    unit: str
    price: Decimal


@dataclass(frozen=True)
class Told:
    """What else a quote told the client, as it stood when it was drawn up.

    `kilt`: the kilt in words, a paragraph a line.  `deposit` in per cent.
    """

    shop: str
    reference: str
    kilt: str
    deposit: Decimal
    paper: str


@dataclass(frozen=True)
class Quote:
    """What a kilt would cost; margin and tax in per cent, money in `currency`.

    `total` is what the client was told, tax and all.  `letter`: one value; none for a quote drawn up before
    it was kept, or whose client was forgotten.
    """

    order: int
    made_on: date
    currency: str
    lines: tuple[QuoteLine, ...] = ()
    margin: Decimal = Decimal(0)
    tax: Decimal = Decimal(0)
    total: Decimal = Decimal(0)
    valid_until: date | None = None
    state: QuoteState = "drawn up"
    notes: str = ""
    letter: tuple[Told, ...] = ()
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class ShopText:
    """The shop's own file: name, paper, units, gauges, settings, as text."""

    document: str = ""
    id: int = 0
    version: int = 0


@dataclass(frozen=True)
class PlanVersion:
    """A plan as it was made: `record` is plan.json's text, `plan_version` the hash within it.

    `order_version`: the order's version it was made from.
    """

    order: int
    order_version: int
    plan_version: str
    record: str
    by: str = ""
    key: str = ""
    number: int = 0
    made_at: datetime | None = None
    id: int = 0


@dataclass(frozen=True)
class CheckEntry:
    """A check before the rip: `record` is the line of the record of checks."""

    order: int
    plan_version: str
    decision: Decision
    record: str
    by: str = ""
    key: str = ""
    number: int = 0
    made_at: datetime | None = None
    id: int = 0


@dataclass(frozen=True)
class MarkEntry:
    """A mark as it was found or made at the table.

    `found`: where the tape has it, in inches; None where it was only chalked.
    """

    order: int
    plan_version: str
    mark: str
    found: Fraction | None = None
    note: str = ""
    by: str = ""
    key: str = ""
    number: int = 0
    made_at: datetime | None = None
    id: int = 0


@dataclass(frozen=True)
class SewingEntry:
    """An entry of the sewing log: `record` is its line."""

    order: int
    record: str
    by: str = ""
    key: str = ""
    number: int = 0
    made_at: datetime | None = None
    id: int = 0


@dataclass(frozen=True)
class Draft:
    """What could not be saved, because somebody else had saved since; `text` is the whole value.

    `kind` and `of` name what it is a draft of, `base` the version it began from.
    """

    kind: str
    of: int
    base: int
    by: str
    kept_at: datetime
    text: str
    id: int = 0


Kept = Client | Measurements | OrderCard | TartanCard | ClothPiece | Quote | ShopText
"""What can be changed."""
Entry = PlanVersion | CheckEntry | MarkEntry | SewingEntry
"""What is only added to an order."""
