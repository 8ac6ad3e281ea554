"""A piece of cloth as bought, with one known stripe at its left end and one at its selvedge."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from pleatwright.cloth.readings import Reading, run_of_readings
from pleatwright.cloth.run import Run
from pleatwright.sett import Sett, Tartan


@dataclass(frozen=True)
class Anchor:
    """A named stripe near an edge of the cloth: its centre's phase (threads), its distance (inches)."""

    phase: float
    distance: Fraction
    stripe: str


def phase_of(sett: Sett, sett_size: float, anchor: Anchor) -> float:
    """Phase (threads) of the very edge the anchor was measured from; φ, [derived]."""
    return float(anchor.phase - sett.n * float(anchor.distance) / sett_size) % sett.n


class Edge(StrEnum):
    """How the cut end of the cloth is made."""

    TRUE = "true"
    TUCKED = "tucked"
    FRINGE = "open fringe"


@dataclass(frozen=True)
class Fault:
    """A place that must not show: tape positions along its strip, heights above its selvedge (inches).

    `strip`: 1 along the bottom selvedge, 2 along the other one, as it lies before it is turned.  `low` and
    `high` None: over the whole height.
    """

    kind: str
    start: Fraction
    end: Fraction
    low: Fraction | None = None
    high: Fraction | None = None
    strip: int = 1
    note: str = ""


@dataclass(frozen=True)
class Arrival:
    """What was found when the piece came, before anything was cut; inches, None where it was not looked at.

    `invoiced`: the length on the invoice.  `end_out`: how far an end runs out of square over the width.
    `skew`: how far a weft stripe leans over the width.  `edge`: the left end.  `sound_from`: where the first
    sound thread lies, from the very end.  `shade`: a note on a shade that is off, "" where it is right.
    """

    invoiced: Fraction | None = None
    end_out: Fraction | None = None
    skew: Fraction | None = None
    edge: Edge | None = None
    sound_from: Fraction | None = None
    shade: str = ""
    relaxed: bool | None = None


@dataclass(frozen=True)
class Piece:
    """The cloth on the table; sizes in inches, sett sizes for one true period of the count.

    `readings`, `second_readings`: tape readings along the strip at the bottom selvedge and along the other
    one (as it lies, from the same left end), already freed of doubtful ones.  `readings_across`: heights of
    named warp stripes above the bottom selvedge.
    """

    width: Fraction
    length: Fraction
    sett_along: Fraction
    sett_across: Fraction
    left_end: Anchor
    selvedge: Anchor | None
    readings: tuple[Reading, ...] = ()
    second_readings: tuple[Reading, ...] = ()
    readings_across: tuple[Reading, ...] = ()
    faults: tuple[Fault, ...] = ()
    arrival: Arrival | None = None

    def run(self, tartan: Tartan) -> Run:
        """The strip along the bottom selvedge, as long as the piece: as read, else of one size throughout."""
        return self._strip(tartan, self.readings)

    def second_run(self, tartan: Tartan) -> Run:
        """The strip along the other selvedge of a double width, as it lies before it is turned."""
        return self._strip(tartan, self.second_readings or self.readings)

    def _strip(self, tartan: Tartan, readings: tuple[Reading, ...]) -> Run:
        along, length = float(self.sett_along), float(self.length)
        if readings:
            return run_of_readings(tartan.weft, length, readings, along)
        return Run.uniform(tartan.weft, along, phase_of(tartan.weft, along, self.left_end), length)

    def selvedge_phase(self, tartan: Tartan) -> float:
        """Phase across (threads of the warp count) at the bottom selvedge; 0 when it was not measured."""
        if self.selvedge is None:
            return 0.0
        return phase_of(tartan.warp, float(self.sett_across), self.selvedge)
