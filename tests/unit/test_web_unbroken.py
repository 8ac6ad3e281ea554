"""A length on a page never breaks over two lines."""

from __future__ import annotations

import pytest

from pleatwright.web.unbroken import unbroken

GAP = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    "words, kept",
    [
        ("2 1/8&#34; wide", f"2{GAP}1/8&#34; wide"),
        ("1 5/8&#34; – 3 1/4&#34;", f"1{GAP}5/8&#34; – 3{GAP}1/4&#34;"),
        ("about 3 3/16&#34;", f"about 3{GAP}3/16&#34;"),
        ("7.89 yd (+ 0.61 yd)", f"7.89{GAP}yd (+{GAP}0.61{GAP}yd)"),
        ("102 cm round", f"102{GAP}cm round"),
        ("4 1/2 in long", f"4{GAP}1/2{GAP}in long"),
        ("from 3 to 5", "from 3 to 5"),
        ("9 inner parts", "9 inner parts"),
    ],
)
def test_number_fraction_and_unit_stay_on_one_line(words, kept):
    assert unbroken(f"<p>{words}</p>") == f"<p>{kept}</p>"


@pytest.mark.parametrize(
    "page",
    [
        '<input value="40 1/2">',
        "<textarea name=notes>40 1/2 in</textarea>",
        "<select><option>40 1/2<option selected>41 1/2 in</option></select>",
        '<script type="application/json">{"a": "<b>40 1/2 in</b>"}</script>',
    ],
)
def test_what_comes_back_from_a_form_stays_as_it_was_written(page):
    assert unbroken(page) == page
