"""Altering a kilt of this book: worked out on its closing page, or kept as an order of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.alter import Alteration, Wanted, alter, kilt_of
from pleatwright.errors import InputError, Problem
from pleatwright.lengths import parse_length
from pleatwright.order import spelt
from pleatwright.shop.store import OrderCard, State
from pleatwright.web.document import data_of, kept_text
from pleatwright.web.errors import NotYet, Refused
from pleatwright.web.house import House
from pleatwright.web.orders import Pinned, in_force
from pleatwright.web.texts import mistake

NEW = ("waist", "hips", "drop")
"""What an alteration may change."""
TABLE = "alteration"
"""The one table of an alteration's document: the kilt's order (`of`), and the new sizes as written."""


@dataclass(frozen=True)
class Altering:
    """An alteration that is an order: the kilt's own order and plan, the new sizes as written, the work."""

    kilt: OrderCard
    found: Pinned
    asked: Mapping[str, str]
    work: Alteration


FINISHED = (State.FINISHED, State.COLLECTED)
"""States in which there is a kilt to alter; before, it is planned anew."""


def refuse_unfinished(kilt: OrderCard) -> None:
    """Raise NotYet for a kilt that is still being made."""
    if kilt.state not in FINISHED:
        if kilt.state in (State.RIPPED, State.SEWING, State.FITTING):
            raise NotYet("sewing", mistake("kilt_being_sewn", "alteration", state=kilt.state))
        raise NotYet("measures", mistake("kilt_unfinished", "alteration", state=kilt.state))


def altered(found: Pinned, asked: Mapping[str, str]) -> Alteration:
    """The alteration that gives the new sizes, measured on the body; raises InputError with every mistake."""
    job, problems = found.worked.job, list[Problem]()
    new: dict[str, Fraction] = {}
    for name in NEW:
        text = asked.get(name, "")
        try:
            size = parse_length(text, field=name, unit=job.units) if text else None
        except InputError as error:
            problems += error.problems
            continue
        if size == 0:
            problems.append(mistake("no_size", name, text=text))
        elif size is not None:
            new[name] = size
    if not problems and not new:
        problems.append(mistake("no_change", "waist"))
    if problems:
        raise InputError(problems)
    ease = {"waist": job.sizes.waist - job.body.waist, "hips": job.sizes.hips - job.body.hips}
    wanted = {name: size + ease.get(name, 0) for name, size in new.items()}
    return alter(
        kilt_of(job, found.option), Wanted(**wanted), job.request.settings, units=job.units, grid=job.grid
    )


def order_alteration(house: House, kilt: OrderCard, asked: Mapping[str, str]) -> OrderCard:
    """Take an alteration on as an order of its own, which points back to the kilt's; raises InputError."""
    refuse_unfinished(kilt)
    work = altered(in_force(house, kilt), asked)
    if not work.steps:
        raise InputError(mistake("no_alteration", "alteration", verdict=work.verdict))
    units = in_force(house, kilt).worked.job.units
    sizes = spelt({"wearer": {name: text for name, text in asked.items() if text}}, units)["wearer"]
    card = OrderCard(
        kilt.client,
        reference=f"{kilt.reference} +"[:100],
        kind="alteration",
        document=kept_text({TABLE: {"of": kilt.id, **sizes}}),
    )
    return house.store.move(house.store.add(card).id, State.MEASURED)


def altering(house: House, card: OrderCard) -> Altering:
    """The alteration of an order; raises Refused or InputError where its kilt is no longer kept here."""
    table = data_of(card.document).get(TABLE, {})
    of = table.get("of", 0)
    if not isinstance(of, int) or not of:
        raise Refused(409, mistake("kilt_not_kept", "alteration"))
    kilt = house.card(of)
    found = in_force(house, kilt)
    asked = {name: str(table.get(name, "")) for name in NEW}
    return Altering(kilt, found, asked, altered(found, asked))
