"""The pictures as a maker asks for them: files opened again with independent readers."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image
from svgelements import SVG, Polygon

from pleatwright.cli.commands.picture import ShadeChoice, WhatChoice
from pleatwright.layout import make_plan
from pleatwright.order import Job, read_order
from pleatwright.picture import back_picture, back_view
from pleatwright.sett import SHADES
from pleatwright.sheets import Page, Text
from pleatwright.sheets.flow import numbered
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import frame_of
from pleatwright.sheets.pages.sign_page import SignPictures, sign_sheets
from pleatwright.sheets.pages.top_view_page import top_view_sheets
from pleatwright.shop.picture_files import PictureSize, What, picture_file
from tests.whole.commands import run

EXAMPLES = Path(__file__).parents[2] / "examples"
DEMO = EXAMPLES / "demo.toml"
FAST = ("--style", "knife to the stripe")
NAMES = ("demo", "womans-taper", "asymmetric", "box-four-yards", "large-abac-sett", "no-cloth-yet")


def job_of(name: str) -> Job:
    return read_order((EXAMPLES / f"{name}.toml").read_text(), source=name)


def test_the_choices_are_those_of_the_pictures() -> None:
    assert [choice.value for choice in WhatChoice] == [*(what.value for what in What), "all"]
    assert tuple(choice.value for choice in ShadeChoice) == SHADES


def test_the_folder_holds_every_picture_and_says_each_in_words(tmp_path: Path) -> None:
    done = run("picture", DEMO, *FAST, "--out", tmp_path / "shown", "--width", 600, "--dpi", 150, "--svg")
    assert (done.returncode, done.stderr) == (0, "")
    files = {path.name for path in (tmp_path / "shown").iterdir()}
    pngs = {f"{name}.png" for name in ("back", "front", "waist", "options", "shades", "tartan", "lines")}
    vectors = {"back.svg", "front.svg", "above.svg"}
    assert files == pngs | vectors | {"above.pdf", "sign.pdf", "pictures.txt", "pleatwright-files.txt"}
    for name in pngs:
        with Image.open(tmp_path / "shown" / name) as image:
            assert image.width == 600
            assert image.info["dpi"] == pytest.approx((150, 150), abs=0.02)
    told = (tmp_path / "shown" / "pictures.txt").read_text()
    assert all(f"{name}: " in told for name in files - {"pictures.txt", "pleatwright-files.txt"})


def test_the_same_order_gives_the_same_bytes() -> None:
    job = read_order(DEMO.read_text(), source="demo", styles=("knife to the stripe",))
    options = make_plan(job.request).options
    for what in What:
        first, second = (picture_file(job, options, options[0], what, PictureSize(500)) for _ in range(2))
        assert first == second


def test_one_picture_lies_beside_the_order_and_its_words_are_said(tmp_path: Path) -> None:
    order = tmp_path / "order.toml"
    order.write_text(DEMO.read_text())
    done = run("picture", order, *FAST, "--what", "back", "--width", 500, "--option", 2, "--shade", "ancient")
    assert done.returncode == 0
    assert "from behind: 33 knife pleats" in done.stdout
    with Image.open(tmp_path / "order-back.png") as image:
        assert image.width == 500
        assert "dpi" not in image.info
    into = run("picture", order, *FAST, "--what", "lines", "--width", 500, "--out", tmp_path)
    assert into.returncode == 0
    assert (tmp_path / "lines.png").exists()


def test_what_has_no_svg_is_refused_with_what_has(tmp_path: Path) -> None:
    done = run("picture", DEMO, *FAST, "--what", "waist", "--svg", "--out", tmp_path / "waist.svg")
    assert done.returncode == 2
    assert "back, front and above are" in done.stderr
    assert not list(tmp_path.iterdir())
    wrong = run("picture", DEMO, *FAST, "--what", "back", "--option", 99)
    assert (wrong.returncode, "--option" in wrong.stderr) == (2, True)


def test_the_svg_is_the_back_at_true_size_in_the_colours_of_the_picture(tmp_path: Path) -> None:
    path = tmp_path / "back.svg"
    assert run("picture", DEMO, *FAST, "--what", "back", "--svg", "--out", path).returncode == 0
    job = read_order(DEMO.read_text(), source="demo", styles=("knife to the stripe",))
    option = make_plan(job.request).chosen
    assert option is not None
    drawn = SVG.parse(str(path))
    shapes = [shape for shape in drawn.elements() if isinstance(shape, Polygon)]
    corners = [(float(point.x), float(point.y)) for shape in shapes for point in shape.points]
    high = max(y for _, y in corners) - min(y for _, y in corners)
    assert high / 96 == pytest.approx(float(job.sizes.drop + job.sizes.rise), abs=1e-3)
    width = 1200
    view = back_view(option, job.request, width)
    flat = back_picture(option, job.request, width_px=width, folds=False)
    middle = (min(x for x, _ in corners) + max(x for x, _ in corners)) / 2
    top = min(y for _, y in corners)
    checked = 0
    for shape in shapes[::37]:
        if shape.fill.opacity != 1:
            continue
        points = [(float(point.x), float(point.y)) for point in shape.points]
        xs, ys = zip(*points, strict=True)
        x, y = sum(xs) / len(xs), sum(ys) / len(ys)
        if min(max(xs) - min(xs), max(ys) - min(ys)) < 9:  # under a tenth of an inch
            continue
        place = view.middle + (x - middle) / 96 * view.scale, view.top + (y - top) / 96 * view.scale
        seen = flat.getpixel((int(place[0]), int(place[1])))
        assert isinstance(seen, tuple)
        wanted = (shape.fill.red, shape.fill.green, shape.fill.blue)
        assert max(abs(a - b) for a, b in zip(seen, wanted, strict=True)) <= 2
        checked += 1
    assert checked > 15


def pages_of(name: str, what: str) -> tuple[Page, ...]:
    job = job_of(name)
    option = make_plan(job.request).options[-1]
    frame = frame_of(job)
    if what == "above":
        return numbered(job, frame, top_view_sheets(job, option, frame))
    pngs = []
    for size in ((1040, 998), (1040, 962), (1300, 620), (520, 520)):
        out = io.BytesIO()
        Image.new("RGB", size, "#336699").save(out, "PNG")
        pngs.append(out.getvalue())
    return numbered(job, frame, sign_sheets(job, option, SignPictures(*pngs), frame))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("what", ["above", "sign"])
def test_the_sheets_are_one_page_with_nothing_over_the_edge_or_over_other_letters(
    name: str, what: str
) -> None:
    pages = pages_of(name, what)
    assert len(pages) == 1
    page = pages[0]
    boxes = []
    for item in page.items:
        if isinstance(item, Text) and item.text.strip():
            wide = width_of(item.text, item.size, bold=item.bold)
            left = item.x - {"start": 0, "middle": wide / 2, "end": wide}[item.anchor]
            assert left >= 0.35
            assert left + wide <= page.width - 0.35
            assert item.y <= page.height - 0.35
            boxes.append((left + 0.01, item.y - 0.7 * item.size / 72, left + wide - 0.01, item.y, item.text))
    for i, one in enumerate(boxes):
        for other in boxes[i + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (one[4], other[4])


@pytest.mark.parametrize(
    "selvedge, width, said",
    [
        ("3", "58", "of two strips, the seam hidden in a fold; the lines across run on"),
        ("2", "58", 'would miss by 2", so one strip has a hem of that depth: they run on'),
        ("1", "49 1/2", 'the lines across miss each other there by 2"'),
    ],
)
def test_the_sheet_to_sign_names_a_join_and_lines_that_miss(selvedge: str, width: str, said: str) -> None:
    text = (EXAMPLES / "double-width.toml").read_text()
    text = text.replace('stripe = "W6", distance = "3"', f'stripe = "W6", distance = "{selvedge}"')
    job = read_order(text.replace('width = "58"', f'width = "{width}"'))
    option = make_plan(job.request).options[0]
    assert option.join is not None
    out = io.BytesIO()
    Image.new("RGB", (8, 8), "#336699").save(out, "PNG")
    (sheet,) = sign_sheets(job, option, SignPictures(*[out.getvalue()] * 4), frame_of(job))
    words = " ".join(item.text for item in sheet.items if isinstance(item, Text))
    assert said in " ".join(words.split())


def test_the_sheet_to_sign_says_what_is_agreed(tmp_path: Path) -> None:
    path = tmp_path / "sign.pdf"
    order = EXAMPLES / "womans-taper.toml"
    assert (
        run("picture", order, "--style", "knife to the sett", "--what", "sign", "--out", path).returncode == 0
    )
    with pdfplumber.open(path) as pdf:
        assert len(pdf.pages) == 1
        text = " ".join(pdf.pages[0].extract_text().split())
        assert len(pdf.pages[0].images) == 4
    job = read_order(order.read_text(), source=order.name, styles=("knife to the sett",))
    option = make_plan(job.request).options[0]
    for said in (
        "Isolde Fernbrook",
        "Harebell Lane Kilts",
        "Larkfell",
        "the wearer's left",
        option.title,
        f"option {option.number}",
        "not whole on every pleat: black, 10 threads, in the grey",
        "colours on paper and on a screen differ from those of the cloth",
        "date",
    ):
        assert said in text, said


def test_the_page_of_folds_names_every_length(tmp_path: Path) -> None:
    path = tmp_path / "above.pdf"
    assert run("picture", DEMO, *FAST, "--what", "above", "--out", path, "--paper", "Letter").returncode == 0
    with pdfplumber.open(path) as pdf:
        assert float(pdf.pages[0].width) == pytest.approx(8.5 * 72)
        text = " ".join(pdf.pages[0].extract_text().split())
    for said in ("27 pleats", "over-apron 21 3/8", "deep pleat", "reverse pleat", "reveal 3/4", "facings"):
        assert said in text, said
