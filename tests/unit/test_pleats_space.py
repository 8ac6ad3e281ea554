"""Every way of pleating that is tried keeps the limits, and shows what it says it shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.pleats import (
    LEFT_OUT,
    PLAIN_KINDS,
    TARTAN_KINDS,
    Form,
    Kind,
    Pleating,
    PleatSpace,
    Shows,
    Wishes,
    depth_range,
    pleatings,
    reveals,
)
from pleatwright.sett import Sett, parse_count, same_surroundings
from pleatwright.trade import default_settings
from pleatwright.wearer import FELL_LEVELS, LevelName

SHOP = default_settings()
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft

runs = st.lists(st.tuples(st.sampled_from("BKWG"), st.integers(1, 24)), min_size=2, max_size=6)
setts = st.one_of(runs, runs.map(lambda one: one + one[-2:0:-1])).map(Sett.of_runs)
patterned = setts.filter(lambda sett: not sett.plain)
plain = st.integers(1, 60).map(lambda threads: Sett.of_runs([("G", threads)]))


def widths(hip: float, strap: float, top: float | None = None) -> dict[LevelName, float]:
    return {
        LevelName.TOP: strap if top is None else top,
        LevelName.STRAP: strap,
        LevelName.MID: (hip + strap) / 2,
        LevelName.HIP: hip,
    }


pleated = st.builds(widths, st.integers(14, 24).map(float), st.integers(12, 26).map(float))


def space(sett: Sett, size: float, wide: dict[LevelName, float], wishes: Wishes | None = None) -> PleatSpace:
    return PleatSpace(sett, size, wide, SHOP, wishes or Wishes())


spaces = st.builds(space, patterned, st.sampled_from([0.75, 1.5, 3.0, 5.5, 6.5, 8.0, 15.0]), pleated)


def deepest_fold(pleating: Pleating, i: int, gap: float, reveal: float) -> float:
    """The cloth between two shown strips, shared out as the form folds it; inches."""
    hidden = gap - reveal * (pleating.face(i) + pleating.face(i + 1)) / 2
    return {
        Form.KNIFE: hidden / 2,
        Form.CENTRE_BOX: hidden / 2,
        Form.BOX: hidden / 4,
        Form.MILITARY_BOX: (hidden - reveal) / 2,
    }[pleating.form]


def limits_kept(tried: PleatSpace) -> Iterator[Pleating]:
    """Every pleating, after its limits have been looked at."""
    for pleating in pleatings(tried):
        assert len(pleating.gaps) == pleating.pleats - 1
        for level in FELL_LEVELS:
            reveal = tried.widths[level] / (pleating.pleats - 1 + pleating.centre_face)
            gaps = [gap * tried.sett_size / tried.sett.n for gap in pleating.gaps]
            depths = [deepest_fold(pleating, i, gap, reveal) for i, gap in enumerate(gaps)]
            assert min(depths) >= 1 - 1e-6, (pleating, level)
            found = depth_range(pleating, gaps, reveal)
            assert (found.least, found.greatest) == pytest.approx((min(depths), max(depths)), abs=1e-9)
            if pleating.form is not Form.BOX:
                most = 0.75 if pleating.form is Form.MILITARY_BOX else 1.125
                assert 0.375 - 1e-6 <= reveal <= most + 1e-6
            if pleating.form is Form.BOX:
                assert 6 <= pleating.pleats <= 15
        yield pleating


@settings(max_examples=6)
@given(spaces)
def test_every_pleating_keeps_the_limits_at_every_level(tried: PleatSpace) -> None:
    for pleating in limits_kept(tried):
        assert pleating.form in Form


@settings(max_examples=15)
@given(plain, st.sampled_from([1.5, 4.0]), pleated)
def test_plain_cloth_keeps_the_limits_too_and_has_every_form(
    sett: Sett, size: float, wide: dict[LevelName, float]
) -> None:
    forms = {pleating.form for pleating in limits_kept(space(sett, size, wide))}
    assert {Form.KNIFE, Form.BOX, Form.CENTRE_BOX} <= forms


@settings(max_examples=6)
@given(spaces)
def test_to_the_sett_the_middle_of_the_back_is_a_mirror_centre_or_a_stripes_centre(tried: PleatSpace) -> None:
    kinds = frozenset(kind for kind in TARTAN_KINDS if kind.shows in (Shows.SETT, Shows.SETT_RUNNING))
    sett = tried.sett
    allowed = sett.mirror_centres or [sett.centre_of(stripe) for stripe in sett.stripes]
    for pleating in pleatings(replace(tried, wishes=Wishes(kinds))):
        assert pleating.shown is not None
        flat = [pleating.first + i * pleating.shown for i in range(pleating.pleats)]
        if pleating.centre_face == 1:
            off = ((flat[0] + flat[-1]) / 2 - pleating.middle) % sett.n
            assert min(off, sett.n - off) < 1e-6
        assert pleating.middle in allowed
        laid = list(accumulate(pleating.gaps, initial=pleating.first))
        faces = [pleating.face(i) for i in range(pleating.pleats)]
        starts = accumulate(((a + b) / 2 * pleating.shown for a, b in pairwise(faces)))
        for there, step in zip(laid[1:], starts, strict=True):
            away = (there - laid[0] - step) / sett.n
            assert away == pytest.approx(round(away), abs=1e-6)


@settings(max_examples=12)
@given(spaces)
def test_even_division_cuts_a_sett_into_whole_parts_near_the_reveal(tried: PleatSpace) -> None:
    kinds = frozenset(kind for kind in TARTAN_KINDS if kind.shows is Shows.SETT)
    for pleating in pleatings(replace(tried, wishes=Wishes(kinds))):
        assert pleating.division is not None
        assert pleating.shown == pytest.approx(tried.sett.n / pleating.division)
        reveal = reveals(tried.widths[LevelName.HIP], pleating.pleats, pleating.centre_face)
        ratio = reveal / (tried.sett_size / pleating.division)
        assert 0.8 - 1e-6 <= ratio <= 1.25 + 1e-6


@settings(max_examples=12)
@given(spaces)
def test_to_the_stripe_every_strip_of_a_class_looks_like_the_first(tried: PleatSpace) -> None:
    kinds = frozenset(kind for kind in TARTAN_KINDS if kind.shows in (Shows.STRIPE, Shows.ALTERNATE))
    sett, n = tried.sett, tried.sett.n
    centres = {sett.centre_of(stripe): stripe for stripe in sett.stripes}
    seen: set[tuple[float, float, float, bool]] = set()
    for pleating in pleatings(replace(tried, wishes=Wishes(kinds))):
        assert len(pleating.classes) == pleating.pleats
        laid = [t % n for t in accumulate(pleating.gaps, initial=pleating.first)]
        # a boundary at the very fold may be in view on one strip and just out of view on another
        half = (max(tried.widths.values()) / pleating.faces / 2 - 1 / 32) / tried.thread
        first: dict[int, float] = {}
        for i, (phase, what) in enumerate(zip(laid, pleating.classes, strict=True)):
            if what == LEFT_OUT:
                assert i == pleating.pleats // 2
                continue
            assert phase in centres
            seen.add((first.setdefault(what, phase), phase, half, False))
            if pleating.shows is Shows.STRIPE and pleating.form is not Form.CENTRE_BOX:
                seen.add((laid[0], phase, half, what != pleating.classes[0]))
    for a, b, half, mirrored in seen:
        slack = 2 / 32 / tried.thread  # both may be off from the stripe that stands for the sight
        assert same_surroundings(sett, a, b, mirrored=mirrored, half_window=half, tolerance=slack)


ONE_LINE = Sett.of_runs([("W", 2), ("B", 62)])


@pytest.mark.parametrize("size", [0.75, 1.0, 1.5, 3.0, 6.5])
def test_the_words_for_which_occurrences_are_taken_are_true(size: float) -> None:
    words = {1: "once a sett", 2: "every second sett", 3: "every 3 setts"}
    kinds = frozenset(kind for kind in TARTAN_KINDS if kind.shows is Shows.STRIPE)
    found = list(pleatings(space(ONE_LINE, size, widths(20.5, 16.5), Wishes(kinds))))
    assert found
    for pleating in found:
        gap = pleating.gaps[0] / 64
        assert gap == pytest.approx(round(gap))
        assert pleating.setts == round(gap)
        assert pleating.takes == words.get(round(gap), f"every {round(gap)} setts"), pleating.form


def test_the_military_sett_offers_the_same_stripes_from_either_end() -> None:
    for thirty_seconds in range(12, 37):
        reveal = thirty_seconds / 32
        forwards = space(MILITARY, 6.5, widths(20.0, 16.0)).sights(reveal)
        backwards = space(MILITARY.reversed(), 6.5, widths(20.0, 16.0)).sights(reveal)
        assert {o.phase for s in forwards for o in s.occurrences} == {
            -o.phase % 426 for s in backwards for o in s.occurrences
        }, reveal


@settings(max_examples=40)
@given(
    patterned,
    st.sampled_from([1.5, 4.0, 6.5, 10.0]),
    st.lists(st.floats(0.3, 1.5), min_size=3, max_size=9),
)
def test_the_stripes_offered_do_not_depend_on_which_reveals_were_looked_at_before(
    sett: Sett, size: float, asked: list[float]
) -> None:
    one = space(sett, size, widths(20.0, 16.0))
    ends_first = [min(asked), max(asked), *asked]
    found = [one.sights(reveal) for reveal in ends_first]
    assert found == [space(sett, size, widths(20.0, 16.0)).sights(reveal) for reveal in ends_first]


@pytest.mark.parametrize("apart,tried", [(17, True), (10, False)])
def test_of_two_alternate_stripes_no_gap_is_more_than_twice_the_other(apart: int, tried: bool) -> None:
    # of 15": gaps of 5.1" and 9.9", or of 3" and 12"
    sett = Sett.of_runs([("W", 2), ("B", apart - 2), ("R", 2), ("B", 48 - apart)])
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.ALTERNATE)}), pleats=26)
    found = list(pleatings(space(sett, 15.0, widths(20.5, 16.5), wishes)))
    assert bool(found) == tried
    for pleating in found:
        assert sorted(pleating.gaps[:2]) == [17, 33]
        assert pleating.gaps == (pleating.gaps[:2] * 13)[:25]
        assert [stripe.split(",")[0] for stripe in pleating.stripes] in (["white", "red"], ["red", "white"])


def test_a_stripe_as_wide_as_the_reveal_is_no_line_to_pleat_to() -> None:
    names = [sight.stripe.colour for sight in space(ONE_LINE, 6.5, widths(20.5, 16.5)).sights(0.75)]
    assert names == ["W"]


def test_wishes_for_kind_number_and_stripe_are_kept() -> None:
    kind = Kind(Form.KNIFE, Shows.STRIPE)
    wishes = Wishes(frozenset({kind}), pleats=26, stripe=119.0)
    found = list(pleatings(space(MILITARY, 6.5, widths(20.5, 16.5), wishes)))
    assert found
    for pleating in found:
        assert (pleating.form, pleating.shows, pleating.pleats) == (Form.KNIFE, Shows.STRIPE, 26)
        laid = accumulate(pleating.gaps, initial=pleating.first)
        assert {round(t % 426, 6) for t in laid} <= {119.0, 335.0}


def test_a_wished_apron_stripe_lies_in_the_middle_of_the_back_unless_waived() -> None:
    kinds = frozenset({Kind(Form.KNIFE, Shows.SETT)})
    wishes = Wishes(kinds, apron_phase=100.0)
    asked = pleatings(space(MILITARY, 6.5, widths(20.5, 16.5), wishes))
    assert {pleating.middle for pleating in asked} == {100.0}
    waived = pleatings(space(MILITARY, 6.5, widths(20.5, 16.5), replace(wishes, same_middle=False)))
    assert {pleating.middle for pleating in waived} == {14.0, 227.0}


def test_kinds_are_tried_in_a_fixed_order_and_twice_the_same() -> None:
    tried = space(MILITARY, 6.5, widths(20.5, 16.5), Wishes(pleats=11))
    found = list(pleatings(tried))
    assert found == list(pleatings(replace(tried)))
    order = [Kind(pleating.form, pleating.shows) for pleating in found]
    assert order == sorted(order, key=TARTAN_KINDS.index)


@pytest.mark.parametrize("kind", PLAIN_KINDS)
def test_every_form_can_be_made_of_plain_cloth(kind: Kind) -> None:
    found = list(
        pleatings(space(Sett.of_runs([("G", 9)]), 1.0, widths(20.5, 16.5), Wishes(frozenset({kind}))))
    )
    assert {Kind(pleating.form, pleating.shows) for pleating in found} == {kind}


def test_bellies_have_room_for_their_widest_reveal() -> None:
    shallow = replace(SHOP, pleats=replace(SHOP.pleats, depth_least=Fraction(2)))
    belly = PleatSpace(MILITARY, 5.0, widths(20.0, 25.0), shallow, Wishes(pleats=25))
    for pleating in pleatings(belly):
        if pleating.form is Form.KNIFE:
            assert min(pleating.gaps) * 5 / 426 >= 1.0 + 2 * 2 - 1e-6
