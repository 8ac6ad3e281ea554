"""Exact means of pixels, against counting them out in small steps."""

from __future__ import annotations

from itertools import accumulate

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import Numbers
from pleatwright.picture.light import light_of, shown
from pleatwright.picture.weave import Panels, Reach, Shadows, colours, darkness
from pleatwright.sett import Sett, Tartan

WIDTH, STEPS = 12, 500
setts = st.lists(st.tuples(st.sampled_from("BKWRY"), st.integers(1, 9)), min_size=1, max_size=6).map(
    Sett.of_runs
)


@st.composite
def rows_of_panels(draw: st.DrawFn) -> Panels:
    """One row of one to five panels, some of no width, perhaps beyond the picture's edges."""
    widths = draw(st.lists(st.floats(0, 6), min_size=1, max_size=5))
    edges = list(accumulate(widths, initial=draw(st.floats(-2, 6))))
    first = [draw(st.floats(-50, 50)) for _ in widths]
    pace = [draw(st.floats(0.05, 8)) for _ in widths]
    return Panels(np.array([edges]), np.array([first]), np.array([pace]))


def tartan(sett: Sett) -> Tartan:
    return Tartan("", sett, sett, (), "", "whole")


def places() -> Numbers:
    return (np.arange(WIDTH * STEPS) + 0.5) / STEPS


@given(rows_of_panels(), setts)
def test_a_pixel_is_the_mean_of_the_threads_it_holds(panels: Panels, sett: Sett) -> None:
    cloth = tartan(sett)
    reach = Reach.of(panels.edges, WIDTH)
    counted = np.zeros((WIDTH * STEPS, 3))
    covered = np.zeros(WIDTH * STEPS)
    for i, x in enumerate(places()):
        panel = np.searchsorted(panels.edges[0], x, side="right") - 1
        if 0 <= panel < panels.pace.shape[1]:
            thread = panels.first[0, panel] + (x - panels.edges[0, panel]) * panels.pace[0, panel]
            counted[i] = light_of(cloth.rgb(sett.colour_at(float(thread))))
            covered[i] = 1
    light = colours(panels, reach, sett, cloth)[:, 0].T
    np.testing.assert_allclose(light, counted.reshape(WIDTH, STEPS, 3).mean(axis=1), atol=0.06)
    np.testing.assert_allclose(reach.covered[0], covered.reshape(WIDTH, STEPS).mean(axis=1), atol=0.01)


@given(rows_of_panels(), st.floats(0, 1), st.floats(0, 1), st.floats(0.2, 4))
def test_shadows_fade_from_the_edge_of_a_panel_inwards(
    panels: Panels, left: float, right: float, wide: float
) -> None:
    one = np.ones_like(panels.pace)
    lost = darkness(
        panels, Reach.of(panels.edges, WIDTH), Shadows(left * one, right * one, np.array([[wide]]) * one)
    )
    x = places()
    panel = np.searchsorted(panels.edges[0], x, side="right") - 1
    within = (panel >= 0) & (panel < one.shape[1])
    panel = np.clip(panel, 0, one.shape[1] - 1)
    from_left, from_right = x - panels.edges[0, panel], panels.edges[0, panel + 1] - x
    dark = left * np.clip(1 - from_left / wide, 0, 1) + right * np.clip(1 - from_right / wide, 0, 1)
    np.testing.assert_allclose(lost[0], (dark * within).reshape(WIDTH, STEPS).mean(axis=1), atol=0.02)


@given(rows_of_panels(), rows_of_panels())
def test_rows_alike_are_drawn_once(one: Panels, other: Panels) -> None:
    if one.pace.shape != other.pace.shape:
        return
    rows = Panels(*(np.concatenate([a, a, b, b, a]) for a, b in zip(_parts(one), _parts(other), strict=True)))
    new, which = rows.different()
    again = rows.rows(new).rows(which)
    for whole, part in zip(_parts(rows), _parts(again), strict=True):
        np.testing.assert_array_equal(whole, part)
    assert len(new) == (1 if all(map(np.array_equal, _parts(one), _parts(other))) else 3)


def _parts(panels: Panels) -> tuple[Numbers, Numbers, Numbers]:
    return panels.edges, panels.first, panels.pace


def test_every_srgb_figure_comes_back_from_light_as_it_was() -> None:
    figures = np.arange(256)
    light = np.array([light_of((i, i, i)) for i in figures]).T[:, None].astype(np.float32)
    assert (shown(light)[0] == figures[:, None]).all()
