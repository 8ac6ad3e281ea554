"""What a kilt would cost, and the cloth to order for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.bench.alter import Alteration
from pleatwright.bench.closing import half_hours
from pleatwright.bench.quote import Priced, total, with_margin
from pleatwright.errors import InputError, Problem
from pleatwright.layout import Option, cloth_for
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Paper
from pleatwright.sheets import write_pdf
from pleatwright.sheets.pages.quote_page import QuoteLetter, quote_pages
from pleatwright.shop.store import OrderCard, Quote, QuoteLine, State
from pleatwright.shop.store.values import QuoteState, Told
from pleatwright.web.alterations import altering
from pleatwright.web.desk import Worked
from pleatwright.web.errors import Refused
from pleatwright.web.forms import Fields, Form, FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.money import MONEY, PER_CENT, QUANTITY, Sort, price_in
from pleatwright.web.orders import advance, back_to, current, order_page, pinned
from pleatwright.web.routes.files import PDF, attached
from pleatwright.web.texts import mistake, texts

router = APIRouter()

LINES_MOST = 30
PARTS = ("what", "quantity", "unit", "price")
"""What a line of the form holds."""
STATES: tuple[QuoteState, ...] = ("drawn up", "sent", "accepted", "declined")
YARD, METRE = Decimal("36"), Decimal("1000") / Decimal("25.4")


def suggested(house: House, card: OrderCard, shop: Shop) -> tuple[QuoteLine, ...]:
    """A quote's lines as the shop's prices make them; none while the order cannot be planned."""
    if card.kind == "alteration":
        work, said = _alteration(house, card), texts()["quote"]
        hours = Decimal(str(half_hours(work.hours))) if work is not None else Decimal(0)
        return (QuoteLine(said["altering"], hours, said["hours"], shop.prices.hour),) if hours else ()
    worked = _worked(house, card, shop)
    option = None if worked is None else worked.option(card.option)
    if worked is None or option is None:
        return ()
    said, prices = texts()["quote"], shop.prices
    hours = Decimal(str(half_hours(house.desk.closing(worked, option).work.hours)))
    units, name = worked.job.units, worked.job.request.tartan.name
    quantity, unit = _bought(worked, option)
    price = price_in(units, prices.cloth, shop.units)
    return (
        QuoteLine(f"{said['cloth']}, {name}", quantity, unit, price),
        QuoteLine(said["hardware"], Decimal(1), said["set"], prices.hardware),
        QuoteLine(said["lining"], Decimal(1), said["set"], prices.lining),
        QuoteLine(said["making"], hours, said["hours"], prices.hour),
    )


def _alteration(house: House, card: OrderCard) -> Alteration | None:
    """The work of an alteration; None where its kilt is no longer kept here."""
    try:
        return altering(house, card).work
    except (Refused, InputError):
        return None


def _worked(house: House, card: OrderCard, shop: Shop) -> Worked | None:
    """The plan in force, or the order as it is now; the kilt to be made stands first."""
    found = pinned(house, card)
    if found is not None:
        return found.worked
    now = current(house, card, shop)[0]
    return None if now is None else now.chosen(card.option)


def _bought(worked: Worked, option: Option) -> tuple[Decimal, str]:
    """Yards, or metres where the order is in metric, of single width to buy for a kilt; and which."""
    size, unit = (METRE, "m") if worked.job.units == "metric" else (YARD, "yd")
    inches = cloth_for(option, worked.job.request).single_width
    return (Decimal(str(inches)) / size).quantize(Decimal("0.01")), unit


def to_order(worked: Worked | None) -> tuple[tuple[str, str], ...]:
    """The cloth to order, in words by the names of their texts."""
    bought = None if worked is None else worked.plan.to_order
    if worked is None or bought is None:
        return ()
    units = worked.job.units
    return (
        ("needed", write_yards(bought.needed, units)),
        ("single", write_yards(bought.single_width, units)),
        ("double", write_yards(bought.double_width, units)),
        ("high", write_length(worked.job.sizes.total, units)),
        ("sett", write_length(worked.job.request.sett_along, units)),
    )


@router.get("/orders/{number}/quote")
def quote_page(request: Request, house: HouseOf, number: int) -> Response:
    """The quotes of an order, and the next one."""
    return _page(request, house, house.card(number), (), {})


def _page(
    request: Request,
    house: House,
    card: OrderCard,
    problems: tuple[Problem, ...],
    sent: dict[str, str],
    status: int = 200,
) -> Response:
    shop = house.shop()
    kept = house.store.quotes(card.id)
    lines = kept[0].lines if kept else suggested(house, card, shop)
    prices = shop.prices
    shown = sent or {
        **_as_fields(lines),
        "currency": kept[0].currency if kept else prices.currency,
        "margin": str(kept[0].margin if kept else prices.margin),
        "tax": str(kept[0].tax if kept else prices.tax),
        "valid_until": (house.today() + timedelta(days=prices.valid_days)).isoformat(),
        "notes": kept[0].notes if kept else "",
    }
    worked = _worked(house, card, shop)
    return order_page(
        request,
        house,
        card,
        "order/quote.html",
        status=status,
        f=Fields({}, problems, shown),
        rows=range(min(max(len(lines), _rows(sent)) + 2, LINES_MOST)),
        quotes=kept,
        order=to_order(worked),
        unpriced=bool(lines) and not any(line.price for line in lines),
        states=STATES,
        deposit=prices.deposit,
    )


def _rows(sent: dict[str, str]) -> int:
    """How many lines were sent, up to the last one that holds anything."""
    return max(
        (n + 1 for n in range(LINES_MOST) for part in PARTS if sent.get(f"line.{n}.{part}")), default=0
    )


def _as_fields(lines: tuple[QuoteLine, ...]) -> dict[str, str]:
    return {
        f"line.{n}.{name}": str(value)
        for n, line in enumerate(lines)
        for name, value in (
            ("what", line.what),
            ("quantity", f"{line.quantity.normalize():f}"),
            ("unit", line.unit),
            ("price", line.price),
        )
    }


@router.post("/orders/{number}/quote")
def make_quote(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """Draw up a quote; those before it are kept."""
    card = house.card(number)
    sent = {name: text for name, text in form.fields if name not in ("csrf", "version")}
    problems: list[Problem] = []
    lines = _lines(form, problems)
    if not lines and not problems:
        problems.append(mistake("empty_quote", "line.0.what"))
    margin, tax = (_amount(form, name, PER_CENT, problems) for name in ("margin", "tax"))
    valid = None
    try:
        valid = form.day("valid_until")
    except InputError as error:
        problems += error.problems
    if problems:
        return _page(request, house, card, tuple(problems), sent, 422)
    sums = total([_priced(line) for line in lines], margin=margin, tax=tax, deposit=Decimal(0))
    house.store.draw_up(
        Quote(
            card.id,
            house.today(),
            form.get("currency")[:8],
            tuple(lines),
            margin,
            tax,
            sums.total,
            valid,
            notes=form.get("notes"),
            letter=(_told(house, card, house.shop()),),
        )
    )
    advance(house, card, State.QUOTED)
    return back_to(card, "quote")


def _lines(form: Form, problems: list[Problem]) -> list[QuoteLine]:
    """The lines that were sent; of one begun, nothing that is to be paid for may be left open."""
    lines = []
    for n in range(LINES_MOST):
        what = " ".join(form.get(f"line.{n}.what").split())[:200]
        written = {part: form.get(f"line.{n}.{part}") for part in PARTS if part != "unit"}
        if not any(written.values()):
            continue
        problems += [
            mistake(f"line_without_{part}", f"line.{n}.{part}") for part, text in written.items() if not text
        ]
        quantity = _amount(form, f"line.{n}.quantity", QUANTITY, problems)
        price = _amount(form, f"line.{n}.price", MONEY, problems)
        lines.append(QuoteLine(what, quantity, form.get(f"line.{n}.unit")[:20], price))
    return lines


def _amount(form: Form, name: str, sort: Sort, problems: list[Problem]) -> Decimal:
    try:
        return form.amount(name, sort) or Decimal(0)
    except InputError as error:
        problems += error.problems
        return Decimal(0)


def _priced(line: QuoteLine) -> Priced:
    return Priced(line.what, line.quantity, line.unit, line.price)


def _quote(house: House, number: int, quote: int) -> Quote:
    found = house.store.get(Quote, quote)
    if found.order != number:
        raise Refused(404, mistake("no_quote", "quote", number=quote))
    return found


@router.post("/orders/{number}/quotes/{quote}")
def move_quote(house: HouseOf, number: int, quote: int, form: FormSent) -> Response:
    """Say that a quote was sent, accepted or declined."""
    found = _quote(house, number, quote)
    state = next((one for one in STATES if one == form.get("state")), found.state)
    house.store.save(replace(found, version=form.version, state=state))
    return back_to(house.card(number), "quote")


@router.get("/orders/{number}/quotes/{quote}.pdf")
def quote_pdf(house: HouseOf, number: int, quote: int) -> Response:
    """A quote as a letter to the client, with all it said when it was drawn up."""
    card, found = house.card(number), _quote(house, number, quote)
    client = house.client(card.client)
    told = found.letter[0] if found.letter else _told(house, card, house.shop())
    paper: Paper = "Letter" if told.paper == "Letter" else "A4"
    lines = tuple(_priced(line) for line in found.lines)
    sums = total(lines, margin=found.margin, tax=found.tax, deposit=told.deposit)
    letter = QuoteLetter(
        told.shop,
        client.name,
        told.reference,
        tuple(told.kilt.split("\n")) if told.kilt else (),
        tuple(with_margin(line, found.margin) for line in lines),
        sums,
        found.currency,
        found.tax,
        told.deposit,
        found.made_on,
        found.valid_until,
        found.notes,
        paper,
    )
    return attached(
        write_pdf(quote_pages(letter), f"Quote {told.reference}"), PDF, f"{told.reference}-quote.pdf"
    )


def _told(house: House, card: OrderCard, shop: Shop) -> Told:
    """What a quote says beside its lines, as it stands today."""
    kilt, paper = (
        "\n".join(_kilt(house, card, shop)),
        "Letter" if shop.table.get("paper") == "Letter" else "A4",
    )
    return Told(shop.name, card.reference, kilt, shop.prices.deposit, paper)


def _kilt(house: House, card: OrderCard, shop: Shop) -> tuple[str, ...]:
    """The kilt, or what is done to it, in words, as far as it is known."""
    if card.kind == "alteration":
        work = _alteration(house, card)
        return () if work is None else tuple(f"{step.name}: {step.words}" for step in work.steps)
    worked = _worked(house, card, shop)
    option = None if worked is None else worked.option(card.option)
    if worked is None or option is None:
        return ()
    job, units = worked.job, worked.job.units
    said = texts()["quote"]
    body = ((said["waist"], job.body.waist), (said["hips"], job.body.hips), (said["drop"], job.sizes.drop))
    sizes = ", ".join(f"{name} {write_length(value, units)}" for name, value in body)
    return (
        said["kilt"].format(tartan=job.request.tartan.name, side=job.request.opens_on),
        f"{option.title[:1].upper()}{option.title[1:]}; {sizes}.",
    )
