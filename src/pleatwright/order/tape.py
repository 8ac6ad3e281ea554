"""From the order's tape readings to readings that stand, and what to say about those that do not."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from pleatwright.cloth import Anchor, Check, Reading, Spot, Taped
from pleatwright.cloth.readings import FEWEST
from pleatwright.cloth.tape import (
    SizeDoubt,
    accepted,
    checked,
    drift,
    left_phase_of,
    placed,
    rising,
    size_doubts,
)
from pleatwright.findings import Finding, Severity
from pleatwright.lengths import Units, write_length
from pleatwright.order.mistakes import Slips
from pleatwright.order.models import ReadingTable, RepeatsTable, StripeRef
from pleatwright.order.references import Stripes
from pleatwright.sett import short_name

BEYOND = 0.25
"""Inches a reading may lie beyond the measured length of the piece."""
SIZE_OFF = 0.03
"""Share by which the sett as read may differ from its stated size without a word: beyond what cloth wanders,
one of the two is wrong [own]."""
FEW_ALLOWANCE = 0.25
"""Inches between two readings that are not held against them where there are too few to compare [own]."""
APART = 4
"""Setts from one reading to the next, at most; a straight line over more is not to be trusted [own]."""


@dataclass(frozen=True)
class Edging:
    """One edge of the cloth that is read: the order's field, where it lies, its stripes and their size.

    `length`: inches to its end.  `anchor`: the field of the stripe named at its beginning, "" for none.
    """

    field: str
    where: str
    stripes: Stripes
    sett_size: Fraction
    length: float
    anchor: str


@dataclass(frozen=True)
class TapedEdge:
    """The readings of one edge that stand, all of them as checked, and what there is to say."""

    readings: tuple[Reading, ...]
    taped: Taped
    findings: tuple[Finding, ...]
    anchor_stands: bool


def read_list(tables: Sequence[ReadingTable] | None, edge: Edging, slips: Slips) -> tuple[Spot, ...]:
    """The spots of a list of readings; what is wrong is noted among the slips."""
    if not tables:
        return ()
    if _plain(edge, slips):
        return ()
    spots = []
    named: StripeRef = tables[0]
    for number, table in enumerate(tables, 1):
        field = f"{edge.field}, entry {number}"
        if table.stripe is not None or table.number is not None or number == 1:
            named = table
        elif table.then is not None:
            slips.add(f"{field}, then", f'"{table.then}"', "follows no stripe", "name the stripe too")
        if table.at is None:
            slips.missing(field, 'write what the tape said at the stripe\'s centre, as at = "27 3/8"')
        with slips.collecting():
            stripe = edge.stripes.find(named, field)
            if table.at is not None:
                sett = edge.stripes.sett
                spots.append(
                    Spot(
                        short_name(sett, stripe),
                        sett.centre_of(stripe),
                        float(table.at),
                        table.repeat,
                        bool(table.kept),
                    )
                )
    return tuple(spots)


def read_repeats(
    table: RepeatsTable, edge: Edging, units: Units, slips: Slips
) -> tuple[tuple[Spot, ...], tuple[Finding, ...]]:
    """The spots of repeats measured one by one, added up; a doubtful size counts as its neighbours do.

    Sizes are held against their neighbours here; their sums stand, since one size moves all that come after.
    """
    if _plain(edge, slips):
        return (), ()
    if table.first is None:
        slips.missing("piece.repeats.first", "measure from the left end to the stripe's first centre")
    if not table.sizes:
        slips.missing("piece.repeats.sizes", 'write each repeat, as sizes = ["6 1/2", "6 9/16"]')
    with slips.collecting():
        sett = edge.stripes.sett
        stripe = edge.stripes.find(table, "piece.repeats")
        if table.first is not None and table.sizes:
            sizes = [float(size) for size in table.sizes]
            doubtful = size_doubts(sizes, table.kept or ())
            for doubt in doubtful:
                sizes[doubt.number - 1] = doubt.likely
            name, at = short_name(sett, stripe), float(table.first)
            spots = [Spot(name, sett.centre_of(stripe), at, 1, kept=True)]
            for repeat, size in enumerate(sizes, 2):
                at += size
                spots.append(Spot(name, sett.centre_of(stripe), at, repeat, kept=True))
            return tuple(spots), tuple(_size_doubtful(doubt, units) for doubt in doubtful)
    return (), ()


def _plain(edge: Edging, slips: Slips) -> bool:
    if edge.stripes.sett.plain:
        slips.add(edge.field, "readings", "are given, but plain cloth has no stripes", "leave them out")
    return edge.stripes.sett.plain


def taped_edge(
    spots: tuple[Spot, ...], anchor: Anchor | None, edge: Edging, units: Units, slips: Slips
) -> TapedEdge:
    """One edge's readings with the stripe named at its beginning, each held against the others."""
    nothing = TapedEdge((), Taped(edge.field, edge.where, 0, ()), (), True)
    if not spots:
        return nothing
    sett, size = edge.stripes.sett, float(edge.sett_size)
    entries = len(spots)
    if anchor is not None:
        at = float(anchor.distance)
        spots = (*spots, Spot(short_name(sett, sett.stripe_at(anchor.phase)), anchor.phase, at))
    checks = checked(placed(spots, sett, size, left_phase_of(spots, sett, size)), sett, size)
    stand = accepted(checks)
    for check in checks:
        if not check.doubtful and check.reading.at > edge.length + BEYOND:
            slips.add(
                f"{edge.field}, entry {check.number}",
                write_length(check.reading.at, units),
                f"lies beyond the end, {write_length(edge.length, units)}",
                "read it again, or measure the piece again",
            )
    if not rising(stand):
        slips.add(
            edge.field,
            "readings that stand",
            "contradict each other: further along the stripes is not further along the tape",
            "measure them again; stripe, repeat and at of each must agree",
        )
        return nothing
    taped = Taped(edge.field, edge.where, entries, checks)
    findings = (
        *(_doubtful(check, taped, edge, units) for check in checks if check.doubtful),
        *_size_off(stand, edge, units),
        *_far_apart(checks, edge, units),
    )
    return TapedEdge(
        stand, taped, findings, not any(check.doubtful for check in checks if check.number > entries)
    )


