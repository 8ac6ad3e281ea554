"""What the steps are written from: one option with its gauges, marks and closing, in the maker's units."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.cautions import CAUTIONS
from pleatwright.bench.closing import Closing, closing
from pleatwright.bench.gauges import GaugeList, gauge_list
from pleatwright.bench.guide.card import Begin, CardRow, begin_of, card_rows
from pleatwright.bench.guide.step import Figure, Proof
from pleatwright.bench.marks import Mark, marks
from pleatwright.bench.regions import Part, folded_at_hip
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.pleats import Form
from pleatwright.wearer import Level, LevelName


def _caution(start: str) -> str:
    return next(caution.text for caution in CAUTIONS if caution.text.startswith(start))


def _short(what: str) -> str:
    """A mark's name without what the step says already."""
    return what.removesuffix(", as allotted").removesuffix(", with the facing")


RESTRICTED = _caution("Some tartans")
COLOURS = _caution("Check the colours")
NO_WAY_BACK = _caution("A rip cannot")
MASK = _caution("Mind the dust")
SHEARS = _caution("Shears closed")
NEEDLES = _caution("Count needles")
LIGHT = _caution("Good light")
IRON = _caution("The iron is hot")
IRON_OFF = _caution("Switch it off")
FLAMES = _caution("Keep wide cloth")
LOCAL_RULES = _caution("Follow local rules")


@dataclass(frozen=True)
class Kilt:
    """One kilt on the bench; lengths inside are inches.

    Left and right are those of the kilt laid flat, outside up, the top edge away.
    """

    job: Job
    option: Option
    gauges: GaugeList
    marks: tuple[Mark, ...]
    closing: Closing
    begin: Begin

    @classmethod
    def of(cls, job: Job, option: Option, begin: Begin | None = None) -> Kilt:
        """All that is known of one option; `begin` as the job's hand has it."""
        return cls(
            job,
            option,
            gauge_list(option, job.request),
            marks(option, job.request),
            closing(job, option),
            begin or begin_of(job),
        )

    def write(self, inches: Fraction | float) -> str:
        """A length in the maker's units, on the maker's grid."""
        return write_length(inches, self.job.units, self.job.grid)

    def figure(self, name: str, inches: Fraction | float) -> Figure:
        """A length with its name."""
        return Figure(name, self.write(inches))

    def within(self, inches: Fraction | float) -> str:
        """What is allowed, either way."""
        return f"± {self.write(inches)}"

    def proof(self, what: str, wanted: Fraction | float, allowed: Fraction | float) -> Proof:
        """A length to be found, and how far it may be off."""
        return Proof(what, self.write(wanted), self.within(allowed))

    def cloth_in(self, part: Part) -> float:
        """Inches of cloth in the deep or the reverse pleat, from apron to pleat at the hip line."""
        apron, pleat = folded_at_hip(self.option, part)
        return abs(pleat - apron)

    @property
    def opens_right(self) -> bool:
        """Whether the kilt opens on the wearer's right: the over-apron lies at the left end."""
        return self.option.opens_on == "right"

    @property
    def onward(self) -> str:
        """From the over-apron to the under-apron."""
        return "right" if self.opens_right else "left"

    @property
    def back(self) -> str:
        """From the under-apron to the over-apron."""
        return "left" if self.opens_right else "right"

    @property
    def right_handed(self) -> bool:
        """Whether the maker sews with the right hand."""
        return self.job.hand == "right"

    @property
    def ripped(self) -> float:
        """Height in inches of the strip along the selvedge towards the maker, its hems included."""
        sewn = self.option.join
        return float(self.job.sizes.total) + (0.0 if sewn is None else sewn.hem_first)

    @property
    def has_cloth(self) -> bool:
        """Whether there is a piece that the kilt lies on."""
        return self.option.cloth is not None

    @property
    def boxed(self) -> bool:
        """Whether every pleat is a box."""
        return self.option.form in (Form.BOX, Form.MILITARY_BOX)

    @property
    def pleat(self) -> str:
        """What one of them is called."""
        return "panel" if self.boxed else "pleat"

    @property
    def pleats(self) -> str:
        """What they are called."""
        return f"{self.pleat}s"

    def level(self, name: LevelName) -> Level:
        """The sizes at a level."""
        return self.job.sizes.level(name)

    def mark(self, group: str, what: str) -> Mark | None:
        """One mark of the list; None where it is not marked."""
        return next((mark for mark in self.marks if mark.group == group and mark.what == what), None)

    def mark_figures(self, group: str, *whats: str) -> tuple[Figure, ...]:
        """Marks with their numbers in the list and their tape positions; none while there is no piece."""
        found = (self.mark(group, what) for what in whats)
        return tuple(
            Figure(f"mark {mark.number}, {_short(mark.what)}", self.write(mark.tape))
            for mark in found
            if mark
        )

    @property
    def rows(self) -> tuple[CardRow, ...]:
        """Every pleat in the order of sewing."""
        return card_rows(self.gauges, self.begin, self.job.request.settings.sewing.measure_every)

    def depth(self, name: LevelName) -> str:
        """How deep the folds are at a level: one figure, or from the least to the greatest."""
        level = self.option.level(name)
        least, most = self.write(level.depth_least), self.write(level.depth_greatest)
        return least if least == most else f"{least} to {most}"
