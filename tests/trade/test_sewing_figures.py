"""The sewing log against figures that makers have published."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.bench.sewing import Outlook, Sewn, Target, maker_of, outlook
from pleatwright.lengths import Grid, on_grid, spread
from pleatwright.trade import default_settings
from pleatwright.wearer import LevelName

SEWING = default_settings().sewing
EACH = Fraction(1, 16)
PLEATS = 26


def sewn_wide(grid: Grid, every: int | None) -> tuple[Fraction, list[Outlook]]:
    """26 pleats over 21" at the waist, each sewn 1/16" too wide: the end, and what the log said."""
    steps = int(on_grid(Fraction(21), grid) / grid.step)
    sizes = tuple(size * grid.step for size in spread(steps, PLEATS))
    target = Target(LevelName.STRAP, sizes)
    told, sewn, said = sizes, tuple[Sewn, ...](), list[Outlook]()
    for done in range(every, PLEATS, every) if every else ():
        width = on_grid(sum(told[:done]) + done * EACH, grid)
        sewn = (*sewn, Sewn(LevelName.STRAP, 1, done, width))
        said.append(outlook(target, told, sewn, grid, maker_of(SEWING, grid), SEWING))
        told = said[-1].sizes
    return sum(told) + PLEATS * EACH - target.total, said


def test_a_sixteenth_on_each_of_26_pleats_is_an_inch_and_five_eighths() -> None:
    # xmarksthescot.com thread 25996: 1/16" on each of 26 pleats is 1 5/8" at the waist
    end, _ = sewn_wide(Grid.SIXTEENTH, None)
    assert end == Fraction(13, 8)


@pytest.mark.parametrize("grid", list(Grid))
def test_the_log_sees_such_a_hand_after_four_pleats_and_ends_within_good_work(grid: Grid) -> None:
    end, said = sewn_wide(grid, 4)
    first = said[0]
    assert first.done == 4
    assert first.bias > 2 * first.bias_sd
    assert first.change is not None
    assert first.change.by < 0
    assert first.unchanged - float(first.target) > 1 / 2  # it says so with 22 pleats still to sew
    assert said[-1].bias > 0.8 * float(EACH)
    # niceold.com/kiltmaking, 14 May 2012: good work ends within 1/8" of the waist
    assert abs(end) <= Fraction(1, 8)


def test_measured_only_once_near_the_end_it_is_too_late_and_the_log_says_so() -> None:
    grid = Grid.SIXTEENTH
    sizes = tuple(size * grid.step for size in spread(21 * 16, PLEATS))
    target = Target(LevelName.STRAP, sizes)
    sewn = (Sewn(LevelName.STRAP, 1, 22, sum(sizes[:22], 22 * EACH)),)
    now = outlook(target, sizes, sewn, grid, maker_of(SEWING, grid), SEWING)
    assert now.miss > float(SEWING.off_most)
