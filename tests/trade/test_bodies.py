"""Bodies and sizes held against what others have published, and the questions against planted slips."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from statistics import mean, stdev

import numpy as np
import pytest

from pleatwright.errors import InputError
from pleatwright.lengths import MILLIMETRE
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, LevelName, Taper, draw_bodies, questions, sizes
from pleatwright.wearer.plausibility import tail
from pleatwright.wearer.population import MEASURES, POPULATIONS, Sex, spread_of

SETTINGS = default_settings()
CM = Fraction(127, 50)
SEXES: tuple[Sex, ...] = ("man", "woman")
# A body with a belly is rightly asked how its hips were taken; that is no slip.
NO_SLIP = {"ask.towel"}


def slips_asked(body: Body) -> list[str]:
    kilt = sizes(body, taper=Taper.MAN, settings=SETTINGS)
    found = questions(body, kilt, settings=SETTINGS)
    return [finding.code for finding in found if finding.code not in NO_SLIP]


# Worked levels of a man's kilt: common practice, no source.
def test_worked_levels_of_a_kilt_of_25_inches() -> None:
    body = Body(Fraction(36), Fraction(40), Fraction(45, 2), fell_drop=Fraction(11, 2), rise=Fraction(5, 2))
    kilt = sizes(body, taper=Taper.MAN, settings=SETTINGS)
    assert kilt.total == 25
    assert kilt.level(LevelName.STRAP).below_top == Fraction(5, 2)
    assert kilt.level(LevelName.HIP).below_top == kilt.fell == 8


# xmarksthescot.com post 1343491: 36" waist, 45 1/2" hips, 21 1/2" drop, 2" rise, 23 1/2" total.
def test_a_published_set_of_measures_adds_up() -> None:
    body = Body(Fraction(36), Fraction(91, 2), Fraction(43, 2), rise=Fraction(2))
    assert sizes(body, taper=Taper.MAN, settings=SETTINGS).total == Fraction(47, 2)


# xmarksthescot.com thread 79489: aprons about half of waist and hips; en.citizendium.org, "Kilt Makers
# Association of Scotland": fell about a third.
def test_aprons_of_half_and_a_fell_of_a_third_are_the_usual() -> None:
    kilt = sizes(Body(Fraction(36), Fraction(41), Fraction(22)), taper=Taper.MAN, settings=SETTINGS)
    for name in (LevelName.STRAP, LevelName.HIP):
        assert kilt.level(name).under_apron * 2 == kilt.level(name).round
    assert kilt.fell * 3 == kilt.total


# ANSUR II, public release: mean waist to seat and waist to kneecap; with a 2" rise F/L is about .35 and .34.
@pytest.mark.parametrize("sex, share", [("man", 0.35), ("woman", 0.34)])
def test_the_thirds_rule_is_about_right_for_the_mean_body(sex: Sex, share: float) -> None:
    waist, hips, seat, kneecap = (Fraction(value) * MILLIMETRE for value in POPULATIONS[sex].mean)
    body = Body(waist, hips, kneecap, fell_drop=seat, woman=sex == "woman")
    kilt = sizes(body, taper=Taper.MAN, settings=SETTINGS)
    assert float(kilt.fell / kilt.total) == pytest.approx(share, abs=0.005)


# ANSUR II: normal draws from its table give waist >= hips for 8.6% of men and 0.4% of women.
@pytest.mark.parametrize("sex, share, margin", [("man", 0.086, 0.008), ("woman", 0.004, 0.002)])
def test_drawn_bodies_have_bellies_as_often_as_the_table_says(sex: Sex, share: float, margin: float) -> None:
    drawn = draw_bodies(10_000, 20, sex)
    assert mean(body.waist >= body.hips for body in drawn) == pytest.approx(share, abs=margin)


@pytest.mark.parametrize("sex", SEXES)
def test_drawn_bodies_have_the_means_and_spreads_of_the_survey(sex: Sex) -> None:
    drawn = draw_bodies(4_000, 3, sex)
    columns = [[float(getattr(body, measure) / MILLIMETRE) for body in drawn] for measure in MEASURES]
    population = POPULATIONS[sex]
    for column, middle, deviation in zip(columns, population.mean, population.deviation, strict=True):
        assert mean(column) == pytest.approx(middle, abs=deviation / 15)
        assert stdev(column) == pytest.approx(deviation, rel=0.05)
    wanted = population.covariance / np.outer(population.deviation, population.deviation)
    assert np.abs(np.corrcoef(columns) - wanted).max() < 0.05


# Any printed table of chi-square: 7.815 and 11.345 leave 5% and 1% at 3 degrees of freedom, 9.488 and 13.277
# at 4.
@pytest.mark.parametrize(
    "measures, chi_square, share",
    [(3, 7.815, 0.05), (3, 11.345, 0.01), (4, 9.488, 0.05), (4, 13.277, 0.01)],
)
def test_the_share_of_rarer_bodies_is_that_of_the_chi_square_table(
    measures: int, chi_square: float, share: float
) -> None:
    taken = ("waist", "hips", "drop") if measures == 3 else MEASURES
    spread = spread_of("man", taken)
    step = np.sqrt(chi_square / spread.precision[0, 0])
    inches = dict(zip(taken, (Fraction(float(value)) * MILLIMETRE for value in spread.mean), strict=True))
    inches["waist"] += Fraction(float(step)) * MILLIMETRE
    assert tail(inches, spread) == pytest.approx(share, rel=0.001)


@pytest.mark.parametrize("sex", SEXES)
@pytest.mark.parametrize("seat", [True, False], ids=["fell drop taken", "fell drop not taken"])
def test_few_plausible_bodies_are_troubled_with_a_question(sex: Sex, seat: bool) -> None:
    drawn = draw_bodies(2_000, 11, sex)
    bodies = drawn if seat else [replace(body, fell_drop=None) for body in drawn]
    assert mean(bool(slips_asked(body)) for body in bodies) < 0.026


def in_centimetres(body: Body) -> Body:
    fell_drop = None if body.fell_drop is None else body.fell_drop * CM
    return replace(body, waist=body.waist * CM, hips=body.hips * CM, drop=body.drop * CM, fell_drop=fell_drop)


def turned(value: Fraction) -> Fraction:
    """36 1/2 as 63 1/2."""
    tens, ones = divmod(int(value), 10)
    return value + 9 * (ones - tens)


# Gross slips: the shares are those of the slip's own question, over bodies that a kilt can be made for.
@pytest.mark.parametrize(
    "code, slip, caught",
    [
        ("ask.centimetres-as-inches", in_centimetres, 0.95),
        ("ask.centimetres-as-inches", lambda body: replace(body, waist=body.waist * CM), 0.93),
        ("ask.inches-as-centimetres", lambda body: replace(body, hips=body.hips / CM), 0.90),
        ("ask.digits-swapped", lambda body: replace(body, waist=turned(body.waist)), 0.65),
        ("ask.digits-swapped", lambda body: replace(body, hips=turned(body.hips)), 0.72),
    ],
    ids=["all in cm", "waist in cm", "hips in inches", "waist turned", "hips turned"],
)
@pytest.mark.parametrize("sex", SEXES)
def test_a_gross_slip_is_caught_nearly_always(
    sex: Sex, code: str, slip: Callable[[Body], Body], caught: float
) -> None:
    written = [(body, slip(body)) for body in draw_bodies(400, 5, sex)]
    changed = [after for before, after in written if before != after and after.waist >= 10 <= after.hips]
    asked = [slips_asked(body) for body in changed]
    assert len(changed) > 300
    assert mean(codes == [code] for codes in asked) > caught
    assert mean(bool(codes) for codes in asked) > 0.95


# Small slips lie within what bodies differ by: most cannot be caught while only 2% of others are troubled.
@pytest.mark.parametrize(
    "code, slip, caught",
    [
        ("ask.trouser-size", lambda body: replace(body, waist=body.waist - Fraction(7, 2)), 0.17),
        ("ask.trouser-size", lambda body: replace(body, waist=body.waist - 6), 0.60),
        ("ask.total-for-drop", lambda body: replace(body, drop=body.drop + 2), 0.26),
        ("ask.total-for-drop", lambda body: replace(body, drop=body.drop + 3, rise=Fraction(3)), 0.60),
        ("ask.rise-forgotten", lambda body: replace(body, drop=body.drop - 2), 0.26),
    ],
    ids=["trouser size", "trouser size, 6 inches out", "total", "total, rise 3", "rise forgotten"],
)
@pytest.mark.parametrize("sex", SEXES)
def test_a_small_slip_is_caught_as_often_as_bodies_allow(
    sex: Sex, code: str, slip: Callable[[Body], Body], caught: float
) -> None:
    asked = [slips_asked(slip(body)) for body in draw_bodies(600, 6, sex)]
    assert mean(codes == [code] for codes in asked) > caught


def test_no_drawn_body_is_refused_a_kilt() -> None:
    refused = []
    for sex in SEXES:
        for body in draw_bodies(1_000, 9, sex):
            for taper in Taper:
                try:
                    sizes(body, taper=taper, settings=SETTINGS)
                except InputError as error:
                    refused.append((body, error))
    assert refused == []
