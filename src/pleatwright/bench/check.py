"""Judging what was found before the rip: findings, each with what to do."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from pleatwright.bench.check_expected import (
    BAND,
    BESIDE,
    CLOSE,
    CROOKED,
    FACING,
    HEIGHT,
    Neighbours,
    drift,
    expected_of,
    shrink,
    stripes_in_words,
)
from pleatwright.bench.check_found import Case, Found, Seen, agrees, named, stop, warn
from pleatwright.bench.check_join import JoinCase
from pleatwright.findings import Finding
from pleatwright.layout import Option
from pleatwright.order import Job

SLOPES = 3 / 8
"""Inches by which heights of one rip mark may differ before it is mentioned [our choice]."""
FRINGE = 3 / 16
"""Inches within which a mark is out by just the fringe [our choice]."""
KNOWN = 1 / 2
"""Inches from a fault that the order already names [our choice]."""


def judge(job: Job, option: Option, found: Found) -> tuple[Finding, ...]:
    """Every finding, in the order of the questions; none when all agrees.

    Raises ValueError while there is no piece of cloth.
    """
    return tuple(_Judge(job, expected_of(job.request, option), found).findings())


class _Judge(Case):
    """Every method looks at one question and skips what was not asked."""

    def findings(self) -> Iterator[Finding]:
        yield from self._packet()
        yield from self._height()
        yield from self._under_rip()
        yield from self._opening_side()
        yield from self._marks()
        yield from self._setts()
        yield from self._ends()
        yield from self._square()
        yield from self._band()
        yield from self._faults()
        yield from JoinCase(self.job, self.expected, self.found).findings()

    def _packet(self) -> Iterator[Finding]:
        if self.found.plan != self.job.version:
            yield stop(
                "old-packet",
                f"the packet in hand is of plan {self.found.plan}",
                f"the marks are of plan {self.job.version} by now",
                "Print the packet again and go over every mark; a packet of another kilt, or made with other "
                "settings of the shop, is checked with the same.",
            )

    def _height(self) -> Iterator[Finding]:
        heights = [
            float(found)
            for at in ("left", "middle", "right")
            if (found := self.found.lengths.get(f"height_{at}")) is not None
        ]
        if not heights:
            return
        least, most, height = min(heights), max(heights), self.expected.height
        expected = f"{self.written(height)} is to be ripped"
        if least < height - HEIGHT:
            yield stop(
                "height-short",
                f"the rip mark lies only {self.written(least)} above the selvedge{self._left_out(least)}",
                expected,
                "Do not rip: mark the height again from the selvedge, rise and hem included.",
            )
        if most > height + HEIGHT:
            yield stop(
                "height-long",
                f"the rip mark lies {self.written(most)} above the selvedge",
                expected,
                "Mark the height again; every level and the top band would be out by as much.",
            )
        if most - least > SLOPES:
            yield warn(
                "rip-slopes",
                f"the rip mark's height differs by {self.written(most - least)} from end to end",
                "a rip follows one thread, whatever the chalk does",
                "Begin the rip on the thread that has the height, and mark along that thread.",
            )

    def _left_out(self, least: float) -> str:
        sizes = self.job.request.sizes
        parts = (("the rise", sizes.rise), ("the hem", sizes.hem), ("rise and hem", sizes.rise + sizes.hem))
        for name, part in parts:
            if part and abs(float(sizes.total - part) - least) <= HEIGHT:
                return f", as if {name} had been left out"
        return ""

    def _under_rip(self) -> Iterator[Finding]:
        expected, seen = self.expected.under_rip, self.found.stripes.get("rip_stripes")
        if expected is None or seen is None or agrees(seen, expected):
            return
        warp = self.job.request.tartan.warp
        same = any(warp.stripes[i].colour == warp.stripes[expected.right[0]].colour for i in seen[0])
        which = ", a neighbour of the same colour" if same else ""
        seen_words = f"the rip mark lies on {named(warp, seen)}{which}"
        expected_words = f"it belongs on {stripes_in_words(warp, expected.right)}"
        do = "Do not rip: find the stripe counting up from the selvedge, and measure the height again."
        if self.expected.across_measured:
            yield stop("rip-stripe", seen_words, expected_words, do)
        else:
            yield warn(
                "rip-stripe",
                seen_words,
                f"{expected_words}, if the sett measures across as along",
                "Measure the sett from selvedge to selvedge, write it in the order, and plan again.",
            )

    def _opening_side(self) -> Iterator[Finding]:
        name = self.expected.aprons[0].name
        seen = self.found.choices.get("left_apron")
        if seen is not None and seen != name:
            yield stop(
                "opening-side",
                f"the {seen} lies at the left end",
                f"the kilt opens on the {self.option.opens_on}: the {name} lies there",
                "Do not rip: ask again which side it opens on, lay the cloth outside up, mark it anew.",
            )

    def _marks(self) -> Iterator[Finding]:
        left, far = self.expected.aprons[0], self.expected.far_pleat
        name = "last" if self.expected.rightward else "first"
        yield from self._mark("left_apron", f"the {left.name}'s centre", left.centre, left.thread)
        yield from self._mark("far_pleat", f"the {name} pleat's centre", far.centre, far.thread)

    def _mark(self, key: str, what: str, x: float, thread: float) -> Iterator[Finding]:
        """One mark along the cloth, by its tape position and by its stripe; the stripe weighs more."""
        at, seen = self.length(f"{key}_centre"), self.found.stripes.get(f"{key}_stripes")
        if at is None:
            return
        off = at - x
        seen_words = f"{what} lies at {self.written(at)}"
        expected_words = f"{self.written(x)} by the plan"
        fringe = self.length("fringe") or 0.0
        if key == "left_apron" and abs(off) > drift(x) and abs(abs(off) - fringe) <= FRINGE:
            yield stop(
                "from-fringe",
                f"{seen_words}, out by just the fringe",
                expected_words,
                "Measure from the first sound thread, not from the fringe; go over every mark again.",
            )
            return
        if seen is not None:
            expected = self.expected.neighbours(thread)
            if not agrees(seen, expected):
                yield self._wrong_stripe(what, seen, expected, off)
                return
            setts = round(off / self.size)
            if setts and abs(off - setts * self.size) <= self.size / 4:
                many = "one sett" if abs(setts) == 1 else f"{abs(setts)} setts"
                way = "right" if setts > 0 else "left"
                yield stop(
                    "sett-out",
                    f"{seen_words}, {many} too far to the {way}, on the right stripe",
                    expected_words,
                    "Count the numbered repeats from the left end again, and move every mark that is out.",
                )
                return
        if abs(off) > drift(x):
            yield warn(
                "tape-off",
                seen_words,
                expected_words,
                "Measure it again; if it stands the sett wanders: write readings in the order and plan again."
                if seen is not None
                else "Measure and mark it again: plain cloth has no stripe to go by.",
            )

    def _wrong_stripe(self, what: str, seen: Seen, expected: Neighbours, off: float) -> Finding:
        index = expected.right[0]
        before = (index - 1) % len(self.sett.stripes)
        mirrored = index in seen[0] and len(seen) > 1 and before in seen[1]
        seen_words = f"{what} lies on {named(self.sett, seen)}"
        expected_words = f"it belongs on {stripes_in_words(self.sett, expected.right)}, to the right"
        if mirrored and not self.sett.symmetric:
            return stop(
                "asymmetric",
                f"{seen_words}: the stripes run the other way",
                f"{expected_words}; this sett is asymmetric and has no mirror image",
                "Do not rip: the cloth is turned, or was marked as if it mirrored; lay it as the order says.",
            )
        return stop(
            "wrong-stripe",
            f"{seen_words}, {self.written(abs(off))} off by the tape",
            expected_words,
            "Find the stripe from the nearest numbered repeat, and mark it again.",
        )

    def _setts(self) -> Iterator[Finding]:
        seen, expected = self.found.counts.get("setts"), self.expected.setts
        if seen is not None and seen != expected:
            yield stop(
                "setts-between",
                f"{seen} setts lie between the aprons' centres",
                f"{expected} by the plan",
                "Number the repeats anew, and move the marks from where the count goes wrong.",
            )

    def _ends(self) -> Iterator[Finding]:
        left, right = self.expected.aprons
        for key, apron in (("left_facing", left), ("right_facing", right)):
            found = self.length(key)
            if found is not None and found < self.option.facing - FACING:
                yield stop(
                    "facing-short",
                    f"{self.written(found)} of sound cloth lie beyond the {apron.name}'s outer edge",
                    f"the facing takes {self.written(self.option.facing)}",
                    "Do not rip: mark again further from that end, or give the order the smaller facing and "
                    "plan again.",
                )
        yield from self._piece_length()

    def _piece_length(self) -> Iterator[Finding]:
        piece, found = self.job.request.piece, self.length("length")
        if piece is None or found is None:
            return
        needed = self.expected.needed
        invoiced = None if piece.arrival is None else piece.arrival.invoiced
        due = max(float(piece.length), float(invoiced or 0))
        seen = f"the piece is {self.written(found)} long"
        if found < needed - FACING:
            yield stop(
                "piece-short",
                seen,
                f"the plan takes it as far as {self.written(needed)}",
                "Do not rip: write the true length in the order and plan again; claim what is missing.",
            )
        elif found < due - shrink(due):
            named = "the invoice" if invoiced is not None and due == float(invoiced) else "the order"
            yield warn(
                "piece-short",
                seen,
                f"{named} says {self.written(due)}",
                "The kilt can still be made; claim what is missing before anything is cut.",
            )

    def _square(self) -> Iterator[Finding]:
        out, lean = self.length("end_out"), self.length("lean")
        if out is not None and out - (lean or 0.0) > CROOKED:
            yield warn(
                "end-crooked",
                f"the left end is {self.written(out)} out of square",
                f"less than {self.written(CROOKED)}",
                "Straighten it along one weft thread, then measure the facing and the first mark again.",
            )
        cloth = self.job.request.settings.cloth
        if lean is not None and lean >= cloth.skew_warn:
            weigh = stop if lean >= cloth.skew_stop else warn
            yield weigh(
                "skew",
                f"the stripes lean by {self.written(lean)} from selvedge to rip mark",
                f"less than {self.written(cloth.skew_warn)}",
                "Pull the cloth true and steam it, let it lie, then mark it again.",
            )

    def _band(self) -> Iterator[Finding]:
        above, beside = self.length("above_rip"), self.length("band_beside")
        height = float(self.job.request.settings.cloth.band_height)
        if above is not None and above < height - BAND:
            yield stop(
                "band-short",
                f"{self.written(above)} are left above the rip",
                f"the top band takes {self.written(height)}",
                "Do not rip before it is settled where the band comes from; measure the height again.",
            )
        if beside is not None and beside > BESIDE:
            setts = round(beside / self.size)
            repeat = setts and abs(beside - setts * self.size) <= BESIDE + beside / 200
            yield stop(
                "band-repeat" if repeat else "band-beside",
                f"the band's mark lies {self.written(beside)} beside the over-apron's centre"
                + (", on another repeat" if repeat else ""),
                "it lies exactly at the over-apron's centre",
                "Mark the band again straight above: elsewhere its stripes no longer agree with the apron's.",
            )

    def _faults(self) -> Iterator[Finding]:
        for fault in self.found.faults:
            if fault.height is not None and float(fault.height) > self.expected.height + CLOSE:
                continue
            at = self._by_plan(float(fault.at))
            shows = next(
                (what for start, end, what in self.expected.shown if start - CLOSE < at < end + CLOSE), None
            )
            if shows is None or self._known(at):
                continue
            yield stop(
                "fault-on-apron" if "apron" in shows else "fault-on-pleat",
                f"a fault at {self.written(fault.at)} shows on {shows}",
                "inside a fold it does no harm; here it shows",
                "Do not rip: write the fault in the order as one of the piece's faults, and plan again.",
            )

    def _by_plan(self, at: float) -> float:
        """The plan's tape position of a place: shifted as the nearest of both marks measured again is."""
        marks = (
            (self.expected.aprons[0].centre, self.length("left_apron_centre")),
            (self.expected.far_pleat.centre, self.length("far_pleat_centre")),
        )
        places = [(0.0, 0.0)]
        places += [(found, x - found) for x, found in marks if found and abs(x - found) <= self.size / 4]
        xs, shifts = zip(*places, strict=True)
        return at + float(np.interp(at, xs, shifts))

    def _known(self, at: float) -> bool:
        """Whether the plan already keeps clear of a fault there."""
        cloth = self.option.cloth
        places = () if cloth is None else cloth.blocked
        return any(start - KNOWN <= at <= end + KNOWN for start, end in places)
