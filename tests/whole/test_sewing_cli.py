"""The sewing log as a maker keeps it: begun, measured, asked about, put right, printed."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pdfplumber
import pytest

from pleatwright.order import read_order
from tests.whole.commands import run

DEMO = Path(__file__).parents[2] / "examples/demo.toml"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An order beside its log: begun, and measured after four pleats."""
    order = Path(shutil.copy(DEMO, tmp_path_factory.mktemp("bench") / "demo.toml"))
    started = run("sewing", "start", order, "--by", "HB", "--on", "2031-05-04")
    assert (started.returncode, started.stderr) == (0, "")
    assert "27 pleats to be sewn, from the over-apron, from left to right" in started.stdout
    measured = run("sewing", "width", order, "--after", 4, "--hip", "3 1/8", "--strap", "2 13/16")
    assert (measured.returncode, measured.stderr) == (0, "")
    assert '3/16" wide' in measured.stdout
    return order


@pytest.fixture
def order(begun: Path, tmp_path: Path) -> Path:
    """The same, to go on with."""
    shutil.copy(begun.with_name("demo-sewing.jsonl"), tmp_path)
    return Path(shutil.copy(begun, tmp_path))


def log_of(order: Path) -> Path:
    return order.with_name("demo-sewing.jsonl")


def test_a_measurement_tells_where_things_stand_and_what_to_sew_next(order: Path) -> None:
    before = log_of(order).read_bytes()
    done = run("sewing", "width", order, "--after", "9", "--hip", "17.4 cm", "--strap", "6 1/4")
    assert (done.returncode, done.stderr) == (0, "")
    text = done.stdout
    assert 'Entry 3: pleats 1 to 9: 6 7/8" ("17.4 cm") at the hip line, 6 1/4" at the strap line.' in text
    assert "9 of 27 pleats sewn" in text
    assert '1/16" narrower at the strap line' in text
    assert "straps then read" in text
    assert log_of(order).read_bytes().startswith(before)


def test_a_slip_is_asked_about_kept_only_when_sure_and_can_be_put_right(order: Path) -> None:
    before = log_of(order).read_bytes()
    swapped = ("width", order, "--after", 9, "--hip", "6", "--strap", "6 7/8")
    asked = run("sewing", *swapped)
    assert asked.returncode == 2
    assert "did you write strap and hip the other way round?" in asked.stderr
    assert "--sure" in asked.stderr
    assert log_of(order).read_bytes() == before
    assert run("sewing", *swapped, "--sure").returncode == 0
    right = run("sewing", "correct", order, 3, "--hip", "6 7/8", "--strap", "6", "--reason", "swapped")
    assert (right.returncode, right.stderr) == (0, "")
    assert "entry 3 put right" in right.stdout
    undone = run("sewing", "undo", order)
    assert "entry 4 undone" in undone.stdout
    shown = run("sewing", "show", order, "--all").stdout
    assert "(undone) entry 3 put right" in shown
    assert "kept as sure" in shown


def test_undo_goes_back_entry_by_entry_and_an_undoing_is_undone_by_its_number(order: Path) -> None:
    assert run("sewing", "width", order, "--after", 9, "--hip", "6 7/8", "--strap", "6").returncode == 0
    last = run("sewing", "undo", order).stdout
    assert "Entry 4: entry 3 undone." in last
    assert f"To let entry 3 count again: pleatwright sewing undo {order} 4" in last
    assert "Entry 5: entry 2 undone." in run("sewing", "undo", order).stdout
    nothing = run("sewing", "undo", order)
    assert (nothing.returncode, "nothing after the beginning of the log counts" in nothing.stderr) == (
        2,
        True,
    )
    assert f"sewing undo {order} 5" in run("sewing", "undo", order, 2).stderr.replace("\n", " ")
    back = run("sewing", "undo", order, 5).stdout
    assert "4 of 27 pleats sewn" in back
    assert "Entry 6: entry 5 undone." in back


def test_the_page_carries_the_plan_of_log_and_packet(order: Path, tmp_path: Path) -> None:
    plan = json.loads(log_of(order).read_text().splitlines()[0])["plan"]
    job = read_order(order.read_text(encoding="utf-8"), source="demo.toml")
    assert plan == job.version
    out = tmp_path / "standing.pdf"
    for text in (order.read_text(), order.read_text().replace('waist = "35 1/2"', 'waist = "36 1/2"')):
        order.write_text(text)  # as begun, and as changed since: the figures are still the log's
        shown = run("sewing", "show", order, "--out", out)
        assert (shown.returncode, "order has changed" in shown.stdout) == (0, '"36 1/2"' in text)
        with pdfplumber.open(out) as pdf:
            assert all(f"plan {plan}" in str(page.extract_text()) for page in pdf.pages)


