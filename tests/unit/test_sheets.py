"""Drawing, lettering, flow and PDF: nothing lost, nothing over the edge, true size, the same bytes."""

from __future__ import annotations

import io
import re
from itertools import pairwise
from typing import Any, Literal

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from pypdf import PageObject, PdfReader

from pleatwright.sheets import Line, Page, Picture, Polyline, Rect, Text, write_pdf
from pleatwright.sheets.drawing import moved, png_size
from pleatwright.sheets.flow import Block, Column, broken, figure, table, white
from pleatwright.sheets.lettering import fitted, width_of, wrapped

words = st.text(st.characters(codec="latin-1", exclude_categories=["Cc", "Zs"]), min_size=1, max_size=30)
texts = st.lists(words, max_size=12).map(" ".join)


def png(width: int = 6, height: int = 4) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), "#336699").save(out, "PNG")
    return out.getvalue()


@given(texts, st.floats(0.5, 6), st.booleans())
def test_a_broken_text_keeps_every_letter_and_stays_within_its_width(
    text: str, width: float, bold: bool
) -> None:
    lines = wrapped(text, width, 11.0, bold=bold)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(width_of(line, 11.0, bold=bold) <= width + 1e-9 for line in lines)


def test_a_length_is_never_broken_between_its_parts() -> None:
    text = 'then 6 9/16" to the right, 213 mm and 7.25 yd of cloth, (2 3/8") deep'
    for tenths in range(10, 60):
        lines = wrapped(text, tenths / 10, 11.0)
        assert " ".join(lines) == text
        for one, after in pairwise(lines):
            assert not (one[-1].isdigit() and re.match(r"\d+/\d|mm|yd", after))


@given(texts, st.floats(0.6, 5))
def test_a_fitted_text_is_as_wide_as_it_may_be_at_most(text: str, width: float) -> None:
    shown, size = fitted(text, width, 12.0, 8.0)
    assert width_of(shown, size) <= width + 1e-9
    assert 8.0 <= size <= 12.0
    if width_of(text, 8.0) <= width:
        assert shown == text


def test_control_characters_never_reach_the_page() -> None:
    assert wrapped("a\x00b\nc", 5.0, 11.0) == ("a b c",)
    assert fitted("a\x07b", 5.0, 11.0, 8.0)[0] == "a b"


heights = st.lists(
    st.tuples(st.floats(0.1, 3), st.booleans(), st.floats(0, 0.3)),
    min_size=1,
    max_size=30,
)


@given(heights, st.floats(9, 12))
def test_blocks_keep_their_order_and_none_is_lost_or_cut(
    made: list[tuple[float, bool, float]], page: float
) -> None:
    kept = 0
    blocks = []
    for number, (height, keep, gap) in enumerate(made):
        kept = kept + 1 if keep else 0
        mark = Text(0.0, 0.0, str(number), 10.0)
        end = Line(0.0, height, 1.0, height)
        blocks.append(Block(height, (mark, end), keep=keep and kept < 2, gap=gap))
    pages = broken(blocks, page)
    shown = [item.text for items in pages for item in items if isinstance(item, Text)]
    assert shown == [str(number) for number in range(len(made))]
    for items in pages:
        tops = [item.y for item in items if isinstance(item, Text)]
        ends = [item.y1 for item in items if isinstance(item, Line)]
        assert all(end <= page + 1e-6 for end in ends)
        assert all(
            after >= end - 1e-9 for end, after in zip(ends, tops[1:], strict=False)
        )  # one block fewer follows


def test_a_heading_goes_with_what_it_heads() -> None:
    blocks = (
        Block(0.6, (Text(0, 0, "before", 10),)),
        Block(0.2, (Text(0, 0, "heading", 10),), keep=True),
        Block(0.4, (Text(0, 0, "body", 10),)),
    )
    first, second = broken(blocks, 1.0)
    assert [item.text for item in first if isinstance(item, Text)] == ["before"]
    assert [item.text for item in second if isinstance(item, Text)] == ["heading", "body"]


@pytest.mark.parametrize("count", [2, 3, 5])
def test_a_tables_last_row_never_stands_alone_on_the_next_page(count: int) -> None:
    rows = table((Column("level", 2.0),), [(f"row {number}",) for number in range(count)])
    height = sum(row.height for row in rows)
    for tenths in range(40):
        before = Block(2.0 - height + tenths * height / 40, (Text(0.0, 0.1, "before", 10.0),))
        pages = broken((before, *rows), 2.0)
        last = [item.text for item in pages[-1] if isinstance(item, Text) and item.text.startswith("row")]
        assert len(last) > 1


def test_a_tables_head_comes_again_on_every_page_and_white_never_opens_one() -> None:
    columns = (Column("stripe", 2.0), Column("wide", 1.0, "end", figures=True))
    rows = table(columns, [(f"row {number}", '1 3/8"') for number in range(30)])
    pages = broken((*rows, white(5.0), Block(0.3, (Text(0.0, 0.2, "after", 10.0),))), 3.0)
    assert len(pages) > 2
    for items in pages[:-1]:
        assert [item.text for item in items if isinstance(item, Text)].count("stripe") == 1
    rows_shown = [
        item.text
        for items in pages
        for item in items
        if isinstance(item, Text) and item.text.startswith("row")
    ]
    assert rows_shown == [f"row {number}" for number in range(30)]
    last = [item for item in pages[-1] if isinstance(item, Text)]
    assert last[-1].text == "after"


