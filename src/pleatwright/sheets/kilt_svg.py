"""The kilt's polygons as a page, to be written as SVG at true size."""

from __future__ import annotations

from collections.abc import Sequence

from pleatwright.picture import PAPER, Patch
from pleatwright.sheets.drawing import Item, Page, Polyline, Rect

MARGIN = 0.5
SEAM = 0.15
"""Points by which every polygon reaches over its neighbours, so that no light line shows between them."""


def kilt_page(patches: Sequence[Patch], title: str) -> Page:
    """The patches on a page as large as they are and a margin; `title` says what is seen."""
    points = [point for patch in patches for point in patch.points]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    wide, high = right - left + 2 * MARGIN, bottom - top + 2 * MARGIN
    items: list[Item] = [Rect(0.0, 0.0, wide, high, fill=_hex(PAPER))]
    for patch in patches:
        shape = tuple((x - left + MARGIN, y - top + MARGIN) for x, y in patch.points)
        colour = _hex(patch.rgb)
        stroke = colour if patch.opacity == 1.0 else None
        items.append(Polyline(shape, stroke, SEAM, True, colour, opacity=patch.opacity))
    return Page(wide, high, tuple(items), title)


def _hex(rgb: tuple[int, int, int]) -> str:
    return "#" + "".join(f"{part:02X}" for part in rgb)
