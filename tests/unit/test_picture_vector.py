"""The polygons against the pixels, and against the area they must fill."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from pleatwright.layout import Option, Request, make_plan
from pleatwright.order import read_order
from pleatwright.picture import (
    PAPER,
    Patch,
    View,
    back_picture,
    back_vector,
    back_view,
    front_picture,
    front_vector,
    front_view,
)

EXAMPLES = Path(__file__).parents[2] / "examples"
DRAWN = {"back": (back_vector, back_picture, back_view), "front": (front_vector, front_picture, front_view)}
NAMES = ["womans-taper", "measured-piece", "double-width"]
each_example = pytest.mark.parametrize("name", NAMES)
each_side = pytest.mark.parametrize("side", DRAWN)


@cache
def kilt(name: str) -> tuple[Option, Request]:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    # its horizontals do not meet at the join
    text = text.replace('stripe = "W6", distance = "3"', 'stripe = "W6", distance = "2"')
    request = read_order(text, source=name).request
    option = make_plan(request).chosen
    assert option is not None
    return option, request


def area(patch: Patch) -> float:
    x, y = np.array(patch.points).T
    return float(abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2)


def painted(patches: tuple[Patch, ...], view: View) -> Image.Image:
    image = Image.new("RGB", (view.width, view.height), PAPER)
    draw = ImageDraw.Draw(image)
    for patch in patches:
        points = [
            (view.middle + view.scale * x - 0.5, view.top + view.scale * y - 0.5) for x, y in patch.points
        ]
        draw.polygon(points, fill=patch.rgb)
    return image


@each_example
@each_side
def test_painted_polygons_are_the_picture_but_for_pixels_on_their_edges(name: str, side: str) -> None:
    option, request = kilt(name)
    vector, picture, look = DRAWN[side]
    view = look(option, request, 1000)
    one = np.asarray(painted(vector(option, request, folds=False), view)).astype(int)
    other = np.asarray(picture(option, request, width_px=1000, folds=False)).astype(int)
    # a pixel whose neighbours all have its colour lies on no edge
    plain = np.ones(other.shape[:2], dtype=bool)
    for axis in (0, 1):
        for step in (-2, -1, 1, 2):
            plain &= np.abs(np.roll(other, step, axis=axis) - other).max(axis=-1) <= 1
    unlike = np.abs(one - other).max(axis=-1) > 1
    assert plain.mean() > 0.3
    assert (unlike & plain).mean() < 0.001


@each_example
@each_side
def test_the_polygons_fill_the_kilt_once(name: str, side: str) -> None:
    option, request = kilt(name)
    vector, picture, look = DRAWN[side]
    view = look(option, request, 1000)
    patches = vector(option, request, folds=False)
    seen = np.asarray(picture(option, request, width_px=1000, folds=False))
    filled = np.count_nonzero(np.any(seen != PAPER, axis=-1)) / view.scale**2
    assert sum(map(area, patches)) == pytest.approx(filled, rel=0.005)
    assert all(area(patch) > 0 for patch in patches)
    assert len(patches) < 40_000


@each_example
def test_folds_darken_only_the_pleats(name: str) -> None:
    option, request = kilt(name)
    flat, shaded = (back_vector(option, request, folds=folds) for folds in (False, True))
    assert shaded[: len(flat)] == flat
    shadows = shaded[len(flat) :]
    assert shadows
    assert all(patch.rgb == (0, 0, 0) and 0 < patch.opacity < 0.8 for patch in shadows)
    widest = max(float(level.pleated) for level in request.sizes.levels) / 2
    assert max(abs(x) for patch in shadows for x, _ in patch.points) <= widest + 1e-6
