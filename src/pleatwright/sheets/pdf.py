"""Pages as a PDF at true size, the letters embedded; the same pages give the same bytes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from io import BytesIO
from typing import Any

from pleatwright.sheets.drawing import Circle, Item, Line, Page, Picture, Polyline, Rect, Text, Window
from pleatwright.sheets.lettering import BOLD, POINTS, REGULAR, clean, register


def write_pdf(pages: Sequence[Page], title: str = "") -> bytes:
    """Every page in its own size, in points of exactly 1/72 inch."""
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # binary streams: a fifth smaller, and the encoder is slow Python
    register()
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1)
    canvas.setTitle(clean(title))
    canvas.setAuthor("")
    canvas.setCreator("pleatwright")
    for page in pages:
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        canvas.bookmarkPage(page.title)
        for item in page.items:
            _draw(canvas, item, page.height)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas: Any, item: Item, height: float) -> None:
    if isinstance(item, Text):
        _text(canvas, item, height)
    elif isinstance(item, Picture):
        _picture(canvas, item, height)
    elif isinstance(item, Rect):
        canvas.setLineWidth(item.weight)
        _colours(canvas, item.stroke, item.fill)
        canvas.rect(
            item.x * POINTS,
            (height - item.y - item.height) * POINTS,
            item.width * POINTS,
            item.height * POINTS,
            stroke=int(item.stroke is not None),
            fill=int(item.fill is not None),
        )
    elif isinstance(item, Circle):
        canvas.setLineWidth(item.weight)
        _colours(canvas, item.stroke, item.fill)
        canvas.circle(
            item.x * POINTS,
            (height - item.y) * POINTS,
            item.radius * POINTS,
            stroke=int(item.stroke is not None),
            fill=int(item.fill is not None),
        )
    elif isinstance(item, Window):
        _window(canvas, item, height)
    else:
        _path(canvas, item, height)


def _window(canvas: Any, item: Window, height: float) -> None:
    canvas.saveState()
    box = canvas.beginPath()
    box.rect(
        item.x * POINTS,
        (height - item.y - item.height) * POINTS,
        item.width * POINTS,
        item.height * POINTS,
    )
    canvas.clipPath(box, stroke=0, fill=0)
    for part in item.items:
        _draw(canvas, part, height)
    canvas.restoreState()


def _colours(canvas: Any, stroke: str | None, fill: str | None) -> None:
    if stroke is not None:
        canvas.setStrokeColor(_colour(stroke))
    if fill is not None:
        canvas.setFillColor(_colour(fill))


@lru_cache(maxsize=1000)
def _colour(written: str) -> Any:
    from reportlab.lib.colors import HexColor

    return HexColor(written)


def _text(canvas: Any, item: Text, height: float) -> None:
    _colours(canvas, None, item.fill)
    canvas.setFont(BOLD if item.bold else REGULAR, item.size)
    x, y, text = item.x * POINTS, (height - item.y) * POINTS, clean(item.text)
    draw = {
        "start": canvas.drawString,
        "middle": canvas.drawCentredString,
        "end": canvas.drawRightString,
    }[item.anchor]
    draw(x, y, text)


def _picture(canvas: Any, item: Picture, height: float) -> None:
    from reportlab.lib.utils import ImageReader

    canvas.drawImage(
        ImageReader(BytesIO(item.png)),
        item.x * POINTS,
        (height - item.y - item.height) * POINTS,
        item.width * POINTS,
        item.height * POINTS,
        mask="auto",
    )


def _path(canvas: Any, item: Line | Polyline, height: float) -> None:
    canvas.setLineWidth(item.weight)
    if isinstance(item, Line):
        points: tuple[tuple[float, float], ...] = ((item.x1, item.y1), (item.x2, item.y2))
        fill, closed = None, False
        canvas.setDash(list(item.dash))
    else:
        points, fill, closed = item.points, item.fill, item.closed
    _colours(canvas, item.stroke, fill)
    if isinstance(item, Polyline) and item.opacity != 1.0:
        canvas.setFillAlpha(item.opacity)  # after the colour, which is solid
    path = canvas.beginPath()
    path.moveTo(points[0][0] * POINTS, (height - points[0][1]) * POINTS)
    for x, y in points[1:]:
        path.lineTo(x * POINTS, (height - y) * POINTS)
    if closed:
        path.close()
    canvas.drawPath(path, stroke=int(item.stroke is not None), fill=int(fill is not None))
    if isinstance(item, Polyline) and item.opacity != 1.0:
        canvas.setFillAlpha(1.0)
    canvas.setDash([])
