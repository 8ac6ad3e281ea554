"""What a kilt can still be let out or taken in later, way by way, for the wearer and for the next maker."""

from __future__ import annotations

from pleatwright.bench.closing.hours import half_hours
from pleatwright.bench.closing.kilt import Kilt, kilt_of
from pleatwright.bench.closing.ranges import (
    Range,
    apron_hours,
    apron_range,
    buckle_hours,
    buckle_range,
    hole_range,
    pleat_hours,
    pleat_range,
)
from pleatwright.bench.closing.values import Way
from pleatwright.layout import Option
from pleatwright.order import Job


def later(job: Job, option: Option) -> tuple[Way, ...]:
    """Every way, the least work first."""
    settings = job.request.settings
    kilt = kilt_of(job, option)
    return (
        _way("another hole", hole_range(kilt), 0.0, "one hole on both straps at a time"),
        _way(
            "moving the buckles",
            buckle_range(kilt, settings),
            buckle_hours(settings),
            "both by the same; the hips stay as they are",
        ),
        _way("the aprons' edges", apron_range(kilt, settings), apron_hours(settings), _aprons(kilt)),
        _way(
            "sewing the pleats again",
            pleat_range(kilt, settings, job.grid.step),
            pleat_hours(kilt, settings),
            "every pleat by the same step of the tape",
        ),
    )


def _aprons(kilt: Kilt) -> str:
    short = min((kilt.over, kilt.under), key=lambda side: side.spare)
    return f"both aprons alike, from facing and pleat; the {short.name} has least to give"


def _way(name: str, can: Range, hours: float, words: str) -> Way:
    return Way(name, can.waist_out, can.waist_in, can.hips_out, can.hips_in, half_hours(hours), words)
