"""Fringe, straps and buckles, painted over a picture in linear light.  Sizes in inches."""

from __future__ import annotations

import numpy as np

from pleatwright.bench.closing import over_strap_levels
from pleatwright.cloth import Numbers
from pleatwright.layout import Option, Request
from pleatwright.picture.faces import Cloth, reveals_at
from pleatwright.picture.light import Light, light_of
from pleatwright.picture.sides import RADIUS, opening_side
from pleatwright.picture.view import View, across

FRINGE = 0.5  # at most 2 cm [public: askivalofstrathearn.co.uk, quality criteria]
BUNDLE = 0.13
LEATHER, LEATHER_EDGE, METAL = (0x4A, 0x33, 0x26), (0x2B, 0x1C, 0x14), (0xBE, 0xB8, 0xAA)
STRAP_HIGH, BUCKLE_HIGH, BUCKLE_WIDE, FRAME = 1.0, 1.32, 0.82, 0.13
KEEPER, KEEPER_WIDE = 0.62, 0.2
SHADE_DROP, SHADE_DARK = 0.07, 0.35
BUCKLE_AT, TIP_AT = 1.3, 3.1
"""From the apron's edge at the opening side to the buckle's middle, and to the tip [our choice]."""
LEFT_BUCKLE_AT, LEFT_TIP_AT = 0.62, 2.2
"""The other side's strap, from the apron's edge on to the apron [our choice]."""


def back_trimmings(light: Light, view: View, option: Option, request: Request, edges: Numbers) -> None:
    """At the opening side fringe and straps lie on the pleats; the other strap goes round to the apron.

    An inside one is not seen.  `edges`: of apron, pleats and apron, in inches of the drawing, row by row.
    """
    opens = opening_side(option)
    fringed, hidden = (edges[:, 2], edges[:, 1]) if opens > 0 else (edges[:, 1], edges[:, 2])
    levels = _levels(request)
    for depth in levels:
        row = _row(view, depth)
        at = fringed[row]
        _strap(light, view, edges, depth, at, at - opens * TIP_AT, at - opens * BUCKLE_AT)
    if request.settings.closing.under_strap == "outside":
        depth = levels[0]
        at = hidden[_row(view, depth)]
        slot = at + opens * float(reveals_at(option, request, np.array([depth]))[0])
        tip, buckle = (at - opens * _round(far) for far in (LEFT_TIP_AT, LEFT_BUCKLE_AT))
        _strap(light, view, edges, depth, slot, tip, buckle)
    _fringe(light, view, option, request, fringed, -opens)


def front_trimmings(light: Light, view: View, option: Option, request: Request, edges: Numbers) -> None:
    """The same from the front; `edges`: of pleats, apron and pleats.

    The other strap comes out through the hole between first and second pleat [common practice, no source].
    """
    opens = -opening_side(option)
    fringed, hidden = (edges[:, 1], edges[:, 2]) if opens < 0 else (edges[:, 2], edges[:, 1])
    levels = _levels(request)
    for depth in levels:
        at = fringed[_row(view, depth)]
        _strap(light, view, edges, depth, at, at + opens * 2 * RADIUS, at + opens * _round(BUCKLE_AT))
    if request.settings.closing.under_strap == "outside":
        depth = levels[0]
        at = hidden[_row(view, depth)]
        slot = at - opens * _round(float(reveals_at(option, request, np.array([depth]))[0]))
        _strap(light, view, edges, depth, slot, at + opens * LEFT_TIP_AT, at + opens * LEFT_BUCKLE_AT)
    _fringe(light, view, option, request, fringed, opens)


def _levels(request: Request) -> list[float]:
    """Inches below the top edge of the straps at the opening side, the strap line's first."""
    return [float(level) for level in over_strap_levels(request.sizes, request.settings)]


def _round(inches: float) -> float:
    return RADIUS * float(np.sin(inches / RADIUS))


def _row(view: View, depth: float) -> int:
    return min(int(view.top + depth * view.scale), view.height - 1)


