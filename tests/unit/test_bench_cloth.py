"""What the cloth has to say about the chosen kilt, and the page that shows the piece as measured."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from pleatwright.bench import cloth_findings, marks, nominal_error
from pleatwright.cloth import Fault, Run
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Plan, make_plan
from pleatwright.order import Job, read_order
from pleatwright.sheets import Page, Text, packet_pages

EXAMPLE = Path(__file__).parents[2] / "examples" / "measured-piece.toml"
TITLE = "The piece as measured"


@cache
def made(opens_on: str = "right") -> tuple[Job, Plan]:
    text = EXAMPLE.read_text(encoding="utf-8")
    text = text.replace("[tartan]", f'[kilt]\nopens_on = "{opens_on}"\n[tartan]', 1)
    job = read_order(text, styles=("knife to the sett",))
    return job, make_plan(job.request)


def found(job: Job, plan: Plan) -> dict[str, Finding]:
    return {one.code: one for one in cloth_findings(job, plan)}


def texts(pages: tuple[Page, ...]) -> str:
    return " ".join(
        item.text for page in pages if page.title == TITLE for item in page.items if isinstance(item, Text)
    )


@pytest.mark.parametrize("opens_on", ["right", "left"])
def test_marks_follow_the_readings_where_one_size_of_sett_would_have_gone_astray(opens_on: str) -> None:
    job, plan = made(opens_on)
    option, request = plan.options[0], job.request
    assert option.cloth is not None
    run = option.cloth.run(request.tartan.weft)
    for strip in option.strips:
        assert run.tape_at(strip.thread) == pytest.approx(strip.centre, abs=1e-6)
    size, n = float(request.sett_along), request.tartan.weft.n
    start = run.thread_at(0.0)
    places = [(strip.thread, strip.centre) for strip in option.strips]
    places += [(apron.thread, apron.centre) for apron in (option.over_apron, option.under_apron)]
    reckoned = [abs((thread - start) * size / n - centre) for thread, centre in places]
    assert nominal_error(option, run, size) == pytest.approx(max(reckoned))
    assert found(job, plan)["cloth.drift-avoided"].severity is Severity.NOTE


def test_on_cloth_of_the_stated_size_no_drift_is_avoided() -> None:
    job, plan = made()
    option, request = plan.options[0], job.request
    even = Run.uniform(request.tartan.weft, 6.5, 30.0, 315.0)
    assert nominal_error(option, even, 6.5) == pytest.approx(0.0, abs=1e-9)
    assert nominal_error(option, even, 6.6) > 1


def test_a_fault_in_the_top_band_is_said_and_one_beside_it_is_not() -> None:
    job, plan = made()
    piece = job.request.piece
    assert piece is not None
    ends = [mark.tape for mark in marks(plan.options[0], job.request) if mark.group == "top band"]
    total = job.sizes.total
    inside = Fault("stain", Fraction(int(ends[0]) + 3), Fraction(int(ends[0]) + 4), total + 1, total + 2)
    beside = replace(inside, start=Fraction(int(max(ends)) + 2), end=Fraction(int(max(ends)) + 3))
    above = replace(inside, low=total + 3, high=total + 4)
    for fault, said in ((inside, True), (beside, False), (above, False), (replace(inside, strip=2), False)):
        changed = replace(job, request=replace(job.request, piece=replace(piece, faults=(fault,))))
        assert ("cloth.band-fault" in found(changed, plan)) is said
    for high, room, do in (
        (total + 2, 6, "above the selvedge up, beside the fault."),
        (total + 2, 4, "Cut it where the same stripe comes again"),
        (None, 6, "Cut it where the same stripe comes again"),  # the fault goes right up
    ):
        cloth = replace(piece, width=total + room, faults=(replace(inside, high=high),))
        changed = replace(job, request=replace(job.request, piece=cloth))
        assert do in found(changed, plan)["cloth.band-fault"].do


def test_a_band_that_runs_off_the_cloth_is_said() -> None:
    job, plan = made()
    piece = job.request.piece
    assert piece is not None
    assert "cloth.band-runs-off" not in found(job, plan)
    short = replace(job, request=replace(job.request, piece=replace(piece, length=Fraction(40))))
    assert "cloth.band-runs-off" in found(short, plan)


def test_the_page_shows_arrival_faults_drift_and_every_reading() -> None:
    job, plan = made()
    pages = packet_pages(job, plan)
    text = texts(pages)
    assert [page.title for page in pages].index(TITLE) > [page.title for page in pages].index("The job")
    for part in (
        "open fringe",
        "knot",
        "tied with red thread",
        "How the sett wanders",
        "stated size is 6 1/2",
    ):
        assert part in text
    assert "measure again: two digits changed round" in text
    assert len(job.taped[0].checks) == 16
    for check in job.taped[0].checks:
        assert f" {check.number} {check.repeat} " in text


def test_a_piece_that_was_neither_read_nor_looked_over_has_no_page() -> None:
    job, plan = made()
    piece = job.request.piece
    assert piece is not None
    bare = replace(piece, readings=(), faults=(), arrival=None)
    unread = replace(job, taped=(), request=replace(job.request, piece=bare))
    assert TITLE not in {page.title for page in packet_pages(unread, plan)}


def test_the_cloth_has_its_own_place_on_the_job_page_and_what_stops_stands_first() -> None:
    job, plan = made()
    stop = Finding("cloth.skew", Severity.STOP, "a weft stripe leans", "less than that", "Straighten it.")
    stopped = replace(job, cloth_findings=(*job.cloth_findings, stop))
    words = [
        item.text
        for page in packet_pages(stopped, plan)
        if page.title == "The job"
        for item in page.items
        if isinstance(item, Text)
    ]
    assert words.index("Do not rip") < words.index("As measured") < words.index("The cloth")
    assert any(word.startswith("A weft stripe leans") for word in words)
