"""Where a kilt lies in its picture, and how the faces of its cloth become one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers
from pleatwright.layout import Request
from pleatwright.picture.faces import Cloth, Faces, levels_below_top
from pleatwright.picture.light import Light, light_of, shown
from pleatwright.picture.twill import Strength, Twill, clearness, on_columns, on_rows
from pleatwright.picture.weave import Panels, Reach, Shadows, colours, covered_by, darkness, middles
from pleatwright.sett import Tartan
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from PIL.Image import Image

PAPER = (0xFB, 0xFA, 0xF7)
"""sRGB of what lies round the kilt."""

MARGIN = 0.6
BAND = 0.5  # of the top band showing: 1 to 1.5 cm [public: askivalofstrathearn.co.uk, quality criteria]
EDGE_WIDE, LINE_WIDE = 0.06, 0.09
LINE_DARK = 0.5
LEAST_LIGHT = 0.1
TURNED_DARK = 0.7
PIXELS_AT_ONCE = 400_000
"""So few that what is reckoned for them stays in the processor's own memory."""
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

    def columns(self, edges: Numbers) -> tuple[int, int]:
        """The pixels from the first to beyond the last that these edges (inches) hold between them."""
        low, high = self.x(edges[:, 0]).min(), self.x(edges[:, -1]).max()
        return max(0, int(low)), min(self.width, int(high) + 1)

    @property
    def depths(self) -> Numbers:
        """Inches below the top edge in the middle of each row of pixels, held within the kilt."""
        depths: Numbers = np.clip(self.below, 0.0, self.long)
        return depths

    @property
    def below(self) -> Numbers:
        """The same, negative above the top edge."""
        below: Numbers = (np.arange(0.5, self.height) - self.top) / self.scale
        return below


class Part(NamedTuple):
    """Faces of one kind side by side in a picture: pleats, or an apron.

    `shadows`: along the edges of each face.  `ends`: along the edges of all together.  `within`: the edges
    (inches, row by row) beyond which they are cut off.  `turned`: -1 or 1 where they go round the body's left
    or right side and so lose light.
    """

    faces: Faces
    shadows: tuple[Shadows, ...] = ()
    ends: tuple[Shadows, ...] = ()
    within: tuple[Numbers, Numbers] | None = None
    turned: int = 0


@dataclass(frozen=True)
class Lines:
    """What lies across each row of pixels, from the top down.

    `light` (3 × rows): the warp's.  `kilt`: the share of a row that is kilt.  `over`: `on_rows`.
    """

    light: Light
    kilt: Light
    over: tuple[Strength, Strength]

    def rows(self, some: slice) -> Lines:
        """Only these rows."""
        return Lines(self.light[:, some], self.kilt[some], (self.over[0][some], self.over[1][some]))


def across(view: View, request: Request, cloth: Cloth, second: bool) -> Lines:
    """The lines across, counted up from the bottom selvedge, of which the hem is folded away."""
    tartan, hem = request.tartan, float(request.sizes.hem)
    bottom = view.height - view.top - view.long * view.scale
    upwards = cloth.panels_up(hem, hem + view.long, view.scale, bottom, second)
    reach = Reach.of(upwards.edges, view.height)
    light = colours(upwards, reach, tartan.warp, tartan)[:, 0, ::-1]
    thread, pace = (part[0, ::-1] for part in middles(upwards, view.height))
    clear = clearness(1 / pace).astype(np.float32)
    over = on_rows(thread, pace)
    return Lines(_float(light), _float(reach.covered[0, ::-1]), (over[0] * clear, over[1] * clear))


