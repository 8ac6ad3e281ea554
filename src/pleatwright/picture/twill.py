"""The 2/2 twill: each thread passes over two and under two, shifting by one [textbooks of weaving].

Weft thread i (counted along the cloth) lies over warp thread j (counted up from the selvedge) where
(i - j) mod 4 < 2 in a twill whose lines rise to the right as the kilt is seen ("Z"), (i + j) mod 4 < 2 in one
whose lines rise to the left ("S").  Turned by 180° a cloth keeps its line; turned face down it has the other.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers

Twill = Literal["Z", "S"]
Strength = NDArray[np.float32]

REPEAT, OVER = 4, 2
FADES, CLEAR = 0.7, 1.3
"""Pixels a thread: up to the first the twill is too fine to draw, from the second it is full [our choice]."""


def shift(twill: Twill) -> int:
    """Threads along by which the line moves on from one warp thread to the next one up."""
    return 1 if twill == "Z" else -1


def weft_over(along: NDArray[np.intp], up: NDArray[np.intp], twill: Twill) -> NDArray[np.bool_]:
    """Whether the weft lies on top where these threads cross."""
    return (along - shift(twill) * up) % REPEAT < OVER


def clearness(pixels_a_thread: Numbers) -> Numbers:
    """How much of the twill is drawn, 0 to 1: finer than the pixels it would only make false stripes."""
    return np.clip((pixels_a_thread - FADES) / (CLEAR - FADES), 0, 1)


def on_columns(thread: Numbers, pace: Numbers, twill: Twill) -> tuple[Strength, Strength]:
    """How far the weft is on top (1) or beneath (-1), the mean over pixels whose middle is at this thread.

    `pace`: threads a pixel.  The first for warp threads 0, 4, 8 …, the second for 1, 5, 9 …; the two others
    are their opposites.
    """
    at, wide = (thread % REPEAT).astype(np.float32), pace.astype(np.float32)
    half = wide * np.float32(0.5)

    def mean(at: Strength) -> Strength:
        return (_rising(at + half) - _rising(at - half)) / wide

    return mean(at), mean(at - np.float32(shift(twill)))


def _rising(at: Strength) -> Strength:
    """Threads on top less threads beneath up to here: up over two, down over two."""
    turn = at / REPEAT
    turn -= np.floor(turn + np.float32(0.5))
    return np.abs(turn) * REPEAT


def on_rows(thread: Numbers, pace: Numbers) -> tuple[Strength, Strength]:
    """Share of a pixel's height in warp threads 0, 4 … less that in 2, 6 …; the same for 1, 5 … and 3, 7 …"""

    def upto(at: Numbers) -> Numbers:
        turn = at % REPEAT
        return np.clip(np.minimum(turn, 3 - turn), 0, 1)

    def mean(at: Numbers) -> Strength:
        whole = (upto(at + pace / 2) - upto(at - pace / 2)) / pace
        return whole.astype(np.float32)

    return mean(thread), mean(thread - 1)
