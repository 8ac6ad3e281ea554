"""The inside: cloth cut out of the folds, stabiliser, interfacing, lining, loops."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.values import FoldCut, Folds, Inside, Loop, Panel, Strap
from pleatwright.bench.ruler import grid_of
from pleatwright.layout import Option, Request, Strip
from pleatwright.lengths import on_grid, write_length
from pleatwright.pleats import Form, deepest_fold
from pleatwright.wearer import LevelName

FOLDS_BETWEEN = {Form.BOX: 2}
"""Deep folds between two neighbours, where it is not one."""
BELOW_STRAP = Fraction(1, 4)
"""Inches of interfacing below a strap, at least [our choice]."""


def inside(
    option: Option, shape: Shape, straps: tuple[Strap, ...], request: Request, *, child: bool
) -> Inside:
    """All of it; a child's kilt keeps its folds whole, for it is let out again."""
    ours = request.settings.closing
    folds = _folds(option, shape, request, child=child)
    interfacing = _interfacing(shape, straps, request)
    return Inside(
        folds=folds,
        stabiliser=_stabiliser(shape, folds, request),
        interfacing=interfacing,
        lining=_lining(shape, folds, interfacing, request),
        loops=_loops(shape, request),
        fringe=ours.fringe,
        under_lift=ours.under_lift,
    )


def _folds(option: Option, shape: Shape, request: Request, *, child: bool) -> Folds:
    """Above the hip line cloth may be cut out; the cut stops well above the fell's end [our choice: how far].

    Never in a kilt that will be let out; never in the fold that hides a join's seam.
    """
    ours, sizes = request.settings.closing, shape.sizes
    hip, line = (sizes.level(name).below_top for name in (LevelName.HIP, LevelName.STRAP))
    stop = hip - ours.fold_cut_clear
    kept = ""
    if child:
        kept = "a child's kilt is let out again"
    elif ours.let_out_later == "yes":
        kept = "this kilt is to be let out later"
    elif stop <= line:
        kept, stop = "the fell is too short for it", line
    cuts = tuple(_fold(option, shape, pair, ours.fold_left, stop, kept) for pair in pairwise(option.strips))
    if not kept and all(cut.kept for cut in cuts):
        kept = "no fold is deep enough for it"
    area = 0.0
    if not kept:
        heights = [Fraction(0), *(h for h in shape.fell_heights if 0 < h < stop), stop]
        for one, cut in zip(pairwise(option.strips), cuts, strict=True):
            if not cut.kept:
                outs = [_cut_out(option, shape, one, ours.fold_left, height) for height in heights]
                area += sum(
                    float(low - high) * (a + b) / 2
                    for (high, low), (a, b) in zip(pairwise(heights), pairwise(outs), strict=True)
                )
    return Folds(stop, hip, ours.fold_left, cuts, area, kept)


def _fold(
    option: Option, shape: Shape, pair: tuple[Strip, Strip], left: Fraction, stop: Fraction, kept: str
) -> FoldCut:
    sizes = shape.sizes
    hip, line = (sizes.level(name).below_top for name in (LevelName.HIP, LevelName.STRAP))
    join = None if option.cloth is None else option.cloth.join
    centres = sorted(strip.centre for strip in pair)
    if not kept and join is not None and centres[0] < join.tape < centres[1]:
        kept = "it hides the join's seam"
    bottom = 0.0 if kept else _cut_out(option, shape, pair, left, stop)
    top = 0.0 if kept else _cut_out(option, shape, pair, left, Fraction(0))
    if not kept and not top + bottom:
        kept = "it is too shallow"
    return FoldCut(
        min(strip.number for strip in pair),
        _depth(option, shape, pair, line),
        _depth(option, shape, pair, hip),
        top,
        bottom,
        kept,
    )


def _depth(option: Option, shape: Shape, pair: tuple[Strip, Strip], below_top: Fraction) -> float:
    """How far the (deep) fold between two neighbours goes under at a height."""
    reveal = float(shape.reveal(below_top))
    faces = sum(strip.face for strip in pair) / 2
    hidden = abs(pair[1].centre - pair[0].centre) - faces * reveal
    return deepest_fold(option.form, hidden, reveal)


