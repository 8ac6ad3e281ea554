"""The smallest change that brings a level home: one step of the tape on as few pleats as will do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from pleatwright.bench.sewing.spreading import Limits, smooth
from pleatwright.lengths import Grid, Units, write_length
from pleatwright.wearer import LevelName

NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


@dataclass(frozen=True)
class Change:
    """Pleats, numbered from the over-apron, each `by` inches wider than told until now (negative: narrower).

    `whole`: one step each is not enough, so the rest is sewn as re-spread: `pleats` are those that change,
    and `by` is the sum of all changes.
    """

    level: LevelName
    pleats: tuple[int, ...]
    by: Fraction
    whole: bool
    words: str


def steps_needed(miss: float, within: float, step: float) -> int:
    """The fewest steps, wider or narrower (negative), that bring a miss (inches too wide) within a limit.

    Where no whole number of steps does, those that bring it nearest.
    """
    beyond = abs(miss) - within
    if beyond <= 0:
        return 0
    number = ceil(beyond / step - 1e-9)
    if number * step > abs(miss) + within:
        number = round(abs(miss) / step)
    return -number if miss > 0 else number


def one_step_each(
    told: Sequence[int], before: int | None, number: int, limits: Limits
) -> tuple[int, ...] | None:
    """Places (from 0) of the pleats that take one step each, `number` of them, or None where it cannot be.

    `told`: steps of the pleats still to be sewn.  The very next ones where neighbours then stay near enough;
    else the narrowest first (the widest, where steps are taken off).
    """
    step, many = (1 if number > 0 else -1), abs(number)
    lead = [] if before is None else [before]
    if many > len(told):
        return None
    run = [size + step if place < many else size for place, size in enumerate(told)]
    if smooth([*lead, *run], limits):
        return tuple(range(many))
    sizes, chosen = list(told), list[int]()
    for place in sorted(range(len(told)), key=lambda place: (step * told[place], place)):
        sizes[place] += step
        around = [*lead, *sizes][max(0, place + len(lead) - 1) : place + len(lead) + 2]
        if len(chosen) < many and smooth(around, limits):
            chosen.append(place)
        else:
            sizes[place] -= step
    return tuple(sorted(chosen)) if len(chosen) == many else None


def change_words(
    level: LevelName, pleats: Sequence[int], by: Fraction, grid: Grid, *, next_pleat: int
) -> str:
    """The change as one says it: `the next nine pleats 1/32" wider at the strap line`.

    `pleats` in the order of sewing; `next_pleat`: the one that is sewn next.
    """
    units: Units = "metric" if grid is Grid.MILLIMETRE else "in"
    amount = write_length(abs(by), units, grid)
    which = "wider" if by > 0 else "narrower"
    step = 1 if pleats[-1] >= pleats[0] else -1
    run = list(pleats) == list(range(pleats[0], pleats[-1] + step, step))
    if run and pleats[0] == next_pleat:
        named = "the next pleat" if len(pleats) == 1 else f"the next {_number(len(pleats))} pleats"
    else:
        named = f"pleats {listed(pleats)}: each" if len(pleats) > 1 else f"pleat {pleats[0]}:"
    return f"{named} {amount} {which} at the {level}"


def listed(pleats: Sequence[int]) -> str:
    """Pleat numbers in words, runs of three or more drawn together: `10, 12 and 15 to 18`."""
    ordered, parts, at = sorted(pleats), list[str](), 0
    while at < len(ordered):
        end = at
        while end + 1 < len(ordered) and ordered[end + 1] == ordered[end] + 1:
            end += 1
        if end - at >= 2:
            parts.append(f"{ordered[at]} to {ordered[end]}")
            at = end + 1
        else:
            parts.append(str(ordered[at]))
            at += 1
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _number(number: int) -> str:
    return NUMBERS[number - 1] if number <= len(NUMBERS) else str(number)
