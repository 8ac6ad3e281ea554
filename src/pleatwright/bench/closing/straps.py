"""Straps and buckles: where they are sewn, their holes, the waists each hole fits.

The under-apron's strap closes at the hip away from the opening: outside through the hole between first and
second pleat, or inside, which weakens no cloth [public: xmarksthescot.com thread 93707].  The over-apron's
strap closes at the other hip.  Both point to the back; one hole more on both lets the kilt out by one step,
for the round is closed twice over [derived].
"""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.values import ApronName, Buckle, Hole, Strap, StrapHole
from pleatwright.bench.gauges import GaugeList
from pleatwright.bench.ruler import grid_of
from pleatwright.layout import Request
from pleatwright.lengths import on_grid, write_length
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName, Sizes

FIRST_HOLE_CLEAR = Fraction(1, 2)
"""Inches from the apron's edge to the first hole, at least: the tongue must not meet the stitches [ours]."""


def strap_hole(shape: Shape, gauges: GaugeList, request: Request) -> StrapHole | None:
    """The hole between first and second pleat, a little longer than the strap is wide (common practice, no
    source); None where the strap runs inside, or where there is but one pleat.
    """
    ours = request.settings.closing
    if ours.under_strap == "inside" or shape.pleats < 2:
        return None
    line = shape.sizes.level(LevelName.STRAP).below_top
    half = (ours.strap_width + ours.strap_hole_longer) / 2
    return StrapHole(gauges.rows[0].strap, line - half, line + half)


def straps(shape: Shape, hole: StrapHole | None, request: Request, waist: Fraction) -> tuple[Strap, ...]:
    """The straps, the under-apron's first; `waist`: the wearer's, which the chosen hole fits."""
    line, *lower = over_strap_levels(shape.sizes, request.settings)
    over = "right" if request.opens_on == "right" else "left"
    under = "left" if over == "right" else "right"
    made = [
        _strap("under-apron strap", ApronName.UNDER, under, line, shape, hole, request, waist),
        _strap("over-apron strap", ApronName.OVER, over, line, shape, None, request, waist),
    ]
    made += [
        _strap("lower strap", ApronName.OVER, over, level, shape, None, request, waist) for level in lower
    ]
    return tuple(made)


def over_strap_levels(sizes: Sizes, settings: Settings) -> tuple[Fraction, ...]:
    """Inches below the top edge of the over-apron's straps: the strap line, and a third's where it is asked.

    That one lies as far down as set, clear of the hip line; on too short a fell there is none.
    """
    ours = settings.closing
    line, hip = sizes.level(LevelName.STRAP).below_top, sizes.level(LevelName.HIP).below_top
    lowest = hip - ours.strap_width / 2
    wanted = min(line + ours.lower_strap_below, lowest)
    return (line, wanted) if ours.straps > 2 and wanted >= line + 2 * ours.strap_width else (line,)


def _strap(
    name: str,
    apron: ApronName,
    hip: str,
    below_top: Fraction,
    shape: Shape,
    hole: StrapHole | None,
    request: Request,
    waist: Fraction,
) -> Strap:
    ours = request.settings.closing
    under = apron is ApronName.UNDER
    reach = max(ours.strap_reach, (ours.hole - 1) * ours.hole_step + FIRST_HOLE_CLEAR)
    if hole is not None:
        reach = max(reach, hole.from_seam + ours.buckle_clear)
    grid = grid_of(request)
    reach, sewn = on_grid(reach, grid), on_grid(ours.strap_sewn, grid)
    holes = []
    for number in range(1, ours.holes + 1):
        from_edge = on_grid(reach + (number - ours.hole) * ours.hole_step, grid)
        fits = waist + from_edge - reach
        holes.append(Hole(number, from_edge, sewn + from_edge, fits, number == ours.hole))
    inside = under and ours.under_strap == "inside"
    return Strap(
        name=name,
        apron=apron,
        hip=hip,
        below_top=below_top,
        width=ours.strap_width,
        length=holes[-1].from_end + on_grid(ours.strap_tip, grid),
        sewn=sewn,
        reach=reach,
        through_hole=hole is not None,
        inside=inside,
        hole_across=ours.hole_across,
        holes=tuple(holes),
        buckle=_buckle(apron, reach, below_top, shape, request, inside=inside),
        words=_words(apron, hip, through_hole=hole is not None, inside=inside),
    )


def _buckle(
    apron: ApronName, reach: Fraction, below_top: Fraction, shape: Shape, request: Request, *, inside: bool
) -> Buckle:
    """The bar lies under the chosen hole when aprons and pleats close exactly round the body.

    The under-apron's edge then meets the over-apron's seam; the over-apron's edge laps over the last pleats.
    """
    grid = grid_of(request)

    def words(seam: str, from_seam: Fraction, pleat: int, beyond: Fraction, step: int) -> str:
        """`step`: to the pleat that lies further from that seam."""
        wide = shape.edges(below_top)[pleat] - shape.edges(below_top)[pleat - 1]
        near, far = (not on_grid(gap, grid) for gap in (beyond, wide - beyond))
        other = pleat - step if near else pleat + step
        first = write_length(from_seam, request.units, grid)
        if (near or far) and 1 <= other <= shape.pleats:
            low, high = sorted((pleat, other))
            return f"{first} from the {seam}'s seam, on the seam of pleats {low} and {high}"
        past = write_length(beyond, request.units, grid)
        return f"{first} from the {seam}'s seam, on pleat {pleat}, {past} from its near edge"

    where = "; inside, through interfacing and stabiliser" if inside else ""
    if apron is ApronName.UNDER:
        pleat, beyond = shape.pleat_at(reach, below_top)
        return Buckle(reach, pleat, beyond, words("over-apron", reach, pleat, beyond, 1) + where)
    from_seam = shape.sizes.lap + reach
    total = shape.edges(below_top)[-1]
    pleat, _ = shape.pleat_at(total - from_seam, below_top)
    beyond = shape.edges(below_top)[pleat] - (total - from_seam)
    return Buckle(from_seam, pleat, beyond, words("under-apron", from_seam, pleat, beyond, -1))


def _words(apron: ApronName, hip: str, *, through_hole: bool, inside: bool) -> str:
    edge = "free edge" if apron is ApronName.UNDER else "fringed edge"
    way = (
        "out through the hole between first and second pleat"
        if through_hole
        else "inside, behind the pleats,"
        if inside
        else "over the last pleats"
    )
    return f"From the {apron}'s {edge} {way} to the {hip} hip."
