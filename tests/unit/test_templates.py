"""Templates: every card is the plan's own geometry, the tape carries every mark, the kerf is allowed for."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import hypot
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench import gauge_list, marks, ruler_of
from pleatwright.bench.marks import EDGE_LEVELS
from pleatwright.bench.templates import Template, Use, Words, apron_line, templates, with_kerf
from pleatwright.bench.templates.narrow import listed, pleat_widths
from pleatwright.bench.templates.tape import GAP
from pleatwright.bench.templates.template import box, grown, slug, smooth
from pleatwright.layout import Option, make_plan
from pleatwright.lengths import MILLIMETRE
from pleatwright.order import Job, OwnedGauge, read_order
from pleatwright.sheets.lettering import width_of
from pleatwright.wearer import LevelName

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("demo", "belly", "womans-taper", "asymmetric", "box-four-yards", "no-cloth-yet", "double-width")
ROOT = Fraction(1, 10**9)


@cache
def planned(name: str) -> tuple[Job, Option]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), source=name)
    return job, make_plan(job.request).options[0]


@cache
def made(name: str) -> tuple[Template, ...]:
    job, option = planned(name)
    return templates(option, job.request, job.drawer)


def of(name: str, use: Use) -> list[Template]:
    return [one for one in made(name) if one.use is use]


def crossings(points: tuple[tuple[Fraction, Fraction], ...], y: Fraction) -> list[Fraction]:
    """Where an outline is met at one height, from the left."""
    found = set()
    for (x1, y1), (x2, y2) in pairwise((*points, points[0])):
        if y1 != y2 and min(y1, y2) <= y <= max(y1, y2):
            found.add(x1 + (x2 - x1) * (y - y1) / (y2 - y1))
    return sorted(found)


# ---- gauges


@pytest.mark.parametrize("name", NAMES)
def test_a_gauge_is_as_wide_as_its_size_and_as_long_as_the_rise(name: str) -> None:
    job, option = planned(name)
    gauges = gauge_list(option, job.request).gauges
    cards = of(name, Use.GAUGES)
    assert [(card.width, card.height) for card in cards] == [(g.width, job.sizes.rise) for g in gauges]
    for card, gauge in zip(cards, gauges, strict=True):
        assert card.outline == box(Fraction(0), Fraction(0), gauge.width, job.sizes.rise)
        said = [words.text for words in card.words]
        assert [text for text in said if text in ("between", "across")] == [u.reading for u in gauge.uses]


def test_a_gauge_in_the_drawer_is_not_drawn() -> None:
    job, option = planned("demo")
    first = gauge_list(option, job.request).gauges[0].width
    cards = templates(option, job.request, (OwnedGauge(first, first),), (Use.GAUGES,))
    assert [card.width for card in cards] == [card.width for card in of("demo", Use.GAUGES)][1:]


# ---- strap hole


@pytest.mark.parametrize("name", ["demo", "womans-taper", "asymmetric"])
def test_the_strap_hole_is_centred_on_the_strap_line(name: str) -> None:
    # a little longer than the strap is wide: common practice, no source
    job, option = planned(name)
    closing = job.request.settings.closing
    (card,) = of(name, Use.STRAP_HOLE)
    (slot,) = card.slots
    ys = [y for _, y in slot]
    assert max(ys) - min(ys) == closing.strap_width + closing.strap_hole_longer
    assert (max(ys) + min(ys)) / 2 == job.sizes.rise
    assert sum(x for x, _ in slot) / 4 == card.width / 2
    named = {words.text: words.x < card.width / 2 for words in card.words}
    assert named["pleat 1"] is (option.opens_on == "right")
    rows = gauge_list(option, job.request).rows
    seam = card.width / 2
    at_strap = sorted(abs(x - seam) for guide in card.guides for x, y in guide if y == job.sizes.rise)
    assert at_strap == sorted(row.strap for row in rows[:2])


def test_a_strap_that_lies_inside_needs_no_hole() -> None:
    # xmarksthescot.com thread 93707
    job, option = planned("demo")
    closing = replace(job.request.settings.closing, under_strap="inside")
    request = replace(job.request, settings=replace(job.request.settings, closing=closing))
    assert templates(option, request, (), (Use.STRAP_HOLE,)) == ()


# ---- apron edge


@pytest.mark.parametrize("name", NAMES)
def test_one_card_gives_all_four_apron_edges_at_every_level(name: str) -> None:
    job, option = planned(name)
    (card,) = of(name, Use.APRONS)
    line, middle = float(apron_line(job.request)), card.width / 2
    for apron in (option.over_apron, option.under_apron):
        outer_left = (apron.name == "over-apron") is (option.opens_on == "right")
        for edge in apron.edges:
            if edge.level not in EDGE_LEVELS:
                continue
            y = job.sizes.level(edge.level).below_top
            straight, curved = crossings(card.outline, y)[0], crossings(card.outline, y)[-1]
            assert curved - middle == middle - straight
            for place, left in ((edge.left, True), (edge.right, False)):
                lap = float(job.sizes.lap) if apron.name == "over-apron" and left is outer_left else 0.0
                reach = abs(place - apron.centre)
                assert line + lap + float(curved - middle) == pytest.approx(reach, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_the_middle_line_of_the_apron_card_is_found_on_the_tape(name: str) -> None:
    job, _ = planned(name)
    line = apron_line(job.request)
    step = 5 * MILLIMETRE if job.units == "metric" else Fraction(1, 4)
    assert line > 0
    assert (line / step).denominator == 1
    assert min(x for x, _ in made(name)[0].outline) == 0


knots = st.lists(st.tuples(st.integers(-40, 40), st.integers(1, 200)), min_size=2, max_size=6).map(
    lambda steps: [
        (Fraction(x, 16), sum((Fraction(d, 16) for _, d in steps[:i]), Fraction(0)))
        for i, (x, _) in enumerate(steps)
    ]
)


@given(knots)
def test_a_gentle_curve_meets_every_mark_and_never_overshoots(
    marked: list[tuple[Fraction, Fraction]],
) -> None:
    points = smooth(marked, 8)
    assert points[::8] == tuple(marked)
    for number, (a, b) in enumerate(pairwise(marked)):
        span = [x for x, _ in points[8 * number : 8 * number + 9]]
        assert span == sorted(span, reverse=b[0] < a[0])
    assert [y for _, y in points] == sorted(y for _, y in points)


def test_a_gentle_curve_has_no_corner_where_straight_lines_have_one() -> None:
    marked = [(Fraction(x), Fraction(y)) for x, y in ((0, 0), (2, 7), (3, 20))]
    points = smooth(marked, 200)
    slopes = [float((b[0] - a[0]) / (b[1] - a[1])) for a, b in pairwise(points)]
    assert max(abs(b - a) for a, b in pairwise(slopes)) < 0.005
    assert 2 / 7 - 1 / 13 > 0.2


# ---- taper


@pytest.mark.parametrize("name", NAMES)
def test_every_pleat_has_its_taper_and_its_widths(name: str) -> None:
    job, option = planned(name)
    rows = gauge_list(option, job.request).rows
    cards = of(name, Use.TAPER)
    shown = []
    for card in cards:
        widths = {}
        for level in (LevelName.STRAP, LevelName.HIP):
            left, *_, right = crossings(card.outline, job.sizes.level(level).below_top)
            widths[level] = right - left
            assert left + right == card.width
        shown.append((widths[LevelName.HIP], widths[LevelName.STRAP]))
    assert sorted(shown) == sorted({(row.hip, row.strap) for row in rows})
    numbers = " ".join(card.notes for card in cards)
    for row in rows:
        assert sum(str(row.pleat) == word.strip(",") for word in numbers.split()) <= 1


@pytest.mark.parametrize("name", NAMES)
def test_the_widths_of_all_pleats_add_up_to_the_pleated_width_of_the_top_edge(name: str) -> None:
    job, option = planned(name)
    gauges = gauge_list(option, job.request)
    tops = [pleat_widths(row, option, job.sizes)[LevelName.TOP] for row in gauges.rows]
    rounded = max(
        abs(total - job.sizes.level(level).pleated)
        for level, total in ((LevelName.HIP, gauges.hip_total), (LevelName.STRAP, gauges.strap_total))
    )
    assert abs(sum(tops) - job.sizes.level(LevelName.TOP).pleated) <= 2 * rounded + ROOT


@pytest.mark.parametrize("name", ["demo", "womans-taper"])
def test_what_the_top_edge_is_let_out_is_shared_by_all_pleats(name: str) -> None:
    # xmarksthescot.com threads 73073, 29872
    job, option = planned(name)
    top = job.sizes.level(LevelName.TOP)
    levels = (replace(top, pleated=top.pleated + 1), *job.sizes.levels[1:])
    wider = replace(job.sizes, levels=levels)
    for row in gauge_list(option, job.request).rows:
        before, after = (pleat_widths(row, option, sizes) for sizes in (job.sizes, wider))
        assert after[LevelName.TOP] - before[LevelName.TOP] == Fraction(1, option.pleats)
        assert after[LevelName.HIP] == before[LevelName.HIP] == row.hip


def test_a_mans_taper_ends_at_the_strap_line_and_a_womans_goes_straight_on() -> None:
    # common practice, no source
    for name, straight in (("demo", False), ("womans-taper", True)):
        job, _ = planned(name)
        for card in of(name, Use.TAPER):
            top, strap, hip = (
                crossings(card.outline, job.sizes.level(level).below_top)[-1]
                for level in (LevelName.TOP, LevelName.STRAP, LevelName.HIP)
            )
            fell = job.sizes.fell - job.sizes.rise
            assert (top == strap) is not straight
            if straight:
                assert (strap - top) / job.sizes.rise == (hip - strap) / fell


def test_where_the_waist_is_wider_the_taper_opens_upward() -> None:
    job, option = planned("belly")
    strap, hip = job.sizes.level(LevelName.STRAP), job.sizes.level(LevelName.HIP)
    wide = replace(strap, pleated=hip.pleated + 4)
    levels = tuple(
        wide
        if level is strap
        else replace(level, pleated=wide.pleated)
        if level.name is LevelName.TOP
        else level
        for level in job.sizes.levels
    )
    request = replace(job.request, sizes=replace(job.sizes, levels=levels))
    for card in templates(option, request, (), (Use.TAPER,)):
        at_strap, at_hip = (crossings(card.outline, level.below_top) for level in (strap, hip))
        assert at_strap[-1] - at_strap[0] > at_hip[-1] - at_hip[0]
        assert card.width == at_strap[-1] - at_strap[0]


@pytest.mark.parametrize(
    "numbers, said", [([4], "4"), ([1, 2], "1, 2"), ([1, 2, 3, 7, 9, 10, 11, 12], "1 to 3, 7, 9 to 12")]
)
def test_pleats_are_listed_in_few_words(numbers: list[int], said: str) -> None:
    assert listed(numbers) == said


# ---- tape


@pytest.mark.parametrize("name", ["demo", "belly", "womans-taper", "asymmetric", "double-width"])
def test_every_mark_along_the_piece_is_on_the_tape_at_its_place(name: str) -> None:
    job, option = planned(name)
    (tape,) = of(name, Use.TAPE)
    ruler = ruler_of(option, job.request)
    assert ruler is not None
    along = [mark for mark in marks(option, job.request) if mark.axis == "along"]
    joins = [mark for mark in along if mark.group == "join"]
    along = [mark for mark in along if mark not in joins[1:]]
    start = ruler.snapped(along[0].tape) - _tick_of(tape, along[0].number)
    assert start == 0 or start.denominator == 1
    for mark in along:
        assert start + _tick_of(tape, mark.number) == ruler.snapped(mark.tape), mark
    assert tape.width + start >= max(mark.tape for mark in along)
    shown = {words.text for words in tape.words}
    for number, place in enumerate(ruler.repeats, 1):
        if start <= place < start + tape.width - 1:
            assert f"repeat {number}" in shown


def _tick_of(tape: Template, number: int) -> Fraction:
    """Where the tick with a mark's number stands."""
    (words,) = [one for one in tape.words if str(number) in one.text.split(", ") and one.bold]
    ticks = {line[0][0] for line in tape.lines if line[0][1] == tape.height}
    assert words.x - GAP in ticks
    return words.x - GAP


