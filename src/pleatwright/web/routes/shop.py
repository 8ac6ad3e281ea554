"""The shop's own page: name, units, paper, gauges, prices; backup; devices."""

from __future__ import annotations

import tempfile
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units
from pleatwright.order import new_order_text, read_order, spelt, stated_units
from pleatwright.shop.store import write_backup
from pleatwright.web.document import Data, kept_text, text_of, with_fields
from pleatwright.web.forms import Fields, FormSent
from pleatwright.web.guard import from_here
from pleatwright.web.house import PRICES, House, HouseOf, Prices, sort_of
from pleatwright.web.money import price_in, read_amount
from pleatwright.web.names import named
from pleatwright.web.pages import render
from pleatwright.web.routes.files import ZIP, attached
from pleatwright.web.texts import mistake

router = APIRouter()

MOST_GAUGES = 40


@router.get("/shop")
def shop_page(request: Request, house: HouseOf) -> Response:
    """The shop's own file."""
    return _page(request, house, house.shop().data, ())


def _page(
    request: Request, house: House, data: Data, problems: tuple[Problem, ...], status: int = 200
) -> Response:
    kept = house.shop().kept
    given = data.get(PRICES)
    written = given if isinstance(given, dict) else {}
    shown = {f"{PRICES}.{name}": str(value) for name, value in vars(Prices()).items() if name not in written}
    return render(
        request,
        "shop.html",
        status=status,
        f=Fields(data, problems, {**shown, "gauges": _gauges(data)}),
        kept=kept,
        units=stated_units(data, "in"),
        lan=house.lan,
        code=house.sessions.code() if house.lan and from_here(request.scope) else "",
    )


def _gauges(data: Data) -> str:
    """The gauges in the drawer, one to a line: what is written on it, = its true width where that differs."""
    table = data.get("shop")
    found = table.get("gauges", []) if isinstance(table, dict) else []
    lines = []
    for one in found if isinstance(found, list) else []:
        if isinstance(one, dict):
            width = f" = {one['width']}" if "width" in one else ""
            lines.append(f"{one.get('marked', '')}{width}")
        else:
            lines.append(str(one))
    return "\n".join(lines)


@router.post("/shop")
def save_shop(request: Request, house: HouseOf, form: FormSent) -> Response:
    """Save the shop's own file; nothing is kept that an order could not be read with."""
    kept = house.shop()
    data = with_fields(kept.data, form.under("shop", "settings", PRICES))
    gauges = []
    for line in form.get("gauges").split("\n")[:MOST_GAUGES]:
        marked, _, width = line.partition("=")
        if marked.strip():
            gauges.append({"marked": marked.strip(), **({"width": width.strip()} if width.strip() else {})})
    table = {**data.get("shop", {}), "gauges": gauges}
    data["shop"] = table if gauges else {name: part for name, part in table.items() if name != "gauges"}
    if stated_units(data, "in") != kept.units:
        data = _as_meant(data, kept.data, kept.units)
    problems = [*_money(form), *_read(data)]
    if problems:
        return _page(request, house, data, tuple(problems), 422)
    house.store.save_shop(replace(kept.kept, version=form.version, document=kept_text(data)))
    return RedirectResponse("/shop", 303)


def _as_meant(data: Data, before: Data, units: Units) -> Data:
    """The shop's file in other units: what was written in those before, and not anew, says so.

    The price of cloth, for a yard or a metre, is carried over likewise.
    """
    told = spelt(before, units)
    made = {**data, "shop": dict(data.get("shop", {})), "settings": dict(data.get("settings", {}))}
    gauges, spelled = (part.get("shop", {}).get("gauges", []) for part in (before, told))
    known = [(one, other) for one, other in zip(gauges, spelled, strict=True)]
    if "gauges" in made["shop"]:
        made["shop"]["gauges"] = [
            next((told for old, told in known if old == one), one) for one in made["shop"]["gauges"]
        ]
    for group, table in made["settings"].items():
        old, new = (part.get("settings", {}).get(group, {}) for part in (before, told))
        made["settings"][group] = {
            name: new[name] if name in old and old[name] == value else value for name, value in table.items()
        }
    price, prices = before.get(PRICES, {}).get("cloth"), data.get(PRICES, {})
    if price is not None and prices.get("cloth") == price:
        with suppress(InputError):
            exact = read_amount(str(price), f"{PRICES}.cloth", sort_of("cloth"))
            made[PRICES] = {**prices, "cloth": str(price_in(stated_units(data, "in"), exact, units))}
    return {name: part for name, part in made.items() if part}


def _read(data: Data) -> tuple[Problem, ...]:
    """What is wrong with the shop's tables, by reading an order with them."""
    rest = text_of({name: part for name, part in data.items() if name != PRICES})
    try:
        read_order(new_order_text(), source="order", shop_text=rest, shop_source="")
    except InputError as error:
        return tuple(_of_page(named(each)) for each in error.problems if not each.field.startswith("order: "))
    return ()


def _of_page(problem: Problem) -> Problem:
    """A mistake in the drawer's gauges beside their one field."""
    if not problem.field.startswith("shop.gauges"):
        return problem
    if "," in problem.seen:
        return mistake("several_gauges", "gauges", text=problem.seen.strip('"'))
    return replace(problem, field="gauges")


def _money(form: FormSent) -> list[Problem]:
    problems: list[Problem] = []
    for name, usual in vars(Prices()).items():
        field = f"{PRICES}.{name}"
        try:
            if isinstance(usual, Decimal):
                form.amount(field, sort_of(name))
            elif isinstance(usual, int) and form.get(field) and not 0 < form.whole(field) < 1000:
                problems.append(mistake("no_days", field, text=form.get(field)))
        except InputError as error:
            problems += error.problems
    return problems


@router.get("/shop/backup.zip")
def backup(house: HouseOf) -> Response:
    """Everything that is kept, as one file; it is brought back on the command line."""
    with tempfile.TemporaryDirectory(prefix="pleatwright-") as folder:
        path = Path(folder) / "backup.zip"
        write_backup(house.store, path)
        content = path.read_bytes()
    return attached(content, ZIP, f"pleatwright-{house.today().isoformat()}.zip")


@router.post("/shop/leave")
def leave(request: Request, house: HouseOf) -> Response:
    """End this device's session."""
    house.sessions.end(request.state.session.secret)
    return RedirectResponse("/pair", 303)
