"""One layout worked out by hand, to a ten-thousandth of an inch [derived]."""

from __future__ import annotations

from math import ceil

import pytest

from pleatwright.cloth import Run
from pleatwright.layout import Frame, Placement, place
from pleatwright.pleats import Form, Pleating, Shows
from pleatwright.sett import parse_count
from pleatwright.wearer import LevelName

# The military sett of 1739 in the public registers: 426 threads, mirror centres at 14 and 227 [derived].
SETT = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
SIZE, PIVOT, PLEATS, DIVISION = 6.5, 14.0, 27, 8
TEN_THOUSANDTH = 0.00006


def worked() -> tuple[Pleating, Placement]:
    """S = 6 1/2", φ = 0, 27 pleats to the sett, m = 8, k = 1, b = e = 10 3/4", least D1 5" and D2 4"."""
    shown = SETT.n / DIVISION
    pleating = Pleating(
        Form.KNIFE,
        Shows.SETT,
        PLEATS,
        (PIVOT - (PLEATS - 1) / 2 * shown) % SETT.n,
        (SETT.n + shown,) * (PLEATS - 1),
        PIVOT,
        shown=shown,
        division=DIVISION,
    )
    frame = Frame(dict.fromkeys(LevelName, 20.5), 10.75, 10.75, 10.75, 3.0, 5.0, 4.0)
    return pleating, place(Run.uniform(SETT, SIZE, 0.0, 306.0), frame, pleating, PIVOT)


@pytest.mark.parametrize(
    "part,inches",
    [
        ("over_centre", 19.7136),
        ("first_strip", 41.6511),
        ("last_strip", 231.7761),
        ("under_centre", 247.2136),
        ("deep_pleat", 10.8079),
        ("reverse_pleat", 4.3079),
        ("used", 260.9636),
    ],
)
def test_the_worked_layout_comes_out_to_a_ten_thousandth(part: str, inches: float) -> None:
    _, laid = worked()
    assert getattr(laid, part) == pytest.approx(inches, abs=TEN_THOUSANDTH)


def test_the_worked_layout_takes_7_249_yards() -> None:
    _, laid = worked()
    assert laid.used / 36 == pytest.approx(7.249, abs=0.0005)


def test_the_worked_layout_follows_from_the_inequalities_one_after_the_other() -> None:
    # x_o ≥ E1 + e_o; c_1 ≥ x_o + b + D1min + r/2; x_u ≥ c_N + r/2 + D2min + b, each at its phase [derived]
    reveal, step = 20.5 / PLEATS, SIZE + SIZE / DIVISION

    def smallest(least: float, phase: float) -> float:
        first = phase / SETT.n * SIZE
        return first + SIZE * ceil((least - first) / SIZE)

    over = smallest(3 + 10.75, PIVOT)
    first = smallest(over + 10.75 + 5 + reveal / 2, PIVOT - 13 * SETT.n / DIVISION)
    last = first + (PLEATS - 1) * step
    under = smallest(last + reveal / 2 + 4 + 10.75, PIVOT)
    _, laid = worked()
    assert (laid.over_centre, laid.first_strip, laid.last_strip, laid.under_centre) == pytest.approx(
        (over, first, last, under)
    )
    assert laid.deep_pleat == pytest.approx(first - reveal / 2 - over - 10.75)
    assert laid.reverse_pleat == pytest.approx(under - 10.75 - last - reveal / 2)


def test_the_worked_layout_has_the_pivot_at_both_aprons_and_in_the_middle_of_the_back() -> None:
    pleating, laid = worked()
    assert (laid.under_thread - laid.over_thread) % SETT.n == pytest.approx(0, abs=1e-9)
    threads = laid.strip_threads(pleating)
    assert threads[PLEATS // 2] % SETT.n == pytest.approx(PIVOT)
    assert laid.over_thread % SETT.n == pytest.approx(PIVOT)
