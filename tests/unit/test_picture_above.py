"""The folds seen from above: no cloth won or lost, no line across another, every form folded its own way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import accumulate, combinations, pairwise
from math import dist
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench import Part, regions
from pleatwright.cloth import Anchor
from pleatwright.layout import Option, Request, make_plan
from pleatwright.order import read_order
from pleatwright.picture.top_view import Point, Stretch, bands, top_view
from pleatwright.pleats import Form

EXAMPLES = Path(__file__).parents[2] / "examples"
STYLES = (
    "knife to the sett",
    "knife to the stripe",
    "box to the stripe",
    "box to the sett",
    "military box to the stripe",
    "centre box to the stripe",
)


@cache
def planned(name: str, style: str) -> tuple[Request, Option]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text(), source=name, styles=(style,))
    option = make_plan(job.request).chosen
    assert option is not None
    return job.request, option


CASES = [("demo", style) for style in STYLES]
CASES += [("womans-taper", "knife to the sett"), ("measured-piece", "knife to the stripe")]
CASES += [("double-width", "knife to the stripe"), ("no-cloth-yet", "knife to the sett")]
each_case = pytest.mark.parametrize("name, style", CASES)


def lengths_agree(stretches: Sequence[Stretch]) -> None:
    for stretch in stretches:
        assert dist(stretch.a, stretch.b) == pytest.approx(stretch.end - stretch.start, abs=1e-9)
    for one, after in pairwise(stretches):
        assert one.b == pytest.approx(after.a, abs=1e-9)
        assert one.end == pytest.approx(after.start, abs=1e-9)


@each_case
def test_the_drawn_line_is_one_line_as_long_as_the_cloth_used(name: str, style: str) -> None:
    _, option = planned(name, style)
    stretches = top_view(option)
    lengths_agree(stretches)
    length = option.cloth_used if option.cloth is None else option.cloth.length
    spare = sum(part.width for part in regions(option, length) if part.part is Part.SPARE)
    drawn = sum(dist(stretch.a, stretch.b) for stretch in stretches)
    assert drawn + spare == pytest.approx(option.cloth_used, abs=1e-6)


@each_case
def test_each_part_keeps_the_cloth_it_has_on_the_strip(name: str, style: str) -> None:
    _, option = planned(name, style)
    length = option.cloth_used if option.cloth is None else option.cloth.length
    stretches = top_view(option)
    for part in Part:
        if part not in (Part.SPARE, Part.REST):
            on_strip = sum(one.width for one in regions(option, length) if one.part is part)
            assert sum(one.length for one in stretches if one.part is part) == pytest.approx(on_strip)
    shown = [stretch.pleat for stretch in stretches if stretch.part is Part.PLEAT]
    assert shown == [strip.number for strip in sorted(option.strips, key=lambda strip: strip.centre)]


def turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def crosses(one: Stretch, other: Stretch) -> bool:
    sides = (
        turn(one.a, one.b, other.a) * turn(one.a, one.b, other.b),
        turn(other.a, other.b, one.a) * turn(other.a, other.b, one.b),
    )
    return all(side < -1e-9 for side in sides)


@each_case
def test_no_line_of_cloth_lies_across_another(name: str, style: str) -> None:
    _, option = planned(name, style)
    stretches = top_view(option)
    assert not [(a, b) for a, b in combinations(stretches, 2) if crosses(a, b)]


@given(st.data())
def test_nothing_is_lost_whatever_the_folds_are(data: st.DataObject) -> None:
    """The demo's kilt with every fold let out by something; each form of pleat."""
    _, option = planned("demo", data.draw(st.sampled_from(STYLES)))
    inches = st.floats(0, 6, allow_nan=False)
    wider = data.draw(st.lists(inches, min_size=option.pleats + 1, max_size=option.pleats + 1))
    moved = list(accumulate(wider))
    under = option.under_apron
    let_out = replace(
        option,
        cloth=None,
        cloth_used=option.cloth_used + moved[-1],
        strips=tuple(
            replace(strip, centre=strip.centre + by) for strip, by in zip(option.strips, moved, strict=False)
        ),
        under_apron=replace(
            under,
            centre=under.centre + moved[-1],
            left=under.left + moved[-1],
            right=under.right + moved[-1],
        ),
    )
    stretches = top_view(let_out)
    lengths_agree(stretches)
    known = sum(stretch.length for stretch in top_view(option))
    assert sum(stretch.length for stretch in stretches) == pytest.approx(known + moved[-1])


