"""The sewing log: what its entries mean together, its questions, fittings, and what can give."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from pleatwright.bench.sewing import (
    Corrected,
    Entry,
    Fitted,
    Measured,
    Noted,
    SewingLog,
    SewingWords,
    Stage,
    Staged,
    Target,
    Undone,
    aims,
    begun,
    changed_findings,
    doubt_about,
    hand_of,
    standing,
    telling,
)
from pleatwright.findings import Severity
from pleatwright.layout import Option, make_plan
from pleatwright.lengths import MILLIMETRE, parse_length
from pleatwright.order import Job, read_order
from pleatwright.sheets.drawing import Circle, Page, Text
from pleatwright.sheets.flow import numbered
from pleatwright.sheets.look import frame_of
from pleatwright.sheets.pages.sewing_page import sewing_sheets
from pleatwright.trade import default_settings

SEWING = default_settings().sewing
DEMO = Path(__file__).parents[2] / "examples/demo.toml"


@cache
def planned() -> tuple[Job, Option]:
    job = read_order(DEMO.read_text(encoding="utf-8"), source="demo.toml")
    return job, make_plan(job.request).options[0]


def new_log(**changes: object) -> SewingLog:
    """A log of the demo order in which nothing is sewn yet."""
    started = begun(*planned(), "first")
    return SewingLog((replace(started, **changes),))  # type: ignore[arg-type]  # any field, for brevity


def adding(log: SewingLog, *entries: Entry) -> SewingLog:
    for entry in entries:
        log = log.adding(telling(log, entry, SEWING))
    return log


def after(log: SewingLog, pleats: int, hip_off: int, strap_off: int) -> Measured:
    """The tape after so many pleats, so many sixteenths over what was told."""
    told = log.told()
    return Measured(
        1,
        pleats,
        sum(told.hip[:pleats], Fraction(hip_off, 16)),
        sum(told.strap[:pleats], Fraction(strap_off, 16)),
    )


def measured(log: SewingLog, *offs: tuple[int, int, int]) -> SewingLog:
    for off in offs:
        log = adding(log, after(log, *off))
    return log


def fitted(log: SewingLog, **found: str) -> Fitted:
    offs = [Fraction(found.get(where, "0")) for where in ("waist", "hips", "front", "side", "back")]
    waist, hips, front, side, back = offs
    return Fitted(waist, hips, front, side, back, left=len(log.started.told.hip) - log.done())


def targets(log: SewingLog) -> tuple[Target, Target]:
    return aims(log, hand_of(log, SEWING))


def words_of(log: SewingLog) -> SewingWords:
    return SewingWords(log, hand_of(log, SEWING))


def test_what_is_told_follows_every_measurement_and_keeps_what_was_sewn() -> None:
    log = measured(new_log(), (4, 2, 3))
    first = log.told()
    log = measured(log, (9, 4, 6))
    assert log.told().hip[:9] == first.hip[:9]
    assert log.told().strap[9:] != first.strap[9:]
    now = standing(log, SEWING)
    assert (now.hip.sizes, now.strap.sizes) == (log.told().hip, log.told().strap)
    assert [pleat.pleat for pleat in now.ahead] == list(range(10, 28))
    assert now.ahead[-1].strap_then == pytest.approx(now.strap.forecast, abs=0.03)


def test_an_undone_measurement_leaves_no_trace_and_its_undoing_brings_it_back() -> None:
    before = measured(new_log(), (4, 2, 3))
    after_it = measured(before, (9, 4, 6))
    undone = adding(after_it, Undone(3))
    assert (undone.told(), undone.sewn(), undone.done()) == (before.told(), before.sewn(), 4)
    again = adding(undone, Undone(4))
    assert (again.told(), again.sewn()) == (after_it.told(), after_it.sewn())
    assert len(again.entries) == 5


def test_a_correction_takes_the_place_of_what_was_written_and_leaves_the_other_level() -> None:
    log = measured(new_log(), (4, 2, 3), (9, 30, 6))
    right = sum(log.told().hip[:9]) + Fraction(1, 16)
    put = adding(log, Corrected(3, right, None, reason="read from the wrong end"))
    ((_, first), (_, second)) = put.readings()
    wrong = log.readings()[1][1]
    assert (second.hip, second.strap) == (right, wrong.strap)
    assert first == log.readings()[0][1]
    assert put.told().hip[:9] == log.told().hip[:9]
    assert sum(put.told().hip) > sum(log.told().hip)
    assert adding(put, Undone(4)).sewn() == log.sewn()


def test_a_level_that_was_not_measured_counts_its_pleats_as_sewn() -> None:
    log = measured(new_log(), (4, 2, 3))
    told = log.told()
    log = adding(log, Measured(1, 9, sum(told.hip[:9], Fraction(1, 4)), None))
    assert log.told().strap[:9] == told.strap[:9]
    now = standing(log, SEWING)
    assert (now.strap.done, now.strap.read) == (9, None)
    assert words_of(log).figures(now.strap)[0].startswith("about ")


def test_sewing_from_the_last_pleat_numbers_pleats_from_the_over_apron_all_the_same() -> None:
    log = new_log(begin="last")
    told = log.told()
    log = adding(log, Measured(20, 27, sum(told.hip[19:], Fraction(0)), sum(told.strap[19:], Fraction(3, 8))))
    now = standing(log, SEWING)
    assert (log.done(), [pleat.pleat for pleat in now.ahead][:3]) == (8, [19, 18, 17])
    assert log.told().strap[19:] == told.strap[19:]
    assert sum(log.told().strap) < sum(told.strap)
    assert words_of(log).where(now) == (
        "8 of 27 pleats sewn, from the under-apron, from right to left (outside up, top edge away)."
    )
    left = new_log(begin="last", opens_on="left")
    assert "from the under-apron, from left to right" in words_of(left).where(standing(left, SEWING))


@pytest.mark.parametrize(
    "entry, complaint",
    [
        (Measured(20, 28, Fraction(6), None), "no pleats 20 to 28 among 27"),
        (Corrected(2, Fraction(6), None), "entry 2 is no measurement"),
        (Corrected(9, Fraction(6), None), "entry 9 is no measurement"),
        (Undone(1), "entry 1 cannot be undone"),
        (Undone(3), "entry 3 cannot be undone"),
    ],
)
def test_an_entry_that_leans_on_nothing_is_refused(entry: Entry, complaint: str) -> None:
    log = adding(new_log(), Noted("finer thread"))
    with pytest.raises(ValueError, match=complaint):
        log.adding(entry)
    with pytest.raises(ValueError, match="begins with the entry that sewing began"):
        SewingLog((Noted("finer thread"),))


def test_with_the_least_change_followed_little_is_told_anew() -> None:
    spread, least = (measured(new_log(follow=follow), (9, 1, 6)) for follow in ("spread", "least"))
    planned_sizes = new_log().told().strap
    narrower = [sum(planned_sizes) - sum(log.told().strap) for log in (spread, least)]
    now = standing(least, SEWING)
    assert now.strap.change is not None
    assert now.strap.change.pleats == tuple(
        number
        for number, (a, b) in enumerate(zip(least.told().strap, planned_sizes, strict=True), 1)
        if a != b
    )
    assert narrower[1] == len(now.strap.change.pleats) * Fraction(1, 16) <= narrower[0]
    assert abs(now.strap.miss) <= 1 / 16


def test_what_is_told_stays_when_the_shops_settings_change_until_it_is_measured_again() -> None:
    log = measured(new_log(), (4, 2, 3))
    steady = replace(SEWING, bias=Fraction(1, 256))
    now = standing(log, steady)
    assert (now.hip.sizes, now.strap.sizes) == (log.told().hip, log.told().strap)
    assert abs(now.strap.miss) > 1 / 32


# ---- questions


@pytest.mark.parametrize(
    "hip, strap, asked",
    [
        ("6 1/16", "6 7/8", "did you write strap and hip the other way round?"),
        ("17.4", "15.2", "was it read in centimetres?"),
        ("17.4", "6", "was it read in centimetres?"),
        ("7 9/16", "6 5/8", "was a pleat more under the tape?"),
        ("7 7/8", "6", 'was the tape misread by 1" at the hip line?'),
    ],
)
def test_a_slip_of_the_pen_is_asked_about(hip: str, strap: str, asked: str) -> None:
    log = measured(new_log(), (4, 1, 1), (8, 2, 2))
    entry = Measured(1, 9, parse_length(hip), parse_length(strap))
    doubt = doubt_about(log, entry, SEWING)
    assert doubt is not None
    assert asked in doubt.guesses
    assert "instead of about" in doubt.said


def test_a_heavy_hand_is_not_asked_about() -> None:
    # twice the usual bias and scatter, every pleat: no slip
    log = new_log()
    for pleats in (4, 8, 12, 16, 20, 24):
        entry = after(log, pleats, pleats // 2, -pleats // 2)
        assert doubt_about(log, entry, SEWING) is None
        log = adding(log, entry)


# ---- what cannot be met, and what gives


def test_a_miss_is_said_while_there_is_still_something_to_sew_with_every_way_out() -> None:
    log = measured(new_log(), (4, 3, 3), (12, 8, 8), (20, 8, 22))
    now = standing(log, SEWING)
    (warning,) = [finding for finding in now.findings if finding.code == "sewing.will-miss"]
    assert warning.severity is Severity.WARN
    assert "strap line" in warning.seen
    assert {give.what for give in now.gives} == {"a pleat fewer", "apron edges", "ease", "unpick"}
    fewer = next(give.words for give in now.gives if give.what == "a pleat fewer")
    assert fewer.startswith("a pleat fewer: the 7 left become 6, each")
    assert "at the hip line" in fewer
    assert "at the strap line" in fewer
    unpick = next(give.words for give in now.gives if give.what == "unpick")
    assert unpick.startswith("unpick the last")


def test_a_kilt_too_narrow_asks_for_a_pleat_more_and_for_let_out() -> None:
    log = measured(new_log(), (4, -3, -3), (12, -8, -8), (20, -20, -22))
    now = standing(log, SEWING)
    ways = {give.what: give.words for give in now.gives}
    assert {"a pleat more", "apron edges", "deep pleat", "ease", "unpick"} == set(ways)
    assert "folded in there" in ways["apron edges"]
    assert "too little" in ways["ease"]


def test_once_folds_are_cut_out_nothing_is_unpicked() -> None:
    log = measured(new_log(), (12, 8, 8), (27, 12, 14))
    ways = {give.what for give in standing(log, SEWING).gives}
    cut = {give.what for give in standing(adding(log, Staged(Stage.CUT_OUT)), SEWING).gives}
    assert "unpick" in ways
    assert cut == {"apron edges", "ease"}


def test_good_work_is_left_in_peace() -> None:
    log = measured(new_log(), (9, 1, 0), (18, 0, 1), (27, 1, 0))
    now = standing(log, SEWING)
    assert [finding for finding in now.findings if finding.code != "sewing.new-gauge"] == []
    assert (now.gives, now.ahead) == ((), ())
    assert words_of(log).changes(now) == ""


def test_sizes_the_gauges_do_not_have_are_named() -> None:
    now = standing(measured(new_log(), (9, 8, 8)), SEWING)
    (note,) = [finding for finding in now.findings if finding.code == "sewing.new-gauge"]
    assert '9/16"' in note.seen


# ---- fittings


def test_a_tight_waist_goes_to_the_pleats_left_and_to_the_aprons() -> None:
    log = measured(new_log(), (9, 0, 0))
    fit = adding(log, fitted(log, waist="1/2"))
    (_, was), (hip, strap) = targets(log), targets(fit)
    assert strap.total - was.total == Fraction(1, 4)  # half of the round is pleats
    assert hip.total == targets(log)[0].total
    assert sum(fit.told().strap) > sum(log.told().strap)
    (finding,) = [one for one in standing(fit, SEWING).findings if one.code == "sewing.fit-girth"]
    assert '1/4" of it at the strap line, both aprons 1/4"' in finding.expected
    assert adding(fit, Undone(3)).told() == log.told()


def test_with_nothing_left_to_sew_the_aprons_take_it_all_or_the_straps() -> None:
    log = measured(new_log(), (27, 0, 0))
    fit = adding(log, fitted(log, waist="-1/2"))
    assert targets(fit) == targets(log)
    (finding,) = [one for one in standing(fit, SEWING).findings if one.code == "sewing.fit-girth"]
    assert 'both aprons take 1/2" at the strap line' in finding.expected
    assert "Mark both aprons" in finding.do
    assert "1 hole further in" in finding.do


def aprons_told(log: SewingLog, level: str) -> list[str]:
    """Everything one page says of the aprons' edges at a level."""
    now = standing(log, SEWING)
    said = [*(finding.do for finding in now.findings), *(give.words for give in now.gives)]
    return [words for words in said if "both aprons" in words and f"at the {level}" in words]


