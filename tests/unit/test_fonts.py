"""The fonts in the package can draw what the sheets print; the PDF's own fonts cannot."""

from __future__ import annotations

from importlib.resources import as_file, files

import pytest
from reportlab.pdfbase.ttfonts import TTFontFile

PRINTED = "½¼¾⅛⅜⅝⅞⅓⅔″′×–—→←↑↓±≈≤≥°"


@pytest.mark.parametrize("name", ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"])
def test_the_packaged_fonts_hold_every_sign_a_sheet_prints(name: str) -> None:
    with as_file(files("pleatwright").joinpath("fonts", name)) as path:
        glyphs = TTFontFile(str(path)).charToGlyph
    assert [sign for sign in PRINTED if ord(sign) not in glyphs] == []


def test_the_fonts_travel_with_their_licence() -> None:
    licence = files("pleatwright").joinpath("fonts", "DejaVu-LICENSE.txt").read_text(encoding="utf-8")
    assert "Bitstream" in licence
    assert "Arev" in licence
