"""The gauges a shop owns, read from the shop's file or the order's own table."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from pleatwright.errors import InputError
from pleatwright.lengths import MILLIMETRE
from pleatwright.order import OwnedGauge, read_order

EXAMPLES = Path(__file__).parents[2] / "examples"
DEMO = (EXAMPLES / "demo.toml").read_text(encoding="utf-8")
GAUGES = 'gauges = ["3/4", { marked = "11/16", width = "0.69" }, { marked = "5/8" }]\n'
OWNED = (
    OwnedGauge(Fraction(3, 4), Fraction(3, 4)),
    OwnedGauge(Fraction(11, 16), Fraction(69, 100)),
    OwnedGauge(Fraction(5, 8), Fraction(5, 8)),
)


def test_an_order_may_name_the_gauges_in_the_drawer() -> None:
    assert read_order(DEMO + GAUGES).drawer == OWNED
    assert read_order(DEMO).drawer == ()


def test_a_shops_file_names_them_once_for_all_orders_and_an_order_goes_over_it() -> None:
    shop = f"[shop]\n{GAUGES}"
    assert read_order(DEMO, shop_text=shop).drawer == OWNED
    over = read_order(DEMO + 'gauges = ["1"]\n', shop_text=shop)
    assert over.drawer == (OwnedGauge(Fraction(1), Fraction(1)),)


def test_a_metric_gauge_is_exact_whatever_the_packet_is_printed_in() -> None:
    text = DEMO + 'gauges = ["19 mm", { marked = "17 mm", width = "1.71 cm" }]\n'
    drawer = read_order(text).drawer
    assert drawer[0].width == 19 * MILLIMETRE
    assert drawer[1] == OwnedGauge(17 * MILLIMETRE, Fraction("17.1") * MILLIMETRE)
    assert read_order(text, units="metric").drawer == drawer


@pytest.mark.parametrize(
    "gauge, said",
    [('{ width = "0.69" }', "shop.gauges"), ('"3/4 of it"', "is not a length"), ('"0"', "more than 0")],
)
def test_a_gauge_that_cannot_be_read_is_named(gauge: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_order(DEMO + f"gauges = [{gauge}]\n")
