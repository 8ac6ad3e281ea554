"""Templates as they are written, opened again by readers of other makers and measured."""

from __future__ import annotations

import io
from functools import cache
from itertools import pairwise
from pathlib import Path

import ezdxf.filemanagement
import pdfplumber
import pytest
import svgelements

from pleatwright.bench.templates import Template, Use, templates
from pleatwright.layout import Option, make_plan
from pleatwright.lengths import MILLIMETRE
from pleatwright.order import Job, read_order
from pleatwright.sheets import Page, Text
from pleatwright.sheets.drawing import Item, Line, Window
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.templates import SheetName, paper_of, template_pages
from pleatwright.sheets.tiles import bounds
from pleatwright.shop.template_files import template_files
from tests.whole.commands import run

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples/demo.toml"
MM = 25.4
NEAR = 0.05
"""Millimetres."""

SHEETS = {
    SheetName.A4: (210.0, 297.0),  # ISO 216
    SheetName.A3: (297.0, 420.0),  # ISO 216
    SheetName.LETTER: (215.9, 279.4),  # ANSI/ASME Y14.1
    SheetName.TABLOID: (279.4, 431.8),  # ANSI/ASME Y14.1, size B
}

Points = list[tuple[float, float]]


@cache
def planned(name: str) -> tuple[Job, Option]:
    job = read_order((ROOT / f"examples/{name}.toml").read_text(encoding="utf-8"), source=name)
    return job, make_plan(job.request).options[0]


@cache
def cards(name: str) -> tuple[Template, ...]:
    job, option = planned(name)
    return templates(option, job.request, job.drawer)


@cache
def files(name: str, sheet: SheetName) -> dict[str, bytes]:
    return template_files(*planned(name), sheet)


@cache
def read_again(name: str, sheet: SheetName) -> list[pdfplumber.page.Page]:
    pdf = pdfplumber.open(io.BytesIO(files(name, sheet)["templates.pdf"]))
    return list(pdf.pages)


@cache
def pages(name: str, sheet: SheetName) -> tuple[Page, ...]:
    return template_pages(*planned(name), cards(name), paper_of(sheet, 24.0))


def card(name: str, use: Use) -> Template:
    return next(one for one in cards(name) if one.use is use)


def outline_mm(template: Template) -> Points:
    return [(float(x) * MM, float(y) * MM) for x, y in template.outline]


def same_shape(seen: Points, wanted: Points, *, upward: bool = False) -> bool:
    """Whether one outline is the other, moved somewhere else on its page."""
    if len(seen) != len(wanted):
        return False
    turned = [(x, -y if upward else y) for x, y in seen]
    dx, dy = turned[0][0] - wanted[0][0], turned[0][1] - wanted[0][1]
    return all(
        abs(x - dx - wx) < NEAR and abs(y - dy - wy) < NEAR
        for (x, y), (wx, wy) in zip(turned, wanted, strict=True)
    )


# ---- PDF


@pytest.mark.parametrize("sheet", SheetName)
def test_the_square_on_the_first_page_is_true_to_size(sheet: SheetName) -> None:
    first = read_again("demo", sheet)[0]
    text = " ".join(first.extract_text().split())
    for said in ("Print at 100%, actual size", "Measure the square both ways", "inches", "cm"):
        assert said in text
    (square,) = (r for r in first.rects if r["width"] / 72 * MM == pytest.approx(4 * MM, abs=NEAR))
    assert square["height"] / 72 * MM == pytest.approx(4 * MM, abs=NEAR)
    down = [line for line in first.lines if line["width"] < 1e-6]
    inches = sorted(t["x0"] for t in down if t["top"] == pytest.approx(square["top"], abs=1e-3))
    assert [(x - square["x0"]) / 72 for x in inches] == pytest.approx([n / 8 for n in range(1, 32)], abs=1e-3)
    bottom = square["bottom"]
    millimetres = sorted(t["x0"] for t in down if t["bottom"] == pytest.approx(bottom, abs=1e-3))
    from_right = [(square["x1"] - x) / 72 * MM for x in reversed(millimetres)]
    assert from_right == pytest.approx(list(range(1, 102)), abs=0.01)


def test_the_metric_square_is_ten_centimetres() -> None:
    (square,) = (
        r
        for r in read_again("asymmetric", SheetName.A4)[0].rects
        if r["width"] / 72 * MM == pytest.approx(100, abs=NEAR)
    )
    assert square["height"] / 72 * MM == pytest.approx(100, abs=NEAR)


