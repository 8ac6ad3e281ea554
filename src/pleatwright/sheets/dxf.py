"""One drawing as a DXF (R2010) at true size, in layers a cutting machine understands."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import Any

from pleatwright.lengths import Units
from pleatwright.sheets.drawing import Circle, Item, Layer, Line, Page, Picture, Polyline, Rect, Text
from pleatwright.sheets.lettering import CAPITALS, POINTS, REGULAR, clean
from pleatwright.sheets.svg import MM

COLOURS = {Layer.CUT: 1, Layer.ENGRAVE: 5, Layer.NOTE: 8}
"""By the format's own numbers: red, blue, grey."""

DASHED = "DASHED"


def write_dxf(page: Page, units: Units) -> bytes:
    """The drawing in inches or millimetres (`$INSUNITS` says which), y upward from the bottom left corner.

    Layers are named cut, engrave and note.  Fills and pictures, which no machine follows, are left out.
    Raises TypeError for a window: a drawing is handed over whole.  The same page gives the same bytes.
    """
    from ezdxf import units as named
    from ezdxf.filemanagement import new

    scale = MM if units == "metric" else 1.0
    with _fixed_metadata():
        document = new("R2010")
        document.units = named.MM if units == "metric" else named.IN
        for layer, colour in COLOURS.items():
            document.layers.add(layer.value, color=colour)
        document.linetypes.add(DASHED, pattern=[0.15 * scale, 0.1 * scale, -0.05 * scale])
        document.styles.add(REGULAR, font=f"{REGULAR}.ttf")
        space = document.modelspace()
        for item in page.items:
            _draw(space, item, page.height, scale)
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)  # left to itself the library writes them in a set's order
        out = StringIO()
        document.write(out)
    return out.getvalue().encode()


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Dates and ids that are the same every time; the library's option is put back afterwards."""
    from ezdxf import options  # type: ignore[attr-defined]  # documented, and not listed for typing

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _draw(space: Any, item: Item, height: float, scale: float) -> None:
    def at(x: float, y: float) -> tuple[float, float]:
        return x * scale, (height - y) * scale

    match item:
        case Picture():
            return
        case Line():
            look = {"layer": item.layer.value} | ({"linetype": DASHED} if item.dash else {})
            space.add_line(at(item.x1, item.y1), at(item.x2, item.y2), dxfattribs=look)
        case Text():
            _text(space, item, at(item.x, item.y), scale)
        case Rect() | Polyline() | Circle() if item.stroke is None:
            return
        case Rect():
            far_x, far_y = item.x + item.width, item.y + item.height
            corners = ((item.x, item.y), (far_x, item.y), (far_x, far_y), (item.x, far_y))
            space.add_lwpolyline(
                [at(*corner) for corner in corners], close=True, dxfattribs={"layer": item.layer.value}
            )
        case Polyline():
            space.add_lwpolyline(
                [at(*point) for point in item.points],
                close=item.closed,
                dxfattribs={"layer": item.layer.value},
            )
        case Circle():
            space.add_circle(at(item.x, item.y), item.radius * scale, dxfattribs={"layer": item.layer.value})
        case _:
            raise TypeError(f"{type(item).__name__} has no place in a DXF")


def _text(space: Any, item: Text, place: tuple[float, float], scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[item.anchor]
    text = space.add_text(
        clean(item.text),
        height=item.size * CAPITALS / POINTS * scale,
        dxfattribs={"layer": item.layer.value, "style": REGULAR},
    )
    text.set_placement(place, align=align)
