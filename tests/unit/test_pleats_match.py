"""Pattern match and lines at risk, each against a slower way of working them out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.pleats import (
    LEFT_OUT,
    Form,
    LineAtRisk,
    Pleating,
    Shows,
    agreement,
    alike,
    lines_at_risk,
    pattern_match,
)
from pleatwright.pleats.lines import APPEARS, LOST, ON_FOLD
from pleatwright.sett import Sett, stripe_name
from pleatwright.trade import Settings, default_settings

SHOP = default_settings()
SAMPLES_AN_INCH = 1000

runs = st.lists(st.tuples(st.sampled_from("BKW"), st.integers(1, 9)), min_size=2, max_size=7)
setts = st.one_of(runs, runs.map(lambda one: one + one[-2:0:-1])).map(Sett.of_runs)
patterned = setts.filter(lambda sett: not sett.plain)
phases = st.floats(-40, 80)
sizes = st.floats(0.02, 0.12)
reveal_widths = st.floats(0.3, 1.1)


def sampled(sett: Sett, phase: float, size: float, like: float, like_size: float, face: float) -> float:
    """The share of a face that agrees, looked at every 1/1000"; sizes: inches a thread."""
    threads = sett.threads()
    count = round(face * SAMPLES_AN_INCH)
    offsets = [(i + 0.5) * face / count - face / 2 for i in range(count)]
    return (
        sum(
            threads[int((phase + u / size) // 1) % sett.n]
            == threads[int((like + u / like_size) // 1) % sett.n]
            for u in offsets
        )
        / count
    )


def slack(face: float, size: float, like_size: float) -> float:
    """What sampling may miss: one sample at every thread's edge of either strip."""
    return (face / size + face / like_size + 4) / (face * SAMPLES_AN_INCH)


@settings(max_examples=60)
@given(patterned, phases, sizes, phases, sizes, reveal_widths)
def test_agreement_is_what_close_looking_finds(
    sett: Sett, phase: float, size: float, like: float, like_size: float, face: float
) -> None:
    exact = agreement(sett, phase, face / size, like, face / like_size)
    seen = sampled(sett, phase, size, like, like_size, face)
    assert exact == pytest.approx(seen, abs=slack(face, size, like_size))


@given(patterned, phases, sizes, phases, sizes, reveal_widths)
def test_agreement_goes_both_ways_and_whole_setts_change_nothing(
    sett: Sett, phase: float, size: float, like: float, like_size: float, face: float
) -> None:
    there = agreement(sett, phase, face / size, like, face / like_size)
    assert 0 <= there <= 1 + 1e-9
    assert agreement(sett, like, face / like_size, phase, face / size) == pytest.approx(there, abs=1e-6)
    shifted = agreement(sett, phase + 3 * sett.n, face / size, like - sett.n, face / like_size)
    assert shifted == pytest.approx(there, abs=1e-6)
    assert agreement(sett, phase, face / size, phase, face / size) == pytest.approx(1)


def knives(count: int, shows: Shows, shown: float | None, classes: tuple[int, ...]) -> Pleating:
    return Pleating(Form.KNIFE, shows, count, 0.0, (1.0,) * (count - 1), 0.0, shown=shown, classes=classes)


def match(sett: Sett, pleating: Pleating, laid: list[tuple[float, float]], reveal: float) -> float:
    """Pattern match of strips given by the thread at their centres and inches a thread."""
    groups = alike(pleating, [centre for centre, _ in laid], [size for _, size in laid], sett.n)
    return pattern_match(sett, pleating, groups, reveal)


strips = st.lists(st.tuples(phases, sizes), min_size=2, max_size=5)


@settings(max_examples=40)
@given(patterned, strips, reveal_widths, st.floats(3, 40), st.sampled_from([1.0, 3.0]))
def test_to_the_sett_every_strip_is_held_against_the_flat_tartan(
    sett: Sett, laid: list[tuple[float, float]], reveal: float, shown: float, wide: float
) -> None:
    pleating = replace(knives(len(laid), Shows.SETT, shown, ()), centre_face=wide)
    exact = match(sett, pleating, laid, reveal)
    seen, allowed = [], []
    for i, (phase, size) in enumerate(laid):
        face = reveal * (wide if i == len(laid) // 2 else 1.0)
        seen.append(sampled(sett, phase, size, phase, reveal / shown, face))
        allowed.append(slack(face, size, reveal / shown))
    assert exact == pytest.approx(sum(seen) / len(seen), abs=max(allowed))


@settings(max_examples=40)
@given(patterned, st.lists(st.tuples(phases, sizes), min_size=4, max_size=6), reveal_widths)
def test_to_the_stripe_every_strip_is_held_against_the_first_of_its_class(
    sett: Sett, laid: list[tuple[float, float]], reveal: float
) -> None:
    classes = tuple(i % 2 for i in range(len(laid)))
    pleating = knives(len(laid), Shows.STRIPE, None, classes)
    exact = match(sett, pleating, laid, reveal)
    seen = [sampled(sett, *strip, *laid[i % 2], reveal) for i, strip in enumerate(laid)]
    allowed = max(slack(reveal, size, like) for _, size in laid for _, like in laid)
    assert exact == pytest.approx(sum(seen) / len(seen), abs=allowed)


def test_a_wide_centre_box_is_left_out_of_the_comparison() -> None:
    sett = Sett.of_runs([("B", 10), ("W", 4)])
    pleating = replace(knives(3, Shows.STRIPE, None, (0, LEFT_OUT, 0)), centre_face=3.0)
    neighbours = [(5.0, 0.1), (12.0, 0.1)]
    without = match(sett, knives(2, Shows.STRIPE, None, (0, 0)), neighbours, 0.5)
    assert without < 1
    for box in (5.0, 12.0, 13.0):
        laid = [neighbours[0], (box, 0.1), neighbours[1]]
        assert match(sett, pleating, laid, 0.5) == pytest.approx(without)


def test_running_division_on_cloth_as_reckoned_is_true_at_the_hips() -> None:
    sett = Sett.of_runs([("B", 10), ("W", 4), ("K", 9), ("W", 4)])
    pleating = knives(4, Shows.SETT_RUNNING, 7.5, ())
    laid = [(1.0, 0.1), (35.5, 0.1), (70.0, 0.1), (104.5, 0.1)]
    assert match(sett, pleating, laid, 0.75) == pytest.approx(1)
    assert match(sett, pleating, laid, 0.6) < 1


def test_plain_cloth_always_agrees() -> None:
    sett = Sett.of_runs([("G", 40)])
    assert match(sett, knives(2, Shows.PLAIN, None, ()), [(0.3, 0.1), (70.1, 0.2)], 0.8) == 1


sixty_fourths = st.integers(1, 8).map(lambda units: Fraction(units, 64))


@st.composite
def laid_strips(draw: st.DrawFn) -> tuple[Sett, Pleating, list[Fraction], list[Fraction], Fraction, Fraction]:
    """Strips whose every figure is an exact binary fraction, so that a limit is met exactly or not at all."""
    sett = draw(patterned)
    count = draw(st.integers(1, 4))
    centres = [Fraction(draw(st.integers(-60, 200)), 2) for _ in range(count)]
    thread_sizes = [draw(sixty_fourths) for _ in range(count)]
    hip, strap = (Fraction(draw(st.integers(12, 36)), 32) for _ in range(2))
    wide = draw(st.sampled_from([1.0, 3.0]))
    pleating = replace(knives(count, Shows.STRIPE, None, (0,) * count), centre_face=wide)
    return sett, pleating, centres, thread_sizes, hip, strap


def brute_force(
    laid: tuple[Sett, Pleating, list[Fraction], list[Fraction], Fraction, Fraction], shop: Settings
) -> dict[str, tuple[set[int], set[str], Fraction]]:
    """Line by line over many repeats, in exact arithmetic: pleats, reasons, greatest change of width."""
    sett, pleating, centres, thread_sizes, hip, strap = laid
    limits, lost_share = shop.pleats, Fraction(shop.pleats.lost_share)
    found: dict[str, tuple[set[int], set[str], Fraction]] = {}
    for i, (centre, size) in enumerate(zip(centres, thread_sizes, strict=True)):
        face = Fraction(pleating.centre_face) if i == pleating.pleats // 2 else Fraction(1)
        for stripe in sett.stripes:
            if stripe.threads * size > limits.narrow_line:
                continue
            reach = int(2 * face / size / sett.n) + 2
            turn = int(centre // sett.n)
            for whole in range(turn - reach, turn + reach + 1):
                left = (stripe.start + whole * sett.n - centre) * size
                right = left + stripe.threads * size
                shown = [
                    max(Fraction(0), min(right, half) - max(left, -half))
                    for half in (face * hip / 2, face * strap / 2)
                ]
                folds = (-face * hip / 2, face * hip / 2)
                why = set()
                if shown[0] > 0 and shown[1] <= lost_share * shown[0]:
                    why.add(LOST)
                if shown[0] == 0 and shown[1] > 0:
                    why.add(APPEARS)
                if min(abs(edge - fold) for edge in (left, right) for fold in folds) <= limits.fold_clearance:
                    why.add(ON_FOLD)
                if why:
                    pleats, reasons, change = found.setdefault(
                        stripe_name(sett, stripe), (set(), set(), Fraction(0))
                    )
                    pleats.add(i + 1)
                    reasons |= why
                    found[stripe_name(sett, stripe)] = (
                        pleats,
                        reasons,
                        max(change, abs(shown[0] - shown[1])),
                    )
    return found


@settings(max_examples=150)
@given(laid_strips())
def test_lines_at_risk_are_those_that_counting_line_by_line_finds(
    laid: tuple[Sett, Pleating, list[Fraction], list[Fraction], Fraction, Fraction],
) -> None:
    sett, pleating, centres, thread_sizes, hip, strap = laid
    groups = alike(pleating, [float(c) for c in centres], [float(size) for size in thread_sizes], sett.n)
    found = lines_at_risk(sett, groups, float(hip), float(strap), SHOP)
    assert len({line.name for line in found}) == len(found)
    expected = brute_force(laid, SHOP)
    assert {line.name: (set(line.pleats), set(line.why)) for line in found} == {
        name: (pleats, why) for name, (pleats, why, _) in expected.items()
    }
    for line in found:
        assert abs(line.lost) == pytest.approx(float(expected[line.name][2]))


def risks(
    sett: Sett, laid: list[tuple[float, float]], hip: float, strap: float, shop: Settings = SHOP
) -> tuple[LineAtRisk, ...]:
    """Lines at risk on knives given by the thread at their centres and inches a thread."""
    pleating = knives(len(laid), Shows.STRIPE, None, (0,) * len(laid))
    groups = alike(pleating, [centre for centre, _ in laid], [size for _, size in laid], sett.n)
    return lines_at_risk(sett, groups, hip, strap, shop)


def lines_on(centre: float, hip: float, strap: float) -> dict[str, LineAtRisk]:
    """A white line of 1/4" in wide blue, threads of 1/16", on one strip."""
    sett = Sett.of_runs([("W", 4), ("B", 60)])
    return {line.name.split(",")[0]: line for line in risks(sett, [(centre, 1 / 16)], hip, strap)}


def test_a_central_line_is_at_no_risk() -> None:
    assert lines_on(2.0, 0.75, 0.625) == {}


def test_a_line_that_the_taper_takes_is_lost_towards_the_strap_line() -> None:
    line = lines_on(6.0, 0.75, 0.5)["white"]
    assert LOST in line.why
    assert line.lost == pytest.approx(0.125)
    assert (line.shown_at_hip, line.shown_at_strap) == pytest.approx((0.25, 0.125))


def test_on_a_belly_a_line_may_first_show_above_the_hip_line() -> None:
    line = lines_on(10.0, 0.75, 1.0)["white"]
    assert APPEARS in line.why
    assert line.lost < 0


def test_a_line_whose_edge_lies_on_a_fold_is_at_risk_even_without_taper() -> None:
    assert lines_on(7.0, 0.75, 0.75)["white"].why == (ON_FOLD,)


def test_a_wide_stripe_is_no_line() -> None:
    assert "blue" not in lines_on(6.0, 0.75, 0.5)
    thinner = replace(SHOP, pleats=replace(SHOP.pleats, narrow_line=Fraction(3, 16)))
    sett = Sett.of_runs([("W", 4), ("B", 60)])
    assert risks(sett, [(6.0, 1 / 16)], 0.75, 0.5, thinner) == ()


def test_plain_cloth_has_no_lines() -> None:
    sett = Sett.of_runs([("G", 4)])
    assert risks(sett, [(0.0, 0.01)], 0.7, 0.5) == ()
