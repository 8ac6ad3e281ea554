"""Simulated makers held against the closed form, against the log maker by maker, and against the trade.

The hand is from memory (1/64" steady, 1/32" scatter); seeds are fixed, so every figure here comes again.
"""

from __future__ import annotations

import re
import runpy
from collections.abc import Callable
from fractions import Fraction
from math import sqrt
from pathlib import Path
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from pleatwright.bench.makers import simulate, told_to, within
from pleatwright.bench.risk import ends
from pleatwright.bench.sewing import Sewn, Target, maker_of, outlook
from pleatwright.lengths import Grid, on_grid, spread
from pleatwright.trade import default_settings
from pleatwright.wearer import LevelName

ROOT = Path(__file__).parents[2]
SEWING = default_settings().sewing
MAKERS = 10_000
WIDTHS = Fraction(41, 2), Fraction(17)
"""Pleated widths of hips 41" and waist 34", half of each in the aprons; inches."""


def planned(width: Fraction, pleats: int, grid: Grid) -> tuple[Fraction, ...]:
    return tuple(size * grid.step for size in spread(int(on_grid(width, grid) / grid.step), pleats))


def ended(
    pleats: int, grid: Grid, every: int | None, seed: int = 11, bias_times: float = 1.0
) -> NDArray[np.float64]:
    hip, strap = (planned(width, pleats, grid) for width in WIDTHS)
    return simulate(seed, MAKERS, hip, strap, grid, SEWING, every, bias_times=bias_times)


def test_without_the_log_the_ends_are_normal_as_sums_of_normal_errors_are() -> None:
    # general reference: the variance of a sum, the normal distribution of Python's statistics module
    sd = sqrt(27**2 / 64**2 + 27 / 32**2)
    ends_at = ended(27, Grid.SIXTEENTH, None).ravel()
    assert ends_at.std() == pytest.approx(sd, abs=3 * sd / sqrt(2 * ends_at.size))
    assert ends_at.mean() == pytest.approx(0, abs=3 * sd / sqrt(ends_at.size))
    for off in (-0.5, -0.25, -0.125, 0.125, 0.25, 0.5):
        share = NormalDist(0, sd).cdf(off)
        error = sqrt(share * (1 - share) / ends_at.size)
        assert (ends_at <= off).mean() == pytest.approx(share, abs=3 * error)


@pytest.mark.parametrize("grid", Grid)
@pytest.mark.parametrize("pleats, every", [(27, None), (27, 4), (27, 6), (27, 8), (23, 4), (29, 8), (30, 5)])
def test_the_closed_form_gives_the_simulated_chances_within_three_standard_errors(
    pleats: int, every: int | None, grid: Grid
) -> None:
    made, seen = ends(pleats, every or 0, SEWING, grid), ended(pleats, grid, every)
    assert made.left >= 2
    for chance, both, off in (
        (made.over_good, made.either_good, SEWING.off_good),
        (made.over_most, made.either_most, SEWING.off_most),
    ):
        for expected, columns in ((chance, seen.reshape(-1, 1)), (both, seen)):
            error = max(sqrt(expected * (1 - expected) / len(columns)), 1 / len(columns))
            assert 1 - within(columns, off).value == pytest.approx(expected, abs=3 * error)


@pytest.mark.parametrize("grid", Grid)
@pytest.mark.parametrize("pleats, intervals", [(12, (1, 2, 3, 5)), (27, (2, 3, 9, 13)), (29, (2, 4, 7, 14))])
def test_the_closed_form_is_true_to_one_kilt_in_a_hundred_at_every_interval(
    pleats: int, intervals: tuple[int, ...], grid: Grid
) -> None:
    for every in intervals:
        made, seen = ends(pleats, every, SEWING, grid), ended(pleats, grid, every).reshape(-1, 1)
        for chance, off in ((made.over_good, SEWING.off_good), (made.over_most, SEWING.off_most)):
            error = 3 * sqrt(chance * (1 - chance) / len(seen))
            assert 1 - within(seen, off).value == pytest.approx(chance, abs=0.01 + error)


@pytest.mark.parametrize("grid", Grid)
@pytest.mark.parametrize("every", [2, 4, 8])
def test_many_makers_at_once_are_told_what_the_log_tells_each_of_them(grid: Grid, every: int) -> None:
    pleats, step = 27, grid.step
    sizes = planned(WIDTHS[1], pleats, grid)
    rng = np.random.default_rng(every)
    errors = rng.normal(0, 1 / 40, (40, 1)) + rng.normal(0, 1 / 32, (40, pleats))  # some beyond every limit
    together, bias = told_to(errors, sizes, grid, SEWING, every)
    target, maker = Target(LevelName.STRAP, sizes), maker_of(SEWING, grid)
    for row, one in enumerate(errors):
        told, sewn, last = sizes, list[Sewn](), 0.0
        for done in range(every, pleats, every):
            width = float(sum(told[:done])) + float(one[:done].sum())
            sewn.append(Sewn(LevelName.STRAP, 1, done, on_grid(width, grid)))
            now = outlook(target, told, sewn, grid, maker, SEWING)
            told, last = now.sizes, now.bias
        assert [int(size / step) for size in told] == together[row].tolist()
        assert bias[row] == pytest.approx(last, abs=1e-12)


