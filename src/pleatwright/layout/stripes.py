"""Which places of the sett carry the same stripe, and which pairs of pleats mirror each other."""

from __future__ import annotations

import numpy as np

from pleatwright.cloth import Bools, Numbers
from pleatwright.pleats import PleatSpace
from pleatwright.sett import SAME_THREAD, Sett, same_surroundings


def same_stripe(sett: Sett, phase: float, others: Numbers) -> Bools:
    """Whether each of the others is the same place of the sett as `phase`, straight or mirrored."""
    same = np.full(others.shape, sett.plain) | _nothing(phase - others, sett.n)
    return same | _in_a_mirror(sett, phase, others)


def ends_mirror(space: PleatSpace, first: Numbers, last: Numbers, reveal: Numbers) -> Bools:
    """Whether pairs of places (threads) show each other's mirror image, each over a reveal in inches."""
    sett, tolerance = space.sett, float(space.settings.pleats.sight_tolerance) / space.thread
    mirrored = np.full(len(first), sett.plain) | _in_a_mirror(sett, first, last)
    last, half = last % sett.n, reveal / 2 / space.thread
    one, other = space.likeness.stripes_at(first), space.likeness.stripes_at(last)
    centred = (one >= 0) & (other >= 0)
    which = np.flatnonzero(centred & ~mirrored)
    mirrored[which] = space.likeness.mirrored(one[which], other[which], half[which])
    for i in np.flatnonzero(~centred & ~mirrored).tolist():
        mirrored[i] = same_surroundings(
            sett,
            float(first[i]),
            float(last[i]),
            mirrored=True,
            half_window=float(half[i]),
            tolerance=tolerance,
        )
    return mirrored


def _in_a_mirror(sett: Sett, one: Numbers | float, other: Numbers) -> Bools:
    """Whether one of the sett's mirror centres lies halfway between two places."""
    found = np.full(other.shape, False)
    for centre in sett.mirror_centres:
        found |= _nothing(one + other - 2 * centre, sett.n)
    return found


def _nothing(gap: Numbers, n: int) -> Bools:
    """Whether a gap is none but for whole setts."""
    return np.asarray(np.abs((gap + n / 2) % n - n / 2) < SAME_THREAD)
