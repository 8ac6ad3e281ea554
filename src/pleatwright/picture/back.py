"""The pleats from behind, laid flat: each strip as it shows at every height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request, Strip
from pleatwright.picture.view import FOLD_DARK, FOLD_WIDE, View, drawn, image_of, levels_below_top
from pleatwright.picture.weave import Panels, Shadows
from pleatwright.pleats import Form

if TYPE_CHECKING:
    from PIL.Image import Image

MEETING = 0.6  # of a fold's shadow lies on each side, where two folds meet edge to edge


def back_picture(option: Option, request: Request, *, width_px: int = 1200, folds: bool = True) -> Image:
    """The finished pleats from behind, an RGB image `width_px` wide.

    Left to right is along the cloth.  Without `folds` nothing is shaded: woven colours only.
    """
    view = back_view(option, request, width_px)
    strips = left_to_right(option)
    panels = _panels(view, option, request, strips)
    return image_of(drawn(view, panels, request, fold_shadows(option, view) if folds else None))


def back_view(option: Option, request: Request, width_px: int) -> View:
    """Where the pleats lie in `back_picture`: their middle is the picture's."""
    widest = max(level.reveal for level in option.levels) * sum(strip.face for strip in option.strips)
    return View.of(-widest / 2, widest / 2, float(request.sizes.drop + request.sizes.rise), width_px)


def left_to_right(option: Option) -> tuple[Strip, ...]:
    """The strips as they lie along the cloth, and as they are seen from behind."""
    return tuple(sorted(option.strips, key=lambda strip: strip.centre))


def reveals_at(option: Option, request: Request, depths: Numbers) -> Numbers:
    """One reveal (inches) at depths below the top edge: straight lines between the levels."""
    at = levels_below_top(request, tuple(level.level for level in option.levels))
    return np.interp(depths, at, [level.reveal for level in option.levels])


def thread_sizes(option: Option, request: Request, threads: Numbers) -> Numbers:
    """Inches a thread at these thread positions; as the sett is meant to be where there is no piece."""
    tartan = request.tartan
    if option.cloth is None:
        return np.full_like(threads, float(request.sett_along) / tartan.weft.n)
    return option.cloth.run(tartan.weft).thread_sizes(threads)


def _panels(view: View, option: Option, request: Request, strips: tuple[Strip, ...]) -> Panels:
    """Strip i shows its thread ± half a face, equally to both sides."""
    reveal = reveals_at(option, request, view.depths)[:, None]
    faces = np.array([strip.face for strip in strips])
    threads = np.array([strip.thread for strip in strips])
    size = thread_sizes(option, request, threads)
    ends = np.concatenate([[0.0], np.cumsum(faces)])
    pace = np.broadcast_to(1 / (size * view.scale), (view.height, len(strips)))
    return Panels(view.x(reveal * (ends - ends[-1] / 2)), threads - reveal * faces / 2 / size, pace)


def fold_shadows(option: Option, view: View) -> Shadows:
    """The shadows on each strip, left to right, and along the outline; never so narrow that they are lost.

    Knife pleats point to the wearer's right on a kilt that opens there [derived], so each lies over the next
    one along; the knives beside a centre box run away from it; boxes meet.
    """
    count = option.pleats
    at = np.arange(count)[None]
    meeting = option.form in (Form.BOX, Form.MILITARY_BOX)
    if meeting:
        left = right = np.ones((1, count), dtype=bool)
    elif option.form is Form.CENTRE_BOX:
        left, right = at > count // 2, at < count // 2
    else:
        left = np.full((1, count), option.opens_on == "right")
        right = ~left
    share = MEETING if meeting else 1.0
    wide = np.full((1, count), max(FOLD_WIDE * share * view.scale, 1.5))
    return Shadows(FOLD_DARK * (left | (at == 0)), FOLD_DARK * (right | (at == count - 1)), wide)
