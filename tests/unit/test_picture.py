"""The picture read back pixel by pixel against the plan it was drawn from."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from coloraide import Color
from numpy.typing import NDArray
from PIL import Image

from pleatwright.cloth import Anchor, Numbers, Piece
from pleatwright.layout import Option, Request, Strip, make_plan
from pleatwright.picture import (
    PAPER,
    alt_text,
    apron_edges,
    back_picture,
    back_view,
    front_picture,
    front_view,
    png_bytes,
)
from pleatwright.picture.sides import BESIDE
from pleatwright.pleats import Form, Kind, Shows, Wishes
from pleatwright.sett import Sett, Tartan, parse_count
from pleatwright.trade import default_settings
from pleatwright.wearer import Body, LevelName, Taper, sizes

MILITARY = "A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6"
SMALL = "B/24 W4 B24 R2 K24 G24 W/2"
LOPSIDED = "R24 G8 K4 Y2 B16 W2 ..."
TO_THE_SETT = Kind(Form.KNIFE, Shows.SETT)
SETTINGS = default_settings()

Pixels = NDArray[np.int64]


def tartan(count: str) -> Tartan:
    read = parse_count(count)
    return Tartan("Tarnside", read.warp, read.weft, read.palette, read.written, read.pivots)


def piece(sett: Fraction) -> Piece:
    selvedge = Anchor(14.0, Fraction(7, 4), "")
    return Piece(
        Fraction(30), Fraction(330), sett, sett * Fraction(24, 25), Anchor(2.5, Fraction(1), ""), selvedge
    )


@cache
def request(
    count: str = MILITARY,
    *,
    sett: Fraction = Fraction(13, 2),
    with_piece: bool = True,
    opens_on: str = "right",
    kind: Kind = TO_THE_SETT,
    child: bool = False,
    lap: Fraction | None = None,
) -> Request:
    body = (
        Body(Fraction(22), Fraction(26), Fraction(12), Fraction(4), child=True)
        if child
        else Body(Fraction(34), Fraction(81, 2), Fraction(22), Fraction(6))
    )
    return Request(
        sizes(body, taper=Taper.MAN, settings=SETTINGS, lap=lap),
        tartan(count),
        sett,
        sett,
        piece(sett) if with_piece else None,
        Wishes(kinds=frozenset({kind}), same_middle=False),
        opens_on,
        SETTINGS,
    )


@cache
def chosen(asked: Request) -> Option:
    option = make_plan(asked).chosen
    assert option is not None
    return option


def pixels(image: Image.Image) -> Pixels:
    return np.asarray(image).astype(np.int64)


def twill(weft: str, warp: str) -> list[int]:
    """What half of each colour makes together, reckoned by an independent library of colours."""
    mixed = Color(weft).mix(Color(warp), 0.5, space="srgb-linear").convert("srgb")
    return [round(255 * part) for part in mixed.coords()]


def light_of_shares(share: Numbers) -> Numbers:
    """From sRGB to linear light, both from 0 to 1 (IEC 61966-2-1)."""
    light: Numbers = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return light


def seen_at(strips: tuple[Strip, ...], reveal: float, size: float, x: float) -> float | None:
    """The thread shown x inches right of the left outline; None within 1/30" of a fold."""
    for strip in strips:
        wide = strip.face * reveal
        if x < wide:
            return None if min(x, wide - x) < 1 / 30 else strip.thread + (x - wide / 2) / size
        x -= wide
    return None


def inside(sett: Sett, thread: float, clear: float) -> str | None:
    """The colour there; None nearer than `clear` threads to another."""
    here = {sett.colour_at(thread + way) for way in (-clear, 0, clear)}
    return here.pop() if len(here) == 1 else None


def warp_at(asked: Request, depth: float, clear: float) -> str | None:
    """The colour across at a depth below the top edge, reckoned up from the selvedge."""
    up = float(asked.sizes.total) - depth
    if asked.piece is None:
        phase, size = 0.0, float(asked.sett_across)
    else:
        phase, size = asked.piece.selvedge_phase(asked.tartan), float(asked.piece.sett_across)
    warp = asked.tartan.warp
    code = inside(warp, phase + up * warp.n / size, clear * warp.n / size)
    return None if code is None else asked.tartan.hex_of(code)


def thread_size(asked: Request) -> float:
    along = asked.sett_along if asked.piece is None else asked.piece.sett_along
    return float(along) / asked.tartan.weft.n


