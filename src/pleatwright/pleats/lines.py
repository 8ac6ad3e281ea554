"""Lines at risk: narrow stripes that the taper loses, that show only above the hip, or that lie on a fold."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import ceil, inf

from pleatwright.pleats.match import Alike
from pleatwright.sett import Sett, stripe_name
from pleatwright.trade import Settings

ROUNDING = 1e-9
"""Inches by which a limit may be missed through rounding."""


@dataclass(frozen=True)
class LineAtRisk:
    """One narrow line: its name, the phase of its centre (threads), the pleats (from 1) it is at risk on.

    The two widths are inches on the pleat where it fares worst.
    """

    name: str
    phase: float
    pleats: tuple[int, ...]
    shown_at_hip: float
    shown_at_strap: float
    why: tuple[str, ...]

    @property
    def lost(self) -> float:
        """Inches of the line that the taper takes away where it fares worst (negative: it appears)."""
        return self.shown_at_hip - self.shown_at_strap


LOST = "lost towards the strap line"
APPEARS = "shows only above the hip line"
ON_FOLD = "on a fold at the hip line"


@cache
def _narrow_runs(sett: Sett, most_threads: float, turns: int) -> tuple[tuple[float, float, int], ...]:
    """(start, end, stripe index) of the narrow runs over `turns` setts either side of [0, n), by start."""
    return tuple(
        sorted(
            (stripe.start + turn * sett.n, stripe.end + turn * sett.n, stripe.index)
            for stripe in sett.stripes
            for turn in range(-turns - 1, turns + 2)
            if stripe.threads <= most_threads
        )
    )


def _shown(start: float, end: float, half: float) -> float:
    return max(0.0, min(end, half) - max(start, -half))


def _risks(at_hip: float, at_strap: float, nearest_fold: float, settings: Settings) -> tuple[str, ...]:
    limits = settings.pleats
    why = []
    if at_hip > ROUNDING and at_strap <= limits.lost_share * at_hip + ROUNDING:
        why.append(LOST)
    if at_hip <= ROUNDING < at_strap:
        why.append(APPEARS)
    if nearest_fold <= float(limits.fold_clearance) + ROUNDING:
        why.append(ON_FOLD)
    return tuple(why)


def strip_risks(
    sett: Sett, phase: float, size: float, hip_face: float, strap_face: float, settings: Settings
) -> list[tuple[int, float, float, tuple[str, ...]]]:
    """Lines at risk on one strip: (stripe index, shown at hip, shown at strap, why); inches.

    Rule (trade.md §6): narrow at most 3/8"; at risk if it keeps at most 3/4 of itself at the strap line, or
    first shows above the hip line, or has an edge within 1/16" of a fold at the hip line.
    """
    widest = float(settings.pleats.narrow_line) / size
    reach = (max(hip_face, strap_face) / 2 + float(settings.pleats.fold_clearance)) / size
    runs = _narrow_runs(sett, widest + ROUNDING, ceil((reach + widest) / sett.n))
    low = bisect_left(runs, (phase - reach - widest,))
    high = bisect_right(runs, (phase + reach + ROUNDING, inf))
    found = []
    for start, end, index in runs[low:high]:
        left, right = (start - phase) * size, (end - phase) * size
        at_hip = _shown(left, right, hip_face / 2)
        at_strap = _shown(left, right, strap_face / 2)
        nearest = min(abs(abs(edge) - hip_face / 2) for edge in (left, right))
        why = _risks(at_hip, at_strap, nearest, settings)
        if why:
            found.append((index, at_hip, at_strap, why))
    return found


def lines_at_risk(
    sett: Sett, groups: Sequence[Alike], hip_reveal: float, strap_reveal: float, settings: Settings
) -> tuple[LineAtRisk, ...]:
    """Every narrow line at risk, each reported once with all its pleats; reveals in inches."""
    if sett.plain:
        return ()
    seen: dict[str, list[tuple[float, float, tuple[str, ...], tuple[int, ...]]]] = {}
    phases: dict[str, float] = {}
    for group in groups:
        hip_face, strap_face = group.face * hip_reveal, group.face * strap_reveal
        for index, at_hip, at_strap, why in strip_risks(
            sett, group.phase, group.size, hip_face, strap_face, settings
        ):
            name = stripe_name(sett, sett.stripes[index])
            phases.setdefault(name, sett.centre_of(sett.stripes[index]))
            seen.setdefault(name, []).append((at_hip, at_strap, why, group.strips))
    lines = []
    for name, places in seen.items():
        at_hip, at_strap, *_ = max(places, key=lambda place: (abs(place[0] - place[1]), -place[3][0]))
        pleats = sorted({strip for place in places for strip in place[3]})
        reasons = sorted({reason for place in places for reason in place[2]})
        lines.append(LineAtRisk(name, phases[name], tuple(pleats), at_hip, at_strap, tuple(reasons)))
    return tuple(sorted(lines, key=lambda line: (-len(line.pleats), line.name)))
