"""What a wish costs, as a maker asks for it at the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

import pleatwright.cli.commands
from pleatwright.cli.app import app
from pleatwright.cli.terminal import errors, screen
from pleatwright.errors import InputError

DEMO = str(Path(__file__).parents[2] / "examples/demo.toml")


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal wide enough for one line a row."""
    for console in (screen, errors):
        monkeypatch.setattr(console, "_width", 220)


def lines(*arguments: str) -> list[str]:
    done = CliRunner().invoke(app, ["what-if", *arguments])
    assert done.exit_code == 0, done.output or done.exception
    return done.output.splitlines()


def test_each_wish_has_its_row_and_its_sentence() -> None:
    said = lines(DEMO, "--pleats", "29", "--share", "0.55")
    assert [row.split("  ")[0] for row in said[1:5]] == [
        "as ordered",
        "with 29 pleats",
        "with 55% of the round in the apron",
        "with all of it",
    ]
    sentences = [line for line in said if line.startswith("With ")]
    assert len(sentences) == 3
    assert all("29 knife pleats" in one for one in (sentences[0], sentences[2]))
    assert "less cloth" in sentences[1]


def test_without_a_wish_the_few_worth_comparing_are_shown() -> None:
    said = lines(DEMO)
    start = next(at for at, line in enumerate(said) if line.startswith("Worth comparing"))
    few = said[start + 2 :]
    assert 1 < len(few) <= 6
    assert few[0].startswith("27 knife pleats to the sett")
    assert any("least cloth" in line for line in few)
    assert not any(line.startswith("With ") for line in said)


def test_a_style_is_a_wish_too_and_lengths_are_in_the_orders_units() -> None:
    said = lines(DEMO, "--style", "box to the stripe", "--units", "metric")
    assert 'With the style "box pleat, to the stripe": 9 box pleats' in "\n".join(said)
    assert " m " in said[1]
    assert '"' not in said[1]


def test_a_wish_that_leaves_no_kilt_says_why() -> None:
    said = lines(DEMO, "--pleats", "90")
    assert "With 90 pleats no kilt is left." in said
    assert any("plan.no-pleats" in line for line in said)
    assert not any(line.startswith("Worth comparing") for line in said)


def test_a_mistake_names_the_option_it_is_in() -> None:
    done = CliRunner().invoke(app, ["what-if", DEMO, "--reveal", "3", "--stripe", "Q5"])
    assert isinstance(done.exception, InputError)
    assert {problem.field for problem in done.exception.problems} == {"--reveal", "--stripe"}
    assert "what_if" in pleatwright.cli.commands.__all__
