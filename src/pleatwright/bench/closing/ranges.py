"""How far a finished kilt can be let out or taken in, way by way, and how long that takes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.closing.kilt import Kilt
from pleatwright.trade import Settings

SEAM_LEAST = Fraction(1, 2)
"""Inches of a cut fold that must stay inside its seam when a pleat is let out [our choice]."""

NONE = Fraction(0)


@dataclass(frozen=True)
class Range:
    """How far something can be changed at waist and hips, in inches, out and in (both not negative)."""

    waist_out: Fraction
    waist_in: Fraction
    hips_out: Fraction
    hips_in: Fraction

    def holds(self, waist: Fraction, hips: Fraction) -> bool:
        """Whether a change lies within it."""
        return -self.waist_in <= waist <= self.waist_out and -self.hips_in <= hips <= self.hips_out

    def nearest(self, waist: Fraction, hips: Fraction) -> tuple[Fraction, Fraction]:
        """The part of a change that lies within it."""
        return (
            min(max(waist, -self.waist_in), self.waist_out),
            min(max(hips, -self.hips_in), self.hips_out),
        )


def hole_range(kilt: Kilt) -> Range:
    """What the holes give on either side of the chosen one."""
    return Range((kilt.holes - kilt.hole) * kilt.hole_step, (kilt.hole - 1) * kilt.hole_step, NONE, NONE)


def buckle_range(kilt: Kilt, settings: Settings) -> Range:
    """What moving the buckles gives."""
    most = settings.closing.buckle_move
    return Range(max(NONE, min(most, kilt.buckle_room)), most, NONE, NONE)


def apron_range(kilt: Kilt, settings: Settings) -> Range:
    """What both aprons give: about 3" at most, if that was left in them [public: kiltmakernh.com,
    7 December 2010]; taking in as much as the setting says, and never more than half an apron.
    """
    ours = settings.closing
    sides = (kilt.over, kilt.under)
    rooms = [side.room for side in sides]
    waist, hips = (max(NONE, min(ours.let_out_most, *(room[i] for room in rooms))) for i in (0, 1))
    narrowest = min(ours.take_in_most, *(min(side.waist, side.hips) / 2 for side in sides))
    return Range(waist, narrowest, hips, narrowest)


def pleat_range(kilt: Kilt, settings: Settings, step: Fraction) -> Range:
    """What re-sewing every pleat gives, in whole steps of the tape on every pleat, reveals and depths within
    their limits.
    """
    ours, limits = settings.closing, settings.pleats
    cut = ours.resew_most if kilt.fold_left is None else 2 * max(NONE, kilt.fold_left - SEAM_LEAST)

    def span(pleated: Fraction, depth: Fraction) -> tuple[Fraction, Fraction]:
        reveal = pleated / kilt.pleats
        wider = min(
            ours.resew_most,
            cut,
            max(NONE, kilt.layers * (depth - limits.depth_least)),
            max(NONE, limits.reveal_most - reveal),
        )
        narrower = min(ours.resew_most, max(NONE, reveal - limits.reveal_least))
        return (wider // step) * step * kilt.pleats, (narrower // step) * step * kilt.pleats

    waist, hips = span(kilt.pleated_waist, kilt.depth_waist), span(kilt.pleated_hips, kilt.depth_hips)
    return Range(waist[0], waist[1], hips[0], hips[1])


def buckle_hours(settings: Settings) -> float:
    """Both buckles moved."""
    return settings.closing.hours_alter_buckles


def apron_hours(settings: Settings) -> float:
    """Both aprons moved: about 8 hours [public: kiltmakernh.com, 7 December 2010]."""
    return settings.closing.hours_alter_aprons


def pleat_hours(kilt: Kilt, settings: Settings) -> float:
    """Every pleat unpicked and sewn again: the fell twice over, and everything inside that lies on it."""
    ours, pace = settings.closing, settings.sewing.pace_pleats_an_hour
    over_it = ours.hours_inside + ours.hours_band + ours.hours_lining + ours.hours_press
    return 2 * kilt.pleats / pace + over_it * ours.hours_pace / pace