@pytest.mark.parametrize("sheet, size", SHEETS.items())
def test_every_page_has_the_size_of_its_paper_upright_or_lying(
    sheet: SheetName, size: tuple[float, float]
) -> None:
    for page in read_again("demo", sheet):
        seen = sorted((float(page.width) / 72 * MM, float(page.height) / 72 * MM))
        assert seen == pytest.approx(size, abs=0.01)


def curves_of(page: pdfplumber.page.Page) -> list[Points]:
    return [
        [(x / 72 * MM, y / 72 * MM) for x, y in curve["pts"]]
        for curve in (*page.curves, *page.rects)
        if "pts" in curve
    ]


@pytest.mark.parametrize("sheet", SheetName)
def test_every_card_is_printed_true_to_size(sheet: SheetName) -> None:
    drawn = [points for page in read_again("demo", sheet) for points in curves_of(page)]
    for one in cards("demo"):
        wanted = outline_mm(one)
        assert any(same_shape(points[: len(wanted)], wanted) for points in drawn), one.name
    assert max(y for _, y in outline_mm(card("demo", Use.APRONS))) > 250


@pytest.mark.parametrize("sheet", SHEETS)
def test_tiles_laid_together_by_their_crosses_make_the_card(sheet: SheetName) -> None:
    wanted = outline_mm(card("demo", Use.APRONS))
    tiles = {}
    for page in read_again("demo", sheet):
        title = page.extract_text().partition(" opens")[0]
        if title.startswith("Apron edge "):
            (outline,) = (points for points in curves_of(page) if same_shape(points[: len(wanted)], wanted))
            crosses = sorted(
                ((c["x0"] + c["x1"]) / 2 / 72 * MM, (c["top"] + c["bottom"]) / 2 / 72 * MM)
                for c in page.curves
                if c["width"] == pytest.approx(0.12 * 72, abs=0.01)
                and 0 <= c["x0"] <= page.width
                and 0 <= c["top"] <= page.height
            )
            tiles[title.removeprefix("Apron edge ")] = (outline[0], crosses)
    assert len(tiles) > 1
    for (above, (one, upper)), (below, (other, lower)) in pairwise(sorted(tiles.items())):
        if above[1:] != below[1:]:
            continue
        dx, dy = other[0] - one[0], other[1] - one[1]
        shared = [
            (x, y)
            for x, y in upper
            if any(abs(x + dx - a) < NEAR and abs(y + dy - b) < NEAR for a, b in lower)
        ]
        assert len(shared) >= 2, (above, below)
        assert max(x for x, _ in shared) - min(x for x, _ in shared) > 100


@pytest.mark.parametrize("sheet", [SheetName.A4, SheetName.ROLL])
def test_the_tape_laid_together_has_every_tick_at_its_place(sheet: SheetName) -> None:
    tape = card("demo", Use.TAPE)
    found: list[float] = []
    start = 0.0
    for page in pages("demo", sheet):
        for item in page.items:
            if page.title == "Tape" and isinstance(item, Window):
                ticks = [one for one in item.items if isinstance(one, Line) and one.x1 == one.x2]
                inside = [t.x1 - item.x + start for t in ticks if 0 <= t.x1 - item.x <= item.width]
                found += inside
                start += item.width - 0.5
    for line in tape.lines:
        assert min(abs(x - float(line[0][0])) for x in found) < 1e-9


@pytest.mark.parametrize("sheet", SheetName)
@pytest.mark.parametrize("name", ["demo", "asymmetric", "womans-taper", "no-cloth-yet"])
def test_pages_keep_within_what_printers_print_and_their_words_apart(name: str, sheet: SheetName) -> None:
    for page in pages(name, sheet):
        boxes: list[tuple[float, float, float, float, str]] = []
        for item in page.items:
            left, top, right, bottom = bounds(item)
            assert min(left, page.width - right) >= 0.34, (page.title, item)
            assert min(top, page.height - bottom) >= 0.34, (page.title, item)
            boxes += [_box(one) for one in _words(item)]
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
                assert apart, (page.title, one[4], other[4])


