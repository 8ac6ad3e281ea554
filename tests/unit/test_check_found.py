"""The found file and the printed form: what is asked and read, every mistake named; nothing given away."""

from __future__ import annotations

import io
import tomllib
from fractions import Fraction
from functools import cache
from pathlib import Path

import pdfplumber
import pytest

from pleatwright.bench import FaultSeen, Kind, judge, questions
from pleatwright.errors import InputError
from pleatwright.layout import Option, make_plan
from pleatwright.order import Job, read_order
from pleatwright.sheets import write_pdf
from pleatwright.sheets.look import BODY, frame_of, stamped
from pleatwright.sheets.pages.check_page import check_sheets
from pleatwright.shop import check_record, found_form, read_found

EXAMPLES = Path(__file__).parents[2] / "examples"

ANSWERS = """
plan = "0000ABCD"
height_left = "23 1/2"
height_middle = 23.5
height_right = "59.7 cm"
rip_stripes = "LB4 B24"
left_apron = "Over-apron"
left_apron_centre = "15 3/4"
left_apron_stripes = "w6, k/14"
far_pleat_centre = "219 15/16"
far_pleat_stripes = "B24 LB"
setts = 34
length = "8 1/2 yd"
fringe = "0"
left_facing = "5"
right_facing = "57"
end_out = 0
lean = 0
above_rip = "5 1/2"
band_beside = "0"
faults = ["44", { at = "108 3/4", height = "5" }]
"""


@cache
def planned(name: str) -> tuple[Job, Option]:
    job = read_order((EXAMPLES / f"{name}.toml").read_text())
    option = make_plan(job.request).chosen
    assert option is not None
    return job, option


def problems(text: str, name: str = "demo") -> list[str]:
    with pytest.raises(InputError) as refused:
        read_found(text, *planned(name))
    return [str(problem) for problem in refused.value.problems]


def plain_cloth() -> tuple[Job, Option]:
    text = (EXAMPLES / "demo.toml").read_text()
    count, rest = text.split("[tartan.colours]")[0], text.split("[shop]")[1]
    head = count.split("[tartan]")[0]
    made = '[tartan]\nname = "plain"\ncount = "G"\n[piece]\nwidth = "29"\nlength = "9 yd"\n[shop]' + rest
    job = read_order(head + made)
    option = make_plan(job.request).chosen
    assert option is not None
    return job, option


def test_every_kind_of_answer_is_read_as_it_is_written():
    job, option = planned("demo")
    entered = read_found(ANSWERS, job, option)
    found = entered.found
    assert found.plan == "0000abcd"
    assert found.lengths["height_left"] == found.lengths["height_middle"] == Fraction(47, 2)
    assert float(found.lengths["height_right"]) == pytest.approx(23.504, abs=1e-3)
    assert found.lengths["length"] == 306
    assert found.counts == {"setts": 34}
    assert found.choices == {"left_apron": "over-apron"}
    assert found.faults == (FaultSeen(Fraction(44)), FaultSeen(Fraction(435, 4), Fraction(5)))
    weft = job.request.tartan.weft
    seen = found.stripes["left_apron_stripes"]
    assert [{(weft.stripes[i].colour, weft.stripes[i].threads) for i in one} for one in seen] == [
        {("W", 6)},
        {("K", 14)},
    ]
    (blue, light) = found.stripes["far_pleat_stripes"]  # the light blue is always of one size
    assert len(blue) == 4
    assert {weft.stripes[i].colour for i in light} == {"LB"}
    assert ("faults", ("44", "108 3/4 at height 5")) in entered.as_written


def test_no_faults_are_written_as_none():
    text = ANSWERS.partition("faults")[0] + 'faults = "None"'
    assert read_found(text, *planned("demo")).found.faults == ()


def test_an_empty_form_names_every_blank_once():
    job, option = planned("demo")
    keys = [blank.key for question in questions(job, option) for blank in question.blanks]
    named = problems(found_form(job, option))
    assert [line.split(": ")[1] for line in named] == keys


