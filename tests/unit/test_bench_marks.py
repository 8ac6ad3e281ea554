"""Marks, three ways that agree; every part of the piece accounted for."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench import CAUTIONS, Mark, Part, Ruler, marks, regions
from pleatwright.bench.regions import strip_edges
from pleatwright.bench.ruler import ALONG
from pleatwright.cloth import Anchor, Piece, run_across
from pleatwright.layout import Option, Request, make_plan
from pleatwright.lengths import MILLIMETRE, Units, parse_length
from pleatwright.pleats import Form, Kind, Shows, Wishes
from pleatwright.sett import Sett, Tartan, parse_count, short_name
from pleatwright.trade import default_settings, with_overrides
from pleatwright.wearer import Body, LevelName, Taper, sizes

SHOP = default_settings()
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
TO_THE_SETT = frozenset({Kind(Form.KNIFE, Shows.SETT)})
TO_THE_STRIPE = frozenset({Kind(Form.KNIFE, Shows.STRIPE)})
SAID = re.compile(
    r"(?:(right of|left of) )?repeat (\d+), centre of (.+?)(?:, then (.+?) (to the right|to the left))?$"
)


def ruler_along(request: Request) -> Ruler | None:
    """The ruler along a piece before any kilt is laid on it."""
    piece = request.piece
    if piece is None:
        return None
    return Ruler(piece.run(request.tartan), float(piece.length), request, ALONG)


def asked(
    sett: Sett = MILITARY,
    *,
    opens_on: str = "right",
    units: Units = "in",
    kinds: frozenset[Kind] = TO_THE_SETT,
    width: int = 30,
    hem: Fraction | None = None,
    length: Fraction = Fraction(306),
    size: Fraction = Fraction(13, 2),
    selvedge: bool = True,
) -> Request:
    cloth = Piece(
        Fraction(width),
        length,
        size,
        size,
        Anchor(14.0, Fraction(1), "A"),
        Anchor(14.0, Fraction(2), "A") if selvedge else None,
    )
    made = sizes(
        Body(Fraction(34), Fraction(83, 2), Fraction(22), Fraction(6)),
        taper=Taper.MAN,
        settings=SHOP,
        hem=hem,
    )
    tartan = Tartan("invented", sett, sett, (), "", "whole")
    return Request(made, tartan, size, size, cloth, Wishes(kinds=kinds), opens_on, SHOP, units)


@cache
def planned(opens_on: str = "right", kinds: frozenset[Kind] = TO_THE_SETT) -> tuple[Option, Request]:
    request = asked(opens_on=opens_on, kinds=kinds)
    return make_plan(request).options[0], request


def found(every: tuple[Mark, ...], group: str, what: str) -> Mark:
    return next(mark for mark in every if mark.group == group and mark.what == what)


def test_marks_come_in_the_makers_working_order() -> None:
    every = marks(*planned())
    assert [mark.number for mark in every] == list(range(1, len(every) + 1))
    assert [group for group, _ in groupby(mark.group for mark in every)] == [
        "levels",
        "over-apron",
        "top band",
        "deep pleat",
        "first pleat",
        "second pleat",
        "last pleat",
        "strap hole",
        "reverse pleat",
        "under-apron",
        "far end",
        "pleat check",
    ]


def test_only_pleating_to_the_sett_chalks_every_pleat_as_a_check() -> None:
    option, request = planned(kinds=TO_THE_STRIPE)
    assert all(mark.group != "pleat check" for mark in marks(option, request))
    option, request = planned()
    checked = [mark.tape for mark in marks(option, request) if mark.group == "pleat check"]
    assert checked == pytest.approx([strip.centre for strip in option.strips], abs=1 / 32 + 1e-9)


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_tape_figures_lie_on_the_grid_and_within_half_a_step_of_the_plan(opens_on: str) -> None:
    option, request = planned(opens_on)
    every = marks(option, request)
    assert all((Fraction(mark.tape) * 16).denominator == 1 for mark in every)
    away = option.facing if opens_on == "left" else -option.facing
    outer = option.over_apron.right if opens_on == "left" else option.over_apron.left
    assert found(every, "over-apron", "cut end").tape == pytest.approx(outer + away, abs=1 / 32 + 1e-9)
    assert found(every, "over-apron", "centre").tape == pytest.approx(
        option.over_apron.centre, abs=1 / 32 + 1e-9
    )
    far = option.under_apron.left - option.facing if opens_on == "left" else option.cloth_used
    assert found(every, "far end", "cut end, with the facing").tape == pytest.approx(far, abs=1 / 32 + 1e-9)


def test_a_kilt_that_opens_on_the_left_is_marked_from_the_right_end() -> None:
    every = marks(*planned("left"))
    outer, centre, side = (
        found(every, "over-apron", what).tape
        for what in ("outer edge, as allotted", "centre", "pleat-side edge, as allotted")
    )
    assert outer > centre > side
    assert found(every, "deep pleat", "inner fold").tape < side
    firsts = [mark.tape for mark in every if mark.group == "first pleat"]
    seconds = [mark.tape for mark in every if mark.group == "second pleat"]
    assert firsts == sorted(firsts)
    assert max(seconds) < min(firsts) < side


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_apron_edges_are_marked_at_every_level(opens_on: str) -> None:
    option, request = planned(opens_on)
    every = marks(option, request)
    for apron in (option.over_apron, option.under_apron):
        for edge in apron.edges:
            if edge.level is LevelName.MID:
                continue
            at = "bottom" if edge.level is LevelName.BOTTOM else edge.level
            pair = sorted(
                found(every, apron.name, f"{side} edge at the {at}").tape for side in ("outer", "pleat-side")
            )
            assert pair == pytest.approx([edge.left, edge.right], abs=1 / 32 + 1e-9)


def test_the_strap_hole_lies_where_first_and_second_pleat_meet_at_the_strap_line() -> None:
    for opens_on in ("right", "left"):
        option, request = planned(opens_on)
        first, second = (strip_edges(option, strip, LevelName.STRAP) for strip in option.strips[:2])
        holes = [mark for mark in marks(option, request) if mark.group == "strap hole"]
        meet = (first[1], second[0]) if opens_on == "right" else (first[0], second[1])
        assert [mark.tape for mark in holes] == pytest.approx(list(meet), abs=1 / 32 + 1e-9)
        assert abs(meet[0] - meet[1]) < abs(option.strips[0].centre - option.strips[1].centre)
        assert all("centred on the strap line" in mark.words for mark in holes)


def test_the_top_bands_mark_lies_at_the_over_aprons_centre_and_needs_cloth_above_the_rip() -> None:
    # common practice, no source: band and apron then carry the same stripes of the same part of the cloth
    option, request = planned()
    every = marks(option, request)
    mark = found(every, "top band", "mark, at the over-apron's centre")
    assert mark.tape == found(every, "over-apron", "centre").tape
    ends = [one.tape for one in every if one.group == "top band" and one.what.startswith("end")]
    assert ends[1] - ends[0] == pytest.approx(34 * 1.5 + 3, abs=1 / 16)  # (1 + share)·W and 3" to spare
    narrow = replace(request, piece=replace(request.piece, width=Fraction(26)) if request.piece else None)
    assert all(one.group != "top band" for one in marks(option, narrow))


def test_levels_are_given_from_the_selvedge_and_from_the_top() -> None:
    option, request = planned()
    levels = [mark for mark in marks(option, request) if mark.axis == "across"]
    assert [(mark.what.split(",")[0], mark.tape) for mark in levels] == [
        ("top edge", 24.0),
        ("strap line", 22.0),
        ("hip line", 16.0),
    ]
    assert levels[2].words.startswith('8" down from the top edge; ')
    assert all(mark.words.endswith("at both ends and every yard") for mark in levels)
    assert all(mark.repeat and mark.tape - mark.from_repeat == 2 + 6.5 * (mark.repeat - 1) for mark in levels)


def test_a_level_whose_selvedge_was_not_measured_names_no_stripe() -> None:
    request = asked(selvedge=False)
    option, _ = planned()
    levels = [mark for mark in marks(option, request) if mark.axis == "across"]
    assert [(mark.repeat, mark.from_repeat) for mark in levels] == [(0, mark.tape) for mark in levels]
    assert levels[1].words == '2" down from the top edge; at both ends and every yard'


def test_a_hem_is_folded_up_above_the_selvedge() -> None:
    option, _ = planned()
    request = asked(hem=Fraction(3))
    levels = [mark for mark in marks(option, request) if mark.axis == "across"]
    assert [mark.tape for mark in levels] == [27.0, 25.0, 19.0, 3.0]
    assert levels[-1].what == "fold of the hem"


def test_without_cloth_there_are_only_levels() -> None:
    option, request = planned()
    assert {mark.group for mark in marks(option, replace(request, piece=None))} == {"levels"}


def test_metric_marks_lie_on_whole_millimetres() -> None:
    option, request = planned()
    for mark in marks(option, replace(request, units="metric")):
        millimetres = mark.tape / float(MILLIMETRE)
        assert millimetres == pytest.approx(round(millimetres), abs=1e-6)
        assert '"' not in mark.words


def test_the_shops_finer_grid_is_used() -> None:
    option, request = planned()
    fine = replace(request, settings=with_overrides(SHOP, {"bench": {"grid": "1/32"}}))
    steps = {(Fraction(mark.tape) * 32).denominator for mark in marks(option, fine)}
    assert steps == {1}
    assert any((Fraction(mark.tape) * 16).denominator == 2 for mark in marks(option, fine))


runs = st.lists(st.tuples(st.sampled_from("BKWRG"), st.integers(1, 12)), min_size=2, max_size=8)
setts = (
    st.one_of(runs, runs.map(lambda one: one + one[-2:0:-1]))
    .map(Sett.of_runs)
    .filter(lambda sett: not sett.plain)
)


@given(setts, st.integers(24, 200), st.floats(0, 100), st.sampled_from(["in", "metric"]))
def test_the_words_lead_to_the_tape_figure(sett: Sett, sixteenths: int, x: float, units: Units) -> None:
    request = asked(sett, units=units, length=Fraction(100), size=Fraction(sixteenths, 16))
    ruler = ruler_along(request)
    assert ruler is not None
    place = ruler.place(x)
    assert place.tape == ruler.snapped(x)
    start = ruler.snapped(ruler.repeats[place.repeat - 1])
    assert start + place.from_repeat == place.tape
    said = SAID.fullmatch(place.words)
    assert said is not None, place.words
    side, repeat, name, step, way = said.groups()
    assert int(repeat) == place.repeat
    begins = [ruler.run.thread_at(repeat) for repeat in ruler.repeats]
    landmark = _landmark(ruler.run.sett, begins[place.repeat - 1], side, name)
    nearest = min(abs(begin - landmark) for begin in begins)
    assert abs(begins[place.repeat - 1] - landmark) == pytest.approx(nearest, abs=1e-5)
    offset = parse_length(step, unit="in") if step else Fraction(0)
    assert ruler.snapped(ruler.run.tape_at(landmark)) + (-offset if way == "to the left" else offset) == (
        place.tape
    )


def _landmark(sett: Sett, start: float, side: str | None, name: str) -> float:
    """Follow the words as a maker would: from the repeat, that way, to the first stripe of that name."""
    if side is None:
        assert short_name(sett, sett.stripe_at(start)) == name
        return start
    again = re.match(r"the (second|third) ", name)
    nth = 1
    if again and all(short_name(sett, stripe) != name for stripe in sett.stripes):
        nth, name = {"second": 2, "third": 3}[again[1]], f"the {name[again.end() :]}"
    places = sorted(
        sett.centre_of(stripe) + turn * sett.n - start
        for stripe in sett.stripes
        if short_name(sett, stripe) == name
        for turn in range(-70, 71)
    )
    if side == "right of":
        return start + [place for place in places if place > 1e-6][nth - 1]
    return start + [place for place in reversed(places) if place < -1e-6][nth - 1]


@given(setts, st.integers(24, 200))
def test_repeats_are_numbered_from_the_left_at_one_sett_from_each_other(sett: Sett, sixteenths: int) -> None:
    size = Fraction(sixteenths, 16)
    ruler = ruler_along(asked(sett, length=Fraction(100), size=size))
    assert ruler is not None
    assert 0 <= ruler.repeats[0] < size + Fraction(1, 10**6)
    assert ruler.repeats[-1] > 100 - size - Fraction(1, 10**6)
    for one, after in pairwise(ruler.repeats):
        assert after - one == pytest.approx(float(size))
    for place in ruler.repeats:
        assert sett.stripe_at(ruler.run.thread_at(place)) == ruler.reference


def test_halfway_between_two_repeats_the_one_on_the_left_counts() -> None:
    ruler = ruler_along(asked())
    assert ruler is not None
    place = ruler.place(1 + 6.5 * 11 + 3.25)
    assert (place.repeat, place.from_repeat) == (12, Fraction(13, 4))
    assert place.words.startswith("right of repeat 12, centre of ")


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_deep_and_reverse_pleat_are_folded_halfway_between_apron_and_pleat_at_the_hip_line(
    opens_on: str,
) -> None:
    every = marks(*planned(opens_on))
    for part, apron, pleat in (
        ("deep pleat", "over-apron", "first pleat"),
        ("reverse pleat", "under-apron", "last pleat"),
    ):
        fold = found(every, part, "inner fold").tape
        edge = found(every, apron, "pleat-side edge at the hip line").tape
        near = min((one.tape for one in every if one.group == pleat), key=lambda tape: abs(tape - fold))
        assert abs(edge - fold) == pytest.approx(abs(near - fold), abs=3 / 32)
        assert min(edge, near) < fold < max(edge, near)


def test_a_mark_far_left_of_the_first_repeat_counts_backwards_from_it() -> None:
    request = asked()  # the pivot's centre at 1", so move it: the first repeat then lies at 6"
    assert request.piece is not None
    moved = replace(request, piece=replace(request.piece, left_end=Anchor(14.0, Fraction(6), "A")))
    ruler = ruler_along(moved)
    assert ruler is not None
    assert ruler.repeats[0] == pytest.approx(6)
    place = ruler.place(0.25)
    assert (place.repeat, place.from_repeat) == (1, Fraction(-23, 4))
    assert place.words.startswith("left of repeat 1, centre of the second ")


def test_plain_cloth_has_no_stripe_to_measure_from() -> None:
    ruler = ruler_along(asked(Sett.of_runs([("G", 40)])))
    assert ruler is not None
    place = ruler.place(12.27)
    assert (place.repeat, place.tape, place.from_repeat, place.words) == (
        0,
        Fraction(49, 4),
        Fraction(49, 4),
        "",
    )


@pytest.mark.parametrize("opens_on", ["right", "left"])
@pytest.mark.parametrize("kinds", [TO_THE_SETT, TO_THE_STRIPE])
def test_the_piece_is_cut_up_without_gap_or_remainder(opens_on: str, kinds: frozenset[Kind]) -> None:
    option, request = planned(opens_on, kinds)
    parts = regions(option, 306.0)
    assert parts[0].start == 0
    assert parts[-1].end == 306.0
    assert all(one.end == after.start for one, after in pairwise(parts))
    assert sum(part.width for part in parts if part.part is Part.PLEAT) == pytest.approx(
        float(request.sizes.level(LevelName.HIP).pleated)
    )
    widths = {part.part: part.width for part in parts}
    assert widths[Part.DEEP_PLEAT] == pytest.approx(option.deep_pleat)
    assert widths[Part.REVERSE_PLEAT] == pytest.approx(option.reverse_pleat)
    assert widths[Part.OVER_APRON] == pytest.approx(option.over_apron.allotted)
    assert [part.width for part in parts if part.part is Part.FACING] == pytest.approx([option.facing] * 2)
    numbers = [part.pleat for part in parts if part.pleat]
    assert numbers == (sorted(numbers) if opens_on == "right" else sorted(numbers, reverse=True))


def test_every_caution_says_where_it_belongs_in_few_words() -> None:
    assert len({caution.text for caution in CAUTIONS}) == len(CAUTIONS)
    assert all(caution.where and len(caution.text) < 100 for caution in CAUTIONS)
    said = " ".join(caution.text for caution in CAUTIONS)
    for thing in ("iron", "Shears", "needles", "dust", "flames", "restricted", "local rules"):
        assert thing in said


@pytest.mark.parametrize("hemmed, height", [("second", Fraction(2)), ("first", Fraction(4))])
def test_the_strip_that_is_hemmed_has_levels_of_its_own(hemmed: str, height: Fraction):
    """Turned, the other selvedge's pivot lies width - height - whole setts up; higher lines are let down."""
    request = asked(width=58, length=Fraction(162))
    assert request.piece is not None
    piece = replace(request.piece, selvedge=Anchor(14.0, height, "A"))
    request = replace(request, piece=piece)
    option = make_plan(request).options[0]
    join = option.join
    assert join is not None
    miss = (piece.width - 2 * height + Fraction(13, 4)) % Fraction(13, 2) - Fraction(13, 4)
    assert join.hemmed == hemmed
    assert join.hem == pytest.approx(float(abs(miss)))
    listed = [mark for mark in marks(option, request) if mark.group == "levels"]
    assert [mark.number for mark in listed] == list(range(1, 8))
    total = float(request.sizes.total)
    for strip, hem in (("first", join.hem_first), ("second", join.hem_second)):
        own = {mark.what: mark.tape for mark in listed if f"{strip} strip" in mark.what}
        assert own[f"top edge of the {strip} strip, where it is ripped"] == pytest.approx(total + hem)
        for level, what in ((LevelName.STRAP, "strap line"), (LevelName.HIP, "hip line")):
            below = float(request.sizes.level(level).below_top)
            named = next(tape for name, tape in own.items() if name.startswith(what))
            assert named == pytest.approx(total + hem - below, abs=1 / 32)
        assert (f"fold of the hem of the {strip} strip" in own) is (strip == hemmed)
    # a line of the cloth at a level of the first strip is the same one on the second
    ruler = run_across(piece, request.tartan)
    assert ruler is not None
    first, second = (
        next(m.tape for m in listed if m.what.startswith(f"strap line of the {strip}"))
        for strip in ("first", "second")
    )
    turned = 2 * ruler.sett.mirror_centres[0] - ruler.thread_at(float(piece.width) - second)
    apart = (ruler.thread_at(first) - turned) / ruler.sett.n
    assert apart == pytest.approx(round(apart), abs=0.02)
