"""Closing the kilt: the inside drawn to scale, a strap at true size, every piece, the work, the weight."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby
from math import cos, pi, sin

from pleatwright.bench import CAUTIONS
from pleatwright.bench.closing import Closing, FoldCut, Strap, closing
from pleatwright.bench.closing.work import GRAMS
from pleatwright.layout import Option
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Job
from pleatwright.sheets.drawing import INK, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.flow import (
    Block,
    Column,
    Sheet,
    beside,
    heading,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, ACCENT_PALE, ALARM, GREY, SMALL, WHITE, Frame
from pleatwright.sheets.pages.inside_drawing import CUT, LEATHER, LEATHER_PALE, inside_drawing
from pleatwright.sheets.pages.later_table import later_table

LEAST_SEWN = 0.8
"""Inches of paper for the sewn end of a strap, with its words."""


def closing_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The pages for closing and finishing one kilt."""
    made, width = closing(job, option), frame.width
    blocks = [
        paragraph(
            "The kilt opened flat, seen from inside, the top edge away from you; drawn to scale without its "
            "lining. Hips are the wearer's.",
            width,
            gap=0.08,
        ),
        inside_drawing(job, option, made, width),
        _legend(made, width),
        *_straps(job, made, width),
        *_band(job, made, width),
        *_folds(job, made, width),
        *_pieces(job, made, width),
        *_work(job, made, width),
        heading("What it can give later"),
        *later_table(job, made, width),
        white(0.14),
        heading("Mind"),
        *(
            paragraph(caution.text, width, gap=0.03)
            for caution in CAUTIONS
            if caution.where in ("At the table", "At the iron", "For the wearer")
        ),
    ]
    return sheets_of("Closing", blocks, frame)


def _long(value: Fraction | float, job: Job) -> str:
    return write_length(value, job.units, job.grid)


def _legend(made: Closing, width: float) -> Block:
    folds = made.inside.folds
    names: list[tuple[str | None, str | None, str]] = [
        (ACCENT_PALE, ACCENT, "interfacing"),
        (ACCENT_MIDDLE, ACCENT, "stabiliser"),
    ]
    if not folds.kept:
        names.append((CUT, None, "folds cut out here"))
    names += [(LEATHER, LEATHER, "strap"), (LEATHER_PALE, LEATHER, "sewn down")]
    names += [(None, LEATHER, "buckle, outside"), (None, ALARM, "belt loop, outside")]
    if made.strap_hole is not None:
        names.append((INK, INK, "strap hole"))
    items: list[Item] = []
    x, y, step = 0.0, 0.0, 0.2
    for fill, stroke, name in names:
        wide = 0.3 + width_of(name, SMALL) + 0.18
        if x + wide > width + 0.1:
            x, y = 0.0, y + step
        items.append(Rect(x, y + 0.02, 0.2, 0.13, stroke, 0.9, fill))
        items.append(Text(x + 0.27, y + 0.135, name, SMALL))
        x += wide
    return Block(y + step, tuple(items), gap=0.14)


def _straps(job: Job, made: Closing, width: float) -> list[Block]:
    columns = (
        Column("strap", 1.35, bold=True),
        Column("its middle below the top edge", 0.95, "end", figures=True),
        Column("strap long", 0.8, "end", figures=True),
        Column("where it is sewn, where it buckles", width - 3.1),
    )
    rows = [
        (
            strap.name,
            _long(strap.below_top, job),
            _long(strap.length, job),
            f"{strap.words} Buckle: {strap.buckle.words}.",
        )
        for strap in made.straps
    ]
    blocks = [heading("Straps and buckles"), *table(columns, rows)]
    hole = made.strap_hole
    text = (
        "Straps are sewn to the interfacing and point to the back; buckle tongues pass between the threads "
        "of the cloth, uncut. "
    )
    if hole is not None:
        text += (
            f"The strap hole lies {_long(hole.from_seam, job)} from the over-apron's seam, from "
            f"{_long(hole.top_below, job)} to {_long(hole.bottom_below, job)} below the top edge: the seam "
            "stays open there. "
        )
    blocks += [white(0.04), paragraph(text, width, gap=0.1)]
    drawn: list[Strap] = []
    for strap in made.straps:
        if all(strap.holes != other.holes or strap.length != other.length for other in drawn):
            drawn.append(strap)
            blocks.append(_drawn(job, strap, width, both=len({one.reach for one in made.straps}) == 1))
    blocks.append(white(0.1))
    return blocks


