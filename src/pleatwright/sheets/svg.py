"""One page as an SVG at true size: the drawing's inches become millimetres, and nothing is rounded."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from html import escape
from itertools import count

from pleatwright.sheets.drawing import (
    Circle,
    Item,
    Layer,
    Line,
    Page,
    Picture,
    Polyline,
    Rect,
    Text,
    Window,
)
from pleatwright.sheets.lettering import POINTS, clean

MM = 25.4
"""Millimetres in an inch."""

FAMILY = "'DejaVu Sans', Verdana, Arial, sans-serif"
"""The packaged letters where they are installed, else the widest of the usual ones."""

LAYERS = (Layer.NOTE, Layer.ENGRAVE, Layer.CUT)
"""From the bottom to the top."""


def write_svg(page: Page) -> str:
    """The page as SVG text, in millimetres; lines of one layer are one group, named as the layer.

    Within a layer later items lie over earlier ones.  Letters stay letters, in the packaged font's family.
    The same page gives the same text.
    """
    wide, high = _mm(page.width), _mm(page.height)
    numbers = count(1)
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}">',
        f"<title>{_said(page.title)}</title>",
    ]
    for layer in LAYERS:
        items = [item for item in page.items if _layer(item) is layer]
        if items:
            drawn = (line for item in items for line in _drawn(item, numbers))
            parts += [f'<g id="{layer}">', *drawn, "</g>"]
    return "\n".join([*parts, "</svg>"]) + "\n"


def _layer(item: Item) -> Layer:
    return Layer.NOTE if isinstance(item, Picture | Window) else item.layer


def _mm(inches: float) -> str:
    """Inches as millimetres with every digit that a number here carries."""
    return f"{inches * MM:.12g}"


def _point(points: float) -> str:
    """Points (1/72 inch) as millimetres."""
    return _mm(points / POINTS)


def _said(text: str) -> str:
    return escape(clean(text))


def _look(stroke: str | None, weight: float, fill: str | None, dash: tuple[float, ...] = ()) -> str:
    look = f'fill="{fill or "none"}"'
    if stroke is not None:
        look += f' stroke="{stroke}" stroke-width="{_point(weight)}"'
    if dash:
        look += f' stroke-dasharray="{" ".join(_point(part) for part in dash)}"'
    return look


def _box(item: Rect | Picture | Window) -> str:
    return f'x="{_mm(item.x)}" y="{_mm(item.y)}" width="{_mm(item.width)}" height="{_mm(item.height)}"'


def _drawn(item: Item, numbers: Iterator[int]) -> Iterator[str]:
    """One item's elements; `numbers` gives every window its own."""
    match item:
        case Line():
            look = _look(item.stroke, item.weight, None, item.dash)
            ends = f'x1="{_mm(item.x1)}" y1="{_mm(item.y1)}" x2="{_mm(item.x2)}" y2="{_mm(item.y2)}"'
            yield f"<line {ends} {look}/>"
        case Polyline():
            points = " ".join(f"{_mm(x)},{_mm(y)}" for x, y in item.points)
            name = "polygon" if item.closed else "polyline"
            look = _look(item.stroke, item.weight, item.fill)
            through = "" if item.opacity == 1.0 else f' fill-opacity="{item.opacity:.6g}"'
            yield f'<{name} points="{points}" {look}{through}/>'
        case Rect():
            yield f"<rect {_box(item)} {_look(item.stroke, item.weight, item.fill)}/>"
        case Circle():
            place = f'cx="{_mm(item.x)}" cy="{_mm(item.y)}" r="{_mm(item.radius)}"'
            yield f"<circle {place} {_look(item.stroke, item.weight, item.fill)}/>"
        case Text():
            bold = ' font-weight="bold"' if item.bold else ""
            anchor = "" if item.anchor == "start" else f' text-anchor="{item.anchor}"'
            yield (
                f'<text x="{_mm(item.x)}" y="{_mm(item.y)}" font-family="{FAMILY}" '
                f'font-size="{_point(item.size)}"{bold}{anchor} fill="{item.fill}" xml:space="preserve">'
                f"{_said(item.text)}</text>"
            )
        case Picture():
            png = b64encode(item.png).decode("ascii")
            yield f'<image {_box(item)} preserveAspectRatio="none" href="data:image/png;base64,{png}"/>'
        case Window():
            name = f"window-{next(numbers)}"
            yield f'<clipPath id="{name}"><rect {_box(item)}/></clipPath>'
            yield f'<g clip-path="url(#{name})">'
            for part in item.items:
                yield from _drawn(part, numbers)
            yield "</g>"
