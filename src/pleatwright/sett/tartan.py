"""A tartan: two setts, a palette and a name."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from pleatwright.sett.colours import default_palette
from pleatwright.sett.stripes import Sett


@dataclass(frozen=True)
class Tartan:
    """The pattern of a cloth: warp and weft sett, colours, and the count as it was written.

    `palette` holds (code, #RRGGBB) pairs; a code that is not in it has its modern shade.
    `pivots` is the convention `written` was read with: "whole" or "half".
    """

    name: str
    warp: Sett
    weft: Sett
    palette: tuple[tuple[str, str], ...]
    written: str
    pivots: str

    def hex_of(self, code: str) -> str:
        """The colour of a code as #RRGGBB. Raises KeyError for a code without a colour."""
        return self._hexes[code]

    def rgb(self, code: str) -> tuple[int, int, int]:
        """The colour of a code as red, green, blue from 0 to 255. Raises KeyError as `hex_of`."""
        red, green, blue = bytes.fromhex(self.hex_of(code).removeprefix("#"))
        return red, green, blue

    @cached_property
    def _hexes(self) -> dict[str, str]:
        return {**default_palette("modern"), **dict(self.palette)}
