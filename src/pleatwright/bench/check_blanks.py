"""The check before the rip: which few things are measured again, and what the plan expects of each.

Each question is there for mistakes that a rip makes final.  Nothing here asks for what another blank already
tells; the expected values are for the judging, and stand neither on the printed form nor in the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pleatwright.bench.ruler import ruler_across
from pleatwright.cloth import Run
from pleatwright.layout import Apron, Join, Option, Request, Strip
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sett import Sett, short_name

ON_CENTRE = 5 / 64
"""Inches a mark on a stripe's centre may be off by eye [our choice]."""
ON_CLOTH = 5 / 32
"""Inches any other mark may be off: rounding to the grid, chalk, a sixteenth of measuring [our choice]."""
UNDER_RIP = 1 / 4
"""Inches the rip mark may be off its stripe: the size across is known less well [our choice]."""


HEIGHT = 1 / 4
"""Inches the rip mark may be off its height: chalk, measuring, and a little give [our choice]."""
FACING = 1 / 4
"""Inches a facing may be short [our choice]."""
BAND = 1 / 8
"""Inches the strip left for the band may be short [our choice]."""
BESIDE = 1 / 4
"""Inches the band's mark may lie beside the over-apron's centre [our choice]."""
MISSED = 3 / 16
"""Inches by which horizontals may miss each other more than planned [our choice]."""
CROOKED = 1 / 4
"""Inches an end may be out of square over the height before it is mentioned [our choice]."""
SKEWED = 1 / 4
"""Inches a stripe may lean over the height before it is mentioned [our choice]."""
OUT_OF_STEP = 1 / 4
"""Inches by which the repeat over a seam may differ from a sett [our choice]."""


def drift(x: float) -> float:
    """Inches a tape position x may differ where the stripe is right: a sett's size wanders along a piece."""
    return 1 / 4 + x / 200


def shrink(length: float) -> float:
    """Inches by which a whole length measured again may differ: a long tape is read less well [our choice]."""
    return max(1 / 2, length / 500)


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

    `sewn`: asked where two strips are joined, when they lie pinned together, after the rip.
    """

    key: str
    ask: str
    kind: Kind
    expected: str
    tolerance: float | None = None
    choices: tuple[str, ...] = ()
    sewn: bool = False


@dataclass(frozen=True)
class Question:
    """Blanks that belong together, and why they are asked."""

    title: str
    why: str
    blanks: tuple[Blank, ...]


@dataclass(frozen=True)
class Neighbours:
    """Stripes by index, as they follow one another to the right or upward."""

    accepted: tuple[tuple[int, ...], ...]
    right: tuple[int, ...]


def follow(run: Run, thread: float, tolerance: float, *, before: int = 0) -> Neighbours:
    """The stripe at a thread and the next one (after `before` stripes ahead of it), and all that may be seen.

    What may be seen is what lies within `tolerance` inches of the place.
    """
    sett, at = run.sett, run.tape_at(thread)
    count = len(sett.stripes)

    def around(index: int) -> tuple[int, ...]:
        return tuple((index + step) % count for step in range(-before, 2))

    right = around(sett.stripe_at(thread).index)
    theta, end = run.thread_at(at - tolerance), run.thread_at(at + tolerance)
    accepted = [right]
    while theta <= end:
        stripe = sett.stripe_at(theta)
        accepted.append(around(stripe.index))
        theta += (stripe.end - theta) % sett.n or sett.n
    return Neighbours(tuple(dict.fromkeys(accepted)), right)


def stripes_in_words(sett: Sett, indices: tuple[int, ...]) -> str:
    """Stripes one after the other, as a maker calls them."""
    return ", then ".join(short_name(sett, sett.stripes[index]) for index in indices)


@dataclass(frozen=True)
class Expected:
    """What the plan says of the places that are measured again; inches, threads of the cloth as it lies.

    `strips`: how many strips of the total length the piece gives.  `band`: height left for the top band, None
    where the plan has none.  `under_rip`: None where the stripes across are not known.
    """

    request: Request
    option: Option
    run: Run
    height: float
    under_rip: Neighbours | None
    strips: int
    band: float | None

    @property
    def rightward(self) -> bool:
        """Whether the over-apron lies at the left end."""
        return self.option.opens_on == "right"

    @property
    def aprons(self) -> tuple[Apron, Apron]:
        """The aprons at the left and the right end."""
        pair = (self.option.over_apron, self.option.under_apron)
        return pair if self.rightward else (pair[1], pair[0])

    @property
    def far_pleat(self) -> Strip:
        """The pleat furthest to the right."""
        return max(self.option.strips, key=lambda strip: strip.centre)

    @property
    def join(self) -> Join | None:
        """Where two strips are sewn together."""
        return None if self.option.cloth is None else self.option.cloth.join

    @property
    def setts(self) -> int:
        """Whole setts from one apron's centre to the other's."""
        left, right = self.aprons
        return round((right.thread - left.thread) / self.run.sett.n)

    @property
    def repeat_over_seam(self) -> float:
        """Inches from the first pivot's centre before the seam to its next one beyond it."""
        if self.join is None:
            raise ValueError("only joined cloth has a seam")
        n, pivot = self.run.sett.n, self.run.sett.mirror_centres[0]
        before = self.join.thread - (self.join.thread - pivot) % n
        return self.run.tape_at(before + n) - self.run.tape_at(before)

    def neighbours(self, thread: float) -> Neighbours:
        """The stripe at a mark along the cloth and the next one to its right."""
        sett = self.run.sett
        away = abs((thread - sett.centre_of(sett.stripe_at(thread)) + sett.n / 2) % sett.n - sett.n / 2)
        centred = away * self.run.inches_a_thread(thread) < 1 / 64
        return follow(self.run, thread, ON_CENTRE if centred else ON_CLOTH)

    def at_seam(self) -> Neighbours:
        """The stripe left of the seam's, the seam's own, and the one to the right."""
        if self.join is None:
            raise ValueError("only joined cloth has a seam")
        return follow(self.run, self.join.thread, ON_CLOTH, before=1)


