"""A closer look at one kilt on the cloth as woven: fold depths by level, pattern match, lines at risk."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from pleatwright.cloth import Run
from pleatwright.layout.placing import Frame, Placement
from pleatwright.layout.scoring import MATCH_SHARES
from pleatwright.lengths import ROUNDING
from pleatwright.pleats import (
    Alike,
    DepthRange,
    LineAtRisk,
    Pleating,
    alike,
    depth_range,
    least_depth,
    lines_at_risk,
    pattern_match,
    reveals,
)
from pleatwright.sett import Sett
from pleatwright.trade import Settings
from pleatwright.wearer import FELL_LEVELS, LevelName


@dataclass(frozen=True)
class Look:
    """What a closer look finds; match and lines, which are dear, only if asked for.

    `groups`: the strips sorted by what they show; `reveals`: inches by level.
    """

    sett: Sett
    pleating: Pleating
    groups: tuple[Alike, ...]
    reveals: dict[LevelName, float]
    depths: dict[LevelName, DepthRange]
    settings: Settings

    @cached_property
    def match(self) -> dict[LevelName, float]:
        """Pattern match at the levels where it is judged."""
        return {
            level: pattern_match(self.sett, self.pleating, self.groups, self.reveals[level])
            for level in MATCH_SHARES
        }

    @cached_property
    def lines(self) -> tuple[LineAtRisk, ...]:
        """Lines at risk."""
        at_hip, at_strap = self.reveals[LevelName.HIP], self.reveals[LevelName.STRAP]
        return lines_at_risk(self.sett, self.groups, at_hip, at_strap, self.settings)


def look_at(
    strip: Run, frame: Frame, pleating: Pleating, placement: Placement, settings: Settings
) -> Look | None:
    """A closer look at a kilt placed on a strip of cloth; None if a fold is too shallow there."""
    threads = np.array(placement.strip_threads(pleating))
    sizes = strip.thread_sizes(threads).tolist()
    gaps = np.diff(strip.tapes_at(threads)).tolist()
    by_level = {
        level: reveals(frame.widths[level], pleating.pleats, pleating.centre_face) for level in FELL_LEVELS
    }
    depths = {level: depth_range(pleating, gaps, reveal) for level, reveal in by_level.items()}
    least = least_depth(pleating.form, settings) - ROUNDING
    if any(depth.least < least for depth in depths.values()):
        return None
    groups = alike(pleating, threads.tolist(), sizes, strip.sett.n)
    return Look(strip.sett, pleating, groups, by_level, depths, settings)
