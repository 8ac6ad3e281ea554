"""Whether the plan of a request is what looking at everything finds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from pleatwright.layout import Option, Request, make_plan
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND
from tests.proof.evaluator import Kilt, evaluate

CLOSE = 1e-9


def agrees(request: Request) -> None:
    """The plan and the evaluator: the same count, the same options in the same order, the same figures.

    Uneven division has proofs of its own (test_pleats_uneven.py, test_layout_uneven.py), as has the choice
    of what bears most among those about as good (test_layout_robust.py).
    """
    wished = request.wishes.kinds or frozenset((*TARTAN_KINDS, *PLAIN_KINDS))
    request = by_points_alone(replace(request, wishes=replace(request.wishes, kinds=wished - {UNEVEN_KIND})))
    plan, answer = make_plan(request), evaluate(request)
    assert (plan.searched, plan.fitting) == (answer.searched, answer.fitting)
    assert len(plan.options) == len(answer.kept)
    for option, kilt in zip(plan.options, answer.kept, strict=True):
        _one_and_the_same(option, kilt, request)


def by_points_alone(request: Request) -> Request:
    """The same for a shop that goes by the score, however little a kilt bears."""
    shop = request.settings
    return replace(request, settings=replace(shop, search=replace(shop.search, near_best=0.0)))


def _one_and_the_same(option: Option, kilt: Kilt, request: Request) -> None:
    pleats, place = kilt.pleats, kilt.place
    assert (option.form, option.shows) == pleats.kind
    assert (option.pleats, option.division, option.setts) == (pleats.count, pleats.parts, pleats.setts)
    assert option.score == pytest.approx(kilt.score, abs=CLOSE)
    assert option.standing == pytest.approx(kilt.standing, abs=CLOSE)
    assert option.points._asdict() == pytest.approx(kilt.lost, abs=CLOSE)
    assert {one.level: one.match for one in option.levels if one.match is not None} == pytest.approx(
        kilt.match
    )
    whole = option.cloth_used if option.cloth is None else option.cloth.length

    def from_the_left(tape: float) -> float:
        return whole - tape if request.opens_on == "left" else tape

    assert from_the_left(option.over_apron.centre) == pytest.approx(place.over, abs=1e-6)
    assert from_the_left(option.under_apron.centre) == pytest.approx(place.under, abs=1e-6)
    assert [from_the_left(strip.centre) for strip in option.strips] == pytest.approx(
        list(kilt.centres), abs=1e-6
    )
    assert option.deep_pleat == pytest.approx(place.deep, abs=1e-6)
    assert option.reverse_pleat == pytest.approx(place.reverse, abs=1e-6)
    assert option.cloth_used == pytest.approx(place.used, abs=CLOSE)
    join = None if option.cloth is None else option.cloth.join
    assert (join is None) == (kilt.seam is None)
    if join is not None:
        assert from_the_left(join.tape) == pytest.approx(kilt.seam_tape, abs=1e-6)
