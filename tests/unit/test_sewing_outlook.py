"""One level half sewn: what the readings say, and how the rest is spread."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product
from math import exp, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench.sewing import (
    Belief,
    Limits,
    Maker,
    Outlook,
    Sewn,
    Stretch,
    Target,
    bounds,
    expected_reading,
    maker_of,
    outlook,
    respread,
    unpicked,
)
from pleatwright.bench.sewing.change import change_words, listed, one_step_each, steps_needed
from pleatwright.bench.sewing.outlook import Follow
from pleatwright.lengths import Grid, spread
from pleatwright.trade import default_settings
from pleatwright.wearer import LevelName

SEWING = default_settings().sewing
STRAP = LevelName.STRAP
MAKER = Maker(1 / 64, 1 / 32, 1 / 50)


def planned(total: int, pleats: int, grid: Grid = Grid.SIXTEENTH) -> Target:
    """`total` steps of the grid over so many pleats."""
    return Target(STRAP, tuple(size * grid.step for size in spread(total, pleats)))


def sewn_so(target: Target, told: tuple[Fraction, ...], *offs: tuple[int, int]) -> tuple[Sewn, ...]:
    """Readings from the first pleat: after so many pleats, so many sixteenths over what was told."""
    return tuple(Sewn(target.level, 1, n, sum(told[:n]) + Fraction(over, 16)) for n, over in offs)


def seen(
    target: Target,
    *offs: tuple[int, int],
    grid: Grid = Grid.SIXTEENTH,
    follow: Follow = "spread",
) -> Outlook:
    sewn = sewn_so(target, target.sizes, *offs)
    return outlook(target, target.sizes, sewn, grid, maker_of(SEWING, grid), SEWING, follow=follow)


stretches = st.lists(
    st.tuples(st.integers(1, 12), st.integers(1, 12), st.floats(-0.5, 0.5)), min_size=1, max_size=5
).map(lambda found: [Stretch(min(a, b), max(a, b), x) for a, b, x in found])


@given(stretches, st.integers(1, 12), st.integers(1, 12))
def test_what_is_believed_is_the_whole_state_conditioned_in_its_precision_form(
    read: list[Stretch], one: int, other: int
) -> None:
    pleats = 12
    state = np.zeros((len(read), pleats + 1))  # of b, and every pleat's own error
    for row, stretch in enumerate(read):
        state[row, 0] = stretch.last - stretch.first + 1
        state[row, stretch.first : stretch.last + 1] = 1
    prior = np.diag([1 / MAKER.bias**2] + [1 / MAKER.scatter**2] * pleats)
    covariance = np.linalg.inv(prior + state.T @ state / MAKER.reading**2)
    mean = covariance @ state.T @ np.array([stretch.excess for stretch in read]) / MAKER.reading**2
    belief = Belief(MAKER, read)
    assert belief.bias.mean == pytest.approx(mean[0], abs=1e-9)
    assert belief.bias.sd == pytest.approx(sqrt(covariance[0, 0]), abs=1e-9)
    first, last = sorted((one, other))
    asked = np.zeros(pleats + 1)
    asked[0], asked[first : last + 1] = last - first + 1, 1
    assert belief.excess(first, last).mean == pytest.approx(asked @ mean, abs=1e-9)
    assert belief.excess(first, last).sd == pytest.approx(sqrt(asked @ covariance @ asked), abs=1e-7)


def test_the_bias_is_what_adding_up_over_every_possible_bias_gives() -> None:
    read = [Stretch(1, 4, 0.25), Stretch(5, 9, 0.125), Stretch(10, 10, 0.06)]  # nothing shared between them

    def likelihood(bias: float) -> float:
        logs = -((bias / MAKER.bias) ** 2) / 2
        for one in read:
            variance = one.pleats * MAKER.scatter**2 + MAKER.reading**2
            logs -= (one.excess - one.pleats * bias) ** 2 / variance / 2
        return exp(logs)

    steps = [n / 50_000 for n in range(-5000, 5001)]  # 1/10" either way
    weights = [likelihood(bias) for bias in steps]
    mean = sum(w * b for w, b in zip(weights, steps, strict=True)) / sum(weights)
    spread_of = sum(w * (b - mean) ** 2 for w, b in zip(weights, steps, strict=True)) / sum(weights)
    found = Belief(MAKER, read).bias
    assert found.mean == pytest.approx(mean, abs=1e-7)
    assert found.sd == pytest.approx(sqrt(spread_of), abs=1e-7)


def test_without_a_reading_the_maker_is_the_usual_one() -> None:
    belief = Belief(MAKER, [])
    assert (belief.bias.mean, belief.bias.sd) == (0, 1 / 64)
    assert belief.excess(1, 26).sd == pytest.approx(sqrt(26**2 / 64**2 + 26 / 32**2))


def test_a_reading_taken_twice_is_surer_but_what_it_shares_counts_once() -> None:
    once, twice = (Belief(MAKER, [Stretch(1, 6, 0.2)] * times) for times in (1, 2))
    assert twice.excess(1, 6).sd < once.excess(1, 6).sd
    assert twice.excess(1, 6).sd > MAKER.reading / sqrt(2) * 0.9
    assert twice.bias.sd > Belief(MAKER, [Stretch(1, 6, 0.2), Stretch(7, 12, 0.2)]).bias.sd


@given(st.permutations([(4, 3), (9, 5), (12, 2), (13, 3)]))
def test_the_order_in_which_readings_are_entered_changes_nothing(offs: list[tuple[int, int]]) -> None:
    now, ordered = seen(planned(280, 26), *offs), seen(planned(280, 26), (4, 3), (9, 5), (12, 2), (13, 3))
    assert now.sizes == ordered.sizes
    assert now.bias == pytest.approx(ordered.bias)


@given(st.integers(60, 400), st.integers(2, 40), st.sampled_from(list(Grid)))
def test_with_nothing_sewn_all_is_told_as_planned(total: int, pleats: int, grid: Grid) -> None:
    target = planned(total, pleats, grid)
    now = outlook(target, target.sizes, (), grid, maker_of(SEWING, grid), SEWING)
    assert now.sizes == target.sizes
    assert (now.forecast, now.change, now.done) == (float(target.total), None, 0)


cases = st.tuples(
    st.integers(8, 40),
    st.integers(9, 16),
    st.integers(0, 15),
    st.lists(st.integers(-12, 12), min_size=1, max_size=4),
    st.booleans(),
    st.sampled_from([Grid.SIXTEENTH, Grid.THIRTYSECOND, Grid.MILLIMETRE]),
)


def followed(case: tuple[int, int, int, list[int], bool, Grid]) -> tuple[Target, Outlook, Grid, bool]:
    """A kilt measured a few times, the told sizes followed in between."""
    pleats, size, more, offs, from_over_apron, grid = case
    target = planned(round((pleats * size + more) / 16 / float(grid.step)), pleats, grid)
    told, sewn = target.sizes, tuple[Sewn, ...]()
    now = outlook(target, told, sewn, grid, maker_of(SEWING, grid), SEWING, from_over_apron=from_over_apron)
    for number, off in enumerate(offs, 1):
        done = number * pleats // (len(offs) + 1)
        if not done:
            continue
        first, last = (1, done) if from_over_apron else (pleats + 1 - done, pleats)
        width = sum(now.sizes[first - 1 : last]) + off * done * grid.step / 8
        sewn = (*sewn, Sewn(STRAP, first, last, width))
        now = outlook(
            target, now.sizes, sewn, grid, maker_of(SEWING, grid), SEWING, from_over_apron=from_over_apron
        )
    return target, now, grid, from_over_apron


@given(cases)
def test_what_is_sewn_and_told_and_the_bias_add_up_to_the_target_or_the_limits_bind(
    case: tuple[int, int, int, list[int], bool, Grid],
) -> None:
    target, now, grid, from_over_apron = followed(case)
    rest = now.sizes[now.done :] if from_over_apron else now.sizes[: now.pleats - now.done]
    end = now.sewn + float(sum(rest)) + len(rest) * now.bias
    assert now.forecast == pytest.approx(end)
    if abs(end - float(target.total)) <= float(grid.step) / 2 + 1e-9:
        return
    step = 1 if now.miss < 0 else -1  # no single pleat could still be moved towards the target
    order = now.sizes if from_over_apron else now.sizes[::-1]
    plan = target.sizes if from_over_apron else target.sizes[::-1]
    limits = Limits.of(SEWING, grid)
    for place in range(now.done, now.pleats):
        moved = list(order)
        moved[place] += step * grid.step
        beside = moved[place - 1 : place + 2] if place else moved[:2]
        near = all(abs(a - b) <= limits.next_most * grid.step for a, b in pairwise(beside))
        assert not near or abs(moved[place] - plan[place]) > limits.plan_most * grid.step


@given(cases)
def test_neighbours_stay_within_a_sixteenth_also_where_the_sewn_ones_end(
    case: tuple[int, int, int, list[int], bool, Grid],
) -> None:
    target, now, grid, _ = followed(case)
    assert all(abs(a - b) <= Fraction(1, 16) for a, b in pairwise(now.sizes))
    assert all(abs(a - b) <= Fraction(1, 8) for a, b in zip(now.sizes, target.sizes, strict=True))
    assert all((size / grid.step).denominator == 1 for size in now.sizes)


@given(
    st.lists(st.integers(9, 10), min_size=1, max_size=4),
    st.one_of(st.none(), st.integers(8, 11)),
    st.integers(20, 60),
)
def test_no_other_sizes_within_the_limits_come_nearer(
    plan: list[int], before: int | None, wanted: int
) -> None:
    limits = Limits(1, 2)
    made = respread(wanted, bounds(plan, before, limits))
    lead = [] if before is None else [before]
    possible = [
        sum(sizes)
        for sizes in product(*(range(size - 2, size + 3) for size in plan))
        if all(abs(a - b) <= 1 for a, b in pairwise([*lead, *sizes]))
    ]
    assert abs(sum(made) - wanted) == min(abs(total - wanted) for total in possible)
    assert all(abs(a - b) <= 1 for a, b in pairwise([*lead, *made]))


@given(st.integers(30, 400), st.integers(2, 40))
def test_a_re_spread_with_nothing_in_its_way_is_even(units: int, pleats: int) -> None:
    between = bounds([units // pleats] * pleats, None, Limits(1, 2))
    assert respread(units, between) == spread(units, pleats)


def test_sewn_from_the_other_end_all_is_mirrored() -> None:
    target = planned(283, 27)  # an odd number: the plan is its own mirror
    sizes = target.sizes
    there = seen(target, (4, 3), (9, 5))
    sewn = (
        Sewn(STRAP, 24, 27, sum(sizes[:4]) + Fraction(3, 16)),
        Sewn(STRAP, 19, 27, sum(sizes[:9]) + Fraction(5, 16)),
    )
    grid = Grid.SIXTEENTH
    back = outlook(target, sizes, sewn, grid, maker_of(SEWING, grid), SEWING, from_over_apron=False)
    assert back.sizes == there.sizes[::-1]
    assert back.forecast == pytest.approx(there.forecast)
    assert back.bias == pytest.approx(there.bias)


def test_a_centre_box_keeps_its_panel() -> None:
    sides = tuple(Fraction(n, 16) for n in spread(120, 12))
    target = Target(STRAP, (*sides, Fraction(22, 16), *sides[::-1]))
    before = seen(target, (5, 5))
    after = seen(target, (13, 9))
    assert before.sizes[12] == after.sizes[12] == Fraction(22, 16)
    assert sum(before.sizes) < target.total
    assert after.sizes[13] <= sides[-1]


def test_pleats_sewn_but_not_measured_keep_what_they_were_told() -> None:
    target = planned(280, 26)
    sewn = sewn_so(target, target.sizes, (4, 4))
    grid = Grid.SIXTEENTH
    now = outlook(target, target.sizes, sewn, grid, maker_of(SEWING, grid), SEWING, done=10)
    assert now.done == 10
    assert now.sizes[:10] == target.sizes[:10]
    assert now.read is None
    assert now.ahead == pytest.approx(0.25 + 6 * now.bias, abs=0.02)


@pytest.mark.parametrize(
    "miss, within, step, number",
    [
        (0.05, 1 / 16, 1 / 16, 0),
        (0.3, 1 / 16, 1 / 16, -4),
        (-0.3, 1 / 16, 1 / 16, 4),
        (0.125, 1 / 16, 1 / 16, -1),
        (0.1, 0.01, 1 / 16, -2),  # one step leaves 0.0375", two 0.025": neither is within, two are nearer
    ],
)
def test_the_fewest_steps_that_bring_a_miss_home(
    miss: float, within: float, step: float, number: int
) -> None:
    assert steps_needed(miss, within, step) == number


@given(cases)
def test_the_smallest_change_ends_within_half_of_good_work_and_no_fewer_steps_would(
    case: tuple[int, int, int, list[int], bool, Grid],
) -> None:
    pleats, size, more, offs, _, grid = case
    target = planned(round((pleats * size + more) / 16 / float(grid.step)), pleats, grid)
    done = pleats // 2
    sewn = (Sewn(STRAP, 1, done, sum(target.sizes[:done]) + offs[0] * grid.step),)
    maker = maker_of(SEWING, grid)
    least = outlook(target, target.sizes, sewn, grid, maker, SEWING, follow="least")
    before, half = least.unchanged - float(target.total), float(SEWING.off_good) / 2
    if least.change is None:
        assert abs(before) <= half
        assert least.sizes == target.sizes
    elif not least.change.whole:
        steps = len(least.change.pleats)
        assert abs(least.miss) <= half
        assert abs(before) - (steps - 1) * float(grid.step) > half
        changed = {n for n, (a, b) in enumerate(zip(least.sizes, target.sizes, strict=True), 1) if a != b}
        assert changed == set(least.change.pleats)
        assert all(abs(a - b) <= Fraction(1, 16) for a, b in pairwise(least.sizes))


def test_the_smallest_change_in_a_makers_words() -> None:
    target = planned(27 * 22, 27, Grid.THIRTYSECOND)
    now = seen(target, (12, -3), grid=Grid.THIRTYSECOND)
    assert now.change is not None
    assert now.change.words == 'the next ten pleats 1/32" wider at the strap line'
    metric = change_words(STRAP, (7,), -Grid.MILLIMETRE.step, Grid.MILLIMETRE, next_pleat=5)
    assert metric == "pleat 7: 1 mm narrower at the strap line"
    back = change_words(STRAP, (18, 17), Fraction(1, 16), Grid.SIXTEENTH, next_pleat=18)
    assert back == 'the next two pleats 1/16" wider at the strap line'
    assert listed([15, 10, 16, 12, 17]) == "10, 12 and 15 to 17"


def test_a_step_is_not_taken_where_it_would_show() -> None:
    # after a pleat of 10 the next may be 11; told 10, 11: widening both would put 12 beside 10
    assert one_step_each([11, 10, 11, 10], 10, 2, Limits(1, 2)) == (1, 3)
    assert one_step_each([10, 10, 10], 10, 2, Limits(1, 2)) == (0, 1)
    assert one_step_each([10, 11], 10, 3, Limits(1, 2)) is None


def test_unpicking_regains_what_the_last_pleats_lost() -> None:
    target = planned(280, 26)
    sewn = sewn_so(target, target.sizes, (14, 2), (22, 20))
    grid = Grid.SIXTEENTH
    maker = maker_of(SEWING, grid)
    now = outlook(target, target.sizes, sewn, grid, maker, SEWING)
    misses = [unpicked(now, target, sewn, back, grid, maker, SEWING) for back in range(9)]
    assert misses[0] == pytest.approx(now.miss)
    assert now.miss > float(SEWING.off_most)
    assert all(later <= earlier + 1 / 16 for earlier, later in pairwise(misses))
    assert abs(misses[8]) <= float(SEWING.off_good)


def test_a_wider_tape_step_is_a_coarser_reading() -> None:
    fine, coarse = (maker_of(SEWING, grid).reading for grid in (Grid.MILLIMETRE, Grid.SIXTEENTH))
    assert coarse == pytest.approx(1 / 16 / sqrt(12))
    assert fine < coarse


def test_the_next_reading_is_expected_where_the_told_sizes_and_the_bias_put_it() -> None:
    target = planned(280, 26)
    grid = Grid.SIXTEENTH
    maker = maker_of(SEWING, grid)
    usual = expected_reading(target, target.sizes, (), 1, 9, grid, maker)
    assert usual.width == float(sum(target.sizes[:9]))
    assert usual.sd == pytest.approx(sqrt(81 / 64**2 + 9 / 32**2 + maker.reading**2))
    learned = expected_reading(
        target, target.sizes, sewn_so(target, target.sizes, (9, 9)), 10, 12, grid, maker
    )
    assert learned.width > float(sum(target.sizes[9:12])) + 0.1


def test_sizes_off_the_grid_and_pleats_that_are_not_there_are_refused() -> None:
    target = planned(280, 26)
    grid, maker = Grid.SIXTEENTH, MAKER
    with pytest.raises(ValueError, match="whole steps"):
        outlook(target, (Fraction(1, 3), *target.sizes[1:]), (), grid, maker, SEWING)
    with pytest.raises(ValueError, match="no pleats 20 to 27"):
        outlook(target, target.sizes, (Sewn(STRAP, 20, 27, Fraction(5)),), grid, maker, SEWING)
    with pytest.raises(ValueError, match="26 pleats are planned and 25 told"):
        outlook(target, target.sizes[1:], (), grid, maker, SEWING)


def test_a_shop_with_a_steadier_hand_is_surer_of_the_end() -> None:
    target = planned(280, 26)
    steady = replace(SEWING, bias=Fraction(1, 128), scatter=Fraction(1, 64))
    grid = Grid.SIXTEENTH
    usual, sure = (
        outlook(target, target.sizes, sewn_so(target, target.sizes, (9, 1)), grid, maker_of(each, grid), each)
        for each in (SEWING, steady)
    )
    assert sure.chance_within_good > usual.chance_within_good
    assert sure.forecast_sd < usual.forecast_sd
