"""Uneven division offered beside the others: where it pays, what it saves, lines kept whole or split."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise, product
from math import ceil, floor, inf
from pathlib import Path
from statistics import mean

import pytest

from pleatwright.findings import Severity
from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.layout.plan import searches_of
from pleatwright.layout.uneven import Uneven
from pleatwright.order import read_order
from pleatwright.pleats import EVEN_KIND, UNEVEN_KIND, Form, Kind, Pleating, Shows, Wishes
from pleatwright.sett import Sett, Tartan, parse_count, stripe_name
from pleatwright.trade import Settings, default_settings
from pleatwright.wearer import Body, LevelName, Taper, sizes

SHOP = default_settings()
EXAMPLES = Path(__file__).parents[2] / "examples"
MAN = Body(Fraction(71, 2), Fraction(161, 4), Fraction(43, 2), Fraction(27, 4))
RUNNING_KIND = Kind(Form.KNIFE, Shows.SETT_RUNNING)
TO_THE_SETT = frozenset({EVEN_KIND, RUNNING_KIND, UNEVEN_KIND})
LINED = parse_count("G/24 LB8 DB36 R8 K8 Y2 K4 DB24 G/20").weft


def asked(
    sett: Sett = LINED,
    size: Fraction = Fraction(8),
    *,
    kinds: frozenset[Kind] = TO_THE_SETT,
    opens_on: str = "right",
    shop: Settings = SHOP,
    **wished: object,
) -> Request:
    made = sizes(MAN, taper=Taper.MAN, settings=shop)
    tartan = Tartan("invented", sett, sett, (), "", "whole")
    wishes = replace(Wishes(kinds=kinds), **wished)  # type: ignore[arg-type]  # whatever a wish may be
    return Request(made, tartan, size, size, None, wishes, opens_on, shop)


def of_kind(plan: Plan, shows: Shows) -> Option | None:
    return next((option for option in plan.options if option.shows is shows), None)


def uneven_of(request: Request) -> Option:
    option = of_kind(make_plan(request), Shows.SETT_UNEVEN)
    assert option is not None
    return option


def lost_lines(option: Option) -> int:
    return sum(len(line.pleats) for line in option.lines_at_risk)


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_uneven_division_saves_the_lines_that_even_and_running_division_lose(opens_on: str) -> None:
    plan = make_plan(asked(opens_on=opens_on))
    even, running, uneven = (of_kind(plan, s) for s in (Shows.SETT, Shows.SETT_RUNNING, Shows.SETT_UNEVEN))
    assert even is not None
    assert running is not None
    assert uneven is not None
    assert plan.chosen is uneven
    assert lost_lines(uneven) < min(lost_lines(even), lost_lines(running))
    assert uneven.standing > max(even.standing, running.standing)
    saved = {line.name for line in even.lines_at_risk} - {line.name for line in uneven.lines_at_risk}
    said = next(
        reason for reason in uneven.reasons if reason.startswith("Saves") and "even division" in reason
    )
    assert f"Saves {len(saved)} line" in said
    assert f"option {even.number}" in said
    assert all(name in said for name in saved)
    many = len(running.lines_at_risk)
    assert any(
        f"Saves {many} lines that running" in r and f"and {many - 3} more." in r for r in uneven.reasons
    )


def test_left_and_right_hand_kilts_are_divided_alike() -> None:
    right, left = (uneven_of(asked(opens_on=side)) for side in ("right", "left"))
    assert left.steps == pytest.approx(right.steps)
    assert left.standing == pytest.approx(right.standing)
    mirror = 2 * LINED.mirror_centres[0]
    assert [s.phase for s in left.strips] == pytest.approx(
        [(mirror - s.phase) % LINED.n for s in right.strips]
    )


def test_pleats_stand_for_their_reveal_give_or_take_an_eighth() -> None:
    option = uneven_of(asked())
    reveal = option.level(LevelName.HIP).reveal
    assert len(option.steps) == option.pleats
    assert max(abs(step - reveal) for step in option.steps) <= 1 / 8 + 1e-9
    assert len({round(step, 6) for step in option.steps}) > 1
    assert option.steps == pytest.approx(option.steps[::-1])
    assert option.mirrors
    assert option.division is not None
    assert sum(option.steps[: option.division]) == pytest.approx(8)


def test_the_middle_of_the_back_keeps_its_stripe() -> None:
    option = uneven_of(asked())
    assert option.middle_phase in LINED.mirror_centres
    middle = option.pleats // 2
    if option.pleats % 2:
        at = option.strips[middle].phase
    else:
        at = option.strips[middle].phase - option.steps[middle] / 2 * LINED.n / 8
    assert at % LINED.n == pytest.approx(option.middle_phase, abs=1e-6)


def test_nothing_uneven_is_offered_where_even_division_loses_no_line() -> None:
    plan = make_plan(asked(parse_count("B/24 R8 G24 B/24").weft, Fraction(6)))
    even = of_kind(plan, Shows.SETT)
    assert even is not None
    assert not even.lines_at_risk
    assert of_kind(plan, Shows.SETT_UNEVEN) is None


def test_alone_it_is_offered_wherever_it_can_be_made() -> None:
    plan = make_plan(asked(parse_count("B/24 R8 G24 B/24").weft, Fraction(6), kinds=frozenset({UNEVEN_KIND})))
    assert [option.shows for option in plan.options] == [Shows.SETT_UNEVEN]


def test_the_shops_liking_decides_whether_it_pays() -> None:
    dear = replace(SHOP, weights=replace(SHOP.weights, style_sett_uneven=20.0))
    assert of_kind(make_plan(asked(shop=dear)), Shows.SETT_UNEVEN) is None


@pytest.mark.parametrize("pleats", range(24, 31))
def test_what_stands_no_better_is_not_offered(pleats: int) -> None:
    search = searches_of(asked(kinds=frozenset({UNEVEN_KIND}), pleats=pleats))[0]
    best = Uneven(search).best(-inf)
    assert best is not None
    for least in (best.points.standing, best.points.standing + 0.3):
        other = Uneven(search).best(least)
        assert other is None or other.points.standing > least


SMALL = parse_count("G/9 W1 B8 R/2").weft
SMALL_ASYMMETRIC = Sett.of_runs([("G", 9), ("W", 1), ("B", 6), ("R", 2), ("K", 5)])


def every_way(sett: Sett, even: Pleating, reveal: float, most: float) -> Iterator[Pleating]:
    """Every uneven division like an even one, folds on quarters of a thread, of a tenth of an inch each."""
    pleats, parts = even.pleats, even.division or 1
    widths = range(ceil((reveal - most) * 40 - 1e-9), floor((reveal + most) * 40 + 1e-9) + 1)
    pleat_numbers = range(-(pleats // 2), pleats - pleats // 2)
    for part in product(widths, repeat=parts - 1):
        cut = [*part, 4 * sett.n - sum(part)]
        if cut[-1] not in widths or (pleats % 2 and cut[0] % 2):
            continue
        if even.middle in sett.mirror_centres and cut != (
            cut[::-1] if pleats % 2 == 0 else [cut[0], *cut[:0:-1]]
        ):
            continue
        folds = list(accumulate(cut, initial=-cut[0] / 2 if pleats % 2 else 0))
        steps = tuple(cut[i % parts] / 4 for i in pleat_numbers)
        centres = [
            even.middle + (folds[i % parts] + folds[i % parts + 1]) / 8 + i // parts * sett.n
            for i in pleat_numbers
        ]
        gaps = tuple(even.setts * sett.n + there - here for here, there in pairwise(centres))
        yield replace(even, shows=Shows.SETT_UNEVEN, first=centres[0] % sett.n, gaps=gaps, steps=steps)


@pytest.mark.parametrize("pleats", [26, 27])
@pytest.mark.parametrize("sett", [SMALL, SMALL_ASYMMETRIC])
def test_every_other_set_of_folds_loses_as_much_or_more_when_it_is_judged(pleats: int, sett: Sett) -> None:
    """Proof by enumeration: every division within the limit, judged by the published measures."""
    shop = replace(SHOP, pleats=replace(SHOP.pleats, uneven_most=Fraction(1, 4)))
    request = asked(sett, Fraction(sett.n, 10), kinds=frozenset({UNEVEN_KIND}), pleats=pleats, shop=shop)
    search = searches_of(request)[0]
    uneven = Uneven(search)
    reveal = search.frame.widths[LevelName.HIP] / pleats
    tried = 0
    for even in map(search.field.candidate, range(len(search.field.places.used))):
        if even.pleating.setts > 1 or even.apron_phase != search.apron_phases[0]:
            continue
        lost = {}
        for way in every_way(sett, even.pleating, reveal, float(shop.pleats.uneven_most)):
            judged = search.judged(replace(even, pleating=way))
            assert judged is not None
            square = SHOP.weights.square * mean(abs(reveal / (step / 10) - 1) for step in way.steps)
            lost[way.steps] = judged.points.lines + judged.points.match + square
        best = uneven.division_for(even.pleating)
        assert (best is None) == (not lost)
        if best is not None:
            assert lost[best.steps] == pytest.approx(min(lost.values()), abs=1e-6)
        tried += len(lost)
    assert tried > 10


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_a_line_kept_whole_is_on_no_fold_and_whole_at_every_level(opens_on: str) -> None:
    yellow = LINED.centre_of(next(stripe for stripe in LINED.stripes if stripe.colour == "Y"))
    plan = make_plan(asked(keep_whole=(yellow,), opens_on=opens_on))
    assert of_kind(plan, Shows.SETT_UNEVEN) is not None
    for option in plan.options:
        half = min(option.level(level).reveal for level in (LevelName.HIP, LevelName.STRAP)) / 2
        offs = [
            min(
                abs((strip.phase - stripe.centre + LINED.n / 2) % LINED.n - LINED.n / 2)
                for stripe in LINED.stripes
                if stripe.colour == "Y"
            )
            * 8
            / LINED.n
            for strip in option.strips
        ]
        for off in offs:
            assert off + 8 / LINED.n <= half + 1e-6 or off - 8 / LINED.n >= half - 1e-6
        assert any(off + 8 / LINED.n <= half for off in offs)
        assert not any(line.name.startswith("yellow") for line in option.lines_at_risk)


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_a_line_split_on_purpose_lies_half_on_each_of_two_pleats(opens_on: str) -> None:
    red = LINED.centre_of(next(stripe for stripe in LINED.stripes if stripe.colour == "R"))
    option = uneven_of(asked(split=(red,), opens_on=opens_on))
    reds = [LINED.centre_of(stripe) for stripe in LINED.stripes if stripe.colour == "R"]
    thread = 8 / LINED.n
    folds = [
        (strip.phase + side * step / 2 / thread) % LINED.n
        for strip, step in zip(option.strips, option.steps, strict=True)
        for side in (-1, 1)
    ]
    for red in reds:
        assert any(abs(fold - red) < 1e-6 for fold in folds)
        assert not any(
            abs((strip.phase - red + LINED.n / 2) % LINED.n - LINED.n / 2) < step / 2 / thread - 1e-6
            for strip, step in zip(option.strips, option.steps, strict=True)
        )


def test_lines_that_no_kilt_can_keep_are_named() -> None:
    wide = LINED.centre_of(max(LINED.stripes, key=lambda stripe: stripe.threads))
    plan = make_plan(asked(keep_whole=(wide,)))
    assert not plan.options
    (said,) = (finding for finding in plan.findings if finding.code == "plan.lines-not-kept")
    assert said.severity is Severity.STOP
    assert stripe_name(LINED, LINED.stripe_at(wide)) in said.expected
    striped = Kind(Form.KNIFE, Shows.STRIPE)
    others = make_plan(asked(keep_whole=(wide,), kinds=TO_THE_SETT | {striped}))
    assert others.options
    (said,) = (finding for finding in others.findings if finding.code == "plan.lines-not-kept")
    assert said.severity is Severity.WARN


def test_the_example_order_shows_what_it_saves() -> None:
    plan = make_plan(read_order((EXAMPLES / "uneven.toml").read_text(encoding="utf-8")).request)
    assert plan.chosen is not None
    assert plan.chosen.shows is Shows.SETT_UNEVEN
    assert "unevenly" in plan.chosen.title
    assert any(reason.startswith("Saves 3 lines that even division") for reason in plan.chosen.reasons)
