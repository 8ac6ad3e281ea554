"""The top band: the narrow binding of the top edge, cut from the strip the rip leaves."""

from __future__ import annotations

from pleatwright.bench.closing.values import Band
from pleatwright.bench.marks import marks
from pleatwright.layout import Option, Request
from pleatwright.order.levels import band_length

ELSEWHERE = "from the end of the piece or other cloth: lay it to the over-apron's centre stripe"
ABOVE = "from the strip above the rip, its mark exactly at the over-apron's centre"
TO_COME = "from the strip that the rip will leave, its mark exactly at the over-apron's centre"


def band(option: Option, request: Request) -> Band:
    """The band's piece: (1 + share)·W + lap + opening above the strap line, and to spare; inches.

    Where it is cut is what the mark list says of it.
    """
    settings = request.settings
    length = band_length(request.sizes, settings)
    spare = settings.cloth.band_spare
    tape = [mark.tape for mark in marks(option, request) if mark.group == "top band"]
    source = ABOVE if tape else TO_COME if request.piece is None else ELSEWHERE
    start, mark, end = tape if tape else (None, None, None)
    return Band(
        length=length,
        height=settings.cloth.band_height,
        binds=length - spare,
        spare=spare,
        showing=settings.closing.band_showing,
        tape_from=start,
        tape_mark=mark,
        tape_to=end,
        source=source,
    )
