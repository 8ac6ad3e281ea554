"""Pictures side by side at one scale: the best options, other shades, the flat tartan, the waist enlarged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request
from pleatwright.lengths import write_length, write_yards
from pleatwright.picture.back import back_picture, back_view
from pleatwright.picture.captions import ACCENT, GREY, Captioned, column_width, font, sheet_of, write
from pleatwright.picture.cloth_raster import woven
from pleatwright.picture.faces import left_to_right, pleat_faces
from pleatwright.picture.view import PAPER
from pleatwright.pleats import Form
from pleatwright.sett import SHADES, default_palette
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from PIL.Image import Image

LETTERS = 1 / 72
"""Size of the letters on a sheet, in widths of the sheet; never so small that they cannot be read."""
LEAST_LETTERS = 12
ROWS = 3
"""The enlarged waist is cut into so many rows: it comes out about three times as large as a back as wide."""
BESIDE_PLEATS = 1.0
"""Inches that the enlarged waist shows beyond the first and the last pleat."""
BELOW_STRAP = Fraction(7, 4)
"""Inches below the strap line that the enlarged waist reaches."""


def letters(width_px: int) -> int:
    """Size of the letters on a sheet so wide, in pixels."""
    return max(LEAST_LETTERS, round(width_px * LETTERS))


def in_shade(request: Request, shade: str) -> Request:
    """The same order with every known colour code in one of `SHADES`; raises KeyError for another shade."""
    shades, tartan = default_palette(shade), request.tartan
    palette = tuple((code, shades.get(code, own)) for code, own in tartan.palette)
    return replace(request, tartan=replace(tartan, palette=palette))


def shade_of(request: Request) -> str:
    """Which of `SHADES` the order's colours are; "" where they are its own."""
    return next((shade for shade in SHADES if _same_colours(request, in_shade(request, shade))), "")


def _same_colours(one: Request, other: Request) -> bool:
    return all(one.tartan.hex_of(code) == other.tartan.hex_of(code) for code, _ in one.tartan.palette)


def options_picture(options: Sequence[Option], request: Request, *, width_px: int = 1600) -> Image:
    """The options from behind, best first, at one scale: number, title, reveal, cloth and points of each."""
    size, columns = letters(width_px), _columns(len(options))
    wide = column_width(columns, width_px, size)
    cells = [
        Captioned(
            back_picture(option, request, width_px=wide),
            option.title,
            _figures(option, request),
            option.number,
        )
        for option in options
    ]
    return sheet_of(cells, columns, width_px, size)


def _columns(count: int) -> int:
    """Columns that leave no row nearly empty: up to four of them."""
    if count <= 4:
        return max(1, count if count != 4 else 2)
    return 3 if count in (5, 6, 9) else 4


def _figures(option: Option, request: Request) -> tuple[str, ...]:
    hip = write_length(option.level(LevelName.HIP).reveal, request.units)
    name = "panel" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveal"
    cloth = write_yards(option.cloth_used, request.units)
    return f"{name} {hip}, {cloth}", f"{option.standing:.1f} points"


def shades_picture(option: Option, request: Request, *, width_px: int = 1600) -> Image:
    """One option from behind as ordered and in every other shade of dye."""
    size, ordered = letters(width_px), shade_of(request)
    cases = [(f"as ordered, {ordered}" if ordered else "as ordered", request)]
    cases += [(shade, in_shade(request, shade)) for shade in SHADES if shade != ordered]
    columns = 2 if len(cases) == 4 else 3
    wide = column_width(columns, width_px, size)
    cells = [Captioned(back_picture(option, asked, width_px=wide), said) for said, asked in cases]
    return sheet_of(cells, columns, width_px, size)


