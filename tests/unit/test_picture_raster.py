"""The flat tartan against counting threads out one by one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from pleatwright.picture import tartan_picture, woven
from pleatwright.picture.light import light_of
from pleatwright.picture.twill import Twill
from pleatwright.sett import Sett, Tartan

setts = st.lists(st.tuples(st.sampled_from("BKWRYG"), st.integers(1, 9)), min_size=1, max_size=7).map(
    Sett.of_runs
)
twills = st.sampled_from(["Z", "S"])
LOPSIDED = Sett.of_runs([("R", 7), ("G", 3), ("K", 2), ("Y", 1)])


def tartan(warp: Sett, weft: Sett | None = None) -> Tartan:
    return Tartan("", warp, weft or warp, (), "", "whole")


def on_top(cloth: Tartan, i: int, j: int, twill: str) -> str:
    """Textbooks of weaving: over two, under two, one on with each row; Z rises to the right."""
    place = (i - j) % 4 if twill == "Z" else (i + j) % 4
    sett, thread = (cloth.weft, i) if place in (0, 1) else (cloth.warp, j)
    return sett.threads()[thread % sett.n]


@given(
    setts,
    setts,
    twills,
    st.floats(0.05, 0.5),
    st.floats(0.05, 0.5),
    st.floats(-400, 400),
    st.floats(-400, 400),
)
@settings(max_examples=60)
def test_every_pixel_is_the_thread_on_top_under_its_middle(
    warp: Sett, weft: Sett, twill: Twill, along: float, up: float, first: float, lowest: float
) -> None:
    cloth, wide, high = tartan(warp, weft), 23, 17
    picture = woven(cloth, wide, high, threads_per_px=(along, up), phases=(first, lowest), twill=twill)
    for y in range(high):
        for x in range(wide):
            i = int(np.floor(first + (x + 0.5) * along))
            j = int(np.floor(lowest + (high - y - 0.5) * up))
            assert tuple(picture[y, x]) == cloth.rgb(on_top(cloth, i, j, twill)), (x, y)


@given(setts, setts, twills, st.sampled_from([5, 6]), st.integers(-40, 40), st.integers(-40, 40))
@settings(max_examples=30)
def test_beyond_half_a_thread_a_pixel_it_is_the_mean_of_what_it_holds(
    warp: Sett, weft: Sett, twill: Twill, fine: int, first: int, lowest: int
) -> None:
    """Pixels as wide as 5 or 6 eighths of a thread, counted out in eighths."""
    cloth, size, a_thread = tartan(warp, weft), 12, 8
    picture = woven(cloth, size, size, threads_per_px=fine / a_thread, phases=(first, lowest), twill=twill)
    dyes = {code: light_of(cloth.rgb(code)) for code in "BKWRYG"}
    threads = range(size)
    table = {(i, j): dyes[on_top(cloth, first + i, lowest + j, twill)] for i in threads for j in threads}
    counted = np.array(
        [[table[x // a_thread, y // a_thread] for x in range(size * fine)] for y in range(size * fine)]
    )
    means = counted.reshape(size, fine, size, fine, 3).mean(axis=(1, 3))[::-1]
    np.testing.assert_allclose(light(picture), means, atol=0.006)


def light(picture: NDArray[np.uint8]) -> NDArray[np.float64]:
    share = picture / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


@pytest.mark.parametrize("twill, other", [("Z", "S"), ("S", "Z")])
def test_turning_keeps_the_twill_line_and_turning_face_down_changes_it(twill: Twill, other: Twill) -> None:
    """By 180° an asymmetric cloth is reversed both ways, its line kept; face down it is reversed one way, and
    the line runs the other way [derived]."""
    cloth = tartan(LOPSIDED)
    n, size = LOPSIDED.n, 4 * LOPSIDED.n
    picture = woven(cloth, size, size, threads_per_px=0.25, twill=twill)
    back = tartan(LOPSIDED.reversed())
    # thread i becomes thread -1 - i, so a cloth that begins with a whole sett begins with one again
    shifts = [
        (along, up)
        for along in range(0, 4 * n, n)
        for up in range(0, 4 * n, n)
        if np.array_equal(
            woven(back, size, size, threads_per_px=0.25, phases=(along, up), twill=twill), picture[::-1, ::-1]
        )
    ]
    assert shifts
    face_down = tartan(LOPSIDED, LOPSIDED.reversed())
    down = {
        line: [
            up
            for up in range(0, 4 * n, n)
            for under in (woven(face_down, size, size, threads_per_px=0.25, phases=(0, up), twill=line),)
            if np.array_equal(under, picture[:, ::-1])
        ]
        for line in (twill, other)
    }
    assert down[other]
    assert not down[twill]
    assert not np.array_equal(picture, woven(back, size, size, threads_per_px=0.25, twill=twill))


@pytest.mark.parametrize("pace", [0.8, 1.0, 1.13, 1.5, 1.9, 2.05, 3.7, 4.1, 7.3])
def test_a_twill_finer_than_the_pixels_makes_no_false_stripes(pace: float) -> None:
    """Black weft and white warp are an even grey wherever the twill is too fine to be seen."""
    cloth = tartan(Sett.of_runs([("W", 4)]), Sett.of_runs([("K", 4)]))
    grey = light(woven(cloth, 240, 240, threads_per_px=pace))[..., 0]
    blocks = grey.reshape(24, 10, 24, 10).mean(axis=(1, 3))
    assert np.ptp(blocks) < 0.02 * grey.mean()
    if pace > 1.5:
        assert np.ptp(grey) < 0.02


@pytest.mark.parametrize("pace", [0.31, 0.5, 0.9, 2.0, 9.0])
def test_an_array_may_be_given_to_be_filled(pace: float) -> None:
    cloth, filled = tartan(LOPSIDED), np.zeros((30, 40, 3), dtype=np.uint8)
    given_back = woven(cloth, 40, 30, threads_per_px=pace, out=filled)
    assert given_back is filled
    assert np.array_equal(filled, woven(cloth, 40, 30, threads_per_px=pace))
    with pytest.raises(ValueError, match="shape"):
        woven(cloth, 41, 30, threads_per_px=pace, out=filled)


@pytest.mark.parametrize("size, pace", [((0, 4), 1.0), ((4, 0), 1.0), ((4, 4), 0.0), ((4, 4), -1.0)])
def test_a_raster_without_pixels_or_threads_is_refused(size: tuple[int, int], pace: float) -> None:
    with pytest.raises(ValueError, match="at least one pixel"):
        woven(tartan(LOPSIDED), *size, threads_per_px=pace)


def test_a_tartan_picture_is_square_in_inches_though_the_sett_is_not() -> None:
    cloth = tartan(Sett.of_runs([("W", 10), ("K", 30)]))
    picture = np.asarray(tartan_picture(cloth, width_px=400, setts=2, sett_sizes=(6.0, 4.0))).astype(int)
    whites = [(picture.mean(axis=(axis, 2)) > 110).astype(int) for axis in (0, 1)]
    along, up = (np.flatnonzero(np.diff(white, prepend=0) == 1) for white in whites)
    assert picture.shape == (400, 400, 3)
    assert np.diff(along).tolist() == [200]
    assert np.diff(up) == pytest.approx(400 * 4 / 12, abs=1)
