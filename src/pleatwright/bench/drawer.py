"""The fewest gauges for the sizes of a kilt, the shop's own first, and how each of them is read.

Chalked round, a gauge reads its width between the lines and a line more on either side across them
(common practice, no source).  Each of the two readings serves one size at most.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from pleatwright.findings import Finding, Severity
from pleatwright.layout import Request
from pleatwright.lengths import MILLIMETRE, Units, exact_text

Owned = tuple[Fraction, Fraction]
"""The width marked on an owned gauge and its true width, in inches."""


class Reading(StrEnum):
    """Where a gauge is read once its two chalk lines are drawn."""

    BETWEEN = "between"
    ACROSS = "across"


@dataclass(frozen=True)
class GaugeSize:
    """A width in inches that is wanted, and on how many pleats at either level."""

    size: Fraction
    at_hip: int
    at_strap: int

    @property
    def pleats(self) -> int:
        """How often it is marked, both levels together."""
        return self.at_hip + self.at_strap


@dataclass(frozen=True)
class GaugeUse:
    """A size read off a gauge: where, by how many inches the reading is over it (negative: under), how often.

    `accumulated`: inches that all those pleats together come out over, both levels taken together.
    """

    size: Fraction
    reading: Reading
    off: Fraction
    at_hip: int
    at_strap: int
    accumulated: Fraction


@dataclass(frozen=True)
class Gauge:
    """A gauge to have at hand, `width` inches wide in truth, and the sizes that are read off it.

    `length`: as long as the rise, so that it finds the end of the taper from the top edge too (common
    practice, no source); an owned one may be longer.  `marked`: the width written on one from the drawer,
    None for one that is to be made.
    """

    width: Fraction
    length: Fraction
    marked: Fraction | None
    uses: tuple[GaugeUse, ...]

    @property
    def owned(self) -> bool:
        """Whether it lies in the drawer."""
        return self.marked is not None

    def read(self, reading: Reading) -> GaugeUse | None:
        """The size that is read so, if any."""
        return next((use for use in self.uses if use.reading is reading), None)

    @property
    def outside(self) -> Fraction | None:
        """The size it reads across the outsides of its lines, None where that is not wanted."""
        use = self.read(Reading.ACROSS)
        return None if use is None else use.size


class _Cost(NamedTuple):
    """What is minimised, in this order: gauges to make, error over all pleats, gauges used."""

    made: int
    error: Fraction
    used: int


@dataclass(frozen=True)
class _Choice:
    """One size on one gauge: an owned one by its place in the drawer, -1 for one to be made."""

    owned: int
    width: Fraction
    use: GaugeUse


_Chosen = tuple[_Choice, ...]


def fewest(
    sizes: Sequence[GaugeSize],
    line: Fraction,
    length: Fraction,
    drawer: Sequence[Owned] = (),
    tolerance: Fraction = Fraction(0),
) -> tuple[Gauge, ...]:
    """The gauges for these rising sizes: the fewest to make, then the least error, then the fewest used.

    `line`: width of a chalk line; an owned gauge reads a size that it meets within `tolerance` (inches all).
    A gauge that is made is cut to a size exactly.  The error is summed over every pleat at both levels.
    Of gauges that are equally good the first in the drawer is taken.
    """
    near = [_owned_choices(size, line, drawer, tolerance) for size in sizes]
    must = [0] * (len(sizes) + 1)  # fewest that must be made from here on, were every new one shared
    for at in range(len(sizes) - 1, -1, -1):
        must[at] = must[at + 1] + (not near[at])
    best: tuple[_Cost, _Chosen] | None = None

    def search(at: int, chosen: _Chosen, cost: _Cost) -> None:
        nonlocal best
        if best is not None and cost._replace(made=max(cost.made, (must[0] + 1) // 2)) >= best[0]:
            return
        if at == len(sizes):
            best = cost, chosen
            return
        for choice in (*near[at], _made(sizes[at], line, chosen)):
            same = [one for one in chosen if (one.owned, one.width) == (choice.owned, choice.width)]
            if any(one.use.reading is choice.use.reading for one in same):
                continue
            new = not same
            error = cost.error + abs(choice.use.accumulated)
            search(
                at + 1,
                (*chosen, choice),
                _Cost(cost.made + (new and choice.owned < 0), error, cost.used + new),
            )

    search(0, (), _Cost(0, Fraction(0), 0))
    return _gauges(() if best is None else best[1], length, drawer)


def _owned_choices(
    size: GaugeSize, line: Fraction, drawer: Sequence[Owned], tolerance: Fraction
) -> list[_Choice]:
    """The readings of owned gauges that serve this size, the nearest first."""
    found, seen = [], set[tuple[Fraction, Reading]]()
    for number, (_, width) in enumerate(drawer):
        for reading, shows in ((Reading.BETWEEN, width), (Reading.ACROSS, width + 2 * line)):
            if reading is Reading.ACROSS and not line:
                continue
            if abs(shows - size.size) <= tolerance and (width, reading) not in seen:
                seen.add((width, reading))
                found.append(_Choice(number, width, _use(size, reading, shows)))
    return sorted(found, key=lambda choice: abs(choice.use.off))


def _made(size: GaugeSize, line: Fraction, chosen: _Chosen) -> _Choice:
    """A gauge to be made: one that reads this size across its lines and is made already, else a new one.

    Sharing as soon as one can is the fewest: only this size and that two lines narrower fit that gauge.
    """
    narrower = size.size - 2 * line
    if line > 0 and any(one.owned < 0 and one.width == narrower for one in chosen):
        return _Choice(-1, narrower, _use(size, Reading.ACROSS, size.size))
    return _Choice(-1, size.size, _use(size, Reading.BETWEEN, size.size))


def _use(size: GaugeSize, reading: Reading, shows: Fraction) -> GaugeUse:
    off = shows - size.size
    return GaugeUse(size.size, reading, off, size.at_hip, size.at_strap, off * size.pleats)


def _gauges(chosen: _Chosen, length: Fraction, drawer: Sequence[Owned]) -> tuple[Gauge, ...]:
    """The choices gathered gauge by gauge, the narrowest first."""
    found: dict[tuple[int, Fraction], Gauge] = {}
    for choice in chosen:
        marked = None if choice.owned < 0 else drawer[choice.owned][0]
        gauge = found.setdefault((choice.owned, choice.width), Gauge(choice.width, length, marked, ()))
        found[choice.owned, choice.width] = replace(gauge, uses=(*gauge.uses, choice.use))
    return tuple(sorted(found.values(), key=lambda gauge: gauge.width))


def drawer_findings(
    sizes: Sequence[GaugeSize], drawer: Sequence[Owned], off: dict[str, Fraction], request: Request
) -> tuple[Finding, ...]:
    """Owned gauges that are off against their marking where this kilt would use it, and what all add up to.

    `off`: inches by which all pleats come out wider, by the level's name.  A warning where a level comes out
    further off than good work ends; else a note.
    """
    units, most = request.units, request.settings.sewing.off_good
    wanted = {size.size: size for size in sizes}

    def weight(total: Fraction) -> Severity:
        return Severity.WARN if abs(total) > most else Severity.NOTE

    found = []
    for marked, width in dict.fromkeys(drawer):
        size = wanted.get(marked)
        if size is None or marked == width:
            continue
        pleats, level = max((size.at_hip, "hip line"), (size.at_strap, "strap line"))
        total = (width - marked) * pleats
        seen = (
            f"the gauge marked {exact_size(marked, units)} is truly {decimal(width, units)}: over {pleats} "
            f"pleats {_much(total, units)} at the {level}"
        )
        do = "Read it as the list of gauges says, and mark its true width on it."
        found.append(Finding("gauge-off-marking", weight(total), seen, "a gauge as wide as its marking", do))
    for level, total in off.items():
        if total:
            seen = f"read off these gauges, all pleats together come {_much(total, units)} at the {level}"
            do = "Cut the gauge that is furthest off anew, or take it out while sewing."
            found.append(Finding("gauges-add-up", weight(total), seen, f"at most {decimal(most, units)}", do))
    return tuple(found)


def _much(off: Fraction, units: Units) -> str:
    """How far off, and which way: `0.07" wide`, `1.2 mm narrow`."""
    places = (1, " mm", MILLIMETRE) if units == "metric" else (2, '"', Fraction(1))
    said = f"{float(abs(off) / places[2]):.{places[0]}f}{places[1]}"
    return f"{said} {'wide' if off > 0 else 'narrow'}"


def exact_size(value: Fraction, units: Units) -> str:
    """A size of the grid in full: `11/16"`, `17 mm`; one between the steps as decimals."""
    if units == "metric":
        return decimal(value, units)
    return f'{exact_text(value)}"' if value.denominator <= 64 else decimal(value, units)


def decimal(value: Fraction, units: Units) -> str:
    """A width as a calliper reads it: `0.753"`, `19.1 mm`."""
    size, unit, places = (value / MILLIMETRE, " mm", 2) if units == "metric" else (value, '"', 4)
    return f"{float(size):.{places}f}".rstrip("0").rstrip(".") + unit


def signed(off: Fraction, units: Units) -> str:
    """How far a reading is over (+) or under (−) its size, in decimals; "exact" where it is not off."""
    if not off:
        return "exact"
    return f"{'+' if off > 0 else '−'}{decimal(abs(off), units)}"
