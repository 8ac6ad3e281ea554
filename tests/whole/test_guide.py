"""Guide and sewing card, opened again with an independent reader: whole, within the paper, true to the plan."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from pleatwright.bench.guide import Kilt, card_rows, steps_of
from pleatwright.layout import make_plan
from pleatwright.order import read_order
from pleatwright.sheets.guide import guide_pages, guide_pdf
from pleatwright.sheets.pages.sewing_card import MOST, sewing_card_pages, sewing_card_pdf

EXAMPLES = Path(__file__).parents[2] / "examples"
Case = tuple[str, int, str, str | None]
CASES: list[Case] = [
    ("demo", 1, "right", None),
    ("womans-taper", 1, "left", "metric"),
    ("box-four-yards", 1, "right", None),
    ("double-width", 1, "right", "metric"),
    ("child-hem", 1, "left", None),
    ("no-cloth-yet", 1, "right", None),
    ("demo", 6, "right", None),
]
WHITE = 0.35 * 72
"""Points that printers leave white."""


@cache
def kilt(case: Case) -> Kilt:
    name, number, hand, units = case
    job = read_order((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), units=units)
    option = make_plan(job.request).options[number - 1]
    return Kilt.of(replace(job, hand="left" if hand == "left" else "right"), option)


@cache
def guide_of(case: Case) -> bytes:
    ours = kilt(case)
    return guide_pdf(ours.job, ours.option)


@cache
def card_of(case: Case) -> bytes:
    ours = kilt(case)
    return sewing_card_pdf(ours.job, ours.option)


@cache
def read(pdf: bytes) -> tuple[tuple[str, list[dict[str, Any]], float, float], ...]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return tuple(
            (
                page.extract_text(),
                page.extract_words(use_text_flow=True, keep_blank_chars=True),
                float(page.width),
                float(page.height),
            )
            for page in opened.pages
        )


def flat(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("case", CASES)
def test_every_step_is_printed_with_its_numbers_its_cautions_and_its_check(case: Case) -> None:
    text = flat("".join(page for page, *_ in read(guide_of(case))))
    words = flat("".join(word["text"] for _, words, *_ in read(guide_of(case)) for word in words))
    steps = steps_of(kilt(case))
    assert 27 <= len(steps) <= 32
    for step in steps:
        assert flat(step.title) in text
        assert flat(step.proof.what) in words
        assert flat(step.proof.wanted) in text
        for figure in step.figures:
            assert flat(figure.value) in words, (step.title, figure)
        for sentence in (*step.do, " ".join(step.cautions), ", ".join(step.tools)):
            assert flat(sentence) in words, (step.title, sentence)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("what", [guide_of, card_of])
def test_every_word_lies_on_the_paper_and_over_no_other(case: Case, what: Any) -> None:
    for _, words, width, height in read(what(case)):
        boxes = [
            (word["x0"], word["top"] + 1.5, word["x1"], word["bottom"] - 2.5, word["text"])
            for word in words
            if word["text"].strip()
        ]
        for x0, top, x1, bottom, text in boxes:
            assert x0 >= WHITE, text
            assert x1 <= width - WHITE, text
            assert top >= WHITE - 3, text
            assert bottom <= height - WHITE, text
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                apart = (
                    one[2] <= other[0] + 0.8
                    or other[2] <= one[0] + 0.8
                    or one[3] <= other[1] + 0.5
                    or other[3] <= one[1] + 0.5
                )
                assert apart, (one, other)


@pytest.mark.parametrize("case", CASES)
def test_two_steps_a_page_and_all_in_their_order(case: Case) -> None:
    pages, steps = len(read(guide_of(case))), steps_of(kilt(case))
    assert pages <= 1 + 0.68 * len(steps)
    text = flat("".join(page for page, *_ in read(guide_of(case))[1:]))
    at = -1
    for step in steps:
        at = text.index(flat(f"{step.number}{step.title}"), at + 1)


def test_letters_to_work_from_are_eleven_points_at_least() -> None:
    ours = kilt(CASES[0])
    small = {flat(sentence)[:12] for step in steps_of(ours) for sentence in (*step.do, step.proof.what)}
    with pdfplumber.open(io.BytesIO(guide_of(CASES[0]))) as opened:
        for page in opened.pages[1:]:
            for line in page.extract_text_lines(return_chars=True):
                if any(flat(line["text"]).startswith(start) for start in small):
                    assert min(char["size"] for char in line["chars"]) >= 10.99


@pytest.mark.parametrize("case", CASES)
def test_the_card_has_a_line_for_every_pleat_in_sewing_order(case: Case) -> None:
    ours = kilt(case)
    every = ours.job.request.settings.sewing.measure_every
    rows = card_rows(ours.gauges, ours.begin, every)
    cards = -(-len(rows) // MOST)
    pages = read(card_of(case))
    assert len(pages) == -(-cards // 2)
    words = [flat(word["text"]) for _, words, *_ in pages for word in words]
    lines = "|".join(words)
    for row in rows:
        figures = [
            flat(ours.write(value)).removesuffix("mm")
            for value in (row.hip, row.strap, row.hip_total, row.strap_total)
        ]
        assert f"|{row.pleat}|" in f"|{lines}|"
        assert "".join(figures) in lines.replace("|", "")
    assert [row.pleat for row in rows][0] == (1 if ours.begin == "first" else len(rows))
    assert lines.count("measurehere") == sum(row.measure for row in rows)
    assert lines.count("found") == sum(row.measure for row in rows)


def test_the_double_of_a_card_holds_the_same_pleats_and_no_width() -> None:
    ours = kilt(CASES[0])
    (page, *_) = sewing_card_pages(ours.job, ours.option)
    middle = page.width / 2
    right = [item for item in page.items if hasattr(item, "text") and item.x > middle]
    numbers = [item.text for item in right if item.text.isdigit()]
    assert numbers == [str(number) for number in range(1, ours.option.pleats + 1)]
    assert not any('"' in item.text for item in right)


def test_the_same_job_gives_the_same_bytes_twice() -> None:
    ours = kilt(CASES[0])
    assert guide_pdf(ours.job, ours.option) == guide_of(CASES[0])
    assert sewing_card_pdf(ours.job, ours.option) == card_of(CASES[0])


def test_pages_are_stamped_and_numbered() -> None:
    ours = kilt(CASES[0])
    pages = guide_pages(ours.job, ours.option)
    for number, (text, *_) in enumerate(read(guide_of(CASES[0])), 1):
        assert f"page {number} of {len(pages)}" in text
        assert ours.job.client in text
        assert ours.job.version in text