def test_a_fitting_replaces_what_the_tape_gave_cause_for_at_its_level() -> None:
    log = measured(new_log(), (27, 7, 6))
    assert "narrower" in aprons_told(log, "strap line")[0]
    fit = adding(log, fitted(log, waist="1/2"))
    (told,) = aprons_told(fit, "strap line")
    assert 'both aprons 1/2" wider at the strap line, 1/4" at either edge' in told
    strap = standing(fit, SEWING).strap
    assert strap.target == strap.planned + Fraction(6, 16)
    assert strap.miss == pytest.approx(0, abs=1 / 100)
    (told,) = aprons_told(fit, "hip line")  # of which the fitting said nothing
    assert 'both aprons 7/16" narrower at the hip line' in told
    assert aprons_told(adding(fit, Undone(3)), "strap line") == aprons_told(log, "strap line")
    page = [item.text for one in page_of(fit) for item in one.items if isinstance(item, Text)]
    assert 'strap line is to end 3/8" wider than planned' in " ".join(page)


def test_pleats_measured_after_a_fitting_are_counted_in_its_one_figure() -> None:
    log = measured(new_log(), (27, 7, 6))
    fit = adding(log, fitted(log, waist="1/2"))
    again = adding(fit, *[replace(after(fit, 27, 7, 0), sure=True)] * 6)  # sewn again, on the plan
    (told,) = aprons_told(again, "strap line")
    was = standing(again, SEWING).strap
    assert was.miss < -SEWING.off_good
    aprons = hand_of(again, SEWING).off(0.5 - was.miss)
    assert f"both aprons {aprons} wider at the strap line" in told


