"""The sewing log's file: a crash at any byte loses one entry at most, two writers never mix their lines."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from pleatwright.bench.sewing import Entry, Measured, Noted, SewingLog, Undone, begun, telling
from pleatwright.errors import InputError
from pleatwright.layout import make_plan
from pleatwright.order import read_order
from pleatwright.shop.lines import append_line
from pleatwright.shop.sewing_record import KeptLog, append_entry, log_beside, read_log
from pleatwright.trade import default_settings

SEWING = default_settings().sewing
DEMO = Path(__file__).parents[2] / "examples/demo.toml"


@cache
def entries() -> tuple[Entry, ...]:
    """A short log: begun, measured, a note with letters of several bytes, undone."""
    job = read_order(DEMO.read_text(encoding="utf-8"), source="demo.toml")
    log = SewingLog((begun(job, make_plan(job.request).options[0], "first", by="HB"),))
    told = log.told()
    for entry in (
        Measured(1, 4, sum(told.hip[:4], told.hip[0]), None, "3 3/4", sure=True),
        Noted("à l’essayage: ½ – ¾"),
        Undone(2),
    ):
        log = log.adding(telling(log, entry, SEWING))
    return log.entries


def written(path: Path, *kept: Entry) -> Path:
    for entry in kept:
        append_entry(path, entry, read_log(path))
    return path


def test_what_was_written_is_read_again(tmp_path: Path) -> None:
    path = written(tmp_path / "kept" / "a.jsonl", *entries())
    assert read_log(path) == KeptLog(SewingLog(entries()))
    assert len(path.read_bytes().split(b"\n")) == len(entries()) + 1
    assert read_log(tmp_path / "none.jsonl") == KeptLog(None)
    assert log_beside(Path("orders/HL-101.toml")) == Path("orders/HL-101-sewing.jsonl")


@pytest.mark.parametrize("last", [0, 1, 2, 3])
def test_a_crash_at_any_byte_loses_only_the_entry_that_was_being_written(
    tmp_path: Path, last: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.fsync", lambda _: None)  # quicker; whether it is called has its own test
    whole = written(tmp_path / "whole.jsonl", *entries()[: last + 1]).read_bytes()
    before = whole[: whole[:-1].rfind(b"\n") + 1]
    more = Noted("written afterwards")
    path = tmp_path / "torn.jsonl"
    for cut in range(len(before), len(whole)):
        path.write_bytes(whole[:cut])
        kept = read_log(path)
        complete = cut == len(whole) - 1  # only the line's end is missing: the entry itself is whole
        expected = entries()[: last + 1 if complete else last]
        assert (kept.log.entries if kept.log else ()) == expected
        assert kept.torn == (b"" if complete else whole[len(before) : cut])
        then = more if expected else entries()[0]
        append_entry(path, then, kept)
        again = read_log(path)
        assert again == KeptLog(SewingLog((*expected, then)))
        assert path.read_bytes().startswith(whole[:cut])


def test_a_second_crash_while_going_on_after_the_first_is_as_harmless(tmp_path: Path) -> None:
    path = written(tmp_path / "a.jsonl", *entries())
    first = path.read_bytes()[:-20]
    path.write_bytes(first)
    append_entry(path, Noted("second"), read_log(path))
    second = path.read_bytes()
    for cut in range(len(first), len(second)):
        path.write_bytes(second[:cut])
        kept = read_log(path)
        assert kept.log is not None
        survived = entries()[:-1] if cut < len(second) - 1 else (*entries()[:-1], Noted("second"))
        assert kept.log.entries == survived
        append_entry(path, Noted("third"), kept)
        assert read_log(path) == KeptLog(SewingLog((*survived, Noted("third"))))


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_other_damage_is_named_with_its_line(tmp_path: Path, number: int) -> None:
    path = written(tmp_path / "a.jsonl", *entries())
    lines = path.read_bytes().split(b"\n")
    lines[number - 1] = b"#" + lines[number - 1][1:]
    path.write_bytes(b"\n".join(lines))
    with pytest.raises(InputError, match=rf"a\.jsonl, line {number}: .*mend that line, or put back a copy"):
        read_log(path)


def test_a_line_that_lost_its_tail_in_the_middle_of_a_log_is_no_torn_write(tmp_path: Path) -> None:
    path = written(tmp_path / "a.jsonl", *entries())
    lines = path.read_bytes().split(b"\n")
    lines[1] = lines[1][:-30]
    path.write_bytes(b"\n".join(lines))
    with pytest.raises(InputError, match=r"line 2.*it is cut off"):
        read_log(path)


@pytest.mark.parametrize(
    "old, new, reason",
    [
        ('"kind": "measured"', '"kind": "measure"', "does not say which entry"),
        ('"first": 1', '"first": "1"', "measured.first is '1'"),
        ('"hip": "3 3/4"', '"hip": "long"', 'length: "long" is not a length'),
        ('"last": 4, ', "", "measured has no last"),
        ('"last": 4, ', '"last": 4, "lost": 1, ', "measured knows no lost"),
        ('"format_version": 1', '"format_version": 2', "version 1"),
        ('"last": 4, ', '"last": 40, ', "no pleats 1 to 40 among 27"),
        ('"begin": "first"', '"begin": "middle"', "started.begin"),
    ],
)
def test_an_entry_that_was_meddled_with_is_refused(tmp_path: Path, old: str, new: str, reason: str) -> None:
    path = written(tmp_path / "a.jsonl", *entries()[:3])
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(InputError, match=reason):
        read_log(path)


def test_lengths_are_kept_exactly_and_told_sizes_for_every_pleat(tmp_path: Path) -> None:
    path = written(tmp_path / "a.jsonl", *entries())
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    assert lines[0]["format"] == "pleatwright sewing log"
    assert (lines[1]["hip"], lines[1]["hip_written"], lines[1]["strap"]) == ("3 3/4", "3 3/4", None)
    assert len(lines[1]["told"]["strap"]) == 27
    assert lines[2]["words"] == "à l’essayage: ½ – ¾"


WRITER = """
import sys
from pathlib import Path
from pleatwright.bench.sewing import Noted
from pleatwright.shop.sewing_record import KeptLog, append_entry

