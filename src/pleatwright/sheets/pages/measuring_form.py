"""A form to measure by, for clients far away: where the tape lies, twice each, on one page."""

from __future__ import annotations

from math import cos, pi, sin

from pleatwright.lengths import Units
from pleatwright.order import Paper
from pleatwright.sheets.drawing import INK, Circle, Item, Line, Page, Polyline, Text
from pleatwright.sheets.flow import Block, beside, heading, paragraph, sheets_of, shifted, stacked, white
from pleatwright.sheets.lettering import width_of, wrapped
from pleatwright.sheets.look import (
    ACCENT,
    ACCENT_PALE,
    BODY,
    GREY,
    HAIR,
    HEADING,
    SMALL,
    WHITE,
    baseline,
    line_height,
)
from pleatwright.sheets.pages.letter import letter_frame, letter_pages

FIGURE_WIDE = 2.35
BLANK = 0.82

ASKED = (
    ("1", "Waist", "Snug, where the top strap will lie: level all round, a little above the hip bones. Not a "
     "trouser size."),
    ("2", "Hips", "Loose, at the fullest part of the seat, level all round. With a belly: over a rolled "
     "towel that fills the hollow beneath it."),
    ("3", "Fell drop", "From the waist tape straight down to the hip tape, at the side."),
    ("4", "Drop", "From the waist tape straight down in front to where the kilt is to end: for most, the "
     "middle of the kneecap."),
    ("5", "Drop at the side", "With a belly only: the same at the side."),
    ("6", "Drop at the back", "With a belly only: the same at the back."),
)  # fmt: skip
"""Number on the figure, name, where the tape lies [end points: common practice, no source; the kneecap: from
memory]."""

HOW = (
    "Ask somebody to measure you; nobody measures themselves well.",
    "Stand upright, in a shirt and in shoes, with nothing in the pockets.",
    "Take every measurement twice, letting the tape go in between. If the two differ by more than {apart}, "
    "take it a third time.",
    "Write down what the tape says. Add nothing and take nothing off: that is the maker's work.",
)


BODY_LINE = (
    (110, 60), (110, 74), (84, 80), (64, 94), (54, 128), (46, 196), (46, 208), (53, 213), (59, 202),
    (68, 138), (76, 188), (66, 252), (74, 402), (112, 402), (119, 292), (121, 292), (128, 402), (166, 402),
    (174, 252), (164, 188), (172, 138), (181, 202), (187, 213), (194, 208), (194, 196), (186, 128),
    (176, 94), (156, 80), (130, 74), (130, 60),
)  # fmt: skip
"""The figure's outline, on a grid of 250 by 410."""


def measuring_form(shop: str, units: Units, paper: Paper) -> tuple[Page, ...]:
    """The form, one page, with lines to write on."""
    frame = letter_frame(paper)
    right = frame.width - FIGURE_WIDE - 0.2
    apart = "5 mm" if units == "metric" else "a quarter of an inch"
    unit = "centimetres" if units == "metric" else "inches"
    blocks: list[Block] = [
        _lines(frame.width, (("Name", 0.62), ("Day", 0.38))),
        _lines(frame.width, (("Telephone or mail", 0.62), ("Measured by", 0.38))),
        white(0.06),
        heading("How"),
        *(paragraph(f"– {line.format(apart=apart)}", frame.width, gap=0.02) for line in HOW),
        white(0.1),
        beside(
            stacked(
                [
                    _figure(),
                    white(0.08),
                    _choices("For", ("a man", "a woman", "a child")),
                    _choices("It opens on your", ("right", "left", "usual side")),
                    _choices("Hips over a towel", ("no", "yes")),
                ]
            ),
            *shifted(
                [stacked([_head(right, unit), *(_row(right, *one) for one in ASKED)])], FIGURE_WIDE + 0.2
            ),
        ),
        white(0.06),
        _lines(frame.width, (("Your figure: stoop, hollow back, one hip higher", 1.0),)),
        _lines(frame.width, (("Tartan, and when you need it", 1.0),)),
    ]
    return letter_pages(
        sheets_of("Measuring for a kilt", blocks, frame), frame, shop, "Please send it back whole."
    )


def _lines(width: float, parts: tuple[tuple[str, float], ...]) -> Block:
    """Blanks beside each other, each with its word before it."""
    items: list[Item] = []
    x = 0.0
    for words, share in parts:
        wide = share * width
        items.append(Text(x, 0.26, words, BODY, fill=GREY))
        start = x + width_of(words, BODY) + 0.1
        items.append(Line(start, 0.29, x + wide - (0.2 if x + wide < width - 0.01 else 0.0), 0.29, GREY, 0.8))
        x += wide
    return Block(0.38, tuple(items))