def drawn(
    view: View,
    request: Request,
    cloth: Cloth,
    parts: Sequence[Part],
    *,
    shaded: bool,
    threads: bool,
    twill: Twill = "Z",
) -> Light:
    """The whole picture in linear light: its parts side by side, woven, on paper.

    Weft and warp each show on half of a 2/2 twill, so a pixel's light is half of each [textbooks of weaving];
    with `threads` it is as much of each as the twill brings on top there.
    """
    first = across(view, request, cloth, False)
    lines = (first, first if cloth.seam is None else across(view, request, cloth, True))
    gain = _float(_gain(view, request)) if shaded else None
    kept = _float(1 - _lines(view) if shaded else np.ones(view.height))
    paper = _float(light_of(PAPER))
    light: Light = np.zeros((3, view.height, view.width), dtype=np.float32)
    covered = np.zeros((view.height, view.width), dtype=np.float32)
    fabrics = [Fabric.of(view, cloth, part) for part in parts]
    rows_at_once = max(1, PIXELS_AT_ONCE // view.width)
    for top in range(0, view.height, rows_at_once):
        rows = slice(top, top + rows_at_once)
        some = (lines[0].rows(rows), lines[1].rows(rows))
        here, cover = light[:, rows], covered[rows]
        for fabric in fabrics:
            columns = slice(fabric.left, fabric.left + fabric.width)
            woven, share = fabric.woven(rows, some, request.tartan, twill if threads else None, gain)
            here[:, :, columns] += woven
            cover[:, columns] += share
        here *= kept[rows, None]
        cover *= -some[0].kilt[:, None]
        cover += 1
        for primary in range(3):
            here[primary] += cover * paper[primary]
    return light


@dataclass(frozen=True)
class Fabric:
    """The cloth of one part as it lies in the pixels from `left` on, `width` of them.

    `edges`: of the faces, in pixels from `left`.  `second`: which panels lie on the second strip.
    """

    part: Part
    panels: Panels
    second: NDArray[np.bool_]
    edges: Numbers
    within: Numbers | None
    left: int
    width: int

    @classmethod
    def of(cls, view: View, cloth: Cloth, part: Part) -> Fabric:
        """The faces of a part, in all rows of the picture."""
        left, right = view.columns(part.faces.edges)
        panels, second = cloth.panels(part.faces, view.scale, view.middle - left)
        within = None if part.within is None else view.x(np.stack(part.within, axis=1)) - left
        return cls(part, panels, second, view.x(part.faces.edges) - left, within, left, right - left)

    def woven(
        self,
        rows: slice,
        lines: tuple[Lines, Lines],
        tartan: Tartan,
        twill: Twill | None,
        gain: Light | None,
    ) -> tuple[Light, Light]:
        """The light of some rows and the share of each pixel that is cloth; shaded where a gain is given.

        Weft and warp are half of each, or as the twill has them.  Only rows unlike the one above
        are reckoned.
        """
        some = self.panels.rows(rows)
        new, which = some.different()
        panels, edges = some.rows(new), self.edges[rows][new]
        reach = Reach.of(panels.edges, self.width)
        covered = _float(reach.covered)
        strips = [(lines[0], covered)]
        if self.second.any():
            beyond = _float(covered_by(self.second, panels, reach))
            strips = [(lines[0], covered - beyond), (lines[1], beyond)]
        over = np.float32(0.5) if twill is None else _on_top(panels, which, strips, twill, self.width)
        under = 1 - over
        light: Light = _float(colours(panels, reach, tartan.weft, tartan))[:, which]
        light *= over * lines[0].kilt[:, None]
        for across, share in strips:
            seen = share[which] * under
            for primary in range(3):
                light[primary] += seen * across.light[primary][:, None]
        if gain is not None:
            light *= self._kept(edges, which, gain[rows])
        if self.within is None:
            return light, covered[which]
        inside = _float(Reach.of(self.within[rows], self.width).covered)
        light *= inside
        return light, covered[which] * inside

    def _kept(self, edges: Numbers, which: NDArray[np.intp], gain: Light) -> Light:
        """The share of its light that each pixel keeps."""
        lost = darkness(edges, self.width, self.part.shadows)
        lost += darkness(edges[:, [0, -1]], self.width, self.part.ends)
        lost = lost[which]
        lost *= -gain[:, None]
        lost += 1
        kept: Light = np.maximum(lost, np.float32(LEAST_LIGHT))
        if self.part.turned:
            x = np.arange(0.5, self.width)
            out = x - edges[:, :1] if self.part.turned < 0 else edges[:, -1:] - x
            wide = edges[:, -1:] - edges[:, :1]
            kept *= _float(1 - TURNED_DARK * np.clip(1 - out / wide, 0, 1) ** 2)[which]
        return kept


def _on_top(
    panels: Panels, which: NDArray[np.intp], strips: list[tuple[Lines, Light]], twill: Twill, width: int
) -> Light:
    """The share of each pixel on which the weft lies on top."""
    thread, pace = middles(panels, width)
    half_clear = _float(clearness(1 / pace) / 2)
    columns = [one * half_clear for one in on_columns(thread, pace, twill)]
    over: Light = np.full((len(which), width), 0.5, dtype=np.float32)
    for across, share in strips:
        for row, column in zip(across.over, columns, strict=True):
            seen = (column * share if len(strips) > 1 else column)[which]
            seen *= row[:, None]
            over += seen
    return over


def _float(numbers: Numbers) -> Light:
    return np.asarray(numbers, dtype=np.float32)


def _gain(view: View, request: Request) -> Numbers:
    """How much of a fold's shadow is seen, row by row."""
    at = levels_below_top(request, (LevelName.HIP, LevelName.BOTTOM))
    return np.interp(view.depths, at, (FELL_GAIN, FREE_GAIN))


def _lines(view: View) -> Numbers:
    """Light lost row by row under the top band and along both edges."""
    below, finest = view.below, 1.5 / view.scale
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
