"""The pleats from behind: each strip as it shows at every height, the over-apron going round at the sides."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request
from pleatwright.picture.faces import Cloth, Faces, pleat_faces
from pleatwright.picture.folds import apron_shadows, pleat_folds
from pleatwright.picture.sides import BESIDE, LEFT, RIGHT, apron_beside, opening_side
from pleatwright.picture.trimmings import back_trimmings
from pleatwright.picture.view import Part, View, drawn, image_of

if TYPE_CHECKING:
    from PIL.Image import Image


def back_picture(
    option: Option,
    request: Request,
    *,
    width_px: int = 1200,
    folds: bool = True,
    threads: bool | None = None,
    straps: bool = True,
) -> Image:
    """The finished pleats from behind, an RGB image `width_px` wide, with the over-apron at both sides.

    Left to right is along the cloth.  Without `folds` nothing is shaded and there are neither fringe nor
    straps: woven colours only.  `threads`: whether the twill is drawn where it is coarse enough to be seen;
    None: as `folds`.  Without `straps` they and the fringe are left off, so that all the cloth is seen.
    """
    view, cloth = back_view(option, request, width_px), Cloth.of(option, request)
    before, pleats, after = back_faces(option, request, view.depths)
    pleats, seen = pleats.seen()
    scale = view.scale
    parts = (
        Part(before, turned=LEFT),
        Part(pleats, pleat_folds(option).only(seen).shadows(scale), apron_shadows(True, True, scale)),
        Part(after, turned=RIGHT),
    )
    light = drawn(view, request, cloth, parts, shaded=folds, threads=folds if threads is None else threads)
    if folds and straps:
        edges = (before.edges[:, 0], pleats.edges[:, 0], pleats.edges[:, -1], after.edges[:, -1])
        back_trimmings(light, view, option, request, np.stack(edges, axis=1))
    return image_of(light)


def back_view(option: Option, request: Request, width_px: int) -> View:
    """Where the pleats lie in `back_picture`: their middle is the picture's."""
    widest = max(level.reveal for level in option.levels) * sum(strip.face for strip in option.strips)
    half = widest / 2 + BESIDE
    return View.of(-half, half, float(request.sizes.drop + request.sizes.rise), width_px)


def back_faces(option: Option, request: Request, depths: Numbers) -> tuple[Faces, Faces, Faces]:
    """What shows at depths below the top edge, 0 in the middle of the pleats: apron, pleats, apron.

    The lap of the over-apron lies on the last pleats.
    """
    pleats = pleat_faces(option, request, depths)
    lap, opens = float(request.sizes.lap), opening_side(option)
    left = pleats.edges[:, 0] + (lap if opens == LEFT else 0.0)
    right = pleats.edges[:, -1] - (lap if opens == RIGHT else 0.0)
    return (
        apron_beside(option, request, depths, left, LEFT),
        pleats.within(left, right),
        apron_beside(option, request, depths, right, RIGHT),
    )