CASES = {
    "a man": request(),
    "a small sett": request(SMALL),
    "a sett without mirror": request(LOPSIDED, opens_on="left"),
    "warp and weft unlike": request(f"{SMALL} // {LOPSIDED.removesuffix(' ...')}"),
    "a child's hem, no piece": request(
        "LB/10 N6 DB20 R/4", sett=Fraction(13, 4), with_piece=False, child=True
    ),
    "a centre box": request(SMALL, kind=Kind(Form.CENTRE_BOX, Shows.STRIPE), with_piece=False),
    "boxes": request(SMALL, kind=Kind(Form.BOX, Shows.SETT)),
}
each_case = pytest.mark.parametrize("asked", CASES.values(), ids=CASES.keys())


@each_case
@pytest.mark.parametrize("name", [LevelName.HIP, LevelName.MID, LevelName.STRAP])
def test_every_thread_seen_from_behind_is_the_one_the_strip_shows(asked: Request, name: LevelName) -> None:
    option = chosen(asked)
    view = back_view(option, asked, 1200)
    picture = pixels(back_picture(option, asked, width_px=1200, folds=False))
    row = round(view.top + float(asked.sizes.level(name).below_top) * view.scale)
    while (warp := warp_at(asked, view.depths[row], 1.5 / view.scale)) is None:
        row += 1
    depth = view.depths[row]
    at = [float(asked.sizes.level(level.level).below_top) for level in option.levels]
    reveal = float(np.interp(depth, at, [level.reveal for level in option.levels]))
    strips = tuple(sorted(option.strips, key=lambda strip: strip.centre))
    half = reveal * sum(strip.face for strip in strips) / 2
    size, weft = thread_size(asked), asked.tartan.weft
    checked = 0
    for column in range(view.width):
        thread = seen_at(strips, reveal, size, (column + 0.5 - view.width / 2) / view.scale + half)
        code = None if thread is None else inside(weft, thread, 1 / view.scale / size)
        if code is not None:
            wanted = twill(asked.tartan.hex_of(code), warp)
            assert np.abs(picture[row, column] - wanted).max() <= 1, (name, column)
            checked += 1
    assert checked > 0.4 * view.width


