"""Pieces of cloth drawn at random, for tests and figures: cloth that wanders, read with measuring errors.

The scale of the sett wanders by at most half a per cent over 26"; readings are cumulative, of one stripe, at
most four setts apart, each off by at most 1/16" either way [own].  The same seed gives the same piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from pleatwright.cloth.piece import Anchor, Fault, Piece
from pleatwright.cloth.readings import WANDER_LENGTH, Reading
from pleatwright.cloth.run import Run
from pleatwright.sett import Sett, short_name

NOISE = 1 / 16
"""Inches a reading is off at most, either way."""
STEP = 0.005
"""The scale changes by at most this share from one 26" to the next."""
START = 0.01
"""The scale at the left end differs at most by this share from the sett's stated size."""
APART = 4
"""Setts between two readings, at most."""
FAULT_LEAST, FAULT_MOST = 0.25, 3.0
"""Inches along that a fault takes."""


@dataclass(frozen=True)
class DrawnPiece:
    """A drawn piece: the cloth as it truly is, what was read of it, and what is wrong with it.

    `wrong`: which reading (counted from 0) was planted wrong, None for none; `error`: by how many inches.
    """

    truth: Run
    sett_size: float
    readings: tuple[Reading, ...]
    faults: tuple[Fault, ...]
    wrong: int | None
    error: float

    def piece(self, width: Fraction, readings: tuple[Reading, ...]) -> Piece:
        """A piece of that width whose map comes from these readings; horizontals not measured."""
        if self.truth.length is None:
            raise ValueError("a drawn piece has a length")
        size, first = Fraction(self.sett_size), readings[0]
        left = Anchor(first.thread % self.truth.sett.n, Fraction(first.at), first.stripe)
        length = Fraction(self.truth.length)
        return Piece(width, length, size, size, left, None, readings, faults=self.faults)


def draw_piece(
    seed: int,
    sett: Sett,
    sett_size: float,
    *,
    length: float | None = None,
    wrong: bool = False,
    faults: int = 0,
    height: float = 24.0,
) -> DrawnPiece:
    """One piece: 120 to 320 inches long unless told; `faults` of them somewhere in its lowest `height`.

    With `wrong` one reading is planted wrong by at least 1/2" or a quarter sett, at most a sett, either way;
    not where there are fewer than five readings.
    """
    rng = np.random.default_rng(seed)
    long = float(rng.uniform(120, 320)) if length is None else length
    stretches = int(long / WANDER_LENGTH) + 3
    scales = 1 + np.cumsum([rng.uniform(-START, START), *rng.uniform(-STEP, STEP, stretches)])
    tape = np.arange(stretches + 2) * WANDER_LENGTH
    threads = rng.uniform(0, sett.n) + np.concatenate(
        [[0.0], np.cumsum(WANDER_LENGTH / (sett_size * scales)) * sett.n]
    )
    truth = Run(sett, long, tuple(tape.tolist()), tuple(threads.tolist()))
    stripe = sett.stripes[int(rng.integers(len(sett.stripes)))]
    name = short_name(sett, stripe)
    readings = []
    thread = truth.next_thread(NOISE, sett.centre_of(stripe))
    while (at := truth.tape_at(thread)) <= long - NOISE:
        readings.append(Reading(name, thread, at + float(rng.uniform(-NOISE, NOISE))))
        thread += sett.n * int(rng.integers(1, APART + 1))
    found = []
    for _ in range(faults):
        start, wide = float(rng.uniform(0, long - FAULT_MOST)), float(rng.uniform(FAULT_LEAST, FAULT_MOST))
        low = float(rng.uniform(0, height - 1))
        span = Fraction(start), Fraction(start + wide), Fraction(low), Fraction(low + 1)
        found.append(Fault("knot", *span))
    planted, error = None, 0.0
    if wrong and len(readings) >= 5:
        planted = int(rng.integers(len(readings)))
        error = float(rng.uniform(min(0.5, sett_size / 4), sett_size) * rng.choice([-1, 1]))
        bad = readings[planted]
        readings[planted] = Reading(bad.stripe, bad.thread, bad.at + error)
    return DrawnPiece(truth, sett_size, tuple(readings), tuple(found), planted, error)
