"""Spreading what is left over the pleats that are left, in whole steps of the tape.

A re-spread is even: two neighbouring sizes, mixed as `lengths.spread` mixes them.  Two limits hold it: a
pleat is never more than so many steps from the pleat before it, sewn or not, and never more than so many from
its planned size.  Where they bind, the sizes go as far as they may, pleat after pleat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pleatwright.lengths import Grid, spread
from pleatwright.trade import SewingSettings


@dataclass(frozen=True)
class Limits:
    """Most steps from one pleat to the next, and from a pleat to its planned size."""

    next_most: int
    plan_most: int

    @classmethod
    def of(cls, sewing: SewingSettings, grid: Grid) -> Limits:
        """In whole steps of the grid, at least one: no size can differ by less."""
        return cls(*(max(1, int(most / grid.step)) for most in (sewing.neighbours_most, sewing.change_most)))


Bounds = list[tuple[int, int]]


def bounds(planned: Sequence[int], before: int | None, limits: Limits) -> Bounds:
    """Least and most steps of every pleat still to be sewn, in the order of sewing; `before`: the last sewn.

    Both edges change by at most `next_most` from pleat to pleat, and so does whatever is held between them.
    """
    between = [(size - limits.plan_most, size + limits.plan_most) for size in planned]
    if before is None:
        return between
    reach = [limits.next_most * place for place in range(1, len(planned) + 1)]
    return [
        (max(least, before - far), min(most, before + far))
        for (least, most), far in zip(between, reach, strict=True)
    ]


def respread(wanted: int, between: Bounds) -> tuple[int, ...]:
    """Steps for every pleat, as even as the bounds allow, adding up to `wanted` or as near it as they let.

    One height is poured over all pleats, each holding between its bounds; the steps above it are spread
    evenly over those that can still take one.
    """

    def poured(height: int) -> list[int]:
        return [min(max(height, least), most) for least, most in between]

    if not between:
        return ()
    low, high = min(least for least, _ in between), max(most for _, most in between)
    while low < high:  # the greatest height that does not pour more than is wanted
        middle = (low + high + 1) // 2
        low, high = (middle, high) if sum(poured(middle)) <= wanted else (low, middle - 1)
    sizes = poured(low)
    free = [place for place, (least, most) in enumerate(between) if least <= low < most]
    above = min(max(wanted - sum(sizes), 0), len(free))
    if free:
        for place, more in zip(free, spread(above, len(free)), strict=True):
            sizes[place] += more
    return tuple(sizes)


def smooth(sizes: Sequence[int], limits: Limits) -> bool:
    """Whether no two neighbours are too far apart."""
    return all(abs(left - right) <= limits.next_most for left, right in pairwise(sizes))


def set_apart(sizes: Sequence[int]) -> frozenset[int]:
    """Places (from 0) of pleats planned more than a step wider than the narrowest: a centre box's panel.

    They keep their planned size; limits and re-spread are for the others.
    """
    return frozenset(place for place, size in enumerate(sizes) if size > min(sizes) + 1)
