"""Templates as narrow as a pleat: the gauges that are to be made, and one pleat's taper."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby, pairwise

from pleatwright.bench.drawer import Gauge, Reading, exact_size
from pleatwright.bench.gauges import GaugeList, GaugeRow
from pleatwright.bench.templates.template import Template, Use, Words, box, slug
from pleatwright.layout import Option, Request
from pleatwright.lengths import Units
from pleatwright.wearer import LevelName, Sizes, Taper

INSET = Fraction(1, 16)
"""White on either side of what is written on a card."""

FACE = 14.0
NOTE = 8.0


def gauge_templates(gauges: GaugeList, units: Units) -> tuple[Template, ...]:
    """A blank for every gauge that does not lie in the drawer, exactly as long as the rise.

    Held to the top edge, its other end is the strap line: the end of a man's taper (common practice, no
    source).
    """
    return tuple(_gauge(gauge, units) for gauge in gauges.gauges if not gauge.owned)


def _gauge(gauge: Gauge, units: Units) -> Template:
    middle, room = gauge.width / 2, gauge.width - 2 * INSET
    words: list[Words] = []
    y = Fraction(3, 8)
    for reading in Reading:
        use = gauge.read(reading)
        if use is None:
            continue
        big = FACE if reading is Reading.BETWEEN else FACE - 3
        words.append(Words(middle, y, exact_size(use.size, units), big, room, "middle", bold=True))
        words.append(Words(middle, y + Fraction(3, 16), str(reading), NOTE, room, "middle"))
        y += Fraction(9, 16)
    words.append(Words(middle, gauge.length - INSET, "strap line", NOTE, room, "middle"))
    size = exact_size(gauge.width, units)
    return Template(
        name=f"gauge-{slug(gauge.width, units)}",
        use=Use.GAUGES,
        title=f"gauge {size}",
        width=gauge.width,
        height=gauge.length,
        outline=box(Fraction(0), Fraction(0), gauge.width, gauge.length),
        words=tuple(word for word in words if word.y < gauge.length),
    )


def taper_templates(gauges: GaugeList, option: Option, request: Request) -> tuple[Template, ...]:
    """One pleat from the top edge to the hip line, for every pair of widths that comes up in this kilt.

    Tartan tapers equally from both sides, so the stripe stays in the middle.
    """
    found: dict[tuple[Fraction, Fraction], list[GaugeRow]] = {}
    for row in gauges.rows:
        found.setdefault((row.hip, row.strap), []).append(row)
    return tuple(
        _taper(rows, option, request)
        for _, rows in sorted(found.items(), key=lambda item: item[0], reverse=True)
    )


def _taper(rows: list[GaugeRow], option: Option, request: Request) -> Template:
    row, sizes, units = rows[0], request.sizes, request.units
    across = pleat_widths(row, option, sizes)
    wide = max(across.values())
    middle = wide / 2
    down = {name: sizes.level(name).below_top for name in across}
    left = [(middle - across[name] / 2, down[name]) for name in across]
    right = [(middle + across[name] / 2, down[name]) for name in across]
    words = []
    for name, y in down.items():
        base = y + Fraction(3, 16) if name is LevelName.TOP else y - Fraction(1, 16)
        label = exact_size(across[name], units) if name in (LevelName.HIP, LevelName.STRAP) else str(name)
        room = across[name] - 2 * INSET
        words.append(
            Words(middle, base, label, FACE - 3 if '"' in label else NOTE, room, "middle", bold=True)
        )
        if name in (LevelName.HIP, LevelName.STRAP):
            words.append(Words(middle, base - Fraction(3, 16), str(name), NOTE, room, "middle"))
    hip, strap = exact_size(row.hip, units), exact_size(row.strap, units)
    levels = tuple((left[i], right[i]) for i in range(1, len(left) - 1))
    broken = (Fraction(1, 4), *(down[name] for name in (LevelName.STRAP, LevelName.MID, LevelName.HIP)))
    middles = tuple(
        ((middle, start + INSET), (middle, end - Fraction(7, 16)))
        for start, end in pairwise(broken)
        if end - start > Fraction(3, 4)
    )
    return Template(
        name=f"taper-{slug(row.hip, units)}-to-{slug(row.strap, units)}",
        use=Use.TAPER,
        title=f"{hip} to {strap}",
        width=wide,
        height=sizes.fell,
        outline=(left[0], *right, *reversed(left[1:])),
        lines=levels,
        guides=middles,
        words=tuple(words),
        notes=f"{'pleat' if len(rows) == 1 else 'pleats'} {listed([row.pleat for row in rows])}",
    )


def pleat_widths(row: GaugeRow, option: Option, sizes: Sizes) -> dict[LevelName, Fraction]:
    """One pleat's width at the levels of the fell, from the top down, in inches.

    At hip and strap line as the gauges mark it; straight between.  Above the strap line a man's goes on
    parallel, a woman's in its own straight line (common practice, no source); what the top edge is
    let out over that is shared by all pleats.
    """
    top, strap, mid, hip = (
        sizes.level(name) for name in (LevelName.TOP, LevelName.STRAP, LevelName.MID, LevelName.HIP)
    )
    beyond = (
        strap.below_top / (hip.below_top - strap.below_top) if sizes.taper is Taper.WOMAN else Fraction(0)
    )
    let_out = top.pleated - (strap.pleated + (strap.pleated - hip.pleated) * beyond)
    strip = next(one for one in option.strips if one.number == row.pleat)
    share = Fraction(strip.face) / sum(Fraction(one.face) for one in option.strips)
    way = (mid.below_top - strap.below_top) / (hip.below_top - strap.below_top)
    return {
        LevelName.TOP: row.strap + (row.strap - row.hip) * beyond + let_out * share,
        LevelName.STRAP: row.strap,
        LevelName.MID: row.strap + (row.hip - row.strap) * way,
        LevelName.HIP: row.hip,
    }


def listed(numbers: list[int]) -> str:
    """Rising numbers in words: `1, 3 to 5, 9`."""
    runs = []
    for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        together = [number for _, number in run]
        runs.append(
            f"{together[0]} to {together[-1]}" if len(together) > 2 else ", ".join(map(str, together))
        )
    return ", ".join(runs)
