"""The last measures: what is measured on the finished kilt, what it should be, what is allowed."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.values import ApronName, Band, Measure, Strap
from pleatwright.lengths import on_grid
from pleatwright.order import Job
from pleatwright.wearer import LevelName


def measures(job: Job, shape: Shape, band: Band, straps: tuple[Strap, ...]) -> tuple[Measure, ...]:
    """Every one, in the order they are taken; the kilt closed at the chosen holes, then laid flat.

    Good work ends within 1/8" [public: niceold.com/kiltmaking, 14 May 2012]; the bottom edge measures at
    most 2.5 cm more than the seat [public: thistlebraekilts.com.au].  What may be off lies on the tape's
    grid as what is wanted does, so that every limit is exactly as far from it as is said.
    """
    sizes, settings = shape.sizes, job.request.settings
    ours = settings.closing
    good, most = (on_grid(off, job.grid) for off in (settings.sewing.off_good, settings.sewing.off_most))
    top, strap, hip, bottom = (
        sizes.level(name) for name in (LevelName.TOP, LevelName.STRAP, LevelName.HIP, LevelName.BOTTOM)
    )
    step = job.grid.step

    def near(group: str, what: str, where: str, wanted: Fraction) -> Measure:
        it = on_grid(wanted, job.grid)
        return Measure(group, what, where, it, it - good, it + good, it - most, it + most)

    def within(
        group: str, what: str, where: str, wanted: Fraction, least: Fraction, greatest: Fraction
    ) -> Measure:
        return Measure(group, what, where, wanted, least, greatest, least, greatest)

    seat = on_grid(hip.round, job.grid)
    beyond = seat + ours.bottom_beyond_seat
    body = job.body
    lengths = [("in front", body.drop)]
    lengths += [("at the sides", body.drop_side if body.drop_side is not None else sizes.drop)]
    lengths += [("at the back", body.drop_back if body.drop_back is not None else sizes.drop)]
    closed = [near("round, straps closed", "waist", "along the strap line", strap.round)]
    if top.round != strap.round:
        closed.append(near("round, straps closed", "top edge", "along the top edge", top.round))
    closed += [
        near("round, straps closed", "hips", "along the hip line", hip.round),
        within(
            "round, straps closed",
            "bottom edge",
            "along the selvedge" if not sizes.hem else "along the hem",
            min(bottom.round, beyond),
            seat - good,
            beyond,
        ),
    ]
    flat = [
        near("laid flat", "over-apron at the strap line", "", strap.over_apron),
        near("laid flat", "over-apron at the hip line", "", hip.over_apron),
        near("laid flat", "pleats at the strap line", "", strap.pleated),
        near("laid flat", "pleats at the hip line", "", hip.pleated),
        near("laid flat", "under-apron at the strap line", "", strap.under_apron),
        near("laid flat", "under-apron at the hip line", "", hip.under_apron),
    ]
    long = [
        near("length, hanging", where, "top edge to bottom edge", drop + sizes.rise)
        for where, drop in lengths
    ]
    long += [
        near("length, hanging", "end of the fell", "below the top edge", hip.below_top),
        within(
            "length, hanging",
            "under-apron's free edge",
            "lifted by",
            ours.under_lift,
            Fraction(0),
            on_grid(ours.under_lift, job.grid) + good,
        ),
        within(
            "length, hanging",
            "stripes",
            "off level at the apron edges",
            Fraction(0),
            Fraction(0),
            ours.stripes_off,
        ),
    ]
    finish = [
        within(
            "finish",
            "top band showing",
            "outside, all along",
            band.showing,
            ours.band_showing_least,
            ours.band_showing_most,
        ),
        within(
            "finish", "fringe", "beyond the over-apron's edge", ours.fringe, Fraction(0), ours.fringe_most
        ),
    ]
    for one in straps:
        line, buckle = (on_grid(at, job.grid) for at in (one.below_top, one.buckle.from_seam))
        seam = "over-apron" if one.apron is ApronName.UNDER else "under-apron"
        finish += [
            within(
                "finish",
                one.name,
                "middle below top edge",
                line,
                line - step,
                line + step,
            ),
            within(
                "finish",
                f"buckle, {one.hip} hip",
                f"from {seam}",
                buckle,
                buckle - good,
                buckle + good,
            ),
        ]
    return (*closed, *flat, *long, *finish)