def test_a_later_fitting_replaces_an_earlier_one_and_one_that_fits_ends_the_matter() -> None:
    log = measured(new_log(), (27, 7, 6))
    fit = adding(log, fitted(log, waist="1/2"))
    (told,) = aprons_told(adding(fit, fitted(fit, waist="-1/4")), "strap line")
    assert 'both aprons 1/4" narrower at the strap line' in told
    right = standing(adding(fit, fitted(fit)), SEWING)
    assert [one for one in right.findings if one.code.startswith(("sewing.fit", "sewing.missed"))] == []
    assert right.gives == ()


def test_undone_one_by_one_the_entries_that_count_grow_fewer() -> None:
    log = measured(new_log(), (4, 2, 3), (9, 4, 6))
    assert log.counting() == (2, 3)
    log = adding(log, Corrected(3, Fraction(27, 4), None))
    assert log.counting() == (2, 3, 4)
    assert adding(log, Undone(3)).counting() == (2,)  # a correction leans on its measurement
    log = adding(log, Undone(4), Undone(3), Undone(2))
    assert log.counting() == ()
    assert [log.undone_by(number) for number in (2, 3, 4)] == [7, 6, 5]
    assert adding(log, Undone(7)).counting() == (2,)


@pytest.mark.parametrize(
    "found, stages, advice",
    [
        ({"front": "1/4"}, (), 'mark the strap line 1/4" lower there'),
        ({"front": "1/4", "side": "1/4", "back": "1/4"}, (), 'mark the strap line 1/4" lower all round'),
        ({"front": "1/4"}, (Stage.BAND,), 'move the straps 1/4" down'),
        ({"front": "-1/4"}, (), "There is no hem for it: mark the strap line"),
        ({"back": "-3"}, (), "ask whether the client wears it lower"),
    ],
)
def test_a_kilt_too_long_or_too_short_is_told_what_to_do(
    found: dict[str, str], stages: tuple[Stage, ...], advice: str
) -> None:
    log = adding(new_log(), *map(Staged, stages))
    log = adding(log, fitted(log, **found))
    (finding,) = [one for one in standing(log, SEWING).findings if one.code == "sewing.fit-length"]
    assert advice in finding.do


