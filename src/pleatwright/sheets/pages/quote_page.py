"""A quote for the client: what is made, what it costs, until when it holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from pleatwright.bench.quote import Priced, Total
from pleatwright.order import Paper
from pleatwright.sheets.drawing import Page
from pleatwright.sheets.flow import PAD, Column, heading, paragraph, sheets_of, table, white
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import BODY, GREY, HEADING
from pleatwright.sheets.pages.letter import letter_frame, letter_pages

FIGURE, LEAST = 1.15, 2.2
"""Inches: a column of figures, wider where an amount needs it; and of words, whatever the figures need."""


@dataclass(frozen=True)
class QuoteLetter:
    """All that a quote says; money in `currency`, tax and deposit in per cent.

    `lines` are as the client is told them: what margin there is lies in their prices.
    """

    shop: str
    client: str
    reference: str
    kilt: tuple[str, ...]
    lines: tuple[Priced, ...]
    sums: Total
    currency: str
    tax: Decimal
    deposit: Decimal
    made_on: date
    valid_until: date | None
    notes: str
    paper: Paper


def quote_pages(letter: QuoteLetter) -> tuple[Page, ...]:
    """The quote, on one page or more."""
    frame = letter_frame(letter.paper)
    width = frame.width
    rows = [
        (
            line.what,
            f"{line.quantity.normalize():f} {line.unit}".strip(),
            "",
            money(letter, line.price),
            money(letter, line.amount),
        )
        for line in letter.lines
    ]
    net = letter.sums.lines + letter.sums.margin
    rows.append(("Together", "", "", "", money(letter, net)))
    if letter.sums.tax:
        rows.append((f"Tax, {letter.tax.normalize():f} per cent", "", "", "", money(letter, letter.sums.tax)))
    rows.append(("In all", "", "", "", money(letter, letter.sums.total)))
    quantity, price, amount = (_wide([row[n] for row in rows]) for n in (1, 3, 4))
    quantity = min(quantity, max(FIGURE, width - LEAST - 0.2 - price - amount))
    columns = (
        Column("", width - quantity - 0.2 - price - amount, bold=True),
        Column("quantity", quantity, "end"),
        Column("", 0.2),
        Column("price", price, "end"),
        Column("amount", amount, "end", bold=True),
    )
    blocks = [
        paragraph(letter.client, width, HEADING, bold=True, gap=0.02),
        paragraph(f"{letter.reference}, {said(letter.made_on)}".strip(", "), width, fill=GREY, gap=0.18),
        heading("The kilt"),
        *(paragraph(line, width, BODY) for line in letter.kilt),
        white(0.16),
        heading("What it costs"),
        *table(columns, rows, strong=frozenset({len(rows) - 1})),
        white(0.2),
    ]
    terms = []
    if letter.sums.deposit:
        terms.append(
            f"{money(letter, letter.sums.deposit)} are asked for as a deposit before cloth is ordered."
        )
    if letter.valid_until is not None:
        terms.append(f"This quote holds until {said(letter.valid_until)}.")
    blocks += [paragraph(line, width) for line in terms]
    if letter.notes:
        blocks += [white(0.1), *(paragraph(line, width) for line in letter.notes.split("\n") if line.strip())]
    foot = ", ".join(part for part in (letter.client, letter.reference) if part)
    return letter_pages(sheets_of("Quote", blocks, frame), frame, letter.shop, foot)


def _wide(texts: Sequence[str]) -> float:
    """The width in inches of a column that breaks none of these texts."""
    return max(FIGURE, *(width_of(text, BODY, bold=True) + 2 * PAD for text in texts))


def money(letter: QuoteLetter, value: Decimal) -> str:
    """An amount with its currency before it."""
    gap = " " if letter.currency[-1:].isalpha() else ""
    return f"{letter.currency}{gap}{value:,.2f}"


def said(day: date) -> str:
    """A day as a letter says it."""
    return f"{day.day} {day:%B %Y}"
