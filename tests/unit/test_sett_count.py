"""Reading and writing thread counts and measured widths."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.errors import InputError
from pleatwright.sett import Sett, parse_count, sett_from_widths, stripe_name, write_count

Runs = list[tuple[str, int]]

numbers = st.integers(1, 60)
stripes = st.tuples(st.sampled_from(["B", "LG", "K", "W"]), numbers)


def problems(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        parse_count(text)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    "text",
    [
        "K/4 R24 LG24 Y/4",
        "/K4 R24 LG24 Y4/",
        "/K4 R24 LG24 /Y4",
        "K4/ R24 LG24 Y4/",
        "k/4r24lg24y/4",
        "K/4, R24, LG24, Y/4",
        "  K / 4   R 24\nLG 24;Y /4 ",
        "K/4 R#C00000 24 LG24 Y/4",
    ],
)
def test_one_count_in_many_spellings(text: str) -> None:
    parsed = parse_count(text)
    assert parsed.warp == parse_count("K/4 R24 LG24 Y/4").warp
    assert parsed.weft is parsed.warp


@pytest.mark.parametrize(
    "text", ["R20 W20 B60", "...R20 W20 B60...", "… R20W20B60 …", "r20,w20,b60...", "...R20W20B60"]
)
def test_a_count_without_slashes_repeats(text: str) -> None:
    parsed = parse_count(text)
    assert parsed.warp == Sett.of_runs([("R", 20), ("W", 20), ("B", 60)])
    assert parsed.written == "...R20 W20 B60..."


def test_half_counted_pivots_are_doubled() -> None:
    half = parse_count("K/2 R24 Y/3", pivots="half")
    assert half.warp == parse_count("K/4 R24 Y/6").warp
    assert (half.written, half.pivots) == ("K/2 R24 Y/3", "half")
    assert half.notes == ("the number at a pivot was read as half the stripe",)


def test_warp_and_weft_of_their_own() -> None:
    parsed = parse_count("K/4 Y/4 // R20 W20 B20")
    assert parsed.warp == parse_count("K/4 Y/4").warp
    assert parsed.weft == parse_count("R20 W20 B20").warp
    assert parsed.written == "K/4 Y/4 // ...R20 W20 B20..."
    assert parsed.notes[0].startswith("warp ")
    assert parsed.notes[1].startswith("weft ")


def test_inline_colours_are_kept_and_make_a_code_known() -> None:
    parsed = parse_count("Q#a1b2c3/24 W4 Q/6 // Q4 ZZ#00FF0012")
    assert parsed.palette == (("Q", "#A1B2C3"), ("ZZ", "#00FF00"))
    assert parsed.written == "Q#A1B2C3/24 W4 Q/6 // ...Q4 ZZ#00FF0012..."


def test_codes_of_a_palette_are_known() -> None:
    assert parse_count("Q4 W4", known={"q": "#102030"}).warp.colours == ("Q", "W")


def test_plain_cloth_is_a_single_colour() -> None:
    assert parse_count("g").warp == Sett.of_runs([("G", 1)])
    assert parse_count("G100").warp.plain
    assert parse_count("G100").written == "G100"


def test_what_a_maker_should_know_is_noted() -> None:
    assert parse_count("A4 B8 A4 A4 B8 A4").notes == (
        "no pivot is marked, yet the sett mirrors",
        "neighbouring stripes of one colour were joined",
        "the written sett holds 2 equal parts; one of them, 16 threads, is the true sett",
    )
    assert "repeats one way" in parse_count("R20 W20 B20").notes[0]


@pytest.mark.parametrize(
    "text,parts",
    [
        ("R4 Q12", ['stripe 2 "Q12" has the unknown colour code Q', "Q#4A6B8C"]),
        ("GREEN20 W4", ['stripe 1 "GREEN20"', "more than three letters"]),
        ("B/24 R4", ['stripe 2 "R4" is not marked as a pivot', "write R/4"]),
        ("R4 B/24 W4", ['stripe 2 "B/24" is marked as a pivot but is neither first nor last']),
        ("R2O W4", ['stripe 2 "O" has no number of threads', "write O and its threads"]),
        ("R20 W0", ['stripe 2 "W0" has no threads']),
        ("20 W4", ['at the start "20" is a number without a colour', "as R20"]),
        ("R20.5 W4", ['after stripe 1 ".5" cannot be read', "whole threads"]),
        ("R20 ... W4", ['after stripe 1 "..." stands inside the count']),
        ("...B/24 W/4...", ["both slashes and dots"]),
        ("B/24", ["one pivot and no other stripe"]),
        ("R20000 W1", ["20001 threads", "over 20000"]),
        ("R999999999999999999 W1", ["check the numbers"]),
        ("R4 // ", ["the weft count holds no stripe"]),
        ("R4 // W4 // B4", ["more than one //"]),
        ("W#111111 4 W#222222 5", ['stripe 2 "W#222222 5" gives W a second colour, after #111111']),
        ("", ["holds no stripe", "write it like"]),
        ("R4 " * 9000, ["27000 characters"]),
    ],
)
def test_a_faulty_count_is_answered_with_the_place_and_the_fix(text: str, parts: list[str]) -> None:
    found = problems(text)
    assert all(any(part in problem for problem in found) for part in parts), found
    assert all(problem.startswith("tartan.count: ") for problem in found)


def test_all_problems_are_told_at_once() -> None:
    assert len(problems("Q4 R0 20 B/4 // XY12 R")) == 6


@given(st.text(alphabet="RGBKWQ/#.…, 0123456789ab", max_size=30))
def test_any_text_is_a_count_of_that_many_threads_or_an_input_error(text: str) -> None:
    try:
        parsed = parse_count(text)
    except InputError:
        return
    again = parse_count(parsed.written)
    assert (again.warp, again.weft, again.written) == (parsed.warp, parsed.weft, parsed.written)
    assert again.palette == parsed.palette


@given(st.lists(stripes, min_size=2, max_size=8), st.sampled_from(["whole", "half"]))
def test_a_normalised_count_reads_the_same_under_the_same_convention(
    runs: Runs, pivots: Literal["whole", "half"]
) -> None:
    words = [f"{code}{threads}" for code, threads in runs]
    words[0], words[-1] = "/" + words[0], words[-1] + "/"
    parsed = parse_count(" ".join(words), pivots=pivots)
    assert parse_count(parsed.written, pivots=pivots) == parsed


@given(st.lists(stripes, min_size=1, max_size=8), st.booleans())
def test_a_written_sett_reads_back_as_the_same_cloth(runs: Runs, mirror: bool) -> None:
    sett = Sett.of_runs(runs + runs[-2:0:-1] if mirror else runs)
    text = write_count(sett)
    back = parse_count(text).warp
    assert (back.n, back.written_periods) == (sett.n, 1)
    assert ("/" in text) == sett.symmetric
    if sett.symmetric:  # θ = 0 has moved to the pivot's left edge
        by = sett.stripe_at(sett.mirror_centres[0]).start
        threads = sett.threads()
        assert back.threads() == threads[by:] + threads[:by]
    else:
        assert back.threads() == sett.threads()


def test_measured_widths_make_a_sett_of_their_greatest_common_measure() -> None:
    sett = sett_from_widths([("B", Fraction(3, 4)), ("W", Fraction(1, 8)), ("R", Fraction(1))], True)
    assert sett.unit_inches == Fraction(1, 8)
    assert sett.n == 16
    assert sett.threads() == ["B"] * 6 + ["W"] + ["R"] * 8 + ["W"]
    assert stripe_name(sett, sett.stripes[1]) == 'white, 1/8" wide, between the blue and the red'


def test_measured_half_pivots_are_doubled_and_a_repeat_is_left_as_it_is() -> None:
    widths = [("B", Fraction(1)), ("W", Fraction(1, 2)), ("R", Fraction(3, 2))]
    assert sett_from_widths(widths, True, pivots="half").n == 12
    assert sett_from_widths(widths, False).threads() == ["B"] * 2 + ["W"] + ["R"] * 3


@given(st.lists(st.tuples(st.sampled_from("BWR"), st.integers(1, 40)), min_size=2, max_size=7), st.booleans())
def test_measured_widths_keep_every_width_exactly(runs: Runs, mirror: bool) -> None:
    millimetre = Fraction(5, 127)
    sett = sett_from_widths([(code, width * millimetre) for code, width in runs], mirror)
    whole = runs + runs[-2:0:-1] if mirror else runs
    assert sett.unit_inches is not None
    assert sett.n * sett.written_periods * sett.unit_inches == sum(width for _, width in whole) * millimetre


def test_widths_that_cannot_be_are_refused_all_at_once() -> None:
    with pytest.raises(InputError) as caught:
        sett_from_widths([("B", Fraction(0)), ("W", Fraction(-1))], False)
    assert len(caught.value.problems) == 2
    with pytest.raises(InputError, match="too few"):
        sett_from_widths([("B", Fraction(1))], True)
    with pytest.raises(InputError, match="common measure"):
        sett_from_widths([("B", Fraction(1)), ("W", Fraction(1, 100_003))], False)
