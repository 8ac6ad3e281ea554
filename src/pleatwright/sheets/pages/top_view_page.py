"""The kilt seen from above: the whole, both sides enlarged, every length named, and where the cloth goes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from pleatwright.bench import Part
from pleatwright.layout import Option
from pleatwright.lengths import MILLIMETRE, on_grid, write_length, write_yards
from pleatwright.order import Job
from pleatwright.picture.top_view import Band, Point, Stretch, bands, top_view
from pleatwright.pleats import Form
from pleatwright.sheets.drawing import INK, Item, Line, Text, moved
from pleatwright.sheets.flow import Block, Column, Sheet, heading, paragraph, sheets_of, stacked, table, white
from pleatwright.sheets.lettering import CAPITALS, POINTS, width_of
from pleatwright.sheets.look import ACCENT, BODY, GREY, SMALL, Frame
from pleatwright.wearer import LevelName

SHOWN = (Part.OVER_APRON, Part.PLEAT, Part.UNDER_APRON)
PLEATS_NEAR = 4
"""So many pleats are drawn beside each apron in the enlargements."""
APRON_NEAR = 3.2
NEAR_MOST = 0.8
SHOWN_WEIGHT, HIDDEN_WEIGHT, EDGE = 2.6, 1.2, 0.6
"""Thickness of the cloth in points, shown and hidden, and of the line round it."""
ENLARGED = 2.4
LABEL, ROW, BESIDE = 0.24, 0.36, 0.2
NOTHING = 1 / 64
"""Inches of cloth not worth a row."""


def top_view_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """One page: the folds of one option opened a little, true to length, with the colours of the cloth."""
    stretches, width = top_view(option), frame.width
    intro = (
        "A cut through the kilt at the hip line, seen from above: the outside is towards you, the folds go "
        "in away from you, opened a little so that each is seen. Every line is as long as its cloth. Thick "
        "is what shows, thin what is hidden; aprons are drawn at their widest."
    )
    above = (paragraph(intro, width, gap=0.1), _whole(job, option, stretches, width), white(0.14))
    below = (white(0.1), heading("Where the cloth goes"), *_cloth(job, option, stretches, width))
    sides = [_beside(stretches, apron, option) for apron in (Part.OVER_APRON, Part.UNDER_APRON)]
    head = _near_heading("", job, 1.0, width)
    rows = head.height + head.gap + 2 * ROW + LABEL
    scale = _near_scale(sides, width, frame.height - stacked((*above, *below)).height - len(sides) * rows)
    blocks = list(above)
    for side, hidden in zip(sides, (Part.DEEP_PLEAT, Part.REVERSE_PLEAT), strict=True):
        blocks.append(_near_heading(f"Beside the {side[0].part}", job, scale, width))
        blocks.append(_near(job, option, side, width, scale, hidden))
    return sheets_of("The folds seen from above", (*blocks, *below), frame)


def _lines(stretches: Iterable[Stretch], job: Job, option: Option, scale: float, thick: float) -> list[Item]:
    """The cloth itself; the outside lies along y = 0 and the folds above it."""
    items: list[Item] = []
    for stretch in stretches:
        weight = (SHOWN_WEIGHT if stretch.part in SHOWN else HIDDEN_WEIGHT) * thick
        items.append(_line(stretch, scale, INK, weight + EDGE * thick))
        items += [_line(band, scale, band.colour, weight) for band in bands(stretch, option, job.request)]
    return items


def _line(of: Stretch | Band, scale: float, stroke: str, weight: float) -> Line:
    (ax, ay), (bx, by) = of.a, of.b
    return Line(ax * scale, -ay * scale, bx * scale, -by * scale, stroke, weight)


def _extent(stretches: Sequence[Stretch]) -> tuple[float, float, float]:
    """Least and greatest x, greatest y; inches."""
    points = [point for stretch in stretches for point in (stretch.a, stretch.b)]
    return min(x for x, _ in points), max(x for x, _ in points), max(y for _, y in points)


def _whole(job: Job, option: Option, stretches: tuple[Stretch, ...], width: float) -> Block:
    """The whole kilt across the page, its parts named below it."""
    left, right, deep = _extent(stretches)
    scale = (width - 0.1) / (right - left)
    outside = deep * scale + 0.05
    items = list(moved(_lines(stretches, job, option, scale, 1.0), 0.05 - left * scale, outside))
    names = {
        Part.OVER_APRON: "over-apron",
        Part.PLEAT: f"{option.pleats} pleats",
        Part.UNDER_APRON: "under-apron",
    }
    for part, name in names.items():
        start, end, _ = _extent([stretch for stretch in stretches if stretch.part is part])
        middle = 0.05 + ((start + end) / 2 - left) * scale
        items.append(Text(middle, outside + LABEL, name, BODY, "middle", True))
    return Block(outside + LABEL + 0.06, tuple(items))


def _beside(stretches: tuple[Stretch, ...], apron: Part, option: Option) -> tuple[Stretch, ...]:
    """The end of an apron, the pleat hidden beside it, and the next few pleats with their folds."""
    onward = (apron is Part.OVER_APRON) == (option.opens_on == "right")
    walk = stretches if onward else stretches[::-1]
    at = next(i for i, stretch in enumerate(walk) if stretch.part is apron)
    whole = walk[at]
    cut = min(APRON_NEAR, whole.length)
    near = (whole.end - cut, whole.end) if onward else (whole.start, whole.start + cut)
    found, pleats = [whole.between(*near)], 0
    for stretch in walk[at + 1 :]:
        found.append(stretch)
        pleats += stretch.part is Part.PLEAT
        if pleats == min(PLEATS_NEAR, option.pleats):
            break
    return tuple(found)


def _near_scale(sides: list[tuple[Stretch, ...]], width: float, height: float) -> float:
    """One scale for both enlargements: as large as the page allows."""
    extents = [_extent(side) for side in sides]
    widest = max(right - left for left, right, _ in extents)
    return min((width - 0.1) / widest, height / sum(deep for *_, deep in extents), NEAR_MOST)


def _near(
    job: Job, option: Option, near: tuple[Stretch, ...], width: float, scale: float, hidden: Part
) -> Block:
    """One side enlarged: what is folded away named above, reveal and apron below."""
    left, right, deep = _extent(near)
    across, outside = (width - (right - left) * scale) / 2 - left * scale, ROW + deep * scale
    items = list(moved(_lines(near, job, option, scale, ENLARGED), across, outside))

    def place(point: Point) -> Point:
        return across + point[0] * scale, outside - point[1] * scale

    def length(inches: float) -> str:
        return write_length(inches, job.units, job.grid)

    apron, beside = near[0], [stretch for stretch in near if stretch.part is hidden]
    faces = [stretch for stretch in near if stretch.part is Part.PLEAT]
    folds = [stretch for stretch in near if stretch.part is Part.HIDDEN]
    for face in faces:
        flat = abs(face.a[1] - face.b[1]) < NOTHING
        x, y = place(_middle(face) if flat else min(face.a, face.b, key=lambda point: point[1]))
        items.append(Text(x, y + 0.2, str(face.pleat), SMALL, "middle", True, ACCENT))
    whole = option.over_apron if apron.part is Part.OVER_APRON else option.under_apron
    at_left = apron.a[0] < faces[0].a[0]
    x, y = place(apron.b if at_left else apron.a)
    name = f"{apron.part} {length(whole.allotted)}"
    wide = width_of(name, BODY)
    start = min(max(x - wide if at_left else x, 0.0), width - wide)
    items.append(Text(start, y + 0.24, name, BODY))
    shown = faces[len(faces) // 2]
    name = "panel" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveal"
    way = 0.25 if shown.a[1] >= shown.b[1] else 0.75  # the number stands at the outer end
    below = place(shown.at(shown.start + way * shown.length)), f"{name} {length(shown.length)}"
    items += _leaders([below], outside + ROW, width)
    cloth = sum(stretch.length for stretch in beside)
    above = [(place(_tip(beside)), f"{hidden} {length(cloth / 2)} deep, {length(cloth)} of cloth")]
    if folds:
        above.append((place(_tip(folds[-2:])), f"folds {_depths(option, job)} deep"))
    return Block(outside + ROW + LABEL, (*items, *_leaders(above, 0.0, width)))


def _near_heading(text: str, job: Job, scale: float, width: float) -> Block:
    """A heading, and at its right end how long an inch or two centimetres are drawn."""
    head = heading(text, gap=0.08)
    long = 20 * MILLIMETRE if job.units == "metric" else Fraction(1)
    right, y = width - 0.05, head.height - 0.1
    left = right - float(long) * scale
    bar: tuple[Item, ...] = (
        Line(left, y, right, y, GREY, 0.8),
        *(Line(x, y - 0.04, x, y + 0.04, GREY, 0.8) for x in (left, right)),
        Text(left - 0.08, y + 0.04, write_length(long, job.units), SMALL, "end", fill=GREY),
    )
    return Block(head.height, (*head.items, *bar), True, gap=head.gap)


def _leaders(labels: list[tuple[Point, str]], y: float, width: float) -> list[Item]:
    """Texts side by side in a row whose top is y, a hairline from each to its point above or below."""
    items: list[Item] = []
    least = 0.0
    room = sum(width_of(text, BODY) + BESIDE for _, text in labels)
    for (x, tip), text in sorted(labels):
        wide = width_of(text, BODY)
        start = max(least, min(x - wide / 2, width + BESIDE - room))
        least, room = start + wide + BESIDE, room - wide - BESIDE
        base = y + BODY * CAPITALS / POINTS
        near, end = (base + 0.05, tip - 0.06) if y < tip else (y - 0.04, tip + 0.08)
        items.append(Line(min(max(x, start), start + wide), near, x, end, GREY, 0.6))
        items.append(Text(start, base, text, BODY))
    return items


def _middle(stretch: Stretch) -> Point:
    return stretch.at((stretch.start + stretch.end) / 2)


def _tip(stretches: Iterable[Stretch]) -> Point:
    """The place farthest in."""
    return max(
        (point for stretch in stretches for point in (stretch.a, stretch.b)), key=lambda point: point[1]
    )


def _depths(option: Option, job: Job) -> str:
    hip = option.level(LevelName.HIP)
    least, most = (
        write_length(depth, job.units, job.grid) for depth in (hip.depth_least, hip.depth_greatest)
    )
    return least if least == most else f"{least} to {most}"


def _cloth(job: Job, option: Option, stretches: tuple[Stretch, ...], width: float) -> tuple[Block, ...]:
    """Every part, and the cloth in all of it: the sum is the cloth the kilt takes, as written too.

    What rounding leaves over is counted among the folds, of which no other page tells the sum.
    """

    def length(inches: Fraction | float) -> str:
        return write_length(inches, job.units, job.grid)

    pleats, hip = option.pleats, option.level(LevelName.HIP)
    each = {
        Part.FACING: f"2 of {length(option.facing)}",
        Part.PLEAT: f"{pleats} of {length(hip.reveal)}",
        Part.HIDDEN: f"{pleats - 1} folds, {_depths(option, job)} deep",
    }
    if option.centre_face != 1.0:
        each[Part.PLEAT] = f"{pleats - 1} of {length(hip.reveal)} and the box"
    names = {Part.FACING: "facings", Part.PLEAT: "pleats as they show", Part.HIDDEN: "in the folds"}
    total = on_grid(option.cloth_used, job.grid)
    cloth = {part: sum(stretch.length for stretch in stretches if stretch.part is part) for part in Part}
    before = option.cloth_used - sum(cloth.values())
    taken = {part: on_grid(inches, job.grid) for part, inches in cloth.items() if inches}
    first = on_grid(before, job.grid) if before > NOTHING else Fraction(0)
    taken[Part.HIDDEN if Part.HIDDEN in taken else Part.PLEAT] += total - first - sum(taken.values())
    rows = [
        (names.get(part, str(part)), each.get(part, ""), length(inches)) for part, inches in taken.items()
    ]
    if before > NOTHING:
        rows.append(("before the facing", "until the apron's stripe comes", length(first)))
    rows.append(("the kilt takes", write_yards(option.cloth_used, job.units), length(total)))
    columns = (
        Column("", width * 0.34),
        Column("", width * 0.44),
        Column("cloth", width * 0.22, "end", figures=True),
    )
    return table(columns, rows, pad=0.02, strong=frozenset({len(rows) - 1}))
