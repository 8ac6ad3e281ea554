"""An alteration: from a kilt and new measurements to what is done, step by step; or why it must be remade."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from pleatwright.bench.alter.length import new_length
from pleatwright.bench.alter.step import Step, Written
from pleatwright.bench.closing.hours import half_hours
from pleatwright.bench.closing.kilt import Kilt
from pleatwright.bench.closing.ranges import (
    NONE,
    Range,
    apron_hours,
    apron_range,
    buckle_hours,
    buckle_range,
    hole_range,
    pleat_hours,
    pleat_range,
)
from pleatwright.lengths import Grid, Units, on_grid, spread
from pleatwright.trade import Settings


class Verdict(StrEnum):
    """What becomes of the kilt."""

    AS_IT_IS = "leave it as it is"
    ALTER = "alter it"
    REMAKE = "it must be remade"


@dataclass(frozen=True)
class Wanted:
    """The new rounds and the new drop, with ease, in inches; None: as it is."""

    waist: Fraction | None = None
    hips: Fraction | None = None
    drop: Fraction | None = None


@dataclass(frozen=True)
class Alteration:
    """What is done to a kilt, in the order it is done; inches, hours.

    `after`: the kilt then, as far as the steps reach.  `why`: what cannot be had, where it must be remade.
    """

    before: Kilt
    after: Kilt
    wanted: Wanted
    verdict: Verdict
    steps: tuple[Step, ...]
    hours: float
    why: tuple[str, ...]


def alter(kilt: Kilt, wanted: Wanted, settings: Settings, *, units: Units, grid: Grid) -> Alteration:
    """The least work that gives the new sizes: holes, buckles, aprons, pleats, aprons and pleats together.

    A change at the waist alone is first looked for in straps and buckles.  A round within the good
    tolerance is left alone.  Nothing is ever asked of the cloth that is not in it.
    """
    write = Written(units, grid)
    good = settings.sewing.off_good
    dw, dh = (
        _change(new, old, good, grid) for new, old in ((wanted.waist, kilt.waist), (wanted.hips, kilt.hips))
    )
    after, steps, why = _girths(kilt, dw, dh, settings, write)
    after, longer, too_long = new_length(after, wanted.drop, settings, write)
    steps, why = (*steps, *longer), (*why, *too_long)
    steps = tuple(replace(step, hours=half_hours(step.hours)) for step in steps)
    verdict = Verdict.REMAKE if why else Verdict.ALTER if steps else Verdict.AS_IT_IS
    if why:
        return Alteration(kilt, kilt, wanted, verdict, (), 0.0, why)
    return Alteration(kilt, after, wanted, verdict, steps, sum(step.hours for step in steps), ())


def _change(new: Fraction | None, old: Fraction, good: Fraction, grid: Grid) -> Fraction:
    """How much more is wanted, on the tape's grid; nothing where the difference is within good work."""
    if new is None or abs(new - old) <= good:
        return NONE
    return on_grid(new - old, grid)


Girths = tuple[Kilt, tuple[Step, ...], tuple[str, ...]]


def _girths(kilt: Kilt, waist: Fraction, hips: Fraction, settings: Settings, write: Written) -> Girths:
    if not waist and not hips:
        return kilt, (), ()
    if not hips:
        closed = _straps(kilt, waist, settings, write)
        if closed is not None:
            return closed
    aprons = apron_range(kilt, settings)
    pleats = pleat_range(kilt, settings, write.grid.step)
    if aprons.holds(waist, hips):
        return kilt.let_out(waist, hips), _aprons(kilt, waist, hips, settings, write), ()
    if pleats.holds(waist, hips):
        return kilt.resewn(waist, hips), (_pleats(kilt, waist, hips, settings, write),), ()
    step = write.grid.step
    most_waist, most_hips = (int(part / step) * step for part in aprons.nearest(waist, hips))
    rest = (waist - most_waist, hips - most_hips)
    moved = kilt.let_out(most_waist, most_hips)
    if pleat_range(moved, settings, write.grid.step).holds(*rest):
        steps = (
            _pleats(moved, *rest, settings, write),
            *_aprons(kilt, most_waist, most_hips, settings, write),
        )
        return moved.resewn(*rest), steps, ()
    return kilt, (), _cannot(waist, hips, aprons, pleats, write)