@pytest.mark.parametrize("text", ['8 3/8"', '3/8"', '12"', "213 mm", '0"'])
@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_a_figure_says_what_it_was_given_and_stands_at_its_anchor(
    text: str, anchor: Literal["start", "middle", "end"]
) -> None:
    items = [item for item in figure(2.0, 1.0, text, 14.0, anchor) if isinstance(item, Text)]
    assert "".join(item.text for item in items) == text
    if len(items) == 1:
        assert (items[0].x, items[0].anchor) == (2.0, anchor)
        return
    left = items[0].x
    right = items[-1].x + width_of(items[-1].text, items[-1].size, bold=True)
    assert {"start": left, "middle": (left + right) / 2, "end": right}[anchor] == pytest.approx(2.0)
    whole, fraction, _ = items
    assert fraction.size < whole.size
    top = [item.y - item.size * 0.73 / 72 for item in (whole, fraction)]
    assert top[0] == pytest.approx(top[1])


def test_everything_that_can_be_drawn_can_be_moved() -> None:
    items = (
        Line(0, 1, 2, 3),
        Polyline(((0, 0), (1, 1)), closed=True),
        Rect(1, 2, 3, 4),
        Text(1, 2, "a", 10),
        Picture(0, 0, 1, 1, png()),
    )
    line, polyline, rect, text, picture = moved(items, 10, 20)
    assert line == Line(10, 21, 12, 23)
    assert polyline == Polyline(((10, 20), (11, 21)), closed=True)
    assert rect == Rect(11, 22, 3, 4)
    assert text == Text(11, 22, "a", 10)
    assert isinstance(picture, Picture)
    assert (picture.x, picture.y) == (10, 20)


def test_a_picture_knows_its_size_in_pixels() -> None:
    assert png_size(png(31, 17)) == (31, 17)
    with pytest.raises(ValueError, match="not a PNG"):
        png_size(b"GIF89a")


def page() -> Page:
    return Page(
        8.5,
        11.0,
        (
            Line(1.0, 2.0, 5.0, 2.0, "#FF0000", 1.0),
            Line(1.0, 3.0, 1.0, 3.0 + 100 / 25.4, dash=(2.0, 1.0)),
            Rect(2.0, 4.0, 0.8125, 1.5, stroke="#000000", fill="#00FF00"),
            Polyline(((1, 6), (2, 7), (1.5, 8)), None, closed=True, fill="#0000FF"),
            Text(1.0, 9.0, "⅞ → ″ × – 8 3/8", 12.0),
            Text(7.5, 9.5, "the end", 12.0, "end", bold=True),
            Picture(5.0, 4.0, 1.5, 1.0, png()),
        ),
        "one page",
    )


def test_lengths_on_paper_are_true() -> None:
    with pdfplumber.open(io.BytesIO(write_pdf([page()]))) as pdf:
        drawn = pdf.pages[0]
        assert (drawn.width, drawn.height) == (612, 792)
        across, down = sorted(drawn.lines, key=lambda line: line["width"], reverse=True)
        assert across["width"] * 25.4 / 72 == pytest.approx(101.6, abs=0.05)
        assert down["height"] * 25.4 / 72 == pytest.approx(100.0, abs=0.05)
        assert across["x0"] / 72 == pytest.approx(1.0, abs=1e-3)
        assert across["top"] / 72 == pytest.approx(2.0, abs=1e-3)
        rect = drawn.rects[0]
        assert rect["width"] / 72 == pytest.approx(13 / 16, abs=1e-3)
        image = drawn.images[0]
        assert (image["x0"] / 72, image["top"] / 72) == pytest.approx((5.0, 4.0), abs=1e-3)


def test_letters_are_embedded_and_can_be_read_again() -> None:
    reader = PdfReader(io.BytesIO(write_pdf([page()], "A job")))
    assert "⅞ → ″ × – 8 3/8" in reader.pages[0].extract_text()
    assert reader.metadata is not None
    assert reader.metadata.title == "A job"
    fonts = [font for one in reader.pages for font in _fonts(one) if "DejaVu" in font["/BaseFont"]]
    assert len(fonts) == 2
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def _fonts(page: PageObject) -> list[Any]:
    resources: Any = page["/Resources"]
    return [font.get_object() for font in resources["/Font"].values()]


def test_an_anchored_text_ends_where_it_should() -> None:
    with pdfplumber.open(io.BytesIO(write_pdf([page()]))) as pdf:
        last = [char for char in pdf.pages[0].chars if "Bold" in char["fontname"]][-1]
        assert last["x1"] / 72 == pytest.approx(7.5, abs=0.01)


def test_the_same_pages_give_the_same_bytes() -> None:
    assert write_pdf([page(), page()], "t") == write_pdf([page(), page()], "t")
    assert write_pdf([page()], "t") != write_pdf([page()], "u")
