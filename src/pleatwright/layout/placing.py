"""Placing one kilt along one strip of cloth: aprons, deep pleat, strips, reverse pleat (trade.md §7).

Everything here is for a kilt that opens on the right, left end first; one that opens on the left is placed on
the mirrored strip and mirrored back.  Lengths in inches, thread positions counted on without starting again.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from pleatwright.cloth import Run
from pleatwright.pleats import Pleating, pleated_widths, reveals
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName, Sizes


@dataclass(frozen=True)
class Frame:
    """What a body and a shop ask of the cloth, whatever the pleats; inches.

    `widths`: pleated width by level of the fell.  `pleat_side`, `over_outer`, `under_outer`: from an apron's
    centre to its edges at their widest.  `deep_least`, `reverse_least`: cloth in the two hidden pleats.
    """

    widths: dict[LevelName, float]
    pleat_side: float
    over_outer: float
    under_outer: float
    facing: float
    deep_least: float
    reverse_least: float

    @classmethod
    def of(cls, sizes: Sizes, settings: Settings) -> Frame:
        """The frame for a wearer's sizes and a shop's settings."""
        cloth = settings.cloth
        return cls(
            pleated_widths(sizes),
            float(sizes.pleat_side_greatest),
            float(sizes.outer_over_greatest),
            float(sizes.outer_under_greatest),
            float(cloth.facing),
            float(cloth.deep_pleat),
            float(cloth.reverse_pleat),
        )

    def hip_reveal(self, pleating: Pleating) -> float:
        """Reveal at the hip line."""
        return reveals(self.widths[LevelName.HIP], pleating.pleats, pleating.centre_face)

    def greatest_reveal(self, pleating: Pleating) -> float:
        """The greatest reveal of any level."""
        return reveals(max(self.widths.values()), pleating.pleats, pleating.centre_face)

    @property
    def start(self) -> float:
        """The least tape position of the over-apron's centre."""
        return self.facing + self.over_outer


@dataclass(frozen=True)
class Placement:
    """Where one kilt falls on the strip: tape positions in inches, `*_thread` in threads."""

    over_thread: float
    over_centre: float
    first_thread: float
    first_strip: float
    last_strip: float
    under_thread: float
    under_centre: float
    deep_pleat: float
    reverse_pleat: float
    used: float

    def strip_threads(self, pleating: Pleating) -> tuple[float, ...]:
        """Thread position of every strip's centre."""
        return tuple(accumulate(pleating.gaps, initial=self.first_thread))


def place(run: Run, frame: Frame, pleating: Pleating, apron_phase: float) -> Placement:
    """The leftmost place: each part at the smallest position of its phase that leaves the cloth it needs.

    x_o ≥ E1 + e_o; c_1 ≥ x_o + b + D1min + r/2; x_u ≥ c_N + r/2 + D2min + b; used = x_u + e_u + E2, with r
    the greatest reveal of any level; D1 and D2 are what then lies in the hidden pleats at the hip line.
    """
    half, half_hip = frame.greatest_reveal(pleating) / 2, frame.hip_reveal(pleating) / 2
    over_thread = run.next_thread(frame.start, apron_phase)
    over = run.tape_at(over_thread)
    first_thread = run.next_thread(over + frame.pleat_side + frame.deep_least + half, pleating.first)
    first = run.tape_at(first_thread)
    last = run.tape_at(first_thread + pleating.threads)
    under_thread = run.next_thread(last + half + frame.reverse_least + frame.pleat_side, apron_phase)
    under = run.tape_at(under_thread)
    return Placement(
        over_thread,
        over,
        first_thread,
        first,
        last,
        under_thread,
        under,
        first - half_hip - over - frame.pleat_side,
        under - frame.pleat_side - last - half_hip,
        under + frame.under_outer + frame.facing,
    )
