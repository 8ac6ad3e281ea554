"""A template drawn at true size: for paper in ink, for a machine in the colours of its layers."""

from __future__ import annotations

from itertools import pairwise

from pleatwright.bench.templates import Points, Template
from pleatwright.sheets.drawing import INK, Circle, Item, Layer, Line, Page, Polyline, Text, moved
from pleatwright.sheets.lettering import fitted
from pleatwright.sheets.look import GREY

INKS = {Layer.CUT: INK, Layer.ENGRAVE: GREY, Layer.NOTE: GREY}
MACHINE = {Layer.CUT: "#FF0000", Layer.ENGRAVE: "#0000FF", Layer.NOTE: "#808080"}
CUT, FINE = 0.9, 0.5
LEAST = 4.0
MARGIN = 0.25
"""Inches of white round a card that is a file of its own."""


def card(template: Template, *, machine: bool = False) -> tuple[Item, ...]:
    """Everything on the card, its top left corner at (0, 0); holes and outline are to be cut."""
    colours = MACHINE if machine else INKS
    engrave = colours[Layer.ENGRAVE]
    items: list[Item] = []
    for points in template.lines:
        items += _drawn(points, engrave, ())
    for points in template.guides:
        items += _drawn(points, engrave, (4.0, 2.5))
    for words in template.words:
        text, size = fitted(words.text, float(words.room), words.size, LEAST, bold=words.bold)
        ink = engrave if machine else INK
        items.append(
            Text(float(words.x), float(words.y), text, size, words.anchor, words.bold, ink, Layer.ENGRAVE)
        )
    cut = colours[Layer.CUT]
    for closed in (*template.slots, template.outline):
        corners = tuple((float(x), float(y)) for x, y in closed)
        items.append(Polyline(corners, cut, CUT, closed=True, layer=Layer.CUT))
    items += [
        Circle(float(hole.x), float(hole.y), float(hole.radius), cut, CUT, layer=Layer.CUT)
        for hole in template.rounds
    ]
    return tuple(items)


def _drawn(points: Points, stroke: str, dash: tuple[float, ...]) -> list[Item]:
    """The straight lines from point to point."""
    return [
        Line(float(x1), float(y1), float(x2), float(y2), stroke, FINE, dash, Layer.ENGRAVE)
        for (x1, y1), (x2, y2) in pairwise(points)
    ]


def card_page(template: Template) -> Page:
    """The card alone on a page a little larger, as a cutting machine is given it."""
    return Page(
        float(template.width) + 2 * MARGIN,
        float(template.height) + 2 * MARGIN,
        moved(card(template, machine=True), MARGIN, MARGIN),
        template.title,
    )
