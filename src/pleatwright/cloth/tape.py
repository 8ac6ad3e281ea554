"""From what a maker reads off the tape to readings: which repeat each stripe belongs to, which ones stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from pleatwright.cloth.readings import MEASURING_ERROR, Doubt, Reading, doubts, foretold
from pleatwright.sett import SAME_THREAD, Sett

NEAR_END = 0.25
"""Inches: a stripe this near the left end may be counted as the first occurrence or be left out [own]."""
LOOK_BACK = 3
"""Readings that together foretell the next one; a single wrong one among them is outvoted."""
SIZE_DOUBTFUL = 4.5
"""Standard deviations beyond which a single size of repeat is reported [own]."""


@dataclass(frozen=True)
class Spot:
    """A stripe's centre as the maker wrote it down: name, phase (threads), tape position (inches).

    `repeat`: 1 for the first time this stripe's centre is met right of the left end; None where it was not
    counted.  `kept`: measured again, and it stands.
    """

    stripe: str
    phase: float
    at: float
    repeat: int | None = None
    kept: bool = False


@dataclass(frozen=True)
class Check:
    """One reading held against the others: its number in the list, and its repeat.

    `likely` and `spread`: where the others put it and one standard deviation, in inches; None where they are
    too few.  `doubtful`: left out of the map; `slip` then names what probably happened, "" if nothing is
    known.
    """

    number: int
    repeat: int
    reading: Reading
    likely: float | None
    spread: float | None
    doubtful: bool = False
    slip: str = ""


def left_phase_of(spots: Sequence[Spot], sett: Sett, sett_size: float) -> float:
    """Phase (threads) at the left end, from the readings nearest to it.

    Three are asked, and the one nearest to the end that agrees with the middle one is taken.
    """
    near = sorted(spots, key=lambda spot: spot.at)[:LOOK_BACK]
    phases = [(spot.phase - spot.at * sett.n / sett_size) % sett.n for spot in near]

    def apart(one: float, other: float) -> float:
        return abs((one - other + sett.n / 2) % sett.n - sett.n / 2)

    middle = min(phases, key=lambda one: sum(apart(one, other) for other in phases))
    return next(phase for phase in phases if apart(phase, middle) <= sett.n / 8)


def placed(
    spots: Sequence[Spot], sett: Sett, sett_size: float, left_phase: float
) -> tuple[tuple[Reading, int], ...]:
    """The readings the spots give, with their repeats, in the spots' order.

    Where the repeat was not counted it is found from the position: the nearest occurrence to where the three
    readings before it lead, so that neither drift nor one wrong reading loses the count.
    """
    n, thread = sett.n, sett_size / sett.n
    firsts = {
        phase: _first(phase, [s for s in spots if s.phase == phase], sett, thread, left_phase)
        for phase in {spot.phase for spot in spots}
    }
    found: dict[int, tuple[Reading, int]] = {}
    before: list[Reading] = []
    for number, spot in sorted(enumerate(spots), key=lambda one: one[1].at):
        first = firsts[spot.phase]
        leads = [one.thread + (spot.at - one.at) / thread for one in before[-LOOK_BACK:]]
        where = median(leads) if leads else left_phase + spot.at / thread
        turn = round((where - first) / n) if spot.repeat is None else spot.repeat - 1
        reading = Reading(spot.stripe, first + turn * n, spot.at, spot.kept)
        before.append(reading)
        found[number] = reading, turn + 1
    return tuple(found[number] for number in range(len(spots)))


def _first(phase: float, spots: list[Spot], sett: Sett, thread: float, left_phase: float) -> float:
    """Thread of the first occurrence right of the left end; at the very end, as the counts have it."""
    n = sett.n
    first = left_phase + (phase - left_phase) % n
    counted = sorted((spot for spot in spots if spot.repeat is not None), key=lambda one: one.at)[:LOOK_BACK]
    away = first - left_phase
    others = [first + n] if away * thread < NEAR_END else []
    others += [first - n] if (n - away) * thread < NEAR_END else []

    def off(start: float) -> float:
        return median(
            abs((start + (spot.repeat - 1) * n - left_phase) * thread - spot.at)
            for spot in counted
            if spot.repeat is not None
        )

    return min((first, *others), key=off) if counted and others else first


def checked(read: Sequence[tuple[Reading, int]], sett: Sett, sett_size: float) -> tuple[Check, ...]:
    """Every reading held against the others, in the order given.

    Doubtful are those the others contradict, and of two that run against the weave (further along the
    threads, but not along the tape) the worse one.
    """
    order = sorted(range(len(read)), key=lambda i: (read[i][0].thread, read[i][0].at))
    found = doubts([read[i][0] for i in order], sett, sett_size)
    doubtful: dict[int, Doubt | None] = {order[doubt.number - 1]: doubt for doubt in found}
    while True:
        left = [i for i in order if i not in doubtful]
        places = foretold([read[i][0] for i in left], sett, sett_size)
        likely = dict(zip(left, places, strict=True)) if places else {}
        crossed = [pair for pair in pairwise(left) if _crossed(read[pair[0]][0], read[pair[1]][0])]
        worse = _worst([i for pair in crossed for i in pair if not read[i][0].kept], read, likely)
        if worse is None:
            break
        doubtful[worse] = None
    checks = []
    for i, (reading, repeat) in enumerate(read):
        place, spread = likely.get(i, (None, None))
        doubt = doubtful.get(i)
        if doubt is not None:
            place, spread = doubt.likely, doubt.spread
        slip = "" if doubt is None else doubt.slip
        checks.append(Check(i + 1, repeat, reading, place, spread, i in doubtful, slip))
    return tuple(checks)


def _crossed(one: Reading, other: Reading) -> bool:
    return other.thread - one.thread > SAME_THREAD and other.at <= one.at


def _worst(
    among: list[int], read: Sequence[tuple[Reading, int]], likely: dict[int, tuple[float, float]]
) -> int | None:
    known = [i for i in among if i in likely]
    return max(known, key=lambda i: abs(read[i][0].at - likely[i][0]) / likely[i][1]) if known else None


def accepted(checks: Sequence[Check]) -> tuple[Reading, ...]:
    """The readings that stand, in rising threads; several of one place as their mean."""
    by_thread: dict[float, list[Reading]] = {}
    for check in checks:
        if not check.doubtful:
            by_thread.setdefault(round(check.reading.thread, 6), []).append(check.reading)
    return tuple(
        replace(many[0], at=sum(one.at for one in many) / len(many)) for _, many in sorted(by_thread.items())
    )


def rising(readings: Sequence[Reading]) -> bool:
    """Whether the readings make a map: along the threads is along the tape."""
    return not any(_crossed(one, other) for one, other in pairwise(readings))


@dataclass(frozen=True)
class Taped:
    """All readings of one edge: the order file's field, where it lies, how many entries the file has.

    A check beyond those entries is the stripe named at the left end or at the selvedge.
    """

    field: str
    where: str
    entries: int
    checks: tuple[Check, ...]


@dataclass(frozen=True)
class SizeDoubt:
    """One size of a repeat that its neighbours contradict: its number, what was read, the likely size."""

    number: int
    read: float
    likely: float
    slip: str


def size_doubts(sizes: Sequence[float], kept: Sequence[int] = ()) -> tuple[SizeDoubt, ...]:
    """Sizes of successive repeats that differ from the three on either side; `kept`: numbers that stand.

    A repeat has two ends, each read with the measuring error; over seven repeats the cloth itself hardly
    wanders.  [derived]
    """
    limit = SIZE_DOUBTFUL * MEASURING_ERROR * 2**0.5
    found = []
    for i, size in enumerate(sizes):
        near = [*sizes[max(0, i - LOOK_BACK) : i], *sizes[i + 1 : i + 1 + LOOK_BACK]]
        if len(near) < 2 or i + 1 in kept or abs(size - (likely := median(near))) <= limit:
            continue
        found.append(SizeDoubt(i + 1, size, likely, _size_slip(size, likely, limit)))
    return tuple(found)


def _size_slip(size: float, likely: float, near: float) -> str:
    if abs(size - 2 * likely) <= 2 * near:
        return "two repeats measured as one"
    if abs(size / 2.54 - likely) <= near:
        return "read in centimetres"
    if abs(size - likely / 2) <= near:
        return "half a repeat, to the same stripe elsewhere in the sett"
    return ""


@dataclass(frozen=True)
class LocalSize:
    """The size of one sett between two readings: their middle on the tape and the size, inches."""

    at: float
    size: float


@dataclass(frozen=True)
class Drift:
    """How the sett's size wanders along the piece, inches; `mean` is from the first to the last reading."""

    sizes: tuple[LocalSize, ...]
    least: float
    greatest: float
    mean: float


def drift(readings: Sequence[Reading], sett: Sett) -> Drift | None:
    """The local sizes of the sett between readings at least half a sett apart; None for fewer than two."""
    knots: list[Reading] = []
    for reading in readings:
        if not knots or reading.thread - knots[-1].thread >= sett.n / 2:
            knots.append(reading)
    if len(knots) < 2:
        return None
    sizes = tuple(
        LocalSize((a.at + b.at) / 2, (b.at - a.at) * sett.n / (b.thread - a.thread))
        for a, b in pairwise(knots)
    )
    all_sizes = [one.size for one in sizes]
    first, last = knots[0], knots[-1]
    mean = (last.at - first.at) * sett.n / (last.thread - first.thread)
    return Drift(sizes, min(all_sizes), max(all_sizes), mean)
