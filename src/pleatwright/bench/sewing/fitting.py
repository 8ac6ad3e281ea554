"""What a fitting found goes back into what is left to do: advice with its figures."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from pleatwright.bench.sewing.gives import Hand
from pleatwright.bench.sewing.kilt import Kilt
from pleatwright.bench.sewing.log import Fitted, SewingLog, Stage, pleats_take
from pleatwright.findings import Finding, Severity
from pleatwright.wearer import LevelName

LENGTHS = ("front", "side", "back")


def fitting_findings(log: SewingLog, hand: Hand) -> tuple[Finding, ...]:
    """What every fitting that counts asks for."""
    found: list[Finding] = []
    for number, fitted in log.fittings():
        found += _girths(number, fitted, log, hand)
        found += _lengths(number, fitted, log, hand)
    return tuple(found)


def _girths(number: int, fitted: Fitted, log: SewingLog, hand: Hand) -> Iterator[Finding]:
    kilt, grid = log.started.kilt, log.started.grid
    for where, level, asked in (
        ("waist", LevelName.STRAP, fitted.waist),
        ("hips", LevelName.HIP, fitted.hips),
    ):
        if not asked:
            continue
        pleats = pleats_take(kilt, level, fitted, grid)
        aprons = asked - pleats
        wider = "wider" if asked > 0 else "narrower"
        fits = "tight" if asked > 0 else "loose"
        seen = f"fitting, entry {number}: {hand.long(float(asked))} {fits} at the {where}"
        if fitted.left:
            expected = (
                f"the {fitted.left} pleats then left take {hand.long(float(pleats))} of it at the {level}, "
                f"both aprons {hand.long(float(aprons))}"
            )
        else:
            expected = f"all pleats were sewn, so both aprons take {hand.long(float(aprons))} at the {level}"
        do = (
            f"Mark both aprons {hand.long(float(aprons))} {wider} at the {level}, "
            f"{hand.off(float(aprons) / 2)} at either edge{_room(kilt, level, aprons, hand)}"
        )
        if level is LevelName.STRAP and not fitted.left:
            do += _holes(kilt, asked)
        yield Finding("sewing.fit-girth", Severity.NOTE, seen, expected, f"{do}.")


def _room(kilt: Kilt, level: LevelName, aprons: Fraction, hand: Hand) -> str:
    """Whether the cloth folded in at the aprons' edges is enough to let them out."""
    folded = kilt.level(level).folded_in
    if aprons <= 0 or folded >= aprons:
        return f"; {hand.long(folded)} is folded in there" if aprons > 0 else ""
    return (
        f"; only {hand.long(folded)} is folded in there, the rest comes out of deep and reverse pleat, "
        f"{hand.long(kilt.deep_pleat)} and {hand.long(kilt.reverse_pleat)} of cloth"
    )


def _holes(kilt: Kilt, asked: Fraction) -> str:
    holes = round(abs(asked) / kilt.hole_step)
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
