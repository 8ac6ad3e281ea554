"""The shadows of folds: what lies over a pleat darkens it; a fold's own edge turns away from the light."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option
from pleatwright.picture.weave import Shadows
from pleatwright.pleats import Form

DEEP, DEEP_WIDE = 0.5, 0.11
SOFT, SOFT_WIDE = 0.2, 0.42
ROLL, ROLL_WIDE = 0.24, 0.07
"""Light lost beside a fold and how far it reaches, inches: under it, further off, on it [our choice]."""

MEETING = 0.55  # of a fold's shadow where two boxes meet edge to edge
DEEP_SIDE = 0.9  # the same on the side of a military box's deep underfold
APRON_DEEP, APRON_WIDE, APRON_SOFT, APRON_SOFT_WIDE = 0.6, 0.16, 0.22, 0.6
FINEST = 1.5
"""A shadow is never so narrow (pixels) that it is lost."""


class Folds(NamedTuple):
    """At the left and right edge of each face (2 × faces): how far it is tucked under, or itself a fold."""

    tucked: Numbers
    rolled: Numbers

    def only(self, some: slice) -> Folds:
        """Those of some of the faces."""
        return Folds(self.tucked[:, some], self.rolled[:, some])

    def shadows(self, scale: float, finest: float = FINEST) -> tuple[Shadows, ...]:
        """The shadows they make at so many pixels an inch, none narrower than `finest`."""
        return (
            _shadows(self.tucked * DEEP, DEEP_WIDE * scale, finest),
            _shadows(self.tucked * SOFT, SOFT_WIDE * scale, finest),
            _shadows(self.rolled * ROLL, ROLL_WIDE * scale, finest),
        )


def apron_shadows(left: bool, right: bool, scale: float, finest: float = FINEST) -> tuple[Shadows, ...]:
    """The shadows on pleats over whose left or right end the edge of the over-apron lies."""
    dark = np.array([[left], [right]], dtype=float)
    return (
        _shadows(dark * APRON_DEEP, APRON_WIDE * scale, finest),
        _shadows(dark * APRON_SOFT, APRON_SOFT_WIDE * scale, finest),
    )


def _shadows(dark: Numbers, wide: float, finest: float) -> Shadows:
    return Shadows(dark[0], dark[1], max(wide, finest))


def pleat_folds(option: Option) -> Folds:
    """The pleats from left to right as seen from behind.

    Knife pleats point to the wearer's right on a kilt that opens there [derived], so each lies over the next
    one along; the knives beside a centre box run away from it; boxes meet, the deep underfold of a military
    box lying where a knife's would [our choice].
    """
    count, right = option.pleats, option.opens_on == "right"
    at = np.arange(count)
    if option.form in (Form.BOX, Form.MILITARY_BOX):
        tucked = np.full((2, count), MEETING)
        if option.form is Form.MILITARY_BOX:
            tucked[0 if right else 1] = DEEP_SIDE
        return Folds(tucked, np.ones((2, count)))
    if option.form is Form.CENTRE_BOX:
        left_under, right_under = at > count // 2, at < count // 2
    else:
        left_under, right_under = np.full(count, right), np.full(count, not right)
    tucked = np.array([left_under, right_under], dtype=float)
    return Folds(tucked, 1 - tucked)
