"""What the plan says of the places that are measured again before the rip, and what they may be off."""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.bench.ruler import ruler_across
from pleatwright.cloth import Run
from pleatwright.layout import Apron, Join, Option, Request, Strip
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
OUT_OF_STEP = 1 / 4
"""Inches by which the repeat over a seam may differ from a sett [our choice]."""


CLOSE = 3 / 16
"""Inches between two places measured, each by a sixteenth and its chalk, and where they are [our choice]."""


def drift(x: float) -> float:
    """Inches a tape position x may differ where the stripe is right: a sett's size wanders along a piece."""
    return 1 / 4 + x / 200


def shrink(length: float) -> float:
    """Inches by which a whole length measured again may differ: long tapes are read less well [ours]."""
    return max(1 / 2, length / 500)


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

    `strips`: how many strips of the total length the piece gives.  `height`: of the first strip, its hem
    included where it is hemmed to meet the second one.  `band`: height left for the top band, None
    where the plan has none.  `under_rip`: None where the stripes across are not known.
    """

    request: Request
    option: Option
    run: Run
    height: float
    under_rip: Neighbours | None
    strips: int
    band: float | None
    across_measured: bool

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
        return self.option.join

    @property
    def shown(self) -> tuple[tuple[float, float, str], ...]:
        """Where cloth shows, left to right: the aprons as allotted, each pleat at its widest."""
        reveal = max(level.reveal for level in self.option.levels)
        strips = sorted(
            (strip.centre - strip.face * reveal / 2, strip.centre + strip.face * reveal / 2, strip.number)
            for strip in self.option.strips
        )
        left, right = self.aprons
        return (
            (left.left, left.right, f"the {left.name}"),
            *((start, end, f"pleat {number}") for start, end, number in strips),
            (right.left, right.right, f"the {right.name}"),
        )

    @property
    def needed(self) -> float:
        """Inches along the piece, as it lies, that the plan takes; of two strips the longer one's."""
        end, join = self.aprons[1].right + self.option.facing, self.join
        if join is None:
            return end
        seam = float(self.request.settings.cloth.seam_allowance)
        return max(join.first_cut + seam, join.second_at + end - join.tape)

    @property
    def pleats_before_seam(self) -> int:
        """Pleats to the left of the seam; 0 without one."""
        return 0 if self.join is None else sum(s.centre < self.join.tape for s in self.option.strips)

    @property
    def seam_clear(self) -> float:
        """Inches from the seam to the nearest place that shows; 0 without a seam, or where it shows."""
        if self.join is None:
            return 0.0
        at = self.join.tape
        return max(0.0, min(max(start - at, at - end) for start, end, _ in self.shown))

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


def expected_of(request: Request, option: Option) -> Expected:
    """What to expect of an option; raises ValueError while there is no piece of cloth."""
    piece, cloth, tartan = request.piece, option.cloth, request.tartan
    if piece is None or cloth is None:
        raise ValueError("a check needs the piece of cloth")
    join = cloth.join
    strips, hems = (1, 0.0) if join is None else (2, join.hem)
    left = float(piece.width - strips * request.sizes.total) - hems
    height = float(request.sizes.total) + (join.hem_first if join else 0.0)
    across = ruler_across(request)
    under_rip = None
    if across is not None and not across.run.sett.plain:
        under_rip = follow(across.run, across.run.thread_at(height), UNDER_RIP)
    return Expected(
        request=request,
        option=option,
        run=cloth.run(tartan.weft),
        height=height,
        under_rip=under_rip,
        strips=strips,
        band=left if left >= request.settings.cloth.band_height else None,
        across_measured=bool(piece.readings_across)
        or request.sett_across * tartan.weft.n != request.sett_along * tartan.warp.n,
    )
