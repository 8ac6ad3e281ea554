"""The sewing card: one line a pleat, to lie on the knee; beside each card one to write in what was sewn.

Four cards a sheet of paper, cut along two lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from pleatwright.bench.guide import Begin, CardRow, Kilt
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Page, Rect, Text, moved
from pleatwright.sheets.flow import figure
from pleatwright.sheets.lettering import CAPITALS, POINTS, fitted, width_of
from pleatwright.sheets.look import ACCENT, ACCENT_PALE, BODY, GREY, HAIR, LEAST, PAPER, SMALL, who
from pleatwright.sheets.pdf import write_pdf
from pleatwright.wearer import LevelName

MOST = 16
"""Most pleats on one card: rows of 11 pt on a quarter of the paper."""
EDGE, INNER = 0.38, 0.2
"""Inches left white at the paper's edge, and at a cut."""
ROW = 0.208
BOX = 0.13
TITLE = "Sewing card"


def sewing_card_pages(job: Job, option: Option, begin: Begin | None = None) -> tuple[Page, ...]:
    """The cards, two and their doubles a page; `begin`: the pleat sewn first, as the job's hand has it."""
    kilt = Kilt.of(job, option, begin)
    parts = _shared_out(kilt.rows, job.request.settings.sewing.measure_every)
    wide, tall = PAPER[job.paper]
    pages = []
    for at in range(0, len(parts), 2):
        items = _cuts(wide, tall)
        for down, part in enumerate(parts[at : at + 2]):
            for across, blank in enumerate((False, True)):
                x = EDGE if across == 0 else wide / 2 + INNER
                y = EDGE if down == 0 else tall / 2 + INNER
                card = _card(kilt, part, (at + down + 1, len(parts)), blank=blank)
                items += moved(card, x, y)
        pages.append(Page(wide, tall, tuple(items), TITLE))
    return tuple(pages)


def sewing_card_pdf(job: Job, option: Option, begin: Begin | None = None) -> bytes:
    """The PDF; the same job and option give the same bytes."""
    return write_pdf(sewing_card_pages(job, option, begin), f"{who(job)}, sewing card, plan {job.version}")


def _shared_out(rows: Sequence[CardRow], every: int) -> list[Sequence[CardRow]]:
    """As many cards as are needed, each ending where it is measured, as even as can be."""
    cards = ceil(len(rows) / MOST)
    each = min(ceil(len(rows) / cards / every) * every, MOST) if every <= MOST else MOST
    return [rows[at : at + each] for at in range(0, len(rows), each)]


def _cuts(wide: float, tall: float) -> list[Item]:
    """Where to cut, with a mark at each end."""
    items: list[Item] = [
        Line(wide / 2, EDGE, wide / 2, tall - EDGE, HAIR, 0.5, (3.0, 3.0)),
        Line(EDGE, tall / 2, wide - EDGE, tall / 2, HAIR, 0.5, (3.0, 3.0)),
    ]
    for x, y, dx, dy in (
        (wide / 2, EDGE, 0.0, 0.12),
        (wide / 2, tall - EDGE, 0.0, -0.12),
        (EDGE, tall / 2, 0.12, 0.0),
        (wide - EDGE, tall / 2, -0.12, 0.0),
    ):
        items.append(Line(x, y, x + dx, y + dy, GREY, 1.0))
    return items


def _card(kilt: Kilt, rows: Sequence[CardRow], place: tuple[int, int], *, blank: bool) -> list[Item]:
    """One card from (0, 0); `blank`: its double, to write in what was sewn."""
    width = PAPER[kilt.job.paper][0] / 2 - EDGE - INNER
    items, y = _head(kilt, rows, place, width, blank=blank)
    edges = _edges(width)
    names = (kilt.pleat, "hip", "strap", "hip so far", "strap so far")
    items += [
        Text(edge, y + 0.13, name, SMALL, "end", fill=GREY) for name, edge in zip(names, edges, strict=True)
    ]
    y += 0.17
    items.append(Line(0.0, y, width, y, ACCENT, 0.9))
    for row in rows:
        items += _row(kilt, row, y, edges, width, blank=blank)
        y += ROW
        if row.measure:
            items += _measure(kilt, row, y, edges, width, blank=blank)
            y += ROW
    return items


