"""Pictures against the outside: the written plan read by a small loop of its own, and a published measure of
colour difference.

The pairs of Sharma, Wu and Dalal (2005, "The CIEDE2000 color-difference formula") are given from memory.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from coloraide import Color
from numpy.typing import NDArray

from pleatwright.layout import make_plan
from pleatwright.order import read_order
from pleatwright.picture import back_picture, back_view, woven
from pleatwright.sett import Sett, Tartan, parse_count
from pleatwright.shop import plan_json

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

SHARMA = """
50 2.6772 -79.7751        50 0 -82.7485             2.0425
50 3.1571 -77.2803        50 0 -82.7485             2.8615
50 2.8361 -74.0200        50 0 -82.7485             3.4412
50 -1.3802 -84.2814       50 0 -82.7485             1.0000
50 0 0                    50 -1 2                   2.3669
50 2.4900 -0.0010         50 -2.4900 0.0009         7.1792
50 2.4900 -0.0010         50 -2.4900 0.0011         7.2195
50 2.5 0                  50 0 -2.5                 4.3065
50 2.5 0                  73 25 -18                 27.1492
50 2.5 0                  61 -5 29                  22.8977
50 2.5 0                  56 -27 -3                 31.9030
50 2.5 0                  58 24 15                  19.4535
60.2574 -34.0099 36.2677  60.4626 -34.1751 39.4387  1.2644
63.0109 -31.0961 -5.8663  62.8187 -29.7946 -4.0864  1.2630
22.7233 20.0904 -46.6940  23.0331 14.9730 -42.5619  2.0373
2.0776 0.0795 -1.1350     0.9033 -0.0636 -0.5514    0.9082
"""


@pytest.mark.parametrize("line", SHARMA.strip().splitlines())
def test_the_library_that_judges_colours_gives_the_published_differences(line: str) -> None:
    """Sharma, Wu, Dalal 2005, pairs from memory."""
    *figures, wanted = (float(word) for word in line.split())
    one, other = Color("lab-d65", figures[:3]), Color("lab-d65", figures[3:])
    assert one.delta_e(other, method="2000") == pytest.approx(wanted, abs=1e-4)


@pytest.mark.parametrize(
    "count",
    [
        "A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6",
        "R24 G8 K4 Y2 B16 W2 ...",
        "K/2 W2 K2 W/2 // Y/6 V10 W/4",
    ],
)
@pytest.mark.parametrize("pixels_a_sett", [7, 60, 200])
def test_whole_setts_scaled_down_keep_the_mean_of_their_threads(count: str, pixels_a_sett: int) -> None:
    """Within 1 of the CIEDE2000 measure; weft and warp are half of a 2/2 twill [textbooks of weaving]."""
    read = parse_count(count)
    cloth = Tartan("", read.warp, read.weft, read.palette, read.written, read.pivots)
    paces = (cloth.weft.n / pixels_a_sett, cloth.warp.n / pixels_a_sett)
    # four setts hold whole turns of the twill, whatever the count
    side = 4 * pixels_a_sett
    picture = woven(cloth, side, side, threads_per_px=paces)
    mean = Color("srgb-linear", light(picture).mean(axis=(0, 1)).tolist())
    every = [
        np.mean(
            [Color(cloth.hex_of(code)).convert("srgb-linear").coords() for code in sett.threads()], axis=0
        )
        for sett in (cloth.weft, cloth.warp)
    ]
    wanted = Color("srgb-linear", np.mean(every, axis=0).tolist())
    assert mean.delta_e(wanted, method="2000") < 1


def light(picture: NDArray[np.uint8]) -> NDArray[np.float64]:
    """From sRGB to linear light (IEC 61966-2-1)."""
    share = picture / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


@cache
def example(path: Path) -> tuple[Any, Any, Any]:
    """Job, plan, and what plan.json says."""
    job = read_order(path.read_text(encoding="utf-8"), source=path.name)
    plan = make_plan(job.request)
    return job, plan, json.loads(plan_json(job, plan))


def run_ends(sett: Sett, first: float, last: float) -> list[float]:
    """Threads at which one colour ends and another begins, between two threads."""
    codes = sett.threads()
    ends = range(int(np.ceil(first)), int(np.floor(last)) + 1)
    return [end for end in ends if codes[end % sett.n] != codes[(end - 1) % sett.n] and first < end < last]


def seen_runs(
    record: Any, option: Any, sett: Sett, level: str, scale: float
) -> list[tuple[float, float, str]]:
    """From plan.json alone: every run of colour at a level, from behind: pixels from the pleats' middle."""
    reveal = next(one["reveal"] for one in option["levels"] if one["level"] == level)
    if option["cloth"] is None:
        thread = record["tartan"]["sett_along"]["inches"] / record["tartan"]["threads_along"]
        apron = option["over_apron"]
        tapes = np.array([0.0, apron["centre"]])
        threads = apron["thread"] + (tapes - apron["centre"]) / thread
        tapes, threads = np.append(tapes, 1000.0), np.append(threads, threads[0] + 1000.0 / thread)
    else:
        tapes, threads = np.array(option["cloth"]["tape"]), np.array(option["cloth"]["threads"])
    strips = sorted(option["strips"], key=lambda strip: strip["centre"])
    left = -sum(strip["face"] for strip in strips) * reveal / 2
    codes, runs = sett.threads(), []
    for strip in strips:
        half = strip["face"] * reveal / 2
        first, last = np.interp([strip["centre"] - half, strip["centre"] + half], tapes, threads)
        ends = [first, *run_ends(sett, first, last), last]
        places = left + np.interp(ends, threads, tapes) - strip["centre"] + half
        for a, b, begins in zip(places, places[1:], ends, strict=False):
            code = codes[int(np.floor(begins + 1e-4)) % sett.n]
            runs.append((float(a) * scale, float(b) * scale, code))
        left += 2 * half
    joined: list[tuple[float, float, str]] = []
    for a, b, code in runs:
        if joined and joined[-1][2] == code:
            joined[-1] = (joined[-1][0], b, code)
        else:
            joined.append((a, b, code))
    return joined


