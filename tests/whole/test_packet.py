"""The packet, opened again with an independent reader: stamped, within the paper, true to the plan."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image
from pypdf import PdfReader

from pleatwright.bench import gauge_list, marks, regions
from pleatwright.layout import Plan, make_plan
from pleatwright.lengths import write_length
from pleatwright.order import Job, read_order
from pleatwright.sheets import Line, Page, Picture, Polyline, Rect, Text, packet, packet_pages
from pleatwright.sheets.lettering import width_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
WITHOUT_CLOTH = "no-cloth-yet"
MM = 72 / 25.4


def order(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def small_picture(number: int) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (42, 50), (40 + 10 * number, 90, 60)).save(out, "PNG")
    return out.getvalue()


@cache
def made(name: str) -> tuple[Job, Plan, tuple[bytes, ...]]:
    job = read_order(order(name), source=f"{name}.toml")
    plan = make_plan(job.request)
    return job, plan, tuple(small_picture(option.number) for option in plan.options)


@cache
def pages(name: str) -> tuple[Page, ...]:
    return packet_pages(*made(name))


@cache
def pdf_of(name: str) -> bytes:
    return packet(*made(name))


@cache
def text_of(name: str) -> tuple[str, ...]:
    with pdfplumber.open(io.BytesIO(pdf_of(name))) as pdf:
        return tuple(page.extract_text() for page in pdf.pages)


def titled(name: str, title: str) -> str:
    """The text of all pages of one title."""
    return "\n".join(
        text for page, text in zip(pages(name), text_of(name), strict=True) if page.title == title
    )


def corners(page: Page) -> list[tuple[float, float]]:
    """Points that no item of the page goes beyond."""
    found: list[tuple[float, float]] = []
    for item in page.items:
        match item:
            case Line():
                found += [(item.x1, item.y1), (item.x2, item.y2)]
            case Polyline():
                found += item.points
            case Rect() | Picture():
                found += [(item.x, item.y), (item.x + item.width, item.y + item.height)]
            case Text():
                wide = width_of(item.text, item.size, bold=item.bold)
                left = item.x - {"start": 0, "middle": wide / 2, "end": wide}[item.anchor]
                found += [(left, item.y - item.size / 72), (left + wide, item.y + 0.25 * item.size / 72)]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_nothing_goes_over_the_edge_of_the_paper_or_into_what_printers_leave_white(name: str) -> None:
    for page in pages(name):
        for x, y in corners(page):
            assert 0.35 <= x <= page.width - 0.35, page.title
            assert 0.35 <= y <= page.height - 0.35, page.title


@pytest.mark.parametrize("name", NAMES)
def test_no_letters_lie_over_other_letters(name: str) -> None:
    for page in pages(name):
        boxes = []
        for item in page.items:
            if isinstance(item, Text) and item.text.strip():
                wide = width_of(item.text.strip(), item.size, bold=item.bold)
                left = item.x - {"start": 0, "middle": wide / 2, "end": wide}[item.anchor]
                boxes.append(
                    (left + 0.01, item.y - 0.7 * item.size / 72, left + wide - 0.01, item.y, item.text)
                )
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
                assert apart, (page.title, one[4], other[4])


@pytest.mark.parametrize("name", ["demo", "womans-taper", "asymmetric", WITHOUT_CLOTH])
def test_every_page_is_stamped(name: str) -> None:
    job, _, _ = made(name)
    texts = text_of(name)
    for number, text in enumerate(texts, 1):
        assert job.client in text
        assert job.reference in text
        assert f"plan {job.version}" in text
        assert f"opens on the {job.request.opens_on}" in text
        assert f"page {number} of {len(texts)}" in text


@pytest.mark.parametrize("name", ["demo", "womans-taper", "asymmetric", "belly"])
def test_every_mark_is_listed_with_its_figure_and_its_words(name: str) -> None:
    job, plan, _ = made(name)
    assert plan.chosen is not None
    text = titled(name, "Marks")
    lines = text.split("\n")
    said = " ".join(text.split())
    for mark in marks(plan.chosen, job.request):
        tape = write_length(mark.tape, job.units, job.grid)
        row = [line for line in lines if line.startswith(f"{mark.number} {mark.what} {tape}")]
        assert row, (mark, tape)
        if mark.repeat:
            assert re.search(rf"{re.escape(tape)} {mark.repeat}( |$)", row[0])
        if mark.repeat and mark.from_repeat:
            away = write_length(abs(mark.from_repeat), job.units, job.grid)
            assert row[0].endswith(f"{mark.repeat} {'+' if mark.from_repeat > 0 else '−'} {away}")
        assert mark.words in said


@pytest.mark.parametrize("name", ["demo", "womans-taper", "asymmetric", "belly", WITHOUT_CLOTH])
def test_every_gauge_is_listed(name: str) -> None:
    job, plan, _ = made(name)
    assert plan.chosen is not None
    gauges = gauge_list(plan.chosen, job.request)
    text = " ".join(titled(name, "Gauges").split())
    hips = straps = 0 * gauges.hip_total
    for row in gauges.rows:
        hips, straps = hips + row.hip, straps + row.strap
        figures = (
            write_length(value, job.units, job.grid).removesuffix(" mm")
            for value in (row.hip, row.strap, hips, straps)
        )
        assert f"{row.pleat} {' '.join(figures)}" in text
    assert f"{write_length(gauges.hip_total, job.units, job.grid)} at the hip line" in text


def test_the_job_page_holds_measures_sizes_and_levels() -> None:
    job, _, _ = made("demo")
    text = titled("demo", "The job")
    for said in ("Wilfred Ashgrove", "Tarnside", "Harebell Lane Kilts", "RIGHT", "snug, at the strap line"):
        assert said in text
    assert '35 1/2" snug' in text
    for level in job.sizes.levels:
        down, up = (write_length(v, job.units) for v in (level.below_top, job.sizes.total - level.below_top))
        assert f"{level.name} {down} {up}" in text


def test_questions_are_asked_with_room_for_the_answer() -> None:
    job, _, _ = made("belly")
    assert job.questions
    text = titled("belly", "The job")
    assert text.count("answer") == len(job.questions)


def test_every_option_is_compared() -> None:
    job, plan, pictures = made("demo")
    shown = " ".join(titled("demo", "The kilts this cloth allows").split())
    for option in plan.options:
        assert option.title in shown
        assert f"standing {option.standing:.1f}, score {option.score:.1f}" in shown
        assert write_length(option.levels[0].reveal, job.units) in shown
    for option in plan.options[:3]:
        for reason in option.reasons:
            assert reason in shown
    images = [
        item.png
        for page in pages("demo")
        for item in page.items
        if isinstance(item, Picture) and page.title == "The kilts this cloth allows"
    ]
    assert images == list(pictures)


def test_the_strip_is_drawn_to_scale_in_the_cloths_own_colours() -> None:
    job, plan, _ = made("demo")
    piece, option = job.request.piece, plan.chosen
    assert piece is not None
    assert option is not None
    run = piece.run(job.request.tartan)
    drawn_over = [part.start for part in regions(option, 306.0)]
    drawn_over += [option.over_apron.centre, option.under_apron.centre]
    with pdfplumber.open(io.BytesIO(pdf_of("demo"))) as pdf:
        page = next(one for one in pdf.pages if one.extract_text().startswith("The strip"))
        image = page.to_image(resolution=144).original.convert("RGB")
        frames = [rect for rect in page.rects if rect["stroke"] and not rect["fill"]]
    rows = [rect for rect in frames if rect["width"] == pytest.approx(36 / 5 * 72, abs=0.05 * MM)]
    assert len(rows) == 8  # of 8 1/2 yards; the ninth row is half as long
    looked_at = 0
    for number, row in enumerate(sorted(rows, key=lambda rect: float(rect["top"]))):
        for sixteenth in range(5, 36 * 16 - 4, 7):
            x = number * 36 + sixteenth / 16
            near = {run.sett.colour_at(run.thread_at(x + off / 50)) for off in range(-7, 8)}
            if len(near) > 1 or any(abs(x - line) < 0.25 for line in drawn_over):
                continue
            across, down = row["x0"] + sixteenth / 16 / 5 * 72, (row["top"] + row["bottom"]) / 2
            seen = image.getpixel((round(across * 2), round(down * 2)))
            assert seen == pytest.approx(job.request.tartan.rgb(near.pop()), abs=2), x
            looked_at += 1
    assert looked_at > 200


def test_every_part_of_the_strip_is_named_and_every_pleat_and_repeat_numbered() -> None:
    _, plan, _ = made("demo")
    assert plan.chosen is not None
    shown = [
        item.text
        for page in pages("demo")
        if page.title == "The strip"
        for item in page.items
        if isinstance(item, Text)
    ]
    for part in ("spare", "facing", "over-apron", "deep pleat", "reverse pleat", "under-apron", "rest"):
        assert part in shown
    for number in range(1, plan.chosen.pleats + 1):
        assert str(number) in shown


def test_gauges_and_check_line_are_drawn_at_true_size() -> None:
    job, plan, _ = made("demo")
    assert plan.chosen is not None
    gauges = gauge_list(plan.chosen, job.request).gauges
    with pdfplumber.open(io.BytesIO(pdf_of("demo"))) as pdf:
        drawn = [page for page in pdf.pages if (page.extract_text() or "").startswith("Gauges")]
        lines = [line for page in drawn for line in page.lines]
        rects = [rect for page in drawn for rect in page.rects]
    assert any(line["width"] == pytest.approx(4 * 72, abs=0.05 * MM) for line in lines)
    for gauge in gauges:
        assert any(rect["width"] == pytest.approx(float(gauge.width) * 72, abs=0.05 * MM) for rect in rects)


def test_without_cloth_the_packet_says_what_to_order() -> None:
    _, plan, _ = made(WITHOUT_CLOTH)
    titles = {page.title for page in pages(WITHOUT_CLOTH)}
    assert titles == {
        "The job",
        "Cloth to order",
        "The kilts this cloth allows",
        "The folds seen from above",
        "Gauges",
        "Closing",
        "Last measures",
        "Care card",
        "Cautions",
    }
    assert plan.to_order is not None
    text = titled(WITHOUT_CLOTH, "Cloth to order")
    assert f"{plan.to_order.single_width / 36:.2f} yd" in text
    assert f"{plan.to_order.double_width / 36:.2f} yd" in text


def test_a_piece_that_is_too_short_gives_the_reasons_and_no_marks() -> None:
    job = read_order(order("demo").replace('"8 1/2 yd"', '"2 1/2 yd"'))
    plan = make_plan(job.request)
    assert not plan.options
    made_pages = packet_pages(job, plan)
    assert {page.title for page in made_pages} == {"The job", "Cloth to order"}
    shown = " ".join(item.text for page in made_pages for item in page.items if isinstance(item, Text))
    assert "Do not rip" in shown
    assert "2.50 yd long" in shown
    assert "What would fit" in shown


def test_long_names_leave_room_for_the_rest_of_the_stamp() -> None:
    text = order("demo").replace("Wilfred Ashgrove", "Wilfred " + 20 * "Ashgrove-" + "the elder")
    job = read_order(text.replace("HL-101", "HL-" + 30 * "1"))
    made_pages = packet_pages(job, make_plan(job.request))
    for page in made_pages:
        assert all(0 < x < page.width and 0 < y < page.height for x, y in corners(page))
        foot = [item for item in page.items if isinstance(item, Text) and item.y > page.height - 0.6]
        client, reference, plan = sorted(foot, key=lambda item: item.x)
        assert client.text.startswith("Wilfred Ashgrove-")
        assert reference.text.startswith("HL-111")
        assert job.version in plan.text
        assert reference.x + width_of(reference.text, reference.size, bold=True) < (
            plan.x - width_of(plan.text, plan.size)
        )


@pytest.mark.parametrize("paper, size", [("A4", (595.28, 841.89)), ("Letter", (612, 792))])
def test_the_packet_comes_on_the_paper_asked_for(paper: str, size: tuple[float, float]) -> None:
    # ISO 216; ANSI/ASME Y14.1
    job = read_order(order("demo"), paper=paper)
    reader = PdfReader(io.BytesIO(packet(job, made("demo")[1])))
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.02)


def test_the_packet_embeds_its_letters_and_repeats_to_the_byte() -> None:
    assert pdf_of("demo") == packet(*made("demo"))
    with pdfplumber.open(io.BytesIO(pdf_of("demo"))) as pdf:
        used = {char["fontname"].partition("+")[2] for char in pdf.pages[0].chars}
    assert used == {"DejaVuSans", "DejaVuSans-Bold"}


def test_a_picture_for_each_option_or_none_at_all() -> None:
    job, plan, pictures = made("demo")
    with pytest.raises(ValueError, match="zip"):
        packet(job, plan, pictures[:-1])
