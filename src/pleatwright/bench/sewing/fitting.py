"""What a fitting found goes back into what is left to do: advice with its figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from pleatwright.bench.sewing.gives import Hand, misses, which_way
from pleatwright.bench.sewing.kilt import Kilt
from pleatwright.bench.sewing.log import Fitted, SewingLog, Stage, pleats_take
from pleatwright.bench.sewing.outlook import Outlook
from pleatwright.findings import Finding, Severity
from pleatwright.wearer import LevelName

LENGTHS = ("front", "side", "back")
GIRTHS = {LevelName.STRAP: "waist", LevelName.HIP: "hips"}
"""The levels of a fitting, with what the wearer calls them."""


def fitted_levels(log: SewingLog) -> frozenset[LevelName]:
    """The levels of which a fitting asks something."""
    found = ((level, log.fitting_at(level)) for level in GIRTHS)
    return frozenset(level for level, one in found if one is not None and one[1].asked(level))


def fitting_findings(log: SewingLog, levels: Sequence[Outlook], hand: Hand) -> tuple[Finding, ...]:
    """What the fittings that count ask for; a later one stands in place of an earlier one at its level.

    `levels`: hip line and strap line as they stand now.
    """
    outlooks = {now.level: now for now in levels}
    found: list[Finding] = []
    for number, fitted in log.fittings():
        for level in GIRTHS:
            if log.fitting_at(level) == (number, fitted) and fitted.asked(level):
                found.append(_girth(number, fitted, log, outlooks[level], hand))
        found += _lengths(number, fitted, log, hand)
    return tuple(found)


def _girth(number: int, fitted: Fitted, log: SewingLog, now: Outlook, hand: Hand) -> Finding:
    """One level: what the aprons take in all, with what the pleats have since come out wide or narrow."""
    kilt, level, asked = log.started.kilt, now.level, fitted.asked(now.level)
    pleats = pleats_take(kilt, level, fitted, log.started.grid)
    aprons = float(asked - pleats)
    fits = "tight" if asked > 0 else "loose"
    seen = f"fitting, entry {number}: {hand.long(float(asked))} {fits} at the {GIRTHS[level]}"
    if fitted.left:
        expected = (
            f"the {fitted.left} pleats then left take {hand.long(float(pleats))} of it at the {level}, "
            f"both aprons {hand.long(aprons)}"
        )
    else:
        expected = f"all pleats were sewn, so both aprons take {hand.long(aprons)} at the {level}"
    if misses(now, hand):
        aprons -= now.miss
        expected += f"; the pleats come out {hand.off(now.miss)} {which_way(now.miss)} for it"
    if hand.off(aprons).startswith("0"):
        return Finding("sewing.fit-girth", Severity.NOTE, seen, expected, "Leave the aprons as they are.")
    do = (
        f"Mark both aprons {hand.off(aprons)} {'wider' if aprons > 0 else 'narrower'} at the {level}, "
        f"{hand.off(aprons / 2)} at either edge{_room(kilt, level, aprons, hand)}"
    )
    if level is LevelName.STRAP and not fitted.left:
        do += _holes(kilt, aprons)
    return Finding("sewing.fit-girth", Severity.NOTE, seen, expected, f"{do}.")


def _room(kilt: Kilt, level: LevelName, aprons: float, hand: Hand) -> str:
    """Whether the cloth folded in at the aprons' edges is enough to let them out."""
    folded = kilt.level(level).folded_in
    if aprons <= 0 or folded >= aprons:
        return f"; {hand.long(folded)} is folded in there" if aprons > 0 else ""
    return (
        f"; only {hand.long(folded)} is folded in there, the rest comes out of deep and reverse pleat, "
        f"{hand.long(kilt.deep_pleat)} and {hand.long(kilt.reverse_pleat)} of cloth"
    )


def _holes(kilt: Kilt, asked: float) -> str:
    holes = round(abs(asked) / float(kilt.hole_step))
    if not holes:
        return ""
    which = "further out" if asked > 0 else "further in"
    return f", or buckle the straps {holes} hole{'s' if holes > 1 else ''} {which}"


def _lengths(number: int, fitted: Fitted, log: SewingLog, hand: Hand) -> Iterator[Finding]:
    asked = {where: getattr(fitted, where) for where in LENGTHS}
    found = {where: off for where, off in asked.items() if off}
    if not found:
        return
    kilt = log.started.kilt
    banded = Stage.BAND in log.stages()
    for long in (True, False):
        some = {where: abs(off) for where, off in found.items() if (off > 0) == long}
        if not some:
            continue
        places = " and ".join(f"{hand.long(float(off))} at the {where}" for where, off in some.items())
        seen = f"fitting, entry {number}: too {'long' if long else 'short'} by {places}"
        all_round = len(some) == len(LENGTHS) and len(set(some.values())) == 1
        most = max(some.values())
        do = _take_up(kilt, most, all_round, banded, hand) if long else _let_down(kilt, most, banded, hand)
        expected = "the bottom edge hangs level, where the client wants it"
        yield Finding("sewing.fit-length", Severity.NOTE, seen, expected, do)


def _taper(kilt: Kilt, by: Fraction, hand: Hand) -> str:
    """What the round is by so much below or above the strap line, in the fell's straight line."""
    slope = abs(kilt.hip.round - kilt.strap.round) / kilt.fell_drop
    return hand.off(float(slope * by))


def _take_up(kilt: Kilt, most: Fraction, all_round: bool, banded: bool, hand: Hand) -> str:
    by, rise = hand.long(float(most)), hand.long(float(kilt.rise))
    where = "all round" if all_round else "there, running out to nothing where the length is right"
    wider = kilt.hip.round > kilt.strap.round
    girth = f"; the round is {_taper(kilt, most, hand)} {'more' if wider else 'less'} at that height"
    if banded:
        return (
            f"The band is on: move the straps {by} down, so that the kilt sits higher; the rise becomes "
            f"{hand.long(float(kilt.rise + most))}{girth}."
        )
    return (
        f"Before the band goes on, mark the strap line {by} lower {where} and take as much off the top edge, "
        f"so that the rise stays {rise}{girth}. The selvedge is not touched."
    )


def _let_down(kilt: Kilt, most: Fraction, banded: bool, hand: Hand) -> str:
    by, rise = hand.long(float(most)), kilt.rise - most
    if kilt.hem >= most:
        return f"Let the hem down by {by}; {hand.long(float(kilt.hem - most))} of it is left."
    if rise >= kilt.rise_least:
        moved = "move the straps" if banded else "mark the strap line"
        return (
            f"There is no hem for it: {moved} {by} higher there; the rise becomes {hand.long(float(rise))} "
            f"instead of {hand.long(float(kilt.rise))}, and the fullest seat comes {by} lower in the fell."
        )
    spare = max(Fraction(0), kilt.rise - kilt.rise_least)
    return (
        f"There is no hem for it, and the rise of {hand.long(float(kilt.rise))} gives at most "
        f"{hand.long(float(spare))}: ask whether the client wears it lower."
    )
