"""An alteration on paper: what becomes of the kilt, the steps to tick off, before and after."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench import CAUTIONS
from pleatwright.bench.alter import Alteration, Kilt, Step, Verdict
from pleatwright.bench.closing import write_hours
from pleatwright.lengths import Grid, Units, write_length
from pleatwright.order import Paper
from pleatwright.sheets.drawing import Item, Line, Page, Rect, Text, moved
from pleatwright.sheets.flow import Block, Column, Sheet, heading, paragraph, sheets_of, table, white
from pleatwright.sheets.lettering import fitted
from pleatwright.sheets.look import (
    ACCENT,
    ALARM,
    BODY,
    GREY,
    HAIR,
    HEADING,
    LEAST,
    PAPER,
    SMALL,
    TITLE,
    Frame,
    baseline,
    line_height,
)

BOX = 0.2
INDENT = 0.34


def alteration_pages(made: Alteration, name: str, units: Units, grid: Grid, paper: Paper) -> tuple[Page, ...]:
    """The pages for the bench; `name` stands below each: whose kilt it is."""
    frame = Frame(*PAPER[paper])
    sheets = alteration_sheets(made, units, grid, frame)
    return tuple(
        _stamped(frame, sheet, name, f"opens on the {made.before.opens_on}", number, len(sheets))
        for number, sheet in enumerate(sheets, 1)
    )


def _stamped(frame: Frame, sheet: Sheet, name: str, opens: str, number: int, of: int) -> Page:
    """A kilt of another shop has no order, so no plan to name below."""
    left, right = frame.margin, frame.paper_width - frame.margin
    base, foot = frame.margin + baseline(TITLE), frame.paper_height - frame.margin
    whose, size = fitted(name, frame.width - 1.5, SMALL, LEAST, bold=True)
    stamp: tuple[Item, ...] = (
        Text(left, base, sheet.title, TITLE, bold=True),
        Text(right, base, opens, BODY, "end", True, ACCENT),
        Line(left, frame.margin + 0.44, right, frame.margin + 0.44, ACCENT, 1.4),
        Line(left, foot - 0.2, right, foot - 0.2, HAIR, 0.5),
        Text(left, foot, whose, size, bold=True, fill=GREY),
        Text(right, foot, f"page {number} of {of}", SMALL, "end", fill=GREY),
    )
    return Page(frame.paper_width, frame.paper_height, (*stamp, *sheet.items), sheet.title)


def alteration_sheets(made: Alteration, units: Units, grid: Grid, frame: Frame) -> tuple[Sheet, ...]:
    """What is done, before it is stamped."""
    width = frame.width
    verdict = str(made.verdict)
    colour = ALARM if made.verdict is Verdict.REMAKE else ACCENT
    hours = f"; about {write_hours(made.hours)}" if made.hours else ""
    blocks = [
        paragraph(
            f"{verdict[:1].upper()}{verdict[1:]}{hours}.", width, HEADING + 2, bold=True, fill=colour, gap=0.1
        ),
        *(paragraph(f"– {reason[:1].upper()}{reason[1:]}.", width) for reason in made.why),
        white(0.1),
    ]
    if made.steps:
        blocks.append(heading("In this order"))
        blocks += [_step(number, step, width) for number, step in enumerate(made.steps, 1)]
        blocks.append(white(0.12))
    blocks.append(heading("Before and after"))
    blocks += _sizes(made, units, grid, width)
    blocks.append(white(0.2))
    blocks.append(heading("Mind"))
    blocks += [
        paragraph(caution.text, width, gap=0.04)
        for caution in CAUTIONS
        if caution.where in ("At the table", "At the iron")
    ]
    return sheets_of("Alteration", blocks, frame)


def _step(number: int, step: Step, width: float) -> Block:
    title = f"{number}  {step.name[:1].upper()}{step.name[1:]}"
    body = paragraph(step.words, width - INDENT, BODY, gap=0.0)
    top = line_height(BODY)
    items: list[Item] = [
        Rect(0.02, 0.02, BOX, BOX, stroke=GREY, weight=0.8),
        Text(INDENT, baseline(BODY), title, BODY, bold=True),
        *moved(body.items, INDENT, top),
        Line(0.0, top + body.height + 0.06, width, top + body.height + 0.06, HAIR, 0.4),
    ]
    if step.hours:
        items.append(Text(width, baseline(BODY), write_hours(step.hours), BODY, "end", fill=GREY))
    return Block(top + body.height + 0.06, tuple(items), gap=0.08)


def _sizes(made: Alteration, units: Units, grid: Grid, width: float) -> tuple[Block, ...]:
    figure = 1.08
    columns = (
        Column("", width - 4 * figure, bold=True),
        Column("before", figure, "end", figures=True),
        Column("wanted", figure, "end", figures=True),
        Column("after", figure, "end", figures=True, bold=True),
        Column("found", figure, "end"),
    )
    wanted = {"waist": made.wanted.waist, "hips": made.wanted.hips, "drop": made.wanted.drop}

    def long(value: Fraction | None) -> str:
        return "" if value is None else write_length(value, units, grid)

    remade = made.verdict is Verdict.REMAKE
    rows = [
        (name, long(before), long(wanted.get(name)), "–" if remade else long(after), "")
        for (name, before), (_, after) in zip(_figures(made.before), _figures(made.after), strict=True)
        if not remade or name in wanted
    ]
    return table(columns, rows, pad=0.035)


def _figures(kilt: Kilt) -> tuple[tuple[str, Fraction], ...]:
    found = [("waist", kilt.waist), ("hips", kilt.hips), ("drop", kilt.drop), ("rise", kilt.rise)]
    found += [("hem", kilt.hem)]
    found += [("pleats at the strap line", kilt.pleated_waist), ("pleats at the hip line", kilt.pleated_hips)]
    for side, fold in ((kilt.over, "deep pleat"), (kilt.under, "reverse pleat")):
        found += [
            (f"{side.name} at the strap line", side.waist),
            (f"{side.name} at the hip line", side.hips),
            (f"facing of the {side.name}", side.facing),
            (f"cloth in the {fold}", side.pleat),
        ]
    return tuple(found)
