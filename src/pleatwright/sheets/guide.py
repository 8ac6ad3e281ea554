"""The guide as a PDF: this kilt step by step."""

from __future__ import annotations

from pleatwright.bench.guide import Begin, Kilt
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.sheets.drawing import Page
from pleatwright.sheets.flow import numbered
from pleatwright.sheets.look import frame_of, who
from pleatwright.sheets.pages.guide.pages import guide_sheets
from pleatwright.sheets.pdf import write_pdf


def guide_pages(job: Job, option: Option, begin: Begin | None = None) -> tuple[Page, ...]:
    """Every page, stamped and numbered; `begin`: the pleat sewn first, else as the job's hand has it."""
    frame = frame_of(job)
    return numbered(job, frame, guide_sheets(Kilt.of(job, option, begin), frame))


def guide_pdf(job: Job, option: Option, begin: Begin | None = None) -> bytes:
    """The PDF; the same job and option give the same bytes."""
    return write_pdf(guide_pages(job, option, begin), f"{who(job)}, step by step, plan {job.version}")
