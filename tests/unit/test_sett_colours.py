"""Colour codes, words and shades; the tartan that carries them."""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from coloraide import Color

from pleatwright.sett import CODES, SHADES, Tartan, colour_word, default_palette, parse_count


def test_every_code_has_a_word_of_its_own_and_a_colour_in_every_shade() -> None:
    assert len({colour_word(code) for code in CODES}) == len(CODES)
    for shade in SHADES:
        assert tuple(default_palette(shade)) == CODES
        assert all(re.fullmatch("#[0-9A-F]{6}", colour) for colour in default_palette(shade).values())


def test_the_usual_letters_are_known() -> None:
    assert {"R", "G", "B", "K", "W", "Y", "A", "N", "T", "P", "O", "LB", "DB", "LG", "DG"} <= set(CODES)
    assert (colour_word("K"), colour_word("LB"), colour_word("QX")) == ("black", "light blue", "QX")


@pytest.mark.parametrize("shade", SHADES)
def test_no_two_colours_of_a_shade_look_the_same(shade: str) -> None:
    palette = default_palette(shade)
    for one, two in combinations(CODES, 2):
        assert Color(palette[one]).delta_e(palette[two], method="2000") > 4, (one, two)


@pytest.mark.parametrize("shade", SHADES)
def test_light_is_lighter_and_dark_darker_than_the_colour_itself(shade: str) -> None:
    def lightness(code: str) -> float:
        return float(Color(default_palette(shade)[code]).convert("lab")["lightness"])

    for code in CODES:
        if len(code) == 2:
            assert (lightness(code) > lightness(code[1])) == (code[0] == "L")


def test_the_modern_shade_is_the_usual_one_and_an_unknown_one_is_refused() -> None:
    assert default_palette() == default_palette("modern") != default_palette("ancient")
    with pytest.raises(KeyError):
        default_palette("neon")


def test_a_tartan_has_its_own_colours_first_and_the_modern_ones_else() -> None:
    parsed = parse_count("B#204080/24 W/4")
    tartan = Tartan("Harbour Test", parsed.warp, parsed.weft, parsed.palette, parsed.written, parsed.pivots)
    assert tartan.hex_of("B") == "#204080"
    assert tartan.rgb("B") == (32, 64, 128)
    assert tartan.hex_of("W") == default_palette("modern")["W"]
    with pytest.raises(KeyError):
        tartan.hex_of("Q")
