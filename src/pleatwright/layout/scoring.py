"""The published rule: points lost, one part for each measure; every weight is a shop setting.

A candidate starts with 100 points.  Pattern match may only be compared within one kind of pleating, so the
best of a kind is chosen with it, and kinds are set against each other without it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout.placing import Frame, Placement, Placements, Table
from pleatwright.pleats import Form, Kind, LineAtRisk, Pleating, Shows, deepest_fold, depth_range
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
    pleatings: Sequence[Pleating],
    table: Table,
    thread: float,
    wished_reveal: float | None,
    settings: Settings,
) -> Numbers:
    """Points lost to what does not depend on the place, one row a pleating, one column a part of `Points`.

    `thread`: inches a thread.  Match, lines and mirror are left at 0: they are dear, and added only where
    they may matter.
    """
    weights, standard = settings.weights, settings.pleats.standard_pleats
    tastes: dict[Kind, Taste] = {}
    lost = np.zeros((len(pleatings), len(Points._fields)))
    column = {name: i for i, name in enumerate(Points._fields)}
    wanted, style, least, most, shown = np.zeros((5, len(pleatings)))
    for i, (pleating, reveal) in enumerate(zip(pleatings, table.hip_reveal.tolist(), strict=True)):
        kind = Kind(pleating.form, pleating.shows)
        taste = tastes.get(kind)
        if taste is None:
            taste = tastes[kind] = Taste.of(kind, wished_reveal, settings)
        wanted[i] = reveal if taste.reveal is None else taste.reveal
        style[i], least[i] = taste.style, taste.depth_least
        most[i] = reveal if taste.depth_most is None else taste.depth_most
        shown[i] = reveal if pleating.shown is None else pleating.shown * thread
    low, high = _depths(pleatings, table, thread)
    knife = np.array([pleating.form is Form.KNIFE for pleating in pleatings], dtype=bool)
    lost[:, column["reveal"]] = weights.reveal * 16 * np.abs(table.hip_reveal - wanted)
    lost[:, column["depth"]] = weights.depth * (np.maximum(0, least - low) + np.maximum(0, high - most))
    lost[:, column["middle"]] = np.where(table.pleats % 2 == 0, weights.even_middle, 0.0)
    lost[:, column["square"]] = weights.square * np.abs(table.hip_reveal / shown - 1)
    lost[:, column["few_pleats"]] = weights.few_pleats * knife * np.maximum(0, standard - table.pleats)
    lost[:, column["style"]] = style
    return lost


def _depths(pleatings: Sequence[Pleating], table: Table, thread: float) -> tuple[Numbers, Numbers]:
    """Least and greatest depth at the hip line of every pleating: the centre boxes' one by one."""
    shallow = np.array([min(p.gaps) for p in pleatings]) * thread
    deep = np.array([max(p.gaps) for p in pleatings]) * thread
    low, high = np.empty_like(deep), np.empty_like(deep)
    forms = np.array([list(Form).index(p.form) for p in pleatings])
    for number, form in enumerate(Form):
        rows = np.flatnonzero(forms == number)
        reveal = table.hip_reveal[rows]
        if form is Form.CENTRE_BOX:
            for row, each in zip(rows.tolist(), reveal.tolist(), strict=True):
                low[row], high[row] = depth_range(pleatings[row], pleatings[row].gaps, each, thread)
        else:
            low[rows] = deepest_fold(form, shallow[rows] - reveal, reveal)
            high[rows] = deepest_fold(form, deep[rows] - reveal, reveal)
    return low, high


def placed_points(
    lost: Numbers, places: Placements, frame: Frame, same: Numbers, settings: Settings
) -> Numbers:
    """The parts that the place adds; `same`: 1 where the apron's stripe lies in the middle of the back."""
    lost = lost.copy()
    for part, points in _of_place(places, frame, settings).items():
        lost[:, Points._fields.index(part)] = points
    lost[:, Points._fields.index("centre")] = settings.weights.centre * (1 - same)
    return lost


def moved_points(points: Points, placement: Placement, frame: Frame, settings: Settings) -> Points:
    """The points of a kilt that was moved along the cloth."""
    return points._replace(
        **{part: float(lost) for part, lost in _of_place(placement, frame, settings).items()}
    )


def _of_place(
    place: Placement | Placements, frame: Frame, settings: Settings
) -> dict[str, Numbers | np.float64]:
    weights = settings.weights
    bulk = place.deep_pleat - frame.deep_least + place.reverse_pleat - frame.reverse_least
    return {
        "cloth": np.multiply(weights.cloth / INCHES_A_YARD, place.used),
        "bulk": weights.bulk * np.maximum(0, bulk),
    }


def line_points(lines: Sequence[LineAtRisk], pleats: int, settings: Settings) -> float:
    """Points lost to lines at risk, each counted on every pleat it is at risk on."""
    return settings.weights.line * sum(len(line.pleats) for line in lines) / pleats


def match_points(match: Mapping[LevelName, float], settings: Settings) -> float:
    """Points lost to the part of the pattern that is not true, over three levels."""
    missed = 1 - sum(share * match[level] for level, share in MATCH_SHARES.items())
    return settings.weights.match * missed
