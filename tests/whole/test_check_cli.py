"""The check as a maker runs it: a form to fill in, go or stop, exit codes, a record that only grows."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.whole.commands import run
from tests.whole.marked import MARKED_RIGHT

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples/demo.toml"

RIGHT = {"checked_by": "HB", **MARKED_RIGHT}


@pytest.fixture(scope="module")
def version() -> str:
    done = run("plan", DEMO, "--json", "-")
    return str(json.loads(done.stdout)["plan_version"])


def write(path: Path, answers: dict[str, str], more: str = "") -> Path:
    path.write_text("\n".join(f'{key} = "{value}"' for key, value in answers.items()) + f"\n{more}")
    return path


def test_a_form_is_written_once_and_filled_in_it_says_go(tmp_path: Path, version: str):
    form = tmp_path / "found.toml"
    assert run("check", DEMO, "--form", form).returncode == 0
    again = run("check", DEMO, "--form", form)
    assert (again.returncode, "is there already" in again.stderr) == (2, True)
    text = form.read_text()
    assert version not in text
    for key, value in {**RIGHT, "plan": version}.items():
        assert f'{key} = ""' in text
        text = text.replace(f'{key} = ""', f'{key} = "{value}"')
    form.write_text(text)
    done = run("check", DEMO, form)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1].startswith("GO")


def test_a_stop_exits_with_one_says_what_to_do_and_is_kept(tmp_path: Path, version: str):
    found = write(tmp_path / "found.toml", {**RIGHT, "plan": version, "left_facing": "1"})
    done = run("check", DEMO, found)
    assert done.returncode == 1
    assert "check.facing-short" in done.stdout
    assert done.stdout.splitlines()[-1].startswith("STOP")
    (line,) = (tmp_path / "checks.jsonl").read_text().splitlines()
    record = json.loads(line)
    assert record["decision"] == "stop"
    assert record["plan_version"] == version
    assert [finding["code"] for finding in record["findings"]] == ["check.facing-short"]
    assert {"key": "left_facing", "found": "1", "expected": '5 1/16"'} in record["answers"]


def test_an_override_goes_into_the_record_with_its_reason_and_the_record_only_grows(
    tmp_path: Path, version: str
):
    answers = {**RIGHT, "plan": version, "left_facing": "1"}
    record = tmp_path / "kept" / "checks.jsonl"
    stopped = run("check", DEMO, write(tmp_path / "a.toml", answers), "--record", record)
    first = record.read_text()
    override = '[override]\nby = "HB"\nfacing-short = "the client wants it narrow"\nskew = "steamed"\n'
    taken = run("check", DEMO, write(tmp_path / "b.toml", answers, override), "--record", record)
    assert (stopped.returncode, taken.returncode) == (1, 0)
    assert "GO" in taken.stdout.splitlines()[-1]
    assert "check.facing-short taken on by HB: the client wants it narrow" in taken.stdout
    assert "check.skew not needed by HB" in taken.stdout
    assert record.read_text().startswith(first)
    second = json.loads(record.read_text().splitlines()[1])
    assert second["decision"] == "go"
    assert second["findings"][0]["severity"] == "stop"
    assert second["overrides"][0] == {
        "code": "check.facing-short",
        "reason": "the client wants it narrow",
        "by": "HB",
    }


def test_unusable_input_exits_with_two_names_every_mistake_and_keeps_no_record(tmp_path: Path, version: str):
    answers = {**RIGHT, "plan": version, "length": "long", "setts": "few"}
    del answers["lean"]
    done = run("check", DEMO, write(tmp_path / "found.toml", answers, "[override]\nskew = 'steamed'\n"))
    assert done.returncode == 2
    for field in ("length", "setts", "lean", "override.by"):
        assert f"found.toml: {field}: " in done.stderr
    assert not (tmp_path / "checks.jsonl").exists()


@pytest.mark.parametrize("order", ["no-cloth-yet", None])
def test_without_cloth_or_without_what_was_found_there_is_nothing_to_check(order: str | None, tmp_path: Path):
    found = write(tmp_path / "found.toml", RIGHT)
    done = run("check", DEMO) if order is None else run("check", ROOT / f"examples/{order}.toml", found)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1


def test_a_packet_made_with_other_options_is_another_plan(tmp_path: Path, version: str):
    found = write(tmp_path / "found.toml", {**RIGHT, "plan": version})
    done = run("check", DEMO, found, "--units", "metric")
    assert done.returncode == 1
    assert "check.old-packet" in done.stdout
