"""The plan holds the very best kilts: the same as if each candidate were laid and judged in plain loops."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from pleatwright.order import read_order
from tests.proof import product
from tests.proof.agreement import agrees
from tests.proof.cases import small_case
from tests.proof.evaluator import Evaluator
from tests.proof.strip import ways_of_laying

CASES = 300
FEW = [0, 10, 15, 30, 34, 35, 45, 70, 95, 105, 110, 130, 135, 150, 160, 180, 200, 210, 225, 240, 245]
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
QUICK = {"box-four-yards"}


@pytest.mark.parametrize("seed", FEW)
def test_the_plan_is_the_best_of_everything(seed: int) -> None:
    agrees(small_case(seed))


@pytest.mark.slow
@pytest.mark.parametrize("first", range(0, CASES, 10))
def test_three_hundred_plans_are_the_best_of_everything(first: int) -> None:
    for seed in range(first, first + 10):
        agrees(small_case(seed))


@pytest.mark.parametrize(
    "example",
    [
        pytest.param(path, id=path.stem, marks=() if path.stem in QUICK else pytest.mark.slow)
        for path in EXAMPLES
    ],
)
def test_the_plans_of_the_examples_are_the_best_of_everything(example: Path) -> None:
    agrees(read_order(example.read_text(encoding="utf-8")).request)


@pytest.mark.parametrize("seed", FEW[2::3])
def test_every_candidate_loses_the_same_points_by_both_reckonings(seed: int) -> None:
    request = small_case(seed)
    for way, (laid, search) in enumerate(
        zip(ways_of_laying(request), product.searches(request), strict=True)
    ):
        slow = Evaluator(request, laid, way)
        found = list(product.fitting(search))
        fitting = [one for one in slow.candidates() if slow.fits(*one)]
        theirs = {product.key(candidate): candidate for candidate in found}
        ours = {product.key_of(*one): one for one in fitting}
        assert len(theirs) == len(found) == len(ours) == len(fitting)
        assert theirs.keys() == ours.keys()
        for key in Random(seed).sample(sorted(ours, key=str), min(150, len(ours))):
            kilt, judged = slow.judged(*ours[key]), search.finished(theirs[key])
            assert (kilt is None) == (judged is None)
            if kilt is not None and judged is not None:
                assert judged.points._asdict() == pytest.approx(kilt.lost, abs=1e-9)
