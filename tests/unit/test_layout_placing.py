"""One kilt along one strip: nothing overlaps, nothing is lost, nothing could lie further left."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.cloth import Run
from pleatwright.layout import Frame, place
from pleatwright.pleats import Form, Pleating, Shows, reveals
from pleatwright.sett import Sett
from pleatwright.wearer import LevelName

runs = st.lists(st.tuples(st.sampled_from("BKW"), st.integers(1, 24)), min_size=2, max_size=7)
setts = runs.map(Sett.of_runs).filter(lambda sett: not sett.plain)
few_inches = st.floats(0, 12)


@st.composite
def strips(draw: st.DrawFn) -> Run:
    """Uniform cloth, or cloth of two sizes of thread."""
    sett = draw(setts)
    size = draw(st.floats(1.5, 15)) / sett.n
    phase = draw(st.floats(0, sett.n))
    wander = draw(st.floats(0.97, 1.03))
    tape = (0.0, 100.0) if wander == 1 else (0.0, 100.0, 200.0)
    sizes = (size, size * wander)[: len(tape) - 1]
    return Run(sett, tape[-1], tape, tuple(accumulate((100 / one for one in sizes), initial=phase)))


frames = st.builds(
    lambda hip, strap, side, over, under, facing, deep, reverse: Frame(
        {LevelName.TOP: strap, LevelName.STRAP: strap, LevelName.MID: (hip + strap) / 2, LevelName.HIP: hip},
        side,
        over,
        under,
        facing,
        deep,
        reverse,
    ),
    hip=st.floats(14, 28),
    strap=st.floats(12, 30),
    side=st.floats(5, 14),
    over=st.floats(5, 15),
    under=st.floats(5, 14),
    facing=few_inches,
    deep=few_inches,
    reverse=few_inches,
)


@st.composite
def kilts(draw: st.DrawFn) -> tuple[Run, Frame, Pleating, float]:
    run, frame = draw(strips()), draw(frames)
    n = run.sett.n
    pleats = draw(st.integers(2, 30))
    gaps = tuple(draw(st.floats(0.5, 2.5)) * n for _ in range(pleats - 1))
    wide = 3.0 if pleats % 2 and draw(st.booleans()) else 1.0
    pleating = Pleating(Form.KNIFE, Shows.STRIPE, pleats, draw(st.floats(0, n)), gaps, 0.0, centre_face=wide)
    return run, frame, pleating, draw(st.floats(0, n))


@given(kilts())
def test_all_cloth_is_accounted_for(kilt: tuple[Run, Frame, Pleating, float]) -> None:
    run, frame, pleating, apron = kilt
    laid = place(run, frame, pleating, apron)
    reveal = reveals(frame.widths[LevelName.HIP], pleating.pleats, pleating.centre_face)
    shown = sum(reveal * pleating.face(i) for i in range(pleating.pleats))
    assert shown == pytest.approx(frame.widths[LevelName.HIP])
    centres = [run.tape_at(t) for t in laid.strip_threads(pleating)]
    hidden = sum(
        after - before - reveal * (pleating.face(i) + pleating.face(i + 1)) / 2
        for i, (before, after) in enumerate(pairwise(centres))
    )
    parts = [
        laid.over_centre - frame.over_outer - frame.facing,  # cut off before the facing
        frame.facing + frame.over_outer + frame.pleat_side,
        laid.deep_pleat,
        shown,
        hidden,
        laid.reverse_pleat,
        frame.pleat_side + frame.under_outer + frame.facing,
    ]
    ends = (pleating.face(0) + pleating.face(pleating.pleats - 1) - 2) / 2 * reveal
    assert sum(parts) - ends == pytest.approx(laid.used, abs=1e-6)


@given(kilts())
def test_every_part_has_its_stripe_and_the_cloth_it_needs(kilt: tuple[Run, Frame, Pleating, float]) -> None:
    run, frame, pleating, apron = kilt
    laid = place(run, frame, pleating, apron)
    n = run.sett.n
    for thread, phase in (
        (laid.over_thread, apron),
        (laid.under_thread, apron),
        (laid.first_thread, pleating.first),
    ):
        assert (thread - phase) / n == pytest.approx(round((thread - phase) / n), abs=1e-8)
    slack = 1e-6
    half = frame.greatest_reveal(pleating) / 2
    assert laid.over_centre >= frame.start - slack
    assert laid.first_strip - half - laid.over_centre - frame.pleat_side >= frame.deep_least - slack
    assert laid.under_centre - frame.pleat_side - laid.last_strip - half >= frame.reverse_least - slack
    assert laid.deep_pleat >= frame.deep_least - slack
    assert laid.reverse_pleat >= frame.reverse_least - slack


@given(kilts())
def test_no_part_could_lie_a_sett_further_left(kilt: tuple[Run, Frame, Pleating, float]) -> None:
    run, frame, pleating, apron = kilt
    laid = place(run, frame, pleating, apron)
    n, half = run.sett.n, frame.greatest_reveal(pleating) / 2
    assert run.tape_at(laid.over_thread - n) < frame.start
    least = laid.over_centre + frame.pleat_side + frame.deep_least + half
    assert run.tape_at(laid.first_thread - n) < least
    assert (
        run.tape_at(laid.under_thread - n) < laid.last_strip + half + frame.reverse_least + frame.pleat_side
    )


@given(kilts())
def test_the_strips_follow_one_another_by_the_pleatings_gaps(
    kilt: tuple[Run, Frame, Pleating, float],
) -> None:
    run, frame, pleating, apron = kilt
    laid = place(run, frame, pleating, apron)
    threads = laid.strip_threads(pleating)
    assert len(threads) == pleating.pleats
    assert run.tape_at(threads[0]) == pytest.approx(laid.first_strip)
    assert run.tape_at(threads[-1]) == pytest.approx(laid.last_strip)


@given(kilts())
def test_everything_twice_as_large_lies_twice_as_far_along(
    kilt: tuple[Run, Frame, Pleating, float],
) -> None:
    run, frame, pleating, apron = kilt
    large_run = Run(run.sett, run.tape[-1] * 2, tuple(2 * x for x in run.tape), run.threads)
    large_frame = replace(
        frame,
        widths={level: 2 * width for level, width in frame.widths.items()},
        **{
            name: 2 * getattr(frame, name)
            for name in ("pleat_side", "over_outer", "under_outer", "facing", "deep_least", "reverse_least")
        },
    )
    small, large = place(run, frame, pleating, apron), place(large_run, large_frame, pleating, apron)
    for part in ("over_centre", "first_strip", "last_strip", "under_centre", "deep_pleat", "used"):
        assert getattr(large, part) == pytest.approx(2 * getattr(small, part), abs=1e-6)
    assert large.strip_threads(pleating) == pytest.approx(small.strip_threads(pleating))


def test_plain_cloth_is_laid_without_a_thread_to_spare() -> None:
    run = Run.uniform(Sett.of_runs([("G", 40)]), 4.0, 11.0, 300.0)
    frame = Frame(dict.fromkeys(LevelName, 20.0), 10.0, 10.5, 10.0, 3.0, 6.0, 4.0)
    pleating = Pleating(Form.KNIFE, Shows.PLAIN, 25, 0.0, (48.0,) * 24, 0.0)
    laid = place(run, frame, pleating, 0.0)
    assert (laid.over_centre, laid.deep_pleat, laid.reverse_pleat) == pytest.approx((13.5, 6.0, 4.0))
    assert laid.used == pytest.approx(3 + 10.5 + 10 + 6 + 0.8 + 24 * 4.8 + 4 + 20 + 3)
