"""One drawing description for every output.

Coordinates and sizes are inches (floats), the origin is the page's top left corner, y runs down.  Text sizes
and line weights are points (1/72 inch), as printers say them.  Nothing is rounded here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Literal

Anchor = Literal["start", "middle", "end"]


class Layer(StrEnum):
    """What becomes of a line on a cutting machine; on paper it only says what the line is."""

    CUT = "cut"
    ENGRAVE = "engrave"
    NOTE = "note"


INK = "#1F2328"


@dataclass(frozen=True)
class Line:
    """A straight line; `dash` alternates drawn and left out, in points."""

    x1: float
    y1: float
    x2: float
    y2: float
    stroke: str = INK
    weight: float = 0.6
    dash: tuple[float, ...] = ()
    layer: Layer = Layer.NOTE


@dataclass(frozen=True)
class Polyline:
    """Straight lines from point to point; `closed` makes it a polygon, which may be filled.

    `opacity`: of the filling, 0 to 1.
    """

    points: tuple[tuple[float, float], ...]
    stroke: str | None = INK
    weight: float = 0.6
    closed: bool = False
    fill: str | None = None
    layer: Layer = Layer.NOTE
    opacity: float = 1.0


@dataclass(frozen=True)
class Rect:
    """A rectangle from its top left corner."""

    x: float
    y: float
    width: float
    height: float
    stroke: str | None = None
    weight: float = 0.6
    fill: str | None = None
    layer: Layer = Layer.NOTE


@dataclass(frozen=True)
class Circle:
    """A circle about its centre."""

    x: float
    y: float
    radius: float
    stroke: str | None = INK
    weight: float = 0.6
    fill: str | None = None
    layer: Layer = Layer.NOTE


@dataclass(frozen=True)
class Text:
    """One line of text on its baseline; `anchor` says which of its ends lies at x."""

    x: float
    y: float
    text: str
    size: float
    anchor: Anchor = "start"
    bold: bool = False
    fill: str = INK
    layer: Layer = Layer.NOTE


@dataclass(frozen=True)
class Picture:
    """A PNG stretched into a box given by its top left corner."""

    x: float
    y: float
    width: float
    height: float
    png: bytes


@dataclass(frozen=True)
class Window:
    """Part of a drawing: what of `items` lies within the box; they are placed on the page, not in the box."""

    x: float
    y: float
    width: float
    height: float
    items: tuple[Item, ...]


Item = Line | Polyline | Rect | Circle | Text | Picture | Window


@dataclass(frozen=True)
class Page:
    """One page; items later in the list lie over earlier ones."""

    width: float
    height: float
    items: tuple[Item, ...]
    title: str


def moved(items: Iterable[Item], dx: float, dy: float) -> tuple[Item, ...]:
    """The items moved by dx to the right and dy down."""
    if not dx and not dy:
        return tuple(items)
    return tuple([_moved(item, dx, dy) for item in items])


def _moved(item: Item, dx: float, dy: float) -> Item:
    """Written out field by field: `replace` is three times slower, and pages move ten thousands of items."""
    match item:
        case Line(x1, y1, x2, y2, stroke, weight, dash, layer):
            return Line(x1 + dx, y1 + dy, x2 + dx, y2 + dy, stroke, weight, dash, layer)
        case Text(x, y, text, size, anchor, bold, fill, layer):
            return Text(x + dx, y + dy, text, size, anchor, bold, fill, layer)
        case Rect(x, y, width, height, stroke, weight, fill, layer):
            return Rect(x + dx, y + dy, width, height, stroke, weight, fill, layer)
        case Polyline(points, stroke, weight, closed, fill, layer, opacity):
            points = tuple([(x + dx, y + dy) for x, y in points])
            return Polyline(points, stroke, weight, closed, fill, layer, opacity)
        case Window():
            return replace(item, x=item.x + dx, y=item.y + dy, items=moved(item.items, dx, dy))
        case Circle() | Picture():
            return replace(item, x=item.x + dx, y=item.y + dy)


def png_size(png: bytes) -> tuple[int, int]:
    """Width and height of a PNG in pixels. Raises ValueError for other bytes."""
    if png[:8] != b"\x89PNG\r\n\x1a\n" or len(png) < 24:
        raise ValueError("not a PNG")
    return int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")
