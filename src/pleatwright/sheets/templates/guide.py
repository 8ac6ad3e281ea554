"""How to print templates and check their size: a square to measure, and how each template is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pleatwright.bench import exact_size
from pleatwright.bench.gauges import chalk_line
from pleatwright.bench.templates import Template, Use, apron_line
from pleatwright.layout import Option
from pleatwright.lengths import MILLIMETRE, write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Rect, Text
from pleatwright.sheets.flow import Block, heading, paragraph, shifted, stacked
from pleatwright.sheets.look import ACCENT, GREY, SMALL, Frame
from pleatwright.sheets.tiles import OVERLAP

INCHES = 4
"""Sides of the square; the metric one is 100 mm."""

COLUMN = 6.5
"""Most inches that a line of words is long."""

TITLES = {
    Use.GAUGES: "Gauges",
    Use.STRAP_HOLE: "Strap hole",
    Use.APRONS: "Apron edge",
    Use.TAPER: "Taper of one pleat",
    Use.TAPE: "Tape",
}


def guide(job: Job, option: Option, found: Sequence[Template], frame: Frame) -> tuple[Block, ...]:
    """The square with what to do beside it; then a few lines on every kind of template there is."""
    metric = job.units == "metric"
    side = float(100 * MILLIMETRE) if metric else float(INCHES)
    square = calibration(side)
    room = frame.width - side - 0.3
    words = shifted((stacked(_printing(metric, min(room, COLUMN))),), side + 0.3)[0]
    blocks = [Block(max(square.height, words.height), (*square.items, *words.items), gap=0.12)]
    for use in Use:
        if any(one.use is use for one in found):
            blocks.append(heading(TITLES[use], gap=0.0))
            said = _how(use, job, option, found)
            blocks.append(paragraph(said, min(frame.width, COLUMN + 1), gap=0.08))
    return tuple(blocks)


def calibration(side: float) -> Block:
    """A square with an inch rule on its upper and left, a centimetre rule on its lower and right side."""
    items: list[Item] = [Rect(0.0, 0.0, side, side, stroke=ACCENT, weight=0.9)]
    items += _rule(side, 1 / 8, 8)
    items += [_across(item, side) for item in _rule(side, float(MILLIMETRE), 10)]
    said = "100 mm" if abs(side - float(100 * MILLIMETRE)) < 1e-9 else f'{side:g}"'
    items.append(Text(side / 2, side / 2 + 0.06, f"{said} by {said}", 13.0, "middle", bold=True, fill=ACCENT))
    for x, y, unit in ((0.45, 0.42, "inches"), (side - 0.45, side - 0.36, "cm")):
        items.append(Text(x, y, unit, SMALL, "start" if x < 1 else "end", fill=GREY))
    return Block(side, tuple(items))


def _rule(side: float, step: float, numbered: int) -> Iterator[Line | Text]:
    """Ticks inward along the upper and the left side; every so many a long one with its number."""
    count = int(side / step + 1e-6)
    for tick in range(1, count + 1):
        at = tick * step
        if at > side - 1e-6:
            break
        whole, half = tick % numbered == 0, tick % numbered == numbered // 2
        long = 0.2 if whole else 0.13 if half else 0.08
        yield Line(at, 0.0, at, long, ACCENT, 0.5)
        yield Line(0.0, at, long, at, ACCENT, 0.5)
        if whole and at < side - 0.3:
            number = str(tick // numbered)
            yield Text(at, 0.34, number, SMALL, "middle", fill=ACCENT)
            yield Text(0.29, at + 0.045, number, SMALL, "middle", fill=ACCENT)


def _across(item: Line | Text, side: float) -> Line | Text:
    """A tick or number of the upper left corner's rules, counted from the lower right corner instead."""
    if isinstance(item, Line):
        return Line(side - item.x1, side - item.y1, side - item.x2, side - item.y2, item.stroke, item.weight)
    lower = 0.045 if item.y <= 0.35 else -0.045
    return Text(
        side - item.x, side - item.y + 0.045 + lower, item.text, item.size, item.anchor, fill=item.fill
    )


def _printing(metric: bool, width: float) -> list[Block]:
    side = "100 mm" if metric else f'{INCHES}"'
    overlap = "13 mm" if metric else f'{OVERLAP:g}"'.replace("0.5", "1/2")
    return [
        heading("Check the size first"),
        paragraph("Print at 100%, actual size, with no fitting to the page.", width, bold=True),
        paragraph(
            f"Measure the square both ways: {side}. If it is not, the printer has changed the size: set it "
            "to 100% and print again. Use no sheet of a print that fails.",
            width,
        ),
        paragraph(
            f"Sheets of one template have names, A1, A2 and below them B1; they overlap by {overlap}. Lay "
            "the ringed crosses over each other against the light, and glue.",
            width,
        ),
    ]


def _how(use: Use, job: Job, option: Option, found: Sequence[Template]) -> str:
    units, grid = job.units, job.grid
    request = job.request
    rise = write_length(job.sizes.rise, units, grid)
    match use:
        case Use.GAUGES:
            line = exact_size(chalk_line(request), units)
            return (
                f"Chalk round it with a line {line} wide: it reads its own width between the lines, and a "
                f"line more on either side across them. It is {rise} long, as the rise: held to the top "
                "edge, its other end is the strap line."
            )
        case Use.STRAP_HOLE:
            return (
                "Lay its upper edge to the top edge and its seam line on the seam between first and second "
                "pleat. The seam stays open where the slot is."
            )
        case Use.APRONS:
            far = write_length(apron_line(request), units, grid)
            lap = job.sizes.lap
            fringed = write_length(apron_line(request) + lap, units, grid)
            more = f", on the over-apron's fringed side {fringed}" if lap else ""
            return (
                f"One card for all four edges, turned over for the others. Chalk a line {far} from the "
                f"apron's centre{more}; see it through the holes, the card's upper edge on the top edge. "
                "Wool is pressed to the gentle curve, other cloths are folded in straight lines."
            )
        case Use.TAPER:
            mirrored = "" if option.form == "knife pleat" else " The widths are those of the face that shows."
            return (
                "Its middle line lies on the middle of the pleat's stripe, its upper edge on the top edge: "
                f"chalk both sides down to the hip line.{mirrored}"
            )
        case Use.TAPE:
            notes = next(one.notes for one in found if one.use is Use.TAPE)
            return (
                "Cut out its lengths and glue them end to end, then lay it along the cloth: every tick with "
                f"its number in the mark list. {notes} Trust the stripe before the tape."
            )
