"""A page that goes to the client: the shop's name above, no plan below."""

from __future__ import annotations

from collections.abc import Sequence

from pleatwright.order import Paper
from pleatwright.sheets.drawing import Item, Line, Page, Text
from pleatwright.sheets.flow import Sheet
from pleatwright.sheets.lettering import fitted
from pleatwright.sheets.look import ACCENT, BODY, GREY, HAIR, LEAST, PAPER, SMALL, TITLE, Frame, baseline


def letter_frame(paper: Paper) -> Frame:
    """The frame of a letter."""
    return Frame(*PAPER[paper])


def letter_pages(sheets: Sequence[Sheet], frame: Frame, shop: str, foot: str) -> tuple[Page, ...]:
    """The sheets as pages: title and shop above, `foot` and the page's number below."""
    return tuple(_stamped(sheet, frame, shop, foot, n, len(sheets)) for n, sheet in enumerate(sheets, 1))


def _stamped(sheet: Sheet, frame: Frame, shop: str, foot: str, number: int, of: int) -> Page:
    left, right = frame.margin, frame.paper_width - frame.margin
    base, low = frame.margin + baseline(TITLE), frame.paper_height - frame.margin
    title, size = fitted(sheet.title, frame.width * 0.6, TITLE, BODY, bold=True)
    name, name_size = fitted(shop, frame.width * 0.38, BODY + 1, SMALL, bold=True)
    words, words_size = fitted(foot, frame.width - 1.5, SMALL, LEAST)
    stamp: tuple[Item, ...] = (
        Text(left, base, title, size, bold=True),
        Text(right, base, name, name_size, "end", True, ACCENT),
        Line(left, frame.margin + 0.44, right, frame.margin + 0.44, ACCENT, 1.4),
        Line(left, low - 0.2, right, low - 0.2, HAIR, 0.5),
        Text(left, low, words, words_size, fill=GREY),
        Text(right, low, f"page {number} of {of}", SMALL, "end", fill=GREY),
    )
    return Page(frame.paper_width, frame.paper_height, (*stamp, *sheet.items), sheet.title)