@pytest.mark.parametrize("name", ["demo", "belly", "womans-taper", "asymmetric", "double-width"])
def test_no_words_of_the_tape_lie_over_others_or_on_a_tick(name: str) -> None:
    (tape,) = of(name, Use.TAPE)
    boxes = sorted(
        (words.y, words.x, words.x + _shown(words)) for words in tape.words if "repeat" not in words.text
    )
    for (y, _, end), (other_y, start, _) in pairwise(boxes):
        assert y != other_y or end <= start + Fraction(1, 100)
    crossed = [
        (line, words)
        for line in tape.lines
        for words in tape.words
        if line[1][1] < words.y and words.x < line[0][0] < words.x + _shown(words) and line[0][1] > words.y
    ]
    assert len(crossed) <= len(tape.lines) // 20


def _shown(words: Words) -> Fraction:
    return Fraction(width_of(words.text, words.size, bold=words.bold))


def test_without_a_piece_there_is_no_tape() -> None:
    assert not of("no-cloth-yet", Use.TAPE)


# ---- kerf


shapes = st.builds(
    lambda w, h, cut: (
        (Fraction(0), Fraction(0)),
        (w, Fraction(0)),
        (w, h - cut),
        (w - cut, h),
        (Fraction(0), h),
    ),
    st.fractions(2, 9, max_denominator=64),
    st.fractions(2, 9, max_denominator=64),
    st.fractions(Fraction(1, 4), 1, max_denominator=64),
)


