"""Uneven division against what makers say of it, on setts where the right answer is known by sight."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.pleats import EVEN_KIND, UNEVEN_KIND, Form, Kind, Shows, Wishes
from pleatwright.sett import Sett, Tartan
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, LevelName, Taper, sizes

SHOP = default_settings()
PLEATS = 27
# A white line of 2 threads in a blue ground.  The sett of 144 threads measures 4 1/2" and mirrors about
# thread 11, the middle of the red: six even pleats of 24 threads have a fold at thread 47, in the white.
SETT = Sett.of_runs([("R", 22), ("B", 24), ("W", 2), ("B", 70), ("W", 2), ("B", 24)])
RED, WHITES = 11.0, (47.0, 119.0)
THREAD = Fraction(1, 32)


def plan_of(kind: Kind, *, split: tuple[float, ...] = ()) -> Plan:
    """Hips of 40" and 1/2" of ease: half of it is 20 1/4", 27 pleats of 3/4"; they taper but little."""
    body = Body(Fraction(38), Fraction(40), Fraction(22), Fraction(6))
    made = sizes(body, taper=Taper.MAN, settings=SHOP)
    tartan = Tartan("invented", SETT, SETT, (), "", "whole")
    wishes = Wishes(kinds=frozenset({kind}), pleats=PLEATS, apron_phase=RED, split=split)
    return make_plan(Request(made, tartan, SETT.n * THREAD, SETT.n * THREAD, None, wishes, "right", SHOP))


def the_option(plan: Plan) -> Option:
    (option,) = plan.options
    return option


def test_even_division_lays_its_folds_on_the_line() -> None:
    even = the_option(plan_of(EVEN_KIND))
    assert even.level(LevelName.HIP).reveal == pytest.approx(0.75)
    assert even.division == 6
    (line,) = even.lines_at_risk
    assert line.name.startswith("white")
    assert len(line.pleats) > PLEATS // 2


def test_folds_laid_a_little_differently_keep_the_line_whole() -> None:
    """kiltmakernh.com, 13 November 2012: pleats to the sett need not all be spaced alike."""
    uneven = the_option(plan_of(UNEVEN_KIND))
    assert not uneven.lines_at_risk
    assert max(uneven.steps) - min(uneven.steps) <= 1 / 4
    assert uneven.form is Form.KNIFE
    assert uneven.shows is Shows.SETT_UNEVEN


def test_a_line_may_be_split_over_two_pleats_on_purpose() -> None:
    """kiltmakernh.com, 13 November 2012: a part of the line on one pleat, the rest on the next."""
    option = the_option(plan_of(UNEVEN_KIND, split=WHITES[:1]))
    half, wide = option.level(LevelName.HIP).reveal / 2, float(2 * THREAD)
    n = SETT.n
    offs = [
        float(((line - strip.phase + n / 2) % n - n / 2) * THREAD)
        for strip in option.strips
        for line in WHITES
    ]
    shown = [max(0.0, min(half, off + wide / 2) - max(-half, off - wide / 2)) for off in offs]
    assert max(shown) < wide * 0.75
    assert sum(width > 0 for width in shown) > PLEATS // 2