def _words(item: Item) -> list[Text]:
    if isinstance(item, Window):
        inner = (item.x, item.y, item.x + item.width, item.y + item.height)
        return [
            one
            for one in item.items
            if isinstance(one, Text)
            and bounds(one)[0] >= inner[0]
            and bounds(one)[1] >= inner[1]
            and bounds(one)[2] <= inner[2]
            and bounds(one)[3] <= inner[3]
        ]
    return [item] if isinstance(item, Text) else []


def _box(text: Text) -> tuple[float, float, float, float, str]:
    wide = width_of(text.text, text.size, bold=text.bold)
    left = text.x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    return left + 0.01, text.y - 0.7 * text.size / 72, left + wide - 0.01, text.y, text.text


def test_a_tiles_name_stands_on_its_sheet() -> None:
    texts = [page.extract_text() for page in read_again("demo", SheetName.A4)]
    for name in ("A1", "B1", "C1"):
        sheet = next(text for text in texts if text.startswith(f"Apron edge {name}"))
        assert sheet.count(name) >= 2


# ---- SVG and DXF


@pytest.mark.parametrize("name", ["demo", "asymmetric"])
def test_every_svg_is_true_to_size(name: str) -> None:
    for one in cards(name):
        text = files(name, SheetName.A4)[f"{one.name}.svg"]
        svg = svgelements.SVG.parse(io.BytesIO(text), ppi=96)
        polygons = [
            [(point.x / 96 * MM, point.y / 96 * MM) for point in element]
            for element in svg.elements()
            if isinstance(element, svgelements.Polygon)
        ]
        assert any(same_shape(points, outline_mm(one)) for points in polygons), one.name
        circles = [e for e in svg.elements() if isinstance(e, svgelements.Circle)]
        assert len(circles) == len(one.rounds)
        for circle, hole in zip(circles, one.rounds, strict=True):
            assert circle.rx / 96 * MM == pytest.approx(float(hole.radius) * MM, abs=NEAR)


def entities(dxf: bytes) -> tuple[dict[str, str], list[dict[str, list[str]]]]:
    """A DXF read by its group codes alone: header variables, and what each entity holds by code."""
    lines = [line.strip() for line in dxf.decode().split("\n")]
    pairs = list(zip(lines[::2], lines[1::2], strict=False))
    header: dict[str, str] = {}
    found: list[dict[str, list[str]]] = []
    section = variable = ""
    for number, (code, value) in enumerate(pairs):
        if code == "2" and pairs[number - 1] == ("0", "SECTION"):
            section = value
        elif section == "HEADER" and code == "9":
            variable = value
        elif section == "HEADER" and variable:
            header[variable] = value
            variable = ""
        elif (code, value) == ("0", "ENDSEC"):
            section = ""
        elif section == "ENTITIES" and code == "0":
            found.append({"type": [value]})
        elif section == "ENTITIES" and found:
            found[-1].setdefault(code, []).append(value)
    return header, found


@pytest.mark.parametrize("name, insunits, unit", [("demo", "1", MM), ("asymmetric", "4", 1.0)])
def test_every_dxf_is_true_to_size_and_passes_the_audit(name: str, insunits: str, unit: float) -> None:
    for one in cards(name):
        dxf = files(name, SheetName.A4)[f"{one.name}.dxf"]
        header, found = entities(dxf)
        assert header["$INSUNITS"] == insunits
        cut = [entity for entity in found if entity["8"] == ["cut"]]
        outlines = [
            [(float(x) * unit, float(y) * unit) for x, y in zip(entity["10"], entity["20"], strict=True)]
            for entity in cut
            if entity["type"] == ["LWPOLYLINE"] and entity["70"] == ["1"]
        ]
        assert any(same_shape(points, outline_mm(one), upward=True) for points in outlines), one.name
        assert len(outlines) == 1 + len(one.slots)
        radii = [float(entity["40"][0]) * unit for entity in cut if entity["type"] == ["CIRCLE"]]
        assert radii == pytest.approx([float(hole.radius) * MM for hole in one.rounds], abs=NEAR)
        assert {entity["8"][0] for entity in found if entity["type"] == ["TEXT"]} == {"engrave"}
        document = ezdxf.filemanagement.read(io.StringIO(dxf.decode()))
        assert not document.audit().errors
        assert {"cut", "engrave", "note"} <= {layer.dxf.name for layer in document.layers}
        colours = [document.layers.get(layer).color for layer in ("cut", "engrave", "note")]
        assert len(set(colours)) == 3


