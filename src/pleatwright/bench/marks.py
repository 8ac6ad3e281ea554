"""The mark list: every chalk mark in the maker's working order (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from pleatwright.bench.regions import Part, folded_at_hip, strip_edges
from pleatwright.bench.ruler import Place, Ruler, grid_of, ruler_across, ruler_of
from pleatwright.layout import Apron, Option, Request, Strip
from pleatwright.lengths import NOISE_DIGITS, on_grid, write_length
from pleatwright.pleats import TO_THE_SETT
from pleatwright.wearer import LevelName

Axis = Literal["along", "across"]

EDGE_LEVELS = (LevelName.BOTTOM, LevelName.HIP, LevelName.STRAP, LevelName.TOP)


@dataclass(frozen=True)
class Mark:
    """One chalk mark, three ways; every figure is in inches and on the grid of the request.

    `tape`: from the left cut end, or for levels (axis "across") up from the bottom selvedge.  `repeat`: the
    numbered repeat it is measured from, 0 where there is none.  `from_repeat`: to the right (or up) of it,
    negative to the left.
    """

    number: int
    group: str
    what: str
    axis: Axis
    tape: float
    repeat: int
    from_repeat: float
    words: str


@dataclass(frozen=True)
class _Wanted:
    """A place along the piece that is to be marked; `note` is added to its words.

    `own`: its tape position on a strip of its own, before that is joined.
    """

    group: str
    what: str
    x: float
    note: str = ""
    own: float | None = None


def marks(option: Option, request: Request) -> tuple[Mark, ...]:
    """Every mark in working order; only the levels while there is no piece of cloth.

    Levels; the join; over-apron, top band, deep pleat; first, second and last pleat; strap hole; reverse
    pleat, under-apron, far end; to the sett, every pleat's centre as a check before sewing.
    """
    return tuple(mark for mark, _ in marks_at(option, request))


@lru_cache(maxsize=8)  # one packet asks for them from many pages
def marks_at(option: Option, request: Request) -> tuple[tuple[Mark, float], ...]:
    """`marks`, each with its exact position in inches: tape as the strip is sewn, or height for levels."""
    levels = tuple((mark, mark.tape) for mark in _levels(option, request))
    ruler = ruler_of(option, request)
    if ruler is None:
        return levels
    wanted = (
        *_join(option, request),
        *_apron("over-apron", option.over_apron, option, request),
        *_top_band(option, request),
        _fold(Part.DEEP_PLEAT, option, request),
        *_pleats(option),
        *_strap_hole(option),
        _fold(Part.REVERSE_PLEAT, option, request),
        *_apron("under-apron", option.under_apron, option, request),
        *_far_end(option),
        *_check(option),
    )
    return (
        *levels,
        *((_marked(ruler, at, number), at.x) for number, at in enumerate(wanted, len(levels) + 1)),
    )


def _marked(ruler: Ruler, wanted: _Wanted, number: int) -> Mark:
    place = ruler.place(wanted.x)
    if wanted.own is not None:
        tape = ruler.snapped(wanted.own)
        place = Place(tape, 0, tape, place.words.partition(", ")[2])  # its repeats have no numbers yet
    words = "; ".join(part for part in (place.words, wanted.note) if part)
    return Mark(
        number,
        wanted.group,
        wanted.what,
        "along",
        float(place.tape),
        place.repeat,
        float(place.from_repeat),
        words,
    )


def _join(option: Option, request: Request) -> list[_Wanted]:
    """The seam line on both strips, before anything else along the cloth: it makes them one to measure on."""
    join = None if option.cloth is None else option.cloth.join
    if join is None:
        return []
    grid = grid_of(request)
    allowance = write_length(request.settings.cloth.seam_allowance, request.units, grid)
    return [
        _Wanted("join", "seam line on the first strip", join.first_cut, f"{allowance} of seam lie beyond it"),
        _Wanted(
            "join",
            "seam line on the second strip",
            join.tape,
            "as on the first strip, from the second one's new left end, the strip turned by 180° and face "
            "up; once they are joined, measure on along the joined cloth",
            join.second_at,
        ),
    ]


def _levels(option: Option, request: Request) -> tuple[Mark, ...]:
    """Top edge, strap line, hip line and the hem's fold; positions up from the selvedge, and from the top.

    Of two strips of which one is hemmed, so that the horizontals meet, each has its own.
    """
    join = option.join
    if join is None or not join.hem:
        return tuple(_levels_of(request, 0.0, "", 1))
    first = tuple(_levels_of(request, join.hem_first, "first", 1))
    return (*first, *_levels_of(request, join.hem_second, "second", len(first) + 1))


def _levels_of(request: Request, hem: float, strip: str, start: int) -> Iterator[Mark]:
    """The levels of one strip, `hem` inches of it below the kilt's own cloth; numbered from `start` on."""
    sizes, grid = request.sizes, grid_of(request)
    top = float(sizes.total) + hem
    of = f" of the {strip} strip" if strip else ""
    wanted = [
        (f"top edge{of}, where {'it' if strip else 'the strip'} is ripped", Fraction(0)),
        (f"strap line{of}", sizes.level(LevelName.STRAP).below_top),
        (f"hip line{of}, the end of the fell", sizes.level(LevelName.HIP).below_top),
    ]
    if sizes.hem or hem:
        wanted.append((f"fold of the hem{of}", sizes.level(LevelName.BOTTOM).below_top))
    ruler = ruler_across(request)
    total = on_grid(round(top, NOISE_DIGITS), grid)
    for number, (what, below) in enumerate(wanted, start):
        place = top - float(below)
        up = on_grid(round(place, NOISE_DIGITS), grid)
        down = write_length(total - up, request.units, grid)
        words = f"{down} down from the top edge" if below else "the whole height above the selvedge"
        repeat, origin = 0, Fraction(0)
        if strip == "second":  # its repeats are not numbered, and its selvedge is the piece's other one
            words += "; up from its own selvedge, to the same line of the cloth as on the first strip"
        elif ruler is not None:
            there = ruler.place(place)
            repeat, origin = there.repeat, up - there.from_repeat
            words += f"; {there.words}" if there.words else ""
        words += f"; at both ends and every {'metre' if request.units == 'metric' else 'yard'}"
        yield Mark(number, "levels", what, "across", float(up), repeat, float(up - origin), words)


