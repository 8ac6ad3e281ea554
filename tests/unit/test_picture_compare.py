"""Pictures side by side, the waist enlarged, lines at risk: looked at pixel by pixel, and in words."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.order import read_order
from pleatwright.picture import PAPER, alt_text, back_picture, back_view
from pleatwright.picture.captions import column_width, ring, wrapped
from pleatwright.picture.compare import (
    beside_tartan,
    in_shade,
    letters,
    options_picture,
    shade_of,
    shades_picture,
    waist_picture,
)
from pleatwright.picture.risk_overlay import MARKS, risk_picture, risk_places
from pleatwright.picture.words import OfOption, options_alt_text, risk_words
from pleatwright.sett import SHADES, default_palette
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"
Pixels = NDArray[np.int64]


@cache
def planned(name: str, style: str) -> tuple[Request, Plan]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text(), source=name, styles=(style,))
    return job.request, make_plan(job.request)


def chosen(name: str, style: str) -> tuple[Request, Option]:
    request, plan = planned(name, style)
    assert plan.chosen is not None
    return request, plan.chosen


def at_risk() -> tuple[Request, Option]:
    """An option of which the taper takes narrow lines away."""
    request, plan = planned("womans-taper", "knife to the sett")
    return request, next(option for option in plan.options if len(option.lines_at_risk) > 1)


def pixels(image: Image.Image) -> Pixels:
    return np.asarray(image).astype(np.int64)


def holds(sheet: Image.Image, part: Image.Image, x: int, y: int) -> bool:
    return bool((pixels(sheet.crop((x, y, x + part.width, y + part.height))) == pixels(part)).all())


def test_the_contact_sheet_holds_every_back_at_one_scale_best_first() -> None:
    request, plan = planned("demo", "knife to the stripe")
    sheet = options_picture(plan.options, request, width_px=1200)
    assert sheet.width == 1200
    assert len({back_view(option, request, 300) for option in plan.options}) == 1
    size, count = letters(1200), len(plan.options)
    columns = {1: 1, 2: 2, 3: 3, 4: 2, 5: 3, 6: 3}[count]
    wide = column_width(columns, 1200, size)
    gap = (1200 - columns * wide) // (columns + 1)
    backs = [back_picture(option, request, width_px=wide) for option in plan.options[:columns]]
    for place, back in enumerate(backs):
        assert holds(sheet, back, gap + place * (wide + gap), gap)
    below = pixels(sheet)[gap + backs[0].height : gap + backs[0].height + 3 * size]
    assert (below.sum(axis=-1) < 200).any(), "captions are written below"


def test_shades_change_the_colours_and_nothing_else() -> None:
    request, option = chosen("demo", "knife to the stripe")
    for shade in SHADES:
        shaded = in_shade(request, shade)
        assert shade_of(shaded) == shade
        assert {code: shaded.tartan.hex_of(code) for code in "GKBW"} == {
            code: default_palette(shade)[code] for code in "GKBW"
        }
        assert replace(shaded, tartan=request.tartan) == request
    with pytest.raises(KeyError):
        in_shade(request, "loud")
    sheet = shades_picture(option, request, width_px=1200)
    wide = column_width(3, 1200, letters(1200))
    gap = (1200 - 3 * wide) // 4
    for place, asked in enumerate((request, in_shade(request, "modern"), in_shade(request, "ancient"))):
        assert holds(sheet, back_picture(option, asked, width_px=wide), gap + place * (wide + gap), gap)


def test_a_clients_own_colour_code_keeps_its_colour_in_every_shade() -> None:
    request, _ = chosen("demo", "knife to the stripe")
    tartan = replace(request.tartan, palette=(*request.tartan.palette, ("XYZ", "#123456")))
    for shade in SHADES:
        assert in_shade(replace(request, tartan=tartan), shade).tartan.hex_of("XYZ") == "#123456"


def test_the_flat_tartan_stands_beside_the_back_at_its_scale() -> None:
    request, option = chosen("demo", "knife to the sett")
    sheet = beside_tartan(option, request, width_px=1400)
    wide = column_width(2, 1400, letters(1400))
    gap = (1400 - 2 * wide) // 3
    view = back_view(option, request, wide)
    assert holds(sheet, back_picture(option, request, width_px=wide), gap, gap)
    top = gap + round(view.top)
    flat = pixels(sheet)[top : top + round(view.long * view.scale), 2 * gap + wide : 2 * gap + 2 * wide]
    # one sett further on the pattern is the same again: the scale is that of the back
    sett = float(request.sett_along) * view.scale
    on = round(sett)
    away = np.abs(flat[:, :-on] - flat[:, on:]).mean()
    half = np.abs(flat[:, : -on // 2] - flat[:, on // 2 :][:, : flat[:, : -on // 2].shape[1]]).mean()
    assert away < 0.35 * half


def test_the_waist_is_the_back_two_and_a_half_to_four_times_as_large() -> None:
    request, option = chosen("demo", "knife to the stripe")
    width = 1200
    waist = waist_picture(option, request, width_px=width, only_middle=True)
    view = back_view(option, request, width)
    size = letters(width)
    middle = pixels(waist)[:, width - 400]
    kilt = np.flatnonzero((middle != PAPER).any(axis=1))
    top = 2.2 * size + size  # head, and white above the top edge
    assert abs(kilt[0] - top) < 3
    # a level lies as many times further down as the picture is enlarged
    back = pixels(back_picture(option, request, width_px=width))
    column = back[:, round(view.middle)]
    assert (column[round(view.top) + 3] != PAPER).any()
    inches = (kilt[-1] - kilt[0]) / view.scale
    shown = float(request.sizes.rise) + 1.75
    assert 2.5 <= inches / shown <= 4


def test_the_waist_in_rows_shows_the_whole_back_and_says_which_pleats() -> None:
    request, option = chosen("demo", "knife to the stripe")
    whole = waist_picture(option, request, width_px=900)
    row = waist_picture(option, request, width_px=900, only_middle=True)
    assert whole.width == row.width == 900
    assert 2.8 < whole.height / row.height < 3.01


def test_what_the_waist_shows_is_the_upper_part_of_the_same_kilt() -> None:
    """Horizontals are counted from the bottom: cutting the picture off must not move them."""
    request, option = chosen("belly", "knife to the stripe")
    waist = waist_picture(option, request, width_px=1000, cut=1, only_middle=True)
    view = back_view(option, request, 1000)
    back = back_picture(option, request, width_px=1000)
    seen = pixels(waist)
    rows = np.flatnonzero((seen[:, 600] != PAPER).any(axis=1))
    ours = seen[rows[0] : rows[-1] + 1, 600]
    shown, middle = float(request.sizes.rise) + 1.75, round(view.middle)

    def apart(lower: float) -> float:
        """From the same part of the back, taken so many inches lower."""
        top, bottom = (round(view.top + (lower + at) * view.scale) for at in (0.0, shown))
        part = back.crop((middle - 5, top, middle + 5, bottom)).resize((10, len(ours)))
        return float(np.abs(ours.sum(axis=1) - pixels(part).mean(axis=1).sum(axis=1)).mean())

    assert apart(0.0) < 0.7 * min(apart(lower) for lower in (0.5, 1.0, 2.0))


def test_lines_at_risk_are_ringed_where_they_are() -> None:
    request, option = at_risk()
    picture = risk_picture(option, request, width_px=1600)
    wide = round(1600 * 0.62)
    view = back_view(option, request, wide)
    seen = pixels(picture)
    for line, colour in zip(option.lines_at_risk, MARKS, strict=False):
        places = risk_places(line, option, request)
        assert {place.pleat for place in places} == set(line.pleats)
        for place in places:
            x, y = view.middle + view.scale * place.x, view.top + view.scale * place.depth
            around = seen[round(y) - 16 : round(y) + 16, round(x) - 16 : round(x) + 16]
            assert (np.abs(around - colour).max(axis=-1) < 12).any()


def test_a_ringed_line_is_the_one_that_is_named() -> None:
    request, option = at_risk()
    sett = request.tartan.weft
    assert option.cloth is not None
    run = option.cloth.run(sett)
    strips = sorted(option.strips, key=lambda strip: strip.centre)
    for line in option.lines_at_risk:
        word = line.name.split(",")[0]
        code = {"black": "K", "purple": "P", "light purple": "LP", "white": "W", "grey": "N"}[word]
        whole = 0
        for place in risk_places(line, option, request):
            level = LevelName.STRAP if place.depth == float(request.sizes.rise) else LevelName.HIP
            reveal = option.level(level).reveal
            number = [strip.number for strip in strips].index(place.pleat)
            strip = strips[number]
            middle = (number + 0.5) * reveal - len(strips) * reveal / 2
            thread = run.thread_at(strip.centre + place.x - middle)
            clear = 1.0 / run.inches_a_thread(thread) / 64
            near = {sett.colour_at(thread + way * clear) for way in (-1, 0, 1)}
            assert abs(place.x - middle) <= reveal / 2 + 1e-9
            whole += code in near
        assert whole >= len(line.pleats) / 2, "but for those that the fold has taken"


def test_without_lines_at_risk_the_picture_says_so_and_rings_nothing() -> None:
    request, option = chosen("demo", "knife to the stripe")
    assert option.lines_at_risk == ()
    picture = risk_picture(option, request)
    back = back_picture(option, request, width_px=round(1600 * 0.62), straps=False)
    assert holds(picture, back, 0, 0)
    assert (pixels(picture)[:200, back.width :] != PAPER).any()


def test_rings_are_smooth_and_round() -> None:
    image = Image.new("RGB", (60, 60), "white")
    ring(image, 30.0, 30.0, 12.0, (200, 0, 0), line=3.0)
    seen = pixels(image)
    assert tuple(seen[30, 30]) == (255, 255, 255)
    assert tuple(seen[30, 42]) == (200, 0, 0)
    assert tuple(seen[42, 30]) == (200, 0, 0)
    assert np.abs(seen - seen[::-1]).max() <= 1
    assert ((seen[..., 1] > 20) & (seen[..., 1] < 235)).any()


def test_captions_keep_every_word_within_their_width() -> None:
    text = "27 knife pleats on the narrow white in the black, once a sett"
    on = ImageDraw.Draw(Image.new("RGB", (10, 10)))
    assert on is not None
    for width in (120, 200, 400):
        lines = wrapped(text, width, 16)
        assert " ".join(lines) == text
        assert all(len(line.split()) == 1 or len(line) < width / 6 for line in lines)


def test_every_picture_is_told_in_words() -> None:
    request, option = at_risk()
    whats: tuple[OfOption, ...] = ("back", "front", "waist", "above", "shades", "tartan", "lines")
    told = {what: alt_text(option, request, what) for what in whats}
    assert len(set(told.values())) == len(whats)
    for what, words in told.items():
        assert words.endswith(".")
        assert 40 < len(words) < 900
        assert what == "front" or option.title in words
        assert what in ("waist", "above") or "Larkfell" in words
    for line in option.lines_at_risk:
        assert risk_words(line, request) in told["lines"]
        assert line.name in told["waist"]
    assert "under-apron on the left" in told["above"]
    metric = alt_text(option, replace(request, units="metric"), "above")
    assert " mm of cloth in the deep pleat" in metric
    assert '"' not in metric


def test_the_contact_sheet_in_words_names_every_option() -> None:
    request, plan = planned("demo", "knife to the stripe")
    words = options_alt_text(plan.options, request)
    assert words.startswith(f"{len(plan.options)} kilts in Tarnside")
    assert all(f"{option.number}, {option.title}" in words for option in plan.options)
    assert options_alt_text(plan.options[:1], request).startswith("The only kilt")