def _cut_out(
    option: Option, shape: Shape, pair: tuple[Strip, Strip], left: Fraction, below_top: Fraction
) -> float:
    """Cloth cut out at a height, flat: what lies deeper than is left inside the seam, both layers."""
    deeper = max(0.0, _depth(option, shape, pair, below_top) - float(left))
    return 2 * FOLDS_BETWEEN.get(option.form, 1) * deeper


def _stabiliser(shape: Shape, folds: Folds, request: Request) -> Panel:
    """Its lower edge lies on the end of the cut; where nothing is cut it backs the buckles."""
    ours = request.settings.closing
    tall = ours.stabiliser_height
    line = shape.sizes.level(LevelName.STRAP).below_top
    top = max(Fraction(0), (line - tall / 2) if folds.kept else folds.cut_below_top - tall)
    wide = on_grid(shape.widest("pleated", top, top + tall) + 2 * ours.turning, grid_of(request))
    words = (
        "across the pleats behind straps and buckles, sewn to every fold"
        if folds.kept
        else "across the pleats, sewn to every fold; its lower edge holds the raw edges at the end of the cut"
    )
    return Panel("stabiliser", wide, wide, tall, top, ours.turning, words)


def _interfacing(shape: Shape, straps: tuple[Strap, ...], request: Request) -> tuple[Panel, ...]:
    """Aprons 10 to 16 cm deep, pleats at least 8 cm [public: askivalofstrathearn.co.uk, quality criteria].

    The over-apron's backs every strap that is sewn to it.
    """
    ours, grid = request.settings.closing, grid_of(request)

    lowest = max(strap.below_top + strap.width / 2 for strap in straps) + BELOW_STRAP

    def panel(name: str, what: str, height: Fraction) -> Panel:
        top, bottom = (on_grid(shape.at(below, what), grid) for below in (Fraction(0), height))
        return Panel(name, top, bottom, height, Fraction(0), Fraction(0), "cut without turnings")

    return (
        panel("over-apron", "over_apron", max(ours.interfacing_apron, lowest)),
        panel("pleats", "pleated", ours.interfacing_pleats),
        panel("under-apron", "under_apron", ours.interfacing_apron),
    )


def _lining(
    shape: Shape, folds: Folds, interfacing: tuple[Panel, ...], request: Request
) -> tuple[Panel, ...]:
    """Three pieces, caught in the top band; the back one has a soft pleat in its middle [our choice]."""
    ours, grid = request.settings.closing, grid_of(request)
    covered = [panel.height for panel in interfacing] + ([] if folds.kept else [folds.cut_below_top])
    deep = max(covered) + ours.lining_below
    ease = write_length(ours.lining_ease, request.units, grid)

    def panel(name: str, what: str, more: Fraction, words: str) -> Panel:
        top, bottom = (
            on_grid(shape.at(below, what) + more + 2 * ours.turning, grid) for below in (Fraction(0), deep)
        )
        return Panel(name, top, bottom, deep + ours.turning, Fraction(0), ours.turning, words)

    plain = "turned in at both sides and below"
    return (
        panel("over-apron", "over_apron", Fraction(0), plain),
        panel("pleats", "pleated", ours.lining_ease, f"{plain}; {ease} lie in a soft pleat in the middle"),
        panel("under-apron", "under_apron", Fraction(0), plain),
    )


def _loops(shape: Shape, request: Request) -> tuple[Loop, ...]:
    """Loops for the sporran belt, evenly over the pleats at the strap line (common practice, no source)."""
    ours = request.settings.closing
    line = shape.sizes.level(LevelName.STRAP).below_top
    wide = shape.pleated(line)
    places = [wide * (2 * i + 1) / (2 * ours.loops) for i in range(ours.loops)]
    return tuple(
        Loop(shape.pleat_at(place, line)[0], place, line, ours.loop_width, ours.loop_height)
        for place in places
    )
