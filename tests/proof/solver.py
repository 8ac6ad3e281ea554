"""Placing one kilt as a mixed-integer programme: which whole sett each part lies on, where the seam goes.

A second opinion on settling, by another road than trying ways in turn.  For a single strip the cloth may
wander; a joined one must be even, so that the seam's place does not move the pattern.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pleatwright.wearer import LevelName
from tests.proof.candidates import Pleats
from tests.proof.evaluator import Evaluator, Stretch
from tests.proof.strip import Joined, Strip

SLACK = 1e-6
"""Inches by which a part may lie too near its neighbour: the solver's own rounding."""


@dataclass(frozen=True)
class Faults:
    """Stretches of the sewn strip that must not show left of the seam, and right of it."""

    left: list[Stretch]
    right: list[Stretch]


def faults_of(strip: Strip, joined: Joined | None, mirrored: bool) -> Faults:
    """The faults of both strips on the sewn one, as they lie before anything is cut off."""
    if joined is None:
        return Faults(list(strip.blocked), list(strip.blocked))
    middle = (joined.low + joined.high) / 2
    on = joined.first.tape(middle) - joined.second.tape(middle)
    first = list(joined.first.blocked)
    second = [(a + on, b + on) for a, b in joined.second.blocked]
    if not mirrored:
        return Faults(first, second)

    def seen(faults: list[Stretch]) -> list[Stretch]:
        return [(strip.length - b, strip.length - a) for a, b in faults]

    return Faults(seen(second), seen(first))


def hit(place: Stretch, faults: list[Stretch]) -> bool:
    return any(place[0] < b and a < place[1] for a, b in faults)


def least_loss(one: Evaluator, pleats: Pleats, apron: float) -> float | None:
    """Points that cloth and hidden cloth cost at least; None if there is no place for the kilt."""
    import highspy

    strip, window = one.strip, one.laid.window
    faults = faults_of(strip, one.laid.joined, one.laid.mirrored)
    half, half_hip = one.widest(pleats) / 2, one.reveal(pleats, LevelName.HIP) / 2
    start = one.facing + one.outer
    model = highspy.Highs()
    model.silent()
    for name in ("mip_rel_gap", "mip_abs_gap"):
        model.setOptionValue(name, 0.0)

    def part(phase: float, sound: Callable[[float], bool]) -> tuple[list[Any], list[float]]:
        """A binary for every whole sett the part may lie on, and the threads."""
        first = strip.next(start, phase)
        threads = [first + k * one.n for k in range(int((strip.thread(one.length) - first) // one.n) + 1)]
        chosen = [model.addBinary() for _ in threads]
        for choice, thread in zip(chosen, threads, strict=True):
            if not sound(thread):
                model.addConstr(choice <= 0)
        if chosen:
            model.addConstr(sum(chosen) == 1)
        return chosen, threads

    def where(chosen: list[Any], places: list[float]) -> Any:
        return sum(choice * place for choice, place in zip(chosen, places, strict=True))

    def over_sound(thread: float) -> bool:
        return not hit((strip.tape(thread) - one.outer, strip.tape(thread) + one.side), faults.left)

    def under_sound(thread: float) -> bool:
        return not hit((strip.tape(thread) - one.side, strip.tape(thread) + one.under_outer), faults.right)

    overs, over_threads = part(apron, over_sound)
    firsts, first_threads = part(pleats.first, lambda _: True)
    unders, under_threads = part(apron, under_sound)
    if not (overs and firsts and unders):
        return None
    over, under = (
        where(chosen, [strip.tape(thread) for thread in threads])
        for chosen, threads in ((overs, over_threads), (unders, under_threads))
    )
    rows = [one.faces(strip, pleats, thread) for thread in first_threads]
    first = where(firsts, [strip.tape(thread) for thread in first_threads])
    span = sum(pleats.gaps)
    last = where(firsts, [strip.tape(thread + span) for thread in first_threads])
    used = under + one.under_outer + one.facing
    model.addConstr(first - over >= one.side + one.deep + half - SLACK)
    model.addConstr(under - last >= half + one.reverse + one.side - SLACK)
    model.addConstr(used <= one.length + SLACK)
    if window is None:
        for choice, row in zip(firsts, rows, strict=True):
            if any(hit(face, faults.left) for face in row):
                model.addConstr(choice <= 0)
    else:
        low, high = (strip.tape(thread) for thread in window)
        seam = model.addVariable(low, high)
        _seam(model, one, (seam, low, high), (over, under), firsts, rows, faults)
    hidden = model.addVariable(0)
    deep, reverse = first - half_hip - over - one.side, under - one.side - last - half_hip
    model.addConstr(hidden >= deep - one.deep + reverse - one.reverse)
    model.minimize(one.shop.weights.cloth / 36 * used + one.shop.weights.bulk * hidden)
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return float(model.getObjectiveValue())


def _seam(
    model: Any, one: Evaluator, between: tuple[Any, float, float], aprons: tuple[Any, Any], firsts: list[Any],
    rows: list[list[Stretch]], faults: Faults,
) -> None:  # fmt: skip
    """The seam lies in one half of one gap, clear of fold and faces; faults count on their own side of it."""
    many, clear, far = len(rows[0]), float(one.shop.cloth.join_clearance), one.length

    def edge(strip: int, side: int) -> Any:
        return sum(choice * row[strip][side] for choice, row in zip(firsts, rows, strict=True))

    beside = []  # (the gap's number, whether the seam is there)
    seam, low, high = between
    for gap in range(many + 1):
        among = 0 < gap < many
        if gap == 1 or (among and not any(row[gap - 1][1] < high and low < row[gap][0] for row in rows)):
            continue
        left = aprons[0] + one.side if gap == 0 else edge(gap - 1, 1)
        right = aprons[1] - one.side if gap == many else edge(gap, 0)
        fold = 0.5 * left + 0.5 * right
        for near, beyond in ((left, fold), (fold, right)):
            here = model.addBinary()
            model.addConstr(seam - near >= clear - SLACK - far + far * here)
            model.addConstr(beyond - seam >= clear - SLACK - far + far * here)
            beside.append((gap, here))
    model.addConstr(sum(here for _, here in beside) == 1)
    for choice, row in zip(firsts, rows, strict=True):
        for strip, face in enumerate(row):
            if hit(face, faults.left):
                model.addConstr(choice + sum(here for gap, here in beside if gap > strip) <= 1)
            if hit(face, faults.right):
                model.addConstr(choice + sum(here for gap, here in beside if gap <= strip) <= 1)
