"""Pattern match: the share of a strip where it agrees with what it stands for, exactly (no sampling)."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import cache
from math import ceil
from typing import NamedTuple

from pleatwright.pleats.forms import Shows
from pleatwright.pleats.pleating import LEFT_OUT, Pleating
from pleatwright.sett import Sett

SMALLEST = 1e-12
"""Shares of a strip below this are rounding, not cloth."""

PLACES = 9
"""Decimals of a thread within which two phases are the same place."""


class Alike(NamedTuple):
    """Strips that show the same: phase of the centre, inches a thread, face in reveals, class, numbers."""

    phase: float
    size: float
    face: float
    like: int
    strips: tuple[int, ...]


def alike(
    pleating: Pleating, centres: Sequence[float], thread_sizes: Sequence[float], n: int
) -> tuple[Alike, ...]:
    """The strips sorted into groups that show the same, in the order of their first strips (from 1).

    `centres`: thread position of each strip; `thread_sizes`: local inches a thread at each.
    """
    groups: dict[tuple[float, float, float, int], list[int]] = {}
    for i, (centre, size) in enumerate(zip(centres, thread_sizes, strict=True)):
        like = pleating.classes[i] if pleating.classes else 0
        groups.setdefault((round(centre % n, PLACES), size, pleating.face(i), like), []).append(i + 1)
    return tuple(Alike(*group, tuple(strips)) for group, strips in groups.items())


@cache
def _turns(sett: Sett, turns: int) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Stripe edges and colours over `turns` setts either side of [0, n), so that no face needs wrapping."""
    stripes = sorted(sett.stripes, key=lambda stripe: stripe.start)
    around = range(-turns - 1, turns + 2)
    edges = tuple(float(stripe.start + turn * sett.n) for turn in around for stripe in stripes)
    return edges, tuple(stripe.colour for stripe in stripes) * len(around)


def _cuts(edges: tuple[float, ...], centre: float, half: float) -> tuple[int, int]:
    """First and one past the last edge strictly inside centre ± half."""
    return bisect_right(edges, centre - half), bisect_left(edges, centre + half)


def agreement(sett: Sett, phase: float, threads: float, other: float, other_threads: float) -> float:
    """Share of a face where two strips show the same colour.

    One strip shows `threads` threads centred on `phase`, the other `other_threads` centred on `other`; both
    fill the same width.  Colours are constant between stripe edges, so the share is exact.
    """
    edges, colours = _turns(sett, ceil(max(threads, other_threads) / 2 / sett.n))
    phase %= sett.n
    other %= sett.n
    if abs(phase - other) < SMALLEST and abs(threads - other_threads) < SMALLEST:
        return 1.0
    low, high = _cuts(edges, phase, threads / 2)
    other_low, other_high = _cuts(edges, other, other_threads / 2)
    cuts = sorted(
        [(edges[i] - phase) / threads for i in range(low, high)]
        + [(edges[i] - other) / other_threads for i in range(other_low, other_high)]
        + [0.5]
    )
    share = 0.0
    left = -0.5
    for right in cuts:
        if right - left > SMALLEST:
            middle = (left + right) / 2
            mine = colours[bisect_right(edges, phase + middle * threads) - 1]
            theirs = colours[bisect_right(edges, other + middle * other_threads) - 1]
            if mine == theirs:
                share += right - left
        left = right
    return share


def pattern_match(sett: Sett, pleating: Pleating, groups: Sequence[Alike], reveal: float) -> float:
    """Mean agreement over the strips at one level, 0 to 1 (trade.md §6); `reveal` in inches.

    To the sett a strip is held against the flat tartan it stands for, `pleating.shown` threads a reveal.
    Otherwise against the first strip of its own class.  Plain cloth always agrees.
    """
    if pleating.shows is Shows.PLAIN:
        return 1.0
    first_of_class: dict[int, tuple[float, float]] = {}
    agreed = judged = 0.0
    for group in groups:
        strip = (group.phase, group.face * reveal / group.size)
        if pleating.shown is not None:
            like = (group.phase, group.face * pleating.shown)
        elif group.like == LEFT_OUT:
            continue
        else:
            like = first_of_class.setdefault(group.like, strip)
        agreed += agreement(sett, *strip, *like) * len(group.strips)
        judged += len(group.strips)
    return agreed / judged
