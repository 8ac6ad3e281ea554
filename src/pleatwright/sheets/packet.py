"""The packet for the bench: every page of one plan in one PDF."""

from __future__ import annotations

from pleatwright.layout import Plan
from pleatwright.order import Job
from pleatwright.sheets.drawing import Page
from pleatwright.sheets.flow import Sheet, numbered
from pleatwright.sheets.look import frame_of, who
from pleatwright.sheets.pages.care_page import care_sheets
from pleatwright.sheets.pages.cautions_page import cautions_sheets
from pleatwright.sheets.pages.check_page import check_sheets
from pleatwright.sheets.pages.closing_page import closing_sheets
from pleatwright.sheets.pages.cloth_page import cloth_sheets
from pleatwright.sheets.pages.cloth_piece_page import cloth_piece_sheets
from pleatwright.sheets.pages.gauges_page import gauges_sheets
from pleatwright.sheets.pages.job_page import job_sheets
from pleatwright.sheets.pages.marks_page import marks_sheets
from pleatwright.sheets.pages.measures_page import measures_sheets
from pleatwright.sheets.pages.options_page import options_sheets
from pleatwright.sheets.pages.sign_page import SignPictures, sign_sheets
from pleatwright.sheets.pages.strip_page import strip_sheets
from pleatwright.sheets.pages.top_view_page import top_view_sheets
from pleatwright.sheets.pdf import write_pdf


def packet(
    job: Job, plan: Plan, backs: tuple[bytes, ...] = (), pictures: SignPictures | None = None
) -> bytes:
    """The PDF.  `backs`: a PNG of each option's back, in the plan's order, or none; `pictures`: of the first.

    Raises ValueError when there are pictures, but not one for each option.
    """
    return write_pdf(packet_pages(job, plan, backs, pictures), f"{who(job)}, plan {job.version}")


def packet_pages(
    job: Job, plan: Plan, backs: tuple[bytes, ...] = (), pictures: SignPictures | None = None
) -> tuple[Page, ...]:
    """The pages: job; piece as measured; options; the chosen one's picture to sign, folds, strip map, marks,
    check, gauges, closing, last measures, care card; cautions.

    Without a piece the cloth to order takes the place of strip map and marks; without an option it follows
    the job page alone.
    """
    frame = frame_of(job)
    sheets: list[Sheet] = [*job_sheets(job, plan, frame), *cloth_piece_sheets(job, plan, frame)]
    chosen = plan.chosen
    if chosen is None or job.request.piece is None:
        sheets += cloth_sheets(job, plan, frame)
    if chosen is not None:
        sheets += options_sheets(job, plan, backs, frame)
        if pictures is not None:
            sheets += sign_sheets(job, chosen, pictures, frame)
        sheets += top_view_sheets(job, chosen, frame)
        if job.request.piece is not None:
            sheets += strip_sheets(job, chosen, frame)
            sheets += marks_sheets(job, chosen, frame)
            sheets += check_sheets(job, chosen, frame)
        sheets += gauges_sheets(job, chosen, frame)
        sheets += closing_sheets(job, chosen, frame)
        sheets += measures_sheets(job, chosen, frame)
        sheets += care_sheets(job, chosen, frame)
        sheets += cautions_sheets(frame)
    return numbered(job, frame, sheets)
