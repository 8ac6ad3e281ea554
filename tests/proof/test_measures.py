"""The measures against close looking, every 1/1000", and against setts whose answer is seen at a glance."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor

import pytest

from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.pleats import Form, Kind, Shows, Wishes
from pleatwright.sett import Sett, Tartan
from pleatwright.trade import PleatsSettings, default_settings
from pleatwright.wearer import Body, LevelName, Taper, sizes
from tests.proof.cases import small_case
from tests.proof.evaluator import evaluate
from tests.proof.pattern import Line, Pattern
from tests.proof.test_best_of_everything import FEW

SAMPLES = 1000
SHOP = default_settings()


def colours(pattern: Pattern, thread: float, size: float, face: float) -> list[str]:
    """The colours across a face, every 1/1000"; `size` inches a thread."""
    count = round(face * SAMPLES)
    return [pattern.colour(thread + ((i + 0.5) * face / count - face / 2) / size) for i in range(count)]


def local_size(option: Option, request: Request, thread: float) -> float:
    if option.cloth is None:
        return float(request.sett_along) / request.tartan.weft.n
    return option.cloth.run(request.tartan.weft).inches_a_thread(thread)


@pytest.mark.parametrize("seed", FEW)
def test_pattern_match_is_what_close_looking_finds(seed: int) -> None:
    request = small_case(seed)
    pattern = Pattern.of(request.tartan.weft)
    for option, kilt in zip(make_plan(request).options, evaluate(request).kept, strict=True):
        for level in option.levels:
            if level.match is None or option.shows is Shows.PLAIN:
                continue
            shares, slack, first_of = [], 0.0, dict[int, list[str]]()
            for strip in option.strips:
                size, face = local_size(option, request, strip.thread), strip.face * level.reveal
                seen = colours(pattern, strip.thread, size, face)
                if option.step is not None:
                    flat = float(request.sett_along) / pattern.n * level.reveal / option.step
                    meant = colours(pattern, strip.thread, flat, face)
                else:
                    like = kilt.pleats.like[strip.number - 1]
                    if like == -1:
                        continue
                    meant = first_of.setdefault(like, seen)
                shares.append(sum(a == b for a, b in zip(seen, meant, strict=True)) / len(seen))
                slack = max(slack, (3 * face / size + 6) / len(seen))
            assert level.match == pytest.approx(sum(shares) / len(shares), abs=slack)


@pytest.mark.parametrize("seed", FEW)
def test_lines_at_risk_are_what_close_looking_finds(seed: int) -> None:
    """Each narrow line of each pleat; only what lies on the very edge of a limit may be told either way."""
    request = small_case(seed)
    pattern, limits = Pattern.of(request.tartan.weft), request.settings.pleats
    names = {pattern.centre(line): pattern.line_of(line) for line in pattern.lines}
    for option in make_plan(request).options:
        told = {(names[line.phase], pleat) for line in option.lines_at_risk for pleat in line.pleats}
        hip, strap = option.level(LevelName.HIP).reveal, option.level(LevelName.STRAP).reveal
        surely, maybe = set(), set()
        for strip in option.strips:
            size, face = local_size(option, request, strip.thread), strip.face
            for name, sure in close_look(pattern, strip.thread, size, face * hip, face * strap, limits):
                maybe.add((name, strip.number))
                surely |= {(name, strip.number)} if sure else set()
        assert surely <= told <= maybe


