"""What can give when a level can no longer be brought home: ways out, each with its figures."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import floor

from pleatwright.bench.sewing.kilt import Kilt
from pleatwright.bench.sewing.maker import Maker, Sewn, Target
from pleatwright.bench.sewing.outlook import Outlook, unpicked
from pleatwright.findings import Finding, Severity
from pleatwright.lengths import Grid, Units, write_length
from pleatwright.trade import SewingSettings
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class Give:
    """One way out: a stable name and what it would change, in words."""

    what: str
    words: str


@dataclass(frozen=True)
class Hand:
    """How this log is kept: tape, usual maker, settings, and which end was begun at."""

    grid: Grid
    maker: Maker
    sewing: SewingSettings
    from_over_apron: bool

    @property
    def units(self) -> Units:
        """Units the maker reads."""
        return "metric" if self.grid is Grid.MILLIMETRE else "in"

    def long(self, value: float) -> str:
        """A length without its sign, as the maker reads it."""
        return write_length(abs(value), self.units, self.grid)

    def off(self, value: float) -> str:
        """An error without its sign: to 1/32", or to a tenth of a millimetre."""
        fine = None if self.units == "metric" else Grid.THIRTYSECOND
        return write_length(abs(value), self.units, fine)


def which_way(off: float) -> str:
    """Too wide or too narrow."""
    return "too wide" if off > 0 else "too narrow"


def findings_of(now: Outlook, hand: Hand, *, fitted: bool = False) -> tuple[Finding, ...]:
    """What one level has to say: it will miss, it has missed, or it is too early to be sure.

    `fitted`: a fitting asks something of it, and what it asks of the aprons holds the miss.
    """
    counted = "It is counted in what the fitting asks of the aprons."
    sewing, miss = hand.sewing, now.miss
    left = now.pleats - now.done
    good, most = hand.long(float(sewing.off_good)), hand.long(float(sewing.off_most))
    if not now.done:
        return ()
    if not left:
        if abs(miss) <= sewing.off_good:
            return ()
        weight = Severity.WARN if abs(miss) > sewing.off_most else Severity.NOTE
        seen = f"all {now.pleats} pleats are sewn and the {now.level} is {hand.off(miss)} {which_way(miss)}"
        do = counted if fitted else "See what can give."
        return (Finding("sewing.missed", weight, seen, f"good work ends within {good}", do),)
    sewn = (
        f"{now.done} of {now.pleats} pleats are sewn and stand {hand.off(now.ahead)} {which_way(now.ahead)}"
    )
    if abs(miss) > sewing.off_most:
        expected = (
            f"even with the rest re-spread as far as neighbours allow the {now.level} will end "
            f"{hand.off(miss)} {which_way(miss)}, more than {most}"
        )
        do = counted if fitted else "Settle now what gives, while there is something left to sew."
        return (Finding("sewing.will-miss", Severity.WARN, f"{now.level}: {sewn}", expected, do),)
    if now.chance_within_most < 1 / 2:
        chance = round(100 * now.chance_within_most)
        expected = f"left unmeasured the {now.level} ends within {most} in {chance} of 100 such kilts"
        do = "Measure again after the next few pleats."
        return (Finding("sewing.unsure", Severity.NOTE, f"{now.level}: {sewn}", expected, do),)
    return ()


def gives(
    kilt: Kilt,
    levels: Sequence[Outlook],
    targets: Sequence[Target],
    sewn: Sequence[Sewn],
    hand: Hand,
    fitted: Collection[LevelName] = (),
) -> tuple[Give, ...]:
    """Every way out, where a level will miss by more than the settings allow; else nothing.

    `levels` and `targets`: hip line and strap line, in the same order.  `fitted`: levels of which a fitting
    asks something: what their aprons take is told there.
    """
    missed = [now for now in levels if misses(now, hand)]
    if not missed:
        return ()
    found = list(_another_pleat(kilt, levels, missed, hand))
    for now in missed:
        target = next(one for one in targets if one.level is now.level)
        if now.level not in fitted:
            found += _aprons(kilt, now, hand)
            found += _ease(kilt, now, hand)
        found += _unpick(now, target, sewn, hand)
    return tuple(found)


def misses(now: Outlook, hand: Hand) -> bool:
    """While there is something left to sew only a refit counts as a miss; at the end good work does."""
    allowed = hand.sewing.off_most if now.done < now.pleats else hand.sewing.off_good
    return now.done > 0 and abs(now.miss) > allowed