def beside_tartan(option: Option, request: Request, *, width_px: int = 1600) -> Image:
    """One option from behind and the flat tartan, at one scale, so that what pleating does to it is seen."""
    from PIL import Image

    size = letters(width_px)
    wide = column_width(2, width_px, size)
    back, view = back_picture(option, request, width_px=wide), back_view(option, request, wide)
    tartan, piece = request.tartan, request.piece
    along, across = request.sett_along, request.sett_across if piece is None else piece.sett_across
    paces = tuple(
        sett.n / float(sett_size) / view.scale
        for sett, sett_size in ((tartan.weft, along), (tartan.warp, across))
    )
    high = round(view.long * view.scale)
    selvedge = 0.0 if piece is None else piece.selvedge_phase(tartan)
    hem = float(request.sizes.hem) * view.scale * paces[1]
    phases = option.middle_phase - wide / 2 * paces[0], selvedge + hem
    cloth = woven(tartan, wide, high, threads_per_px=(paces[0], paces[1]), phases=phases)
    flat = Image.new("RGB", back.size, PAPER)
    flat.paste(Image.fromarray(cloth), (0, round(view.top)))
    sett = write_length(along, request.units)
    cells = [
        Captioned(back, option.title, _figures(option, request)[:1]),
        Captioned(flat, tartan.name or "the tartan", (f"the flat cloth, a sett of {sett} along",)),
    ]
    return sheet_of(cells, 2, width_px, size)


def waist_picture(
    option: Option,
    request: Request,
    *,
    width_px: int = 1600,
    cut: int = ROWS,
    only_middle: bool = False,
    letters_px: int | None = None,
) -> Image:
    """The back from the top edge to a little below the strap line, enlarged, in rows from left to right.

    Here the reveals are narrowest (a belly: widest), and here patterns fail first.  `cut`: in so many rows.
    `only_middle`: one row of that length, from the middle of the back.
    """
    from PIL import Image, ImageDraw

    size = letters_px or letters(width_px)
    margin = round(font(size).getlength("strap line ") + size)
    wide, upper = width_px - margin, _upper_part(request)
    level = np.array([float(request.sizes.rise)])
    inches = pleat_faces(option, upper, level).edges[0]
    span = float(inches[-1] - inches[0]) + 2 * BESIDE_PLEATS
    small = back_view(option, upper, width_px)
    across = round(cut * wide / span * small.width / small.scale)
    whole, view = back_picture(option, upper, width_px=across, straps=False), back_view(option, upper, across)
    edges, left = view.x(inches), round(float(view.x(inches[0] - BESIDE_PLEATS)))
    strap, top = float(level[0]) * view.scale, round(view.top - size)
    head, high = round(size * 2.2), round(strap + float(BELOW_STRAP) * view.scale)
    begins = [left + (cut - 1) * wide // 2] if only_middle else [left + row * wide for row in range(cut)]
    sheet = Image.new("RGB", (width_px, (head + size + high) * len(begins) + size), PAPER)
    on = ImageDraw.Draw(sheet)
    for row, begin in enumerate(begins):
        y = row * (head + size + high) + head
        sheet.paste(whole.crop((begin, top, begin + wide, top + size + high)), (margin, y))
        seen = _pleats_seen(option, edges, begin, begin + wide)
        write(on, margin, y - size * 1.5, [seen], size, bold=True)
        for name, below in (("top edge", 0.0), ("strap line", strap)):
            at = y + size + below
            on.text((size * 0.5, at), name, fill=GREY, font=font(size), anchor="lm")
            on.line((margin - size * 0.7, at, margin + size * 0.7, at), fill=ACCENT, width=max(2, size // 8))
    return sheet


def _upper_part(request: Request) -> Request:
    """The same kilt as if it ended below the strap line: what is left off counts as hem, so stripes stay."""
    sizes = request.sizes
    long = sizes.rise + BELOW_STRAP + 1
    cut = max(sizes.drop + sizes.rise - long, Fraction(0))
    return replace(request, sizes=replace(sizes, drop=sizes.drop - cut, hem=sizes.hem + cut))


def _pleats_seen(option: Option, edges: Numbers, left: float, right: float) -> str:
    """Which pleats lie between two pixels, by their numbers."""
    ends = zip(left_to_right(option), pairwise(edges), strict=True)
    seen = [strip.number for strip, (start, end) in ends if start < right and end > left]
    return f"pleats {seen[0]} to {seen[-1]}" if len(seen) > 1 else f"pleat {seen[0]}"
