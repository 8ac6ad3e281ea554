"""Pattern match: the share of a strip where it agrees with what it stands for, exactly (no sampling)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers, Rows
from pleatwright.pleats.forms import Shows
from pleatwright.pleats.pleating import LEFT_OUT, Pleating
from pleatwright.sett import Sett

PHASE_PLACES = 9
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
        groups.setdefault((round(centre % n, PHASE_PLACES), size, pleating.face(i), like), []).append(i + 1)
    return tuple(Alike(*group, tuple(strips)) for group, strips in groups.items())


class _Weave(NamedTuple):
    """A sett over some periods: where its edges lie, the colour (a number) of every thread from `low`."""

    edges: Numbers
    low: int
    colours: Rows


@lru_cache(maxsize=64)
def _weave(sett: Sett, turns: int) -> _Weave:
    """The sett over `turns` periods either side of [0, n)."""
    around = range(-turns - 1, turns + 2)
    edges = [stripe.start + turn * sett.n for turn in around for stripe in sett.stripes]
    threads = [sett.colours.index(code) for code in sett.threads()] * len(around)
    return _Weave(np.array(edges, dtype=float), around[0] * sett.n, np.array(threads, dtype=np.intp))


def _cuts(edges: Numbers, centres: Numbers, threads: Numbers) -> Numbers:
    """Where the edges inside each face cut it, as shares of the face from its middle; a row a face."""
    low = np.searchsorted(edges, centres - threads / 2, side="right")
    high = np.searchsorted(edges, centres + threads / 2, side="left")
    which = low[:, None] + np.arange(int((high - low).max(initial=0)))
    inside = which < high[:, None]
    places = (edges[np.minimum(which, len(edges) - 1)] - centres[:, None]) / threads[:, None]
    cuts: Numbers = np.where(inside, places, 0.5)
    return cuts


def agreements(
    sett: Sett, phases: Numbers, threads: Numbers, others: Numbers, other_threads: Numbers
) -> Numbers:
    """Share of each face where two strips show the same colour.

    One strip shows `threads` threads centred on its phase, the other `other_threads` centred on `others`;
    both fill the same width.  Colours are constant between stripe edges, so the shares are exact.
    """
    widest = float(max(threads.max(initial=0), other_threads.max(initial=0)))
    weave = _weave(sett, ceil(widest / 2 / sett.n))
    phases, others = phases % sett.n, others % sett.n
    ends = np.full((len(phases), 1), 0.5)
    cuts = np.concatenate(
        [-ends, _cuts(weave.edges, phases, threads), _cuts(weave.edges, others, other_threads), ends], axis=1
    )
    cuts.sort(axis=1)
    middles = (cuts[:, 1:] + cuts[:, :-1]) / 2

    def seen(centres: Numbers, shown: Numbers) -> Rows:
        at = centres[:, None] + middles * shown[:, None]
        codes: Rows = weave.colours[np.floor(at).astype(np.intp) - weave.low]
        return codes

    alike = seen(phases, threads) == seen(others, other_threads)
    shares: Numbers = (np.diff(cuts, axis=1) * alike).sum(axis=1)
    return shares


def agreement(sett: Sett, phase: float, threads: float, other: float, other_threads: float) -> float:
    """`agreements` of one pair of strips."""
    pair = (np.array([value]) for value in (phase, threads, other, other_threads))
    return float(agreements(sett, *pair)[0])


def pattern_match(sett: Sett, pleating: Pleating, groups: Sequence[Alike], reveal: float) -> float:
    """Mean agreement over the strips at one level, 0 to 1; `reveal` in inches.

    To the sett a strip is held against the flat tartan it stands for, `pleating.shown` threads a reveal.
    Otherwise against the first strip of its own class.  Plain cloth always agrees.
    """
    if pleating.shows is Shows.PLAIN:
        return 1.0
    judged = [group for group in groups if group.like != LEFT_OUT]
    phases = np.array([group.phase for group in judged])
    threads = np.array([group.face * reveal / group.size for group in judged])
    if pleating.shown is not None:
        flat = [pleating.stands_for(group.strips[0] - 1) for group in judged]
        others, other_threads = phases, np.array(flat)
    else:
        firsts: dict[int, int] = {}
        first = [firsts.setdefault(group.like, i) for i, group in enumerate(judged)]
        if first == list(range(len(judged))):
            return 1.0  # every strip is the first of its class, or shows the very same as the first
        others, other_threads = phases[first], threads[first]
    times = np.array([len(group.strips) for group in judged])
    return float(agreements(sett, phases, threads, others, other_threads) @ times / times.sum())
