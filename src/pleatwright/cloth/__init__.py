"""The piece of cloth on the table: its width and length, its sett as woven, where its stripes lie."""

from pleatwright.cloth.piece import Anchor, Piece, phase_of
from pleatwright.cloth.run import Numbers, Run

__all__ = ["Anchor", "Numbers", "Piece", "Run", "phase_of"]
