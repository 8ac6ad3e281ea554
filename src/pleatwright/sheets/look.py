"""The look of every sheet: paper, margins, colours, text sizes; and the stamp each page carries."""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.lengths import MILLIMETRE
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Page, Rect, Text
from pleatwright.sheets.lettering import CAPITALS, POINTS, fitted, width_of

ACCENT = "#1F5F5B"
ACCENT_PALE = "#E4EFED"
ACCENT_MIDDLE = "#B9D5D1"
GREY = "#5C6570"
HAIR = "#C3C9CE"
PALE = "#F4F5F3"
ALARM = "#9B2C1F"
WHITE = "#FFFFFF"

BODY = 11.0
SMALL = 9.0
HEADING = 13.0
TITLE = 22.0
LEAST = 7.0
LEADING = 1.32
"""From baseline to baseline, in text sizes."""

PAPER = {
    "A4": (float(210 * MILLIMETRE), float(297 * MILLIMETRE)),  # ISO 216
    "Letter": (8.5, 11.0),  # ANSI/ASME Y14.1
}


@dataclass(frozen=True)
class Frame:
    """The part of the paper that is drawn on, between head and foot; inches."""

    paper_width: float
    paper_height: float
    margin: float = 0.55
    head: float = 0.62
    foot: float = 0.34

    @property
    def width(self) -> float:
        """Width for the contents."""
        return self.paper_width - 2 * self.margin

    @property
    def top(self) -> float:
        """Where the contents begin, from the top of the paper."""
        return self.margin + self.head

    @property
    def height(self) -> float:
        """Height for the contents."""
        return self.paper_height - 2 * self.margin - self.head - self.foot


def frame_of(job: Job) -> Frame:
    """The frame on the job's paper."""
    return Frame(*PAPER[job.paper])


def line_height(size: float) -> float:
    """Inches from one baseline to the next; `size` in points."""
    return size * LEADING / POINTS


def baseline(size: float) -> float:
    """Inches from the top of a line to its baseline."""
    return (line_height(size) + size * CAPITALS / POINTS) / 2


def who(job: Job) -> str:
    """Client and reference, as both stamps and titles name the job."""
    return ", ".join(part for part in (job.client, job.reference) if part)


def stamped(job: Job, frame: Frame, title: str, items: tuple[Item, ...], number: int, of: int) -> Page:
    """One page: title and opening side above; below client, reference, plan version, page n of m."""
    left, right = frame.margin, frame.paper_width - frame.margin
    opens = f"opens on the {job.request.opens_on}"
    tag = width_of(opens, BODY, bold=True) + 0.3
    heading, size = fitted(title, frame.width - tag - 0.3, TITLE, BODY, bold=True)
    base = frame.margin + baseline(TITLE)
    tag_y = base - TITLE * CAPITALS / POINTS / 2 - 0.16
    foot = frame.paper_height - frame.margin
    page = f"plan {job.version}   page {number} of {of}"
    room = frame.width - width_of(page, SMALL) - 0.5
    reference, reference_size = fitted(job.reference, room * 0.4, SMALL, LEAST, bold=True)
    taken = width_of(reference, reference_size, bold=True)
    client, client_size = fitted(job.client, room - taken - 0.2, SMALL, LEAST, bold=True)
    after = left + width_of(client, client_size, bold=True) + (0.2 if client else 0.0)
    stamp: tuple[Item, ...] = (
        Text(left, base, heading, size, bold=True),
        Rect(right - tag, tag_y, tag, 0.32, fill=ACCENT),
        Text(
            right - tag / 2, tag_y + 0.16 + BODY * CAPITALS / POINTS / 2, opens, BODY, "middle", True, WHITE
        ),
        Line(left, frame.margin + 0.44, right, frame.margin + 0.44, ACCENT, 1.4),
        Line(left, foot - 0.2, right, foot - 0.2, HAIR, 0.5),
        Text(left, foot, client, client_size, bold=True, fill=GREY),
        Text(after, foot, reference, reference_size, bold=True, fill=GREY),
        Text(right, foot, page, SMALL, "end", fill=GREY),
    )
    return Page(frame.paper_width, frame.paper_height, (*stamp, *items), title)
