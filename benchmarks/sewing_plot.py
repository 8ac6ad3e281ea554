"""The figures of docs/sewing.md and its picture: ten thousand simulated makers, with and without the log.

Run it to print the tables and to write docs/sewing.svg anew; a test holds both to the page.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from pleatwright.bench.makers import simulate, within
from pleatwright.bench.risk import ends
from pleatwright.lengths import Grid, exact_text, on_grid, spread
from pleatwright.sheets.drawing import INK, Anchor, Item, Line, Page, Polyline, Rect, Text
from pleatwright.sheets.look import GREY, HAIR, WHITE
from pleatwright.sheets.svg import write_svg
from pleatwright.trade import default_settings

SEED, MAKERS = 1, 10_000
PLEATS = 27
HIP, STRAP = Fraction(41, 2), Fraction(17)
"""Pleated widths in inches: hips 41", waist 34", half of each in the aprons."""
SEWING = default_settings().sewing
PICTURE = Path(__file__).parents[1] / "docs" / "sewing.svg"

NEVER, PALE_NEVER = "#B35900", "#F0C9A0"
EVERY_4, PALE_4 = "#0B5394", "#A9C8E8"
"""Blue and orange, told apart by every eye, and by their lightness in grey."""
CURVES: tuple[tuple[int | None, str, str, tuple[float, float] | None], ...] = (
    (2, "every 2 pleats", "#5C6570", (0.03, 0.03)),
    (4, "every 4 pleats", EVERY_4, None),
    (9, "every 9 pleats", "#1F2328", (0.1, 0.05)),
    (None, "never", NEVER, None),
)
"""Measured how often, in words, colour, dash and gap in inches."""


def planned(width: Fraction, grid: Grid) -> tuple[Fraction, ...]:
    """The pleats' widths in inches, as the gauge list spreads them."""
    return tuple(size * grid.step for size in spread(int(on_grid(width, grid) / grid.step), PLEATS))


def drawn(every: int | None, grid: Grid = Grid.SIXTEENTH, bias_times: float = 1.0) -> NDArray[np.float64]:
    """How the makers' kilts end, in inches: hip line, strap line."""
    hip, strap = planned(HIP, grid), planned(STRAP, grid)
    return simulate(SEED, MAKERS, hip, strap, grid, SEWING, every, bias_times=bias_times)


def rows() -> tuple[tuple[str, str, int | None, Grid, float], ...]:
    """Every case of the table: maker and tape in words, then what `drawn` takes."""
    usual, twice = "usual hand", "twice the steady error"
    return (
        *((usual, '1/16"', every, Grid.SIXTEENTH, 1.0) for every in (None, 9, 8, 4, 2)),
        (usual, '1/32"', 4, Grid.THIRTYSECOND, 1.0),
        (usual, "1 mm", 4, Grid.MILLIMETRE, 1.0),
        *((twice, '1/16"', every, Grid.SIXTEENTH, 2.0) for every in (None, 8, 4, 2)),
    )


