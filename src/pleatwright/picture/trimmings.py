"""Fringe, straps and buckles, painted over a picture in linear light.  Sizes in inches."""

from __future__ import annotations

import numpy as np

from pleatwright.cloth import Numbers
from pleatwright.picture.light import Light, light_of
from pleatwright.picture.view import View

FRINGE = 0.5  # at most 2 cm [public: askivalofstrathearn.co.uk, quality criteria]
BUNDLE = 0.13
LEATHER, LEATHER_EDGE, METAL = (0x4A, 0x33, 0x26), (0x2B, 0x1C, 0x14), (0xBE, 0xB8, 0xAA)
STRAP_HIGH, BUCKLE_HIGH, BUCKLE_WIDE, FRAME = 1.0, 1.32, 0.82, 0.13


def fringe(light: Light, view: View, edge: Numbers, outwards: int, warp: Numbers, rows: Numbers) -> None:
    """Threads left standing beyond the apron's outer edge: those that run along the cloth, the warp.

    `edge`: its x in each row (pixels); `outwards`: -1 to the left, 1 to the right; `warp`, `rows`: light of
    the threads across (3 × rows) and the share of each row that is kilt.
    """
    place = (np.arange(view.height) + 0.5 - view.top) / view.scale / BUNDLE
    bundle = np.floor(place).astype(np.int64)
    uneven = (bundle * 2654435761 % 2**32) / 2**32
    full = 1 - 0.75 * np.abs(2 * (place - bundle) - 1) ** 3
    long = FRINGE * view.scale * (0.78 + 0.22 * uneven)
    out = outwards * (np.arange(view.width) + 0.5 - edge[:, None])
    tip = np.clip(long[:, None] - out, 0, 1)
    thinner = 1 - 0.25 * np.clip(out / long[:, None], 0, 1)
    opaque = np.clip(out + 0.5, 0, 1) * tip * thinner * (full * rows)[:, None]
    _paint(light, opaque, 0.85 * (warp / np.maximum(rows, 1e-9))[:, :, None])


def straps(
    light: Light, view: View, edge: Numbers, side: Numbers, outwards: int, below_top: tuple[float, ...]
) -> None:
    """A strap from the apron's outer edge to a buckle on the pleats, at each of these depths.

    `edge`, `side`: x of the apron's edge and of the outline in each row (pixels).
    """
    for depth in below_top:
        y = view.top + depth * view.scale
        row = int(y)
        near = slice(max(0, row - int(view.scale)), row + int(view.scale))
        here = light[:, near]
        strap_from, strap_to = float(edge[row]), float(side[row])
        buckle = strap_from + outwards * (abs(strap_to - strap_from) * 0.58)
        x = np.arange(view.width) + 0.5
        along = outwards * (x - edge[near, None])
        beyond = outwards * (side[near, None] - x)
        within = np.clip(along + 0.5, 0, 1) * np.clip(beyond + 0.5, 0, 1)
        high = STRAP_HIGH * view.scale / 2
        up = np.abs(np.arange(view.height)[near, None] + 0.5 - y)
        _paint(here, within * np.clip(high - up + 0.5, 0, 1), _flat(LEATHER_EDGE))
        _paint(here, within * np.clip(high * 0.9 - up + 0.5, 0, 1), _flat(LEATHER))
        beside = np.abs(x - buckle)
        wide, tall, frame = (view.scale * inches for inches in (BUCKLE_WIDE, BUCKLE_HIGH, FRAME))
        distance = _rounded(beside, up, wide / 2, tall / 2, frame * 1.5)
        _paint(here, np.clip(frame / 2 - np.abs(distance + frame / 2) + 0.5, 0, 1), _flat(METAL))
        prong = _rounded(beside, up, wide / 2 - frame / 2, frame / 3, frame / 3)
        _paint(here, np.clip(0.5 - prong, 0, 1), _flat(METAL) * 0.8)


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
