"""The inside: folds, stabiliser, interfacing, lining, straps; and the top band."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.closing import Panel
from pleatwright.bench.guide import Kilt
from pleatwright.sheets.drawing import INK, Anchor, Item, Line, Polyline
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, ACCENT_PALE, GREY, PALE, WHITE
from pleatwright.sheets.pages.guide.opened import PARTS, Opened
from pleatwright.sheets.pages.guide.tools import (
    THREAD,
    Point,
    Sketch,
    down,
    label,
    plate,
)
from pleatwright.sheets.pages.guide.weaving import (
    Flat,
    strip,
)
from pleatwright.sheets.pages.inside_drawing import CUT, inside_drawing
from pleatwright.wearer import LevelName


def folds_cut(kilt: Kilt, width: float) -> Sketch:
    """The pleats from inside: what is cut out above the hip line, the stabiliser over the ends."""
    folds, stabiliser = kilt.closing.inside.folds, kilt.closing.inside.stabiliser
    shape = Flat(kilt, 1.0, 1.0).shape
    hip = folds.hip_below_top
    room = width - 0.92
    scale = min(room / float(shape.widest("pleated", Fraction(0), hip)), 2.1 / (float(hip) + 1.5))
    top, middle = 0.3, room / 2
    way = 1 if kilt.opens_right else -1

    def y(below: Fraction | float) -> float:
        return top + float(below) * scale

    def x(below: Fraction, along: Fraction | float) -> float:
        return middle + way * (float(shape.pleated(below)) / 2 - float(along)) * scale

    def area(high: Fraction, low: Fraction) -> tuple[Point, ...]:
        heights = [high, *(h for h in shape.fell_heights if high < h < low), low]
        left = [(x(h, 0), y(h)) for h in heights]
        return (*left, *((x(h, shape.pleated(h)), y(h)) for h in reversed(heights)))

    low = hip + Fraction(3, 2)
    items: list[Item] = [Polyline(area(Fraction(0), low), INK, 1.0, closed=True, fill=PALE)]
    if not folds.kept:
        items.append(Polyline(area(Fraction(0), folds.cut_below_top), None, closed=True, fill=CUT))
    heights = [*shape.fell_heights, low]
    edges = [shape.edges(min(h, hip)) for h in heights]
    for number in range(1, kilt.option.pleats):
        points = tuple((x(h, at[number]), y(h)) for h, at in zip(heights, edges, strict=True))
        items.append(Polyline(points, GREY, 0.7))
    items.append(
        Polyline(
            area(stabiliser.top_below, stabiliser.top_below + stabiliser.height),
            ACCENT,
            1.0,
            closed=True,
            fill=ACCENT_MIDDLE,
        )
    )
    y_low = y(stabiliser.top_below + stabiliser.height)
    items += plate(middle, y(stabiliser.top_below + stabiliser.height / 2), "stabiliser")
    if not folds.kept:
        items.append(
            Line(
                x(folds.cut_below_top, 0),
                y_low,
                x(folds.cut_below_top, shape.pleated(folds.cut_below_top)),
                y_low,
                THREAD,
                2.0,
                (5.0, 2.0),
            )
        )
        items += plate(middle, y(stabiliser.top_below / 2), "cut out of the folds")
        right = room + 0.06
        items += down(right, y(0), y_low, kilt.write(folds.cut_below_top))
    ends = sorted((x(hip, 0), x(hip, shape.pleated(hip))))
    items.append(Line(max(0.0, ends[0] - 0.05), y(hip), ends[1] + 0.3, y(hip), INK, 0.8, (4.0, 2.0)))
    items.append(label(width, y(hip), "hip", "end"))
    items.append(label(middle, 0.12, f"{kilt.pleats} from inside"))
    return Sketch(y(low) + 0.04, tuple(items))


def interfacing(kilt: Kilt, width: float) -> Sketch:
    """The kilt opened, from inside, with its interfacing."""
    return _pieces(kilt, width, kilt.closing.inside.interfacing)


def lining(kilt: Kilt, width: float) -> Sketch:
    """The kilt opened, from inside, with its lining."""
    return _pieces(kilt, width, kilt.closing.inside.lining)


def _pieces(kilt: Kilt, width: float, panels: tuple[Panel, ...]) -> Sketch:
    view = Opened.of(kilt, width, 0.28, inside=True)
    hip = kilt.level(LevelName.HIP).below_top
    low = max(hip, *(panel.height - panel.turning for panel in panels)) + 2
    heights = [Fraction(0), kilt.level(LevelName.STRAP).below_top, hip, low]
    items: list[Item] = [
        Polyline(view.area(part, heights), INK, 0.9, closed=True, fill=PALE) for part in PARTS
    ]
    for panel in panels:
        deep = panel.height - panel.turning
        between = [Fraction(0), *(h for h in heights[1:-1] if h < deep), deep]
        points = view.area(panel.name, between)
        items.append(Polyline(points, ACCENT, 1.1, closed=True, fill=ACCENT_PALE))
        a, b = view.part(panel.name, deep / 2)
        x = view.x((a + b) / 2)
        wide = kilt.write(max(panel.width_top, panel.width_bottom))
        items.append(label(x, view.y(0) - 0.13, panel.name))
        items.append(label(x, view.y(deep / 2), f"{wide} × {kilt.write(panel.height)}", bold=True))
    y = view.y(hip)
    items.append(Line(0.0, y, width, y, INK, 0.7, (4.0, 2.0)))
    items.append(label(width / 2, view.y(low) + 0.13, "from inside; the dashed line is the hip line"))
    return Sketch(view.y(low) + 0.24, tuple(items))


def straps(kilt: Kilt, width: float) -> Sketch:
    """The closing's own drawing of the inside: straps and buckles in place."""
    block = inside_drawing(kilt.job, kilt.option, kilt.closing, width)
    return Sketch(block.height, block.items)