def test_a_hem_is_let_down_first() -> None:
    log = new_log()
    log = new_log(kilt=replace(log.started.kilt, hem=Fraction(3)))
    log = adding(log, fitted(log, front="-1"))
    (finding,) = [one for one in standing(log, SEWING).findings if one.code == "sewing.fit-length"]
    assert finding.do == 'Let the hem down by 1"; 2" of it is left.'


# ---- another plan


def test_a_log_keeps_its_own_figures_and_names_those_another_plan_would_change() -> None:
    job, option = planned()
    log = new_log()
    hand = hand_of(log, SEWING)
    assert changed_findings(log, (option,), job.request, hand) == ()
    wider = read_order(DEMO.read_text().replace('waist = "35 1/2"', 'waist = "36 1/2"'), source="demo.toml")
    (found,) = changed_findings(log, (option,), wider.request, hand)
    assert 'strap line 18 1/4" instead of 17 3/4"' in found.seen
    assert targets(log)[1].total == Fraction(71, 4)
    (gone,) = changed_findings(log, (replace(option, title="26 knife pleats"),), job.request, hand)
    assert "has no kilt" in gone.seen


# ---- words and pages


def test_every_entry_reads_as_one_line() -> None:
    log = measured(new_log(), (4, 0, 0))
    more = (
        Corrected(2, Fraction(25, 8), None, "7.94 cm", "", "misread"),
        Staged(Stage.BASTED),
        fitted(log, waist="1/2", front="-1/4"),
        Noted("finer thread"),
        Undone(6),
    )
    log = adding(log, *more)
    words = words_of(log)
    assert [words.entry(entry) for entry in log.entries[1:]] == [
        'pleats 1 to 4: 3" at the hip line, 2 5/8" at the strap line',
        'entry 2 put right, 3 1/8" ("7.94 cm") at the hip line: misread',
        "done: basted",
        'fitting: tight 1/2" at the waist, short 1/4" at the front',
        "note: finer thread",
        "entry 6 undone",
    ]
    assert words.entry(log.started).startswith("sewing began: 27 knife pleats")
    assert words.notes() == ("done: basted",)


