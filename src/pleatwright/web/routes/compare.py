"""Beside the kilts of the options page: what a wish costs, what each kilt bears, what is worth comparing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import Response

from pleatwright.errors import InputError
from pleatwright.layout import Option, Plan, Wish, differences, what_if
from pleatwright.layout import Request as Asked
from pleatwright.order import STYLES, read_wish
from pleatwright.sett import short_name
from pleatwright.web.desk import Worked
from pleatwright.web.document import Data, text_of
from pleatwright.web.errors import Refused
from pleatwright.web.forms import FormSent
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.pages import render
from pleatwright.web.routes.options import OFFERED, WISHED, wished
from pleatwright.web.texts import texts

router = APIRouter()


@dataclass(frozen=True)
class Compared:
    """A kilt worth comparing: its words, its number in the plan; `wish`: whether a wish can show it."""

    option: Option
    words: str
    best_in: tuple[str, ...]
    number: int | None
    style: str
    wish: bool


@router.post("/orders/{number}/options/costs")
def costs_of_wishes(request: Request, house: HouseOf, number: int, form: FormSent) -> Response:
    """What the form's wishes cost against the order without them: each alone, then all together."""
    data, shop = wished(house.card(number), form), house.shop()
    try:
        said = tuple(_costs(house, data, shop))
    except InputError:  # told beside the wish itself
        said = ()
    return render(request, "parts/costs.html", said=said)


def _costs(house: House, data: Data, shop: Shop) -> Iterator[str]:
    wishes = data.get("wishes", {})
    given = {name: wishes[name] for name in WISHED if name in wishes}
    if not given:
        return
    rest = {name: value for name, value in wishes.items() if name not in WISHED}

    def plan_with(**some: object) -> Worked:
        return house.worked(text_of({**data, "wishes": {**rest, **some}}), shop)

    bare, full = plan_with(), plan_with(**given)
    asked = bare.job.request
    for one in _wish(asked, given).alone():
        yield what_if(asked, one, bare.plan).together.words
    for name in ("apron_stripe", "same_middle"):
        if name in given:
            yield _cost(bare, plan_with(**{name: given[name]}), _named(name, full.job.request))
    if len(given) > 1:
        yield _cost(bare, full, texts()["options"]["all_of_it"])


def _wish(asked: Asked, given: Data) -> Wish:
    stripe = given.get("stripe", {})
    return read_wish(
        asked,
        pleats=given.get("pleats"),
        stripe=str(stripe["number"]) if "number" in stripe else None,
        reveal=given.get("reveal"),
        styles=given.get("styles", ()),
        prefix="wishes.",
    )


def _named(name: str, asked: Asked) -> str:
    words, phase = texts()["options"], asked.wishes.apron_phase
    if name == "same_middle" or phase is None:
        return str(words["wish_middle"])
    sett = asked.tartan.weft
    return str(words["wish_apron"]).format(stripe=short_name(sett, sett.stripe_at(phase)))


def _cost(before: Worked, after: Worked, wish: str) -> str:
    """What differs between the first kilts of two plans, as `what_if` says it."""
    words, one, other = texts()["options"], before.plan.chosen, after.plan.chosen
    if other is None:
        return str(words["none_left"]).format(wish=wish)
    found = () if one is None else tuple(differences(one, other, before.job.request.units))
    said = "; ".join(each.words for each in found if each.measure != "pleats") or words["no_change"]
    return str(words["with_wish"]).format(wish=wish, title=other.title, said=said)


@router.get("/kilts/{key}/{number}/bears")
def bears(request: Request, house: HouseOf, key: str, number: int) -> Response:
    """What one of the kilts on a page bears; the key is on that page."""
    found = house.desk.bears(_known(house, key)).get(number)
    if found is None:
        raise Refused(404)
    return render(request, "parts/bears.html", words=found)


@router.get("/kilts/{key}/few")
def few(request: Request, house: HouseOf, key: str) -> Response:
    """A few kilts like the first, none better than another in everything."""
    worked = _known(house, key)
    offered = house.desk.few(worked)
    shown = tuple(
        Compared(
            one.option,
            one.figures(worked.job.units),
            one.best_in,
            _number(one.option, worked.plan),
            _style(one.option),
            one.option.pleats != worked.plan.options[0].pleats,
        )
        for one in offered.compromises
    )
    return render(request, "parts/few.html", key=offered.worked.key, shown=shown)


def _known(house: House, key: str) -> Worked:
    worked = house.desk.known(key)
    if worked is None or not worked.plan.kept:  # a plan in force is not searched again
        raise Refused(404)
    return worked


def _number(option: Option, plan: Plan) -> int | None:
    """The number under which the plan has the same kilt; None where it has it not."""
    same = (one.number for one in plan.options if (one.title, one.strips) == (option.title, option.strips))
    return next(same, None)


def _style(option: Option) -> str:
    """The style a page offers for the kilt's kind; "" where it offers none."""
    kind = frozenset({(option.form, option.shows)})
    return next((style for style in OFFERED if STYLES.get(style) == kind), "")
