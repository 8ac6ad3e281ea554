"""The risk before sewing as a maker asks for it; the page about sewing, its commands run as they stand."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

import pleatwright.cli.commands
from pleatwright.cli.app import app

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/sewing.md").read_text(encoding="utf-8")
COMMANDS = tuple(
    tuple(shlex.split(line, comments=True)[1:])
    for line in PAGE.split("```")[1].splitlines()
    if line.startswith("pleatwright ")
)


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with an order in it, to work in."""
    (tmp_path / "order.toml").write_bytes((ROOT / "examples/demo.toml").read_bytes())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str) -> str:
    done = CliRunner().invoke(app, arguments)
    assert done.exit_code == 0, done.output or done.exception
    return " ".join(done.output.split())


def test_the_risk_of_an_order_in_words_and_by_how_often_it_is_measured(bench: Path) -> None:
    said = run("risk", "order.toml", "--every", "6")
    assert '58 in 100 such kilts end more than 1/4"' in said
    assert "Measured every 6 pleats" in said
    assert "never 27 22 5 18" in said
    assert not list(bench.glob("*.jsonl"))


def test_every_command_on_the_page_runs_as_it_stands(bench: Path) -> None:
    assert len(COMMANDS) > 8
    assert "sewing" in pleatwright.cli.commands.__all__
    for command in COMMANDS:
        run(*command)
    log = (bench / "order-sewing.jsonl").read_text(encoding="utf-8").splitlines()
    assert len(log) == sum(command[0] == "sewing" and command[1] != "show" for command in COMMANDS)
    assert (bench / "standing.pdf").read_bytes().startswith(b"%PDF")
