"""What the writers of sheets say themselves, held against independent readers and the libraries' figures."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pdfplumber
import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader

from pleatwright.picture import png_bytes
from pleatwright.sheets import Line, Page, Picture, Polyline, Rect, Text, write_pdf
from pleatwright.sheets.drawing import Circle, Item, Layer, Window, moved
from pleatwright.sheets.dxf import write_dxf
from pleatwright.sheets.flow import Column, broken, table
from pleatwright.sheets.lettering import BOLD, REGULAR, clean, register, width_of

ITEMS = (
    Line(1.0, 1.0, 2.5, 0.5),
    Line(0.0, 0.0, 3.0, 0.0, dash=(2.0, 1.0), layer=Layer.CUT),
    Text(0.5, 1.5, 'sett 8 3/8"', 11.0, "middle", layer=Layer.ENGRAVE),
    Text(0.5, 1.7, "end", 9.0, "end"),
    Rect(0.25, 0.5, 2.0, 1.0, stroke="#000000", layer=Layer.CUT),
    Polyline(((0.0, 0.0), (1.0, 1.0), (2.0, 0.25)), closed=True),
    Polyline(((0.0, 0.0), (1.0, 1.0))),
    Circle(1.0, 1.0, 0.25, layer=Layer.CUT),
)
PAGE = Page(3.0, 2.0, ITEMS, "all there is")


def coloured(mode: str = "RGB") -> Image.Image:
    """A small picture in which no two pixels near each other are alike."""
    pixels = np.random.default_rng(7).integers(0, 256, (23, 31, len(mode)), dtype=np.uint8)
    return Image.fromarray(pixels, mode)


@pytest.mark.parametrize("units, insunits, inch", [("in", 1, 1.0), ("metric", 4, 25.4)])
def test_a_dxf_reads_back_as_what_was_drawn(units, insunits: int, inch: float) -> None:
    document = ezdxf.filemanagement.read(io.StringIO(write_dxf(PAGE, units).decode()))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.header["$INSUNITS"] == insunits
    drawn: list[Any] = list(document.modelspace())
    plain, dashed, words, end, box, closed, opened, circle = drawn

    def places(points) -> list[float]:
        return [figure / inch for point in points for figure in (point[0], point[1])]

    assert places([plain.dxf.start, plain.dxf.end]) == pytest.approx([1.0, 1.0, 2.5, 1.5])
    assert (plain.dxf.layer, plain.dxf.linetype) == ("note", "BYLAYER")
    assert (dashed.dxf.layer, dashed.dxf.linetype) == ("cut", "DASHED")
    pattern = [
        tag.value / inch for tag in document.linetypes.get("DASHED").pattern_tags.tags if tag.code in (40, 49)
    ]
    assert pattern == pytest.approx([0.15, 0.1, -0.05])
    assert (words.dxf.text, words.dxf.layer, words.dxf.halign) == ('sett 8 3/8"', "engrave", 1)
    assert (end.dxf.halign, end.dxf.style) == (2, REGULAR)
    assert places([words.dxf.align_point, end.dxf.align_point]) == pytest.approx([0.5, 0.5, 0.5, 0.3])
    assert places(box.get_points()) == pytest.approx([0.25, 1.5, 2.25, 1.5, 2.25, 0.5, 0.25, 0.5])
    assert (box.closed, closed.closed, opened.closed) == (True, True, False)
    assert places(closed.get_points()) == pytest.approx([0.0, 2.0, 1.0, 1.0, 2.0, 1.75])
    assert places([circle.dxf.center]) == pytest.approx([1.0, 1.0])
    assert circle.dxf.radius / inch == pytest.approx(0.25)
    handles = [entity.dxf.handle for entity in document.entitydb.values()]
    assert len(set(handles)) == len(handles)


def test_a_dxf_holds_nothing_that_no_machine_follows() -> None:
    fills = (Rect(0.0, 0.0, 1.0, 1.0, fill="#AABBCC"), Picture(0.0, 0.0, 1.0, 1.0, b""))
    document = ezdxf.filemanagement.read(io.StringIO(write_dxf(replace(PAGE, items=fills), "in").decode()))
    assert not list(document.modelspace())
    with pytest.raises(TypeError, match="Window"):
        write_dxf(replace(PAGE, items=(Window(0.0, 0.0, 1.0, 1.0, ()),)), "in")


@pytest.mark.parametrize("dpi", [None, 150.0, 260.0])
def test_a_png_holds_every_pixel_and_its_resolution(dpi: float | None) -> None:
    drawn = coloured()
    read = Image.open(io.BytesIO(png_bytes(drawn, dpi)))
    assert np.array_equal(np.asarray(read), np.asarray(drawn))
    assert read.info.get("dpi") == (None if dpi is None else pytest.approx((dpi, dpi), abs=0.02))


@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
@pytest.mark.parametrize("filtered", [False, True])
def test_a_picture_comes_out_of_the_pdf_pixel_for_pixel(mode: str, filtered: bool) -> None:
    drawn, packed = coloured(mode), io.BytesIO()
    drawn.save(packed, "PNG")  # filters its rows
    png = packed.getvalue() if filtered or mode == "RGBA" else png_bytes(drawn)
    pictures = (Picture(0.5, 0.5, 1.0, 1.0, png), Picture(1.6, 0.5, 1.0, 1.0, png))
    (page,) = PdfReader(io.BytesIO(write_pdf([replace(PAGE, items=pictures)]))).pages
    images: list[Any] = list(page.images)
    (held,) = {image.indirect_reference.idnum: image for image in images}.values()
    assert np.array_equal(np.asarray(held.image.convert("RGB")), np.asarray(drawn)[..., :3])


def seen(*items: Item) -> Any:
    """The page with these items alone as it is seen: 100 pixels an inch, rows × columns × primaries."""
    written = pypdfium2.PdfDocument(write_pdf([replace(PAGE, items=items)]))
    return np.asarray(written[0].render(scale=100 / 72).to_pil().convert("RGB")).astype(int)


def test_a_text_stands_on_its_anchor() -> None:
    texts = (
        Text(1.5, 0.5, "middle", 11.0, "middle"),
        Text(1.5, 1.0, "end", 11.0, "end"),
        Text(1.5, 1.5, "start", 11.0),
    )
    with pdfplumber.open(io.BytesIO(write_pdf([replace(PAGE, items=texts)]))) as pdf:
        words = {word["text"]: (word["x0"] / 72, word["x1"] / 72) for word in pdf.pages[0].extract_words()}
    assert sum(words["middle"]) / 2 == pytest.approx(1.5, abs=0.001)
    assert words["end"][1] == pytest.approx(1.5, abs=0.001)
    assert words["start"][0] == pytest.approx(1.5, abs=0.001)


def test_a_window_leaves_the_colours_beside_it_alone() -> None:
    red, blue = "#C00000", "#0000C0"

    def box(x: float, fill: str) -> Rect:
        return Rect(x, 0.5, 0.5, 0.5, fill=fill)

    page = seen(box(0.0, blue), Window(1.0, 0.0, 0.25, 2.0, (box(1.0, red),)), box(2.0, red), box(2.5, blue))
    colours = {x: tuple(page[75, x]) for x in (25, 110, 140, 225, 275)}
    assert colours[25] == colours[275] == (0, 0, 0xC0)
    assert colours[110] == colours[225] == (0xC0, 0, 0)
    assert colours[140] == (255, 255, 255)  # cut off by the window


def test_what_follows_a_see_through_shape_is_solid() -> None:
    def square(x: float, opacity: float) -> Polyline:
        return Polyline(
            ((x, 0.5), (x + 0.5, 0.5), (x + 0.5, 1.0), (x, 1.0)),
            None,
            0.6,
            True,
            "#000000",
            Layer.NOTE,
            opacity,
        )

    page = seen(square(0.5, 0.5), square(1.5, 1.0))
    assert page[75, 75] == pytest.approx([128] * 3, abs=2)
    assert page[75, 175] == pytest.approx([0] * 3)


def test_a_circle_is_round() -> None:
    black = (255 - seen(Circle(1.5, 1.0, 0.8, stroke=None, fill="#000000"))[..., 0]).sum() / 255
    assert black / 100**2 == pytest.approx(np.pi * 0.8**2, rel=0.002)


def test_a_head_that_comes_again_stands_where_its_rows_do() -> None:
    rows = table((Column("pleat", 1.0),), [(str(number),) for number in range(9)])
    first, second, *_ = broken(rows, 1.5, 0.5, 0.75)
    assert next(item.text for item in second if isinstance(item, Text)) == "pleat"
    assert first[0] == second[0]
    assert first[0] == moved(rows[0].items, 0.5, 0.75)[0]


def test_a_width_is_what_the_library_has_for_the_letters() -> None:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    register()
    for text in ("", 'pleats 1 to 27, 8 3/8"', "Ære ½ – naïve", "\ufffe"):
        for bold, font in ((False, REGULAR), (True, BOLD)):
            assert width_of(text, 11.5, bold=bold) == pytest.approx(stringWidth(text, font, 11.5) / 72)


def test_letters_that_no_page_can_show_are_left_out() -> None:
    assert clean("plain ½ text") == "plain ½ text"
    assert clean("a\tb\nc\x7fd\u00a0e\u200bf") == "a b c d\u00a0e\u200bf"