def _choices(words: str, ways: tuple[str, ...]) -> Block:
    """A word, and below it boxes to tick."""
    items: list[Item] = [Text(0.0, baseline(SMALL), words, SMALL, fill=GREY)]
    x, top = 0.0, line_height(SMALL)
    for way in ways:
        items += [_box(x, top + 0.03), Text(x + 0.2, top + baseline(SMALL), way, SMALL)]
        x += 0.2 + width_of(way, SMALL) + 0.14
    return Block(top + line_height(SMALL), tuple(items), gap=0.06)


def _box(x: float, y: float) -> Polyline:
    side = 0.13
    return Polyline(((x, y), (x + side, y), (x + side, y + side), (x, y + side)), GREY, 0.8, closed=True)


def _head(width: float, unit: str) -> Block:
    first = width - 2 * BLANK - 0.1
    items: tuple[Item, ...] = (
        Text(first + BLANK / 2, baseline(SMALL), "first", SMALL, "middle", fill=GREY),
        Text(first + BLANK * 1.5 + 0.1, baseline(SMALL), "again", SMALL, "middle", fill=GREY),
        Text(0.0, baseline(SMALL), f"in {unit}", SMALL, fill=GREY),
        Line(0.0, line_height(SMALL) + 0.03, width, line_height(SMALL) + 0.03, ACCENT, 0.9),
    )
    return Block(line_height(SMALL) + 0.06, items)


def _row(width: float, number: str, name: str, words: str) -> Block:
    first = width - 2 * BLANK - 0.1
    items: list[Item] = [*_disc(0.13, 0.16, number), Text(0.36, 0.16 + 0.055, name, HEADING, bold=True)]
    y = 0.32
    for line in wrapped(words, first - 0.5, SMALL + 0.5):
        items.append(Text(0.36, y + baseline(SMALL + 0.5), line, SMALL + 0.5, fill=INK))
        y += line_height(SMALL + 0.5)
    height = max(y, 0.62) + 0.08
    for x in (first, first + BLANK + 0.1):
        items.append(
            Polyline(
                ((x, 0.08), (x + BLANK, 0.08), (x + BLANK, height - 0.1), (x, height - 0.1)),
                GREY,
                0.8,
                fill=WHITE,
                closed=True,
            )
        )
    items.append(Line(0.0, height, width, height, HAIR, 0.5))
    return Block(height, tuple(items))


def _disc(x: float, y: float, number: str) -> tuple[Item, ...]:
    return (
        Circle(x, y, 0.13, stroke=None, fill=ACCENT),
        Text(x, y + 0.05, number, BODY, "middle", True, WHITE),
    )


def _figure() -> Block:
    """A figure from the front, with the places numbered; drawn on that grid."""
    scale = FIGURE_WIDE / 250

    def points(*pairs: tuple[float, float]) -> tuple[tuple[float, float], ...]:
        return tuple((x * scale, y * scale) for x, y in pairs)

    body = points(*BODY_LINE)
    head = points(*((120 + 19 * sin(i * pi / 8), 38 - 24 * cos(i * pi / 8)) for i in range(16)))
    kilt = points((76, 174), (164, 174), (165, 190), (176, 252), (186, 352), (54, 352), (64, 252), (75, 190))
    items: list[Item] = [
        Polyline(body, GREY, 0.9, fill="#FBFAF7", closed=True),
        Polyline(head, GREY, 0.9, fill="#FBFAF7", closed=True),
        Polyline(kilt, ACCENT, 0.9, fill=ACCENT_PALE, closed=True),
        Polyline(points((75, 190), (98, 196), (120, 198), (142, 196), (165, 190)), ACCENT, 2.0),
        Polyline(points((64, 252), (92, 261), (120, 264), (148, 261), (176, 252)), ACCENT, 2.0),
    ]
    for number, x, top, bottom in (("3", 200, 190, 252), ("4", 226, 190, 352)):
        items += [
            Polyline(points((x, top), (x, bottom)), ACCENT, 1.2),
            Polyline(points((x - 5, top), (x + 5, top)), ACCENT, 1.2),
            Polyline(points((x - 5, bottom), (x + 5, bottom)), ACCENT, 1.2),
            *_disc(x * scale, (top + bottom) / 2 * scale, number),
        ]
    items += [*_disc(120 * scale, 190 * scale, "1"), *_disc(120 * scale, 255 * scale, "2")]
    return Block(410 * scale, tuple(items))
