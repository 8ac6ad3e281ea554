"""The published rule: points lost, one part for each measure; every weight is a shop setting.

A candidate starts with 100 points.  Pattern match may only be compared within one kind of pleating, so the
best of a kind is chosen with it, and kinds are set against each other without it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeVar

import numpy as np

from pleatwright.cloth import Bools, Numbers
from pleatwright.layout.placing import Frame, Placement, Placements
from pleatwright.pleats import Form, Kind, Shows, Ways
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

INCHES_A_YARD = 36
MATCH_SHARES = {LevelName.HIP: 0.5, LevelName.MID: 0.25, LevelName.STRAP: 0.25}
"""How much the match at each level counts: the hips are seen most."""

Figures = TypeVar("Figures", float, Numbers)
Inches = float | Numbers


class Points(NamedTuple):
    """Points lost, part by part."""

    match: float = 0.0
    lines: float = 0.0
    reveal: float = 0.0
    depth: float = 0.0
    cloth: float = 0.0
    bulk: float = 0.0
    middle: float = 0.0
    centre: float = 0.0
    mirror: float = 0.0
    square: float = 0.0
    few_pleats: float = 0.0
    style: float = 0.0
    join: float = 0.0
    turn: float = 0.0

    @property
    def score(self) -> float:
        """Within one kind: what is left of 100."""
        return 100 - sum(self)

    @property
    def standing(self) -> float:
        """Across kinds: the score without pattern match."""
        return self.score + self.match


def style_points(kind: Kind, settings: Settings) -> float:
    """The shop's liking for a style."""
    weights = settings.weights
    if kind.form is not Form.KNIFE:
        return {
            Form.BOX: weights.style_box,
            Form.MILITARY_BOX: weights.style_military_box,
            Form.CENTRE_BOX: weights.style_centre_box,
        }[kind.form]
    return {
        Shows.SETT: weights.style_sett,
        Shows.SETT_RUNNING: weights.style_sett_running,
        Shows.SETT_UNEVEN: weights.style_sett_uneven,
        Shows.STRIPE: weights.style_stripe,
        Shows.ALTERNATE: weights.style_alternate,
        Shows.PLAIN: weights.style_plain,
    }[kind.shows]


class Taste(NamedTuple):
    """What a shop likes of one kind: its style, the reveal aimed at (None: any), the usual depths."""

    style: float
    reveal: float | None
    depth_least: float
    depth_most: float | None

    @classmethod
    def of(cls, kind: Kind, wished_reveal: float | None, settings: Settings) -> Taste:
        """The taste for a kind; a box's fold is too deep beyond its own panel (`depth_most` None)."""
        limits = settings.pleats
        style, deep = style_points(kind, settings), float(limits.depth_usual_most)
        if kind.form is Form.BOX:
            return cls(style, wished_reveal, 0.0, None)
        if kind.form is Form.MILITARY_BOX:
            usual = float(limits.military_reveal_least + limits.military_reveal_most) / 2
            return cls(style, wished_reveal or usual, 0.0, deep)
        return cls(
            style, wished_reveal or float(limits.reveal_preferred), float(limits.depth_usual_least), deep
        )


def pleating_points(
    ways: Ways, frame: Frame, thread: float, wished_reveal: float | None, settings: Settings
) -> dict[str, Numbers]:
    """Points lost to what does not depend on the place, part by part, a row a pleating.

    `thread`: inches a thread.  Match, lines and mirror are left out: they are dear, and added only where they
    may matter.
    """
    weights, standard = settings.weights, settings.pleats.standard_pleats
    tastes = [Taste.of(kind, wished_reveal, settings) for kind in ways.kinds]
    # of each kind; NaN stands for the pleating's own reveal
    of_kinds = [[np.nan if liking is None else liking for liking in taste] for taste in tastes]
    style, wanted, least, most = np.array(of_kinds).reshape(-1, 4).T[:, ways.kind]
    reveal = frame.widths[LevelName.HIP] / ways.faces
    low, high = ways.depths(thread, reveal)
    aimed, deepest, shown = (
        np.where(np.isnan(own), reveal, own) for own in (wanted, most, ways.shown * thread)
    )
    return {
        "reveal": weights.reveal * 16 * np.abs(reveal - aimed),
        "depth": depth_points(low, high, least, deepest, settings),
        "middle": np.where(ways.pleats % 2 == 0, weights.even_middle, 0.0),
        "square": square_points(reveal, shown, settings),
        "few_pleats": weights.few_pleats * ways.of_form(Form.KNIFE) * np.maximum(0, standard - ways.pleats),
        "style": style,
    }


def depth_points(low: Inches, high: Inches, least: Inches, most: Inches, settings: Settings) -> Numbers:
    """Points lost to folds from `low` to `high` where `least` to `most` is usual; inches."""
    lost: Numbers = settings.weights.depth * (np.maximum(0, least - low) + np.maximum(0, high - most))
    return lost


def square_points(reveal: Inches, shown: Inches, settings: Settings) -> Numbers:
    """Points lost to checks that are not square, where a reveal stands for `shown` of flat tartan."""
    lost: Numbers = settings.weights.square * np.abs(reveal / shown - 1)
    return lost


def placed_points(places: Placements, frame: Frame, same: Bools, settings: Settings) -> dict[str, Numbers]:
    """The parts that the place adds; `same`: whether the apron's stripe lies in the middle of the back."""
    return {**of_place(places, frame, settings), "centre": np.where(same, 0.0, settings.weights.centre)}


def moved_points(points: Points, placement: Placement, frame: Frame, settings: Settings) -> Points:
    """The points of a kilt that was moved along the cloth."""
    return points._replace(
        **{part: float(lost) for part, lost in of_place(placement, frame, settings).items()}
    )


def of_place(place: Placement | Placements, frame: Frame, settings: Settings) -> dict[str, Numbers]:
    """Points lost to where kilts lie."""
    hidden = place.deep_pleat - frame.deep_least + place.reverse_pleat - frame.reverse_least
    return place_points(place.used, hidden, settings)


def place_points(used: float | Numbers, hidden: float | Numbers, settings: Settings) -> dict[str, Numbers]:
    """Points lost to the cloth used and to what deep and reverse pleat hide over their least; inches."""
    weights = settings.weights
    return {
        "cloth": np.multiply(weights.cloth / INCHES_A_YARD, used),
        "bulk": weights.bulk * np.maximum(0, hidden),
    }


def join_points(off: float, settings: Settings) -> float:
    """Points lost to a join whose horizontals miss each other by `off` inches, a strip hemmed or not."""
    return settings.weights.join + settings.weights.join_jump * abs(off)


def line_points(at_risk: Figures, pleats: Figures, settings: Settings) -> Figures:
    """Points lost to lines at risk, each counted on every pleat it is at risk on."""
    return settings.weights.line * at_risk / pleats


def match_points(match: Mapping[LevelName, Figures], settings: Settings) -> Figures:
    """Points lost to the part of the pattern that is not true, over three levels."""
    hip, mid, strap = (share * match[level] for level, share in MATCH_SHARES.items())
    return settings.weights.match * (1 - (hip + mid + strap))