def _edges(width: float) -> tuple[float, float, float, float, float]:
    """Right ends of the columns: pleat, two gauges, two totals."""
    return 0.45, 1.17, 1.86, 1.86 + (width - 1.88) / 2, width - 0.02


def _head(
    kilt: Kilt, rows: Sequence[CardRow], place: tuple[int, int], width: float, *, blank: bool
) -> tuple[list[Item], float]:
    job, option = kilt.job, kilt.option
    what = "as sewn" if blank else TITLE.lower()
    tag = f"{what} {place[0]} of {place[1]}"
    name, size = fitted(who(job), width - width_of(tag, BODY, bold=True) - 0.15, BODY, LEAST, bold=True)
    unit = ", in mm" if blank and job.units == "metric" else ""
    span = f"{kilt.pleats} {rows[0].pleat} to {rows[-1].pleat} of {option.pleats}"
    top = 0.04 + BODY * CAPITALS / POINTS
    items: list[Item] = [
        Text(0.0, top, name, size, bold=True),
        Text(width, top, tag, BODY, "end", True, ACCENT),
        Text(0.0, top + 0.2, span, BODY),
        Text(width, top + 0.2, f"opens on the {option.opens_on}", BODY, "end"),
    ]
    plan, base = f"plan {job.version}{unit}", top + 0.37
    items.append(Text(0.0, base, plan, SMALL, fill=GREY))
    if blank:
        x = width_of(plan, SMALL) + 0.15
        for words, end in (("sewn by", width - 1.0), ("day", width)):
            items.append(Text(x, base, words, SMALL, fill=GREY))
            x += width_of(words, SMALL) + 0.05
            items.append(Line(x, base + 0.02, end, base + 0.02, GREY, 0.6))
            x = end + 0.08
    else:
        strap = kilt.write(kilt.level(LevelName.STRAP).below_top)
        words = f"strap {strap}, hip {kilt.write(job.sizes.fell)} from the top"
        items.append(Text(width, base, words, SMALL, "end", fill=GREY))
    return items, top + 0.41


def _middle(y: float) -> float:
    """The baseline of a row that begins at y."""
    return y + ROW / 2 + BODY * CAPITALS / POINTS / 2


def _row(
    kilt: Kilt, row: CardRow, y: float, edges: tuple[float, ...], width: float, *, blank: bool
) -> list[Item]:
    base = _middle(y)
    items: list[Item] = [
        Rect(0.02, y + (ROW - BOX) / 2, BOX, BOX, stroke=GREY, weight=0.8),
        Text(edges[0], base, str(row.pleat), BODY, "end", True),
    ]
    if blank:
        return [
            *items,
            *(Line(edge - 0.5, base + 0.025, edge, base + 0.025, HAIR, 0.6) for edge in edges[1:]),
        ]
    values = (row.hip, row.strap, row.hip_total, row.strap_total)
    for number, (value, edge) in enumerate(zip(values, edges[1:], strict=True)):
        items += figure(edge, base, _bare(kilt, value), BODY, "end", bold=number < 2)
    return [*items, Line(0.0, y + ROW, width, y + ROW, HAIR, 0.4)]


def _measure(
    kilt: Kilt, row: CardRow, y: float, edges: tuple[float, ...], width: float, *, blank: bool
) -> list[Item]:
    """Stop here and measure: what is to be found, or room for it."""
    base = _middle(y)
    words = "found" if blank else "measure here"
    items: list[Item] = [
        Rect(0.0, y, width, ROW, fill=ACCENT_PALE),
        Text(0.06, base, words, BODY, bold=True, fill=ACCENT),
    ]
    for value, edge in zip((row.hip_total, row.strap_total), edges[3:], strict=True):
        if blank:
            items.append(Line(edge - 0.65, base + 0.03, edge, base + 0.03, GREY, 0.7))
        else:
            items += figure(edge, base, _bare(kilt, value), BODY, "end")
    return items


def _bare(kilt: Kilt, value: Fraction) -> str:
    """A length without its unit where the heading gives it."""
    return kilt.write(value).removesuffix(" mm")
