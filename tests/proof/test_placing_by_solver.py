"""Settling on cloth with faults or a join, against a mixed-integer programme that places the same kilts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from pleatwright.cloth import Fault
from pleatwright.layout import Candidate, Request, Search
from pleatwright.order import read_order
from pleatwright.pleats import Form, Kind, Shows
from tests.proof import product
from tests.proof.evaluator import Evaluator
from tests.proof.solver import least_loss
from tests.proof.strip import ways_of_laying

EXAMPLES = Path(__file__).parents[2] / "examples"
MANY = 50
KNIVES = frozenset({Kind(Form.KNIFE, Shows.SETT), Kind(Form.KNIFE, Shows.STRIPE)})

Span = tuple[str, str, int]
"""A fault: from, to, strip."""


def asked(
    example: str,
    faults: list[Span],
    *,
    width: str = "",
    length: str = "",
    opens_on: str = "right",
    bulk: float = 1,
) -> Request:
    """An example's order with faults in its cloth, of another size, for another shop."""
    request = read_order((EXAMPLES / f"{example}.toml").read_text(encoding="utf-8")).request
    assert request.piece is not None
    spoilt = tuple(
        Fault("knot", Fraction(start), Fraction(end), None, None, strip) for start, end, strip in faults
    )
    piece = replace(
        request.piece,
        faults=spoilt,
        width=Fraction(width or request.piece.width),
        length=Fraction(length or request.piece.length),
    )
    shop = replace(request.settings, weights=replace(request.settings.weights, bulk=bulk))
    wishes = replace(request.wishes, kinds=KNIVES)
    return replace(request, piece=piece, settings=shop, wishes=wishes, opens_on=opens_on)


CASES = {
    "one fault, both ends": asked("demo", [("14", "15", 1), ("70", "70.25", 1)]),
    "hidden cloth weighs nothing": asked("demo", [("16", "17", 1), ("150", "156", 1)], bulk=0),
    "cloth that wanders, three faults": asked(
        "measured-piece", [("20", "20.5", 1), ("61", "62", 1), ("150", "151", 1)]
    ),
    "small sett, a fault wider than it": asked("child-hem", [("6", "10", 1)]),
    "opens on the left": asked("womans-taper", [("14", "15", 1), ("200", "201", 1)]),
    "joined, faults in both strips": asked(
        "demo",
        [("14", "14.25", 1), ("160", "161", 1), ("20", "21", 2), ("150", "151", 2)],
        width="60",
        length="170",
        opens_on="left",
    ),
    "joined, as the example is": asked("double-width", [("14", "14.25", 1)]),
}


def loss(search: Search, candidate: Candidate) -> float | None:
    """Points for cloth and hidden cloth where the search lays the kilt; None if it finds no place."""
    settled = search.settled(candidate)
    return None if settled is None else settled.points.cloth + settled.points.bulk


@pytest.mark.slow
@pytest.mark.parametrize("request_", CASES.values(), ids=CASES)
def test_no_other_way_of_placing_a_kilt_loses_less(request_: Request) -> None:
    """The best fifty of the longest-searched way of laying, and fifty others drawn at random."""
    pairs = list(zip(ways_of_laying(request_), product.searches(request_), strict=True))
    way, (laid, search) = max(enumerate(pairs), key=lambda one: (one[1][0].joined is not None, -one[0]))
    slow = Evaluator(request_, laid, way)
    ours = {product.key_of(*one): one for one in slow.candidates()}
    fitting = list(product.fitting(search))
    judged = [(full.points.score, at) for at, one in enumerate(fitting) if (full := search.finished(one))]
    best = [at for _, at in sorted(judged, reverse=True)[:MANY]]
    others = Random(7).sample(range(len(fitting)), min(MANY, len(fitting)))
    assert best
    for at in dict.fromkeys([*best, *others]):
        expected = least_loss(slow, *ours[product.key(fitting[at])])
        assert loss(search, fitting[at]) == (None if expected is None else pytest.approx(expected, abs=1e-5))
