"""The over-apron from the front, with the pleats beside it going round the body."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request
from pleatwright.picture.faces import Cloth, Faces, apron_tapes
from pleatwright.picture.folds import apron_shadows, pleat_folds
from pleatwright.picture.sides import BESIDE, LEFT, RIGHT, pleats_beside
from pleatwright.picture.trimmings import front_trimmings
from pleatwright.picture.view import Part, View, drawn, image_of

if TYPE_CHECKING:
    from PIL.Image import Image


def front_picture(
    option: Option, request: Request, *, width_px: int = 900, folds: bool = True, threads: bool | None = None
) -> Image:
    """The over-apron from the front, an RGB image `width_px` wide; its fringed edge on the opening side.

    Left to right is along the cloth.  Without `folds` nothing is shaded and there are neither fringe nor
    straps: woven colours only.  `threads`: whether the twill is drawn where it is coarse enough to be seen;
    None: as `folds`.
    """
    view, cloth = front_view(option, request, width_px), Cloth.of(option, request)
    before, apron, after = front_faces(option, request, view.depths)
    edges = apron_edges(option, request, view.depths)
    scale = view.scale
    parts = []
    for faces, side in ((before, LEFT), (after, RIGHT)):
        shown, some = faces.seen()
        folds_of = pleat_folds(option).only(some).shadows(scale)
        parts.append(Part(shown, folds_of, apron_shadows(side == RIGHT, side == LEFT, scale), turned=side))
    parts.append(Part(apron, within=edges))
    light = drawn(view, request, cloth, parts, shaded=folds, threads=folds if threads is None else threads)
    if folds:
        ends = (before.edges[:, 0], *edges, after.edges[:, -1])
        front_trimmings(light, view, option, request, np.stack(ends, axis=1))
    return image_of(light)


def front_view(option: Option, request: Request, width_px: int) -> View:
    """Where the over-apron lies in `front_picture`: 0 is its centre."""
    apron = option.over_apron
    left, right = apron.left - apron.centre - BESIDE, apron.right - apron.centre + BESIDE
    return View.of(left, right, float(request.sizes.drop + request.sizes.rise), width_px)


def apron_edges(option: Option, request: Request, depths: Numbers) -> tuple[Numbers, Numbers]:
    """Both edges in inches from the apron's centre, at depths below the top: straight between the levels."""
    left, right = apron_tapes(option.over_apron, request, depths)
    return left - option.over_apron.centre, right - option.over_apron.centre


def front_faces(option: Option, request: Request, depths: Numbers) -> tuple[Faces, Faces, Faces]:
    """What shows at depths below the top edge, 0 at the apron's centre: pleats, the one apron, pleats.

    All pleats stand on both sides, those out of sight without any width; the apron is as wide as anywhere.
    """
    apron, rows = option.over_apron, np.ones((len(depths), 1))
    left, right = apron_edges(option, request, depths)
    start, end = apron.left * rows, apron.right * rows
    middle = Faces(np.concatenate([start, end], axis=1) - apron.centre, start, end)
    return (
        pleats_beside(option, request, depths, left, LEFT),
        middle,
        pleats_beside(option, request, depths, right, RIGHT),
    )
