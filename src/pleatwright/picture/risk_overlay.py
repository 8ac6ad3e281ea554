"""The lines at risk pointed at on the back: ringed on their pleats, numbered, and told in words beside it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING

import numpy as np

from pleatwright.layout import Option, Request
from pleatwright.picture.back import back_picture, back_view
from pleatwright.picture.captions import GREY, LEADING, WHITE, Colour, badge, ring, wrapped, write
from pleatwright.picture.compare import letters
from pleatwright.picture.faces import Cloth, left_to_right, pleat_faces
from pleatwright.picture.view import PAPER, View
from pleatwright.picture.words import risk_words
from pleatwright.pleats import LineAtRisk
from pleatwright.pleats.lines import APPEARS, LOST
from pleatwright.sett import Sett, stripe_name
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from PIL.Image import Image

MARKS: tuple[Colour, ...] = (
    (0xD7, 0x3A, 0x2C),
    (0xE0, 0x8A, 0x00),
    (0x8A, 0x3F, 0xB0),
    (0x00, 0x7F, 0x8C),
    (0xC2, 0x2E, 0x7C),
    (0x5B, 0x7A, 0x14),
)
"""Colours of the rings, in turn; every ring has a white line round it, so that it is seen on any cloth."""
SHARE = 0.62
"""Of the picture's width is the kilt, the rest what is said about it."""
RING = 0.42
"""Radius of a ring in sizes of the letters."""


@dataclass(frozen=True)
class RiskPlace:
    """Where a line at risk is seen: the pleat's number, inches from the middle of the back, below the top."""

    pleat: int
    x: float
    depth: float


def risk_places(line: LineAtRisk, option: Option, request: Request) -> tuple[RiskPlace, ...]:
    """Where the line lies on each of its pleats, left to right.

    At the strap line where the taper takes it away or brings it out, else at the hip line, on whose fold it
    lies.  A line that is gone there is placed at the fold that took it.
    """
    sett, along = request.tartan.weft, Cloth.of(option, request).along
    level = LevelName.STRAP if {LOST, APPEARS} & set(line.why) else LevelName.HIP
    depth = float(request.sizes.level(level).below_top)
    faces = pleat_faces(option, request, np.array([depth]))
    hip = option.level(LevelName.HIP).reveal
    centres = [sett.centre_of(stripe) for stripe in sett.stripes if stripe_name(sett, stripe) == line.name]
    found = []
    for place, strip in enumerate(left_to_right(option)):
        if strip.number not in line.pleats:
            continue
        left, right = float(faces.edges[0, place]), float(faces.edges[0, place + 1])
        reach = strip.face * max(hip, right - left) / 2
        for thread in _occurrences(sett, centres, strip.thread):
            tape = along.tape_at(thread)
            if abs(tape - strip.centre) <= reach + NEAR:
                x = (left + right) / 2 + tape - strip.centre
                found.append(RiskPlace(strip.number, min(max(x, left), right), depth))
    return tuple(found)


NEAR = 1 / 4
"""Inches beyond a pleat's fold at which the centre of a line on that fold may lie."""


def _occurrences(sett: Sett, centres: list[float], near: float) -> list[float]:
    """The thread nearest to `near` of each of these phases."""
    return [phase + sett.n * floor((near - phase) / sett.n + 0.5) for phase in centres]


def risk_picture(option: Option, request: Request, *, width_px: int = 1600) -> Image:
    """The back with a ring round every line at risk, a number for each line, and its words at the right."""
    from PIL import Image, ImageDraw

    size, wide = letters(width_px), round(width_px * SHARE)
    back, view = back_picture(option, request, width_px=wide, straps=False), back_view(option, request, wide)
    room = width_px - wide - size * 4
    said = [wrapped(risk_words(line, request), room, size) for line in option.lines_at_risk] or [
        wrapped("No narrow line is at risk.", room, size)
    ]
    told = sum(len(lines) * size * LEADING + size for lines in said) + size * 4
    picture = Image.new("RGB", (width_px, max(back.height, ceil(told))), PAPER)
    picture.paste(back, (0, 0))
    on = ImageDraw.Draw(picture)
    y = size * 2.0
    for number, (line, words) in enumerate(zip(option.lines_at_risk, said, strict=False), 1):
        colour = MARKS[(number - 1) % len(MARKS)]
        places = [_pixel(view, place) for place in risk_places(line, option, request)]
        if places:
            last, end = max(places), (wide + size, y + size * 0.6)
            for fill, thick in ((WHITE, 5), (colour, 2)):
                on.line((*last, *end), fill=fill, width=thick * max(1, size // 22))
        for x, at in places:
            ring(picture, x, at, size * RING, WHITE, line=size * 0.32)
            ring(picture, x, at, size * RING, colour, line=size * 0.16)
        badge(picture, wide + size, y + size * 0.6, number, size, colour)
        y = write(on, wide + size * 2.4, y, words, size) + size
    if not option.lines_at_risk:
        write(on, wide + size * 2.4, y, said[0], size, fill=GREY)
    return picture


def _pixel(view: View, place: RiskPlace) -> tuple[float, float]:
    return view.middle + view.scale * place.x, view.top + view.scale * place.depth
