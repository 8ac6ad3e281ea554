"""Questions before a reading is kept that lies far from what was to be expected: likely slips of the pen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.sewing.gives import Hand
from pleatwright.bench.sewing.outlook import Expectation
from pleatwright.lengths import MILLIMETRE
from pleatwright.wearer import LevelName

GUESSES = 2
"""Most slips that are asked about at once."""
CENTIMETRE = 10 * MILLIMETRE


@dataclass(frozen=True)
class Doubt:
    """Why a reading is asked about, and what may have happened, as questions."""

    said: str
    guesses: tuple[str, ...]


def doubt(
    read: Mapping[LevelName, Fraction],
    expected: Mapping[LevelName, Expectation],
    a_pleat: Mapping[LevelName, float],
    hand: Hand,
) -> Doubt | None:
    """What to ask about readings of one stretch; None where all are plausible.

    `read`: inches by level; `expected`: what the tape ought to say; `a_pleat`: the mean told size there.
    """
    odd = [level for level, width in read.items() if _off(width, expected[level]) > hand.sewing.doubt_sds]
    if not odd:
        return None
    said = [
        f"{hand.long(float(read[level]))} instead of about {hand.long(expected[level].width)} at the {level}"
        for level in odd
    ]
    near = sorted(
        (worst, question)
        for question, meant in _meant(read, odd, a_pleat, hand)
        if (worst := max(_off(meant[level], expected[level]) for level in meant)) < hand.sewing.doubt_sds
    )
    return Doubt(", ".join(said), tuple(question for _, question in near[:GUESSES]))


def _meant(
    read: Mapping[LevelName, Fraction],
    odd: Sequence[LevelName],
    a_pleat: Mapping[LevelName, float],
    hand: Hand,
) -> Iterator[tuple[str, dict[LevelName, Fraction]]]:
    """Slips that are made, each with what the tape would have said without it."""
    if len(read) == 2:
        hip, strap = LevelName.HIP, LevelName.STRAP
        swapped = {hip: read[strap], strap: read[hip]}
        yield "did you write strap and hip the other way round?", swapped
    metric = hand.units == "metric"
    for question, times, possible in (
        ("was it read in centimetres?", CENTIMETRE, not metric),
        ("was it read in inches?", 1 / CENTIMETRE, metric),
        ("was it read in millimetres?", Fraction(1, 10), metric),
    ):
        if possible:
            yield question, {**read, **{level: read[level] * times for level in odd}}
    for more, question in (
        (1, "was a pleat more under the tape?"),
        (-1, "was a pleat fewer under the tape?"),
    ):
        yield question, {level: width - Fraction(more * a_pleat[level]) for level, width in read.items()}
    whole = CENTIMETRE if metric else Fraction(1)
    for level in odd:
        for by in (whole, -whole):
            question = f"was the tape misread by {hand.long(float(whole))} at the {level}?"
            yield question, {**read, level: read[level] + by}


def _off(width: Fraction, expected: Expectation) -> float:
    return abs(float(width) - expected.width) / expected.sd
