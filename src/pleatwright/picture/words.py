"""What a picture shows, in a sentence, for those who cannot see it."""

from __future__ import annotations

from typing import Literal

from pleatwright.layout import Option, Request
from pleatwright.lengths import write_length
from pleatwright.wearer import LevelName

Side = Literal["back", "front"]


def alt_text(option: Option, request: Request, side: Side) -> str:
    """The picture of that side in words, lengths in the request's units."""
    sizes, units = request.sizes, request.units
    long = write_length(sizes.drop + sizes.rise, units)
    kilt = f"The kilt in {request.tartan.name}," if request.tartan.name else "The kilt"
    if side == "back":
        hip, strap = (
            write_length(option.level(name).reveal, units) for name in (LevelName.HIP, LevelName.STRAP)
        )
        wide = write_length(sizes.level(LevelName.HIP).pleated, units)
        return _sentence(
            f"{kilt} from behind: {option.title}",
            f"{wide} of pleats at the hip line and {long} long",
            f"each reveal {hip} at the hip line and {strap} at the strap line",
        )
    wide = write_length(sizes.level(LevelName.HIP).over_apron, units)
    apron = "the over-apron"
    if not request.tartan.weft.plain:
        apron += f", its centre the stripe {option.over_apron.stripe}"
    return _sentence(
        f"{kilt} from the front: {apron}",
        f"{wide} wide at the hip line and {long} long",
        f"its fringed edge at the {_seen(option.opens_on)} of the picture, the wearer's {option.opens_on}",
    )


def _seen(opens_on: str) -> str:
    """The wearer's right is at the left of one who stands before them."""
    return "left" if opens_on == "right" else "right"


def _sentence(*parts: str) -> str:
    return "; ".join(parts) + "."
