"""What closing a kilt takes, as values: band, straps, inside, work, weight, last measures.

Lengths are exact inches.  `below_top` is measured down from the top edge.  Left and right are the wearer's.
Pleats are numbered from the over-apron.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class ApronName(StrEnum):
    """The two flat panels."""

    OVER = "over-apron"
    UNDER = "under-apron"


@dataclass(frozen=True)
class Band:
    """The top band's piece: `binds` is what it has to reach round, `spare` what it is longer.

    `tape_from`, `tape_mark`, `tape_to`: where it is cut above the rip, its mark exactly at the over-apron's
    centre; None where it has to come from other cloth.
    """

    length: Fraction
    height: Fraction
    binds: Fraction
    spare: Fraction
    showing: Fraction
    tape_from: float | None
    tape_mark: float | None
    tape_to: float | None
    source: str


@dataclass(frozen=True)
class Hole:
    """One hole of a strap, numbered from the apron's edge; `waist`: the waist the kilt then fits.

    `from_edge`: from the apron's edge; `from_end`: from the strap's sewn end.
    """

    number: int
    from_edge: Fraction
    from_end: Fraction
    waist: Fraction
    chosen: bool


@dataclass(frozen=True)
class Buckle:
    """Where a buckle's bar is sewn: `from_seam` from the nearer apron's pleat-side edge, at its own level.

    `pleat`: the pleat it lies on; `from_pleat`: from that pleat's edge on the side of `from_seam`.
    """

    from_seam: Fraction
    pleat: int
    from_pleat: Fraction
    words: str


@dataclass(frozen=True)
class Strap:
    """One strap and its buckle; `hip`: "left" or "right".

    `reach`: from the apron's edge to the chosen hole.  `length`: the whole strap, `sewn` of it behind the
    apron's edge.  `through_hole`: it comes out between first and second pleat.
    """

    name: str
    apron: ApronName
    hip: str
    below_top: Fraction
    width: Fraction
    length: Fraction
    sewn: Fraction
    reach: Fraction
    through_hole: bool
    inside: bool
    hole_across: Fraction
    holes: tuple[Hole, ...]
    buckle: Buckle
    words: str

    @property
    def chosen(self) -> Hole:
        """The hole the kilt is fitted to."""
        return next(hole for hole in self.holes if hole.chosen)


@dataclass(frozen=True)
class StrapHole:
    """The place between first and second pleat that stays open, centred on the strap line."""

    from_seam: Fraction
    top_below: Fraction
    bottom_below: Fraction

    @property
    def length(self) -> Fraction:
        """Its height."""
        return self.bottom_below - self.top_below


@dataclass(frozen=True)
class FoldCut:
    """One fold, after pleat `after`: its depth and the cloth cut out of it, flat, at strap and hip line.

    `kept`: why nothing is cut out of it, "" where it is cut.
    """

    after: int
    depth_strap: float
    depth_hip: float
    out_top: float
    out_bottom: float
    kept: str


@dataclass(frozen=True)
class Folds:
    """Cloth cut out of the folds, from the top edge down to `cut_below_top` and never lower.

    `left`: cloth left inside each seam.  `area`: square inches cut out in all.  `kept`: why nothing is cut
    at all, "" where it is.
    """

    cut_below_top: Fraction
    hip_below_top: Fraction
    left: Fraction
    folds: tuple[FoldCut, ...]
    area: float
    kept: str


@dataclass(frozen=True)
class Panel:
    """A piece of interfacing, lining or stabiliser, with its turnings; widths at its top and bottom edge.

    `top_below`: where its finished upper edge lies.
    """

    name: str
    width_top: Fraction
    width_bottom: Fraction
    height: Fraction
    top_below: Fraction
    turning: Fraction
    words: str


@dataclass(frozen=True)
class Loop:
    """A loop for the sporran belt: its middle is sewn on a pleat, `from_seam` from the over-apron's edge."""

    pleat: int
    from_seam: Fraction
    below_top: Fraction
    width: Fraction
    height: Fraction


@dataclass(frozen=True)
class Inside:
    """Everything inside, and the loops on the back; `fringe` stands beyond the over-apron's edge."""

    folds: Folds
    stabiliser: Panel
    interfacing: tuple[Panel, ...]
    lining: tuple[Panel, ...]
    loops: tuple[Loop, ...]
    fringe: Fraction
    under_lift: Fraction


@dataclass(frozen=True)
class Seam:
    """A length that is sewn by hand."""

    name: str
    length: Fraction
    stitches: int
    thread: Fraction


@dataclass(frozen=True)
class Stage:
    """One stage of the work and its hours at the shop's pace."""

    name: str
    hours: float


@dataclass(frozen=True)
class Work:
    """Stitches, thread (inches) and hours."""

    stitches_an_inch: float
    fell_stitches: int
    seams: tuple[Seam, ...]
    thread: Fraction
    pleats_an_hour: float
    stages: tuple[Stage, ...]
    hours: float


@dataclass(frozen=True)
class Weight:
    """Ounces: the cloth as ripped, what is cut out of the folds, straps and inner parts, the kilt."""

    cloth_yards: float
    cloth: float
    cut_out: float
    inner: float
    kilt: float
    kind: str


@dataclass(frozen=True)
class Measure:
    """One of the last measures: what it should be, good within `good`, never outside `least`..`most`."""

    group: str
    what: str
    where: str
    wanted: Fraction
    good_least: Fraction
    good_most: Fraction
    least: Fraction
    most: Fraction


@dataclass(frozen=True)
class Way:
    """One way to let the kilt out or take it in later: the most it gives, and its hours."""

    name: str
    waist_out: Fraction
    waist_in: Fraction
    hips_out: Fraction
    hips_in: Fraction
    hours: float
    words: str


@dataclass(frozen=True)
class Closing:
    """How one kilt is closed and finished."""

    opens_on: str
    band: Band
    straps: tuple[Strap, ...]
    strap_hole: StrapHole | None
    inside: Inside
    work: Work
    weight: Weight
    measures: tuple[Measure, ...]
    later: tuple[Way, ...]

    @property
    def fits(self) -> tuple[Hole, ...]:
        """The holes with the waists they fit, the smallest first."""
        return self.straps[0].holes
