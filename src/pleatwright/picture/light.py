"""Colours as amounts of light: mixing two threads is adding light, and that is not adding sRGB figures.

The curve between sRGB and light is that of IEC 61966-2-1.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers

Light = NDArray[np.float32]
"""Three planes, red, green and blue, of linear light from 0 to 1: 3 × rows × pixels."""

_FINEST = 65535


def light_of(rgb: tuple[int, int, int]) -> Numbers:
    """The light of an sRGB colour given from 0 to 255."""
    share = np.array(rgb) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def shown(light: Light) -> NDArray[np.uint8]:
    """Light as sRGB figures from 0 to 255, rows × pixels × 3; spoils `light`."""
    np.clip(light, 0, 1, out=light)
    light *= _FINEST
    light += 0.5
    figures = np.empty((*light.shape[1:], 3), dtype=np.uint8)
    for primary, plane in enumerate(light.astype(np.uint16)):
        figures[..., primary] = np.take(_table(), plane, mode="clip")
    return figures


@cache
def _table() -> NDArray[np.uint8]:
    light = np.arange(_FINEST + 1) / _FINEST
    share = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(share * 255).astype(np.uint8)