def expected_of(job: Job, option: Option) -> Expected:
    """What to expect of an option; raises ValueError while there is no piece of cloth."""
    request = job.request
    piece, cloth = request.piece, option.cloth
    if piece is None or cloth is None:
        raise ValueError("a check needs the piece of cloth")
    strips = 1 if cloth.join is None else 2
    left = piece.width - strips * request.sizes.total
    height = float(request.sizes.total)
    across = ruler_across(request)
    under_rip = None
    if across is not None and not across.run.sett.plain:
        under_rip = follow(across.run, across.run.thread_at(height), UNDER_RIP)
    return Expected(
        request=request,
        option=option,
        run=cloth.run(request.tartan.weft),
        height=height,
        under_rip=under_rip,
        strips=strips,
        band=float(left) if left >= request.settings.cloth.band_height else None,
    )


def questions(job: Job, option: Option) -> tuple[Question, ...]:
    """The questions of one option, in the order in which they are answered walking round the table.

    Raises ValueError while there is no piece of cloth.
    """
    asker = _Asker(job, expected_of(job, option))
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

    def _stripes(self, key: str, ask: str, found: Neighbours, sett: Sett, *, sewn: bool = False) -> Blank:
        words = stripes_in_words(sett, found.right)
        return Blank(key, ask, Kind.STRIPES, words, sewn=sewn and self.joined)

    def packet(self) -> Question:
        blank = Blank("plan", "Plan version at the foot of the marks in hand", Kind.WORD, self.job.version)
        return Question("Packet", "A packet printed from older measurements looks like a new one.", (blank,))

    def height(self) -> Question:
        where = ("left", "middle", "right")
        places = ("near the left end", "in the middle", "near the right end")
        both = ", the lower of both" if self.joined else ""
        blanks = [
            self._length(
                f"height_{at}", f"Selvedge up to the rip mark, {place}{both}", self.expected.height, HEIGHT
            )
            for at, place in zip(where, places, strict=True)
        ]
        found = self.expected.under_rip
        if found is not None:
            ask = "Stripe the rip mark lies on, then the next one above"
            blanks.append(self._stripes("rip_stripes", ask, found, self.job.request.tartan.warp))
        why = "Ripped short of rise or hem, or from the next stripe of that colour, the strip is lost."
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
            blanks.append(self._stripes("left_apron_stripes", ask, found, self.sett, sewn=True))
        why = "Outside up, selvedge towards you. Tells the opening side, and whether all is moved."
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
            blanks.append(self._stripes("far_pleat_stripes", ask, found, self.sett, sewn=True))
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
        blanks = (
            self._length("end_out", "Set square on the selvedge: the left end is out by", 0.0, CROOKED),
            self._length("lean", "A stripe there leans, from selvedge to rip mark, by", 0.0, SKEWED),
        )
        return Question("Square", "Lines that lean hang crooked, and shorten an end.", blanks)

    def band(self) -> Question:
        blanks: tuple[Blank, ...] = ()
        if self.expected.band is not None:
            above = "up to the other rip mark" if self.joined else "up to the upper selvedge"
            blanks = (
                self._length("above_rip", f"Rip mark {above}, where least", self.expected.band, BAND),
                self._length(
                    "band_beside", "Band's mark lies beside the over-apron's centre line by", 0.0, BESIDE
                ),
            )
        return Question("Top band", "It must carry the over-apron's own stripes, just above.", blanks)

    def faults(self) -> Question:
        blank = Blank(
            "faults", "Knots, holes, stains: tape positions, or none", Kind.PLACES, "none that shows"
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
                "Second strip's selvedge lies at the",
                Kind.CHOICE,
                "bottom",
                choices=("bottom", "top"),
                sewn=True,
            ),
            Blank(
                "second_twill",
                "Its twill line, against the first strip's, runs the",
                Kind.CHOICE,
                "same way",
                choices=("same way", "other way"),
                sewn=True,
            ),
            self._length(
                "seam_at", "Seam, from the first sound thread", join.tape, drift(join.tape), sewn=True
            ),
            self._length(
                "horizontals", "Horizontals miss each other by", abs(join.horizontals_off), MISSED, sewn=True
            ),
        ]
        if not self.sett.plain:
            pivot = short_name(self.sett, self.sett.stripe_at(self.sett.mirror_centres[0]))
            ask = "Three stripes: before the seam's, the seam's own, after it"
            blanks += [
                self._stripes("seam_stripes", ask, self.expected.at_seam(), self.sett, sewn=True),
                self._length(
                    "seam_repeat",
                    f"Over the seam, centre to centre of {pivot}",
                    self.expected.repeat_over_seam,
                    OUT_OF_STEP,
                    sewn=True,
                ),
            ]
        why = "Pin the strips as they will be sewn; answer what is marked *, and check again."
        return Question("Join", why, tuple(blanks))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
