"""What shows of real cloth: threads of more than one size, and a join whose horizontals do not meet."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from pleatwright.cloth import Reading
from pleatwright.layout import Option, Request, make_plan
from pleatwright.order import read_order
from pleatwright.picture import apron_edges, back_picture, back_view, front_picture, front_view
from pleatwright.picture.faces import Cloth, Faces, left_to_right
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def kilt(name: str, selvedge: str = "3") -> tuple[Option, Request]:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    text = text.replace('stripe = "W6", distance = "3"', f'stripe = "W6", distance = "{selvedge}"')
    request = read_order(text, source=name).request
    option = make_plan(request).chosen
    assert option is not None
    return option, request


def unhemmed(option: Option) -> Option:
    """The same kilt where the piece is too narrow to hem a strip, so that the lines stay apart."""
    assert option.cloth is not None
    assert option.cloth.join is not None
    join = replace(option.cloth.join, hem_first=0.0, hem_second=0.0)
    return replace(option, cloth=replace(option.cloth, join=join))


def pixels(option: Option, request: Request, width: int = 1400) -> NDArray[np.int64]:
    image = back_picture(option, request, width_px=width, folds=False)
    return np.asarray(image).astype(np.int64)


def test_a_thread_may_change_its_size_within_a_reveal() -> None:
    """A face whose tape has a knot in it is two panels, each with its own threads an inch."""
    option, request = kilt("measured-piece")
    cloth = Cloth.of(option, request)
    knot = cloth.along.tape[3]
    faces = Faces(np.array([[0.0, 1.0]]), np.array([[knot - 0.25]]), np.array([[knot + 0.75]]))
    panels, second = cloth.panels(faces, 100.0, 0.0)
    assert panels.edges[0].tolist() == pytest.approx([0, 25, 100])
    assert not second.any()
    inches = np.array([knot - 0.1, knot + 0.1])
    assert (1 / panels.pace[0] / 100).tolist() == pytest.approx(
        cloth.along.thread_sizes(cloth.along.threads_at(inches)).tolist()
    )
    assert cloth.along.tape_at(float(panels.first[0, 1])) == pytest.approx(knot)


def test_horizontals_step_at_a_join_that_does_not_meet_by_as_much_as_the_plan_says() -> None:
    option, request = kilt("double-width", "2")
    option = unhemmed(option)
    join = option.join
    assert join is not None
    assert join.horizontals_off == pytest.approx(2)
    picture, view = pixels(option, request), back_view(option, request, 1400)
    reveal, strips = option.level(LevelName.HIP).reveal, left_to_right(option)
    lowest = slice(round(view.top + 10 * view.scale), round(view.top + (view.long - 0.2) * view.scale))

    def lights(strip: int) -> NDArray[np.int64]:
        at = int(view.middle + (strip + 0.5 - len(strips) / 2) * reveal * view.scale)
        summed: NDArray[np.int64] = picture[lowest, at].sum(axis=-1)
        return summed

    first = [i for i, strip in enumerate(strips) if strip.centre < join.tape]
    before = first[2]
    after = next(
        i
        for i, strip in enumerate(strips)
        if i not in first and strip.phase == pytest.approx(strips[before].phase)
    )
    steps = range(-int(3 * view.scale), int(3 * view.scale))
    same = [np.abs(np.roll(lights(before), -step) - lights(after))[200:-200].mean() for step in steps]
    assert steps[int(np.argmin(same))] == pytest.approx(2 * view.scale, abs=1)


def test_horizontals_run_through_where_the_join_meets() -> None:
    option, request = kilt("double-width")
    assert option.cloth is not None
    assert option.cloth.join is not None
    off = replace(option.cloth.join, horizontals_off=0.0)
    straight = replace(option, cloth=replace(option.cloth, join=None))
    met = replace(option, cloth=replace(option.cloth, join=off))
    assert np.array_equal(pixels(met, request), pixels(straight, request))


@pytest.mark.parametrize("selvedge, hemmed", [("2", "second"), ("4", "first")])
def test_horizontals_run_through_where_a_strip_is_hemmed(selvedge: str, hemmed: str) -> None:
    option, request = kilt("double-width", selvedge)
    assert option.cloth is not None
    assert option.join is not None
    assert option.join.hemmed == hemmed
    first, second = Cloth.of(option, request).higher
    assert first == pytest.approx(second)
    if hemmed == "second":  # then the first one lies as a single strip does
        straight = replace(option, cloth=replace(option.cloth, join=None))
        assert np.array_equal(pixels(option, request), pixels(straight, request))
        assert not np.array_equal(pixels(unhemmed(option), request), pixels(straight, request))


def test_an_apron_beyond_the_join_has_the_second_strips_horizontals() -> None:
    """The same kilt with its seam moved before the over-apron: all that changes is how high its lines lie."""
    option, request = kilt("double-width", "2")
    option = unhemmed(option)
    assert option.cloth is not None
    assert option.cloth.join is not None
    early = replace(option.cloth.join, tape=0.01)
    moved = replace(option, cloth=replace(option.cloth, join=early))
    view = front_view(option, request, 900)
    one, other = (
        np.asarray(front_picture(each, request, width_px=900, folds=False)).astype(int)
        for each in (option, moved)
    )
    left, right = (float(edge[-1]) for edge in apron_edges(option, request, view.depths))
    apron = slice(int(view.x(np.array(left))) + 30, int(view.x(np.array(right))) - 30)
    up = round(2 * view.scale)
    rows = slice(up + 40, view.height - up - 40)
    shifted = np.roll(one, -up, axis=0)[rows, apron]
    assert np.mean(np.abs(shifted - other[rows, apron]).max(axis=-1) <= 8) > 0.8
    assert np.mean(np.abs(one - other)[rows, apron].max(axis=-1) <= 8) < 0.5


def test_stripes_read_across_lie_where_they_were_read() -> None:
    """The warp is as the readings have it: a sett that is longer higher up is drawn longer there."""
    option, request = kilt("demo")
    assert request.piece is not None
    n = request.tartan.warp.n
    first = request.tartan.warp.mirror_centres[0]
    heights = (Fraction(2), Fraction(8), Fraction(15), Fraction(23))
    readings = tuple(Reading("", first + turn * n, float(at)) for turn, at in enumerate(heights))
    asked = replace(request, piece=replace(request.piece, readings_across=readings))
    picture, view = pixels(option, asked), back_view(option, asked, 1400)
    column = picture[:, view.width // 2]
    for height in heights:
        row = view.top + (view.long - float(height)) * view.scale
        # a mirror centre: the colours above and below it are alike, read to the same scale on both sides
        near = [column[int(row + step)] for step in (-3, 3)]
        assert np.abs(near[0] - near[1]).max() <= 1
    sizes = [float(b - a) for a, b in pairwise(heights)]
    cloth = Cloth.of(option, asked)
    for size, low in zip(sizes, heights, strict=False):
        assert cloth.up.inches_a_thread(cloth.up.thread_at(float(low) + 1)) == pytest.approx(size / n)