def _another_pleat(
    kilt: Kilt, levels: Sequence[Outlook], missed: Sequence[Outlook], hand: Hand
) -> Iterator[Give]:
    """A pleat more or fewer changes both levels: the widths it would leave at each."""
    left = levels[0].pleats - levels[0].done
    more = missed[0].miss < 0
    number = left + (1 if more else -1)
    if any((now.miss < 0) != more for now in missed) or left < 2:
        return
    told, each = [], []
    for now in levels:
        told.append(sum(float(size) for size in _rest(now, hand)) / left)
        each.append((float(now.target) - now.sewn) / number - now.bias)
    beside = ("reverse", kilt.reverse_pleat, kilt.reverse_keep)
    if not hand.from_over_apron:
        beside = ("deep", kilt.deep_pleat, kilt.deep_keep)
    pleat, has, keep = beside
    widths = " and ".join(
        f"{hand.long(width)} at the {now.level} instead of {hand.long(was)}"
        for now, width, was in zip(levels, each, told, strict=True)
    )
    if more and has - kilt.a_pleat < keep:
        yield Give(
            "a pleat more",
            f"a pleat more is not to be had: it takes {hand.long(kilt.a_pleat)} of cloth, and the {pleat} "
            f"pleat has {hand.long(has)}, of which {hand.long(float(keep))} must stay",
        )
        return
    cloth = (
        f"it {'takes' if more else 'leaves'} {hand.long(kilt.a_pleat)} of cloth {'from' if more else 'in'}"
    )
    far = [
        now.level
        for now, width in zip(levels, each, strict=True)
        if abs(width - float(now.target) / now.pleats)
        > float(hand.sewing.change_most) + float(hand.grid.step)
    ]
    warning = f"; that is far from the plan at the {' and the '.join(far)}" if far else ""
    yield Give(
        "a pleat more" if more else "a pleat fewer",
        f"a pleat {'more' if more else 'fewer'}: the {left} left become {number}, each {widths}; {cloth} the "
        f"{pleat} pleat, and the middle of the back moves by half a pleat{warning}",
    )


def _rest(now: Outlook, hand: Hand) -> Sequence[float]:
    sizes = [float(size) for size in now.sizes]
    return sizes[now.done :] if hand.from_over_apron else sizes[: now.pleats - now.done]


def _aprons(kilt: Kilt, now: Outlook, hand: Hand) -> Iterator[Give]:
    """Both aprons take the miss, half at either edge, so that their centre stripe stays where it is."""
    miss, at = now.miss, kilt.level(now.level)
    half = f"{hand.off(miss / 2)} at either edge so that the stripe stays in the middle"
    if miss > 0:
        yield Give(
            "apron edges",
            f"the apron edges: both aprons {hand.off(miss)} narrower at the {now.level}, {half}",
        )
        return
    enough = "" if at.folded_in >= -miss else ", not enough"
    yield Give(
        "apron edges",
        f"the apron edges: both aprons {hand.off(miss)} wider at the {now.level}, {half}; "
        f"{hand.long(at.folded_in)} is folded in there{enough}",
    )
    spare = max(0.0, kilt.deep_pleat - float(kilt.deep_keep))
    spare_under = max(0.0, kilt.reverse_pleat - float(kilt.reverse_keep))
    yield Give(
        "deep pleat",
        f"the deep pleat can give the over-apron {hand.long(spare)} at the {now.level}, the reverse pleat "
        f"the under-apron {hand.long(spare_under)}; {hand.off(miss)} of each is wanted",
    )


def _ease(kilt: Kilt, now: Outlook, hand: Hand) -> Iterator[Give]:
    """Left as it is, what the wearer has: at the waist the straps take up some of it."""
    ease = float(kilt.level(now.level).ease)
    where = "waist" if now.level is LevelName.STRAP else "hips"
    after = ease + now.miss
    words = (
        f"left as it is: the {where} {'has' if where == 'waist' else 'have'} "
        f"{hand.long(after)} {'of ease' if after >= 0 else 'too little'} instead of {hand.long(ease)}"
    )
    holes = floor(abs(now.miss) / float(kilt.hole_step) + 1 / 2)
    if where == "waist" and holes:
        words += f"; the straps take it up by {holes} hole{'s' if holes > 1 else ''}"
    yield Give("ease", words)


def _unpick(now: Outlook, target: Target, sewn: Sequence[Sewn], hand: Hand) -> Iterator[Give]:
    """The fewest last pleats that bring the level within good work again when they are sewn anew."""
    for back in range(1, now.done + 1):
        miss = unpicked(
            now,
            target,
            sewn,
            back,
            hand.grid,
            hand.maker,
            hand.sewing,
            from_over_apron=hand.from_over_apron,
        )
        if abs(miss) <= hand.sewing.off_good or back == now.done:
            gained = abs(now.miss) - abs(miss)
            pleats = "the last pleat" if back == 1 else f"the last {back} pleats"
            yield Give(
                "unpick",
                f"unpick {pleats} at the {now.level} and sew {'it' if back == 1 else 'them'} again with the "
                f"rest: that regains {hand.off(gained)} and it ends {_ending(miss, hand)}",
            )
            return


def _ending(miss: float, hand: Hand) -> str:
    return "on its width" if hand.off(miss).startswith("0") else f"{hand.off(miss)} {which_way(miss)}"