def band(kilt: Kilt, width: float) -> Sketch:
    """The uppermost part of the kilt from outside, drawn taller: the band, its mark on the apron's centre."""
    strap = float(kilt.level(LevelName.STRAP).below_top)
    plain = Opened.of(kilt, width, 0.0, inside=False)
    view = Opened.of(kilt, width, 0.42, inside=False, taller=0.75 / strap / plain.scale)
    items = view.shown((LevelName.TOP, LevelName.STRAP))
    showing = float(kilt.closing.band.showing) * view.down
    apron, option = view.part("over-apron", 0), kilt.option.over_apron
    ends = sorted((view.x(apron[1]), view.x(view.part("under-apron", 0)[0])))
    edge = next(one for one in option.edges if one.level is LevelName.TOP)
    inner = edge.right if kilt.opens_right else edge.left
    centre = view.x(apron[0]) + (option.centre - inner) * view.scale
    start = option.centre - (centre - ends[0]) / view.scale
    wide, y = ends[1] - ends[0], view.y(0)
    items += strip(kilt, start, start + wide / view.scale, ends[0], y, wide, showing)
    bottom = view.y(strap)
    items += [
        Line(centre, y - 0.1, centre, bottom, WHITE, 3.0),
        Line(centre, y - 0.1, centre, bottom, INK, 1.2),
        label(min(max(centre, 1.3), width - 1.3), y - 0.2, "band's mark, apron's centre"),
    ]
    anchor: Anchor = "end" if kilt.opens_right else "start"
    words = f"{kilt.write(kilt.closing.band.showing)} showing"
    items.append(label(width if kilt.opens_right else 0.0, y - 0.2, words, anchor, bold=True))
    for part in PARTS:
        a, b = view.part(part, 0)
        items += plate(view.x((a + b) / 2), bottom - 0.16, part if part != "pleats" else kilt.pleats)
    return Sketch(bottom + 0.04, tuple(items))