def figures() -> str:
    """The main table, as it stands in docs/sewing.md."""
    good, most = (f'{exact_text(off)}"' for off in (SEWING.off_good, SEWING.off_most))
    heads = [f"{where}, {off}" for off in (good, most) for where in ("hips", "waist", "both")]
    lines = [
        "| maker | tape | measured | " + " | ".join(heads) + " |",
        "| --- | --- | --- | " + " | ".join(["---:"] * len(heads)) + " |",
    ]
    for maker, tape, every, grid, times in rows():
        ended = drawn(every, grid, times)
        cells = [
            _share(ended[:, which], off)
            for off in (SEWING.off_good, SEWING.off_most)
            for which in (slice(0, 1), slice(1, 2), slice(0, 2))
        ]
        when = "never" if every is None else f"every {every}"
        lines.append(f"| {maker} | {tape} | {when} | " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"


def _share(ended: NDArray[np.float64], off: Fraction) -> str:
    share = within(ended, off)
    return f"{share.value * 100:.1f} ± {share.give * 100:.1f}"


def reckoned() -> str:
    """The closed form beside the simulation: kilts in 100 that end further off at one level."""
    good, most = (f'{exact_text(off)}"' for off in (SEWING.off_good, SEWING.off_most))
    lines = [
        "| measured | pleats after the last reading | sd | "
        f"over {good} | simulated | over {most} | simulated |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    for every in (None, 13, 9, 8, 4, 2):
        made = ends(PLEATS, every or 0, SEWING, Grid.SIXTEENTH)
        both = drawn(every).reshape(-1, 1)
        seen = [1 - within(both, off).value for off in (SEWING.off_good, SEWING.off_most)]
        chances = (made.over_good, seen[0], made.over_most, seen[1])
        when = "never" if every is None else f"every {every}"
        cells = " | ".join(f"{chance * 100:.1f}" for chance in chances)
        lines.append(f'| {when} | {made.left} | {made.sd:.3f}" | {cells} |')
    return "\n".join(lines) + "\n"


# --------------------------------------------------------------------------------------------- picture

WIDE, HIGH = 10.0, 5.5
TOP, BOTTOM = 1.85, 4.75
LEFT = (0.45, 4.85)
RIGHT = (5.75, 9.7)
FAR = 1.25
"""Inches of error on either side in the left panel."""
FARTHEST = 0.75
"""Inches of error in the right panel."""


def picture() -> Page:
    """Both panels: the ends' histogram without and with the log, and how many end within how much."""
    who = (
        f'{MAKERS:,} simulated makers; {PLEATS} pleats, {exact_text(STRAP)}" at the strap line. '
        "Every maker sews pleats steadily too wide or too narrow"
    )
    how = (
        f'(standard deviation {exact_text(SEWING.bias)}" a pleat) and unevenly (standard deviation '
        f'{exact_text(SEWING.scatter)}"); the tape is read to 1/16".'
    )
    items: list[Item] = [
        Rect(0.0, 0.0, WIDE, HIGH, fill=WHITE),
        Text(LEFT[0], 0.45, "How far the waist ends from its mark", 18, bold=True),
        Text(LEFT[0], 0.74, who, 10, fill=GREY),
        Text(LEFT[0], 0.94, how, 10, fill=GREY),
        *_histogram(),
        *_shares(),
    ]
    return Page(WIDE, HIGH, tuple(items), "How far the waist ends from its mark")


def _histogram() -> list[Item]:
    left, right = LEFT
    scale = (right - left) / (2 * FAR)
    middle = (left + right) / 2
    edges = np.arange(-FAR, FAR + 1e-9, 1 / 16)
    items: list[Item] = [Text(left, TOP - 0.42, "Kilts in each sixteenth of an inch", 11, bold=True)]
    counts = {every: np.histogram(drawn(every)[:, 1], edges)[0] / MAKERS for every in (None, 4)}
    up = (BOTTOM - TOP) / (max(part.max() for part in counts.values()) * 1.02)
    for every, fill, stroke, below in ((4, PALE_4, EVERY_4, -0.07), (None, PALE_NEVER, NEVER, 0.28)):
        points: list[tuple[float, float]] = []
        for edge, share in zip(edges[:-1], counts[every], strict=True):
            x, y = middle + float(edge) * scale, BOTTOM - float(share) * up
            points += [(x, y), (x + scale / 16, y)]
        outline = ((points[0][0], BOTTOM), *points, (points[-1][0], BOTTOM))
        items.append(Polyline(outline, stroke, 1.0, True, fill))
        highest, said = BOTTOM - float(counts[every].max()) * up, f"{counts[every].max() * 100:.0f} in 100"
        items.append(Text(middle, highest + below, said, 10, "middle", fill=stroke))
    items.append(Line(left, BOTTOM, right, BOTTOM, INK, 0.9))
    for quarter in range(-4, 5, 2):
        x = middle + quarter / 4 * scale
        items += _tick(x, _inches(Fraction(abs(quarter), 4)))
    items += [
        Text(left, BOTTOM + 0.5, "too narrow", 10, fill=GREY),
        Text(right, BOTTOM + 0.5, "too wide", 10, "end", fill=GREY),
        Text(middle + 0.36, TOP + 0.3, "measured every 4 pleats,", 11, bold=True, fill=EVERY_4),
        Text(middle + 0.36, TOP + 0.5, "the rest re-spread", 11, bold=True, fill=EVERY_4),
        Text(middle + 0.62, BOTTOM - 0.62, "never measured", 11, bold=True, fill=NEVER),
    ]
    return items


def _marks() -> tuple[tuple[Fraction, str, Anchor], ...]:
    return ((SEWING.off_good, "good work ", "end"), (SEWING.off_most, " refit beyond", "start"))


def _shares() -> list[Item]:
    left, right = RIGHT
    scale, up = (right - left) / FARTHEST, BOTTOM - TOP
    items: list[Item] = [Text(left - 0.35, TOP - 0.42, "Kilts in 100 that end within …", 11, bold=True)]
    for share in range(0, 101, 25):
        y = BOTTOM - share / 100 * up
        items += [
            Line(left, y, right, y, HAIR, 0.5),
            Text(left - 0.08, y + 0.05, str(share), 10, "end", fill=GREY),
        ]
    for off, said, anchor in _marks():
        x = left + float(off) * scale
        items.append(Line(x, TOP - 0.06, x, BOTTOM, GREY, 0.7, (3, 2)))
        items.append(Text(x, TOP - 0.12, said, 9.5, anchor, fill=GREY))
    offs = np.linspace(0, FARTHEST, 97)
    for every, _, stroke, dash in reversed(CURVES):
        ended = np.sort(np.abs(drawn(every)[:, 1]))
        shares = np.searchsorted(ended, offs, side="right") / MAKERS
        items += _curve(left + offs * scale, BOTTOM - shares * up, stroke, dash)
    for eighth in range(7):
        items += _tick(left + eighth / 8 * scale, _inches(Fraction(eighth, 8)))
    items.append(Text((left + right) / 2, BOTTOM + 0.5, "of the mark, either way", 10, "middle", fill=GREY))
    x, y = left + 0.4 * scale, TOP + 0.66 * up
    items.append(Rect(x - 0.05, y - 0.4, right - x, 0.4 + 4 * 0.24, fill=WHITE))
    items.append(Text(x, y - 0.23, "measured while sewing:", 10, fill=GREY))
    for number, (_, said, stroke, dash) in enumerate(CURVES):
        at = y + number * 0.24
        items += _curve(np.array([x, x + 0.45]), np.array([at, at]), stroke, dash)
        items.append(Text(x + 0.57, at + 0.055, said, 11, bold=True, fill=stroke))
    return items


def _curve(
    xs: NDArray[np.float64], ys: NDArray[np.float64], stroke: str, dash: tuple[float, float] | None
) -> list[Item]:
    """A curve through the points, whole or cut into dashes along its length."""
    run = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(xs), np.diff(ys)))])
    cuts = (
        [(0.0, run[-1])]
        if dash is None
        else [(at, at + dash[0]) for at in np.arange(0.0, run[-1], sum(dash))]
    )
    items: list[Item] = []
    for start, end in cuts:
        ways = np.concatenate([[start], run[(run > start) & (run < end)], [min(end, run[-1])]])
        points = zip(np.interp(ways, run, xs).tolist(), np.interp(ways, run, ys).tolist(), strict=True)
        items.append(Polyline(tuple(points), stroke, 2.0))
    return items


def _tick(x: float, said: str) -> list[Item]:
    return [Line(x, BOTTOM, x, BOTTOM + 0.07, INK, 0.9), Text(x, BOTTOM + 0.26, said, 11, "middle")]


def _inches(value: Fraction) -> str:
    return f'{exact_text(value)}"' if value else "0"


def main() -> None:
    """Print the tables, write the picture."""
    print(figures())
    print(reckoned())
    PICTURE.write_text(write_svg(picture()), encoding="utf-8")


if __name__ == "__main__":
    main()
