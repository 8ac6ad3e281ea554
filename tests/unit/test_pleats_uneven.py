"""Uneven division: the best folds against every possible set of folds; what lines wished for ask of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import inf, isinf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.pleats import (
    UNEVEN_KIND,
    Division,
    FoldPlaces,
    LineWishes,
    Pleating,
    Wishes,
    best_division,
)
from pleatwright.pleats.uneven import times_shown
from pleatwright.sett import parse_count
from pleatwright.trade import default_settings
from pleatwright.wearer import LevelName

SHOP = default_settings()
LINED = parse_count("G/20 W2 B14 R/4").weft


def cuts(whole: int, parts: int, widths: range) -> Iterator[tuple[int, ...]]:
    """Every row of so many widths that fills the sett."""
    if parts == 1:
        if whole in widths:
            yield (whole,)
        return
    for width in widths:
        if width < whole:
            for rest in cuts(whole - width, parts - 1, widths):
                yield (width, *rest)


def every_division(whole: int, parts: int, odd: bool, mirrored: bool, widths: range) -> Iterator[list[int]]:
    """Every set of folds, in places from the middle of the back, that keeps its stripe there."""
    for row in cuts(whole, parts, widths):
        if odd and row[0] % 2:
            continue
        folds = [-row[0] // 2 if odd else 0]
        for width in row:
            folds.append(folds[-1] + width)
        laid = {fold % whole for fold in folds}
        if not mirrored or laid == {-fold % whole for fold in laid}:
            yield folds


def lost_by(folds: list[int], pleats: int, points: np.ndarray, start: int, narrowest: int) -> float:
    """What all pleats of a kilt lose, pleat by pleat from the middle of the back outward."""
    whole, parts, total = len(points), len(folds) - 1, 0.0
    first = -(pleats - 1) // 2 if pleats % 2 else -pleats // 2
    for number in range(first, first + pleats):
        i = number % parts
        total += points[(start + folds[i]) % whole, folds[i + 1] - folds[i] - narrowest]
    return total


@st.composite
def boards(draw: st.DrawFn) -> tuple[int, int, int, float, bool, FoldPlaces, np.ndarray]:
    """A small sett, the places for folds, and what strips lose, some of them not allowed."""
    n, parts = draw(st.integers(3, 9)), draw(st.integers(2, 4))
    pleats = draw(st.integers(parts, 11))
    middle = draw(st.integers(0, 2 * n - 1)) / 2
    mean = 2 * n // parts
    narrowest = draw(st.integers(1, max(1, mean)))
    places = FoldPlaces(2, narrowest, narrowest + draw(st.integers(0, 5)))
    seed = draw(st.integers(0, 2**32 - 1))
    random = np.random.default_rng(seed)
    points = random.integers(0, 12, (2 * n, len(places.widths))).astype(float)
    points[random.random(points.shape) < draw(st.sampled_from([0.0, 0.15]))] = inf
    mirrored = draw(st.booleans())
    if mirrored:
        start = round(2 * middle)
        for left in range(2 * n):
            for column, width in enumerate(places.widths):
                image = (2 * start - left - width) % (2 * n)
                points[image, column] = points[left, column]
    return n, parts, pleats, middle, mirrored, places, points


@settings(max_examples=250)
@given(boards())
def test_no_set_of_folds_loses_less_than_the_best_one(
    board: tuple[int, int, int, float, bool, FoldPlaces, np.ndarray],
) -> None:
    n, parts, pleats, middle, mirrored, places, points = board
    start = round(2 * middle)
    every = [
        lost_by(folds, pleats, points, start, places.narrowest)
        for folds in every_division(2 * n, parts, pleats % 2 == 1, mirrored, places.widths)
    ]
    least = min(every, default=inf)
    best = best_division(parts, pleats, middle, mirrored, places, points)
    if best is None:
        assert isinf(least)
        return
    assert best.lost == pytest.approx(least)
    folds = [round(2 * (fold - middle)) for fold in best.folds]
    assert lost_by(folds, pleats, points, start, places.narrowest) == pytest.approx(least)
    assert folds[-1] - folds[0] == 2 * n
    assert len(folds) == parts + 1
    assert folds in list(every_division(2 * n, parts, pleats % 2 == 1, mirrored, places.widths))


def test_every_pleat_shows_a_strip_of_the_sett() -> None:
    assert times_shown(7, 3) == (3, 2, 2)
    assert times_shown(8, 3) == (3, 2, 3)
    assert sum(times_shown(27, 8)) == 27


@given(st.integers(3, 40), st.lists(st.integers(2, 9), min_size=2, max_size=8))
def test_the_tartan_runs_on_from_pleat_to_pleat(pleats: int, row: list[int]) -> None:
    folds = tuple(float(sum(row[:i])) for i in range(len(row) + 1))
    steps, centres = Division(folds, 0.0).of_pleats(pleats)
    assert len(steps) == pleats
    for i, (here, there) in enumerate(pairwise(centres)):
        assert there - here == pytest.approx((steps[i] + steps[i + 1]) / 2)
    middle = pleats // 2
    assert centres[middle] - steps[middle] / 2 == folds[0]


def test_a_pleat_may_stand_for_an_eighth_more_or_less_than_it_shows() -> None:
    places = FoldPlaces.of(1 / 32, 0.75, 0.125, 0)
    assert (places.per_thread, places.narrowest, places.widest) == (2, 40, 56)
    coarse = FoldPlaces.of(1 / 8, 0.75, 0.125, 0)
    assert (coarse.per_thread, coarse.narrowest, coarse.widest) == (4, 20, 28)
    assert FoldPlaces.of(1 / 32, 0.75, 0.125, 22.2).narrowest == 45


def wishes(whole: tuple[float, ...] = (), split: tuple[float, ...] = ()) -> LineWishes:
    """Wishes for the lined sett at 1/32 of an inch a thread: a fold keeps two threads away."""
    return LineWishes.of(LINED, Wishes(keep_whole=whole, split=split), SHOP, 1 / 32)


WHITE, RED = 21.0, 38.0


@pytest.mark.parametrize(
    "left, right, met",
    [
        (10.0, 34.0, True),  # the white at 20 to 22 is well inside
        (21.0, 45.0, False),  # a fold in the white
        (22.0, 46.0, False),  # and beside it, at its very edge
        (24.0, 48.0, True),  # two threads beside it
        (18.0, 32.0, True),  # two threads away
        (19.0, 33.0, False),  # one thread away
        (30.0, 55.0, False),  # a fold in its mirror image, at 54 to 56
        (-46.0, -22.0, True),  # well inside, a sett before
    ],
)
def test_a_line_kept_whole_has_no_fold_in_it_nor_beside_it(left: float, right: float, met: bool) -> None:
    shown = (right - left) if right - left < 20 else 24.0
    assert wishes(whole=(WHITE,)).met(np.array([left]), np.array([right]), shown, shown - 4)[0] == met


def test_a_line_kept_whole_shows_whole_where_the_pleats_are_narrowest() -> None:
    left, right = np.array([13.0]), np.array([37.0])
    assert wishes(whole=(WHITE,)).met(left, right, 24, 10)[0]
    assert not wishes(whole=(WHITE,)).met(left, right, 24, 9)[0]


def test_a_line_split_on_purpose_has_a_fold_at_its_centre() -> None:
    lefts, rights = np.array([14.0, 38.0, 30.0]), np.array([38.0, 62.0, 54.0])
    assert wishes(split=(RED,)).met(lefts, rights, 24, 20).tolist() == [True, True, False]


def test_pleats_not_to_the_sett_are_asked_for_nothing() -> None:
    bare = Pleating(UNEVEN_KIND.form, UNEVEN_KIND.shows, 3, 0.0, (80.0, 80.0), 0.0)
    widths = {LevelName.HIP: 2.0, LevelName.STRAP: 1.5}
    assert wishes(whole=(WHITE,)).met_by(bare, widths, 1 / 32)
    with pytest.raises(ValueError, match="to the sett"):
        bare.stands_for(0)


def test_wishes_hold_for_every_pleat_of_a_kilt() -> None:
    widths = {LevelName.HIP: 2 * 20 / 32, LevelName.STRAP: 2 * 16 / 32}
    kilt = Pleating(UNEVEN_KIND.form, UNEVEN_KIND.shows, 2, 18.0, (56 + 20,), 28.0, shown=20.0)
    assert wishes(whole=(WHITE,)).met_by(kilt, widths, 1 / 32)  # the white on the first pleat, 8 to 28
    assert not wishes(whole=(WHITE,), split=(WHITE,)).met_by(kilt, widths, 1 / 32)
    assert not wishes(whole=(WHITE,)).met_by(replace(kilt, first=11.0), widths, 1 / 32)
    assert not wishes(whole=(WHITE,)).met_by(replace(kilt, first=44.0), widths, 1 / 32)
    assert wishes(whole=(WHITE,)).met_by(replace(kilt, steps=(20.0, 19.0)), widths, 1 / 32)
