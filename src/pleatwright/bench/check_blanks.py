"""The check before the rip: which few things are measured again, and what the plan expects of each.

Each question is there for mistakes that a rip makes final.  The expected values are for the judging; they
stand neither on the printed form nor in the file, so that nobody copies them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pleatwright.bench.check_expected import (
    BAND,
    BESIDE,
    CLOSE,
    CROOKED,
    FACING,
    HEIGHT,
    MISSED,
    OUT_OF_STEP,
    Expected,
    Neighbours,
    drift,
    expected_of,
    shrink,
    stripes_in_words,
)
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sett import short_name


class Kind(StrEnum):
    """What is written into a blank."""

    LENGTH = "a length"
    STRIPES = "stripes"
    COUNT = "a number"
    CHOICE = "one of"
    WORD = "as printed"
    PLACES = "places"


@dataclass(frozen=True)
class Blank:
    """One blank: what to measure; what is expected, in words; `tolerance` in inches where it is a length.

    `stripes`: how many are named one after the other; `across`: they are those of the warp, upward.
    `sewn`: asked where two strips are joined, when they lie pinned together, after the rip.
    """

    key: str
    ask: str
    kind: Kind
    expected: str
    tolerance: float | None = None
    choices: tuple[str, ...] = ()
    stripes: int = 0
    across: bool = False
    sewn: bool = False


@dataclass(frozen=True)
class Question:
    """Blanks that belong together, and why they are asked."""

    title: str
    why: str
    blanks: tuple[Blank, ...]


def questions(job: Job, option: Option) -> tuple[Question, ...]:
    """The questions of one option, in the order in which they are answered walking round the table.

    Raises ValueError while there is no piece of cloth.
    """
    asker = _Asker(job, expected_of(job.request, option))
    asked = (
        asker.packet(),
        asker.height(),
        asker.left_apron(),
        asker.far_pleat(),
        asker.ends(),
        asker.square(),
        asker.band(),
        asker.faults(),
        asker.join(),
    )
    return tuple(question for question in asked if question.blanks)


class _Asker:
    """Puts the questions; every expected value is written as the maker reads it."""

    def __init__(self, job: Job, expected: Expected) -> None:
        self.job, self.expected = job, expected
        self.sett = expected.run.sett
        self.joined = expected.join is not None

    def _written(self, inches: float) -> str:
        return write_length(inches, self.job.units, self.job.grid)

    def _length(self, key: str, ask: str, inches: float, tolerance: float, *, sewn: bool = False) -> Blank:
        return Blank(key, ask, Kind.LENGTH, self._written(inches), tolerance, sewn=sewn and self.joined)

    def _stripes(self, key: str, ask: str, found: Neighbours, *, across: bool = False) -> Blank:
        sett = self.job.request.tartan.warp if across else self.sett
        return Blank(
            key,
            ask,
            Kind.STRIPES,
            stripes_in_words(sett, found.right),
            stripes=len(found.right),
            across=across,
            sewn=self.joined and not across,
        )

    def packet(self) -> Question:
        blank = Blank("plan", "Plan version at the foot of the marks in hand", Kind.WORD, self.job.version)
        return Question("Packet", "A packet printed from older measurements looks like a new one.", (blank,))

    def height(self) -> Question:
        where = ("left", "middle", "right")
        places = ("near the left end", "in the middle", "near the right end")
        join = self.expected.join
        both = "" if join is None else ", of the first strip" if join.hem else ", the lower of both"
        blanks = [
            self._length(
                f"height_{at}", f"Selvedge up to the rip mark, {place}{both}", self.expected.height, HEIGHT
            )
            for at, place in zip(where, places, strict=True)
        ]
        found = self.expected.under_rip
        if found is not None:
            ask = "Stripe at or just below the rip mark, then the next up"
            blanks.append(self._stripes("rip_stripes", ask, found, across=True))
        why = "Too short, or from the wrong stripe, it is lost."
        return Question("Height of the rip", why, tuple(blanks))

    def left_apron(self) -> Question:
        apron = self.expected.aprons[0]
        blanks = [
            Blank(
                "left_apron",
                "Which apron lies at the left end",
                Kind.CHOICE,
                apron.name,
                choices=("over-apron", "under-apron"),
                sewn=self.joined,
            ),
            self._length(
                "left_apron_centre",
                "Its centre, along the selvedge from the first sound thread",
                apron.centre,
                drift(apron.centre),
                sewn=True,
            ),
        ]
        if not self.sett.plain:
            found = self.expected.neighbours(apron.thread)
            ask = "Stripe at its centre, then the next one to the right"
            blanks.append(self._stripes("left_apron_stripes", ask, found))
        why = "It tells the opening side, and if all is moved."
        return Question("Apron at the left", why, tuple(blanks))

    def far_pleat(self) -> Question:
        strip = self.expected.far_pleat
        name = "last" if self.expected.rightward else "first"
        blanks = [
            self._length(
                "far_pleat_centre",
                f"Centre of the {name} pleat, from the first sound thread at the left",
                strip.centre,
                drift(strip.centre),
                sewn=True,
            )
        ]
        if not self.sett.plain:
            found = self.expected.neighbours(strip.thread)
            ask = "Stripe at that centre, then the next one to the right"
            blanks.append(self._stripes("far_pleat_stripes", ask, found))
            ask = "Whole setts from one apron's centre to the other's"
            setts = str(self.expected.setts)
            blanks.append(Blank("setts", ask, Kind.COUNT, setts, sewn=self.joined))
        why = "What drifts or is counted wrongly is furthest out here."
        return Question(f"{name.capitalize()} pleat", why, tuple(blanks))

    def ends(self) -> Question:
        cloth = self.job.request.piece
        length = 0.0 if cloth is None else float(cloth.length)
        left, right = self.expected.aprons
        strip = length if self.expected.option.cloth is None else self.expected.option.cloth.length
        blanks = (
            self._length("length", "Length, first to last sound thread", length, shrink(length)),
            self._length("fringe", "Fringe at the left end (0 if there is none)", 0.0, FACING),
            self._length(
                "left_facing",
                f"{_capital(left.name)}'s outer edge to the first sound thread, where least",
                left.left,
                FACING,
                sewn=True,
            ),
            self._length(
                "right_facing",
                f"{_capital(right.name)}'s outer edge to the last sound thread, where least",
                strip - right.right,
                FACING,
                sewn=True,
            ),
        )
        return Question("Ends", "A facing that is too short shows, and fringe is no cloth.", blanks)

    def square(self) -> Question:
        skew = float(self.job.request.settings.cloth.skew_warn)
        blanks = (
            self._length("end_out", "How far the left end is out of square, over the height", 0.0, CROOKED),
            self._length("lean", "How far a stripe there leans, over the height", 0.0, skew),
        )
        return Question("Square", "Lines that lean hang crooked, and shorten an end.", blanks)

    def band(self) -> Question:
        blanks: tuple[Blank, ...] = ()
        if self.expected.band is not None:
            above = "up to the other rip mark" if self.joined else "up to the upper selvedge"
            blanks = (
                self._length("above_rip", f"Rip mark {above}, where least", self.expected.band, BAND),
                self._length(
                    "band_beside", "How far its mark lies beside the over-apron's centre line", 0.0, BESIDE
                ),
            )
        return Question("Top band", "It must carry the over-apron's own stripes, just above.", blanks)

    def faults(self) -> Question:
        blank = Blank(
            "faults",
            "Tape positions of knots, holes, stains; or none",
            Kind.PLACES,
            "none that shows",
            sewn=self.joined,
        )
        return Question(
            "Faults", "Seen from both sides, against the light. In a fold they do no harm.", (blank,)
        )

    def join(self) -> Question:
        join = self.expected.join
        if join is None:
            return Question("Join", "", ())
        blanks = [
            Blank(
                "second_selvedge",
                "Where the second strip's selvedge lies",
                Kind.CHOICE,
                "bottom",
                choices=("bottom", "top"),
                sewn=True,
            ),
            Blank(
                "second_twill",
                "Which way its twill line runs, against the first strip's",
                Kind.CHOICE,
                "same way",
                choices=("same way", "other way"),
                sewn=True,
            ),
            Blank(
                "seam_pleats",
                "Pleats chalked to the left of the seam",
                Kind.COUNT,
                str(self.expected.pleats_before_seam),
                sewn=True,
            ),
            self._length(
                "seam_clear",
                "Seam to the nearest edge that shows (0 if it lies on one)",
                self.expected.seam_clear,
                CLOSE,
                sewn=True,
            ),
            self._length(
                "horizontals",
                "How far the horizontals miss each other" + (", the hem folded" if join.hem else ""),
                join.missed,
                MISSED,
                sewn=True,
            ),
        ]
        if not self.sett.plain:
            pivot = short_name(self.sett, self.sett.stripe_at(self.sett.mirror_centres[0]))
            ask = "Stripes: before the seam's, its own, after it"
            blanks += [
                self._stripes("seam_stripes", ask, self.expected.at_seam()),
                self._length(
                    "seam_repeat",
                    f"Over the seam, centre to centre of {pivot}",
                    self.expected.repeat_over_seam,
                    OUT_OF_STEP,
                    sewn=True,
                ),
            ]
        why = "Pinned as they will be sewn, not yet sewn."
        return Question("Join", why, tuple(blanks))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
