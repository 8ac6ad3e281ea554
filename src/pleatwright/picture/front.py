"""The over-apron from the front, with the pleats beside it going round the body."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request, Strip
from pleatwright.picture.back import fold_shadows, left_to_right, reveals_at, thread_sizes
from pleatwright.picture.trimmings import STRAP_HIGH, fringe, straps
from pleatwright.picture.view import FOLD_DARK, View, across, drawn, image_of, levels_below_top
from pleatwright.picture.weave import Panels, Shadows
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from PIL.Image import Image

RADIUS, TURNED = 2.2, 1.2  # the body at the apron's side as a round, inches; how far we see round it, radians
TURNED_DARK = 0.7
APRON_DARK, APRON_WIDE = 0.85, 3.2  # the shadow of the apron's edges; how many times a fold's width


class _Side(NamedTuple):
    """Pleats beside the apron, left to right: edges in inches from the apron's, threads, pace an inch."""

    edges: Numbers
    first: Numbers
    pace: Numbers


def front_picture(option: Option, request: Request, *, width_px: int = 900, folds: bool = True) -> Image:
    """The over-apron from the front, an RGB image `width_px` wide; its fringed edge on the opening side.

    Left to right is along the cloth.  Without `folds` nothing is shaded and there are neither fringe nor
    straps: woven colours only.
    """
    view = front_view(option, request, width_px)
    left, right = apron_edges(option, request, view.depths)
    before, after = _sides(option, request, view)
    size = float(thread_sizes(option, request, np.array([option.over_apron.thread]))[0])
    panels = Panels(
        view.x(
            np.concatenate([left[:, None] + before.edges, right[:, None] + after.edges], axis=1),
        ),
        np.concatenate(
            [before.first, (option.over_apron.thread + left / size)[:, None], after.first], axis=1
        ),
        np.concatenate([before.pace, np.full((view.height, 1), 1 / size), after.pace], axis=1) / view.scale,
    )
    if not folds:
        return image_of(drawn(view, panels, request))
    light = drawn(view, panels, request, _shadows(option, before, after, view), _turning(panels, view))
    opens_left = option.opens_on == "left"
    outer = view.x(right if opens_left else left)
    outwards = 1 if opens_left else -1
    side_edge = panels.edges[:, -1] if opens_left else panels.edges[:, 0]
    strap, hip = levels_below_top(request, (LevelName.STRAP, LevelName.HIP))
    low = hip - STRAP_HIGH
    depths = (strap, low) if low - strap > 2 * STRAP_HIGH else (strap,)
    straps(light, view, outer, side_edge, outwards, depths)
    warp, rows = across(view, request)
    fringe(light, view, outer, outwards, warp, rows)
    return image_of(light)


def front_view(option: Option, request: Request, width_px: int) -> View:
    """Where the over-apron lies in `front_picture`: 0 is its centre."""
    apron, beside = option.over_apron, RADIUS * float(np.sin(TURNED))
    left, right = apron.left - apron.centre - beside, apron.right - apron.centre + beside
    return View.of(left, right, float(request.sizes.drop + request.sizes.rise), width_px)


def apron_edges(option: Option, request: Request, depths: Numbers) -> tuple[Numbers, Numbers]:
    """Both edges in inches from the apron's centre, at depths below the top: straight between the levels."""
    apron = option.over_apron
    at = levels_below_top(request, tuple(edge.level for edge in apron.edges))
    left = np.interp(depths, at, [edge.left - apron.centre for edge in apron.edges])
    right = np.interp(depths, at, [edge.right - apron.centre for edge in apron.edges])
    return left, right


def _sides(option: Option, request: Request, view: View) -> tuple[_Side, _Side]:
    """The pleats left and right of the apron; the lap hides some of those at its fringed edge."""
    lap = float(request.sizes.lap)
    reveal = reveals_at(option, request, view.depths)
    seen = int((RADIUS * TURNED + lap) / reveal.min()) + 2
    strips = left_to_right(option)
    opens_left = option.opens_on == "left"
    left = _side(option, request, strips[-seen:][::-1], reveal, 0.0 if opens_left else lap, -1)
    right = _side(option, request, strips[:seen], reveal, lap if opens_left else 0.0, 1)
    return left, right


def _side(
    option: Option, request: Request, strips: tuple[Strip, ...], reveal: Numbers, lap: float, outwards: int
) -> _Side:
    """Pleats counted outwards from the apron's edge, each shown as wide as the round lets us see it."""
    faces = np.array([strip.face for strip in strips])
    threads = np.array([strip.thread for strip in strips])
    size = thread_sizes(option, request, threads)
    ends = reveal[:, None] * np.concatenate([[0.0], np.cumsum(faces)])
    cloth = np.clip(ends, lap, lap + RADIUS * TURNED)
    edges = RADIUS * np.sin((cloth - lap) / RADIUS)
    shown = np.diff(edges, axis=1)
    pace = np.where(shown > 0, np.diff(cloth, axis=1) / np.where(shown > 0, shown, 1), 1.0) / size
    middles = (ends[:, 1:] + ends[:, :-1]) / 2
    if outwards > 0:
        return _Side(edges, threads + (cloth[:, :-1] - middles) / size, pace)
    first = threads - (cloth[:, 1:] - middles) / size
    return _Side(-edges[:, ::-1], first[:, ::-1], pace[:, ::-1])


def _shadows(option: Option, before: _Side, after: _Side, view: View) -> Shadows:
    """Folds as at the back; the apron's own edges lie over everything."""
    folds = fold_shadows(option, view)
    last, next_to = before.pace.shape[1], after.pace.shape[1]

    def beside(strips: Numbers, apron: float) -> Numbers:
        return np.concatenate([strips[:, -last:], [[apron]], strips[:, :next_to]], axis=1)

    fold = float(folds.wide[0, 0])
    left, right, wide = beside(folds.left, 0.0), beside(folds.right, 0.0), beside(folds.wide, fold * 0.7)
    right[0, last - 1] = left[0, last + 1] = APRON_DARK
    wide[0, [last - 1, last + 1]] = fold * APRON_WIDE
    (right if option.opens_on == "left" else left)[0, last] = FOLD_DARK  # where the fringe is sewn
    return Shadows(left, right, wide)


def _turning(panels: Panels, view: View) -> Numbers:
    """Light lost towards both sides, where the kilt goes round the body."""
    x = np.arange(view.width) + 0.5
    beside = RADIUS * float(np.sin(TURNED)) * view.scale
    edge = np.minimum(x - panels.edges[:, :1], panels.edges[:, -1:] - x)
    lost: Numbers = TURNED_DARK * np.clip(1 - edge / beside, 0, 1) ** 2
    return lost