@pytest.mark.parametrize(
    "line, wrong, field",
    [
        ('height_left = "23 1/2"', 'height_left = "abc"', "height_left"),
        ('rip_stripes = "LB4 B24"', 'rip_stripes = "LB4"', "rip_stripes"),
        ('rip_stripes = "LB4 B24"', 'rip_stripes = "LB4 K"', "rip_stripes"),  # black is of two sizes
        ('rip_stripes = "LB4 B24"', 'rip_stripes = "R4 B24"', "rip_stripes"),
        ('left_apron = "Over-apron"', 'left_apron = "left"', "left_apron"),
        ("setts = 34", 'setts = "many"', "setts"),
        ("setts = 34", "setts = -1", "setts"),
        ("lean = 0", "lean = true", "lean"),
        ("lean = 0", "lean = -1", "lean"),
        ("lean = 0", "lean = 0\nheigth_left = 3", 'heigth_left: "heigth_left"'),
        ('fringe = "0"', 'fringe = ""', "fringe"),
        ('"44", {', '"44", { on = "3" }, {', "faults, entry 2"),
        ('"44", {', '"x", {', "faults, entry 1"),
    ],
)
def test_one_mistake_is_one_problem_that_names_its_field(line: str, wrong: str, field: str):
    assert line in ANSWERS
    (problem,) = problems(ANSWERS.replace(line, wrong))
    assert problem.startswith(f"found.toml: {field}")


def test_every_mistake_is_named_at_once():
    text = ANSWERS.replace("34", '"many"').replace("LB4 B24", "LB4").replace('fringe = "0"', "")
    assert len(problems(text)) == 3


@pytest.mark.parametrize(
    "written",
    [
        '[override]\nby = "HB"\nfacing-short = "narrow on purpose"',
        '[override]\nby = "HB"\n"check.facing-short" = "narrow on purpose"',
        '[override]\nby = "HB"\ncheck.facing-short = "narrow on purpose"',
    ],
)
def test_an_override_may_be_written_with_its_code_in_full_or_in_short(written: str):
    (override,) = read_found(f"{ANSWERS}\n{written}", *planned("demo")).overrides
    assert (override.code, override.reason, override.by) == (
        "check.facing-short",
        "narrow on purpose",
        "HB",
    )


@pytest.mark.parametrize(
    "written",
    [
        '[override]\nfacing-short = "narrow on purpose"',
        '[override]\nby = "HB"\nfacing-short = " "',
        '[override]\nby = "HB"\nfacing-short = true',
        'override = "go on"',
    ],
)
def test_an_override_without_a_reason_or_initials_is_refused(written: str):
    text = f"{written}\n{ANSWERS}" if written.startswith("override") else f"{ANSWERS}\n{written}"
    (problem,) = problems(text)
    assert "override" in problem


def test_on_joined_cloth_the_pinned_strips_are_answered_all_or_not_at_all():
    job, option = planned("double-width")
    blanks = [blank for question in questions(job, option) for blank in question.blanks]
    pinned = {blank.key for blank in blanks if blank.sewn}
    named = problems(found_form(job, option), "double-width")
    assert {line.split(": ")[1] for line in named} == {b.key for b in blanks} - pinned
    begun = found_form(job, option).replace('second_selvedge = ""', 'second_selvedge = "bottom"')
    named = problems(begun, "double-width")
    assert {line.split(": ")[1] for line in named} == {b.key for b in blanks} - {"second_selvedge"}


def test_the_form_gives_no_expected_value_away():
    for name in ("demo", "double-width", "asymmetric"):
        job, option = planned(name)
        text = found_form(job, option)
        assert job.version not in text
        assert set(tomllib.loads(text).values()) == {""}
        for question in questions(job, option):
            for blank in question.blanks:
                if blank.kind in (Kind.LENGTH, Kind.COUNT, Kind.STRIPES) and len(blank.expected) > 3:
                    assert blank.expected not in text


def test_plain_cloth_is_asked_for_no_stripe_and_no_sett():
    job, option = plain_cloth()
    blanks = [blank for question in questions(job, option) for blank in question.blanks]
    assert not [blank for blank in blanks if blank.kind in (Kind.STRIPES, Kind.COUNT)]
    text = "\n".join(line for line in ANSWERS.splitlines() if "stripes" not in line and "setts" not in line)
    found = read_found(text, job, option).found
    codes = {finding.code for finding in judge(job, option, found)}
    assert "check.tape-off" in codes  # the marks of another cloth
    assert not codes & {"check.sett-out", "check.wrong-stripe"}


