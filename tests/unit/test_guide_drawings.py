"""The step drawings: exact mirrors where hands and opening sides are, within their paper, in real colours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from pleatwright.bench.guide import Drawn, Kilt, steps_of
from pleatwright.layout import make_plan
from pleatwright.layout.detail import _mirrored as mirrored_option
from pleatwright.layout.option import ClothMap
from pleatwright.order import Job, read_order
from pleatwright.sheets import Item, Line, Polyline, Rect, Text
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.pages.guide.drawings import WIDE, drawing
from pleatwright.sheets.pages.guide.tools import mirrored
from pleatwright.sheets.pages.guide.weaving import between

EXAMPLES = Path(__file__).parents[2] / "examples"
WIDTH = 3.42
CASES = [
    ("demo", 1),
    ("demo", 5),
    ("demo", 6),
    ("demo", 11),
    ("womans-taper", 1),
    ("belly", 1),
    ("child-hem", 1),
    ("double-width", 1),
    ("no-cloth-yet", 1),
    ("large-abac-sett", 2),
]


@cache
def kilt(name: str, number: int = 1, hand: str = "right", units: str | None = None) -> Kilt:
    job = read_order((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), units=units)
    option = make_plan(job.request).options[number - 1]
    return Kilt.of(replace(job, hand="left" if hand == "left" else "right"), option)


@cache
def in_the_mirror(name: str, number: int, hand: str) -> Kilt:
    """The same kilt on the mirrored cloth, opening on the other side."""
    ours = kilt(name, number, hand)
    job, option = ours.job, ours.option
    tartan = job.request.tartan
    assert option.cloth is not None
    length = option.cloth.length
    run = option.cloth.run(tartan.weft).mirrored(length)
    cloth = ClothMap(length, run.tape, run.threads, run.blocked, None, option.cloth.turned_end_for_end)
    other = replace(mirrored_option(option, length, tartan.weft.n), cloth=cloth)
    request = replace(job.request, tartan=replace(tartan, weft=run.sett), opens_on="left")
    turned: Job = replace(job, request=request, hand="left" if hand == "right" else "right")
    return replace(ours, job=turned, option=other)


Place = tuple[object, ...]


def places(item: Item) -> Place:
    """What an item shows and where, however its points are ordered."""
    if isinstance(item, Line):
        xs, ys = (item.x1, item.x2), (item.y1, item.y2)
        rising = (xs[1] - xs[0]) * (ys[1] - ys[0])
        return ("line", item.stroke, min(xs), max(xs), min(ys), max(ys), rising)
    if isinstance(item, Polyline):
        xs, ys = zip(*item.points, strict=True)
        area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*item.points, item.points[0]))))
        return ("shape", item.fill, item.stroke, min(xs), max(xs), min(ys), max(ys), area)
    if isinstance(item, Rect):
        return ("box", item.fill, item.x + item.width / 2, item.y, item.width, item.height)
    if isinstance(item, Text):
        return ("text", item.text, item.anchor, item.x, item.y)
    return (type(item).__name__, getattr(item, "x", 0.0), getattr(item, "y", 0.0))


def same(one: Place, other: Place) -> bool:
    if len(one) != len(other):
        return False
    return all(
        abs(a - b) < 0.012 if isinstance(a, float) and isinstance(b, float) else a == b
        for a, b in zip(one, other, strict=True)
    )


def assert_mirror(one: Sequence[Item], other: Sequence[Item], width: float) -> None:
    left = [places(item) for item in other]
    for item in mirrored(one, width):
        place = places(item)
        found = next((at for at, candidate in enumerate(left) if same(place, candidate)), None)
        assert found is not None, place
        left.pop(found)
    assert not left


@pytest.mark.parametrize("number", [1, 5, 6, 11])
@pytest.mark.parametrize(
    "drawn",
    [
        Drawn.PLEAT_FOLD,
        Drawn.DEEP_PLEAT,
        Drawn.REVERSE_PLEAT,
        Drawn.FRINGE,
        Drawn.APRON_MARKS,
        Drawn.FAR_MARKS,
    ],
)
def test_a_kilt_that_opens_on_the_left_is_drawn_as_the_mirror_of_one_on_the_right(
    number: int, drawn: Drawn
) -> None:
    ours, theirs = kilt("demo", number), in_the_mirror("demo", number, "right")
    assert_mirror(drawing(ours, drawn, WIDTH).items, drawing(theirs, drawn, WIDTH).items, WIDTH)


@pytest.mark.parametrize("drawn", [Drawn.APRON_SEAM, Drawn.STRAP_HOLE, Drawn.LAST_SEAM, Drawn.PRESSING])
def test_a_left_handed_maker_sees_a_left_opening_kilt_as_the_mirror_of_the_right_handed_one(
    drawn: Drawn,
) -> None:
    ours, theirs = kilt("demo"), in_the_mirror("demo", 1, "right")
    assert theirs.job.hand == "left"
    one, other = drawing(ours, drawn, WIDTH).items, drawing(theirs, drawn, WIDTH).items
    if drawn is Drawn.PRESSING:  # the strip under the press cloth is cut from the left end of the apron
        one, other = (tuple(item for item in items if not isinstance(item, Rect)) for items in (one, other))
    assert_mirror(one, other, WIDTH)


def test_the_needle_goes_the_other_way_in_the_other_hand_but_the_kilt_is_the_same() -> None:
    right, left = (drawing(kilt("demo", 1, hand), Drawn.STRAP_HOLE, WIDTH) for hand in ("right", "left"))
    tops = [
        next(item.x for item in sketch.items if isinstance(item, Text) and item.text == "top edge")
        for sketch in (right, left)
    ]
    assert tops[0] < WIDTH / 2 < tops[1]
    heights = [
        next(item.y for item in sketch.items if isinstance(item, Text) and item.text == "pleat 1")
        for sketch in (right, left)
    ]
    assert heights[0] > heights[1]  # turned round with its top edge, never mirrored


def test_mirrored_twice_is_as_before() -> None:
    items = drawing(kilt("demo"), Drawn.PRESSING, WIDTH).items
    assert_mirror(mirrored(items, WIDTH), items, WIDTH)


def test_a_shape_is_cut_between_two_verticals() -> None:
    box = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0))
    assert set(between(box, 1.0, 3.0)) == {(1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0)}
    assert between(box, 5.0, 6.0) == ()


@pytest.mark.parametrize("name, number", CASES)
@pytest.mark.parametrize("hand, units", [("right", None), ("left", "metric")])
def test_every_drawing_keeps_within_its_paper_and_no_words_lie_over_others(
    name: str, number: int, hand: str, units: str | None
) -> None:
    ours = kilt(name, number, hand, units)
    for step in steps_of(ours):
        width = 7.17 if step.drawing in WIDE else WIDTH
        sketch = drawing(ours, step.drawing, width)
        boxes: list[tuple[float, float, float, float, str]] = []
        for item in sketch.items:
            if isinstance(item, Text):
                wide = width_of(item.text, item.size, bold=item.bold)
                left = item.x - {"start": 0.0, "middle": wide / 2, "end": wide}[item.anchor]
                boxes.append((left, item.y - 0.7 * item.size / 72, left + wide, item.y, item.text))
        for one in boxes:
            assert one[0] >= -0.03, (step.title, one)
            assert one[2] <= width + 0.03, (step.title, one)
            assert one[1] >= -0.03, (step.title, one)
            assert one[3] <= sketch.height + 0.03, (step.title, one)
        for i, one in enumerate(boxes):
            for other in boxes[i + 1 :]:
                apart = (
                    one[2] <= other[0] + 0.01
                    or other[2] <= one[0] + 0.01
                    or one[3] <= other[1] + 0.01
                    or other[3] <= one[1] + 0.01
                )
                assert apart, (step.title, one, other)


def test_the_stripes_of_the_apron_have_the_tartans_own_colours() -> None:
    ours = kilt("demo")
    palette = {
        ours.job.request.tartan.hex_of(stripe.colour) for stripe in ours.job.request.tartan.weft.stripes
    }
    fills = {
        item.fill
        for item in drawing(ours, Drawn.APRONS, WIDTH).items
        if isinstance(item, Polyline) and item.fill is not None and len(item.points) > 3
    }
    assert palette <= fills
