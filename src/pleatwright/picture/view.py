"""Where a kilt lies in its picture, and how panels of cloth become one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Request
from pleatwright.picture.light import Light, light_of, shown
from pleatwright.picture.weave import Panels, Reach, Shadows, colours, darkness
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from PIL.Image import Image

PAPER = (0xFB, 0xFA, 0xF7)
"""sRGB of what lies round the kilt."""

MARGIN = 0.6
BAND = 0.5  # of the top band showing: 1 to 1.5 cm [public: askivalofstrathearn.co.uk, quality criteria]
FOLD_WIDE, EDGE_WIDE, LINE_WIDE = 0.13, 0.06, 0.09
FOLD_DARK, LINE_DARK = 0.62, 0.5
LEAST_LIGHT = 0.1
FELL_GAIN, FREE_GAIN = 0.75, 1.15  # sewn down the folds lie flat; below the fell they stand a little open


@dataclass(frozen=True)
class View:
    """A picture's measure: `scale` pixels an inch, size in pixels, `middle` (x) and `top` (y) in pixels.

    `middle` is where 0 of the drawing lies, `top` the kilt's top edge; `long` is the kilt's length in inches.
    """

    scale: float
    width: int
    height: int
    middle: float
    top: float
    long: float

    @classmethod
    def of(cls, left: float, right: float, long: float, width_px: int) -> View:
        """A view of a kilt that reaches from `left` to `right` and is `long` (inches), in so many pixels."""
        scale = width_px / (right - left + 2 * MARGIN)
        height = round((long + 2 * MARGIN) * scale)
        middle = width_px / 2 - scale * (left + right) / 2
        return cls(scale, width_px, height, middle, (height - long * scale) / 2, long)

    def x(self, inches: Numbers) -> Numbers:
        """Pixels from the left of a place given in inches from 0 of the drawing."""
        return self.middle + self.scale * inches

    @property
    def depths(self) -> Numbers:
        """Inches below the top edge in the middle of each row of pixels, held within the kilt."""
        rows = (np.arange(self.height) + 0.5 - self.top) / self.scale
        return np.clip(rows, 0, self.long)


def levels_below_top(request: Request, names: tuple[LevelName, ...]) -> list[float]:
    """Inches below the top edge of these levels."""
    return [float(request.sizes.level(name).below_top) for name in names]


def across(view: View, request: Request) -> tuple[Numbers, Numbers]:
    """Light of the lines across (3 × rows), and the share of each row that is kilt (rows).

    They are counted up from the bottom selvedge, of which the hem is folded away.
    """
    tartan, piece = request.tartan, request.piece
    sett_size, phase = float(request.sett_across), 0.0
    if piece is not None:
        sett_size, phase = float(piece.sett_across), piece.selvedge_phase(tartan)
    an_inch = tartan.warp.n / sett_size
    bottom = view.height - view.top - view.long * view.scale
    upwards = Panels(
        np.array([[bottom, view.height - view.top]]),
        np.array([[phase + float(request.sizes.hem) * an_inch]]),
        np.array([[an_inch / view.scale]]),
    )
    reach = Reach.of(upwards.edges, view.height)
    return colours(upwards, reach, tartan.warp, tartan)[:, 0, ::-1], reach.covered[0, ::-1]


def drawn(
    view: View,
    panels: Panels,
    request: Request,
    shadows: Shadows | None = None,
    turning: Numbers | None = None,
) -> Light:
    """The whole picture in linear light: panels woven, shaded if `shadows` are given, on paper.

    Weft and warp each show on half of a 2/2 twill, so a pixel's light is half of each [textbooks of weaving].
    `turning`: light lost where the kilt goes round the body, rows × pixels.
    """
    new, which = panels.different()
    few = panels.rows(new)
    reach = Reach.of(few.edges, view.width)
    warp, rows = across(view, request)
    kilt = rows.astype(np.float32)[:, None]
    covered = reach.covered.astype(np.float32)[which]
    light: Light = (colours(few, reach, request.tartan.weft, request.tartan) / 2).astype(np.float32)[:, which]
    light *= kilt
    light += covered * (warp / 2).astype(np.float32)[:, :, None]
    if shadows is not None:
        lost = darkness(few, reach, shadows).astype(np.float32)[which]
        lost *= -_gain(view, request).astype(np.float32)[:, None]
        kept = np.maximum(1 + lost, LEAST_LIGHT)
        kept *= (1 - _lines(view)).astype(np.float32)[:, None]
        if turning is not None:
            kept *= (1 - turning).astype(np.float32)
        light *= kept
    light += (1 - covered * kilt) * light_of(PAPER).astype(np.float32)[:, None, None]
    return light


def _gain(view: View, request: Request) -> Numbers:
    """How much of a fold's shadow is seen, row by row."""
    at = levels_below_top(request, (LevelName.HIP, LevelName.BOTTOM))
    return np.interp(view.depths, at, (FELL_GAIN, FREE_GAIN))


def _lines(view: View) -> Numbers:
    """Light lost row by row under the top band and along both edges."""
    below = (np.arange(view.height) + 0.5 - view.top) / view.scale
    finest = 1.5 / view.scale
    lost = np.zeros(view.height)
    for depth, sign, wide in ((BAND, 1, LINE_WIDE), (0.0, 1, EDGE_WIDE), (view.long, -1, EDGE_WIDE)):
        wide_enough = max(wide, finest)
        inwards = sign * (below - depth)
        fade = np.where(inwards >= -0.5 / view.scale, np.clip(1 - inwards / wide_enough, 0, 1), 0)
        lost = np.maximum(lost, LINE_DARK * fade)
    return lost


def image_of(light: Light) -> Image:
    """An RGB image of a picture in linear light."""
    from PIL import Image

    return Image.fromarray(shown(light))


COMPRESSION = 4
"""zlib's level for pictures: half the time of its usual 6, files a tenth larger."""


def png_bytes(image: Image, dpi: float | None = None) -> bytes:
    """The image as PNG, the same bytes every time; `dpi` is written into it if given."""
    import io

    out = io.BytesIO()
    size = {} if dpi is None else {"dpi": (dpi, dpi)}
    image.save(out, "PNG", compress_level=COMPRESSION, **size)
    return out.getvalue()
