"""The job page: who it is for, what was measured and where, the sizes and levels, what to ask."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench import cloth_findings
from pleatwright.findings import blocking
from pleatwright.layout import Plan
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Polyline, Rect, Text, moved
from pleatwright.sheets.flow import (
    Block,
    Column,
    Sheet,
    beside,
    figure,
    heading,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.lettering import CAPITALS, POINTS, fitted, wrapped
from pleatwright.sheets.look import (
    ACCENT,
    ACCENT_MIDDLE,
    ACCENT_PALE,
    BODY,
    GREY,
    HEADING,
    PALE,
    SMALL,
    WHITE,
    Frame,
    baseline,
    line_height,
)
from pleatwright.sheets.pages.findings import finding_blocks, note_blocks
from pleatwright.wearer import LevelName

NAME = 20.0
BIG = 24.0


def job_sheets(job: Job, plan: Plan, frame: Frame) -> tuple[Sheet, ...]:
    """The job on one page, or more where there is much to ask."""
    width = frame.width
    side = 2.85
    left = stacked(
        (
            heading("As measured"),
            *table(_measure_columns(width - side - 0.3), _measured(job)),
            white(0.12),
        )
    )
    right = stacked((heading("Levels"), _figure(job, side)))
    cloth = cloth_findings(job, plan)
    blocks = (
        _head(job, width),
        white(0.16),
        *finding_blocks(
            "Do not rip", tuple(one for one in (*cloth, *plan.findings) if blocking((one,))), width
        ),
        beside(left, shifted((right,), width - side)[0]),
        white(0.1),
        _sizes(job, width),
        white(0.16),
        *_levels(job, width),
        white(0.16),
        *finding_blocks("Questions to ask again", job.questions, width),
        *finding_blocks("The cloth", tuple(one for one in cloth if not blocking((one,))), width),
        *finding_blocks(
            "What the plan found", tuple(one for one in plan.findings if not blocking((one,))), width
        ),
        *note_blocks(job.notes, width),
    )
    return sheets_of("The job", blocks, frame)


def _head(job: Job, width: float) -> Block:
    """Client and job on the left, the opening side as a big sign on the right."""
    sign = 2.35
    name, size = job.client or "no name given", NAME
    if len(wrapped(name, width - sign - 0.3, size, bold=True)) > 1:
        size = HEADING
    items: list[Item] = []
    y = 0.0
    for line in wrapped(name, width - sign - 0.3, size, bold=True):
        items.append(Text(0.0, y + baseline(size), line, size, bold=True))
        y += line_height(size)
    y += 0.05
    request = job.request
    facts = (
        ("reference", job.reference),
        ("shop", job.shop),
        ("tartan", request.tartan.name),
        ("measured on", job.measured_on),
        ("promised for", job.promised),
        ("plan", job.version),
    )
    for label, fact in facts:
        if fact:
            shown, size = fitted(fact, width - sign - 1.45, BODY, SMALL)
            items.append(Text(0.0, y + baseline(BODY), label, BODY, fill=GREY))
            items.append(Text(1.15, y + baseline(BODY), shown, size))
            y += line_height(BODY)
    height = max(y, 1.25)
    x = width - sign
    items.append(Rect(x, 0.0, sign, 1.25, fill=ACCENT))
    items.append(Text(x + sign / 2, 0.32, "opens on the wearer's", BODY, "middle", fill=WHITE))
    items.append(Text(x + sign / 2, 0.98, request.opens_on.upper(), 38.0, "middle", True, WHITE))
    return Block(height, tuple(items))


def _measure_columns(width: float) -> tuple[Column, ...]:
    return (
        Column("", 0.95),
        Column("", 0.9, "end", figures=True, bold=True),
        Column("where the tape lay", width - 1.85),
    )


def _measured(job: Job) -> list[tuple[str, str, str]]:
    body, where = job.body, {name.replace("_", " "): text for name, text in job.end_points}
    taken: list[tuple[str, Fraction | None]] = [
        ("waist", body.waist),
        ("hips", body.hips),
        ("drop", body.drop),
        ("drop side", body.drop_side),
        ("drop back", body.drop_back),
        ("fell drop", body.fell_drop),
        ("rise", body.rise),
    ]
    where.setdefault("rise", "as chosen")
    rows = [
        (name, write_length(value, job.units, job.grid), where.get(name, ""))
        for name, value in taken
        if value is not None
    ]
    if body.fell_drop is None:
        rows.append(("fell drop", "–", "not taken; a share of the length"))
    if body.rise is None:
        rows.append(
            ("rise", write_length(job.sizes.rise, job.units, job.grid), "not chosen; the shop's usual")
        )
    if body.towel and "towel" not in where.get("hips", ""):
        rows.append(("hips", "", "taken over a rolled towel"))
    return rows


def _sizes(job: Job, width: float) -> Block:
    """What is sewn, in big figures."""
    sizes = job.sizes
    tiles = [
        ("W, waist with ease", sizes.waist),
        ("H, hips with ease", sizes.hips),
        ("L, length as ripped", sizes.total),
        ("rise", sizes.rise),
        ("fell, from the top", sizes.fell),
    ]
    if sizes.hem:
        tiles.append(("hem, in the length", sizes.hem))
    gap = 0.08
    wide = (width - gap * (len(tiles) - 1)) / len(tiles)
    items: list[Item] = []
    for i, (name, value) in enumerate(tiles):
        x = i * (wide + gap)
        label, size = fitted(name, wide - 0.1, SMALL, 7.5)
        items.append(Rect(x, 0.0, wide, 0.78, fill=ACCENT_PALE))
        text = write_length(value, job.units, job.grid)
        big = fitted(text, wide - 0.12, BIG if i < 3 else BIG - 5, SMALL, bold=True)[1]
        items += figure(x + wide / 2, 0.43, text, big, "middle")
        items.append(Text(x + wide / 2, 0.67, label, size, "middle", fill=GREY))
    return Block(0.78, tuple(items))


def _levels(job: Job, width: float) -> tuple[Block, ...]:
    """Every level: its place on the cloth, and what is sewn there."""
    sizes, units, grid = job.sizes, job.units, job.grid
    name = 1.25
    each = (width - name) / 6
    columns = (
        Column("level", name, bold=True),
        *(
            Column(text, each, "end", figures=True, bold=text.startswith(("down", "up")))
            for text in (
                "down from the top",
                "up from the selvedge",
                "round",
                "over-apron",
                "pleats",
                "under-apron",
            )
        ),
    )
    rows = [
        (
            str(level.name),
            *(
                write_length(value, units, grid)
                for value in (
                    level.below_top,
                    sizes.total - level.below_top,
                    level.round,
                    level.over_apron,
                    level.pleated,
                    level.under_apron,
                )
            ),
        )
        for level in sizes.levels
    ]
    return (heading("Levels and what is sewn at each"), *table(columns, rows))


def _figure(job: Job, width: float) -> Block:
    """The over-apron from outside with its levels, in proportion."""
    sizes = job.sizes
    label, tall = 1.5, 2.35
    widest = max(float(level.over_apron) for level in sizes.levels)
    scale = min(tall / float(sizes.level(LevelName.BOTTOM).below_top), (width - label - 0.15) / widest)
    middle = widest * scale / 2
    right = [
        (middle + float(level.over_apron) * scale / 2, float(level.below_top) * scale)
        for level in sizes.levels
    ]
    outline = (*right, *((2 * middle - x, y) for x, y in reversed(right)))
    items: list[Item] = [Polyline(outline, ACCENT, 1.2, closed=True, fill=PALE)]
    edge = 2 * middle
    last = -1.0
    for level in sizes.levels:
        y = float(level.below_top) * scale
        items.append(Line(0.0, y, edge + 0.06, y, ACCENT_MIDDLE, 0.8, (2.0, 2.0)))
        place = max(y, last + 0.17)
        last = place
        base = place + SMALL * CAPITALS / POINTS / 2
        items.append(Text(edge + 0.1, base, str(level.name), SMALL))
        down = write_length(level.below_top, job.units, job.grid)
        items.append(Text(width, base, down, SMALL, "end", True))
    height = max(right[-1][1], last) + 0.15
    return Block(height, moved(items, 0.0, 0.08))