def close_look(
    pattern: Pattern, thread: float, size: float, hip: float, strap: float, limits: PleatsSettings
) -> Iterator[tuple[float, bool]]:
    """Lines that are, or may be, at risk on a strip, from its colours every 1/1000": name, whether surely."""
    near, reach = 3 / SAMPLES, max(hip, strap) / 2 + 0.5
    owners = {
        j % pattern.n: line for line in pattern.lines for j in range(line.start, line.start + line.threads)
    }
    runs: dict[tuple[Line, int], list[float]] = {}
    for i in range(round(2 * reach * SAMPLES)):
        u = (i + 0.5) / SAMPLES - reach
        place = floor(thread + u / size)
        line = owners[place % pattern.n]
        runs.setdefault((line, (place - line.start) // pattern.n), []).append(u)
    for (line, _), places in runs.items():
        if line.threads * size > float(limits.narrow_line) + 1e-6:
            continue
        at_hip = sum(abs(u) < hip / 2 for u in places) / SAMPLES
        at_strap = sum(abs(u) < strap / 2 for u in places) / SAMPLES
        edges = [edge for edge in (places[0], places[-1]) if abs(edge) < reach - near]
        off = min((abs(abs(edge) - hip / 2) for edge in edges), default=1.0) - float(limits.fold_clearance)
        kept = at_strap - limits.lost_share * at_hip
        surely = (at_hip > near and kept < -near) or (at_hip == 0 and at_strap > near) or off < -near
        maybe = (at_hip > 0 and kept < near) or (at_hip < near and at_strap > 0) or off < near
        if surely or maybe:
            yield pattern.line_of(line), surely


# ---------------------------------------------------------------------- right answers known by sight


def plan_of(sett: Sett, size: Fraction, kinds: set[Kind], waist: int, pleats: int) -> Plan:
    """Cloth not bought yet; 20 1/4" of pleats at the hips, so that 27 pleats show 3/4" each."""
    body = Body(Fraction(waist), Fraction(40), Fraction(22), Fraction(7))
    made = sizes(body, taper=Taper.MAN, settings=SHOP)
    tartan = Tartan("invented", sett, sett, (), "", "whole")
    return make_plan(Request(made, tartan, size, size, None, Wishes(frozenset(kinds), pleats), "right", SHOP))


def test_a_single_white_line_sits_in_the_middle_of_every_reveal() -> None:
    sett = Sett.of_runs([("B", 60), ("W", 4)])
    first = plan_of(sett, Fraction(4), {Kind(Form.KNIFE, Shows.STRIPE)}, 34, 27).options[0]
    assert [strip.phase for strip in first.strips] == [62.0] * 27
    assert [level.match for level in first.levels if level.match is not None] == [1.0, 1.0, 1.0]
    assert first.lines_at_risk == ()
    assert first.mirrors


def test_a_sett_that_divides_exactly_loses_nothing() -> None:
    """6" in eight parts of 3/4", and no taper: the pleats show the flat tartan itself."""
    sett = Sett.of_runs([("G", 20), ("B", 8), ("K", 20), ("B", 8)])
    first = plan_of(sett, Fraction(6), {Kind(Form.KNIFE, Shows.SETT)}, 40, 27).options[0]
    assert first.division == 8
    hip = first.level(LevelName.HIP)
    assert hip.reveal == pytest.approx(0.75)
    assert hip.match == pytest.approx(1)
    assert first.points.square == pytest.approx(0, abs=1e-9)


def test_a_sett_hardly_wider_than_a_reveal_cannot_be_divided() -> None:
    """1" in two parts of 1/2" would be repeated half over on reveals of 3/4"; running on is left."""
    sett = Sett.of_runs([("G", 6), ("K", 6)])
    kinds = {Kind(Form.KNIFE, Shows.SETT), Kind(Form.KNIFE, Shows.SETT_RUNNING)}
    plan = plan_of(sett, Fraction(1), kinds, 34, 27)
    assert {option.shows for option in plan.options} == {Shows.SETT_RUNNING}


def test_where_every_fold_splits_a_white_line_every_pleat_has_it_at_risk() -> None:
    """Two parts of 3/4", black and green in the middles: each fold runs along the middle of a white line."""
    sett = Sett.of_runs([("K", 18), ("W", 2), ("G", 18), ("W", 2)])
    first = plan_of(sett, Fraction(3, 2), {Kind(Form.KNIFE, Shows.SETT)}, 40, 27).options[0]
    (line,) = first.lines_at_risk
    assert line.name.startswith("white")
    assert line.pleats == tuple(range(1, 28))
    assert first.points.lines == pytest.approx(SHOP.weights.line)
