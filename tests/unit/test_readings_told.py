"""A reading and what the others foretell of it, as a maker reads them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from pleatwright.bench.readings import reading_told
from pleatwright.cloth import Check, Reading
from pleatwright.order import read_order

DEMO = (Path(__file__).parents[2] / "examples" / "demo.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "units, at, likely, told",
    [
        ("in", "29 21/32", 29.66, ('29 21/32"', '29 21/32"', "–")),
        ("in", "29 21/32", 29.70, ('29 21/32"', '29 11/16"', '−1/32"')),
        ("in", "30", 29.5, ('30"', '29 1/2"', '+1/2"')),
        ("metric", "20", 19.9, ("508 mm", "505 mm", "+3 mm")),
        ("in", "30", None, ('30"', "–", "–")),
    ],
)
def test_what_lies_between_is_the_difference_of_the_two_as_they_are_written(units, at, likely, told):
    job = read_order(DEMO, units=units)
    inches = float(sum(Fraction(part) for part in at.split()))
    check = Check(1, 1, Reading("W4", 4.0, inches), likely, 0.05)
    assert reading_told(check, job) == told
    assert reading_told(replace(check, doubtful=True), job) == told
