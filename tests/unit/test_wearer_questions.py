"""Questions about a body: each slip gets one question, and a plausible body none."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from pleatwright.findings import Finding, Severity
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, Taper, draw_bodies, questions, sizes

SETTINGS = default_settings()
MAN = Body(waist=Fraction(36), hips=Fraction(40), drop=Fraction(45, 2), fell_drop=Fraction(13, 2))
CM = Fraction(50, 127)


def asked(body: Body, hem: Fraction | None = None) -> tuple[Finding, ...]:
    return questions(body, sizes(body, taper=Taper.MAN, settings=SETTINGS, hem=hem), settings=SETTINGS)


def codes(body: Body) -> list[str]:
    return [finding.code for finding in asked(body)]


@pytest.mark.parametrize(
    "body",
    [
        MAN,
        replace(MAN, fell_drop=None),
        Body(waist=Fraction(32), hips=Fraction(40), drop=Fraction(21), woman=True),
        Body(waist=Fraction(24), hips=Fraction(27), drop=Fraction(15), child=True),
    ],
)
def test_a_usual_body_is_asked_nothing(body: Body) -> None:
    assert codes(body) == []


@pytest.mark.parametrize(
    "written, code",
    [
        (replace(MAN, waist=Fraction(29)), "ask.trouser-size"),
        (replace(MAN, drop=Fraction(51, 2)), "ask.total-for-drop"),
        (replace(MAN, drop=Fraction(39, 2)), "ask.rise-forgotten"),
        (replace(MAN, waist=Fraction(92)), "ask.centimetres-as-inches"),
        (replace(MAN, waist=Fraction(92), hips=Fraction(102)), "ask.centimetres-as-inches"),
        (replace(MAN, hips=40 * CM), "ask.inches-as-centimetres"),
        (replace(MAN, waist=Fraction(63)), "ask.digits-swapped"),
        (replace(MAN, waist=Fraction(40), hips=Fraction(36)), "ask.waist-and-hips-swapped"),
        (replace(MAN, waist=Fraction(62), hips=Fraction(60)), "ask.rare-body"),
    ],
)
def test_each_slip_gets_its_question(written: Body, code: str) -> None:
    found = asked(written)
    assert [finding.code for finding in found if finding.code != "ask.towel"] == [code]
    assert all(finding.severity is Severity.ASK for finding in found)


def test_a_question_says_what_was_seen_what_was_expected_and_what_to_ask() -> None:
    (finding,) = asked(replace(MAN, waist=Fraction(63)))
    assert finding.seen.startswith('waist 63", hips 40", ')
    assert finding.expected.endswith('put right it would be waist 36"')
    assert finding.do == "ask whether two digits have changed places; if it is right, go on"


def test_a_metric_maker_is_asked_in_millimetres() -> None:
    written = replace(MAN, waist=Fraction(290) * CM)
    kilt = sizes(written, taper=Taper.MAN, settings=SETTINGS)
    found = questions(written, kilt, settings=SETTINGS, units="metric")
    assert found[0].seen.startswith("waist 2900 mm, hips 1016 mm")


def test_digits_are_swapped_as_they_were_written() -> None:
    written = replace(MAN, waist=Fraction(29) * CM)  # 92 cm written 29
    kilt = sizes(written, taper=Taper.MAN, settings=SETTINGS)
    in_metric = questions(written, kilt, settings=SETTINGS, units="metric")
    assert [finding.code for finding in in_metric] == ["ask.digits-swapped"]


def test_a_rare_body_is_told_which_measure_to_take_again() -> None:
    found = asked(replace(MAN, waist=Fraction(62), hips=Fraction(60)))
    rare = next(finding for finding in found if finding.code == "ask.rare-body")
    assert "measure the hips again" in rare.do


def test_a_belly_is_asked_how_the_hips_were_taken() -> None:
    belly = replace(MAN, waist=Fraction(44), hips=Fraction(43))
    assert codes(belly) == ["ask.towel"]
    assert codes(replace(belly, towel=True)) == []


def test_a_towel_is_not_asked_about_where_a_slip_explains_the_belly() -> None:
    assert codes(replace(MAN, waist=Fraction(63))) == ["ask.digits-swapped"]


def test_a_child_is_not_held_against_grown_bodies() -> None:
    assert codes(replace(MAN, waist=Fraction(22), hips=Fraction(25), drop=Fraction(14), child=True)) == []
    assert codes(replace(MAN, waist=Fraction(22), hips=Fraction(25), drop=Fraction(14))) != []


def test_drops_that_differ_are_asked_about() -> None:
    finding = asked(replace(MAN, drop_side=Fraction(45, 2), drop_back=Fraction(23)))[0]
    assert finding.code == "ask.drops-differ"
    assert '23" is ripped' in finding.do
    assert codes(replace(MAN, drop_side=Fraction(45, 2), drop_back=Fraction(45, 2))) == []


@pytest.mark.parametrize("rise, expected", [("7/8", ["ask.rise"]), ("1", []), ("3", []), ("4", ["ask.rise"])])
def test_a_rise_outside_the_usual_is_asked_about(rise: str, expected: list[str]) -> None:
    assert codes(replace(MAN, rise=Fraction(rise))) == expected


def test_a_hem_that_hangs_badly_is_asked_about() -> None:
    assert [finding.code for finding in asked(MAN, hem=Fraction(9, 2))] == ["ask.deep-hem"]
    assert asked(MAN, hem=Fraction(4)) == ()


def test_bodies_drawn_with_one_seed_are_the_same() -> None:
    drawn = draw_bodies(5, 7, "woman")
    assert drawn == draw_bodies(5, 7, "woman")
    assert drawn != draw_bodies(5, 8, "woman")
    assert all(body.woman and (body.waist * 16).denominator == 1 for body in drawn)