def give_or_take(spread: float, units: Units) -> str:
    """Two standard deviations, never less than the tape shows."""
    return write_length(max(2 * spread, 1 / 16), units)


def _doubtful(check: Check, taped: Taped, edge: Edging, units: Units) -> Finding:
    entry = check.number <= taped.entries
    what = f"reading {check.number}" if entry else f"the stripe named in {edge.anchor}"
    likely = "the others contradict it"
    if check.likely is not None and check.spread is not None:
        likely = (
            f"the others put it at {write_length(check.likely, units)}, give or take "
            f"{give_or_take(check.spread, units)}"
        )
    slip = f"; likely {check.slip}" if check.slip else ""
    stands = "write kept = true in its entry if it stands" if entry else f"put {edge.anchor} right"
    return Finding(
        "cloth.reading-doubtful",
        Severity.WARN,
        f"{what} {edge.where}, the centre of {check.reading.stripe}, repeat {check.repeat}, was read at "
        f"{write_length(check.reading.at, units)}",
        f"{likely}{slip}",
        f"Measure it again; {stands}. Until then it is left out of the map.",
    )


def _size_doubtful(doubt: SizeDoubt, units: Units) -> Finding:
    slip = f"; likely {doubt.slip}" if doubt.slip else ""
    return Finding(
        "cloth.reading-doubtful",
        Severity.WARN,
        f"size {doubt.number} of piece.repeats was read as {write_length(doubt.read, units)}",
        f"its neighbours make it {write_length(doubt.likely, units)}{slip}",
        f"Measure it again; write kept = [{doubt.number}] in piece.repeats if it stands. Until then its "
        "neighbours' size is used.",
    )


def _size_off(stand: tuple[Reading, ...], edge: Edging, units: Units) -> Iterable[Finding]:
    """Readings too few to be compared, or a sett size that they all contradict."""
    size, n = float(edge.sett_size), edge.stripes.sett.n
    stated = write_length(edge.sett_size, units)
    if len(stand) < FEWEST:
        for one, other in pairwise(stand):
            stretch = (other.thread - one.thread) * size / n
            if abs(other.at - one.at - stretch) > FEW_ALLOWANCE + SIZE_OFF * stretch:
                yield Finding(
                    "cloth.readings-few",
                    Severity.WARN,
                    f"from {write_length(one.at, units)} to {write_length(other.at, units)} "
                    f"{edge.where} lie {write_length(other.at - one.at, units)}",
                    f"setts of {stated} make it {write_length(stretch, units)}; {len(stand)} readings are "
                    "too few to tell which one is wrong",
                    f"Measure both again, and take {FEWEST} readings or more.",
                )
        return
    found = drift(stand, edge.stripes.sett)
    if found is not None and abs(found.mean / size - 1) > SIZE_OFF:
        yield Finding(
            "cloth.sett-size-off",
            Severity.WARN,
            f"the readings {edge.where} make a sett {write_length(found.mean, units)}",
            f"the order gives {stated}",
            "Measure the sett over ten repeats; see whether the readings name the right stripe and repeat.",
        )


def _far_apart(checks: tuple[Check, ...], edge: Edging, units: Units) -> Iterable[Finding]:
    """One finding for the widest stretch without a reading."""
    ats = [0.0, *sorted(check.reading.at for check in checks), edge.length]
    wide, start = max((b - a, a) for a, b in pairwise(ats))
    most = (APART + 0.5) * float(edge.sett_size)
    if wide > most:
        yield Finding(
            "cloth.readings-far-apart",
            Severity.NOTE,
            f"from {write_length(start, units)} on no stripe is read for {write_length(wide, units)} "
            f"{edge.where}",
            f"a reading every {APART} setts",
            "Take one or two readings in between: cloth wanders, and the map is a straight line there.",
        )