for number in range(60):
    append_entry(Path(sys.argv[1]), Noted(f"{sys.argv[2]} {number} " + "x" * 3000), KeptLog(None))
"""


def test_two_writers_at_once_never_mix_their_lines(tmp_path: Path) -> None:
    path = written(tmp_path / "a.jsonl", entries()[0])
    names = ("left", "right")
    writers = [subprocess.Popen([sys.executable, "-c", WRITER, str(path), name]) for name in names]
    assert [writer.wait(60) for writer in writers] == [0, 0]
    log = read_log(path).log
    assert log is not None
    notes = [entry.words.split() for entry in log.entries if isinstance(entry, Noted)]
    for name in names:
        assert [words[1] for words in notes if words[0] == name] == [str(number) for number in range(60)]


def test_a_line_has_reached_the_disk_before_the_maker_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = list[int]()
    monkeypatch.setattr("os.fsync", lambda handle: synced.append(os.fstat(handle).st_size))
    path = written(tmp_path / "a.jsonl", *entries()[:2])
    assert len(synced) == 2
    assert synced[-1] == path.stat().st_size


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"cannot be written.*name another file with --log"):
        append_entry(tmp_path, Noted("a folder"), KeptLog(None))
    with pytest.raises(InputError, match="cannot be read"):
        read_log(tmp_path)
    with pytest.raises(InputError, match="--record"):
        append_line(tmp_path, "{}", option="--record")


def test_a_started_line_may_be_changed_by_nothing_but_a_new_log(tmp_path: Path) -> None:
    path = written(tmp_path / "a.jsonl", *entries()[:2])
    started = entries()[0]
    append_entry(path, replace(started, by="someone else"), read_log(path))
    with pytest.raises(InputError, match=r"a\.jsonl: the log contradicts itself \(.*sewing began already"):
        read_log(path)
