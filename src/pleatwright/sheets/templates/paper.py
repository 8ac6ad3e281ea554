"""The paper that templates are printed on: sheets, or a roll."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from pleatwright.lengths import MILLIMETRE
from pleatwright.sheets.look import PAPER, Frame


class SheetName(StrEnum):
    """Paper for templates; `ROLL` is a plotter's."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"
    TABLOID = "Tabloid"
    ROLL = "roll"


SIZES = {
    **PAPER,
    "A3": (float(297 * MILLIMETRE), float(420 * MILLIMETRE)),  # ISO 216
    "Tabloid": (11.0, 17.0),  # ANSI/ASME Y14.1, size B
}

MARGIN, HEAD, FOOT = 0.4, 0.62, 0.3
LONGEST = 180.0
"""Inches of roll in one page: readers of the format stop at 200."""


@dataclass(frozen=True)
class Paper:
    """What is printed on: inches upright; a roll (`roll`) is `height` long only at most."""

    width: float
    height: float
    roll: bool = False

    @property
    def frames(self) -> tuple[Frame, ...]:
        """Upright and, except on a roll, lying."""
        upright = Frame(self.width, self.height, MARGIN, HEAD, FOOT)
        return (upright,) if self.roll else (upright, Frame(self.height, self.width, MARGIN, HEAD, FOOT))


def paper_of(name: SheetName, roll_width: float) -> Paper:
    """The paper of that name; `roll_width` in inches counts for a roll only."""
    if name is SheetName.ROLL:
        return Paper(roll_width, LONGEST, roll=True)
    return Paper(*SIZES[name.value])