def test_stripes_measured_instead_of_counted_are_named_by_width_with_a_comma():
    text = (EXAMPLES / "no-cloth-yet.toml").read_text()
    piece = '[piece]\nwidth = "29"\nlength = "9 yd"\nleft_end = { stripe = "LB 1 1/8", distance = "3" }\n'
    job = read_order(text.replace("[shop]", f"{piece}\n[shop]"))
    option = make_plan(job.request).chosen
    assert option is not None
    answers = ANSWERS.replace("w6, k/14", 'LB 1 1/8", W 1/8').replace("B24 LB", "lb 1/4, V 1 1/4")
    answers = "\n".join(line for line in answers.splitlines() if "rip_stripes" not in line)
    answers = answers.replace('"LB 1 1/8", W 1/8"', "'LB 1 1/8\", W 1/8'")
    seen = read_found(answers, job, option).found.stripes
    weft = job.request.tartan.weft
    assert weft.unit_inches is not None
    widths = [
        {weft.stripes[i].threads * weft.unit_inches for i in one}
        for one in (*seen["left_apron_stripes"], *seen["far_pleat_stripes"])
    ]
    assert widths == [{Fraction(9, 8)}, {Fraction(1, 8)}, {Fraction(1, 4)}, {Fraction(5, 4)}]


def test_the_record_holds_every_entry_beside_what_was_expected():
    job, option = planned("demo")
    right = ANSWERS.replace('B24 LB"', 'B24 K14"')
    text = f'checked_by = "HB"\n{right}\n[override]\nby = "HB"\nold-packet = "only the name was changed"'
    record = check_record(job, option, read_found(text, job, option))
    answers = {answer.key: answer for answer in record.answers}
    assert answers["checked_by"].found == "HB"
    assert answers["plan"].expected == job.version
    assert answers["left_facing"].found == "5"
    assert {answer.key for answer in record.answers} >= {
        blank.key for question in questions(job, option) for blank in question.blanks
    }
    assert record.overrides[0].reason == "only the name was changed"
    assert record.decision == "go"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name, pages", [("demo", 1), ("asymmetric", 1), ("double-width", 2)])
def test_the_printed_form_is_one_page_of_large_type_with_a_line_for_every_blank(
    name: str, pages: int, paper: str
):
    job = read_order((EXAMPLES / f"{name}.toml").read_text(), paper=paper)
    option = make_plan(job.request).chosen
    assert option is not None
    frame = frame_of(job)
    sheets = check_sheets(job, option, frame)
    assert len(sheets) == pages
    made = tuple(stamped(job, frame, sheet.title, sheet.items, i, pages) for i, sheet in enumerate(sheets, 1))
    blanks = [blank for question in questions(job, option) for blank in question.blanks]
    texts, ends, lines = "", float(frame.margin + frame.width) * 72, 0
    with pdfplumber.open(io.BytesIO(write_pdf(made))) as pdf:
        for page in pdf.pages:
            foot = float(page.height) - (frame.margin + 0.25) * 72
            body = [char for char in page.chars if char["top"] < foot]
            assert min(round(char["size"], 3) for char in body) >= BODY
            assert max(char["x1"] for char in body) <= ends + 0.5
            found = page.extract_text()
            texts += " ".join(found.split()) + " "
            assert job.version in found
            assert "GO" in found
            assert "STOP" in found
            rules = [line for line in page.lines if abs(line["x1"] - ends) < 0.5 and line["x0"] > ends / 2]
            lines += len(rules)
            for rule in rules:  # nothing is printed where it is to be written
                over = [
                    c for c in body if rule["x0"] < c["x0"] and rule["top"] - 12 < c["bottom"] < rule["top"]
                ]
                assert not over
    assert lines == sum(blank.kind is not Kind.CHOICE for blank in blanks)
    for blank in blanks:
        if blank.kind in (Kind.LENGTH, Kind.STRIPES) and len(blank.expected) > 3:
            assert blank.expected not in texts
