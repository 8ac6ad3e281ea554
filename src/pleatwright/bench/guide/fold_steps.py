"""Aprons and pleats: facings, edges, the deep pleat, every fold (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from pleatwright.bench.check_expected import ON_CLOTH
from pleatwright.bench.guide.kilt import FLAMES, IRON, IRON_OFF, NEEDLES, SHEARS, Kilt
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.bench.regions import Part
from pleatwright.pleats import Form, Shows, deepest_fold, hidden_cloth
from pleatwright.wearer import LevelName


def fold_steps(kilt: Kilt) -> Iterator[Step]:
    """From the ripped strip to pleats that lie basted."""
    yield _facings(kilt)
    yield _edges(kilt)
    yield _deep_pleat(kilt)
    yield _first_folds(kilt)
    yield _all_folds(kilt)


def _facings(kilt: Kilt) -> Step:
    fringe = kilt.closing.inside.fringe
    do = (
        f"At the over-apron's outer edge fringe a strip of the tartan, or the facing itself, and lay it so "
        f"that no more than {kilt.write(fringe)} shows.",
        f"Fold both facings in on the chalked outer edges, {kilt.write(kilt.option.facing)} each, and baste.",
        "The fringe hangs straight down; trim no thread until the kilt is done.",
    )
    return Step(
        Chapter.FOLDS,
        "Facings and fringe",
        Drawn.FRINGE,
        do,
        Proof("fringe showing", kilt.write(fringe), "that much at most"),
        (kilt.figure("facing, each end", kilt.option.facing), kilt.figure("fringe at most", fringe)),
        ("shears", "needle", "basting thread"),
        (SHEARS, FLAMES),
    )


def _edges(kilt: Kilt) -> Step:
    job = kilt.job
    do = [
        "Fold the edges in along the chalk from bottom to hip line to strap line to top.",
        "Ease wool with the iron to a gentle curve at the hip line; other cloth runs in straight lines.",
        "In wear the edges fall straight down where trouser seams would be.",
    ]
    if job.sizes.belly:
        do.append("The waist is the wider here: the aprons open towards the top.")
    figures = [
        kilt.figure(f"over-apron, {level.name}", level.over_apron)
        for level in job.sizes.levels
        if level.name is not LevelName.MID
    ]
    return Step(
        Chapter.FOLDS,
        "Shape the over-apron",
        Drawn.APRONS,
        tuple(do),
        kilt.proof("over-apron at the hip line", kilt.level(LevelName.HIP).over_apron, ON_CLOTH),
        tuple(figures),
        ("iron", "press cloth", "pins", "basting thread"),
        (IRON, NEEDLES),
    )


def _deep_pleat(kilt: Kilt) -> Step:
    cloth = kilt.cloth_in(Part.DEEP_PLEAT)
    half = cloth / 2
    do = (
        f"Fold the over-apron back on its edge beside the {kilt.pleats}: the fold points to your "
        f"{kilt.onward}.",
        f"Lay the cloth behind it back to the inner fold, {kilt.write(half)} in at the hip line, and forward "
        f"again until the first {kilt.pleat} begins right at the apron's edge.",
        "The stripes run straight down in every layer. Pin at the hip line, then down to the selvedge.",
    )
    return Step(
        Chapter.FOLDS,
        "Fold the deep pleat",
        Drawn.DEEP_PLEAT,
        do,
        kilt.proof("apron's edge to the inner fold, at the hip line", half, ON_CLOTH),
        (kilt.figure("cloth in it, at the hip line", cloth), kilt.figure("half of it", half)),
        ("pins", "basting thread", "iron", "press cloth"),
        (NEEDLES,),
    )


def fold_depths(kilt: Kilt) -> tuple[float, ...]:
    """Inches each fold between two neighbours goes under at the hip line, in the order of the pleats."""
    strips, reveal = kilt.option.strips, kilt.option.level(LevelName.HIP).reveal
    return tuple(
        deepest_fold(
            kilt.option.form,
            hidden_cloth(abs(b.centre - a.centre), a.face * reveal, b.face * reveal),
            reveal,
        )
        for a, b in pairwise(strips)
    )


def _first_folds(kilt: Kilt) -> Step:
    option, gauges = kilt.option, kilt.gauges
    depths = fold_depths(kilt)
    first = gauges.rows[0]
    do = [_how_it_folds(kilt)]
    do.append(
        "Fold along a thread and match the horizontals at once: what is off here stays off down to the "
        "selvedge."
    )
    if option.shows is Shows.ALTERNATE:
        do.append("The folds are deeper and shallower in turn: that is right.")
    do.append(f"Pin the first three at the hip line and look: {_looks(kilt)}")
    figures = [
        kilt.figure(f"{kilt.pleat} 1 shows at the hip line", first.hip),
        Figure(_depth_name(option.form), kilt.depth(LevelName.HIP)),
    ]
    if option.form is Form.MILITARY_BOX:
        figures.append(kilt.figure("the other fold under", option.level(LevelName.HIP).reveal / 2))
    if option.form is Form.CENTRE_BOX:
        middle = gauges.rows[option.pleats // 2]
        figures.append(kilt.figure(f"the box, pleat {middle.pleat}", middle.hip))
    depth = depths[0] if depths else option.level(LevelName.HIP).depth_least
    return Step(
        Chapter.FOLDS,
        f"Fold the first {kilt.pleats}",
        Drawn.PLEAT_FOLD,
        tuple(do),
        kilt.proof(f"depth of the fold behind {kilt.pleat} 1, at the hip line", depth, ON_CLOTH),
        tuple(figures),
        ("pins", "tape", "gauges"),
        (NEEDLES,),
    )


def _depth_name(form: Form) -> str:
    if form is Form.BOX:
        return "each fold under"
    return "the deep fold under" if form is Form.MILITARY_BOX else "each fold is deep"


def _how_it_folds(kilt: Kilt) -> str:
    form = kilt.option.form
    if form is Form.BOX:
        return "Each panel is folded under at both edges, and the folds of two neighbours meet between them."
    if form is Form.MILITARY_BOX:
        return (
            "Each panel is folded under at both edges: half a panel's width on one side, the deep fold on "
            "the other. Neighbours meet edge to edge."
        )
    if form is Form.CENTRE_BOX:
        return (
            f"The box in the middle of the back, pleat {kilt.option.pleats // 2 + 1}, lies on top. The "
            "knives beside it run away from it, to both sides."
        )
    return (
        f"Every fold points to your {kilt.onward} and lies over the next pleat; the cloth goes under to the "
        f"{kilt.back} and comes forward again."
    )


def _looks(kilt: Kilt) -> str:
    if kilt.option.shows in (Shows.SETT, Shows.SETT_RUNNING):
        return "the tartan runs on across them as if it were flat."
    if kilt.option.shows is Shows.PLAIN:
        return "they lie even, thread beside thread."
    return "the stripe stands in the middle of each."


def _all_folds(kilt: Kilt) -> Step:
    option, level = kilt.option, kilt.level(LevelName.HIP)
    seam = option.cloth.join if option.cloth else None
    do = [
        f"Fold and pin all {option.pleats}, each on its own centre line, the hip line of each on the hip "
        "line of the one before.",
        "Baste right across at the hip line, then in three rows below, down to the selvedge.",
        "Press the folds lightly below the hip line, through a cloth.",
    ]
    if seam is not None:
        do.append("See that the seam of the two strips lies out of sight, well inside its fold.")
    return Step(
        Chapter.FOLDS,
        f"Fold and baste all the {kilt.pleats}",
        Drawn.BASTED,
        tuple(do),
        kilt.proof(
            f"all {kilt.pleats} at the hip line",
            kilt.gauges.hip_total,
            kilt.job.request.settings.sewing.off_most,
        ),
        (
            Figure(kilt.pleats, str(option.pleats)),
            kilt.figure("together at the hip line", kilt.gauges.hip_total),
            kilt.figure("down from the top edge", level.below_top),
        ),
        ("pins", "basting thread", "tape", "iron", "press cloth"),
        (NEEDLES, IRON, IRON_OFF),
    )
