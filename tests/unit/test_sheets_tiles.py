"""Tiles cover a drawing and overlap; what is drawn comes out alike in SVG; a window shows its part only."""

from __future__ import annotations

import io
from itertools import pairwise
from xml.etree import ElementTree

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from pleatwright.sheets import Line, Page, Picture, Polyline, Rect, Text, write_pdf
from pleatwright.sheets.drawing import Circle, Layer, Window, moved
from pleatwright.sheets.dxf import write_dxf
from pleatwright.sheets.svg import write_svg
from pleatwright.sheets.tiles import OVERLAP, bounds, registration, tiles_of, window

SVG = "{http://www.w3.org/2000/svg}"
lengths = st.floats(1.0, 400.0)
rooms = st.floats(3.0, 30.0)


@given(lengths, lengths, rooms, rooms)
def test_tiles_cover_the_drawing_and_neighbours_overlap(
    width: float, height: float, room_width: float, room_height: float
) -> None:
    tiles = tiles_of(width, height, room_width, room_height)
    assert len({tile.name for tile in tiles}) == len(tiles)
    rows = sorted({tile.y for tile in tiles})
    for y in rows:
        row = [tile for tile in tiles if tile.y == y]
        assert row[0].x == 0
        assert row[-1].x + row[-1].width == pytest.approx(width)
        for one, after in pairwise(row):
            assert one.x + one.width - after.x == pytest.approx(OVERLAP)
    assert rows[0] == 0
    assert max(tile.y + tile.height for tile in tiles) == pytest.approx(height)
    for tile in tiles:
        assert tile.width <= room_width
        assert tile.height <= room_height


def test_tiles_are_named_by_row_and_column() -> None:
    assert [tile.name for tile in tiles_of(12, 5, 7, 9)] == ["A1", "A2"]
    assert [tile.name for tile in tiles_of(6, 23, 7, 9)] == ["A1", "B1", "C1"]
    assert tiles_of(5, 300, 7, 9)[26].name == "AA1"
    assert [tile.name for tile in tiles_of(6.5, 8.5, 7, 9)] == ["A1"]
    with pytest.raises(ValueError, match="no room"):
        tiles_of(20, 5, 1.0, 9)


@given(st.floats(1.5, 60), st.floats(1.5, 60))
def test_registration_marks_coincide_when_the_tiles_are_laid_together(width: float, height: float) -> None:
    tiles = tiles_of(width, height, 7.0, 9.5)
    marks = registration(tiles, width, height)
    seen: dict[tuple[float, float], int] = {}
    for tile in tiles:
        for item in window(marks, tile).items:
            if isinstance(item, Circle):
                inside = 0 <= item.x <= tile.width and 0 <= item.y <= tile.height
                if inside:
                    place = round(item.x + tile.x, 9), round(item.y + tile.y, 9)
                    seen[place] = seen.get(place, 0) + 1
    assert all(times >= 2 for times in seen.values())
    assert bool(seen) is (len(tiles) > 1)
    joints = sum(t.x + t.width < width - 1e-9 for t in tiles) + sum(
        t.y + t.height < height - 1e-9 for t in tiles
    )
    assert len(seen) >= joints


def test_a_window_shows_its_part_and_nothing_beyond() -> None:
    dark = Rect(0.0, 0.0, 10.0, 10.0, fill="#000000")
    page = Page(4.0, 4.0, moved((Window(0.0, 0.0, 2.0, 1.0, (dark,)),), 1.0, 1.0), "part")
    image = pypdfium2.PdfDocument(write_pdf([page]))[0].render(scale=1).to_pil().convert("L")
    assert image.getpixel((72 * 2, 72 + 36)) == 0
    for outside in ((36, 108), (252, 108), (144, 36), (144, 160)):
        assert image.getpixel(outside) == 255


def drawing() -> Page:
    png = io.BytesIO()
    Image.new("RGB", (3, 2), "#336699").save(png, "PNG")
    return Page(
        8.5,
        11.0,
        (
            Line(1.0, 2.0, 5.0, 2.0, "#FF0000", 1.0, (3.0, 2.0)),
            Polyline(((1, 6), (2, 7), (1.5, 8)), "#FF0000", closed=True, layer=Layer.CUT),
            Polyline(((1, 1), (2, 1 + 1 / 3))),
            Rect(2.0, 4.0, 0.8125, 1.5, stroke="#0000FF", layer=Layer.ENGRAVE),
            Circle(3.0, 3.0, 0.0625, layer=Layer.CUT),
            Text(1.0, 9.0, 'a < b & "c" ⅞', 12.0, "end", bold=True),
            Picture(5.0, 4.0, 1.5, 1.0, png.getvalue()),
            Window(0.0, 0.0, 1.0, 1.0, (Rect(0.5, 0.5, 3.0, 3.0, fill="#000000"),)),
        ),
        "a <drawing>",
    )


def test_an_svg_says_its_size_and_groups_what_is_drawn_by_layer() -> None:
    text = write_svg(drawing())
    root = ElementTree.fromstring(text)
    assert (root.get("width"), root.get("height")) == ("215.9mm", "279.4mm")
    assert root.get("viewBox") == "0 0 215.9 279.4"
    groups = {group.get("id"): group for group in root.findall(f"{SVG}g")}
    assert list(groups) == ["note", "engrave", "cut"]
    assert [child.tag.removeprefix(SVG) for child in groups["cut"]] == ["polygon", "circle"]
    assert [child.tag.removeprefix(SVG) for child in groups["engrave"]] == ["rect"]
    line = root.find(f".//{SVG}line")
    assert line is not None
    assert float(line.get("x2", "0")) == pytest.approx(127.0, abs=1e-9)
    thin = root.find(f".//{SVG}polyline")
    assert thin is not None
    last = float(thin.get("points", "").split(",")[-1])
    assert last == pytest.approx((1 + 1 / 3) * 25.4, abs=1e-9)
    words = root.find(f".//{SVG}text")
    assert words is not None
    assert words.text == 'a < b & "c" ⅞'
    assert "DejaVu Sans" in words.get("font-family", "")
    assert words.get("text-anchor") == "end"
    assert float(words.get("font-size", "0")) == pytest.approx(12 / 72 * 25.4)
    image = root.find(f".//{SVG}image")
    assert image is not None
    assert image.get("href", "").startswith("data:image/png;base64,")
    clip = root.find(f".//{SVG}clipPath")
    assert clip is not None
    assert root.find(f".//{SVG}g[@clip-path='url(#{clip.get('id')})']") is not None
    assert text == write_svg(drawing())


def test_a_dxf_takes_no_part_of_a_drawing() -> None:
    with pytest.raises(TypeError, match="Window has no place"):
        write_dxf(drawing(), "in")


@pytest.mark.parametrize(
    "item, box",
    [
        (Line(3, 1, 2, 4), (2, 1, 3, 4)),
        (Polyline(((1, 5), (4, 2))), (1, 2, 4, 5)),
        (Circle(2, 3, 1), (1, 2, 3, 4)),
        (Rect(1, 2, 3, 4), (1, 2, 4, 6)),
    ],
)
def test_the_bounds_of_what_is_drawn(item: Line, box: tuple[float, ...]) -> None:
    assert bounds(item) == box


def test_letters_that_reach_into_a_tile_are_kept() -> None:
    words = Text(6.5, 1.0, "over the edge of the first tile", 12.0)
    first, second = tiles_of(12, 2, 7, 9)
    assert window((words,), first).items
    assert window((words,), second).items
    assert not window((Text(1.0, 1.0, "first", 12.0),), second).items
