"""Guide and sewing card, opened again with an independent reader: within the paper, true to the plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from pypdfium2 import PdfDocument

from pleatwright.bench.guide import Drawn, Kilt, card_rows, steps_of
from pleatwright.layout import make_plan
from pleatwright.order import read_order
from pleatwright.sheets import Text
from pleatwright.sheets.guide import guide_pages, guide_pdf
from pleatwright.sheets.pages.guide.pages import step_block
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


class Read(NamedTuple):
    """One page as another program reads it: its text, and every run of letters with its box in points."""

    text: str
    boxes: tuple[tuple[float, float, float, float, str], ...]
    width: float
    height: float


@cache
def read(pdf: bytes) -> tuple[Read, ...]:
    pages = []
    for page in PdfDocument(pdf):
        found = page.get_textpage()
        runs = [found.get_rect(number) for number in range(found.count_rects())]
        boxes = tuple((*run, found.get_text_bounded(*run)) for run in runs)
        pages.append(Read(found.get_text_range(), boxes, *page.get_size()))
    return tuple(pages)


def flat(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("case", CASES)
def test_every_step_is_printed_with_its_numbers_its_cautions_and_its_check(case: Case) -> None:
    text = flat("".join(page.text for page in read(guide_of(case))))
    steps = steps_of(kilt(case))
    assert 27 <= len(steps) <= 32
    for step in steps:
        printed = [step.title, step.proof.what, step.proof.wanted, *step.do, *step.tools]
        printed += [figure.value for figure in step.figures]
        printed.append(" ".join(step.cautions))
        for words in printed:
            assert flat(words) in text, (step.title, words)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("what", [guide_of, card_of])
def test_every_word_lies_on_the_paper_and_over_no_other(case: Case, what: Any) -> None:
    for page in read(what(case)):
        for left, low, right, high, text in page.boxes:
            assert left >= WHITE, text
            assert right <= page.width - WHITE, text
            assert low >= WHITE, text
            assert high <= page.height - WHITE, text
        for i, one in enumerate(page.boxes):
            for other in page.boxes[i + 1 :]:
                apart = (
                    one[2] <= other[0] + 0.3
                    or other[2] <= one[0] + 0.3
                    or one[3] <= other[1] + 0.3
                    or other[3] <= one[1] + 0.3
                )
                assert apart, (one, other)


@pytest.mark.parametrize("case", CASES)
def test_two_steps_a_page_and_all_in_their_order(case: Case) -> None:
    pages, steps = len(read(guide_of(case))), steps_of(kilt(case))
    assert pages <= 1 + 0.68 * len(steps)
    text = flat("".join(page.text for page in read(guide_of(case))[1:]))
    at = -1
    for step in steps:
        at = text.index(flat(f"{step.number}{step.title}"), at + 1)


def test_letters_to_work_from_are_eleven_points_at_least() -> None:
    ours = kilt(CASES[0])
    for step in steps_of(ours):
        if step.drawing is not Drawn.STRAPS:  # that drawing is the closing's own
            sizes = [item.size for item in step_block(ours, step, 7.17).items if isinstance(item, Text)]
            assert min(sizes) >= 11.0, step.title


@pytest.mark.parametrize("case", CASES)
def test_the_card_has_a_line_for_every_pleat_in_sewing_order(case: Case) -> None:
    ours = kilt(case)
    every = ours.job.request.settings.sewing.measure_every
    rows = card_rows(ours.gauges, ours.begin, every)
    cards = -(-len(rows) // MOST)
    pages = read(card_of(case))
    assert len(pages) == -(-cards // 2)
    lines = flat("".join(page.text for page in pages))
    for row in rows:
        figures = [
            flat(ours.write(value)).removesuffix("mm")
            for value in (row.hip, row.strap, row.hip_total, row.strap_total)
        ]
        assert f"{row.pleat}{''.join(figures)}" in lines
    assert rows[0].pleat == (1 if ours.begin == "first" else len(rows))
    assert lines.count("measurehere") == sum(row.measure for row in rows)
    assert lines.count("found") == sum(row.measure for row in rows)


def test_the_double_of_a_card_holds_the_same_pleats_and_no_width() -> None:
    ours = kilt(CASES[0])
    (page, *_) = sewing_card_pages(ours.job, ours.option)
    middle = page.width / 2
    right = [item for item in page.items if isinstance(item, Text) and item.x > middle]
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
    for number, page in enumerate(read(guide_of(CASES[0])), 1):
        assert f"page {number} of {len(pages)}" in page.text
        assert ours.job.client in page.text
        assert ours.job.version in page.text
