"""Tape readings held against the outside: numpy's interpolation, cloth drawn at random, known slips.

The drawn cloth and its measuring errors are stated in pleatwright.cloth.population [own].  The threshold of
doubt was set on other seeds than these.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from pleatwright.cloth import Reading, Run, run_of_readings
from pleatwright.cloth.population import NOISE, DrawnPiece, draw_piece
from pleatwright.cloth.tape import Check, accepted, checked, size_doubts
from pleatwright.sett import Sett, parse_count

SETT = parse_count("B/24 W4 B24 R2 K24 G24 W/2").weft
"""An invented sett of 182 threads (trade page on counts, [derived])."""
SIZE = 6.5
PIECES = 1000
PAGE = (Path(__file__).parents[2] / "docs" / "measuring.md").read_text(encoding="utf-8")
"""The figures are told there."""
FIRST_SEED = 10_000_000


def check(readings: tuple[Reading, ...], sett: Sett = SETT, size: float = SIZE) -> tuple[Check, ...]:
    return checked([(reading, number) for number, reading in enumerate(readings, 1)], sett, size)


def furthest(piece: DrawnPiece, checks: tuple[Check, ...]) -> float:
    """The largest error of the map between its readings, over every stripe's edges (inches)."""
    stand = accepted(checks)
    run = run_of_readings(SETT, piece.truth.length or 0.0, stand, SIZE)
    edges = np.array(SETT.edges, dtype=float)
    turns = np.arange(stand[0].thread // SETT.n, stand[-1].thread // SETT.n + 1) * SETT.n
    threads = (edges[None, :] + turns[:, None]).ravel()
    threads = threads[(threads >= stand[0].thread) & (threads <= stand[-1].thread)]
    return float(np.abs(run.tapes_at(threads) - piece.truth.tapes_at(threads)).max())


def test_the_map_between_readings_is_numpys_interpolation() -> None:
    piece = draw_piece(1, SETT, SIZE)
    run = run_of_readings(SETT, piece.truth.length or 0.0, piece.readings, SIZE)
    threads = [reading.thread for reading in piece.readings]
    at = [reading.at for reading in piece.readings]
    places = np.linspace(threads[0], threads[-1], 997)
    assert run.tapes_at(places) == pytest.approx(np.interp(places, threads, at), abs=1e-9)
    tape = np.linspace(at[0], at[-1], 997)
    assert run.threads_at(tape) == pytest.approx(np.interp(tape, at, threads), abs=1e-9)


def test_a_clean_piece_is_mapped_to_a_sixteenth_beyond_the_measuring_error_and_raises_no_alarm() -> None:
    alarms, worst = 0, 0.0
    for seed in range(FIRST_SEED, FIRST_SEED + PIECES):
        piece = draw_piece(seed, SETT, SIZE)
        checks = check(piece.readings)
        alarms += any(one.doubtful for one in checks)
        worst = max(worst, furthest(piece, checks))
    assert worst <= 1 / 16 + NOISE
    assert alarms <= 0.02 * PIECES
    assert f"| {alarms} of {PIECES} |" in PAGE
    assert f'largest error of the map at a stripe between readings | {worst:.4f}"' in PAGE


def test_a_planted_wrong_reading_is_caught_and_the_map_is_as_good_without_it() -> None:
    caught, planted, worst = 0, 0, 0.0
    for seed in range(FIRST_SEED, FIRST_SEED + PIECES):
        piece = draw_piece(seed, SETT, SIZE, wrong=True)
        if piece.wrong is None:
            continue
        planted += 1
        checks = check(piece.readings)
        if checks[piece.wrong].doubtful:
            caught += 1
            likely = checks[piece.wrong].likely
            assert likely == pytest.approx(piece.readings[piece.wrong].at - piece.error, abs=3 / 8)
            worst = max(worst, furthest(piece, checks))
    assert worst <= 1 / 16 + NOISE
    assert planted > 0.9 * PIECES
    assert caught >= 0.95 * planted
    assert f"| {caught} of {planted} |" in PAGE
    assert f'once a wrong reading has been left out | {worst:.4f}"' in PAGE


def read_cleanly(stripe: str, sett: Sett = SETT) -> tuple[Reading, ...]:
    """Ten readings, four setts apart, of cloth that runs a little large."""
    phase = next(sett.centre_of(one) for one in sett.stripes if one.colour == stripe)
    run = Run.uniform(sett, SIZE * 1.006, 20.0, 300.0)
    first = run.next_thread(0.0, phase)
    threads = [first + 4 * sett.n * i for i in range(10)]
    return tuple(Reading(stripe, thread, run.tape_at(thread)) for thread in threads)


TWIN = (SETT.centre_of(SETT.stripes[3]), SETT.centre_of(SETT.stripes[9]))
"""The red lines of this sett, mirror images of each other."""

SLIPS = {
    "two digits changed round": lambda at, _: float(f"{str(int(at))[::-1]}") + at % 1,
    "a repeat skipped": lambda at, size: at + size,
    "a repeat counted twice": lambda at, size: at - size,
    "3 repeats skipped": lambda at, size: at + 3 * size,
    "read in centimetres": lambda at, _: at * 2.54,
    "centimetres taken for inches": lambda at, _: at / 2.54,
    "the same stripe elsewhere in the sett": lambda at, size: at + size * (TWIN[1] - TWIN[0]) / SETT.n,
}
"""What each slip makes of a right reading; slips from memory of the bench, unverified."""


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_named_and_the_likely_value_given(slip: str) -> None:
    assert SETT.stripes[3].colour == SETT.stripes[9].colour == "R"
    readings = list(read_cleanly("R"))
    right = readings[3]
    readings[3] = Reading(right.stripe, right.thread, SLIPS[slip](right.at, SIZE * 1.006))
    (found,) = [one for one in check(tuple(readings)) if one.doubtful]
    assert found.number == 4
    assert found.slip == slip
    assert found.likely == pytest.approx(right.at, abs=1 / 8)


@pytest.mark.parametrize(
    "size, slip",
    [
        (13.1, "two repeats measured as one"),
        (6.55 * 2.54, "read in centimetres"),
        (3.3, "half a repeat, to the same stripe elsewhere in the sett"),
        (7.55, ""),
    ],
)
def test_a_wrong_size_among_repeats_measured_one_by_one_is_named(size: float, slip: str) -> None:
    sizes = [6.5, 6.5625, 6.5625, 6.5, 6.625, 6.5625, 6.5625, 6.5625, 6.5, 6.5625]
    sizes[6] = size
    (found,) = size_doubts(sizes)
    assert (found.number, found.slip) == (7, slip)
    assert found.likely == pytest.approx(6.55, abs=1 / 16)
    assert size_doubts(sizes, kept=[7]) == ()
