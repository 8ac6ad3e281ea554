"""The same kilt a little wider or narrower, or with another share of apron; exact inches.

Between strap line and hip line everything runs in straight lines, so every level is made of a part of the
waist and a part of the hips, and of what was added there.  [derived]
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import exact_text
from pleatwright.wearer.body import Level, LevelName, Sizes, Taper


def shares(sizes: Sizes) -> tuple[Fraction, Fraction]:
    """The apron's part of the round at the waist and at the hips."""
    strap, hip = sizes.level(LevelName.STRAP), sizes.level(LevelName.HIP)
    return strap.under_apron / strap.round, hip.under_apron / hip.round


def resized(
    sizes: Sizes,
    *,
    waist: Fraction | None = None,
    hips: Fraction | None = None,
    share_waist: Fraction | None = None,
    share_hips: Fraction | None = None,
) -> Sizes:
    """The sizes with another waist, other hips (inches, with ease) or other shares of apron.

    Heights, lap, flare and what the top edge is let out by stay as they are.  Raises InputError where nothing
    is left of an apron or of the pleats, or the lap is as wide as the apron.
    """
    old_shares = shares(sizes)
    rounds = (sizes.waist if waist is None else waist, sizes.hips if hips is None else hips)
    parts = tuple(
        old if new is None else new for old, new in zip(old_shares, (share_waist, share_hips), strict=True)
    )
    levels = []
    for level in sizes.levels:
        of = _parts(sizes, level.name)
        added = level.round - _sum(of, (sizes.waist, sizes.hips))
        in_apron = Fraction(1) if level.name is LevelName.BOTTOM else parts[0]
        around = _sum(of, rounds) + added
        apron = sum(
            (part * girth * share for part, girth, share in zip(of, rounds, parts, strict=True)),
            added * in_apron,
        )
        if not max(sizes.lap, Fraction(0)) < apron < around:
            raise InputError(_no_room(level.name, apron, around, sizes.lap))
        levels.append(_level(level, around, apron, sizes.lap))
    return replace(sizes, waist=rounds[0], hips=rounds[1], levels=tuple(levels))


def _parts(sizes: Sizes, name: LevelName) -> tuple[Fraction, Fraction]:
    """How much of the waist and of the hips there is in a level."""
    beyond = sizes.rise / (sizes.fell - sizes.rise) if sizes.taper is Taper.WOMAN else Fraction(0)
    hips = {
        LevelName.TOP: -beyond,
        LevelName.STRAP: Fraction(0),
        LevelName.MID: Fraction(1, 2),
        LevelName.HIP: Fraction(1),
        LevelName.BOTTOM: Fraction(1),
    }[name]
    return 1 - hips, hips


def _sum(parts: tuple[Fraction, Fraction], girths: tuple[Fraction, Fraction]) -> Fraction:
    return parts[0] * girths[0] + parts[1] * girths[1]


def _level(old: Level, around: Fraction, apron: Fraction, lap: Fraction) -> Level:
    return replace(
        old,
        round=around,
        pleated=around - apron,
        over_apron=apron + lap,
        under_apron=apron,
        pleat_side=apron / 2,
    )


def _no_room(name: LevelName, apron: Fraction, around: Fraction, lap: Fraction) -> Problem:
    seen = f'"{exact_text(apron)}" of {exact_text(around)} round at the {name}'
    return Problem("kilt", seen, f"is no apron (lap {exact_text(lap)})", "choose another share of apron")
