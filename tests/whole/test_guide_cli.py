"""guide and card as a maker runs them: a PDF where it was asked for, and what is refused."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

from pypdf import PdfReader

from tests.whole.commands import run

ROOT = Path(__file__).parents[2]


def test_guide_writes_the_guide_of_the_chosen_option(tmp_path: Path) -> None:
    out = tmp_path / "guide.pdf"
    done = run("guide", ROOT / "examples/demo.toml", "--option", 6, "--paper", "Letter", "--out", out)
    assert done.returncode == 0, done.stderr
    assert "guide.pdf" in done.stdout
    pages = PdfReader(io.BytesIO(out.read_bytes())).pages
    assert (float(pages[0].mediabox.width), float(pages[0].mediabox.height)) == (612, 792)
    assert "centre box and 24 knife pleats" in pages[0].extract_text()


def test_card_lies_beside_the_order_and_begins_where_it_is_told(tmp_path: Path) -> None:
    order = tmp_path / "demo.toml"
    shutil.copy(ROOT / "examples/demo.toml", order)
    done = run("card", order, "--begin", "last")
    assert done.returncode == 0, done.stderr
    text = PdfReader(tmp_path / "demo-card.pdf").pages[0].extract_text()
    assert "pleats 27 to 12 of 27" in text


def test_an_option_that_is_not_there_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    out = tmp_path / "guide.pdf"
    done = run("guide", ROOT / "examples/demo.toml", "--option", 99, "--out", out)
    assert done.returncode == 2
    assert "--option: 99" in done.stderr
    assert not out.exists()
