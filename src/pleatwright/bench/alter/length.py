"""A new drop: the hem, or straps and buckles moved up or down; the cloth above the rip is gone for good."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from pleatwright.bench.alter.step import Step, Written
from pleatwright.bench.closing.kilt import Kilt
from pleatwright.bench.closing.ranges import NONE
from pleatwright.lengths import on_grid
from pleatwright.trade import Settings


def new_length(
    kilt: Kilt, drop: Fraction | None, settings: Settings, write: Written
) -> tuple[Kilt, tuple[Step, ...], tuple[str, ...]]:
    """Longer: the hem let down, else the straps moved up.  Shorter: a hem turned up, else the straps down.

    Cloth can be taken off, never put on; a hem over 4" hangs badly [public: page's address not kept].
    """
    ours, wearer = settings.closing, settings.wearer
    change = NONE if drop is None else on_grid(drop - kilt.drop, write.grid)
    if abs(change) <= settings.sewing.off_good:
        return kilt, (), ()
    if 0 < change <= kilt.hem:
        text = (
            f"Let the hem down by {write(change)}: {write(kilt.hem - change)} of it are left. Press it flat."
        )
        step = Step("let the hem down", text, NONE, NONE, ours.hours_alter_hem)
        return replace(kilt, drop=kilt.drop + change, hem=kilt.hem - change), (step,), ()
    rise = kilt.rise - change
    if abs(change) <= ours.strap_line_move and wearer.rise_usual_least <= rise <= wearer.rise_usual_most:
        way = "up" if change > 0 else "down"
        text = (
            f"Move every strap and buckle {way} by {write(abs(change))}: the strap line then lies "
            f"{write(rise)} below the top edge. Sew up the strap hole and open it again at the new line."
        )
        step = Step(f"straps and buckles {way}", text, NONE, NONE, ours.hours_alter_straps)
        return replace(kilt, drop=kilt.drop + change, rise=rise), (step,), ()
    if change < 0 and kilt.hem - change <= wearer.hem_most:
        text = (
            f"Turn a hem of {write(kilt.hem - change)} up; the selvedge goes inside, so ask the client first."
            if not kilt.hem
            else f"Turn the hem up by {write(-change)} more, to {write(kilt.hem - change)}."
        )
        step = Step("turn a hem up", text, NONE, NONE, ours.hours_alter_hem)
        return replace(kilt, drop=kilt.drop + change, hem=kilt.hem - change), (step,), ()
    straps = write(ours.strap_line_move)
    if change > 0:
        why = (
            f"the drop would be {write(change)} longer; the hem holds {write(kilt.hem)}, the straps go up by "
            f"{straps} at most, and cloth is never put on"
        )
    else:
        why = (
            f"the drop would be {write(-change)} shorter; the straps go down by {straps} at most, and a hem "
            f"over {write(wearer.hem_most)} hangs badly"
        )
    return kilt, (), (why,)
