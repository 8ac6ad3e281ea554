"""A drawing larger than the paper, cut into tiles that overlap, with marks to lay them together by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from string import ascii_uppercase

from pleatwright.lengths import ROUNDING
from pleatwright.sheets.drawing import (
    Circle,
    Item,
    Line,
    Picture,
    Polyline,
    Rect,
    Text,
    Window,
    moved,
)
from pleatwright.sheets.lettering import POINTS, width_of
from pleatwright.sheets.look import ACCENT

OVERLAP = 0.5
ARM = 0.12
"""Half the length of a registration mark's arms, in inches."""


@dataclass(frozen=True)
class Tile:
    """One part of a drawing that fits the paper: its name (A1, A2, below A1 B1), its box in inches."""

    name: str
    x: float
    y: float
    width: float
    height: float


def tiles_of(width: float, height: float, room_width: float, room_height: float) -> tuple[Tile, ...]:
    """Tiles of at most the room, neighbours overlapping by `OVERLAP`, row by row; one where it fits.

    All inches.  Raises ValueError where the room is no wider than twice an overlap.
    """
    columns, rows = _cuts(width, room_width), _cuts(height, room_height)
    return tuple(
        Tile(f"{_letters(down)}{across + 1}", x, y, wide, high)
        for down, (y, high) in enumerate(rows)
        for across, (x, wide) in enumerate(columns)
    )


def _letters(row: int) -> str:
    """A to Z, then AA, AB and on."""
    more, last = divmod(row, len(ascii_uppercase))
    return (_letters(more - 1) if more else "") + ascii_uppercase[last]


def _cuts(long: float, room: float) -> list[tuple[float, float]]:
    """Where tiles begin along one side, and how long each is; all but the last fill the room."""
    if room <= 2 * OVERLAP:
        raise ValueError(f"{room} inches of paper leave no room between overlaps of {OVERLAP}")
    count = max(ceil((long - OVERLAP) / (room - OVERLAP) - ROUNDING), 1)
    starts = [number * (room - OVERLAP) for number in range(count)]
    return [(start, min(room, long - start)) for start in starts]


def registration(tiles: Sequence[Tile], width: float, height: float) -> tuple[Item, ...]:
    """The marks in every overlap, on the drawing: two a joint, near its ends."""
    found: list[Item] = []
    for places in sorted(set(_places(tiles, width, height))):
        found += _mark(*places)
    return tuple(found)


def _places(tiles: Sequence[Tile], width: float, height: float) -> Iterator[tuple[float, float]]:
    inset = ARM + 0.04
    for tile in tiles:
        right, bottom = tile.x + tile.width, tile.y + tile.height
        if right < width - ROUNDING:
            yield right - OVERLAP / 2, tile.y + inset
            yield right - OVERLAP / 2, bottom - inset
        if bottom < height - ROUNDING:
            yield tile.x + inset, bottom - OVERLAP / 2
            yield right - inset, bottom - OVERLAP / 2


def _mark(x: float, y: float) -> tuple[Item, ...]:
    return (
        Circle(x, y, ARM / 2, ACCENT, 0.5),
        Line(x - ARM, y, x + ARM, y, ACCENT, 0.5),
        Line(x, y - ARM, x, y + ARM, ACCENT, 0.5),
    )


def window(items: Sequence[Item], tile: Tile) -> Window:
    """What of a drawing lies within one tile, moved so that the tile begins at (0, 0)."""
    kept = tuple(item for item in items if _touches(item, tile))
    return Window(0.0, 0.0, tile.width, tile.height, moved(kept, -tile.x, -tile.y))


def _touches(item: Item, tile: Tile) -> bool:
    left, top, right, bottom = bounds(item)
    return (
        left <= tile.x + tile.width and right >= tile.x and top <= tile.y + tile.height and bottom >= tile.y
    )


def bounds(item: Item) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of an item, in inches; of letters a little generous."""
    match item:
        case Line():
            return min(item.x1, item.x2), min(item.y1, item.y2), max(item.x1, item.x2), max(item.y1, item.y2)
        case Polyline():
            xs, ys = [x for x, _ in item.points], [y for _, y in item.points]
            return min(xs), min(ys), max(xs), max(ys)
        case Circle():
            return item.x - item.radius, item.y - item.radius, item.x + item.radius, item.y + item.radius
        case Text():
            wide = width_of(item.text, item.size, bold=item.bold)
            left = item.x - {"start": 0.0, "middle": wide / 2, "end": wide}[item.anchor]
            return left, item.y - item.size / POINTS, left + wide, item.y + item.size / POINTS / 4
        case Rect() | Picture() | Window():
            return item.x, item.y, item.x + item.width, item.y + item.height
