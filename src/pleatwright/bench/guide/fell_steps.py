"""The fell: gauges, every pleat sewn and measured, then the aprons (common practice, no source).

Sewing runs from the hip line up to the top edge, towards the maker's other hand, the pleat to be sewn away
from the body [our choice].
"""

from __future__ import annotations

from collections.abc import Iterator

from pleatwright.bench.check_expected import ON_CLOTH
from pleatwright.bench.guide.card import CardRow
from pleatwright.bench.guide.kilt import IRON, IRON_OFF, LIGHT, NEEDLES, Kilt
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.bench.regions import Part
from pleatwright.pleats import Form
from pleatwright.wearer import LevelName

SEWING = ("needle", "thread", "thimble", "gauges", "tape")


def fell_steps(kilt: Kilt) -> Iterator[Step]:
    """In the maker's order: over-apron first or last, from the first pleat or from the last one."""
    apron_first = kilt.job.sewn_first == "over-apron"
    yield _gauges(kilt)
    if apron_first:
        yield _over_apron(kilt)
    if kilt.begin == "first":
        yield _strap_hole(kilt, first=True)
        yield _on(kilt)
        yield _whole(kilt)
    else:
        yield _last_pleat_first(kilt)
        yield _on(kilt)
        yield _strap_hole(kilt, first=False)
        yield _whole(kilt)
    if not apron_first:
        yield _over_apron(kilt)
    yield _reverse_pleat(kilt)
    yield _under_apron(kilt)


def _gauges(kilt: Kilt) -> Step:
    sizes = kilt.gauges.sizes
    do = [
        f"Lay the gauge on each {kilt.pleat}, its middle on the {kilt.pleat}'s own centre, and chalk along "
        "both edges at the hip line and at the strap line.",
        "Join the two with a chalk line: it is the line of the seam. Above the strap line "
        + (
            "go on in the same straight line."
            if kilt.job.sizes.taper == "woman"
            else "go straight up."
            if kilt.level(LevelName.TOP).pleated == kilt.level(LevelName.STRAP).pleated
            else "let it open a little again."
        ),
    ]
    if kilt.job.sizes.belly:
        do.append(f"The {kilt.pleats} widen upward here: the gauge at the strap line is the wider one.")
    if kilt.option.form is Form.CENTRE_BOX:
        do.append("The box has gauges of its own.")
    figures = [
        Figure(
            kilt.write(size.size),
            ", ".join(
                text
                for text in (
                    f"{size.at_hip} at the hip line" if size.at_hip else "",
                    f"{size.at_strap} at the strap line" if size.at_strap else "",
                )
                if text
            ),
        )
        for size in sizes
    ]
    first = kilt.rows[0]
    return Step(
        Chapter.FELL,
        "Chalk the gauges",
        Drawn.GAUGE,
        tuple(do),
        kilt.proof(
            f"{kilt.pleat} {first.pleat} between its lines, at the hip line", first.hip, kilt.job.grid.step
        ),
        tuple(figures),
        ("gauges", "sharp chalk", "sewing card"),
        (LIGHT,),
    )


def _how_to_sew(kilt: Kilt) -> str:
    top, other = ("left", "right to left") if kilt.right_handed else ("right", "left to right")
    return (
        f"Turn the kilt, its top edge to your {top}. Sew from the hip line up to the top edge, {other}, with "
        "small stitches through the fold's edge."
    )


def _stitches(kilt: Kilt) -> Figure:
    per_inch = kilt.job.request.settings.closing.stitches_an_inch
    if kilt.job.units == "metric":
        return Figure("stitches to 2 cm", f"{per_inch * 2 / 2.54:.0f}")
    return Figure("stitches an inch", f"{per_inch:g}")


def _over_apron(kilt: Kilt) -> Step:
    do = (
        f"Lay the over-apron's edge on the chalk line of the first {kilt.pleat} and pin it at top edge, "
        "strap line and hip line.",
        _how_to_sew(kilt),
        f"The apron's horizontals run on into the {kilt.pleat} without a step.",
    )
    figures = tuple(
        kilt.figure(f"over-apron, {name}", kilt.level(name).over_apron)
        for name in (LevelName.TOP, LevelName.STRAP, LevelName.HIP)
    )
    return Step(
        Chapter.FELL,
        f"Sew the over-apron to the first {kilt.pleat}",
        Drawn.APRON_SEAM,
        do,
        kilt.proof("over-apron at the strap line", kilt.level(LevelName.STRAP).over_apron, ON_CLOTH),
        (*figures, _stitches(kilt)),
        SEWING,
        (NEEDLES, LIGHT),
    )


