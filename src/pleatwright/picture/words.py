"""What each picture shows, in a sentence, for those who cannot see it; and a line at risk in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pleatwright.layout import Option, Request
from pleatwright.lengths import Grid, write_length, write_yards
from pleatwright.pleats import LineAtRisk
from pleatwright.sett import SHADES
from pleatwright.wearer import LevelName

OfOption = Literal["back", "front", "waist", "above", "shades", "tartan", "lines"]

"""The pictures of one option."""


def alt_text(option: Option, request: Request, what: OfOption) -> str:
    """A picture of one option in words, lengths in the request's units."""
    words = {
        "back": _back,
        "front": _front,
        "waist": _waist,
        "above": _above,
        "shades": _shades,
        "tartan": _tartan,
        "lines": _lines,
    }
    return _sentence(*words[what](option, request))


def options_alt_text(options: Sequence[Option], request: Request) -> str:
    """The contact sheet in words: each option's number and title, best first."""
    count = "The only kilt" if len(options) == 1 else f"{len(options)} kilts"
    listed = (f"{option.number}, {option.title}" for option in options)
    return _sentence(f"{count} in {_name(request)} from behind, best first, at one scale", *listed)


def _name(request: Request) -> str:
    return request.tartan.name or "the tartan"


def _kilt(request: Request) -> str:
    return f"The kilt in {request.tartan.name}," if request.tartan.name else "The kilt"


def _long(request: Request) -> str:
    return f"{write_length(request.sizes.drop + request.sizes.rise, request.units)} long"


def _reveals(option: Option, request: Request) -> str:
    hip, strap = (
        write_length(option.level(name).reveal, request.units) for name in (LevelName.HIP, LevelName.STRAP)
    )
    return f"each reveal {hip} at the hip line and {strap} at the strap line"


def _back(option: Option, request: Request) -> tuple[str, ...]:
    wide = write_length(request.sizes.level(LevelName.HIP).pleated, request.units)
    return (
        f"{_kilt(request)} from behind: {option.title}",
        f"{wide} of pleats at the hip line and {_long(request)}",
        _reveals(option, request),
    )


def _front(option: Option, request: Request) -> tuple[str, ...]:
    wide = write_length(request.sizes.level(LevelName.HIP).over_apron, request.units)
    apron = "the over-apron"
    if not request.tartan.weft.plain:
        apron += f", its centre the stripe {option.over_apron.stripe}"
    return (
        f"{_kilt(request)} from the front: {apron}",
        f"{wide} wide at the hip line and {_long(request)}",
        f"its fringed edge at the {_seen(option.opens_on)} of the picture, the wearer's {option.opens_on}",
    )


def _waist(option: Option, request: Request) -> tuple[str, ...]:
    return (
        f"The pleats at the waist enlarged, from left to right in rows: {option.title}",
        f"from the top edge to a little below the strap line, each reveal "
        f"{write_length(option.level(LevelName.STRAP).reveal, request.units)} at the strap line",
        _told(option, request),
    )


def _above(option: Option, request: Request) -> tuple[str, ...]:
    deep, reverse = (
        write_length(length, request.units) for length in (option.deep_pleat, option.reverse_pleat)
    )
    first, last = (
        ("over-apron", "under-apron") if option.opens_on == "right" else ("under-apron", "over-apron")
    )
    return (
        f"The folds seen from above, opened a little: {first} on the left, {last} on the right",
        option.title,
        f"{deep} of cloth in the deep pleat, {reverse} in the reverse pleat, "
        f"{write_yards(option.cloth_used, request.units)} in all",
    )


def _shades(option: Option, request: Request) -> tuple[str, ...]:
    shades = f"{', '.join(SHADES[:-1])} and {SHADES[-1]}"
    return f"{_kilt(request)} from behind as ordered and in other shades, {shades}", option.title


def _tartan(option: Option, request: Request) -> tuple[str, ...]:
    return (
        f"{_kilt(request)} from behind beside the flat tartan at the same scale: {option.title}",
        f"a sett of the cloth is {write_length(request.sett_along, request.units)} along",
    )


def _lines(option: Option, request: Request) -> tuple[str, ...]:
    return f"{_kilt(request)} from behind, lines at risk pointed at: {option.title}", _told(option, request)


def _told(option: Option, request: Request) -> str:
    """The lines at risk in words."""
    return (
        "; ".join(risk_words(line, request) for line in option.lines_at_risk) or "no narrow line is at risk"
    )


def risk_words(line: LineAtRisk, request: Request) -> str:
    """The line in words: its name, on how many pleats, how much of it is lost and why."""
    count = len(line.pleats)
    pleats = "1 pleat" if count == 1 else f"{count} pleats"

    def length(inches: float) -> str:
        return write_length(inches, request.units, Grid.THIRTYSECOND)

    lost = ""
    if abs(line.lost) > 1 / 64:
        hip, strap = length(line.shown_at_hip), length(line.shown_at_strap)
        lost = f"; {hip} wide at the hip line, {strap} at the strap line"
    return f"{line.name}: on {pleats}, {' and '.join(line.why)}{lost}"


def _seen(opens_on: str) -> str:
    """The wearer's right is at the left of one who stands before them."""
    return "left" if opens_on == "right" else "right"


def _sentence(*parts: str) -> str:
    return "; ".join(parts) + "."