def distance(
    point: tuple[Fraction, Fraction], a: tuple[Fraction, Fraction], b: tuple[Fraction, Fraction]
) -> float:
    """From a point to the line through a and b; to the right of it (inside, clockwise) is negative."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return float(dy * (point[0] - a[0]) - dx * (point[1] - a[1])) / hypot(dx, dy)


@given(shapes, st.fractions(-Fraction(1, 16), Fraction(1, 16), max_denominator=256))
def test_every_side_moves_by_just_so_much(shape: tuple[tuple[Fraction, Fraction], ...], by: Fraction) -> None:
    moved = grown(shape, by)
    for number in range(len(shape)):
        a, b = shape[number - 1], shape[number]
        for corner in (moved[number - 1], moved[number]):
            assert distance(corner, a, b) == pytest.approx(float(by), abs=1e-12)


@pytest.mark.parametrize("name", ["demo", "asymmetric"])
def test_the_kerf_is_added_half_on_each_side_and_taken_from_holes(name: str) -> None:
    kerf = Fraction("0.2") * MILLIMETRE
    for card in made(name):
        cut = with_kerf(card, kerf)
        for number, (a, b) in enumerate(pairwise((*card.outline, card.outline[0]))):
            assert distance(cut.outline[number], a, b) == pytest.approx(float(kerf / 2), abs=1e-9)
        for slot, smaller in zip(card.slots, cut.slots, strict=True):
            for axis in (0, 1):
                before = max(p[axis] for p in slot) - min(p[axis] for p in slot)
                after = max(p[axis] for p in smaller) - min(p[axis] for p in smaller)
                assert before - after == kerf
        assert [h.radius - c.radius for h, c in zip(card.rounds, cut.rounds, strict=True)] == [
            kerf / 2 for _ in card.rounds
        ]
    assert with_kerf(card, Fraction(0)) == card


def test_a_kerf_wider_than_a_hole_is_refused() -> None:
    (card,) = of("demo", Use.STRAP_HOLE)
    with pytest.raises(ValueError, match="wider than a hole"):
        with_kerf(card, Fraction(1, 8))
    (apron,) = of("demo", Use.APRONS)
    with pytest.raises(ValueError, match="wider than a hole"):
        with_kerf(apron, Fraction(1, 8))


@pytest.mark.parametrize("name", NAMES)
def test_every_card_has_a_name_of_its_own_and_nothing_drawn_goes_over_it(name: str) -> None:
    cards = made(name)
    assert len({card.name for card in cards}) == len(cards)
    for card in cards:
        for points in (*card.lines, *card.guides, *card.slots, card.outline):
            for x, y in points:
                assert -ROOT <= x <= card.width + ROOT, card.name
                assert -ROOT <= y <= card.height + ROOT, card.name


def test_a_size_in_a_files_name() -> None:
    assert slug(Fraction(11, 8), "in") == "1-3-8"
    assert slug(Fraction("16.5") * MILLIMETRE, "metric") == "16-5-mm"