def test_a_knife_lies_over_the_next_pleat_and_points_to_the_side_it_opens_on() -> None:
    """On a kilt that opens on the right folds point to the wearer's right [derived]: along the cloth."""
    for name, way in (("demo", 1), ("womans-taper", -1)):
        _, option = planned(name, "knife to the sett")
        faces = [stretch for stretch in top_view(option) if stretch.part is Part.PLEAT]
        for face in faces[1:-1]:
            outer, inner = (face.b, face.a) if way > 0 else (face.a, face.b)
            assert outer[1] == pytest.approx(0.0, abs=1e-9)
            assert inner[1] > 0.01


def test_the_reverse_pleat_is_folded_the_other_way_round_from_the_deep_pleat() -> None:
    """From memory: it goes in under the under-apron, as the deep pleat goes in under the over-apron."""
    _, option = planned("demo", "knife to the sett")
    stretches = top_view(option)
    deep = [stretch for stretch in stretches if stretch.part is Part.DEEP_PLEAT]
    reverse = [stretch for stretch in stretches if stretch.part is Part.REVERSE_PLEAT]
    over, under = (
        next(stretch for stretch in stretches if stretch.part is part)
        for part in (Part.OVER_APRON, Part.UNDER_APRON)
    )
    assert deep[0].b[0] < over.b[0]
    assert reverse[0].b[0] > under.a[0]


@pytest.mark.parametrize(
    "style, form",
    [("box to the stripe", Form.BOX), ("military box to the stripe", Form.MILITARY_BOX)],
)
def test_panels_of_boxes_lie_flat_on_the_outside(style: str, form: Form) -> None:
    _, option = planned("demo", style)
    assert option.form is form
    faces = [stretch for stretch in top_view(option) if stretch.part is Part.PLEAT]
    assert all(face.a[1] == face.b[1] == 0.0 for face in faces[1:-1])


def test_knives_run_away_from_the_centre_box_on_both_sides() -> None:
    _, option = planned("demo", "centre box to the stripe")
    faces = [stretch for stretch in top_view(option) if stretch.part is Part.PLEAT]
    middle = option.pleats // 2
    assert faces[middle].a[1] == faces[middle].b[1] == 0.0
    assert all(face.a[1] < face.b[1] for face in faces[1:middle])
    assert all(face.a[1] > face.b[1] for face in faces[middle + 1 : -1])


def test_opening_on_the_left_is_the_mirror_of_opening_on_the_right() -> None:
    right, one = planned("demo", "knife to the stripe")
    assert right.piece is not None
    run = right.piece.run(right.tartan)
    far_end = -run.thread_at(float(right.piece.length)) % run.sett.n
    left = replace(
        right,
        tartan=replace(right.tartan, weft=right.tartan.weft.reversed()),
        piece=replace(right.piece, left_end=Anchor(far_end, Fraction(0), "")),
        opens_on="left",
    )
    other = make_plan(left).chosen
    assert other is not None
    seen, mirrored = top_view(one), top_view(other)
    widest = max(x for stretch in seen for x in (stretch.a[0], stretch.b[0]))
    assert [stretch.part for stretch in seen] == [stretch.part for stretch in reversed(mirrored)]
    for stretch, image in zip(seen, reversed(mirrored), strict=True):
        assert image.b == pytest.approx((widest - stretch.a[0], stretch.a[1]), abs=1e-6)
        assert image.a == pytest.approx((widest - stretch.b[0], stretch.b[1]), abs=1e-6)


@pytest.mark.parametrize("name", ["demo", "measured-piece", "no-cloth-yet"])
def test_the_line_carries_the_stripes_of_the_cloth(name: str) -> None:
    request, option = planned(name, "knife to the stripe")
    sett, tartan = request.tartan.weft, request.tartan
    threads, stretches = sett.threads(), top_view(option)
    for stretch in stretches:
        found = list(bands(stretch, option, request))
        assert found[0].a == pytest.approx(stretch.a, abs=1e-9)
        assert found[-1].b == pytest.approx(stretch.b, abs=1e-9)
        for one, after in pairwise(found):
            assert one.b == pytest.approx(after.a, abs=1e-9)
    # what a pleat shows in its middle is the thread the plan centres it on
    for strip in option.strips:
        face = next(stretch for stretch in stretches if stretch.pleat == strip.number)
        middle = face.at(strip.centre)
        colour = next(
            band.colour
            for band in bands(face, option, request)
            if dist(band.a, middle) + dist(middle, band.b) <= dist(band.a, band.b) + 1e-9
        )
        assert colour == tartan.hex_of(threads[int(strip.phase) % sett.n])
