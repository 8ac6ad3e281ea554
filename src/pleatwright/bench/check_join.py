"""The check of a join: two strips pinned together before their seam is sewn."""

from __future__ import annotations

from collections.abc import Iterator

from pleatwright.bench.check_expected import CLOSE, MISSED, OUT_OF_STEP, stripes_in_words
from pleatwright.bench.check_found import Case, agrees, named, stop, warn
from pleatwright.findings import Finding
from pleatwright.layout import Join


class JoinCase(Case):
    """What is looked at where two strips are joined; nothing on a single strip."""

    def findings(self) -> Iterator[Finding]:
        """Every finding of the join."""
        join, found = self.expected.join, self.found
        if join is None:
            return
        if "second_selvedge" not in found.choices:
            yield warn(
                "join-open",
                "the strips have not been pinned together",
                "the join is checked before its seam is sewn",
                "Rip both strips if all else is well, pin them, answer the rest and check again.",
            )
            return
        if found.choices["second_selvedge"] != "bottom":
            yield stop(
                "not-turned",
                "the second strip has its selvedge at the top",
                "turned by 180°, both strips have it at the bottom",
                "Turn the second strip round on the table, outside up, and pin it again.",
            )
        if found.choices.get("second_twill") != "same way":
            yield stop(
                "face-down",
                "the second strip's twill line runs the other way",
                "it runs the same way on both strips",
                "The second strip lies face down: turn it over, then round by 180°, and pin it again.",
            )
        yield from self._in_step()
        yield from self._horizontals(join)
        yield from self._seam_hidden()

    def _in_step(self) -> Iterator[Finding]:
        seen, over = self.found.stripes.get("seam_stripes"), self.length("seam_repeat")
        if seen is None or over is None:
            return
        expected, sett = self.expected.at_seam(), self.expected.repeat_over_seam
        wrong = not agrees(seen, expected)
        if not wrong and abs(over - sett) <= OUT_OF_STEP:
            return
        seam = f"the seam lies on {named(self.sett, seen)}" if wrong else "the seam's stripes are right"
        yield stop(
            "join-out",
            f"{seam}, and the repeat over it measures {self.written(over)}",
            f"{stripes_in_words(self.sett, expected.right)}, and {self.written(sett)}: the pattern runs on",
            "Do not sew: the stripe occurs twice in a sett, and this is its twin or another repeat's part; "
            "match the stripes on both sides of the seam.",
        )

    def _horizontals(self, join: Join) -> Iterator[Finding]:
        off, planned = self.length("horizontals"), join.missed
        if off is not None and off > planned + MISSED:
            yield stop(
                "horizontals",
                f"the horizontals of the strips miss each other by {self.written(off)}",
                f"{self.written(planned)} by the plan",
                "Slide the second strip up or down until they meet; then measure its height again.",
            )

    def _seam_hidden(self) -> Iterator[Finding]:
        clear, pleats = self.length("seam_clear"), self.found.counts.get("seam_pleats")
        if clear is None or pleats is None:
            return
        wanted = float(self.job.request.settings.cloth.join_clearance)
        if clear < wanted - CLOSE:
            yield stop(
                "join-shows",
                f"the seam lies {self.written(clear)} from an edge that shows",
                f"at least {self.written(wanted)}, inside a fold",
                "Do not sew: move the seam, by whole setts if need be, until it lies in a fold.",
            )
        strap_hole = 1 if self.expected.rightward else self.option.pleats - 1
        planned = self.expected.pleats_before_seam
        if pleats == strap_hole != planned:
            yield stop(
                "join-strap-hole",
                "the seam lies between the first and the second pleat",
                f"the strap's hole lies between those two; the plan has {planned} pleats left of the seam",
                "Do not sew: move the seam to another fold.",
            )
        elif pleats != planned:
            yield warn(
                "join-elsewhere",
                f"{pleats} pleats lie left of the seam",
                f"{planned} by the plan",
                "Count again; if the seam is moved on purpose, see that both strips are still long enough.",
            )
