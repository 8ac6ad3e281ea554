"""A piece of cloth as bought, with one known stripe at its left end and one at its selvedge."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.cloth.run import Run
from pleatwright.sett import Sett, Tartan


@dataclass(frozen=True)
class Anchor:
    """A named stripe near an edge of the cloth: its centre's phase (threads), its distance (inches)."""

    phase: float
    distance: Fraction
    stripe: str


def phase_of(sett: Sett, sett_size: float, anchor: Anchor) -> float:
    """Phase (threads) of the very edge the anchor was measured from; trade.md's φ, [derived]."""
    return float(anchor.phase - sett.n * float(anchor.distance) / sett_size) % sett.n


@dataclass(frozen=True)
class Piece:
    """The cloth on the table; sizes in inches, sett sizes for one true period of the count."""

    width: Fraction
    length: Fraction
    sett_along: Fraction
    sett_across: Fraction
    left_end: Anchor
    selvedge: Anchor | None

    def run(self, tartan: Tartan) -> Run:
        """The strip along the bottom selvedge, as long as the piece."""
        along = float(self.sett_along)
        phase = phase_of(tartan.weft, along, self.left_end)
        return Run.uniform(tartan.weft, along, phase, float(self.length))

    def selvedge_phase(self, tartan: Tartan) -> float:
        """Phase across (threads of the warp count) at the bottom selvedge; 0 when it was not measured."""
        if self.selvedge is None:
            return 0.0
        return phase_of(tartan.warp, float(self.sett_across), self.selvedge)
