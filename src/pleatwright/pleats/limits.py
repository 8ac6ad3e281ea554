"""Limits every pleat must keep at every level from hip line to top edge; all lengths in inches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from pleatwright.lengths import ROUNDING
from pleatwright.pleats.forms import Form, deepest_fold, hidden_cloth
from pleatwright.pleats.pleating import Pleating, reveals
from pleatwright.trade import Settings
from pleatwright.wearer import FELL_LEVELS, LevelName, Sizes


class DepthRange(NamedTuple):
    """Least and greatest depth of any fold at one level."""

    least: float
    greatest: float


def pleated_widths(sizes: Sizes) -> dict[LevelName, float]:
    """Pleated width at each level of the fell."""
    return {name: float(sizes.level(name).pleated) for name in FELL_LEVELS}


def least_depth(form: Form, settings: Settings) -> float:
    """The least depth a fold of this form must have; a military box's shallow underfold is w/2 by design."""
    limits = settings.pleats
    knife = form in (Form.KNIFE, Form.CENTRE_BOX)
    return float(limits.depth_least if knife else limits.underfold_least)


def depth_range(pleating: Pleating, gaps: Sequence[float], reveal: float, size: float = 1.0) -> DepthRange:
    """Least and greatest depth at one level (inches); `gaps` from each strip's centre to the next.

    Gaps are inches, or units of `size` inches.
    """
    form, middle = pleating.form, pleating.pleats // 2
    if pleating.centre_face == 1:
        ends = [(min(gaps), reveal), (max(gaps), reveal)]
    else:
        near = (pleating.centre_face + 1) / 2 * reveal
        ends = list({(gap, near if i in (middle - 1, middle) else reveal) for i, gap in enumerate(gaps)})
    depths = [deepest_fold(form, hidden_cloth(gap * size, face, face), reveal) for gap, face in ends]
    return DepthRange(min(depths), max(depths))


def reveal_bounds(form: Form, settings: Settings) -> tuple[float, float]:
    """Least and greatest reveal at any level of the fell; a box panel is bounded by its number instead."""
    limits = settings.pleats
    if form is Form.BOX:
        return float(limits.reveal_least), float("inf")
    if form is Form.MILITARY_BOX:
        return float(limits.reveal_least), float(limits.military_reveal_most)
    return float(limits.reveal_least), float(limits.reveal_most)


def pleat_numbers(
    form: Form, widths: Mapping[LevelName, float], settings: Settings, only: int | None
) -> range | tuple[int, ...]:
    """Every number of pleats whose reveals keep the limits at every level."""
    limits = settings.pleats
    if form is Form.BOX:
        numbers = range(limits.box_least, limits.box_most + 1)
        return tuple(n for n in numbers if only in (None, n))
    least, most = reveal_bounds(form, settings)
    extra = float(limits.centre_box_reveals) - 1 if form is Form.CENTRE_BOX else 0.0
    fewest = max(widths.values()) / most - extra
    greatest = min(widths.values()) / least - extra
    step = 2 if form is Form.CENTRE_BOX else 1
    numbers = range(1 if step == 2 else 2, int(greatest + ROUNDING) + 1, step)
    kept = tuple(n for n in numbers if n >= fewest - ROUNDING and only in (None, n))
    if form is Form.MILITARY_BOX:
        narrowest = float(limits.military_reveal_least)
        return tuple(n for n in kept if reveals(widths[LevelName.HIP], n) >= narrowest - ROUNDING)
    return kept
