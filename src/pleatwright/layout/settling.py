"""Settling a kilt on cloth with faults or a join: whole setts on until nothing shows that must not.

The leftmost place is the best one, so the fewest whole setts are tried first: before the over-apron, where
they only cost cloth, then in the deep and in the reverse pleat, where they cost cloth and much bulk.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise, product

import numpy as np

from pleatwright.cloth import Interval, Run
from pleatwright.layout.placing import Frame, Placement
from pleatwright.pleats import Pleating
from pleatwright.trade import Settings

WANDERS = 0.05
"""Share by which the cloth that is left may hold more setts than its mean size says [own]."""
ROUNDING = 1e-9
SETTS_ON_MOST = 5
"""Whole setts a kilt is moved on, over all its parts [own]."""


@cache
def _every_way() -> tuple[tuple[int, int, int], ...]:
    most = range(SETTS_ON_MOST + 1)
    every = ((over, first, under) for over, first, under in product(most, most, most))
    return tuple(
        sorted(
            (on for on in every if sum(on) <= SETTS_ON_MOST),
            key=lambda on: (on[1] + on[2], sum(on), on),
        )
    )


def setts_on(room: float) -> Iterator[tuple[int, int, int]]:
    """Whole setts on before the over-apron, the strips, the under-apron: those that cost least first.

    `room`: setts of cloth that are left; a little more is tried, for cloth wanders.
    """
    return (on for on in _every_way() if sum(on) <= room * (1 + WANDERS) + ROUNDING)


def shown(run: Run, frame: Frame, pleating: Pleating, placement: Placement) -> tuple[Interval, ...]:
    """Where cloth shows: the aprons as allotted, every strip at its widest; tape positions."""
    reveal = frame.greatest_reveal(pleating)
    strips = run.tapes_at(np.array(placement.strip_threads(pleating))).tolist()
    return (
        (placement.over_centre - frame.over_outer, placement.over_centre + frame.pleat_side),
        *(
            (x - pleating.face(i) * reveal / 2, x + pleating.face(i) * reveal / 2)
            for i, x in enumerate(strips)
        ),
        (placement.under_centre - frame.pleat_side, placement.under_centre + frame.under_outer),
    )


def hides(places: tuple[Interval, ...], blocked: tuple[Interval, ...]) -> bool:
    """Whether no blocked place shows."""
    return not any(start < end_b and start_b < end for start, end in places for start_b, end_b in blocked)


def seam_places(places: tuple[Interval, ...], settings: Settings) -> list[Interval]:
    """Where a seam may lie: out of sight, clear of folds and reveals, and not at the strap hole.

    `places` are what shows, left to right.  Between two of them the cloth is folded in the middle; the seam
    keeps its clearance from that fold and from both sides.  The strap hole lies between the first two pleats.
    """
    clear = float(settings.cloth.join_clearance)
    found = []
    for number, ((_, start), (end, _)) in enumerate(pairwise(places)):
        if number == 1:
            continue
        fold = (start + end) / 2
        found += [(start + clear, fold - clear), (fold + clear, end - clear)]
    return [(low, high) for low, high in found if low <= high]


def seam_thread(run: Run, window: Interval, places: list[Interval]) -> float | None:
    """The thread for the seam: the middle of the widest stretch where it may lie; None if there is none."""
    low, high = window
    stretches = [(max(low, run.thread_at(a)), min(high, run.thread_at(b))) for a, b in places]
    widest = max(stretches, key=lambda stretch: stretch[1] - stretch[0], default=(1.0, 0.0))
    return None if widest[0] > widest[1] else (widest[0] + widest[1]) / 2