def _named(row: CardRow, kilt: Kilt) -> tuple[Figure, ...]:
    return (
        kilt.figure(f"{kilt.pleat} {row.pleat}, hip line", row.hip),
        kilt.figure(f"{kilt.pleat} {row.pleat}, strap line", row.strap),
    )


def _strap_hole(kilt: Kilt, *, first: bool) -> Step:
    hole = kilt.closing.strap_hole
    one = kilt.gauges.rows[0]
    row = next(row for row in kilt.rows if row.pleat == one.pleat)
    do = [
        f"Pin the edge of {kilt.pleat} 1 on the chalk line of {kilt.pleat} 2, hip line on hip line.",
        _how_to_sew(kilt) if first else "Sew as before, from the hip line up.",
    ]
    figures = list(_named(row, kilt))
    if hole is None:
        do.append("The strap runs inside: this seam has no hole.")
        proof = kilt.proof(f"{kilt.pleat} 1 at the strap line", row.strap, kilt.job.grid.step)
        title = f"Sew the first {kilt.pleat}"
    else:
        do.append(
            "Stop at the lower mark, fasten with three stitches on one spot, pass inside behind the hole and "
            "begin again at the upper mark."
        )
        figures += [
            kilt.figure("hole: down from the top", hole.top_below),
            kilt.figure("to", hole.bottom_below),
        ]
        proof = kilt.proof("the hole, from end to end", hole.length, kilt.job.grid.step)
        title = f"Sew the first {kilt.pleat}, with the strap hole"
    return Step(
        Chapter.FELL,
        title,
        Drawn.STRAP_HOLE,
        tuple(do),
        proof,
        (*figures, _stitches(kilt)),
        SEWING,
        (NEEDLES, LIGHT),
    )


def _last_pleat_first(kilt: Kilt) -> Step:
    row = kilt.rows[0]
    neighbour = kilt.option.pleats - 1
    do = (
        f"Sewing begins at the last {kilt.pleat}, beside the under-apron.",
        f"Lay the edge of {kilt.pleat} {neighbour} on the chalk line of {kilt.pleat} {row.pleat}, hip line "
        "on hip line, and pin.",
        _how_to_sew(kilt),
    )
    return Step(
        Chapter.FELL,
        f"Sew the last {kilt.pleat}",
        Drawn.LAST_SEAM,
        do,
        kilt.proof(f"{kilt.pleat} {row.pleat} at the strap line", row.strap, kilt.job.grid.step),
        (*_named(row, kilt), _stitches(kilt)),
        SEWING,
        (NEEDLES, LIGHT),
    )


def stops(kilt: Kilt) -> tuple[CardRow, ...]:
    """The pleats after which the sewn width is measured."""
    return tuple(row for row in kilt.rows if row.measure)


def _on(kilt: Kilt) -> Step:
    second = kilt.rows[min(1, len(kilt.rows) - 1)]
    every = kilt.job.request.settings.sewing.measure_every
    do = [
        f"Go on with {kilt.pleat} {second.pleat}, each to its own two gauges from the sewing card.",
        "Pin every seam at hip line, strap line and top: the horizontals meet exactly.",
        f"After every {every} lay the work flat and measure all that is sewn, at both levels.",
        "Where it is off, spread the difference over the next ones, never on one alone.",
    ]
    if kilt.boxed:
        do[0] = (
            f"Go on with {kilt.pleat} {second.pleat}, to its two gauges. Where two panels meet, sew down one "
            "edge and then the other."
        )
    neighbours = kilt.job.request.settings.sewing.neighbours_most
    figures = tuple(
        Figure(
            f"after {kilt.pleat} {row.pleat}", f"{kilt.write(row.hip_total)} · {kilt.write(row.strap_total)}"
        )
        for row in stops(kilt)[:-1]
    )
    measured = stops(kilt)[0]
    return Step(
        Chapter.FELL,
        f"Sew the second {kilt.pleat} and on"
        if kilt.begin == "first"
        else f"Sew on, {kilt.pleat} by {kilt.pleat}",
        Drawn.FELL,
        tuple(do),
        Proof(
            f"sewn after {kilt.pleat} {measured.pleat}, hip line · strap line",
            f"{kilt.write(measured.hip_total)} · {kilt.write(measured.strap_total)}",
            kilt.within(neighbours),
        ),
        (Figure("measured", "hip line · strap line"), *figures),
        SEWING,
        (NEEDLES, LIGHT),
    )


