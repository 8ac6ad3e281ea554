"""Lines at risk: narrow stripes that the taper loses, that show only above the hip, or that lie on a fold."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from pleatwright.pleats.pleating import Pleating
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
def _narrow_runs(sett: Sett, most_threads: float) -> tuple[tuple[float, float, int], ...]:
    """(start, end, stripe index) of the narrow runs over [-2n, 3n), by start."""
    return tuple(
        sorted(
            (stripe.start + turn * sett.n, stripe.end + turn * sett.n, stripe.index)
            for stripe in sett.stripes
            for turn in (-2, -1, 0, 1, 2)
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
    runs = _narrow_runs(sett, float(settings.pleats.narrow_line) / size + ROUNDING)
    reach = (max(hip_face, strap_face) / 2 + float(settings.pleats.fold_clearance)) / size
    widest = float(settings.pleats.narrow_line) / size
    low = bisect_left(runs, (phase - reach - widest,))
    high = bisect_right(runs, (phase + reach,))
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
    sett: Sett,
    pleating: Pleating,
    centres: Sequence[float],
    thread_sizes: Sequence[float],
    hip_reveal: float,
    strap_reveal: float,
    settings: Settings,
) -> tuple[LineAtRisk, ...]:
    """Every narrow line at risk, each reported once with all its pleats; reveals in inches."""
    if sett.plain:
        return ()
    seen: dict[str, list[tuple[int, float, float, tuple[str, ...]]]] = {}
    phases: dict[str, float] = {}
    memo: dict[tuple[float, float, float], list[tuple[int, float, float, tuple[str, ...]]]] = {}
    for i, (centre, size) in enumerate(zip(centres, thread_sizes, strict=True)):
        face = pleating.face(i)
        key = (round(centre % sett.n, 9), size, face)
        if key not in memo:
            memo[key] = strip_risks(sett, key[0], size, face * hip_reveal, face * strap_reveal, settings)
        for index, at_hip, at_strap, why in memo[key]:
            name = stripe_name(sett, sett.stripes[index])
            phases.setdefault(name, sett.centre_of(sett.stripes[index]))
            seen.setdefault(name, []).append((i + 1, at_hip, at_strap, why))
    lines = []
    for name, places in seen.items():
        worst = max(places, key=lambda place: (abs(place[1] - place[2]), -place[0]))
        lines.append(
            LineAtRisk(
                name,
                phases[name],
                tuple(sorted({place[0] for place in places})),
                worst[1],
                worst[2],
                tuple(sorted({reason for place in places for reason in place[3]})),
            )
        )
    return tuple(sorted(lines, key=lambda line: (-len(line.pleats), line.name)))