def test_a_metric_log_is_told_in_whole_millimetres() -> None:
    text = DEMO.read_text(encoding="utf-8")
    job = read_order(text, source="demo.toml", units="metric")
    log = SewingLog((begun(job, make_plan(job.request).options[0], "first"),))
    told = log.told()
    log = adding(log, Measured(1, 9, sum(told.hip[:9], 5 * MILLIMETRE), sum(told.strap[:9], -3 * MILLIMETRE)))
    assert all((size / MILLIMETRE).denominator == 1 for size in log.told().hip)
    shown = words_of(log).figures(standing(log, SEWING).hip)
    assert shown[1] == "5 mm wide"
    assert shown[2] == "4 mm wide ± 2 mm"


def page_of(log: SewingLog) -> tuple[Page, ...]:
    job, _ = planned()
    frame = frame_of(job)
    return numbered(job, frame, sewing_sheets(job, log, frame))


def test_the_page_shows_every_reading_and_every_pleat_still_to_be_sewn() -> None:
    log = measured(new_log(), (4, 1, 1), (9, 6, 6))
    (page,) = page_of(log)
    texts = [item.text for item in page.items if isinstance(item, Text)]
    assert (
        "9 of 27 pleats sewn, from the over-apron, from left to right (outside up, top edge away)." in texts
    )
    for number in range(10, 28):
        assert str(number) in texts
    marks = [item for item in page.items if isinstance(item, Circle)]
    assert len(marks) == 4  # the key, two readings, the end
    assert all(0 <= mark.x <= page.width for mark in marks)
    one, two = sorted(marks, key=lambda mark: mark.x)[:2]
    assert two.y < one.y  # wider is higher


def test_before_the_first_pleat_the_page_is_a_form_for_the_bench() -> None:
    (page,) = page_of(new_log())
    texts = [item.text for item in page.items if isinstance(item, Text)]
    assert any(text.startswith("27 pleats to be sewn") for text in texts)
    assert "To be sewn" in texts
    assert "sewn" not in texts