def _fringe(light: Light, view: View, option: Option, request: Request, edge: Numbers, outwards: int) -> None:
    """Threads left standing beyond the apron's outer edge: those that run along the cloth, the warp.

    `edge`: where it is in each row (inches); `outwards`: -1 to the left, 1 to the right.
    """
    apron, cloth = option.over_apron, Cloth.of(option, request)
    outer = apron.left if option.opens_on == "right" else apron.right
    lines = across(view, request, cloth, cloth.is_second(outer))
    place = view.below / BUNDLE
    bundle = np.floor(place).astype(np.int64)
    uneven = (bundle * 2654435761 % 2**32) / 2**32
    full = 1 - 0.75 * np.abs(2 * (place - bundle) - 1) ** 3
    long = FRINGE * view.scale * (0.78 + 0.22 * uneven)
    at = view.x(edge)
    near = slice(max(0, int(at.min() - FRINGE * view.scale) - 2), int(at.max() + FRINGE * view.scale) + 2)
    out = outwards * (np.arange(view.width)[near] + 0.5 - at[:, None])
    tip = np.clip(long[:, None] - out, 0, 1)
    thinner = 1 - 0.25 * np.clip(out / long[:, None], 0, 1)
    opaque = np.clip(out + 0.5, 0, 1) * tip * thinner * (full * lines.kilt)[:, None]
    _paint(light[:, :, near], opaque, 0.85 * (lines.light / np.maximum(lines.kilt, 1e-9))[:, :, None])


def _strap(
    light: Light, view: View, edges: Numbers, depth: float, start: float, tip: float, buckle: float
) -> None:
    """A strap on the kilt from where it comes out to its rounded tip, its buckle between; inches."""
    scale, y = view.scale, view.top + depth * view.scale
    rows = slice(max(0, int(y - scale)), int(y + scale) + 1)
    lowest, highest = min(start, tip), max(start, tip)
    first, last = (int(at) for at in view.x(np.array([lowest, highest])))
    columns = slice(max(0, first), last + 2)
    here = light[:, rows, columns]
    x = (np.arange(view.width)[columns] + 0.5 - view.middle) / scale
    up = (np.arange(view.height)[rows, None] + 0.5 - y) / scale
    on_kilt = np.clip((x - edges[rows, :1]) * scale + 0.5, 0, 1) * np.clip(
        (edges[rows, -1:] - x) * scale + 0.5, 0, 1
    )
    # the strap's hidden end is square, its tip round: a longer rounded bar, cut off where it comes out
    out = np.sign(tip - start)
    on_kilt *= np.clip(out * (x - start) * scale + 0.5, 0, 1)
    middle, half = (start + tip) / 2 - out * STRAP_HIGH / 2, abs(tip - start) / 2 + STRAP_HIGH / 2

    def bar(down: float, thinner: float) -> Numbers:
        outside = _rounded(np.abs(x - middle), np.abs(up - down), half - thinner, 0.5 - thinner, 0.3)
        return np.clip(0.5 - outside * scale, 0, 1) * on_kilt

    _paint(here, SHADE_DARK * bar(SHADE_DROP, 0.0), np.zeros((3, 1, 1)))
    _paint(here, bar(0.0, 0.0), _flat(LEATHER_EDGE))
    _paint(here, bar(0.0, 0.05), _flat(LEATHER))
    keeper = np.clip(
        0.5 - scale * np.maximum(np.abs(x - buckle - out * KEEPER) - KEEPER_WIDE / 2, np.abs(up) - 0.54), 0, 1
    )
    _paint(here, keeper * on_kilt, _flat(LEATHER_EDGE))
    beside = np.abs(x - buckle)
    frame = _rounded(beside, np.abs(up), BUCKLE_WIDE / 2, BUCKLE_HIGH / 2, FRAME * 1.5)
    _paint(here, np.clip(0.5 + scale * (FRAME / 2 - np.abs(frame + FRAME / 2)), 0, 1), _flat(METAL))
    prong = _rounded(beside, np.abs(up), BUCKLE_WIDE / 2 - FRAME / 2, FRAME / 3, FRAME / 3)
    _paint(here, np.clip(0.5 - prong * scale, 0, 1), _flat(METAL) * 0.8)


def _rounded(x: Numbers, y: Numbers, half_wide: float, half_high: float, radius: float) -> Numbers:
    """How far outside a rounded rectangle a place is, `x` and `y` from its middle; negative inside."""
    over_x, over_y = x - half_wide + radius, y - half_high + radius
    outside = np.hypot(np.maximum(over_x, 0), np.maximum(over_y, 0))
    distance: Numbers = outside + np.minimum(np.maximum(over_x, over_y), 0) - radius
    return distance


def _flat(rgb: tuple[int, int, int]) -> Numbers:
    return light_of(rgb)[:, None, None]


def _paint(light: Light, opaque: Numbers, colour: Numbers) -> None:
    """Lay a colour (3 × rows × 1, or one for all) over the picture, `opaque` rows × pixels."""
    cover = opaque.astype(np.float32)
    light *= 1 - cover
    light += cover * colour.astype(np.float32)
