"""The piece and the strip: resting, reading, ripping, joining."""

from __future__ import annotations

from pleatwright.bench import ruler_of
from pleatwright.bench.guide import Kilt
from pleatwright.sheets.drawing import INK, Circle, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.look import ACCENT, GREY, PALE, WHITE
from pleatwright.sheets.pages.guide.tools import (
    LETTER,
    TALL,
    THREAD,
    Sketch,
    across,
    arrow,
    chalk,
    down,
    label,
    plate,
)
from pleatwright.sheets.pages.guide.weaving import strip

TOWARDS = "selvedge towards you"


def end_of(kilt: Kilt) -> float:
    """Length of cloth that is drawn: the strip, or what the kilt takes while there is no piece."""
    cloth = kilt.option.cloth
    return kilt.option.cloth_used if cloth is None else cloth.length


def piece(kilt: Kilt, width: float) -> Sketch:
    """The piece on the table with its length and width; both not to one scale."""
    bought = kilt.job.request.piece
    long = end_of(kilt) if bought is None else float(bought.length)
    tall, top, right = 0.5, 0.34, width - 1.2
    items: list[Item] = [
        Rect(0.0, top - 0.06, width - 0.97, tall + 0.16, stroke=GREY, weight=0.6, fill=PALE),
        *strip(kilt, 0.0, min(long, end_of(kilt)), 0.12, top + 0.02, right - 0.12, tall),
    ]
    items += across(
        0.12,
        right,
        top - 0.13,
        kilt.write(kilt.option.cloth_used) + " at least" if bought is None else kilt.write(long),
    )
    if bought is not None:
        items += down(width - 0.87, top + 0.02, top + 0.02 + tall, "")
        items.append(label(width - 0.8, top + tall / 2, kilt.write(bought.width), "start", bold=True))
    base = top + tall + 0.26
    items.append(label(right / 2, base, TOWARDS))
    for name, x, anchor in (("left end", 0.12, "start"), ("right end", right, "end")):
        items.append(Text(x, base + TALL / 2, name, LETTER, "start" if anchor == "start" else "end"))
    return Sketch(base + 0.12, tuple(items))


