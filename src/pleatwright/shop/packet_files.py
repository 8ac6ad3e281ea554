"""The files of one packet, made in memory: plan.json, packet.pdf, marks.csv, the pictures."""

from __future__ import annotations

import csv
import io

from pleatwright.bench import Mark, marks
from pleatwright.layout import Plan
from pleatwright.lengths import file_number
from pleatwright.order import Job
from pleatwright.picture import back_picture, front_picture, png_bytes
from pleatwright.sheets import packet
from pleatwright.sheets.guide import guide_pdf
from pleatwright.sheets.pages.sewing_card import sewing_card_pdf
from pleatwright.shop.picture_files import sign_pictures
from pleatwright.shop.plan_record import plan_json
from pleatwright.shop.say import Say
from pleatwright.shop.template_files import template_files

SMALL_BACK, BACK, FRONT = 420, 1600, 1100
"""Widths of the pictures in pixels: in the comparison, and of the chosen option from behind and in front."""
SIGN_DPI = 150
"""Pixels an inch of the sheet to sign, within the packet."""


def packet_files(job: Job, plan: Plan, say: Say) -> dict[str, bytes]:
    """Every file of the packet by name; without an option only the findings, on paper and as JSON."""
    backs, pictures = [], None
    for option in plan.options:
        say(f"drawing option {option.number} of {len(plan.options)}")
        backs.append(png_bytes(back_picture(option, job.request, width_px=SMALL_BACK)))
    files = {"plan.json": plan_json(job, plan).encode()}
    if plan.chosen is not None:
        say("drawing the chosen kilt")
        files["back.png"] = png_bytes(back_picture(plan.chosen, job.request, width_px=BACK))
        files["front.png"] = png_bytes(front_picture(plan.chosen, job.request, width_px=FRONT))
        pictures = sign_pictures(plan.chosen, job.request, SIGN_DPI)
        files["marks.csv"] = marks_csv(marks(plan.chosen, job.request)).encode()
        say("drawing the templates")
        templates = template_files(job, plan.chosen)
        files |= {f"templates/{name}": content for name, content in templates.items()}
        say("writing the guide")
        files["guide.pdf"] = guide_pdf(job, plan.chosen)
        files["sewing-card.pdf"] = sewing_card_pdf(job, plan.chosen)
    say("laying out the pages")
    files["packet.pdf"] = packet(job, plan, tuple(backs), pictures)
    return files


def marks_csv(every: tuple[Mark, ...]) -> str:
    """The mark list as a table; inches to six decimals."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(
        ["number", "group", "what", "axis", "tape_inches", "repeat", "from_repeat_inches", "words"]
    )
    for mark in every:
        table.writerow(
            [
                mark.number,
                mark.group,
                mark.what,
                mark.axis,
                file_number(mark.tape),
                mark.repeat,
                file_number(mark.from_repeat),
                mark.words,
            ]
        )
    return out.getvalue()
