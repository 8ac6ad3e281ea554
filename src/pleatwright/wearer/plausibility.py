"""Questions about a body before cloth is touched: a rare one is asked about again, never refused.

Measures are held against a survey of bodies (population.py).  A slip is asked about when what was written is
out of the way and what the slip would have hidden is not; of several slips only the likeliest is asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, combinations
from math import erfc, exp, pi, sqrt

import numpy as np

from pleatwright.findings import Finding, Severity
from pleatwright.lengths import MILLIMETRE, Units, write_length, write_metric
from pleatwright.trade import Settings
from pleatwright.wearer.body import Body, Sizes
from pleatwright.wearer.population import MEASURES, Spread, spread_of

RARE = 1 / 500
"""A body is asked about when fewer than this share of bodies lie as far out; our choice."""
LIKELY = 1 / 100
"""A body put right must not be rarer than this, or the slip explains nothing; our choice."""
STRAY = 2.5
"""Deviations from what the other measures lead to expect, for slips that make no body rare; our choice.

Each such question then troubles 1 body in 160 for nothing, and still finds only about a fourth of the slips:
bodies differ by as much as a rise or a trouser size.  So the end points are asked for in any case."""
TROUSER_EXTRA = Fraction(7, 2)
"""A waist measures 3 to 4 inches more than the trouser size says [from memory]."""
INCH_IN_CM = Fraction(127, 50)

WORDS = {"waist": "waist", "hips": "hips", "fell_drop": "fell drop", "drop": "drop"}

Measures = dict[str, Fraction]


@dataclass(frozen=True)
class _Slip:
    """One way in which what was written may have come from another body."""

    code: str
    mended: Measures
    changed: tuple[str, ...]
    ask: str


def questions(body: Body, sizes: Sizes, *, settings: Settings, units: Units = "in") -> tuple[Finding, ...]:
    """What to ask the client or the maker again; every finding is an ASK.

    Codes: ask.trouser-size, ask.total-for-drop, ask.rise-forgotten, ask.centimetres-as-inches,
    ask.inches-as-centimetres, ask.millimetres-as-centimetres, ask.digits-swapped,
    ask.waist-and-hips-swapped, ask.rare-body (at most one of these); ask.towel, ask.drops-differ, ask.rise,
    ask.deep-hem.  Children are not held against the survey.
    """
    found: list[Finding] = []
    slip = None
    if not body.child:
        given = {measure: getattr(body, measure) for measure in MEASURES}
        given = {measure: value for measure, value in given.items() if value is not None}
        spread = spread_of("woman" if body.woman else "man", tuple(given))
        slip = _likeliest(given, spread, sizes.rise, units)
        if slip is not None:
            found.append(_slip_finding(slip, given, spread, units))
        elif tail(given, spread) < RARE:
            found.append(_rare(given, spread, units))
    explained = slip is not None and slip.mended["waist"] < slip.mended["hips"]
    if body.waist >= body.hips and not body.towel and not explained:
        found.append(_towel(body, units))
    return (*found, *_about_the_making(body, sizes, settings, units))


def tail(given: Measures, spread: Spread) -> float:
    """The share of bodies that lie farther out: chi-square, 3 or 4 degrees of freedom [derived]."""
    half = spread.distance(_millimetres(given)) / 2
    if len(given) == 4:
        return exp(-half) * (1 + half)
    return erfc(sqrt(half)) + sqrt(4 * half / pi) * exp(-half)


def _millimetres(given: Measures) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([float(value / MILLIMETRE) for value in given.values()])


def _likeliest(given: Measures, spread: Spread, rise: Fraction, units: Units) -> _Slip | None:
    """The slip whose mended body is the least unusual, among those that explain what was written."""
    slips = _small_slips(given, spread, rise)
    if tail(given, spread) < RARE:
        slips = chain(slips, _unit_slips(given, units), _swapped_digits(given, units), _swapped_girths(given))
    explaining = ((tail(slip.mended, spread), slip) for slip in slips)
    return max(
        ((share, slip) for share, slip in explaining if share >= LIKELY),
        key=lambda pair: pair[0],
        default=(0.0, None),
    )[1]


def _small_slips(given: Measures, spread: Spread, rise: Fraction) -> Iterator[_Slip]:
    """Slips of a few inches, which only the other measures can show."""
    millimetres = _millimetres(given)

    def stray(measure: str) -> float:
        expected, deviation = spread.expected(millimetres, measure)
        return (float(given[measure] / MILLIMETRE) - expected) / deviation

    def slip(code: str, measure: str, by: Fraction, ask: str) -> _Slip:
        return _Slip(code, given | {measure: given[measure] + by}, (measure,), ask)

    if stray("waist") < -STRAY:
        ask = "ask whether it is a trouser size, and take the waist snug at the strap line"
        yield slip("ask.trouser-size", "waist", TROUSER_EXTRA, ask)
    if stray("drop") > STRAY and given["drop"] > rise:
        ask = "ask whether the total length was given: the drop begins at the strap line, below the rise"
        yield slip("ask.total-for-drop", "drop", -rise, ask)
    if stray("drop") < -STRAY:
        ask = "ask whether the rise was taken off already: the drop runs from strap line to bottom edge"
        yield slip("ask.rise-forgotten", "drop", rise, ask)


def _unit_slips(given: Measures, units: Units) -> Iterator[_Slip]:
    """Any of the measures written in centimetres and read as inches, or the other way; or in millimetres."""
    ways = [
        ("ask.centimetres-as-inches", 1 / INCH_IN_CM, "centimetres", "inches"),
        ("ask.inches-as-centimetres", INCH_IN_CM, "inches", "centimetres"),
    ]
    if units == "metric":
        ways.append(("ask.millimetres-as-centimetres", Fraction(1, 10), "millimetres", "centimetres"))
    some = chain.from_iterable(combinations(given, size) for size in range(1, len(given) + 1))
    for changed in some:
        for code, factor, written, read in ways:
            mended = {name: value * factor if name in changed else value for name, value in given.items()}
            yield _Slip(code, mended, changed, f"ask whether {written} were written and read as {read}")


def _swapped_digits(given: Measures, units: Units) -> Iterator[_Slip]:
    """Two digits of the whole number of one measure, as written in these units, have changed places."""
    unit = Fraction(1) if units == "in" else 1 / INCH_IN_CM
    for measure, value in given.items():
        whole = int(value / unit)
        for i, j in combinations(range(len(str(whole))), 2):
            digits = list(str(whole))
            digits[i], digits[j] = digits[j], digits[i]
            if digits[0] != "0" and int("".join(digits)) != whole:
                mended = given | {measure: value + (int("".join(digits)) - whole) * unit}
                ask = "ask whether two digits have changed places"
                yield _Slip("ask.digits-swapped", mended, (measure,), ask)


def _swapped_girths(given: Measures) -> Iterator[_Slip]:
    if given["waist"] > given["hips"]:
        mended = given | {"waist": given["hips"], "hips": given["waist"]}
        ask = "ask whether waist and hips were written in each other's place"
        yield _Slip("ask.waist-and-hips-swapped", mended, ("waist", "hips"), ask)


def _listed(measures: Measures, units: Units) -> str:
    return ", ".join(f"{WORDS[name]} {write_length(value, units)}" for name, value in measures.items())


def _about(millimetres: float, units: Units) -> str:
    """A survey's figure, to the half inch or the centimetre: it is no finer than that."""
    inches = Fraction(millimetres) * MILLIMETRE
    return (
        write_metric(inches, 10) if units == "metric" else write_length(Fraction(round(2 * inches), 2), units)
    )