def _drawn(job: Job, strap: Strap, width: float, *, both: bool) -> Block:
    """A strap with its holes, at true size where the paper is wide enough."""
    loose = float(strap.length - strap.sewn)
    scale = min(1.0, (width - LEAST_SEWN) / loose)
    sewn = min(float(strap.sewn) * scale, width - loose * scale)
    which = "Every strap" if both else strap.name[:1].upper() + strap.name[1:]
    short = ", its sewn end drawn short" if sewn < float(strap.sewn) * scale else ""
    how = f"at true size{short}" if scale == 1 else "not to scale"
    head = paragraph(
        f"{which}, {how}; above, figures from the apron's edge; below, the waist that each hole fits.",
        width,
        gap=0.04,
    )
    top, tall = head.height + 0.24, float(strap.width) * scale
    wide, tip = sewn + loose * scale, tall / 2
    outline = (
        (0.0, top),
        (wide - tip * 0.7, top),
        (wide - tip * 0.2, top + tall * 0.25),
        (wide, top + tall / 2),
        (wide - tip * 0.2, top + tall * 0.75),
        (wide - tip * 0.7, top + tall),
        (0.0, top + tall),
    )
    middle = top + tall / 2
    items: list[Item] = [
        *head.items,
        Polyline(outline, LEATHER, 1.2, closed=True, fill="#EFE6DD"),
        Rect(0.0, top, sewn, tall, LEATHER, 0.8, LEATHER_PALE),
        Line(sewn, top - 0.1, sewn, top + tall + 0.1, INK, 0.9, (3.0, 2.0)),
        Text(sewn / 2, middle - 0.02, "sewn down", SMALL, "middle"),
        Text(sewn / 2, middle + 0.14, _long(strap.sewn, job), SMALL, "middle", True),
    ]
    for hole in strap.holes:
        x = sewn + float(hole.from_edge) * scale
        size = float(strap.hole_across) * scale
        fill = ACCENT if hole.chosen else WHITE
        items += [
            Polyline(_ring(x, middle, size / 2), INK, 0.9, closed=True, fill=fill),
            Line(x, top + tall, x, top + tall + 0.06, GREY, 0.5),
            Text(x, top - 0.07, _long(hole.from_edge, job).removesuffix(" mm"), 8.0, "middle", hole.chosen),
            Text(
                x,
                top + tall + 0.19,
                _long(hole.waist, job).removesuffix('"').removesuffix(" mm"),
                8.0,
                "middle",
                hole.chosen,
                ACCENT if hole.chosen else GREY,
            ),
        ]
    unit = "mm" if job.units == "metric" else '"'
    items.append(Text(sewn - 0.06, top + tall + 0.19, f"fits waist, {unit}", 8.0, "end", fill=GREY))
    return Block(top + tall + 0.26, tuple(items), gap=0.08)


def _ring(x: float, y: float, radius: float) -> tuple[tuple[float, float], ...]:
    return tuple((x + radius * cos(2 * pi * i / 16), y + radius * sin(2 * pi * i / 16)) for i in range(16))


def _band(job: Job, made: Closing, width: float) -> list[Block]:
    band = made.band
    text = (
        f"A piece {_long(band.length, job)} long and {_long(band.height, job)} high, {band.source}. It binds "
        f"{_long(band.binds, job)}, with {_long(band.spare, job)} to spare; {_long(band.showing, job)} of it "
        "show outside."
    )
    if band.tape_from is not None and band.tape_mark is not None and band.tape_to is not None:
        low, high = sorted((band.tape_from, band.tape_to))
        text += (
            f" On the tape: from {_long(low, job)} to {_long(high, job)}, the mark at "
            f"{_long(band.tape_mark, job)}."
        )
    return [heading("Top band"), paragraph(text, width, gap=0.12)]


def _folds(job: Job, made: Closing, width: float) -> list[Block]:
    folds = made.inside.folds
    if folds.kept:
        text = f"Nothing is cut out of the folds: {folds.kept}."
        return [heading("Folds"), paragraph(text, width, gap=0.12)]
    text = (
        f"Cut from the top edge down to {_long(folds.cut_below_top, job)} below it, never lower: the hip "
        f"line lies at {_long(folds.hip_below_top, job)}. Leave {_long(folds.left, job)} inside every seam. "
        "Put the shears down away from the cloth between two folds."
    )
    columns = (
        Column("fold after pleat", 1.35, bold=True),
        Column("deep at the strap line", 1.15, "end", figures=True),
        Column("deep at the hip line", 1.15, "end", figures=True),
        Column("cut out at the top edge", 1.2, "end", figures=True),
        Column("cut out where it stops", 1.2, "end", figures=True),
        Column("", width - 6.05),
    )
    rows = []
    for figures, group in groupby(folds.folds, key=lambda cut: _figures(cut, job)):
        cuts = list(group)
        name = str(cuts[0].after) if len(cuts) == 1 else f"{cuts[0].after} to {cuts[-1].after}"
        rows.append((name, *figures))
    return [heading("Folds"), paragraph(text, width), *table(columns, rows, pad=0.03), white(0.12)]


