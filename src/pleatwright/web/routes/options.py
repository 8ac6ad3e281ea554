"""The kilts the cloth allows, with pictures side by side; wishes that redraw them at once."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.errors import InputError, Problem
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Option
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import STYLES
from pleatwright.picture import alt_text
from pleatwright.pleats import Form as PleatForm
from pleatwright.sett import Sett, short_name
from pleatwright.shop.store import OrderCard, State
from pleatwright.wearer import LevelName
from pleatwright.web.desk import Worked
from pleatwright.web.document import Data, data_of, kept_text, text_of, with_fields
from pleatwright.web.forms import Fields, FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.orders import ON_CLOTH, advance, back_to, order_page, pin
from pleatwright.web.pages import render

router = APIRouter()

OFFERED = (
    "knife to the sett",
    "knife to the sett, running",
    "knife to the sett, uneven",
    "knife to the stripe",
    "knife, alternate stripe",
    "box to the sett",
    "box to the stripe",
    "military box to the stripe",
    "centre box to the sett",
    "centre box to the stripe",
    "plain",
)
"""Styles a page offers, of all the order file knows."""
WISHED = ("styles", "pleats", "reveal", "stripe", "apron_stripe", "same_middle")
"""Wishes that this page asks for."""
AT_ONCE = (Severity.STOP, Severity.WARN)
"""Findings that stand before the kilts; the others stand below them."""


@dataclass(frozen=True)
class Shown:
    """An option as its card shows it."""

    option: Option
    alt: str
    figures: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class OptionsLook:
    """The options of an order's data, or what is wrong with it."""

    worked: Worked | None
    problems: tuple[Problem, ...]
    shown: tuple[Shown, ...] = ()
    first: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()
    to_order: str = ""
    wished: bool = False


def options_look(house: House, text: str, shop: Shop) -> OptionsLook:
    """Everything the page says of the options of an order's text."""
    try:
        worked = house.worked(text, shop)
    except InputError as error:
        return OptionsLook(None, error.problems)
    job, plan = worked.job, worked.plan
    shown = tuple(
        Shown(option, alt_text(option, job.request, "back"), figures(worked, option))
        for option in plan.options
    )
    bought = plan.to_order
    to_order = ""
    if bought is not None and (job.request.piece is None or not plan.options):
        single, double = (write_yards(each, job.units) for each in (bought.single_width, bought.double_width))
        to_order = f"{single} / {double}"
    first = tuple(one for one in worked.findings if one.severity in AT_ONCE)
    rest = tuple(one for one in worked.findings if one.severity not in AT_ONCE)
    wishes = data_of(text).get("wishes", {})
    return OptionsLook(worked, (), shown, first, rest, to_order, any(name in wishes for name in WISHED))


def figures(worked: Worked, option: Option) -> tuple[tuple[str, str], ...]:
    """An option's figures, by the names of their texts."""
    job = worked.job

    def long(value: float) -> str:
        return write_length(value, job.units, job.grid)

    hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
    least, most = long(hip.depth_least), long(hip.depth_greatest)
    risk = "; ".join(f"{line.name} ({len(line.pleats)})" for line in option.lines_at_risk[:3])
    left = "" if option.cloth_left is None else write_yards(option.cloth_left, job.units)
    match = "" if hip.match is None else f"{100 * hip.match:.0f}%"
    if strap.match is not None:
        match += f" / {100 * strap.match:.0f}%"
    name = "panel" if option.form in (PleatForm.BOX, PleatForm.MILITARY_BOX) else "reveal"
    found = (
        ("pleats", str(option.pleats)),
        (name, f"{long(hip.reveal)} / {long(strap.reveal)}"),
        ("folds", least if least == most else f"{least} – {most}"),
        ("used", write_yards(option.cloth_used, job.units)),
        ("left", left),
        ("match", match),
        ("risk", risk),
        ("standing", f"{option.standing:.0f}"),
    )
    return tuple((key, words) for key, words in found if words)


@router.get("/orders/{number}/options")
def options_page(request: Request, house: HouseOf, number: int) -> Response:
    """The options of an order, and the wishes they come from."""
    card = house.card(number)
    return _page(request, house, card)


def _page(request: Request, house: House, card: OrderCard, status: int = 200) -> Response:
    shop = house.shop()
    data = data_of(card.document)
    look = options_look(house, card.document, shop)
    wishes = Fields(data, look.problems, _shown(look.worked))
    return order_page(
        request,
        house,
        card,
        "order/options.html",
        status=status,
        f=wishes,
        look=look,
        styles=[one for one in OFFERED if one in STYLES],
        chosen_styles=wishes.chosen("wishes.styles"),
        stripes=_stripes(look.worked),
        units=shop.units_of(data),
        again=False,
    )


def _shown(worked: Worked | None) -> dict[str, str]:
    """The numbers of the stripes that the order wishes for, as they are listed."""
    if worked is None:
        return {}
    sett, wishes = worked.job.request.tartan.weft, worked.job.request.wishes
    phases = {"wishes.stripe": wishes.stripe, "wishes.apron_stripe": wishes.apron_phase}
    return {
        f"{name}.number": _listed(sett)[short_name(sett, sett.stripe_at(phase))]
        for name, phase in phases.items()
        if phase is not None
    }


def _stripes(worked: Worked | None) -> list[tuple[str, str]]:
    """The tartan's stripes by number, for the wishes."""
    if worked is None or worked.job.request.tartan.weft.plain:
        return []
    return [(number, name) for name, number in _listed(worked.job.request.tartan.weft).items()]


def _listed(sett: Sett) -> dict[str, str]:
    """The numbers of a sett's stripes by their names; of mirror images, which share a name, the first."""
    names = [short_name(sett, one) for one in sett.stripes]
    return {name: str(names.index(name) + 1) for name in names}


def wished(card: OrderCard, form: FormSent) -> Data:
    """The order with the form's wishes; a stripe wished for is named by its number alone."""
    data = data_of(card.document)
    wishes = dict(data.get("wishes", {}))
    for name in ("stripe", "apron_stripe"):
        wishes.pop(name, None)
    return with_fields({**data, "wishes": wishes}, form.under("wishes"))


@router.post("/orders/{number}/options/look")
def look_at_options(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """The options that these wishes would give; nothing is kept."""
    card = house.card(number)
    look = options_look(house, text_of(wished(card, form)), house.shop())
    return render(request, "parts/options_look.html", look=look, card=card, again=True)


@router.post("/orders/{number}/options")
def save_wishes(house: HouseOf, number: int, form: FormSent) -> Response:
    """Keep the wishes; with the number of an option, make it the plan in force."""
    card = house.card(number)
    text = kept_text(wished(card, form))
    shop = house.shop()
    house.worked(text, shop)
    card = house.store.save(replace(card, version=form.version, document=text))
    if not form.get("option"):
        return back_to(card, "options")
    option = form.whole("option")
    if card.plan is not None and card.state in ON_CLOTH:
        return back_to(card, f"plan?option={option}")
    kept = pin(house, card, shop, option)
    card = house.store.save(replace(card, plan=kept.number, option=option))
    return back_to(advance(house, card, State.PLANNED), "plan")