def _slip_finding(slip: _Slip, given: Measures, spread: Spread, units: Units) -> Finding:
    mended = _listed({name: slip.mended[name] for name in slip.changed}, units)
    if len(slip.changed) == 1:
        middle, deviation = spread.expected(_millimetres(given), slip.changed[0])
        low, high = (_about(middle + way * 2 * deviation, units) for way in (-1, 1))
        word = WORDS[slip.changed[0]]
        expected = f"{word} between {low} and {high} by the other measures; put right it would be {mended}"
    else:
        expected = f"measures such as {mended}"
    do = f"{slip.ask}; if it is right, go on"
    return Finding(slip.code, Severity.ASK, _listed(given, units), expected, do)


def _rare(given: Measures, spread: Spread, units: Units) -> Finding:
    """The measure that strays farthest from what the others lead to expect is the one to take again."""
    millimetres = _millimetres(given)
    strays = {}
    for measure, value in zip(given, millimetres, strict=True):
        middle, deviation = spread.expected(millimetres, measure)
        strays[measure] = (abs(value - middle) / deviation, middle, deviation)
    farthest = max(strays, key=lambda measure: strays[measure][0])
    _, middle, deviation = strays[farthest]
    low, high = (_about(middle + way * 2 * deviation, units) for way in (-1, 1))
    return Finding(
        "ask.rare-body",
        Severity.ASK,
        _listed(given, units),
        f"fewer than 1 body in {round(1 / RARE)} is so far from the usual; {WORDS[farthest]} between "
        f"{low} and {high} by the other measures",
        f"measure the {WORDS[farthest]} again; if it is right, go on",
    )


def _towel(body: Body, units: Units) -> Finding:
    return Finding(
        "ask.towel",
        Severity.ASK,
        _listed({"waist": body.waist, "hips": body.hips}, units),
        "with a belly, hips taken over a rolled towel that fills the hollow beneath it",
        "ask how the hips were taken, and take the drop at front, side and back",
    )


def _about_the_making(body: Body, sizes: Sizes, settings: Settings, units: Units) -> Iterator[Finding]:
    """Questions that need no survey: drops that differ, an unusual rise, a deep hem."""
    usual = settings.wearer
    if len(set(body.drops)) > 1:
        yield Finding(
            "ask.drops-differ",
            Severity.ASK,
            "drops " + ", ".join(write_length(drop, units) for drop in body.drops),
            "one drop all round",
            f"ask how the top edge is to be shaped; {write_length(sizes.drop, units)} is ripped all round",
        )
    least, most = usual.rise_usual_least, usual.rise_usual_most
    if not least <= sizes.rise <= most:
        yield Finding(
            "ask.rise",
            Severity.ASK,
            f"rise {write_length(sizes.rise, units)}",
            f"between {write_length(least, units)} and {write_length(most, units)}",
            "ask whether the height of the top edge above the strap line is meant",
        )
    if sizes.hem > usual.hem_most:
        yield Finding(
            "ask.deep-hem",
            Severity.ASK,
            f"hem {write_length(sizes.hem, units)}",
            f"at most {write_length(usual.hem_most, units)}: a deeper hem hangs badly",
            "ask whether so deep a hem is wanted",
        )