def test_a_sixteenth_on_every_pleat_is_found_and_taken_back() -> None:
    # xmarksthescot.com thread 25996: 1/16" on each of 26 pleats is 1 5/8" at the waist
    sizes = planned(Fraction(21), 26, Grid.THIRTYSECOND)
    errors = np.full((1, 26), 1 / 16)
    assert errors.sum() == 1 + 5 / 8
    told, bias = told_to(errors, sizes, Grid.THIRTYSECOND, SEWING, 4)
    end = float(told.sum() * Grid.THIRTYSECOND.step) + errors.sum() - 21
    assert abs(end) <= float(SEWING.off_good)
    assert 3 / 64 < bias[0] < 1 / 16


@pytest.mark.parametrize("grid", Grid)
def test_a_hand_without_errors_is_told_the_plan(grid: Grid) -> None:
    sizes = planned(WIDTHS[0], 27, grid)
    told, bias = told_to(np.zeros((3, 27)), sizes, grid, SEWING, 3)
    assert told.tolist() == [[int(size / grid.step) for size in sizes]] * 3
    assert bias == pytest.approx([0, 0, 0])


@pytest.mark.parametrize("grid", Grid)
def test_neighbours_stay_within_the_limit_for_every_maker(grid: Grid) -> None:
    rng = np.random.default_rng(5)
    errors = rng.normal(0, 1 / 16, (2000, 1)) + rng.normal(0, 1 / 16, (2000, 27))
    told, _ = told_to(errors, planned(WIDTHS[1], 27, grid), grid, SEWING, 3)
    apart = np.abs(np.diff(told, axis=1)).max() * grid.step
    assert 0 < apart <= SEWING.neighbours_most


def test_a_centre_boxs_panel_keeps_its_size_while_the_others_are_re_spread() -> None:
    side = planned(Fraction(8), 12, Grid.SIXTEENTH)
    sizes = (*side, Fraction(3, 2), *side)
    told, _ = told_to(np.full((1, 25), 1 / 48), sizes, Grid.SIXTEENTH, SEWING, 4)
    assert told[0, 12] == 24
    assert told[0].sum() * Fraction(1, 16) + Fraction(25, 48) == pytest.approx(float(sum(sizes)), abs=1 / 16)


def test_sizes_off_the_tapes_grid_are_refused() -> None:
    with pytest.raises(ValueError, match="whole steps of the grid"):
        simulate(1, 2, [Fraction(1, 32)] * 5, [Fraction(1, 16)] * 5, Grid.SIXTEENTH, SEWING, 2)


def test_the_same_seed_gives_the_same_makers_with_and_without_the_log() -> None:
    once, again = ended(27, Grid.SIXTEENTH, 4), ended(27, Grid.SIXTEENTH, 4)
    assert (once == again).all()
    other = ended(27, Grid.SIXTEENTH, 4, seed=12)
    assert not (once == other).any()
    # a log that is opened after the last pleat changes nothing
    assert (ended(27, Grid.SIXTEENTH, 27) == ended(27, Grid.SIXTEENTH, None)).all()


def test_twice_the_steady_error_is_twice_as_far_off_and_the_log_still_finds_it() -> None:
    never, log = (ended(27, Grid.SIXTEENTH, every, bias_times=2.0) for every in (None, 4))
    assert never.std() == pytest.approx(sqrt(27**2 / 32**2 + 27 / 32**2), rel=0.02)
    assert within(log, SEWING.off_most).value > 0.99
    assert within(never, SEWING.off_most).value < 0.06


def test_a_shares_uncertainty_holds_the_true_share_nineteen_times_in_twenty() -> None:
    # general reference: Wilson's interval for a binomial share
    true = 1 - ends(27, 0, SEWING, Grid.SIXTEENTH).over_most
    sizes = planned(WIDTHS[0], 27, Grid.SIXTEENTH)
    held = 0
    for seed in range(200):
        made = simulate(seed, 200, sizes, sizes, Grid.SIXTEENTH, SEWING)
        share = within(made[:, :1], SEWING.off_most)
        held += abs(share.value - true) <= share.give
    assert 180 <= held <= 199
    sure = within(np.zeros((200, 2)), SEWING.off_good)
    assert sure.value == 1
    assert 0 < sure.give < 0.02


PLOT: dict[str, Any] = runpy.run_path(str(ROOT / "benchmarks/sewing_plot.py"))
NUMBER = re.compile(r"\d+\.\d+(?:e-\d+)?")
PAGE = (ROOT / "docs/sewing.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("made", ["figures", "reckoned"])
def test_the_tables_of_the_page_are_the_programs_own(made: str) -> None:
    table: Callable[[], str] = PLOT[made]
    assert table() in PAGE


def test_the_pages_picture_is_the_one_its_script_draws() -> None:
    drawn: str = PLOT["write_svg"](PLOT["picture"]())
    kept = (ROOT / "docs/sewing.svg").read_text(encoding="utf-8")
    assert NUMBER.sub("", kept) == NUMBER.sub("", drawn)
    places = [[float(number) for number in NUMBER.findall(text)] for text in (kept, drawn)]
    assert places[0] == pytest.approx(places[1], abs=1e-6)  # another machine's last digit
    assert "](sewing.svg)" in PAGE