def reading(kilt: Kilt, width: float) -> Sketch:
    """The numbered repeats and the tape below them, at the left end; the faults in rings."""
    option, request = kilt.option, kilt.job.request
    ruler = ruler_of(option, request)
    shown = min(end_of(kilt), 5 * float(request.sett_along) + 2 if ruler and ruler.repeats else 40.0)
    scale = (width - 0.2) / shown
    top, tall = 0.3, 0.46
    items: list[Item] = [*strip(kilt, 0.0, shown, 0.1, top, width - 0.2, tall)]
    if ruler is not None:
        for number, place in enumerate(ruler.repeats, 1):
            if place < shown - 0.3:
                x = 0.1 + place * scale
                items += chalk(x, top, x, top + tall)
                items.append(Circle(x, top - 0.15, 0.125, ACCENT, 0.9, WHITE))
                items.append(label(x, top - 0.15, str(number), bold=True))
    base = top + tall
    metric = kilt.job.units == "metric"
    step, unit = (10 / 2.54, 10) if metric else (4.0, 4)
    items.append(Rect(0.1, base + 0.04, width - 0.2, 0.26, stroke=INK, weight=0.6, fill="#F7EDC8"))
    ticks = int(shown / step * 4)
    for i in range(ticks + 1):
        x = 0.1 + i * step / 4 * scale
        items.append(Line(x, base + 0.04, x, base + (0.14 if i % 4 else 0.09), INK, 0.5))
        if i % 4 == 0 and 0.25 < x < width - 0.35:
            items.append(Text(x, base + 0.26, str(i // 4 * unit), LETTER, "middle"))
    items.append(
        label(
            width / 2,
            base + 0.44,
            f"the tape along the selvedge, {'cm' if metric else 'inches'} from the first sound thread",
        )
    )
    return Sketch(base + 0.56, tuple(items))


def rip(kilt: Kilt, width: float) -> Sketch:
    """The piece being torn: the strip below, what is left above."""
    piece_ = kilt.job.request.piece
    sewn = kilt.option.join
    joined = sewn is not None
    total = kilt.ripped
    second = float(kilt.job.sizes.total) + (0.0 if sewn is None else sewn.hem_second)
    high = max(float(piece_.width) if piece_ else total * 1.2, total * 1.05)
    tall = 1.0
    scale = tall / high
    right = width - 1.25
    top = 0.16
    lines = [top + tall - total * scale]
    if joined:
        lines.append(top + second * scale)
    shown = min(end_of(kilt), right / scale / 2)
    items: list[Item] = [*strip(kilt, 0.0, shown, 0.0, top, right, tall)]
    torn = right * 0.42
    for y in lines:
        items += [Line(0.0, y, torn, y, WHITE, 7.0), Line(torn, y, right, y, WHITE, 2.4)]
        items += [Line(torn, y, right, y, THREAD, 1.4, (5.0, 3.0))]
        items.append(Polyline(((0.0, y - 0.04), (torn, y), (0.0, y + 0.04)), None, closed=True, fill=WHITE))
    y = lines[0]
    items += [Rect(torn * 0.28, y - 0.34, 0.34, 0.68, fill=WHITE)]
    items += arrow((torn * 0.28 + 0.17, y - 0.02), (torn * 0.28 + 0.17, y - 0.31), THREAD, 2.2, 0.16)
    items += arrow((torn * 0.28 + 0.17, y + 0.02), (torn * 0.28 + 0.17, y + 0.31), THREAD, 2.2, 0.16)
    items += down(right + 0.14, y, top + tall, kilt.write(total))
    if joined:
        items += down(right + 0.14, top, lines[1], "" if second == total else kilt.write(second))
    items += plate(right * 0.7, (y + top + tall) / 2, "strip for the kilt")
    if joined:
        items += plate(right * 0.7, (top + lines[1]) / 2, "second strip, to be turned")
    else:
        items.append(label(right + 0.1, (y + top) / 2, "left over", "start"))
    items.append(label(right / 2, top + tall + 0.14, TOWARDS))
    return Sketch(top + tall + 0.26, tuple(items))


def join(kilt: Kilt, width: float) -> Sketch:
    """The joined strip about its seam: the stripes run on over it."""
    seam = kilt.option.join
    if seam is None:
        raise ValueError("only joined cloth has a seam")
    half = float(kilt.job.request.sett_along) * 1.5
    scale = width / 2 / half
    top, tall = 0.3, 0.8
    allowance = float(kilt.job.request.settings.cloth.seam_allowance) * scale
    x = width / 2
    items: list[Item] = [
        *strip(kilt, seam.tape - half, seam.tape + half, 0.0, top, width, tall),
        Line(x, top - 0.05, x, top + tall + 0.05, WHITE, 3.4),
        Line(x, top - 0.05, x, top + tall + 0.05, THREAD, 1.8, (4.0, 2.0)),
    ]
    for side in (-allowance, allowance):
        items += [
            Line(x + side, top, x + side, top + tall, WHITE, 2.2),
            Line(x + side, top, x + side, top + tall, INK, 0.7, (1.5, 2.0)),
        ]
    items.append(label(x, top - 0.14, f"seam at {kilt.write(seam.tape)}", bold=True))
    items += plate(width * 0.2, top + tall / 2, "first strip")
    items += plate(width * 0.8, top + tall / 2, "second strip, turned by 180°")
    lower = f"the {seam.hemmed} strip's hem in one line with the other's selvedge" if seam.hem else ""
    items.append(label(x, top + tall + 0.17, lower or "selvedge of both towards you"))
    return Sketch(top + tall + 0.29, tuple(items))
