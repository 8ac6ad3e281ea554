"""What a plan is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.cloth import Piece
from pleatwright.lengths import Units
from pleatwright.pleats import Wishes
from pleatwright.sett import Tartan
from pleatwright.trade import Settings
from pleatwright.wearer import Sizes


@dataclass(frozen=True)
class Request:
    """All that decides a kilt: sizes, tartan, cloth, wishes.

    `sett_along`, `sett_across`: inches a true period; `piece` None when no cloth has been bought yet.
    `opens_on`: "right" or "left".
    """

    sizes: Sizes
    tartan: Tartan
    sett_along: Fraction
    sett_across: Fraction
    piece: Piece | None
    wishes: Wishes
    opens_on: str
    settings: Settings
    units: Units = "in"
