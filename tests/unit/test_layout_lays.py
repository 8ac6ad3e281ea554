"""Plans on cloth with faults, joins and readings: what must not show does not, the map is followed."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from pleatwright.cloth import Anchor, Fault, Piece, Reading, Run
from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.layout.settling import stretches
from pleatwright.lengths import write_inches
from pleatwright.pleats import Form, Kind, Shows, Wishes
from pleatwright.sett import Tartan, parse_count
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, LevelName, Taper, sizes

SETTINGS = default_settings()
SETT = parse_count("B/24 W4 B24 R2 K24 G24 W/2").weft
TARTAN = Tartan("Tarnside", SETT, SETT, (), "", "whole")
WORN = sizes(Body(Fraction(34), Fraction(41), Fraction(22), Fraction(6)), taper=Taper.MAN, settings=SETTINGS)
LEFT, SELVEDGE = Anchor(12.0, Fraction(1), "blue"), Anchor(12.0, Fraction(2), "blue")
SINGLE = Piece(Fraction(30), Fraction(306), Fraction(13, 2), Fraction(13, 2), LEFT, SELVEDGE)
DOUBLE = replace(SINGLE, width=Fraction(58), length=Fraction(162))
TO_THE_SETT = Wishes(frozenset({Kind(Form.KNIFE, Shows.SETT)}))


def planned(piece: Piece, side: str = "right", wishes: Wishes = TO_THE_SETT, tartan: Tartan = TARTAN) -> Plan:
    sett = Fraction(13, 2)
    return make_plan(Request(WORN, tartan, sett, sett, piece, wishes, side, SETTINGS))


def visible(option: Option) -> list[tuple[float, float]]:
    reveal = max(level.reveal for level in option.levels)
    aprons = [(apron.left, apron.right) for apron in (option.over_apron, option.under_apron)]
    return aprons + [(s.centre - s.face * reveal / 2, s.centre + s.face * reveal / 2) for s in option.strips]


@pytest.mark.parametrize("side", ["right", "left"])
@pytest.mark.parametrize("where", ["over-apron", "pleat 1", "pleat 14", "last pleat", "under-apron"])
def test_a_fault_never_shows_wherever_it_lies(where: str, side: str):
    clean = planned(SINGLE, side).options[0]
    at = {
        "over-apron": clean.over_apron.centre,
        "pleat 1": clean.strips[0].centre,
        "pleat 14": clean.strips[13].centre,
        "last pleat": clean.strips[-1].centre,
        "under-apron": clean.under_apron.centre,
    }[where]
    start = Fraction(round(at * 16), 16) - Fraction(1, 8)
    fault = Fault("knot", start, start + Fraction(1, 4))
    plan = planned(replace(SINGLE, faults=(fault,)), side)
    option = plan.options[0]
    assert option.score <= clean.score + 1e-9
    assert option.cloth is not None
    if not option.cloth.turned_end_for_end:
        low, high = float(fault.start), float(fault.end)
        assert all(high <= left + 1e-9 or right <= low + 1e-9 for left, right in visible(option))


def test_a_fault_in_a_fold_costs_nothing():
    clean = planned(SINGLE).options[0]
    first, second = clean.strips[3].centre, clean.strips[4].centre
    middle = Fraction(round((first + second) / 2 * 16), 16)
    option = planned(replace(SINGLE, faults=(Fault("stain", middle, middle + Fraction(1, 8)),))).options[0]
    assert option.strips == clean.strips


@pytest.mark.parametrize("side", ["right", "left"])
def test_two_strips_are_joined_out_of_sight_and_away_from_folds_and_the_strap_hole(side: str):
    option = planned(DOUBLE, side).options[0]
    assert option.cloth is not None
    join = option.cloth.join
    assert join is not None
    clear = float(SETTINGS.cloth.join_clearance)
    places = sorted(visible(option))
    gap = next(i for i, (a, b) in enumerate(pairwise(places)) if a[1] <= join.tape <= b[0])
    left, right = places[gap][1], places[gap + 1][0]
    fold = (left + right) / 2
    assert min(join.tape - left, right - join.tape, abs(join.tape - fold)) >= clear - 1e-9
    first_two = {option.strips[0].centre, option.strips[1].centre}
    beside = {sum(places[gap]) / 2, sum(places[gap + 1]) / 2}
    assert not all(any(abs(a - b) < 1e-6 for b in first_two) for a in beside)
    run = DOUBLE.run(TARTAN)
    apart = (run.thread_at(join.first_cut) - option.cloth.run(SETT).thread_at(join.tape)) / SETT.n
    assert apart == pytest.approx(round(apart), abs=1e-6)


def test_a_seam_lies_beside_a_fold_in_the_widest_gap_but_not_where_the_strap_hole_is():
    run = Run.uniform(SETT, SETT.n, 0.0, 100.0)  # a thread is an inch
    starts, ends = np.array([[0.0, 16, 40, 42, 50]]), np.array([[10.0, 17, 41, 43, 60]])
    clear = float(SETTINGS.cloth.join_clearance)
    beside = [(10, 13), (13, 16), (43, 46.5), (46.5, 50)]  # two folds; from 17 to 40 is the strap hole
    halves = [(start + clear, end - clear) for start, end in beside]
    assert stretches(run, (0, 100), starts, ends, SETTINGS) == halves[2:] + halves[:2]
    assert stretches(run, (0, 14), starts, ends, SETTINGS)[-1] == (13 + clear, 14)


def test_an_asymmetric_sett_is_told_why_it_cannot_be_joined():
    sett = parse_count("...B20 K4 G16 Y2 R8 K10...").weft
    tartan = Tartan("Fellgate", sett, sett, (), "", "whole")
    piece = replace(DOUBLE, length=Fraction(300), left_end=Anchor(10.0, Fraction(1), "blue"), selvedge=None)
    plan = planned(piece, tartan=tartan, wishes=Wishes(frozenset({Kind(Form.KNIFE, Shows.STRIPE)})))
    assert "cloth.no-join" in {finding.code for finding in plan.findings}
    assert all(option.cloth is not None and option.cloth.join is None for option in plan.options)


def test_horizontals_that_miss_are_reported_with_what_can_be_done():
    finding = next(f for f in planned(DOUBLE).findings if f.code == "cloth.horizontals")
    assert "strip" in finding.do


@pytest.mark.parametrize("height", [Fraction(1), Fraction(2), Fraction(4), Fraction(6)])
def test_the_strip_to_hem_is_the_one_whose_lines_lie_higher(height: Fraction):
    # the first blue pivot lies `height` above the selvedge; from the other one width - height - whole setts
    piece = replace(DOUBLE, width=Fraction(58), selvedge=Anchor(12.0, height, "blue"))
    size = Fraction(13, 2)
    higher = (piece.width - 2 * height + size / 2) % size - size / 2
    finding = next(f for f in planned(piece).findings if f.code == "cloth.horizontals")
    assert f"Rip the {'second' if higher > 0 else 'first'} strip" in finding.do
    assert finding.seen.endswith(f" by {write_inches(abs(higher))}")


@pytest.mark.parametrize("side", ["right", "left"])
@pytest.mark.parametrize(
    "width, height, said",
    [
        (Fraction(58), Fraction(3), "their horizontals meet."),
        (Fraction(58), Fraction(2), 'miss each other by 2", so the second strip is ripped that much higher'),
        (Fraction(58), Fraction(4), 'miss each other by 2", so the first strip is ripped that much higher'),
        (Fraction(99, 2), Fraction(1), 'miss each other by 2", and no hem'),
    ],
)
def test_a_joined_kilt_says_in_its_reasons_by_how_much_the_horizontals_miss(
    width: Fraction, height: Fraction, said: str, side: str
):
    piece = replace(DOUBLE, width=width, selvedge=Anchor(12.0, height, "blue"))
    option = planned(piece, side).options[0]
    words = next(reason for reason in option.reasons if reason.startswith("Sewn from two strips"))
    assert said in words
    assert option.join is not None
    assert ("hemmed" in words) is (option.join.hem > 0)


def test_horizontals_that_miss_cost_points_for_every_inch_hemmed_or_not():
    weights = SETTINGS.weights
    for height in (Fraction(3), Fraction(2), Fraction(5, 2), Fraction(4)):
        option = planned(replace(DOUBLE, selvedge=Anchor(12.0, height, "blue"))).options[0]
        missed = abs(58 - 2 * height - 52)
        assert option.points.join == pytest.approx(weights.join + weights.join_jump * float(missed))


def test_a_fault_that_would_show_below_the_levels_of_a_hemmed_strip_is_kept_out_of_sight():
    def at_the_apron(low: Fraction) -> Fault:
        return Fault("knot", Fraction(12), Fraction(49, 4), low=low, high=low + 1)

    piece = replace(DOUBLE, selvedge=Anchor(12.0, Fraction(4), "blue"))  # the first strip is ripped 2" higher
    clean, total = planned(piece).options[0], WORN.total
    for low, kept in ((total + 1, False), (total + Fraction(9, 4), True)):
        option = planned(replace(piece, faults=(at_the_apron(low),))).options[0]
        assert (option.over_apron.centre == clean.over_apron.centre) is kept


def wandering() -> Piece:
    """Readings of the first blue pivot in every second repeat, the cloth stretching by 2% along the way."""
    at, readings = 1.0, []
    for turn in range(0, 46, 2):
        readings.append(Reading("blue", 12.0 + turn * SETT.n, at))
        at += 13.0 * (1 + 0.02 * turn / 46)
    return replace(SINGLE, readings=tuple(readings))


@pytest.mark.parametrize("side", ["right", "left"])
def test_everything_follows_the_map(side: str):
    piece = wandering()
    run = piece.run(TARTAN)
    for option in planned(piece, side, Wishes()).options[:6]:
        for strip in option.strips:
            apart = (run.thread_at(strip.centre) - strip.thread) / SETT.n
            assert apart == pytest.approx(round(apart), abs=1e-6)
        for apron in (option.over_apron, option.under_apron):
            apart = (run.thread_at(apron.centre) - apron.phase) / SETT.n
            assert apart == pytest.approx(round(apart), abs=1e-6)
        gaps = np.abs(np.diff([strip.centre for strip in option.strips]))
        hip = option.level(LevelName.HIP)
        if option.form is Form.KNIFE:
            assert hip.depth_least == pytest.approx((gaps.min() - hip.reveal) / 2, abs=1e-9)
            assert hip.depth_greatest == pytest.approx((gaps.max() - hip.reveal) / 2, abs=1e-9)
            assert hip.depth_greatest > hip.depth_least  # the cloth stretches
        assert sum(s.face * hip.reveal for s in option.strips) == pytest.approx(
            float(WORN.level(LevelName.HIP).pleated)
        )