def _figures(cut: FoldCut, job: Job) -> tuple[str, str, str, str, str]:
    depths = (_long(cut.depth_strap, job), _long(cut.depth_hip, job))
    if cut.kept:
        return (*depths, "–", "–", f"whole: {cut.kept}")
    return (*depths, _long(cut.out_top, job), _long(cut.out_bottom, job), "")


def _pieces(job: Job, made: Closing, width: float) -> list[Block]:
    inside = made.inside
    columns = (
        Column("piece", 1.75, bold=True),
        Column("wide at the top", 0.85, "end", figures=True),
        Column("below", 0.85, "end", figures=True),
        Column("high", 0.75, "end", figures=True),
        Column("", width - 4.2),
    )
    named = [("", inside.stabiliser)]
    named += [("interfacing, ", panel) for panel in inside.interfacing]
    named += [("lining, ", panel) for panel in inside.lining]
    rows = [
        (
            f"{kind}{panel.name}",
            _long(panel.width_top, job),
            _long(panel.width_bottom, job),
            _long(panel.height, job),
            panel.words,
        )
        for kind, panel in named
    ]
    low = _long(inside.stabiliser.top_below + inside.stabiliser.height, job)
    loops = ", ".join(
        f"pleat {loop.pleat} ({_long(loop.from_seam, job)} from the over-apron's seam)"
        for loop in inside.loops
    )
    loop = inside.loops[0]
    text = (
        f"The stabiliser's lower edge lies {low} below the top edge. Loops for the sporran belt, "
        f"{_long(loop.width, job)} wide with {_long(loop.height, job)} of room, at the strap line on "
        f"{loops}. Fringe {_long(inside.fringe, job)}. Lift the under-apron's lower edge "
        f"{_long(inside.under_lift, job)} at its free end."
    )
    return [
        heading("Inside, sizes to cut"),
        *table(columns, rows, pad=0.03),
        white(0.05),
        paragraph(text, width, gap=0.12),
    ]


def _work(job: Job, made: Closing, width: float) -> list[Block]:
    work, weight = made.work, made.weight
    half = (width - 0.3) / 2
    seams = table(
        (
            Column("sewn by hand", half - 2.45),
            Column("long", 0.82, "end"),
            Column("stitches", 0.75, "end"),
            Column("thread", 0.88, "end"),
        ),
        [
            (
                seam.name,
                write_yards(seam.length, job.units),
                f"{seam.stitches:,}".replace(",", " "),
                write_yards(seam.thread, job.units),
            )
            for seam in work.seams
        ],
        pad=0.03,
    )
    hours = table(
        (Column("stage", half - 0.7), Column("hours", 0.7, "end")),
        [(stage.name, f"{stage.hours:.1f}") for stage in work.stages] + [("in all", f"{work.hours:.1f}")],
        pad=0.03,
        strong=frozenset({len(work.stages)}),
    )
    weighs = _heavy(weight.kilt, job)
    parts = (
        f"About {weighs}: cloth {_heavy(weight.cloth, job)} ({weight.kind} cloth), less "
        f"{_heavy(weight.cut_out, job)} cut out, and {_heavy(weight.inner, job)} of straps, buckles and "
        "inner parts."
    )
    thread = f"About {write_yards(work.thread, job.units)} of thread in all."
    left = stacked(
        (
            heading("Stitches and thread"),
            *seams,
            white(0.05),
            paragraph(thread, half),
            white(0.1),
            heading("Weight"),
            paragraph(parts, half),
        )
    )
    pace = f"At {work.pleats_an_hour:g} pleats an hour"
    right = stacked((heading("Hours"), paragraph(pace, half, gap=0.02), *hours))
    return [beside(left, *shifted((right,), half + 0.3)), white(0.14)]


def _heavy(ounces: float, job: Job) -> str:
    if job.units == "metric":
        return f"{round(ounces * GRAMS / 10) * 10} g"
    return f"{ounces:.0f} oz"
