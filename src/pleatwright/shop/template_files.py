"""The files of an option's templates, made in memory: one PDF to print, an SVG and a DXF of each."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction

from pleatwright.bench.templates import Use, templates, with_kerf
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.sheets import write_pdf
from pleatwright.sheets.dxf import write_dxf
from pleatwright.sheets.look import who
from pleatwright.sheets.svg import write_svg
from pleatwright.sheets.templates import SheetName, card_page, paper_of, template_pages

ROLL_WIDTH = Fraction(24)
"""Inches; the usual width of a plotter's roll, 610 mm."""


def template_files(
    job: Job,
    option: Option,
    sheet: SheetName | None = None,
    *,
    roll_width: Fraction = ROLL_WIDTH,
    kerf: Fraction = Fraction(0),
    only: Collection[Use] = tuple(Use),
) -> dict[str, bytes]:
    """templates.pdf on the paper (default: the job's), and name.svg and name.dxf for every template.

    `kerf` in inches is allowed for in SVG and DXF, which machines follow; what is printed is cut along the
    line.  Empty where this kilt needs none of the templates asked for.  Raises ValueError for a kerf that is
    wider than a hole.
    """
    found = templates(option, job.request, job.drawer, only)
    if not found:
        return {}
    paper = paper_of(SheetName(job.paper) if sheet is None else sheet, float(roll_width))
    title = f"{who(job)}, templates, plan {job.version}"
    files = {"templates.pdf": write_pdf(template_pages(job, option, found, paper), title)}
    for template in found:
        page = card_page(with_kerf(template, kerf))
        files[f"{template.name}.svg"] = write_svg(page).encode()
        files[f"{template.name}.dxf"] = write_dxf(page, job.units)
    return files
