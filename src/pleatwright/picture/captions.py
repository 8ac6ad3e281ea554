"""Words and rings on a picture, in pixels: the packaged letters, captions, pictures on one sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO
from typing import TYPE_CHECKING

from pleatwright.picture.view import PAPER

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

Colour = tuple[int, int, int]

INK, GREY, ACCENT, WHITE = (0x1F, 0x23, 0x28), (0x5C, 0x65, 0x70), (0x1F, 0x5F, 0x5B), (0xFF, 0xFF, 0xFF)
LEADING = 1.3
"""From one line of text to the next, in text sizes."""
FINER = 4
"""Round edges are drawn so many times larger and made small again."""


@cache
def _letters(bold: bool) -> bytes:
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return files("pleatwright").joinpath("fonts", name).read_bytes()


@lru_cache(maxsize=16)
def font(size: int, *, bold: bool = False) -> FreeTypeFont:
    """The packaged letters, `size` pixels high."""
    from PIL import ImageFont

    return ImageFont.truetype(BytesIO(_letters(bold)), size)


def wrapped(text: str, width: float, size: int, *, bold: bool = False) -> tuple[str, ...]:
    """The text broken at spaces into lines at most `width` pixels wide; a longer word stands alone."""
    letters = font(size, bold=bold)
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and letters.getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def write(
    on: ImageDraw,
    x: float,
    y: float,
    lines: Sequence[str],
    size: int,
    *,
    bold: bool = False,
    fill: Colour = INK,
) -> float:
    """Lines of text from their top left corner down; returns where the next one would begin."""
    for line in lines:
        on.text((x, y), line, fill=fill, font=font(size, bold=bold))
        y += size * LEADING
    return y


@dataclass(frozen=True)
class Captioned:
    """A picture and what is said below it: a bold line, a number before it if given, and smaller lines."""

    image: Image
    heading: str
    lines: tuple[str, ...] = ()
    number: int | None = None


def column_width(columns: int, width_px: int, size: int) -> int:
    """How wide a picture may be, in pixels, on a sheet of so many columns."""
    return (width_px - _gap(size) * (columns + 1)) // columns


def sheet_of(cells: Sequence[Captioned], columns: int, width_px: int, size: int) -> Image:
    """Pictures with their captions in rows, every column as wide as the others.

    `size`: of the letters, in pixels.  A picture narrower than its column stands in the column's middle.
    """
    from PIL import Image

    gap, wide = _gap(size), column_width(columns, width_px, size)
    drawn = [_drawn(cell, wide, size) for cell in cells]
    rows = [drawn[at : at + columns] for at in range(0, len(drawn), columns)]
    highs = [max(cell.height for cell in row) for row in rows]
    sheet = Image.new("RGB", (width_px, sum(highs) + gap * (len(rows) + 1)), PAPER)
    y = gap
    for row, high in zip(rows, highs, strict=True):
        for column, cell in enumerate(row):
            sheet.paste(cell, (gap + column * (wide + gap), y))
        y += high + gap
    return sheet


def _gap(size: int) -> int:
    return round(size * 1.2)


def _drawn(cell: Captioned, wide: int, size: int) -> Image:
    """One picture with its caption below."""
    from PIL import Image, ImageDraw

    indent = 0 if cell.number is None else round(size * 2.2)
    heading = wrapped(cell.heading, wide - indent, size, bold=True)
    lines = [line for text in cell.lines for line in wrapped(text, wide - indent, size)]
    high = round((len(heading) + len(lines) + 0.7) * size * LEADING)
    drawn = Image.new("RGB", (wide, cell.image.height + high), PAPER)
    drawn.paste(cell.image, ((wide - cell.image.width) // 2, 0))
    on = ImageDraw.Draw(drawn)
    top = cell.image.height + size * 0.4
    if cell.number is not None:
        badge(drawn, size * 0.9, top + size * 0.6, cell.number, size)
    below = write(on, indent, top, heading, size, bold=True)
    write(on, indent, below, lines, size, fill=GREY)
    return drawn


def badge(image: Image, x: float, y: float, number: int, size: int, fill: Colour = ACCENT) -> None:
    """A number, white in a coloured round, its middle at x, y."""
    from PIL import ImageDraw

    ring(image, x, y, size * 0.85, fill, filled=True)
    on = ImageDraw.Draw(image)
    on.text((x, y), str(number), fill=WHITE, font=font(size, bold=True), anchor="mm")


def ring(
    image: Image,
    x: float,
    y: float,
    radius: float,
    colour: Colour,
    *,
    line: float = 0.0,
    filled: bool = False,
) -> None:
    """A ring about x, y, its `line` so many pixels wide, or a filled round; smooth at its edges."""
    from PIL import Image, ImageDraw

    half = int(radius + line) + 2
    left, top = round(x) - half, round(y) - half
    mask = Image.new("L", (2 * half * FINER, 2 * half * FINER))
    middle = (x - left) * FINER, (y - top) * FINER
    outer, inner = (radius + line / 2) * FINER, (radius - line / 2) * FINER
    on = ImageDraw.Draw(mask)
    for far, fill in ((outer, 255),) if filled else ((outer, 255), (inner, 0)):
        box = (middle[0] - far, middle[1] - far, middle[0] + far - 1, middle[1] + far - 1)
        on.ellipse(box, fill=fill)  # the library counts the last pixel in
    small = mask.resize((2 * half, 2 * half), Image.Resampling.BOX)
    image.paste(Image.new("RGB", small.size, colour), (left, top), small)