def _onward(option: Option) -> int:
    """The way along the tape from the over-apron to the under-apron: 1 is to the right."""
    return 1 if option.opens_on == "right" else -1


def _sides(option: Option, left: float, right: float, *, over: bool) -> tuple[float, float]:
    """The outer and the pleat-side one of an apron's two edges."""
    return (left, right) if (_onward(option) > 0) is over else (right, left)


def _apron(group: str, apron: Apron, option: Option, request: Request) -> list[_Wanted]:
    over = group == "over-apron"
    outer, pleat_side = _sides(option, apron.left, apron.right, over=over)
    cut = outer - option.facing if outer < pleat_side else outer + option.facing
    ends = [
        _Wanted(group, "outer edge, as allotted", outer),
        _Wanted(group, "centre", apron.centre),
        _Wanted(group, "pleat-side edge, as allotted", pleat_side),
    ]
    if over:
        facing = write_length(option.facing, request.units, grid_of(request))
        ends.insert(0, _Wanted(group, "cut end", cut, f"{facing} of facing from here"))
    else:
        ends.reverse()
    edges = {edge.level: _sides(option, edge.left, edge.right, over=over) for edge in apron.edges}
    for level in EDGE_LEVELS:
        at = "at the bottom" if level is LevelName.BOTTOM else f"at the {level}"
        pair = [
            _Wanted(group, f"outer edge {at}", edges[level][0]),
            _Wanted(group, f"pleat-side edge {at}", edges[level][1]),
        ]
        ends += pair if over else pair[::-1]
    return ends


def _top_band(option: Option, request: Request) -> list[_Wanted]:
    """The band, cut above the rip so that it carries the stripes it will bind; none if the cloth is narrow.

    Its mark lies exactly at the over-apron's centre (common practice, no source); it is as long as
    aprons and pleats at the top edge, and some to spare, shared by its ends.
    """
    piece, cloth, top = request.piece, request.settings.cloth, request.sizes.level(LevelName.TOP)
    join = option.join
    ripped = float(request.sizes.total) * (1 if join is None else 2) + (0.0 if join is None else join.hem)
    if piece is None or piece.width < ripped + float(cloth.band_height):
        return []
    on, centre = _onward(option), option.over_apron.centre
    outer = centre - on * float(top.over_outer + cloth.band_spare / 2)
    inner = outer + on * float(top.over_apron + top.pleated + top.under_apron + cloth.band_spare)
    height = write_length(cloth.band_height, request.units, grid_of(request))
    above = f"above the rip, in a strip {height} high"
    return [
        _Wanted("top band", "end, at the over-apron", outer, above),
        _Wanted("top band", "mark, at the over-apron's centre", centre, above),
        _Wanted("top band", "end, at the under-apron", inner, above),
    ]


def _fold(part: Part, option: Option, request: Request) -> _Wanted:
    """The inner fold of the deep or the reverse pleat, halfway from apron to pleat at the hip line."""
    apron, pleat = folded_at_hip(option, part)
    cloth = write_length(abs(pleat - apron), request.units, grid_of(request))
    return _Wanted(
        str(part), "inner fold", (apron + pleat) / 2, f"{cloth} of cloth lie in it at the hip line"
    )


def _pleats(option: Option) -> list[_Wanted]:
    """First, second and last pleat: both edges at the hip line, and the centre."""
    named: dict[int, tuple[str, Strip]] = {}
    for group, strip in (
        ("first pleat", option.strips[0]),
        ("second pleat", option.strips[min(1, len(option.strips) - 1)]),
        ("last pleat", option.strips[-1]),
    ):
        named.setdefault(strip.number, (group, strip))
    wanted = []
    for group, strip in named.values():
        left, right = strip_edges(option, strip)
        wanted += [
            _Wanted(group, "left edge at the hip line", left),
            _Wanted(group, "centre", strip.centre),
            _Wanted(group, "right edge at the hip line", right),
        ]
    return wanted


def _strap_hole(option: Option) -> list[_Wanted]:
    """Where the seam between first and second pleat stays open for the strap."""
    if len(option.strips) < 2:
        return []
    first, second = (strip_edges(option, strip, LevelName.STRAP) for strip in option.strips[:2])
    onward = _onward(option) > 0
    note = "centred on the strap line, a little longer than the strap is wide"
    return [
        _Wanted("strap hole", "on the first pleat, at its edge", first[1 if onward else 0], note),
        _Wanted("strap hole", "on the second pleat, at its edge", second[0 if onward else 1], note),
    ]


def _far_end(option: Option) -> list[_Wanted]:
    outer = _sides(option, option.under_apron.left, option.under_apron.right, over=False)[0]
    return [
        _Wanted("far end", "cut end, with the facing", outer + _onward(option) * option.facing),
    ]


def _check(option: Option) -> list[_Wanted]:
    """To the sett every pleat is chalked before the first is sewn."""
    if option.shows not in TO_THE_SETT:
        return []
    return [_Wanted("pleat check", f"pleat {strip.number}, centre", strip.centre) for strip in option.strips]