def test_the_kerf_is_in_what_machines_follow_and_not_on_paper() -> None:
    job, option = planned("demo")
    plain = files("demo", SheetName.A4)
    kerf = MILLIMETRE / 5
    cut = template_files(job, option, SheetName.A4, kerf=kerf)
    assert cut["templates.pdf"] == plain["templates.pdf"]
    gauge = card("demo", Use.GAUGES)
    sizes, widths = [], []
    for made in (plain, cut):
        svg = svgelements.SVG.parse(io.BytesIO(made[f"{gauge.name}.svg"]), ppi=96)
        (polygon,) = (e for e in svg.elements() if isinstance(e, svgelements.Polygon))
        left, top, right, bottom = polygon.bbox(with_stroke=False)
        sizes.append(((right - left) / 96 * MM, (bottom - top) / 96 * MM))
        _, found = entities(made[f"{gauge.name}.dxf"])
        (outline,) = (entity for entity in found if entity["type"] == ["LWPOLYLINE"])
        wide = (max(map(float, outline["10"])) - min(map(float, outline["10"]))) * MM
        assert wide == pytest.approx(sizes[-1][0], abs=1e-4)
        widths.append(wide)
    for before, after in zip(*sizes, strict=True):
        assert after - before == pytest.approx(0.2, abs=1e-4)
    assert widths[1] - widths[0] == pytest.approx(0.2, abs=1e-9)


@pytest.mark.parametrize("sheet", [SheetName.A4, SheetName.ROLL])
def test_the_same_order_gives_the_same_bytes(sheet: SheetName) -> None:
    from ezdxf import options  # type: ignore[attr-defined]  # documented, and not listed for typing

    before = options.write_fixed_meta_data_for_testing
    assert template_files(*planned("demo"), sheet) == files("demo", sheet)
    assert options.write_fixed_meta_data_for_testing is before


# ---- the commands


def test_templates_are_written_to_a_folder(tmp_path: Path):
    order = tmp_path / "kilt.toml"
    order.write_text(DEMO.read_text())
    done = run("templates", order, "--only", "gauges", "--only", "strap-hole", "--sheet", "A3")
    assert (done.returncode, done.stderr) == (0, "")
    folder = tmp_path / "kilt-templates"
    stems = [one.name for one in cards("demo") if one.use in (Use.GAUGES, Use.STRAP_HOLE)]
    written = {f"{stem}.{end}" for stem in stems for end in ("svg", "dxf")}
    assert {path.name for path in folder.iterdir()} == {*written, "templates.pdf", "pleatwright-files.txt"}


@pytest.mark.parametrize(
    "arguments, said",
    [
        (("--kerf", "3"), "--kerf"),
        (("--roll-width", "3 in"), "--roll-width"),
        (("--kerf", "much"), "--kerf"),
    ],
)
def test_what_cannot_be_cut_or_printed_is_refused(tmp_path: Path, arguments: tuple[str, ...], said: str):
    done = run("templates", DEMO, "--out", tmp_path / "out", *arguments)
    assert done.returncode == 2
    assert done.stderr.startswith(f"{said}: ")
    assert not (tmp_path / "out").exists()


def test_a_tape_without_cloth_is_refused(tmp_path: Path):
    done = run("templates", ROOT / "examples/no-cloth-yet.toml", "--out", tmp_path / "o", "--only", "tape")
    assert (done.returncode, '--only: "tape"' in done.stderr) == (2, True)


def test_gauges_are_shown_and_drawn(tmp_path: Path):
    shop = tmp_path / "shop.toml"
    shop.write_text('[shop]\ngauges = [{ marked = "3/4", width = "0.753" }]\n')
    out = tmp_path / "gauges.pdf"
    done = run("gauges", DEMO, "--shop", shop, "--out", out)
    assert (done.returncode, done.stderr) == (0, "")
    assert '3/4"  drawer  between' in done.stdout
    assert 'the gauge marked 3/4" is truly 0.753"' in done.stdout
    with pdfplumber.open(out) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
        rects = [rect for page in pdf.pages for rect in page.rects]
    assert "From the drawer" in text
    assert '0.753"' in text
    assert text.count("page 1 of") == 1
    rise = float(planned("demo")[0].sizes.rise) * 72
    assert any(rect["height"] == pytest.approx(rise, abs=0.05) for rect in rects)
