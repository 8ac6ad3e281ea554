"""Lines at risk: narrow stripes that the taper loses, that show only above the hip, or that lie on a fold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows
from pleatwright.lengths import ROUNDING
from pleatwright.pleats.match import Alike
from pleatwright.sett import Sett, stripe_name, stripe_names
from pleatwright.trade import Settings


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
WHY = {1: LOST, 2: APPEARS, 4: ON_FOLD}
"""Reasons as bits of a number."""


class _Runs(NamedTuple):
    """The narrow runs round [0, n) by their start: threads, the stripe, its name's number."""

    start: Numbers
    threads: Numbers
    stripe: Rows
    name: Rows


@lru_cache(maxsize=64)
def _narrow_runs(sett: Sett, most_threads: int, turns: int) -> _Runs:
    names = {name: number for number, name in enumerate(line_names(sett))}
    every = sorted(
        (stripe.start + turn * sett.n, stripe.threads, stripe.index, names[stripe_name(sett, stripe)])
        for stripe in sett.stripes
        for turn in range(-turns - 1, turns + 2)
        if stripe.threads <= most_threads
    )
    columns = np.array(every, dtype=float).reshape(-1, 4).T
    return _Runs(columns[0], columns[1], columns[2].astype(np.intp), columns[3].astype(np.intp))


class _Risks(NamedTuple):
    """Narrow runs near some strips, a row a strip: inches shown at hip and strap line, and what is wrong."""

    stripe: Rows
    name: Rows
    at_hip: Numbers
    at_strap: Numbers
    lost: Bools
    appears: Bools
    on_fold: Bools

    @property
    def at_risk(self) -> Bools:
        return self.lost | self.appears | self.on_fold


def _risks(
    sett: Sett, phases: Numbers, sizes: Numbers, hip_faces: Numbers, strap_faces: Numbers, settings: Settings
) -> _Risks:
    """The narrow runs on some strips: `sizes` inches a thread, faces in inches.

    Narrow is at most 3/8"; at risk is a run that keeps at most 3/4 of itself at the strap line, or first
    shows above the hip line, or has an edge within 1/16" of a fold at the hip line.
    """
    limits = settings.pleats
    clearance, narrow = float(limits.fold_clearance), float(limits.narrow_line)
    widest = narrow / sizes + ROUNDING
    reach = (np.maximum(hip_faces, strap_faces) / 2 + clearance) / sizes
    most = float(widest.max())
    runs = _narrow_runs(sett, min(int(most), sett.n), ceil((float(reach.max()) + most) / sett.n))
    low = np.searchsorted(runs.start, phases - reach - widest)
    high = np.searchsorted(runs.start, phases + reach + ROUNDING, side="right")
    which = low[:, None] + np.arange(int((high - low).max(initial=0)))
    there = which < high[:, None]
    which = np.minimum(which, max(len(runs.start) - 1, 0))
    size, half_hip, half_strap = sizes[:, None], hip_faces[:, None] / 2, strap_faces[:, None] / 2
    threads = runs.threads[which]
    left = (runs.start[which] - phases[:, None]) * size
    right = (runs.start[which] + threads - phases[:, None]) * size
    at_hip = np.maximum(0.0, np.minimum(right, half_hip) - np.maximum(left, -half_hip))
    at_strap = np.maximum(0.0, np.minimum(right, half_strap) - np.maximum(left, -half_strap))
    there &= threads <= widest[:, None]
    nearest = np.minimum(np.abs(np.abs(left) - half_hip), np.abs(np.abs(right) - half_hip))
    shows = at_hip > ROUNDING
    return _Risks(
        runs.stripe[which],
        runs.name[which],
        at_hip,
        at_strap,
        there & shows & (at_strap <= limits.lost_share * at_hip + ROUNDING),
        there & ~shows & (at_strap > ROUNDING),
        there & (nearest <= clearance + ROUNDING),
    )


def names_at_risk(
    sett: Sett, phases: Numbers, sizes: Numbers, hip_faces: Numbers, strap_faces: Numbers, settings: Settings
) -> Bools:
    """Which lines are at risk on each of some strips, a row a strip, a column a name (`line_names`).

    `sizes` inches a thread, faces in inches.
    """
    hit = np.zeros((len(phases), len(line_names(sett))), dtype=bool)
    if not sett.plain and len(phases):
        risks = _risks(sett, phases, sizes, hip_faces, strap_faces, settings)
        strip, run = np.nonzero(risks.at_risk)
        hit[strip, risks.name[strip, run]] = True
    return hit


def line_names(sett: Sett) -> tuple[str, ...]:
    """The names of a sett's stripes, each once: mirror images share theirs."""
    return tuple(dict.fromkeys(stripe_names(sett)))


def count_at_risk(
    sett: Sett, phases: Numbers, sizes: Numbers, hip_faces: Numbers, strap_faces: Numbers, settings: Settings
) -> Rows:
    """How many lines are at risk on each of some strips: `sizes` inches a thread, faces in inches."""
    hit = names_at_risk(sett, phases, sizes, hip_faces, strap_faces, settings)
    return np.asarray(hit.sum(axis=1))


def lines_at_risk(
    sett: Sett, groups: Sequence[Alike], hip_reveal: float, strap_reveal: float, settings: Settings
) -> tuple[LineAtRisk, ...]:
    """Every narrow line at risk, each reported once with all its pleats; reveals in inches."""
    if sett.plain:
        return ()
    phases, sizes, faces = np.array([(one.phase, one.size, one.face) for one in groups]).T
    risks = _risks(sett, phases, sizes, faces * hip_reveal, faces * strap_reveal, settings)
    where = np.nonzero(risks.at_risk)
    wrong = sum(
        bit * column[where]
        for bit, column in zip(WHY, (risks.lost, risks.appears, risks.on_fold), strict=True)
    )
    columns = (where[0], risks.stripe[where], risks.at_hip[where], risks.at_strap[where], wrong)
    names, seen = stripe_names(sett), dict[str, list[tuple[float, float, int, tuple[int, ...]]]]()
    phase_of: dict[str, float] = {}
    for group, stripe, at_hip, at_strap, why in zip(
        *(np.asarray(one).tolist() for one in columns), strict=True
    ):
        name = names[stripe]
        if name not in seen:
            seen[name], phase_of[name] = [], sett.centre_of(sett.stripes[stripe])
        seen[name].append((at_hip, at_strap, why, groups[group].strips))
    lines = []
    for name, places in seen.items():
        at_hip, at_strap, *_ = max(places, key=lambda place: (abs(place[0] - place[1]), -place[3][0]))
        pleats = sorted({strip for place in places for strip in place[3]})
        reasons = sorted(reason for bit, reason in WHY.items() if any(bit & place[2] for place in places))
        lines.append(LineAtRisk(name, phase_of[name], tuple(pleats), at_hip, at_strap, tuple(reasons)))
    return tuple(sorted(lines, key=lambda line: (-len(line.pleats), line.name)))
