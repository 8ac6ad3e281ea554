"""What of a kilt's plan the sewing log needs: kept in the log, so that it stands on its own."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.layout import Option, Request
from pleatwright.lengths import file_number
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class KiltLevel:
    """One level in inches: the whole round, what of it is pleats, the cloth folded in at an apron's edges.

    `ease` is what the round has over the body.  `folded_in` counts both edges of the apron that has less.
    """

    round: Fraction
    pleated: Fraction
    ease: Fraction
    folded_in: float

    @property
    def pleats_share(self) -> Fraction:
        """The pleats' part of the round."""
        return self.pleated / self.round


@dataclass(frozen=True)
class Kilt:
    """Inches.  `hip` and `strap`: its two sewn levels.  `a_pleat`: cloth from one pleat to the next.

    `deep_pleat`, `reverse_pleat`: cloth in the two hidden pleats, beside over-apron and under-apron;
    `deep_keep`, `reverse_keep`: what must stay in them.  `hole_step`: from hole to hole of the straps.
    """

    hip: KiltLevel
    strap: KiltLevel
    a_pleat: float
    deep_pleat: float
    reverse_pleat: float
    deep_keep: Fraction
    reverse_keep: Fraction
    rise: Fraction
    rise_least: Fraction
    fell_drop: Fraction
    hem: Fraction
    hole_step: Fraction

    def level(self, name: LevelName) -> KiltLevel:
        """Hip line or strap line."""
        return self.hip if name is LevelName.HIP else self.strap


def kilt_of(option: Option, request: Request, waist: Fraction, hips: Fraction) -> Kilt:
    """What the log needs of an option; `waist` and `hips`: the body's, in inches.

    Floats are rounded as a file rounds them, so that a log is the same before and after it is written.
    """
    sizes, settings = request.sizes, request.settings

    def level(name: LevelName, body: Fraction) -> KiltLevel:
        at = sizes.level(name)
        folded = min(
            option.over_apron.allotted - float(at.over_apron),
            option.under_apron.allotted - float(at.under_apron),
        )
        return KiltLevel(at.round, at.pleated, at.round - body, file_number(max(0.0, folded)))

    centres = [strip.centre for strip in option.strips]
    return Kilt(
        level(LevelName.HIP, hips),
        level(LevelName.STRAP, waist),
        file_number((centres[-1] - centres[0]) / (len(centres) - 1)),
        file_number(option.deep_pleat),
        file_number(option.reverse_pleat),
        settings.closing.deep_keep,
        settings.closing.reverse_keep,
        sizes.rise,
        settings.wearer.rise_usual_least,
        sizes.fell - sizes.rise,
        sizes.hem,
        settings.closing.hole_step,
    )
