"""The sewing log in words, for screen and paper alike."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.sewing.fitting import LENGTHS
from pleatwright.bench.sewing.gives import Hand, which_way
from pleatwright.bench.sewing.log import (
    Corrected,
    Entry,
    Fitted,
    Measured,
    Noted,
    SewingLog,
    Staged,
    Started,
    Undone,
)
from pleatwright.bench.sewing.outlook import Outlook
from pleatwright.bench.sewing.standing import NextPleat, Standing
from pleatwright.wearer import LevelName

ALONG = {
    "first": "from the over-apron, from left to right",
    "last": "from the under-apron, from right to left",
}
"""Which way sewing goes on a kilt that opens on the right, outside up, top edge away [derived]."""
MIRRORED = {
    "first": "from the over-apron, from right to left",
    "last": "from the under-apron, from left to right",
}

TEN = 10
"""What the hand adds to a pleat is too little for a tape; of ten pleats it can be read."""


class SewingWords:
    """One log's figures as its maker says and reads them."""

    def __init__(self, log: SewingLog, hand: Hand) -> None:
        self.log, self.hand = log, hand
        sewing = hand.sewing
        good, most = (hand.long(float(off)) for off in (sewing.off_good, sewing.off_most))
        self.rows = ("sewn", "so far", "ten pleats come out", "will end at", f"within {good} and {most}")
        self.ahead_headings = ("pleat", "hip line", "strap line", "hips then read", "straps then read")

    @property
    def direction(self) -> str:
        """Where sewing began and which way it goes, the kilt outside up and its top edge away."""
        started = self.log.started
        return (ALONG if started.opens_on == "right" else MIRRORED)[started.begin]

    def where(self, now: Standing) -> str:
        """How many pleats are sewn, and which way."""
        done, pleats = now.hip.done, now.hip.pleats
        many = f"{done} of {pleats} pleats sewn" if done else f"{pleats} pleats to be sewn"
        return f"{many}, {self.direction} (outside up, top edge away)."

    def figures(self, now: Outlook) -> tuple[str, ...]:
        """One level's figures, one for each of `rows`."""
        hand = self.hand
        target, planned = hand.long(float(now.target)), hand.long(float(now.planned))
        if not now.done:
            return ("–", "–", "–", target, "–")
        sewn = hand.long(float(now.read)) if now.read is not None else f"about {hand.long(now.sewn)}"
        good, most = (f"{100 * chance:.0f}" for chance in (now.chance_within_good, now.chance_within_most))
        return (
            f"{sewn}, planned {planned}",
            self.off(now.ahead),
            self.bias(now),
            f"{hand.long(now.forecast)} of {target}",
            f"{good} and {most} in 100",
        )

    def off(self, off: float) -> str:
        """By how much something is wide or narrow."""
        shown = self.hand.off(off)
        return (
            "as planned"
            if not any(digit in shown for digit in "123456789")
            else (f"{shown} {which_way(off).removeprefix('too ')}")
        )

    def bias(self, now: Outlook) -> str:
        """By how much ten pleats come out wide or narrow by the hand, with one standard deviation."""
        return f"{self.off(TEN * now.bias)} ± {self.hand.off(TEN * now.bias_sd)}"

    def changes(self, now: Standing) -> str:
        """What to change in what was told before; "" where nothing is sewn, or all."""
        if not now.hip.done or not now.ahead:
            return ""
        changes = [level.change.words for level in now.levels if level.change is not None]
        same = [level for level in now.levels if level.change is None]
        helpless = [level for level in same if abs(level.miss) > self.hand.sewing.off_good]
        least = self.log.started.follow == "least"
        if not changes and helpless:
            return "No further change within the limits helps."
        if not changes:
            none = "No change is needed"
            return f"{none}." if least else f"{none}; sewn as told below it ends nearest."
        for level in same:
            changes.append(f"nothing {'more ' if level in helpless else ''}at the {level.level}")
        said = "; ".join(changes)
        return f"{said[0].upper()}{said[1:]}." if least else f"The smallest change that would do: {said}."

    def ahead_row(self, pleat: NextPleat) -> tuple[str, ...]:
        """One pleat still to be sewn, under its headings."""
        hand = self.hand
        return (
            str(pleat.pleat),
            hand.long(float(pleat.hip)),
            hand.long(float(pleat.strap)),
            hand.long(pleat.hip_then),
            hand.long(pleat.strap_then),
        )

    def stretch(self, first: int, last: int) -> str:
        """Some pleats by number."""
        return f"pleat {first}" if first == last else f"pleats {first} to {last}"

    def widths(self, entry: Measured | Corrected) -> str:
        """What the tape said, as written where that was in other units."""
        said = []
        for level, width, written in (
            (LevelName.HIP, entry.hip, entry.hip_written),
            (LevelName.STRAP, entry.strap, entry.strap_written),
        ):
            if width is not None:
                shown = self.hand.long(float(width))
                other = f' ("{written}")' if written.strip() not in (shown, shown.rstrip('"'), "") else ""
                said.append(f"{shown}{other} at the {level}")
        return ", ".join(said)

    def entry(self, entry: Entry) -> str:
        """One entry in a line."""
        if isinstance(entry, Started):
            words = f"sewing began: {entry.title}, plan {entry.plan}, {self.direction}"
        elif isinstance(entry, Measured):
            words = f"{self.stretch(entry.first, entry.last)}: {self.widths(entry)}"
            words += ", kept as sure" if entry.sure else ""
        elif isinstance(entry, Corrected):
            reason = f": {entry.reason}" if entry.reason else ""
            words = f"entry {entry.entry} put right, {self.widths(entry)}{reason}"
        elif isinstance(entry, Undone):
            words = f"entry {entry.entry} undone"
        elif isinstance(entry, Staged):
            words = f"done: {entry.stage}"
        elif isinstance(entry, Fitted):
            words = self._fitted(entry)
        else:
            words = f"note: {entry.words}"
        return words

    def notes(self) -> tuple[str, ...]:
        """The maker's own words, and the stages reached."""
        void = self.log.void()
        said = [
            entry.words
            for number, entry in enumerate(self.log.entries, 1)
            if isinstance(entry, Noted) and number not in void
        ]
        stages = ", ".join(self.log.stages())
        return (*said, *((f"done: {stages}",) if stages else ()))

    def _fitted(self, entry: Fitted) -> str:
        said = [
            f"{which} {self.hand.long(float(abs(off)))} at the {where}"
            for where, off, more, less in (
                ("waist", entry.waist, "tight", "loose"),
                ("hips", entry.hips, "tight", "loose"),
                *((where, getattr(entry, where), "long", "short") for where in LENGTHS),
            )
            for which in ((more if off > 0 else less),)
            if off != Fraction(0)
        ]
        return f"fitting: {', '.join([*said, *filter(None, [entry.words])]) or 'it fits'}"
