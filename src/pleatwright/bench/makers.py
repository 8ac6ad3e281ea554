"""Simulated makers: kilts sewn by hands drawn at random, with the sewing log and without it.

A maker sews every pleat of a level too wide by one steady value, drawn anew for every maker and level, and a
scatter from pleat to pleat, both normal and independent [from memory: 1/64" and 1/32"].  With the log
the sewn width is read off the tape after every few pleats, rounded to the grid, and the rest is re-spread as
the log tells.  The same seed gives the same makers, whatever the log does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from pleatwright.bench.sewing import (
    Belief,
    Limits,
    Maker,
    Stretch,
    bounds,
    maker_of,
    respread,
    set_apart,
)
from pleatwright.lengths import Grid
from pleatwright.trade import SewingSettings

Floats = NDArray[np.float64]
Steps = NDArray[np.int64]
SURE = 1.96
"""Standard errors on either side that hold the true share 19 times in 20."""
NO_PLEAT = -1
"""Stands for the last pleat sewn where there is none that a re-spread goes by."""


@dataclass(frozen=True)
class Share:
    """A share of the simulated kilts, 0 to 1, and how far it may be out, 19 times in 20 (Wilson)."""

    value: float
    give: float


def simulate(
    seed: int,
    count: int,
    hip: Sequence[Fraction],
    strap: Sequence[Fraction],
    grid: Grid,
    sewing: SewingSettings,
    measure_every: int | None = None,
    *,
    bias_times: float = 1.0,
) -> Floats:
    """How far `count` kilts end from their planned width, in inches, too wide positive: hip line, strap line.

    `hip`, `strap`: the planned width of every pleat in inches, whole steps of the grid.  `measure_every`:
    pleats between readings; None: the gauges are followed as planned.  `bias_times`: the makers' steady error
    is so many times what the log takes for usual.  Raises ValueError for sizes off the grid.
    """
    rng = np.random.default_rng(seed)
    levels = []
    for sizes in (hip, strap):
        steady = rng.normal(0.0, float(sewing.bias) * bias_times, (count, 1))
        errors = steady + rng.normal(0.0, float(sewing.scatter), (count, len(sizes)))
        told, _ = told_to(errors, sizes, grid, sewing, measure_every)
        levels.append((told * float(grid.step) + errors).sum(axis=1) - float(sum(sizes)))
    return np.stack(levels, axis=1)


def told_to(
    errors: Floats, sizes: Sequence[Fraction], grid: Grid, sewing: SewingSettings, measure_every: int | None
) -> tuple[Steps, Floats]:
    """What the log tells every maker to sew, pleat by pleat, in steps of the grid; and its last bias.

    `errors`: a row a maker, by how much each pleat comes out wider than told, in inches.  The bias is the
    log's estimate at the last reading, inches a pleat; 0 without one.  Raises ValueError for sizes off the
    grid.
    """
    step = float(grid.step)
    exact = [size / grid.step for size in sizes]
    if any(size.denominator != 1 for size in exact):
        raise ValueError(f"sizes must be whole steps of the grid, {grid.value}")
    planned = np.array([int(size) for size in exact], dtype=np.int64)
    count, pleats = errors.shape
    told = np.tile(planned, (count, 1))
    bias = np.zeros(count)
    apart = set_apart(planned.tolist())
    ordinary = np.array([place for place in range(pleats) if place not in apart])
    limits, maker = Limits.of(sewing, grid), maker_of(sewing, grid)
    excess = np.empty((0, count))
    if measure_every is None:
        return told, bias
    for n in range(measure_every, pleats, measure_every):
        sewn = told[:, :n].sum(axis=1)
        read = np.rint(sewn + errors[:, :n].sum(axis=1) / step)
        excess = np.vstack([excess, (read - sewn) * step])
        bias, over = _weights(maker, measure_every, len(excess)) @ excess
        wanted = np.rint(planned.sum() - sewn - (over + (pleats - n) * bias) / step).astype(np.int64)
        changed = np.flatnonzero(told[:, n:].sum(axis=1) != wanted)
        rest, before = ordinary[ordinary >= n], ordinary[ordinary < n]
        if not changed.size or not rest.size:
            continue
        lasts = told[changed, before[-1]] if before.size else np.full(changed.size, NO_PLEAT)
        wanted = wanted[changed] - (planned[n:].sum() - planned[rest].sum())
        _, first, which = np.unique(lasts + 1j * wanted, return_index=True, return_inverse=True)
        spreads = [
            respread(units, bounds(planned[rest].tolist(), None if last == NO_PLEAT else last, limits))
            for last, units in zip(lasts[first].tolist(), wanted[first].tolist(), strict=True)
        ]
        told[np.ix_(changed, rest)] = np.array(spreads)[which]
    return told, bias


@cache
def _weights(maker: Maker, every: int, readings: int) -> Floats:
    """How much each reading's excess counts in the log's belief of the bias, and of the excess at the last.

    A belief is a weighted sum of the readings, so its weights are what it answers to a reading of one inch
    among readings of none.
    """
    weights = np.empty((2, readings))
    for one in range(readings):
        read = [Stretch(1, every * (k + 1), float(k == one)) for k in range(readings)]
        belief = Belief(maker, read)
        weights[:, one] = belief.bias.mean, belief.excess(1, every * readings).mean
    return weights


def within(ended: Floats, off: Fraction) -> Share:
    """The share of kilts whose every given level ends within `off` inches of its planned width.

    `ended`: a row a kilt, as `simulate` gives it, or one or more of its columns.
    """
    kilts = len(ended)
    value = float((np.abs(ended).max(axis=1) <= float(off)).mean())
    spread = sqrt(value * (1 - value) / kilts + SURE**2 / (4 * kilts**2))
    return Share(value, SURE * spread / (1 + SURE**2 / kilts))