@cache
def twill_colours(tartan: Tartan, warp: str) -> NDArray[np.int64]:
    """Each colour along, half and half with one across: sRGB, a row each."""
    mixed = [
        Color(tartan.hex_of(code)).mix(tartan.hex_of(warp), 0.5, space="srgb-linear").convert("srgb")
        for code in tartan.weft.colours
    ]
    return np.array([[round(255 * part) for part in colour.coords()] for colour in mixed])


def matching(pixels: NDArray[np.int64], colours: NDArray[np.int64]) -> int:
    """How many of the pixels have one of the colours."""
    off = np.abs(pixels[:, None] - colours).max(axis=-1)
    return int(np.count_nonzero(off.min(axis=1) <= 1))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("level", ["hip line", "strap line"])
def test_the_picture_shows_the_runs_of_colour_that_the_written_plan_says(path: Path, level: str) -> None:
    """Read back within one pixel along one row; the row is a whole stripe across, so its colour is known."""
    job, plan, record = example(path)
    tartan, option = job.request.tartan, record["options"][0]
    view = back_view(plan.chosen, job.request, 1600)
    picture = np.asarray(back_picture(plan.chosen, job.request, width_px=1600, folds=False)).astype(int)
    below = next(one["below_top"]["inches"] for one in record["sizes"]["levels"] if one["name"] == level)
    row = int(view.top + below * view.scale)
    runs = seen_runs(record, option, tartan.weft, level, view.scale)
    middle = view.width / 2
    # the row on the level, or the nearest up or down that does not lie on two stripes across
    found = [(row + step, warp) for step in (0, 1, -1, 2, -2) for warp in tartan.warp.colours]
    row, warp = max(found, key=lambda one: matching(picture[one[0]], twill_colours(tartan, one[1])))
    colours = dict(zip(tartan.weft.colours, twill_colours(tartan, warp), strict=True))
    checked = 0
    for begins, ends, code in runs:
        inner = range(int(np.ceil(middle + begins + 1)), int(np.floor(middle + ends - 1)))
        for at in inner:
            assert np.abs(picture[row, at] - colours[code]).max() <= 1, (code, begins, ends, at - middle)
        checked += len(inner)
    width = runs[-1][1] - runs[0][0]
    assert checked > width - 3 * len(runs) - 1
    assert width == pytest.approx(
        view.scale * next(o["pleated"]["inches"] for o in record["sizes"]["levels"] if o["name"] == level),
        abs=0.01,
    )
