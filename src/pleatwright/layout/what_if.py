"""What if: one wish changed, the best kilt under it, and what the wish costs in everything else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from fractions import Fraction

from pleatwright.layout.option import Option
from pleatwright.layout.plan import Plan, make_plan
from pleatwright.layout.request import Request
from pleatwright.lengths import Grid, Units, write_length, write_yards
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND, Form, Kind, Shows
from pleatwright.sett import short_name
from pleatwright.wearer import LevelName, resized

SAME_CLOTH = 0.18
"""Inches of cloth that are no difference: they do not show in hundredths of a yard."""
"""Inches of reveal that are no difference."""
SAME_HIDDEN = 1 / 4
"""Inches of hidden cloth, and of depth, that are no difference."""
SAME_SHARE = 0.005
"""Share of the pattern that is no difference."""
SAME_POINTS = 0.05
STYLES_SAID = 2
"""Styles that are named in one sentence."""


@dataclass(frozen=True)
class Wish:
    """What is wished for besides, or in place of, what the order says; None: as the order has it.

    `stripe`: centre of the stripe to pleat to, in threads as the cloth lies.  `share`: the apron's part of
    the round at waist and hips.  `reveal`: inches aimed at.  `kinds`: styles asked for.
    """

    pleats: int | None = None
    stripe: float | None = None
    share: Fraction | None = None
    reveal: Fraction | None = None
    kinds: frozenset[Kind] | None = None

    def alone(self) -> tuple[Wish, ...]:
        """Each of the wishes by itself."""
        own = ((one.name, getattr(self, one.name)) for one in fields(self))
        return tuple(replace(Wish(), **{name: value}) for name, value in own if value is not None)

    def within(self, request: Request) -> Request:
        """The request with these wishes; raises InputError where no kilt has such aprons.

        A stripe wished for is one to pleat to, so only styles to the stripe are searched.
        """
        wishes, settings, sizes = request.wishes, request.settings, request.sizes
        if self.pleats is not None:
            wishes = replace(wishes, pleats=self.pleats)
        if self.reveal is not None:
            wishes = replace(wishes, reveal=float(self.reveal))
            settings = replace(settings, pleats=replace(settings.pleats, reveal_preferred=self.reveal))
        if self.kinds is not None:
            wishes = replace(wishes, kinds=self.kinds)
        if self.stripe is not None:
            striped = frozenset(kind for kind in TARTAN_KINDS if kind.shows is Shows.STRIPE)
            wishes = replace(wishes, stripe=self.stripe, kinds=wishes.kinds & striped or striped)
        if self.share is not None:
            sizes = resized(sizes, share_waist=self.share, share_hips=self.share)
        return replace(request, sizes=sizes, wishes=wishes, settings=settings)

    def words(self, request: Request) -> str:
        """The wishes as a maker says them."""
        return ", ".join(_wished(self, request))


@dataclass(frozen=True)
class Difference:
    """One measure that a wish changes: `by` inches, shares, points or a number, positive for more of it."""

    measure: str
    by: float
    words: str


@dataclass(frozen=True)
class Answer:
    """The best under one wish, or all of them: its plan, what differs from the plan without, one sentence."""

    wish: Wish
    wished: str
    plan: Plan
    differences: tuple[Difference, ...]
    words: str


@dataclass(frozen=True)
class WhatIf:
    """The plan without the wishes, the answer to each of them alone, and to all of them together."""

    before: Plan
    alone: tuple[Answer, ...]
    together: Answer


def what_if(request: Request, wish: Wish, before: Plan | None = None) -> WhatIf:
    """What wishes cost against the plan of the request as it stands; `before`: that plan, if it was made.

    Raises InputError where no kilt has the aprons wished for.
    """
    before = before or make_plan(request)
    alone = tuple(_answer(request, one, before) for one in wish.alone())
    together = alone[0] if len(alone) == 1 else _answer(request, wish, before)
    return WhatIf(before, alone, together)


def _answer(request: Request, wish: Wish, before: Plan) -> Answer:
    asked = wish.within(request)
    plan, wished = make_plan(asked), wish.words(request)
    if plan.chosen is None:
        return Answer(wish, wished, plan, (), f"With {wished} no kilt is left.")
    if before.chosen is None:
        return Answer(wish, wished, plan, (), f"With {wished} there is a kilt: {plan.chosen.title}.")
    found = tuple(
        one
        for one in differences(before.chosen, plan.chosen, request.units)
        if one.measure != "points" or wish.reveal is None  # it is judged by another reveal
    )
    said = "; ".join(one.words for one in found if one.measure != "pleats")  # the title says it
    said = said or "nothing changes that could be measured"
    return Answer(wish, wished, plan, found, f"With {wished}: {plan.chosen.title}; {said}.")


def _wished(wish: Wish, request: Request) -> Iterator[str]:
    if wish.pleats is not None:
        yield f"{wish.pleats} pleats"
    if wish.stripe is not None:
        sett = request.tartan.weft
        yield f"pleats on {short_name(sett, sett.stripe_at(wish.stripe))}"
    if wish.share is not None:
        yield f"{_percent(float(wish.share))} of the round in the apron"
    if wish.reveal is not None:
        yield f"a reveal of {write_length(wish.reveal, request.units)} aimed at"
    if wish.kinds is not None:
        order = (*TARTAN_KINDS, UNEVEN_KIND, *PLAIN_KINDS)
        styles = [f'"{kind}"' for kind in order if kind in wish.kinds]
        more = f" or {len(styles) - STYLES_SAID} more" if len(styles) > STYLES_SAID else ""
        yield f"the style {' or '.join(styles[:STYLES_SAID])}{more}" if styles else "any style"


def _percent(share: float) -> str:
    return f"{100 * share:.0f}%" if abs(100 * share - round(100 * share)) < 0.05 else f"{100 * share:.1f}%"


def differences(one: Option, other: Option, units: Units) -> Iterator[Difference]:
    """What the other kilt has more or less of, in the order in which a maker asks.

    Pattern match is left out between kilts of different kinds: it may not be compared.  Points are the score
    within a kind, the standing across kinds.
    """
    alike = (one.form, one.shows) == (other.form, other.shows)
    cloth = other.cloth_used - one.cloth_used
    if abs(cloth) > SAME_CLOTH:
        yield Difference("cloth", cloth, f"{write_yards(abs(cloth), units)} {_more(cloth)} cloth")
    if alike:
        yield from _pattern(one, other)
    yield from _lines(one, other)
    yield from _folds(one, other, units)
    hidden = other.deep_pleat + other.reverse_pleat - one.deep_pleat - one.reverse_pleat
    if abs(hidden) > SAME_HIDDEN:
        written = write_length(abs(hidden), units)
        yield Difference("bulk", hidden, f"{written} {_more(hidden)} hidden in deep and reverse pleat")
    yield from _middle(one, other)
    points = other.score - one.score if alike else other.standing - one.standing
    if abs(points) > SAME_POINTS:
        yield Difference("points", points, f"{abs(points):.1f} points {_more(points)}")


def _more(by: float) -> str:
    return "more" if by > 0 else "less"


def _pattern(one: Option, other: Option) -> Iterator[Difference]:
    for name in (LevelName.HIP, LevelName.STRAP):
        before, after = one.level(name).match, other.level(name).match
        by = (after or 0.0) - (before or 0.0)
        if abs(by) > SAME_SHARE:
            truer = "truer" if by > 0 else "less true"
            words = f"the pattern {100 * abs(by):.0f} in 100 {truer} at the {name}"
            yield Difference(f"match at the {name}", by, words)


def _lines(one: Option, other: Option) -> Iterator[Difference]:
    before, after = len(one.lines_at_risk), len(other.lines_at_risk)
    if before != after:
        many = abs(after - before)
        words = f"{many} {'more' if after > before else 'fewer'} line{'s' if many > 1 else ''} at risk"
        yield Difference("lines", after - before, words)


def _folds(one: Option, other: Option, units: Units) -> Iterator[Difference]:
    if one.pleats != other.pleats:
        many = abs(other.pleats - one.pleats)
        words = f"{many} {'more' if other.pleats > one.pleats else 'fewer'} pleat{'s' if many > 1 else ''}"
        yield Difference("pleats", other.pleats - one.pleats, words)
    hip, other_hip = one.level(LevelName.HIP), other.level(LevelName.HIP)
    what = "panels" if other.form in (Form.BOX, Form.MILITARY_BOX) else "reveals"
    by = other_hip.reveal - hip.reveal
    if _fine(abs(by), units) != _fine(0.0, units):
        wide = "wider" if by > 0 else "narrower"
        words = f"{what} {_fine(abs(by), units)} {wide}, {_fine(other_hip.reveal, units)} at the hip line"
        yield Difference("reveal", by, words)
    taper = other.narrowing - one.narrowing
    if _fine(abs(taper), units) != _fine(0.0, units):
        words = f"{_fine(abs(taper), units)} {_more(taper)} taper in each"
        yield Difference("taper", taper, words)
    depth = other_hip.depth_greatest - hip.depth_greatest
    if abs(depth) > SAME_HIDDEN:
        deep = "deeper" if depth > 0 else "shallower"
        yield Difference("depth", depth, f"folds {write_length(abs(depth), units)} {deep}")


def _fine(inches: float, units: Units) -> str:
    return write_length(inches, units, Grid.THIRTYSECOND)


def _middle(one: Option, other: Option) -> Iterator[Difference]:
    if (one.pleats % 2) != (other.pleats % 2):
        where = "a pleat" if other.pleats % 2 else "a fold"
        yield Difference("middle", other.pleats % 2 - one.pleats % 2, f"{where} in the middle of the back")
    if one.same_middle != other.same_middle:
        matches = "matches" if other.same_middle else "no longer matches"
        by = float(other.same_middle) - float(one.same_middle)
        yield Difference("centre", by, f"the middle of the back {matches} the aprons")
    if one.mirrors != other.mirrors:
        mirror = "mirror" if other.mirrors else "no longer mirror"
        by = float(other.mirrors) - float(one.mirrors)
        yield Difference("mirror", by, f"first and last pleat {mirror} each other")
