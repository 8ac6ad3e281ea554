"""The whole kilt opened flat, from outside or from inside, its parts to scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.bench.guide import Kilt
from pleatwright.layout import Apron
from pleatwright.sheets.drawing import Item
from pleatwright.sheets.pages.guide.pleat_rows import lowered
from pleatwright.sheets.pages.guide.tools import (
    Point,
)
from pleatwright.sheets.pages.guide.weaving import (
    SHAPED,
    Flat,
    Places,
    fold_lines,
    outline,
    woven,
)
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class Opened:
    """The whole kilt opened flat, from outside or from inside; along is measured from the pleats' middle.

    Positive is towards the over-apron.
    """

    kilt: Kilt
    scale: float
    down: float
    middle: float
    top: float
    inside: bool

    @classmethod
    def of(cls, kilt: Kilt, width: float, top: float, *, inside: bool, taller: float = 1.0) -> Opened:
        """As wide as the paper allows, its ends at the paper's ends; heights drawn `taller`."""
        flat = Flat(kilt, 1.0, 1.0)
        widths = [flat.widths(name) for name in SHAPED]
        over = max(pleats / 2 + apron for apron, pleats, _ in widths)
        under = max(pleats / 2 + apron for _, pleats, apron in widths)
        scale = width / (over + under)
        left = under if inside == kilt.opens_right else over
        return cls(kilt, scale, scale * taller, left * scale, top, inside)

    @property
    def flat(self) -> Flat:
        """Its levels."""
        return Flat(self.kilt, self.scale, self.down)

    @property
    def way(self) -> int:
        """Sign of the way on paper towards the over-apron."""
        return 1 if self.inside == self.kilt.opens_right else -1

    def x(self, along: float) -> float:
        """Paper position."""
        return self.middle + self.way * along * self.scale

    def y(self, below_top: Fraction | float) -> float:
        """Paper position."""
        return self.top + float(below_top) * self.down

    def part(self, part: str, below_top: Fraction | float) -> tuple[float, float]:
        """Both edges of a part at a height below the top, along."""
        shape = self.flat.shape
        height = Fraction(below_top)
        half = float(shape.pleated(height)) / 2
        if part == "pleats":
            return -half, half
        wide = float(shape.at(height, part.replace("-", "_")))
        return (half, half + wide) if part == "over-apron" else (-half - wide, -half)

    def apart(self, part: str, below_top: Fraction | float) -> tuple[float, float]:
        """Both edges of a part on paper, left first, where each part stands upright about its own middle."""
        bottom = self.kilt.level(LevelName.BOTTOM).below_top
        if part == "pleats":
            a, b = (self.x(edge) for edge in self.part(part, below_top))
            return min(a, b), max(a, b)
        option = self.kilt.option
        apron = option.over_apron if part == "over-apron" else option.under_apron
        middle = self.x(sum(self.part(part, bottom)) / 2)
        edges = {edge.level: edge for edge in apron.edges}
        low = edges[LevelName.BOTTOM]
        level = next(one.name for one in self.kilt.job.sizes.levels if one.below_top == below_top)
        centre = middle - (low.left + low.right) / 2 * self.scale
        return centre + edges[level].left * self.scale, centre + edges[level].right * self.scale

    def area(self, part: str, heights: Sequence[Fraction | float]) -> tuple[Point, ...]:
        """A part between two or more heights, as a closed line."""
        sides = [(self.part(part, h), self.y(h)) for h in heights]
        return (
            *((self.x(a), y) for (a, _), y in sides),
            *((self.x(b), y) for (_, b), y in reversed(sides)),
        )

    def shown(self, names: tuple[LevelName, ...], *, apart: bool = False) -> list[Item]:
        """The kilt from outside in its stripes, down to the last of the levels.

        `apart`: each part upright about its own middle, so that its stripes run straight down.
        """
        kilt, option = self.kilt, self.kilt.option
        flat = replace(self.flat, names=names)
        lowest = names[-1]
        items: list[Item] = []
        for apron, side in ((option.over_apron, 1), (option.under_apron, -1)):
            if apart:
                ends = self.part(apron.name, kilt.level(lowest).below_top)
                places = _upright(apron, self.x(sum(ends) / 2), flat)
            else:
                places = {name: self.x(side * flat.widths(name)[1] / 2) for name in names}
            rungs = lowered(flat.apron(apron, places), self.top)
            items += [*woven(kilt, apron.thread, rungs, self.scale), outline(rungs, self.scale)]
        edge: Places = {name: self.x(flat.widths(name)[1] / 2) for name in names}
        for one in option.strips:
            rungs = lowered(flat.pleat(one.number, edge), self.top)
            items += woven(kilt, one.thread, rungs, self.scale)
            items += [replace(line, weight=0.3) for line in fold_lines(rungs, self.scale)]
        return items


def _upright(apron: Apron, middle: float, flat: Flat) -> Places:
    """Places of an apron's pleat-side edge that keep its lowest level about a middle, its stripes upright."""
    on_right = (apron.name == "under-apron") == flat.kilt.opens_right
    edges = {edge.level: edge for edge in apron.edges}
    lowest = edges[flat.names[-1]]
    centre = middle + (apron.centre - (lowest.left + lowest.right) / 2) * flat.scale
    return {
        name: centre + ((edges[name].left if on_right else edges[name].right) - apron.centre) * flat.scale
        for name in flat.names
    }


PARTS = ("over-apron", "pleats", "under-apron")


def fitted(kilt: Kilt, width: float, tall: float, top: float) -> Opened:
    """The kilt opened, outside up, as large as width and height allow, in the middle."""
    view = Opened.of(kilt, width, top, inside=False)
    high = float(kilt.level(LevelName.BOTTOM).below_top) * view.down
    if high <= tall:
        return view
    room = width * tall / high
    view = Opened.of(kilt, room, top, inside=False)
    return replace(view, middle=view.middle + (width - room) / 2)
