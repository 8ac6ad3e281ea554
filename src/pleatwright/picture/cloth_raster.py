"""The flat tartan as a raster, from several pixels a thread to many threads a pixel."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers
from pleatwright.picture.light import light_of, shown
from pleatwright.picture.twill import OVER, REPEAT, Twill, clearness, shift, weft_over
from pleatwright.sett import Sett, Tartan

if TYPE_CHECKING:
    from PIL.Image import Image

CRISP = 0.5
"""Threads a pixel up to which every pixel is the one thread under its middle; beyond, a mean."""

_ROWS_AT_ONCE = 64

Raster = NDArray[np.uint8]


class Axis(NamedTuple):
    """How threads lie in pixels one way: the thread at the first pixel's edge, threads a pixel."""

    phase: float
    pace: float


def woven(
    tartan: Tartan,
    width_px: int,
    height_px: int,
    *,
    threads_per_px: float | tuple[float, float],
    phases: tuple[float, float] = (0.0, 0.0),
    twill: Twill = "Z",
    out: Raster | None = None,
) -> Raster:
    """The flat cloth as sRGB, height × width × 3: weft and warp of a 2/2 twill, each with its own count.

    `threads_per_px` and `phases` (threads): along from the left edge, then across from the bottom edge up;
    a single figure is for both.  Up to half a thread a pixel every pixel is the thread under its middle;
    beyond, the mean of all it holds, in linear light, and a twill too fine for the pixels fades into half and
    half.  `out`: an array of that shape to be filled and given back.  Raises ValueError for a size or a scale
    that is not above 0, or an `out` of another shape.
    """
    paces = threads_per_px if isinstance(threads_per_px, tuple) else (threads_per_px, threads_per_px)
    if width_px < 1 or height_px < 1 or not min(paces) > 0:
        raise ValueError("a raster has at least one pixel, and more than 0 threads a pixel")
    along, up = (Axis(*pair) for pair in zip(phases, paces, strict=True))
    if out is None:
        out = np.empty((height_px, width_px, 3), dtype=np.uint8)
    elif out.shape != (height_px, width_px, 3) or not out.flags.c_contiguous:
        raise ValueError("out has another shape than the raster, or does not lie in one piece")
    if max(paces) <= CRISP:
        _thread_by_thread(out, tartan, along, up, twill)
    else:
        _means(out, tartan, along, up, twill)
    return out


def tartan_picture(
    tartan: Tartan, *, width_px: int, setts: float = 1.0, sett_sizes: tuple[float, float] = (1.0, 1.0)
) -> Image:
    """So many setts of flat cloth along, and as much across as is square; an RGB image.

    `sett_sizes`: inches of a sett along and across; they need not be the same.
    """
    from PIL import Image

    along, across = sett_sizes
    paces = (setts * tartan.weft.n / width_px, setts * tartan.warp.n * along / across / width_px)
    return Image.fromarray(woven(tartan, width_px, width_px, threads_per_px=paces))


def _thread_by_thread(out: Raster, tartan: Tartan, along: Axis, up: Axis, twill: Twill) -> None:
    """One row for each colour across and place in the twill; every row of pixels is one of them."""
    height, width = out.shape[:2]
    columns = _threads(width, along)
    rows = _threads(height, up)[::-1]
    codes = {code: at for at, code in enumerate(tartan.warp.colours)}
    across = np.array([codes[code] for code in tartan.warp.threads()])[rows % tartan.warp.n]
    weft = _rgb(tartan, tartan.weft.threads())[columns % tartan.weft.n]
    warp = _rgb(tartan, tartan.warp.colours)
    top = weft_over(columns, np.arange(REPEAT)[:, None], twill)
    kinds = np.where(top[None, :, :, None], weft, warp[:, None, None])
    table = kinds.reshape(len(warp) * REPEAT, width * 3)
    which = across * REPEAT + rows % REPEAT
    np.take(table, which, axis=0, out=out.reshape(height, width * 3), mode="clip")


def _threads(count: int, axis: Axis) -> NDArray[np.intp]:
    """The thread under each pixel's middle."""
    places = axis.phase + (np.arange(count) + 0.5) * axis.pace
    threads: NDArray[np.intp] = np.floor(places).astype(np.intp)
    return threads


def _rgb(tartan: Tartan, codes: tuple[str, ...] | list[str]) -> Raster:
    return np.array([tartan.rgb(code) for code in codes], dtype=np.uint8)


def _means(out: Raster, tartan: Tartan, along: Axis, up: Axis, twill: Twill) -> None:
    """The exact mean of every pixel: a sum of columns × rows over the twill's four rows of threads."""
    height, width = out.shape[:2]
    clear = float(clearness(np.array(1 / along.pace)) * clearness(np.array(1 / up.pace)))
    weft, columns = _by_place(tartan, tartan.weft, width, along)
    warp, rows = _by_place(tartan, tartan.warp, height, up)
    place = np.arange(REPEAT)
    over = (place[None] - shift(twill) * place[:, None]) % REPEAT < OVER
    top = over * clear + (1 - clear) / 2
    on_top = np.einsum("ji,ciw->cjw", top, weft)  # weft seen beside each of the four rows of threads
    beneath = np.broadcast_to((1 - top) @ columns, on_top.shape)  # where those rows' own threads are seen
    right = np.concatenate([on_top, beneath], axis=1).astype(np.float32)
    left = np.concatenate([np.broadcast_to(rows, warp.shape), warp], axis=1)[:, :, ::-1]
    down = np.ascontiguousarray(left.transpose(0, 2, 1), dtype=np.float32)
    for first in range(0, height, _ROWS_AT_ONCE):
        some = slice(first, first + _ROWS_AT_ONCE)
        out[some] = shown(down[:, some] @ right)


def _by_place(tartan: Tartan, sett: Sett, count: int, axis: Axis) -> tuple[Numbers, Numbers]:
    """Of each pixel what its threads 0, 4 …, 1, 5 …, 2, 6 …, 3, 7 … give: light (3 × 4 × pixels), shares."""
    dyes = {code: light_of(tartan.rgb(code)) for code in sett.colours}
    turns = REPEAT  # a sett of any length comes round with the twill after at most four
    threads = np.array([dyes[code] for code in sett.threads()] * turns).T
    place = np.arange(sett.n * turns) % REPEAT
    light = np.stack([_mean(threads * (place == one), count, axis) for one in range(REPEAT)], axis=1)
    shares = np.stack([_mean((place == one)[None] * 1.0, count, axis)[0] for one in range(REPEAT)])
    return light, shares


def _mean(threads: Numbers, count: int, axis: Axis) -> Numbers:
    """The mean over each pixel of figures thread by thread, repeated for ever: kinds × pixels."""
    n = threads.shape[1]
    sums = np.concatenate([np.zeros((len(threads), 1)), np.cumsum(threads, axis=1)], axis=1)
    at = axis.phase + np.arange(count + 1) * axis.pace
    turns, within = np.divmod(at, n)
    upto = [np.interp(within, np.arange(n + 1), one) + turns * one[-1] for one in sums]
    means: Numbers = np.diff(np.array(upto), axis=1) / axis.pace
    return means
