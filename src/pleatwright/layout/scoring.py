"""The published rule: points lost, one part for each measure; every weight is a shop setting.

A candidate starts with 100 points.  Pattern match may only be compared within one kind of pleating, so the
best of a kind is chosen with it, and kinds are set against each other without it.
"""

from __future__ import annotations

from typing import NamedTuple

from pleatwright.layout.placing import Frame, Placement
from pleatwright.pleats import DepthRange, Form, Pleating, Shows
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

INCHES_A_YARD = 36
MATCH_SHARES = {LevelName.HIP: 0.5, LevelName.MID: 0.25, LevelName.STRAP: 0.25}
"""How much the match at each level counts: the hips are seen most."""


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

    @property
    def lost(self) -> float:
        """All points lost."""
        return sum(self)

    @property
    def score(self) -> float:
        """Within one kind: what is left of 100."""
        return 100 - self.lost

    @property
    def standing(self) -> float:
        """Across kinds: the score without pattern match."""
        return self.score + self.match


def style_points(form: Form, shows: Shows, settings: Settings) -> float:
    """The shop's liking for a style."""
    weights = settings.weights
    if form is not Form.KNIFE:
        return {
            Form.BOX: weights.style_box,
            Form.MILITARY_BOX: weights.style_military_box,
            Form.CENTRE_BOX: weights.style_centre_box,
        }[form]
    return {
        Shows.SETT: weights.style_sett,
        Shows.SETT_RUNNING: weights.style_sett_running,
        Shows.STRIPE: weights.style_stripe,
        Shows.ALTERNATE: weights.style_alternate,
        Shows.PLAIN: weights.style_plain,
    }[shows]


def _outside(depths: DepthRange, least: float, most: float) -> float:
    return max(0.0, least - depths.least) + max(0.0, depths.greatest - most)


def pleating_points(
    pleating: Pleating, frame: Frame, thread: float, depths: DepthRange, settings: Settings
) -> Points:
    """The parts that do not depend on the place; `thread`: inches a thread; `depths`: at the hip line."""
    weights, limits = settings.weights, settings.pleats
    reveal = frame.hip_reveal(pleating)
    wanted: float | None = float(limits.reveal_preferred)
    usual = (float(limits.depth_usual_least), float(limits.depth_usual_most))
    if pleating.form is Form.MILITARY_BOX:
        wanted = float(limits.military_reveal_least + limits.military_reveal_most) / 2
        usual = (0.0, usual[1])
    elif pleating.form is Form.BOX:
        wanted, usual = None, (0.0, reveal)
    few = max(0, limits.standard_pleats - pleating.pleats) if pleating.form is Form.KNIFE else 0
    shown = reveal if pleating.shown is None else pleating.shown * thread
    return Points(
        reveal=0.0 if wanted is None else weights.reveal * abs(reveal - wanted) * 16,
        depth=weights.depth * _outside(depths, *usual),
        middle=0.0 if pleating.pleats % 2 else weights.even_middle,
        square=weights.square * abs(reveal / shown - 1),
        few_pleats=weights.few_pleats * few,
        style=style_points(pleating.form, pleating.shows, settings),
    )


def placed_points(
    points: Points, placement: Placement, frame: Frame, same: bool, settings: Settings
) -> Points:
    """The parts that the place adds; `same`: the apron's centre stripe lies in the middle of the back."""
    weights = settings.weights
    bulk = placement.deep_pleat - frame.deep_least + placement.reverse_pleat - frame.reverse_least
    return points._replace(
        cloth=weights.cloth * placement.used / INCHES_A_YARD,
        bulk=weights.bulk * max(0.0, bulk),
        centre=0.0 if same else weights.centre,
    )


def complete(
    points: Points,
    match: dict[LevelName, float],
    at_risk: int,
    pleats: int,
    mirrors: bool,
    settings: Settings,
) -> Points:
    """The dear parts added: match over three levels, lines at risk, first and last pleat.

    `at_risk` counts lines on pleats; `mirrors`: whether first and last pleat mirror each other.
    """
    missed = 1 - sum(share * match[level] for level, share in MATCH_SHARES.items())
    return points._replace(
        match=settings.weights.match * missed,
        lines=settings.weights.line * at_risk / pleats,
        mirror=0.0 if mirrors else settings.weights.mirror,
    )
