"""Where a kilt stands while it is sewn: both levels judged each and together, and what to sew next."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.bench.sewing.aims import aims
from pleatwright.bench.sewing.doubts import Doubt, doubt
from pleatwright.bench.sewing.fitting import fitted_levels, fitting_findings
from pleatwright.bench.sewing.gives import Give, Hand, findings_of, gives
from pleatwright.bench.sewing.log import Entry, Measured, SewingLog, Stage, Telling, Told
from pleatwright.bench.sewing.maker import maker_of
from pleatwright.bench.sewing.outlook import Follow, Outlook, expected_reading, outlook
from pleatwright.findings import Finding, Severity
from pleatwright.trade import SewingSettings
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class NextPleat:
    """A pleat still to be sewn: its told sizes, and what the tape will say after it; inches."""

    pleat: int
    hip: Fraction
    strap: Fraction
    hip_then: float
    strap_then: float


@dataclass(frozen=True)
class Standing:
    """Both levels, the pleats still to be sewn in the order of sewing, what is to be said, what can give."""

    hip: Outlook
    strap: Outlook
    ahead: tuple[NextPleat, ...]
    findings: tuple[Finding, ...]
    gives: tuple[Give, ...]

    @property
    def levels(self) -> tuple[Outlook, Outlook]:
        """Hip line and strap line."""
        return self.hip, self.strap


def hand_of(log: SewingLog, sewing: SewingSettings) -> Hand:
    """How a log is kept."""
    grid = log.started.grid
    return Hand(grid, maker_of(sewing, grid), sewing, log.from_over_apron)


def standing(log: SewingLog, sewing: SewingSettings) -> Standing:
    """Where the kilt of a log stands.

    What is told is what the log says was told; it is reckoned anew only after the next entry.
    """
    hand = hand_of(log, sewing)
    told = log.told()
    hip, strap = _outlooks(log, hand, log.told_before(), log.started.follow)
    if (hip.sizes, strap.sizes) != (told.hip, told.strap):
        hip, strap = _outlooks(log, hand, told, "told")
    levels, fitted = (hip, strap), fitted_levels(log)
    found = tuple(finding for now in levels for finding in findings_of(now, hand, fitted=now.level in fitted))
    ways = gives(log.started.kilt, levels, aims(log, hand), log.sewn(), hand, fitted)
    if Stage.CUT_OUT in log.stages():
        ways = tuple(way for way in ways if way.what in ("apron edges", "ease"))
    ahead = _ahead(levels, log)
    found = (*found, *_new_sizes(ahead, log, hand), *fitting_findings(log, levels, hand))
    return Standing(hip, strap, ahead, found, ways)


def _outlooks(log: SewingLog, hand: Hand, told: Told, follow: Follow) -> tuple[Outlook, Outlook]:
    hip, strap = (
        outlook(
            target,
            told.at(target.level),
            log.sewn(),
            hand.grid,
            hand.maker,
            hand.sewing,
            from_over_apron=hand.from_over_apron,
            done=log.done(),
            follow=follow,
        )
        for target in aims(log, hand)
    )
    return hip, strap


def telling(log: SewingLog, entry: Entry, sewing: SewingSettings) -> Entry:
    """The entry with the sizes that are told once it is added to the log, if it changes any."""
    if not isinstance(entry, Telling):
        return entry
    after = log.adding(replace(entry, told=Told()))
    hip, strap = _outlooks(after, hand_of(log, sewing), after.told_before(), log.started.follow)
    return replace(entry, told=Told(hip.sizes, strap.sizes))


def doubt_about(log: SewingLog, entry: Measured, sewing: SewingSettings) -> Doubt | None:
    """What to ask about a measurement before it is kept; None where it is plausible."""
    hand, told = hand_of(log, sewing), log.told()
    read = {
        level: width
        for level, width in ((LevelName.HIP, entry.hip), (LevelName.STRAP, entry.strap))
        if width is not None
    }
    expected, a_pleat = {}, {}
    for target in aims(log, hand):
        sizes = told.at(target.level)
        expected[target.level] = expected_reading(
            target,
            sizes,
            log.sewn(),
            entry.first,
            entry.last,
            hand.grid,
            hand.maker,
            from_over_apron=hand.from_over_apron,
        )
        stretch = sizes[entry.first - 1 : entry.last]
        a_pleat[target.level] = float(sum(stretch)) / len(stretch)
    return doubt(read, expected, a_pleat, hand)


def _ahead(levels: tuple[Outlook, Outlook], log: SewingLog) -> tuple[NextPleat, ...]:
    hip, strap = levels
    numbers = range(1, hip.pleats + 1) if log.from_over_apron else range(hip.pleats, 0, -1)
    then = [now.sewn if now.read is None else float(now.read) for now in levels]
    found = []
    for number in list(numbers)[hip.done :]:
        then = [at + float(now.sizes[number - 1]) + now.bias for at, now in zip(then, levels, strict=True)]
        found.append(NextPleat(number, hip.sizes[number - 1], strap.sizes[number - 1], then[0], then[1]))
    return tuple(found)


def _new_sizes(ahead: tuple[NextPleat, ...], log: SewingLog, hand: Hand) -> tuple[Finding, ...]:
    """Sizes that the plan's gauges do not have."""
    planned = {*log.started.told.hip, *log.started.told.strap}
    new = sorted({size for pleat in ahead for size in (pleat.hip, pleat.strap)} - planned)
    if not new:
        return ()
    seen = f"what is told now has {', '.join(hand.long(float(size)) for size in new)}"
    expected = "the plan's gauges are for other sizes"
    return (Finding("sewing.new-gauge", Severity.NOTE, seen, expected, "Cut a gauge before you go on."),)
