"""A paper tape as long as the kilt's cloth, with every mark along the selvedge at its place."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from pleatwright.bench.marks import Mark, marks
from pleatwright.bench.ruler import ruler_of
from pleatwright.bench.templates.template import Points, Template, Use, Words, box
from pleatwright.layout import Option, Request
from pleatwright.lengths import write_length
from pleatwright.sett import short_name

HEIGHT = Fraction(3, 2)
NUMBER, TEXT = 10.0, 8.0
LANES = 5
LANE = Fraction(3, 16)
REPEATS = Fraction(1, 4)
"""Height of the row of numbered repeats along the tape's upper edge."""

LETTER, FIGURE = Fraction(62, 100), Fraction(74, 100)
"""Widths as a share of the size: a little more than letters, and bold figures, of the packaged font take."""

TICK = Fraction(1, 8)
"""A tick ends this far above the baseline of its words."""

FROM_END = 12
"""The tape begins at the cut end unless the first mark is further in than this many inches."""

GAP = Fraction(1, 20)


def tape_template(option: Option, request: Request) -> Template | None:
    """The tape of one option, its marks numbered as in the mark list; None without a piece of cloth.

    Of the join only the seam line on the first strip is on it: the other is measured before they are one.
    """
    ruler = ruler_of(option, request)
    if ruler is None:
        return None
    listed = [mark for mark in marks(option, request) if mark.axis == "along"]
    seams = [mark for mark in listed if mark.group == "join"]
    places: dict[Fraction, list[Mark]] = {}
    for mark in listed:
        if mark not in seams[1:]:
            places.setdefault(ruler.snapped(mark.tape), []).append(mark)
    first, last = min(places), max(places)
    start = Fraction(0) if first <= FROM_END else Fraction(floor(first - 1))
    end = Fraction(ceil(last + Fraction(1, 2)))
    lines: list[Points] = []
    words: list[Words] = []
    ends = [Fraction(0)] * LANES
    for x, together in sorted(places.items()):
        lines += _placed(x - start, together, words, ends)
    for number, place in enumerate(ruler.repeats, 1):
        at = ruler.snapped(place)
        if start <= at <= end - GAP:
            x = at - start
            lines.append(((x, Fraction(0)), (x, REPEATS)))
            words.append(Words(x + GAP, REPEATS - GAP, f"repeat {number}", TEXT, _room(9, TEXT), bold=True))
    name = short_name(ruler.run.sett, ruler.reference) if ruler.repeats else ""
    where = write_length(start, request.units)
    return Template(
        name="tape",
        use=Use.TAPE,
        title="tape",
        width=end - start,
        height=HEIGHT,
        outline=box(Fraction(0), Fraction(0), end - start, HEIGHT),
        lines=tuple(lines),
        words=tuple(words),
        notes=(
            "Its left end is the cut end. " if not start else f"Its left end lies {where} from the cut end. "
        )
        + (f"The repeats along its upper edge: the centre of {name}." if name else ""),
    )


def _placed(x: Fraction, together: list[Mark], words: list[Words], ends: list[Fraction]) -> list[Points]:
    """The tick of one place, up from the tape's lower edge to its words; `ends` are the lanes' own ends.

    It goes below the lowest words still running on, so that its tick crosses none; where there is no
    lane below, into the lowest free one; where none is free, its words are moved on to where one is.
    """
    numbers = ", ".join(str(mark.number) for mark in together)
    text = f"{together[0].group}, {together[0].what}"
    figures = len(numbers) * FIGURE * Fraction(NUMBER) / 72
    at = x + GAP
    free = [lane for lane in range(LANES) if ends[lane] <= x]
    if not free:
        lane = min(range(LANES), key=lambda one: (ends[one], -one))
        at = ends[lane]
    elif free[-1] == LANES - 1:
        lane = next(one for one in free if set(range(one, LANES)) <= set(free))
    else:
        lane = free[-1]
    base = REPEATS + LANE * (lane + 1)
    words.append(Words(at, base, numbers, NUMBER, figures, bold=True))
    words.append(Words(at + figures, base, text, TEXT, _room(len(text), TEXT)))
    ends[lane] = at + figures + words[-1].room + GAP
    return [((x, HEIGHT), (x, base - TICK))]


def _room(letters: int, size: float) -> Fraction:
    """Inches for so many letters of a size in points."""
    return letters * LETTER * Fraction(size) / 72