@each_case
def test_the_pleats_are_as_wide_as_they_are_sewn(asked: Request) -> None:
    option = chosen(asked)
    view = back_view(option, asked, 1000)
    picture = pixels(back_picture(option, asked, width_px=1000, folds=False))
    for level in asked.sizes.levels[:4]:
        row = min(int(view.top + float(level.below_top) * view.scale) + 1, view.height - 1)
        cloth = np.flatnonzero(np.any(picture[row] != PAPER, axis=-1))
        wide = cloth[-1] - cloth[0] + 1
        outline = float(level.pleated) + 2 * BESIDE
        assert wide == pytest.approx(outline * view.scale, abs=3)
        assert cloth[0] + cloth[-1] + 1 == pytest.approx(view.width, abs=1)
    column = picture[:, view.width // 2]
    long = np.count_nonzero(np.any(column != PAPER, axis=-1))
    assert long == pytest.approx(float(asked.sizes.drop + asked.sizes.rise) * view.scale, abs=2)


def test_the_outline_is_cut_within_a_pixel_exactly() -> None:
    """Cloth and paper share each pixel of the outline by area: a column's light tells the length."""
    asked = request("K40 ...", kind=plain(Form.KNIFE))
    option = chosen(asked)
    for width in (301, 402, 503):
        view = back_view(option, asked, width)
        light = light_of_shares(pixels(back_picture(option, asked, width_px=width, folds=False)) / 255)
        paper = light_of_shares(np.array(PAPER) / 255)
        cloth = light[view.height // 2, width // 2]
        share = (paper - light) / (paper - cloth)
        long = float(asked.sizes.drop + asked.sizes.rise) * view.scale
        np.testing.assert_allclose(share[:, width // 2].sum(axis=0), long, atol=0.02)
        wide = (float(asked.sizes.level(LevelName.HIP).pleated) + 2 * BESIDE) * view.scale
        np.testing.assert_allclose(share[view.height * 3 // 4].sum(axis=0), wide, atol=0.02)


def test_the_piece_is_drawn_as_it_is_woven_not_as_it_was_to_be() -> None:
    asked = request()
    other = replace(asked, sett_along=Fraction(5), sett_across=Fraction(5))
    for draw in (back_picture, front_picture):
        assert draw(chosen(asked), asked, width_px=200) == draw(chosen(asked), other, width_px=200)


def test_whole_setts_hold_as_much_of_each_colour_as_the_count_says() -> None:
    asked = request(SMALL, sett=Fraction(5))
    option = chosen(asked)
    view = front_view(option, asked, 1500)
    picture = pixels(front_picture(option, asked, width_px=1500, folds=False))
    wide, high = round(2 * 5 * view.scale), round(3 * 5 * 24 / 25 * view.scale)
    left, top = round(view.middle) - wide // 2, round(view.top + 8 * view.scale)
    part = picture[top : top + high, left : left + wide].reshape(-1, 3) / 255
    linear = light_of_shares(part).mean(axis=0)
    threads = [
        Color(asked.tartan.hex_of(code)).convert("srgb-linear").coords()
        for code in asked.tartan.weft.threads()
    ]
    wanted = Color("srgb-linear", np.mean(threads, axis=0).tolist())
    assert Color("srgb-linear", linear.tolist()).delta_e(wanted, method="2000") < 0.5


def test_a_small_picture_is_the_mean_of_a_large_one() -> None:
    asked = request(f"K10 ... // {SMALL}")
    option = chosen(asked)

    def hip_row(width_px: int) -> Numbers:
        view = back_view(option, asked, width_px)
        image = back_picture(option, asked, width_px=width_px, folds=False)
        row = pixels(image)[round(view.top + 15 * view.scale)] / 255
        return light_of_shares(row)

    np.testing.assert_allclose(hip_row(300), hip_row(1500).reshape(300, 5, 3).mean(axis=1), atol=0.005)


@pytest.mark.parametrize("count", [MILITARY, LOPSIDED])
@pytest.mark.parametrize("folds", [True, False])
def test_opening_on_the_left_is_the_mirror_of_opening_on_the_right(count: str, folds: bool) -> None:
    right = request(count, lap=Fraction(1))
    assert right.piece is not None
    run = right.piece.run(right.tartan)
    far_end = -run.thread_at(float(right.piece.length)) % run.sett.n
    left = replace(
        right,
        tartan=replace(right.tartan, weft=right.tartan.weft.reversed()),
        piece=replace(right.piece, left_end=Anchor(far_end, Fraction(0), "")),
        opens_on="left",
    )
    one, other = chosen(right), chosen(left)
    for draw in (back_picture, front_picture):
        seen = pixels(draw(one, right, width_px=700, folds=folds, threads=False))
        mirrored = pixels(draw(other, left, width_px=700, folds=folds, threads=False))[:, ::-1]
        assert np.abs(seen - mirrored).max() <= 1


@each_case
def test_the_apron_shows_its_own_threads_between_its_edges(asked: Request) -> None:
    option = chosen(asked)
    view = front_view(option, asked, 1200)
    picture = pixels(front_picture(option, asked, width_px=1200, folds=False))
    size, weft = thread_size(asked), asked.tartan.weft
    for name in (LevelName.STRAP, LevelName.HIP):
        row = round(view.top + float(asked.sizes.level(name).below_top) * view.scale)
        while (warp := warp_at(asked, view.depths[row], 1.5 / view.scale)) is None:
            row += 1
        left, right = (float(edge[row]) for edge in apron_edges(option, asked, view.depths))
        checked = 0
        for column in range(view.width):
            x = (column + 0.5 - view.middle) / view.scale
            if not left + 2 / view.scale < x < right - 2 / view.scale:
                continue
            code = inside(weft, option.over_apron.thread + x / size, 1 / view.scale / size)
            if code is not None:
                wanted = twill(asked.tartan.hex_of(code), warp)
                assert np.abs(picture[row, column] - wanted).max() <= 1, (name, column)
                checked += 1
        assert checked > 0.5 * (right - left) * view.scale


def test_the_apron_is_as_wide_as_it_is_sewn_with_the_lap_at_its_fringed_edge() -> None:
    asked = request(lap=Fraction(1))
    option = chosen(asked)
    depths = np.array([float(level.below_top) for level in asked.sizes.levels])
    left, right = apron_edges(option, asked, depths)
    np.testing.assert_allclose(right - left, [float(level.over_apron) for level in asked.sizes.levels])
    np.testing.assert_allclose(-left - right, 1.0)


@pytest.mark.parametrize("lap", [Fraction(0), Fraction(1)])
def test_the_pleats_beside_the_apron_go_on_where_it_ends(lap: Fraction) -> None:
    """At its pleat side the first strip begins; at its fringed edge the lap lies on the last ones."""
    asked = request(LOPSIDED, lap=lap)
    option = chosen(asked)
    view = front_view(option, asked, 2400)
    picture = pixels(front_picture(option, asked, width_px=2400, folds=False))
    size, weft = thread_size(asked), asked.tartan.weft
    reveal = option.level(LevelName.HIP).reveal
    row = round(view.top + (float(asked.sizes.fell) + 2) * view.scale)
    while (warp := warp_at(asked, view.depths[row], 1.5 / view.scale)) is None:
        row += 1
    left, right = (
        view.middle + view.scale * float(edge[row]) for edge in apron_edges(option, asked, view.depths)
    )
    first, last = option.strips[0].thread, option.strips[-1].thread
    last_but_one = option.strips[-2].thread
    checked = 0
    for inches in np.arange(0.03, 0.3, 0.005):
        under = float(lap) + inches
        hidden = last if under < reveal else last_but_one
        way = reveal / 2 - (under if under < reveal else under - reveal)
        for column, thread in (
            (int(right + inches * view.scale), first + (inches - reveal / 2) / size),
            (int(left - inches * view.scale), hidden + way / size),
        ):
            code = inside(weft, thread, 3 / view.scale / size)
            if code is not None:
                assert np.abs(picture[row, column] - twill(asked.tartan.hex_of(code), warp)).max() <= 1
                checked += 1
    assert checked > 30


def test_folds_lie_over_the_next_pleat_towards_the_side_it_opens_on() -> None:
    """Pleat folds point to the wearer's right on a kilt that opens there [derived]."""
    for opens_on in ("right", "left"):
        left, right = shade_beside_folds(request("G40 ...", kind=plain(Form.KNIFE), opens_on=opens_on))
        dark, light = (right, left) if opens_on == "right" else (left, right)
        assert (light - dark > 5).all()


def test_knives_run_away_from_a_centre_box() -> None:
    left, right = shade_beside_folds(request("G40 ...", kind=plain(Form.CENTRE_BOX)))
    middle = len(left) // 2
    assert (left - right > 5)[middle:].all()
    assert (right - left > 5)[:middle].all()


def test_boxes_meet_fold_to_fold() -> None:
    left, right = shade_beside_folds(request("G40 ...", kind=plain(Form.BOX)))
    assert np.abs(left - right).max() <= 5


def plain(form: Form) -> Kind:
    return Kind(form, Shows.PLAIN)


def shade_beside_folds(asked: Request) -> tuple[Pixels, Pixels]:
    """Green just left and just right of every fold below the hip line."""
    option = chosen(asked)
    view = back_view(option, asked, 2000)
    row = pixels(back_picture(option, asked, width_px=2000, threads=False))[view.height * 3 // 4, :, 1]
    strips = sorted(option.strips, key=lambda strip: strip.centre)
    ends = np.cumsum([strip.face for strip in strips]) * option.level(LevelName.HIP).reveal * view.scale
    folds = np.round(view.width / 2 - ends[-1] / 2 + ends[:-1]).astype(int)
    return row[folds - 3], row[folds + 2]


@pytest.mark.parametrize("opens_on, at_left", [("right", True), ("left", False)])
@pytest.mark.parametrize("straps, under", [(2, "outside"), (3, "outside"), (3, "inside")])
def test_the_straps_are_those_of_the_closing(opens_on: str, at_left: bool, straps: int, under: str) -> None:
    """As one faces the wearer; from behind left and right change places.  An inside strap is not seen."""
    asked = request(SMALL, opens_on=opens_on)
    closing = replace(asked.settings.closing, straps=straps, under_strap=under)
    asked = replace(asked, settings=replace(asked.settings, closing=closing))
    for draw, opening_left in ((front_picture, at_left), (back_picture, not at_left)):
        picture = pixels(draw(chosen(asked), asked, width_px=900))
        leather = np.abs(picture - (0x4A, 0x33, 0x26)).max(axis=-1) <= 1
        sides = leather[:, :450], leather[:, 450:]
        opening, other = sides if opening_left else sides[::-1]
        for side, seen in ((opening, straps - 1), (other, int(under == "outside"))):
            rows = (side.sum(axis=1) > 3).astype(int)
            assert np.count_nonzero(np.diff(rows, prepend=0) > 0) == seen


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_the_fringe_shows_the_threads_across_beyond_the_aprons_outer_edge(opens_on: str) -> None:
    """The threads that stay in a fringe run along the cloth: red on a cloth that is red across only."""
    asked = request("R40 // G40", kind=plain(Form.KNIFE), opens_on=opens_on, lap=Fraction(1))
    option, out = chosen(asked), -1 if opens_on == "right" else 1
    on_front = apron_edges(option, asked, np.array([14.0]))[0 if out < 0 else 1][0]
    on_back = -out * (float(asked.sizes.level(LevelName.HIP).pleated) / 2 - 1)
    for draw, look, edge in ((front_picture, front_view, on_front), (back_picture, back_view, on_back)):
        view = look(option, asked, 1600)
        row = round(view.top + 14 * view.scale)
        some = pixels(draw(option, asked, width_px=1600, threads=False))[row - 30 : row + 30].mean(axis=0)
        redness = some[:, 0] / some[:, 1]
        within, fringe, beyond = (
            redness[int(view.middle + (edge + out * inches) * view.scale)] for inches in (-0.3, 0.15, 0.7)
        )
        assert fringe > 2 * max(within, beyond)


def test_the_middle_of_the_apron_is_never_shaded() -> None:
    asked = request(SMALL)
    option = chosen(asked)
    flat, shaded = (
        pixels(front_picture(option, asked, folds=folds, threads=False)) for folds in (False, True)
    )
    view = front_view(option, asked, 900)
    middle = slice(view.width // 3, view.width * 2 // 3)
    rows = slice(round(view.top + 2 * view.scale), round(view.top + (view.long - 1) * view.scale))
    assert (flat[rows, middle] == shaded[rows, middle]).all()
    assert (flat != shaded).any()


@each_case
def test_the_same_option_gives_the_same_bytes(asked: Request) -> None:
    option = chosen(asked)
    for draw in (back_picture, front_picture):
        once, twice = (png_bytes(draw(option, asked, width_px=300)) for _ in range(2))
        assert once == twice


def test_a_png_opens_again_as_it_was_with_its_size_on_paper() -> None:
    asked = request(SMALL)
    small = back_picture(chosen(asked), asked, width_px=360)
    with Image.open(io.BytesIO(png_bytes(small, 144))) as again:
        assert again.format == "PNG"
        assert (again.mode, again.width) == ("RGB", 360)
        assert again.info["dpi"] == pytest.approx((144, 144), abs=0.02)
        assert again.tobytes() == small.tobytes()
    with Image.open(io.BytesIO(png_bytes(small))) as again:
        assert "dpi" not in again.info


def test_a_kilt_too_small_for_its_threads_is_still_a_kilt() -> None:
    asked = request()
    for width in (20, 60):
        picture = pixels(back_picture(chosen(asked), asked, width_px=width))
        assert picture.shape[1] == width
        assert tuple(picture[0, 0]) == PAPER
        assert tuple(picture[picture.shape[0] // 2, width // 2]) != PAPER


def test_the_words_beside_a_picture_say_what_it_shows() -> None:
    asked = request(SMALL)
    option = chosen(asked)
    back, front = alt_text(option, asked, "back"), alt_text(option, asked, "front")
    assert back.startswith(f"The kilt in Tarnside, from behind: {option.title}; ")
    assert '20 1/2" of pleats at the hip line and 24" long' in back
    assert option.over_apron.stripe in front
    assert front.endswith("its fringed edge at the left of the picture, the wearer's right.")
    metric = alt_text(option, replace(asked, units="metric"), "back")
    assert "521 mm of pleats at the hip line and 610 mm long" in metric
    plain_cloth = request("G40 ...", kind=plain(Form.KNIFE), opens_on="left")
    words = alt_text(chosen(plain_cloth), plain_cloth, "front")
    assert "stripe" not in words
    assert words.endswith("at the right of the picture, the wearer's left.")


def test_strips_are_seen_from_behind_in_the_order_they_lie_in_the_cloth() -> None:
    """Opening on the left the first strip, beside the over-apron, is the last along the cloth."""
    for opens_on in ("right", "left"):
        option = chosen(request(opens_on=opens_on))
        along = [strip.centre for strip in option.strips]
        rising = all(a < b for a, b in pairwise(along))
        assert rising == (opens_on == "right")
