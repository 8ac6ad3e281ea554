"""A job: one order, read and checked, in the values of the other rooms."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from pleatwright.cloth import Taped
from pleatwright.findings import Finding
from pleatwright.layout import Request
from pleatwright.lengths import Grid, Units
from pleatwright.wearer import Body, Sizes

Paper = Literal["A4", "Letter"]
Hand = Literal["right", "left"]
FirstSewn = Literal["over-apron", "pleats"]


@dataclass(frozen=True)
class OwnedGauge:
    """A gauge in the shop's drawer: the width marked on it and its true width, in inches."""

    marked: Fraction
    width: Fraction


@dataclass(frozen=True)
class Job:
    """One order ready to be planned; lengths inside are exact inches.

    `version`: eight hex digits that change whenever the order, the shop's settings or the program change.
    `measured_on` and `promised`: ISO dates or the order's own words, "" when not given.  `questions`: what to
    ask again about the body.  `cloth_findings`: what the cloth has to say.  `taped`: every tape reading, held
    against the others.  `notes`: what the client said and how the order was read.  `end_points`: for
    each measurement that was taken, where the tape lay.  `hand`: the one the maker sews with; `sewn_first`:
    whether the over-apron is sewn to the first pleat before the others; `drawer`: the gauges the shop owns.
    """

    version: str
    shop: str
    client: str
    reference: str
    measured_on: str
    promised: str
    body: Body
    sizes: Sizes
    request: Request
    questions: tuple[Finding, ...]
    cloth_findings: tuple[Finding, ...]
    taped: tuple[Taped, ...]
    notes: tuple[str, ...]
    end_points: tuple[tuple[str, str], ...]
    paper: Paper
    hand: Hand
    sewn_first: FirstSewn
    drawer: tuple[OwnedGauge, ...]

    @property
    def units(self) -> Units:
        """Units on paper and screen."""
        return self.request.units

    @property
    def grid(self) -> Grid:
        """What the maker's tape shows: whole millimetres, or the inch grid of the settings."""
        if self.units == "metric":
            return Grid.MILLIMETRE
        chosen = Grid(self.request.settings.bench.grid)
        return Grid.SIXTEENTH if chosen is Grid.MILLIMETRE else chosen
