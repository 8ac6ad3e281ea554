"""The chalked cloth: levels, aprons, band, pleats, and what is measured again."""

from __future__ import annotations

from pleatwright.bench import Part, Region, regions
from pleatwright.bench.guide import Kilt
from pleatwright.layout import Apron
from pleatwright.sheets.drawing import INK, Circle, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.lettering import width_of
from pleatwright.sheets.look import ACCENT, ACCENT_MIDDLE, ACCENT_PALE, WHITE
from pleatwright.sheets.pages.guide.strip_drawings import TOWARDS, end_of
from pleatwright.sheets.pages.guide.tools import (
    LETTER,
    LINE,
    THREAD,
    Sketch,
    across,
    chalk,
    down,
    label,
    plate,
)
from pleatwright.sheets.pages.guide.weaving import strip
from pleatwright.wearer import LevelName


def levels(kilt: Kilt, width: float) -> Sketch:
    """The left end of the (first) strip with its levels, to scale in height."""
    named = [
        (LevelName.TOP, "top edge"),
        (LevelName.STRAP, "strap line"),
        (LevelName.HIP, "hip line"),
    ]
    total = kilt.ripped
    if total > float(kilt.level(LevelName.BOTTOM).below_top):
        named.append((LevelName.BOTTOM, "fold of the hem"))
    tall, above = 2.15, 0.3
    scale = tall / total
    right = width - 1.35
    items: list[Item] = [*strip(kilt, 0.0, right / scale, 0.0, above * 0.4, right, tall + above * 0.6)]
    bottom = above + tall
    places = []
    for name, words in named:
        y = above + float(kilt.level(name).below_top) * scale
        items += chalk(0.0, y, right + 0.06, y)
        places.append((y, words))
    last = -1.0
    for y, words in places:
        place = max(y, last + LINE)
        last = place
        items.append(label(right + 0.12, place, words, "start"))
    shown = [mark for mark in kilt.marks if mark.group == "levels"][: len(places)]  # of the first strip
    free = bottom - max(y for y, words in places if words != "fold of the hem")
    for i, (mark, (y, _)) in enumerate(zip(shown, places, strict=True)):
        x = right * (i + 0.5) / len(places)
        items += [Line(x, y, x, bottom, WHITE, 3.0), *down(x, y, bottom, "")]
        middle = bottom - free * (0.8 - 0.7 * i / len(places))
        items += plate(
            min(max(x, 0.42), right - 0.42), min(middle, bottom - 0.12), kilt.write(mark.tape), bold=True
        )
    items.append(label(right / 2, bottom + 0.14, TOWARDS))
    return Sketch(bottom + 0.26, tuple(items))


def apron_marks(kilt: Kilt, width: float) -> Sketch:
    """The over-apron's end of the strip: facing, centre, edges as allotted and level by level."""
    return _apron_marks(kilt, kilt.option.over_apron, width)


def _apron_marks(kilt: Kilt, apron: Apron, width: float) -> Sketch:
    option = kilt.option
    over = apron.name == "over-apron"
    outer_left = over == kilt.opens_right
    start = apron.left - (option.facing + 0.6 if outer_left else 4.0)
    end = apron.right + (4.0 if outer_left else option.facing + 0.6)
    scale = width / (end - start)
    total = float(kilt.job.sizes.total)
    tall = min(total * scale, 1.9)
    rise = tall / total
    top = 0.36

    def at(x: float) -> float:
        return (x - start) * scale

    shown_from, shown_to = max(start, 0.0), min(end, end_of(kilt))
    items: list[Item] = [
        *strip(kilt, shown_from, shown_to, at(shown_from), top, at(shown_to) - at(shown_from), tall)
    ]
    cut = apron.left - option.facing if outer_left else apron.right + option.facing
    outer = apron.left if outer_left else apron.right
    for x in (cut, apron.left, apron.right):
        items += chalk(at(x), top - 0.06, at(x), top + tall + 0.06)
    items += chalk(at(apron.centre), top - 0.12, at(apron.centre), top + tall + 0.06)
    edges = [
        (edge, top + float(kilt.level(edge.level).below_top) * rise)
        for edge in apron.edges
        if edge.level is not LevelName.MID
    ]
    for side in ("left", "right"):
        points = tuple((at(getattr(edge, side)), y) for edge, y in edges)
        items += [Polyline(points, WHITE, 3.4), Polyline(points, THREAD, 1.6)]
        items += [Circle(x, y, 0.045, INK, 0.9, WHITE) for x, y in points]
    items += across(at(apron.left), at(apron.right), top - 0.13, "")
    items += plate(at(apron.centre), top - 0.13, kilt.write(apron.allotted), bold=True)
    items += across(at(cut), at(outer), top + tall + 0.14, "")
    base = top + tall + 0.14
    facing = f"facing {kilt.write(option.facing)}"
    if outer_left:
        items.append(label(at(outer) + 0.1, base, facing, "start"))
    else:
        items.append(label(at(outer) - 0.1, base, facing, "end"))
    inner = at(apron.right) if outer_left else at(apron.left)
    items.append(label(inner, base, f"to the {kilt.pleats}", "end" if outer_left else "start"))
    y = top + tall * 0.45
    items += plate(at(apron.centre), y, "centre")
    return Sketch(base + 0.12, tuple(items))


