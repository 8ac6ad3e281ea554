"""Two thousand bodies on one tartan: every one a valid plan or a reasoned refusal.

Bodies are drawn from ANSUR II (survey of US Army personnel, 2012, public release), men and women.
"""

from fractions import Fraction

import pytest

from pleatwright.cloth import Anchor, Piece
from pleatwright.errors import InputError
from pleatwright.findings import blocking
from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.pleats import Wishes, hidden_cloth
from pleatwright.sett import Tartan, parse_count
from pleatwright.trade import Settings, default_settings
from pleatwright.wearer import FELL_LEVELS, LevelName, Sizes, Taper, draw_bodies, sizes
from pleatwright.wearer.population import Sex

BODIES_OF_EACH = 1000
COUNT = parse_count("B/24 W4 B24 R2 K24 G24 W/2")
TARTAN = Tartan("Tarnside", COUNT.warp, COUNT.weft, COUNT.palette, COUNT.written, COUNT.pivots)
PIECE = Piece(
    Fraction(30), Fraction(9 * 36), Fraction(13, 2), Fraction(13, 2), Anchor(12.0, Fraction(2), "blue"), None
)


def _valid(option: Option, worn: Sizes, settings: Settings) -> None:
    for name in FELL_LEVELS:
        level = option.level(name)
        total = sum(strip.face * level.reveal for strip in option.strips)
        assert total == pytest.approx(float(worn.level(name).pleated), abs=1e-9)
        assert level.depth_least >= float(settings.pleats.depth_least) - 1e-9
        assert level.reveal >= float(settings.pleats.reveal_least) - 1e-9
    assert option.cloth_left is not None
    assert option.cloth_left >= -1e-9
    assert option.deep_pleat >= float(settings.cloth.deep_pleat) - 1e-9
    assert option.reverse_pleat >= float(settings.cloth.reverse_pleat) - 1e-9
    n = TARTAN.weft.n
    apart = (option.over_apron.thread - option.under_apron.thread) / n
    assert apart == pytest.approx(round(apart), abs=1e-6)
    hip = option.level(LevelName.HIP).reveal
    hidden = sum(
        hidden_cloth(after.centre - strip.centre, strip.face * hip, after.face * hip)
        for strip, after in zip(option.strips, option.strips[1:], strict=False)
    )
    parts = (
        2 * option.facing
        + option.over_apron.allotted
        + option.under_apron.allotted
        + option.deep_pleat
        + option.reverse_pleat
        + hidden
        + sum(strip.face * hip for strip in option.strips)
    )
    spare_left = option.over_apron.left - option.facing
    assert parts + spare_left == pytest.approx(option.cloth_used, abs=1e-6)


def _reasoned(plan: Plan) -> None:
    assert blocking(plan.findings)
    assert all(finding.seen and finding.expected and finding.do for finding in plan.findings)


@pytest.mark.slow
@pytest.mark.parametrize("sex, seed", [("man", 11), ("woman", 12)])
def test_a_thousand_bodies_of_each_get_a_valid_plan_or_a_reasoned_refusal(sex: Sex, seed: int):
    settings = default_settings()
    planned = refused = 0
    reasons = []
    for number, body in enumerate(draw_bodies(BODIES_OF_EACH, seed, sex)):
        try:
            worn = sizes(body, taper=Taper.MAN if number % 2 else Taper.WOMAN, settings=settings)
        except InputError as error:
            reasons.append(error.problems)
            continue
        sett = Fraction(13, 2)
        plan = make_plan(Request(worn, TARTAN, sett, sett, PIECE, Wishes(), "right", settings))
        if plan.options:
            planned += 1
            for option in plan.options:
                _valid(option, worn, settings)
        else:
            refused += 1
            _reasoned(plan)
    assert all(reasons)
    assert planned + refused + len(reasons) == BODIES_OF_EACH
    assert planned > 0.9 * BODIES_OF_EACH
