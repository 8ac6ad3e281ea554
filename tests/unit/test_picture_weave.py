"""Exact means of pixels, against counting them out in small steps."""

from __future__ import annotations

from itertools import accumulate

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import Numbers
from pleatwright.picture.light import light_of, shown
from pleatwright.picture.weave import Panels, Reach, Shadows, colours, covered_by, darkness
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
    x = places()
    panel = np.searchsorted(panels.edges[0], x, side="right") - 1
    within = (panel >= 0) & (panel < panels.pace.shape[1])
    panel = np.clip(panel, 0, panels.pace.shape[1] - 1)
    threads = panels.first[0, panel] + (x - panels.edges[0, panel]) * panels.pace[0, panel]
    dyes = np.array([light_of(cloth.rgb(code)) for code in sett.threads()])
    counted = dyes[np.floor(threads).astype(int) % sett.n] * within[:, None]
    light = colours(panels, reach, sett, cloth)[:, 0].T
    np.testing.assert_allclose(light, counted.reshape(WIDTH, STEPS, 3).mean(axis=1), atol=0.03)
    np.testing.assert_allclose(reach.covered[0], within.reshape(WIDTH, STEPS).mean(axis=1), atol=0.01)


@given(rows_of_panels(), st.integers(0, 2**5 - 1))
def test_chosen_panels_cover_their_share_of_every_pixel(panels: Panels, which: int) -> None:
    chosen = np.array([bool(which >> at & 1) for at in range(panels.pace.shape[1])])
    shares = covered_by(chosen, panels, Reach.of(panels.edges, WIDTH))
    panel = np.searchsorted(panels.edges[0], places(), side="right") - 1
    within = (panel >= 0) & (panel < len(chosen))
    counted = within & chosen[np.clip(panel, 0, len(chosen) - 1)]
    np.testing.assert_allclose(shares[0], counted.reshape(WIDTH, STEPS).mean(axis=1), atol=0.01)


@given(rows_of_panels(), st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0.2, 4))
def test_shadows_fade_from_the_edge_of_a_panel_inwards(
    panels: Panels, left: float, right: float, wide: float
) -> None:
    one = np.ones(panels.pace.shape[1])
    lost = darkness(panels.edges, WIDTH, [Shadows(left * one, right * one, wide)])
    edges = panels.edges[0]
    for pixel in range(WIDTH):
        x = pixel + 0.5
        panel = int(np.searchsorted(edges, x, side="right")) - 1
        if 0 <= panel < len(one) and np.abs(edges - x).min() > 1e-6:
            dark = left * max(0, 1 - (x - edges[panel]) / wide)
            dark += right * max(0, 1 - (edges[panel + 1] - x) / wide)
            assert lost[0, pixel] == pytest.approx(dark, abs=1e-5)


@given(rows_of_panels(), st.sampled_from([0.0, 0.5]), st.sampled_from([0.0, 0.5]))
def test_rows_alike_are_drawn_once(panels: Panels, moved: float, shifted: float) -> None:
    other = Panels(panels.edges + moved, panels.first + shifted, panels.pace)
    rows = Panels(
        *(np.concatenate([a, a, b, b, a]) for a, b in zip(*map(_parts, (panels, other)), strict=True))
    )
    new, which = rows.different()
    again = rows.rows(new).rows(which)
    for whole, part in zip(_parts(rows), _parts(again), strict=True):
        np.testing.assert_array_equal(whole, part)
    assert len(new) == (3 if moved or shifted else 1)


def _parts(panels: Panels) -> tuple[Numbers, Numbers, Numbers]:
    return panels.edges, panels.first, panels.pace


def test_every_srgb_figure_comes_back_from_light_as_it_was() -> None:
    light = np.array([light_of((i, i, i)) for i in range(256)]).T[:, None].astype(np.float32)
    assert (shown(light)[0] == np.arange(256)[:, None]).all()
