"""Closing, care and alter as a maker runs them; pages opened again with an independent reader."""

from __future__ import annotations

from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from tests.whole.commands import run

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "examples/demo.toml"
LET_OUT = ROOT / "examples/kilts/let-out.toml"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("closing")
    left = folder / "left.toml"
    text = DEMO.read_text(encoding="utf-8").replace('opens_on = "right"', 'opens_on = "left"')
    left.write_text(text + '\n[settings.closing]\nstraps = 3\nunder_strap = "inside"\n')
    made = {}
    for name, arguments in {
        "closing": ("closing", DEMO),
        "again": ("closing", DEMO),
        "left": ("closing", left, "--units", "metric", "--paper", "Letter"),
        "box": ("closing", ROOT / "examples/box-four-yards.toml"),
        "care": ("care", DEMO),
        "alter": ("alter", "--kilt", LET_OUT, "--waist", "39", "--hips", "43 1/2"),
    }.items():
        made[name] = folder / f"{name}.pdf"
        done = run(*arguments, "--out", made[name])
        assert (done.returncode, done.stderr) == (0, "")
    return made


@cache
def pages(path: Path) -> list[tuple[list[dict[str, Any]], float, float]]:
    with pdfplumber.open(path) as pdf:
        return [
            (page.extract_words(keep_blank_chars=True), float(page.width), float(page.height))
            for page in pdf.pages
        ]


def text_of(path: Path) -> str:
    return "\n".join(word["text"] for words, _, _ in pages(path) for word in words)


@pytest.mark.parametrize("name", ["closing", "left", "box", "care", "alter"])
def test_nothing_runs_off_the_page_or_over_other_words(written: dict[str, Path], name: str):
    for words, width, height in pages(written[name]):
        assert all(word["x0"] > 0 and word["x1"] < width for word in words)
        assert all(word["top"] > 0 and word["bottom"] < height for word in words)
        for one, other in combinations(words, 2):
            wide = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            tall = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            assert not (wide > 1 and tall > 5), (one["text"], other["text"])


def test_the_same_order_gives_the_same_bytes(written: dict[str, Path]):
    assert written["closing"].read_bytes() == written["again"].read_bytes()


def test_the_closing_pages_carry_straps_folds_and_measures(written: dict[str, Path]):
    text = text_of(written["closing"])
    for words in ("left hip", "right hip", "cut stops", "Last measures", "fits waist", "1 to 26"):
        assert words in text


def test_metric_pages_write_millimetres_and_no_inches(written: dict[str, Path]):
    text = text_of(written["left"])
    assert "177 mm" in text
    assert '"' not in text.replace("fits waist", "")
    assert "strap hole" not in text.casefold()


def test_the_inside_is_mirrored_for_a_kilt_that_opens_on_the_left(written: dict[str, Path]):
    def places(name: str) -> dict[str, float]:
        words, _, _ = pages(written[name])[0]
        wanted = ("over-apron", "under-apron", "left hip", "right hip")
        return {word["text"]: word["x0"] for word in reversed(words) if word["text"] in wanted}

    right, left = places("closing"), places("left")
    assert right["under-apron"] < right["over-apron"]
    assert left["over-apron"] < left["under-apron"]
    assert right["left hip"] < right["right hip"]
    assert left["left hip"] < left["right hip"]


def test_the_care_card_names_shop_and_client_and_minds_flames(written: dict[str, Path]):
    text = text_of(written["care"])
    for words in ("Harebell Lane Kilts", "Wilfred Ashgrove", "naked flames", "hole 3", "cut here"):
        assert words in text


def test_the_screen_shows_what_the_pages_do():
    done = run("closing", DEMO)
    assert done.returncode == 0
    assert "3 (chosen)" in done.stdout
    assert "stitches in the fell" in done.stdout


def test_a_kilt_file_is_written_once_and_altered(tmp_path: Path):
    kilt = tmp_path / "kilt.toml"
    assert run("alter", "--new", kilt).returncode == 0
    again = run("alter", "--new", kilt)
    assert (again.returncode, "is there already" in again.stderr) == (2, True)
    done = run("alter", "--kilt", kilt, "--waist", "36 1/2")
    assert done.returncode == 0
    assert "hole 4" in done.stdout


def test_a_kilt_that_must_be_remade_exits_with_one():
    done = run("alter", LET_OUT.parent.parent / "demo.toml", "--waist", "46")
    assert done.returncode == 1
    assert done.stdout.startswith("It must be remade")


def test_bad_arguments_are_all_named_at_once():
    done = run("alter", "--kilt", LET_OUT, "--waist", "4O", "--hips", "x")
    assert done.returncode == 2
    assert "--waist" in done.stderr
    assert "--hips" in done.stderr
    assert run("alter").returncode == 2
    assert run("alter", DEMO).returncode == 2