def test_one_pleat_a_stretch_and_both_ways_of_saying_it_wrong(order: Path) -> None:
    assert (
        "Entry 3: pleats 4 to 6: "
        in run("sewing", "width", order, "--from", 6, "--to", 4, "--hip", "2 1/4").stdout
    )
    for wrong, field in (
        (("--after", 9, "--pleat", 7, "--hip", "6"), "must be said in one way"),
        (("--from", 4, "--hip", "6"), "must be said in one way"),
        (("--pleat", 28, "--hip", "6"), "numbered 1 to 27"),
        (("--pleat", 7), "nothing is given"),
        (("--pleat", 7, "--hip", "wide"), '--hip: "wide" is not a length'),
        (("--pleat", 7, "--hip", "3/4", "--on", "May"), '--on: "May" is not a day'),
    ):
        done = run("sewing", "width", order, *wrong)
        assert done.returncode == 2
        assert field in done.stderr


def test_a_fitting_a_stage_and_a_note_are_kept_and_printed_on_one_page(order: Path, tmp_path: Path) -> None:
    fitted = run("sewing", "fitting", order, "--waist", "tight 1/2", "--front", "long 1/4")
    assert (fitted.returncode, fitted.stderr) == (0, "")
    assert 'both aprons 1/4"' in fitted.stdout
    assert run("sewing", "stage", order, "Basted").returncode == 0
    assert "write one of pinned, sewn" in run("sewing", "stage", order, "ironed").stderr
    assert run("sewing", "note", order, "finer  thread").returncode == 0
    out = tmp_path / "standing.pdf"
    shown = run("sewing", "show", order, "--out", out)
    assert (shown.returncode, shown.stderr) == (0, "")
    with pdfplumber.open(out) as pdf:
        words = [str(page.extract_text()) for page in pdf.pages]
    assert words[0].startswith("Sewing log")
    assert "4 of 27 pleats sewn" in words[0]
    whole = "\n".join(words)
    for told in ("tight at the waist", "– Finer thread", "– Done: basted", "HL-101"):
        assert told in whole
    first = out.read_bytes()
    assert run("sewing", "show", order, "--out", out).returncode == 0
    assert out.read_bytes() == first


def test_a_changed_order_leaves_the_logs_figures_and_says_which_differ(order: Path) -> None:
    order.write_text(order.read_text().replace('waist = "35 1/2"', 'waist = "36 1/2"'))
    shown = run("sewing", "show", order)
    assert shown.returncode == 0
    assert "sewing.plan-changed" in shown.stdout
    assert 'of 17 3/4"' in shown.stdout


def test_a_torn_line_is_said_and_gone_on_from_and_damage_is_not(order: Path) -> None:
    whole = log_of(order).read_bytes()
    log_of(order).write_bytes(whole[:-40])
    shown = run("sewing", "show", order)
    assert shown.returncode == 0
    assert "was cut off in the writing" in shown.stdout
    again = run("sewing", "width", order, "--after", 4, "--hip", "3 1/8", "--strap", "2 13/16")
    assert again.returncode == 0
    assert "4 of 27 pleats sewn" in run("sewing", "show", order).stdout
    log_of(order).write_bytes(whole.replace(b'"kind"', b'"kinds"', 1))
    damaged = run("sewing", "show", order)
    assert damaged.returncode == 2
    assert "demo-sewing.jsonl, line 1" in damaged.stderr


def test_there_is_one_log_for_an_order_unless_another_is_named(order: Path, tmp_path: Path) -> None:
    again = run("sewing", "start", order)
    assert (again.returncode, "holds a log already" in again.stderr) == (2, True)
    other = tmp_path / "second.jsonl"
    missing = run("sewing", "width", order, "--log", other, "--after", 4, "--hip", "3")
    assert (missing.returncode, "holds no log yet" in missing.stderr) == (2, True)
    mirrored = run("sewing", "start", order, "--log", other, "--begin", "last", "--units", "metric")
    assert "from the under-apron, from right to left" in mirrored.stdout
    after = run("sewing", "width", order, "--log", other, "--after", 24, "--hip", "7.8", "--strap", "67 mm")
    assert "Entry 2: pleats 24 to 27: 78 mm" in after.stdout
    assert (
        "was it read in inches?"
        in run("sewing", "width", order, "--log", other, "--after", 20, "--hip", "6").stderr
    )