def _whole(kilt: Kilt) -> Step:
    row, sewing = kilt.rows[-1], kilt.job.request.settings.sewing
    gauges = kilt.gauges
    do = (
        f"Sew the last one, {kilt.pleat} {row.pleat}: its far edge stays open until the apron comes to it."
        if kilt.begin == "first"
        else "All seams between the pleats are closed now: fasten every thread.",
        "Lay the fell flat, do not stretch it, and measure it at the hip line and at the strap line.",
        f"More than {kilt.write(sewing.off_most)} off: unpick and sew again. The tape is right.",
        "Steam the fell from inside, under a cloth.",
    )
    return Step(
        Chapter.FELL,
        "The whole fell, measured",
        Drawn.WHOLE_FELL,
        do,
        Proof(
            "whole fell, hip line · strap line",
            f"{kilt.write(gauges.hip_total)} · {kilt.write(gauges.strap_total)}",
            kilt.within(sewing.off_good),
        ),
        (
            Figure(kilt.pleats, str(kilt.option.pleats)),
            kilt.figure("fell, hip line", gauges.hip_total),
            kilt.figure("fell, strap line", gauges.strap_total),
            kilt.figure("length of the fell", kilt.job.sizes.fell),
            Figure("stitches in the fell, about", str(kilt.closing.work.fell_stitches)),
        ),
        ("tape", "needle", "steam iron", "press cloth"),
        (IRON, IRON_OFF),
    )


def _reverse_pleat(kilt: Kilt) -> Step:
    cloth = kilt.cloth_in(Part.REVERSE_PLEAT)
    half = cloth / 2
    do = (
        f"Behind the last {kilt.pleat} the fold turns round: the under-apron's edge points to your "
        f"{kilt.back}, back at the {kilt.pleats}.",
        f"Its cloth goes under the under-apron, {kilt.write(half)} in at the hip line, and comes back to the "
        "edge.",
        "It lets the under-apron lie flat beneath the over-apron. Pin it from top to selvedge.",
    )
    return Step(
        Chapter.FELL,
        "Fold the reverse pleat",
        Drawn.REVERSE_PLEAT,
        do,
        kilt.proof("under-apron's edge to the inner fold, at the hip line", half, ON_CLOTH),
        (kilt.figure("cloth in it, at the hip line", cloth), kilt.figure("half of it", half)),
        ("pins", "basting thread"),
        (NEEDLES,),
    )


def _under_apron(kilt: Kilt) -> Step:
    lift = kilt.closing.inside.under_lift
    do = [
        "Shape its edges as the over-apron's, along the chalk.",
        f"Lay its edge on the last {kilt.pleat}'s chalk line and sew it down from the hip line to the top.",
    ]
    figures = [
        kilt.figure(f"under-apron, {name}", kilt.level(name).under_apron)
        for name in (LevelName.TOP, LevelName.STRAP, LevelName.HIP, LevelName.BOTTOM)
    ]
    if lift:
        do.append(f"Lift its lower edge by {kilt.write(lift)} towards the free end, so that it never shows.")
        figures.append(kilt.figure("lifted by", lift))
    return Step(
        Chapter.FELL,
        "Shape and sew the under-apron",
        Drawn.UNDER_APRON,
        tuple(do),
        kilt.proof("under-apron at the strap line", kilt.level(LevelName.STRAP).under_apron, ON_CLOTH),
        tuple(figures),
        ("iron", "press cloth", "needle", "thread"),
        (IRON, NEEDLES),
    )
