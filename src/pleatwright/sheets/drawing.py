"""One drawing description for every output.

Coordinates and sizes are inches (floats), the origin is the page's top left corner, y runs down.  Text sizes
and line weights are points (1/72 inch), as printers say them.  Nothing is rounded here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Anchor = Literal["start", "middle", "end"]

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


@dataclass(frozen=True)
class Polyline:
    """Straight lines from point to point; `closed` makes it a polygon, which may be filled."""

    points: tuple[tuple[float, float], ...]
    stroke: str | None = INK
    weight: float = 0.6
    closed: bool = False
    fill: str | None = None


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


@dataclass(frozen=True)
class Picture:
    """A PNG stretched into a box given by its top left corner."""

    x: float
    y: float
    width: float
    height: float
    png: bytes


Item = Line | Polyline | Rect | Text | Picture


@dataclass(frozen=True)
class Page:
    """One page; items later in the list lie over earlier ones."""

    width: float
    height: float
    items: tuple[Item, ...]
    title: str


def moved(items: Iterable[Item], dx: float, dy: float) -> tuple[Item, ...]:
    """The items moved by dx to the right and dy down."""
    return tuple(_moved(item, dx, dy) for item in items)


def _moved(item: Item, dx: float, dy: float) -> Item:
    if isinstance(item, Line):
        return replace(item, x1=item.x1 + dx, y1=item.y1 + dy, x2=item.x2 + dx, y2=item.y2 + dy)
    if isinstance(item, Polyline):
        return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))
    return replace(item, x=item.x + dx, y=item.y + dy)


def png_size(png: bytes) -> tuple[int, int]:
    """Width and height of a PNG in pixels. Raises ValueError for other bytes."""
    if png[:8] != b"\x89PNG\r\n\x1a\n" or len(png) < 24:
        raise ValueError("not a PNG")
    return int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")