def _straps(kilt: Kilt, waist: Fraction, settings: Settings, write: Written) -> Girths | None:
    """Another hole, where one fits; else both buckles moved."""
    holes, buckles = hole_range(kilt), buckle_range(kilt, settings)
    on = round(waist / kilt.hole_step)
    off = waist - on * kilt.hole_step
    if holes.holds(on * kilt.hole_step, NONE) and abs(off) <= settings.sewing.off_good:
        number = kilt.hole + on
        which = f"hole {number} in place of {kilt.hole}, counted from the apron's edge"
        step = Step("another hole", f"Close both straps at {which}.", waist, NONE, 0.0)
        return replace(kilt, waist=kilt.waist + on * kilt.hole_step, hole=number), (step,), ()
    if not buckles.holds(waist, NONE):
        return None
    way = "forward" if waist > 0 else "back"
    step = Step(
        "move the buckles",
        f"Move the buckles {way} by {write(abs(waist))}, at both hips alike; sew them through stabiliser and "
        "interfacing as before.",
        waist,
        NONE,
        buckle_hours(settings),
    )
    return replace(kilt, waist=kilt.waist + waist, buckle_room=kilt.buckle_room - waist), (step,), ()


def _aprons(
    kilt: Kilt, waist: Fraction, hips: Fraction, settings: Settings, write: Written
) -> tuple[Step, ...]:
    """Both aprons, each with where its cloth comes from; the hours are for both together."""
    hours = apron_hours(settings) / 2
    steps = []
    for side, fold in ((kilt.over, "deep pleat"), (kilt.under, "reverse pleat")):
        new = side.let_out(waist, hips)
        given = (side.facing - new.facing, side.pleat - new.pleat)
        facing = on_grid(given[0], write.grid)
        told = (facing, on_grid(sum(given), write.grid) - facing)  # together what is told of the whole
        text = (
            f"Make the {side.name} {write.wider(waist)} at the strap line, {write.wider(hips)} at the hip "
            f"line and the bottom: it then measures {write(new.waist)}, {write(new.hips)} and "
            f"{write(new.bottom)}."
        )
        text += "".join(
            f" {where[:1].upper()}{where[1:]} {'gives' if cloth > 0 else 'takes'} {write(abs(cloth))}."
            for cloth, where in zip(told, ("the facing", f"the {fold}"), strict=True)
            if cloth
        )
        off = abs(given[0] - given[1]) / 2
        if off > settings.sewing.off_good:
            text += f" Its stripe then stands {write(off)} off the middle: tell the client."
        steps.append(Step(f"the {side.name}'s edges", text, waist, hips, hours))
    return tuple(steps)


def _pleats(kilt: Kilt, waist: Fraction, hips: Fraction, settings: Settings, write: Written) -> Step:
    parts = []
    for change, where in ((waist, "strap line"), (hips, "hip line")):
        if change:
            parts.append(f"at the {where} {_by_step(kilt.pleats, change, write)}")
    new = kilt.resewn(waist, hips)
    text = (
        f"Take off band and lining and unpick the fell; sew every pleat again, {' and '.join(parts)}: "
        f"{write(new.pleated_waist)} over the pleats at the strap line, {write(new.pleated_hips)} at the hip "
        "line."
    )
    return Step("sew the pleats again", text, waist, hips, pleat_hours(kilt, settings))


def _by_step(pleats: int, change: Fraction, write: Written) -> str:
    """So many pleats by one step of the tape, the others by the next, evenly mixed."""
    sizes = spread(round(abs(change) / write.grid.step), pleats)
    word = "wider" if change > 0 else "narrower"
    parts = [f"{sizes.count(size)} by {write(size * write.grid.step)}" for size in sorted(set(sizes)) if size]
    rest = f", {sizes.count(0)} as they are" if 0 in sizes else ""
    return f"{' and '.join(parts)} {word}{rest}, evenly mixed"


def _cannot(waist: Fraction, hips: Fraction, aprons: Range, pleats: Range, write: Written) -> tuple[str, ...]:
    """What is asked at each level, and what there is; only the levels that fall short, where some do not."""
    why, short = [], []
    for change, where, apron, pleat in (
        (waist, "waist", (aprons.waist_out, aprons.waist_in), (pleats.waist_out, pleats.waist_in)),
        (hips, "hips", (aprons.hips_out, aprons.hips_in), (pleats.hips_out, pleats.hips_in)),
    ):
        if not change:
            continue
        out = change > 0
        way, least, most = ("let out", apron[0], pleat[0]) if out else ("taken in", apron[1], pleat[1])
        text = (
            f"the {where} would be {way} by {write(abs(change))}; the aprons allow {write(least)} and the "
            f"pleats {write(most)}"
        )
        why.append(text)
        if abs(change) > least + most:
            short.append(text)
    return tuple(short or why)
