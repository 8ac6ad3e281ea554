"""One possible kilt, fully worked out: the value every mark, page and picture is made from.

Lengths are inches (floats); tape positions run from the left cut end of the cloth; thread positions count on
from repeat to repeat, phases start again.  Strips are numbered from the over-apron.
"""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.cloth import Run
from pleatwright.layout.scoring import Points
from pleatwright.pleats import Form, LineAtRisk, Shows
from pleatwright.sett import Sett
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class Strip:
    """One pleat's shown strip: its number (from 1), its centre, its width in reveals."""

    number: int
    thread: float
    phase: float
    centre: float
    face: float


@dataclass(frozen=True)
class PleatLevel:
    """The pleats at one level; `match` is None where it is not judged.

    `reach`: the deepest fold in reveals, that is under how many neighbours it goes.
    """

    level: LevelName
    reveal: float
    depth_least: float
    depth_greatest: float
    reach: float
    match: float | None


@dataclass(frozen=True)
class ApronEdge:
    """Both edges of an apron at one level, as tape positions."""

    level: LevelName
    left: float
    right: float


@dataclass(frozen=True)
class Apron:
    """One apron: the stripe at its centre, its edges level by level; `allotted`: its greatest width."""

    name: str
    stripe: str
    phase: float
    thread: float
    centre: float
    left: float
    right: float
    allotted: float
    edges: tuple[ApronEdge, ...]


@dataclass(frozen=True)
class Join:
    """Where two strips are sewn together: the seam line's thread, and its tape position three ways.

    `tape`: on the sewn strip.  `first_cut`: on the first strip; the seam allowance lies beyond it.
    `second_at`: on the second strip, from its own new left end once it is turned by 180°.  `loss`: inches of
    cloth it takes.  `horizontals_off`: inches by which the second strip's horizontals lie higher.
    `hem_first`, `hem_second`: inches by which a strip is ripped higher and hemmed, so that they meet.
    """

    thread: float
    tape: float
    first_cut: float
    second_at: float
    loss: float
    horizontals_off: float
    hem_first: float = 0.0
    hem_second: float = 0.0

    @property
    def hem(self) -> float:
        """Inches of hem on the one strip that has one; 0 where none has."""
        return max(self.hem_first, self.hem_second)

    @property
    def hemmed(self) -> str:
        """Which strip has the hem."""
        return "first" if self.hem_first else "second" if self.hem_second else ""

    @property
    def missed(self) -> float:
        """Inches by which the horizontals miss each other once all is sewn."""
        return abs(self.horizontals_off) - self.hem


@dataclass(frozen=True)
class ClothMap:
    """The strip the kilt lies on: knots of its thread-to-tape map, as the cloth lies, left to right.

    `turned_end_for_end`: the whole piece is turned by 180° first.  `blocked`: what must not show.
    """

    length: float
    tape: tuple[float, ...]
    threads: tuple[float, ...]
    blocked: tuple[tuple[float, float], ...]
    join: Join | None
    turned_end_for_end: bool

    def run(self, sett: Sett) -> Run:
        """The map of this strip."""
        return Run(sett, self.length, self.tape, self.threads, self.blocked)


@dataclass(frozen=True)
class Option:
    """One kilt that can be made; `score` holds within its kind, `standing` across kinds.

    `division`: parts a sett is cut into (even and uneven division).  `setts`: whole setts in each fold (0:
    less than one).  `step`: inches of flat tartan that one reveal stands for (to the sett); `steps`: the same
    pleat by pleat, where that differs (uneven division).  `deep_pleat` and `reverse_pleat`: cloth hidden
    beside the over- and the under-apron.  `opens_on`: "right" or "left".
    `cloth`: the strip it lies on, None while no cloth has been bought.
    """

    number: int
    form: Form
    shows: Shows
    title: str
    opens_on: str
    pleats: int
    division: int | None
    setts: int
    step: float | None
    stripes: tuple[str, ...]
    takes: str
    centre_face: float
    middle: str
    middle_phase: float
    same_middle: bool
    mirrors: bool
    levels: tuple[PleatLevel, ...]
    strips: tuple[Strip, ...]
    over_apron: Apron
    under_apron: Apron
    facing: float
    deep_pleat: float
    reverse_pleat: float
    cloth_used: float
    cloth_left: float | None
    cloth: ClothMap | None
    lines_at_risk: tuple[LineAtRisk, ...]
    score: float
    standing: float
    points: Points
    steps: tuple[float, ...] = ()
    reasons: tuple[str, ...] = ()

    @property
    def join(self) -> Join | None:
        """Where it is sewn from two strips."""
        return None if self.cloth is None else self.cloth.join

    def level(self, name: LevelName) -> PleatLevel:
        """The pleats at that level."""
        return next(level for level in self.levels if level.level is name)

    @property
    def narrowing(self) -> float:
        """How much narrower one reveal is at the strap line than at the hip line; negative for a belly."""
        return self.level(LevelName.HIP).reveal - self.level(LevelName.STRAP).reveal
