"""What is to be sewn at either level: as planned, or what the last fitting makes of it."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.sewing.gives import Hand
from pleatwright.bench.sewing.log import SewingLog, pleats_take
from pleatwright.bench.sewing.maker import SEWN_LEVELS, Target
from pleatwright.bench.sewing.outlook import outlook
from pleatwright.lengths import on_grid
from pleatwright.wearer import LevelName


def aims(log: SewingLog, hand: Hand) -> tuple[Target, Target]:
    """Hip line and strap line.

    A fitting tries the kilt as it is: a level that it spoke of is to end where it then was going to end, and
    the pleats' share of what was asked beyond that; the plan's width counts no more [derived].
    """
    hip, strap = (Target(level, log.started.told.at(level), _more(log, level, hand)) for level in SEWN_LEVELS)
    return hip, strap


def _more(log: SewingLog, level: LevelName, hand: Hand) -> Fraction:
    found = log.fitting_at(level)
    if found is None:
        return Fraction(0)
    number, fitted = found
    planned = Target(level, log.started.told.at(level))
    tried = outlook(
        planned,
        log.told(number).at(level),
        log.sewn(number),
        hand.grid,
        hand.maker,
        hand.sewing,
        from_over_apron=hand.from_over_apron,
        done=log.done(number),
        follow="told",
    )
    share = pleats_take(log.started.kilt, level, fitted, hand.grid)
    return on_grid(tried.forecast, hand.grid) - planned.total + share