def band_mark(kilt: Kilt, width: float) -> Sketch:
    """The over-apron below, the band above the rip; the band's mark on the apron's centre."""
    option = kilt.option
    apron = option.over_apron
    start, end = sorted((apron.left - option.facing - 1, apron.right + 8))
    if not kilt.opens_right:
        start, end = apron.left - 8, apron.right + option.facing + 1
    shown_from, shown_to = max(start, 0.0), min(end, end_of(kilt))
    scale = width / (end - start)

    def at(x: float) -> float:
        return (x - start) * scale

    top, high, low = 0.24, 0.42, 0.55
    left, wide = at(shown_from), at(shown_to) - at(shown_from)
    items: list[Item] = [
        *strip(kilt, shown_from, shown_to, left, top, wide, high),
        *strip(kilt, shown_from, shown_to, left, top + high, wide, low),
        Line(left, top + high, left + wide, top + high, WHITE, 3.2),
        Line(left, top + high, left + wide, top + high, THREAD, 1.6, (5.0, 3.0)),
    ]
    x = at(apron.centre)
    items += [
        Line(x, top - 0.08, x, top + high + low, WHITE, 3.2),
        Line(x, top - 0.08, x, top + high + low, INK, 1.2),
    ]
    items.append(label(x, top - 0.15, "one line: the apron's centre and the band's mark"))
    items += plate(left + wide * (0.86 if kilt.opens_right else 0.14), top + high / 2, "top band")
    items += plate(left + wide * (0.86 if kilt.opens_right else 0.14), top + high + low * 0.3, "the rip")
    for edge in (apron.left, apron.right):
        items += chalk(at(edge), top + high, at(edge), top + high + low)
    items += plate(x, top + high + low * 0.62, "over-apron")
    return Sketch(top + high + low + 0.04, tuple(items))


TINT = {
    Part.FACING: "#E9E4D6",
    Part.OVER_APRON: ACCENT_MIDDLE,
    Part.UNDER_APRON: ACCENT_PALE,
    Part.PLEAT: ACCENT,
}


def pleat_marks(kilt: Kilt, width: float) -> Sketch:
    """The whole strip, every part of it named."""
    return _whole(kilt, width, ends=False)


def far_marks(kilt: Kilt, width: float) -> Sketch:
    """The under-apron's end of the strip."""
    return _apron_marks(kilt, kilt.option.under_apron, width)


def _whole(kilt: Kilt, width: float, *, ends: bool) -> Sketch:
    long = end_of(kilt)
    scale = width / long
    top, tall, bar = 0.28, 0.42, 0.16
    parts = regions(kilt.option, long)
    items: list[Item] = [*strip(kilt, 0.0, long, 0.0, top + bar, width, tall)]
    for part in parts:
        x, wide = part.start * scale, part.width * scale
        items.append(Rect(x, top, wide, bar, fill=TINT.get(part.part, "#F1EFEA")))
    items.append(Rect(0.0, top, width, bar, stroke=INK, weight=0.5))
    items += _names(kilt, parts, scale, top - 0.1)
    strips = sorted(kilt.option.strips, key=lambda one: one.centre)
    base = top + bar + tall
    for one in (strips[0], strips[-1]):
        x = one.centre * scale
        items += [Line(x, top, x, base + 0.1, WHITE, 2.4), Line(x, top, x, base + 0.1, INK, 1.0)]
    if len(strips) > 1:
        span = strips[-1].centre - strips[0].centre
        x1, x2 = strips[0].centre * scale, strips[-1].centre * scale
        items += across(x1, x2, base + 0.16, "")
        items += plate((x1 + x2) / 2, base + 0.16, kilt.write(span), bold=True)
    if ends:
        for apron in (kilt.option.over_apron, kilt.option.under_apron):
            x = apron.centre * scale
            items += [Line(x, top, x, base + 0.1, WHITE, 2.4), Line(x, top, x, base + 0.1, INK, 1.0)]
    return Sketch(base + 0.28, tuple(items))


def _names(kilt: Kilt, parts: tuple[Region, ...], scale: float, y: float) -> list[Item]:
    """Aprons and pleats named above the bar."""
    pleats = [part for part in parts if part.part is Part.PLEAT]
    aprons = [part for part in parts if part.part in (Part.OVER_APRON, Part.UNDER_APRON)]
    low = aprons[0].start * scale + width_of(str(aprons[0].part), LETTER) + 0.1
    high = aprons[-1].end * scale - width_of(str(aprons[-1].part), LETTER) - 0.1
    items: list[Item] = [
        label(aprons[0].start * scale, y, str(aprons[0].part), "start"),
        label(aprons[-1].end * scale, y, str(aprons[-1].part), "end"),
    ]
    for words in (f"{len(pleats)} {kilt.pleats}, dark as they show", f"{len(pleats)} {kilt.pleats}"):
        half = width_of(words, LETTER) / 2
        if high - low >= 2 * half:
            middle = (pleats[0].start + pleats[-1].end) / 2 * scale
            items.append(label(min(max(middle, low + half), high - half), y, words))
            break
    return items


def check(kilt: Kilt, width: float) -> Sketch:
    """Where the tape is laid again, and the two words of the check."""
    sketch = _whole(kilt, width, ends=True)
    y = sketch.height + 0.18
    items: list[Item] = [*sketch.items]
    for word, x, fill in (("GO", width / 2 - 1.0, ACCENT), ("STOP", width / 2 + 1.0, THREAD)):
        items.append(Rect(x - 0.62, y - 0.17, 1.24, 0.34, stroke=fill, weight=2.0, fill=WHITE))
        items.append(Text(x, y + 0.085, word, 17.0, "middle", True, fill))
    return Sketch(y + 0.2, tuple(items))
