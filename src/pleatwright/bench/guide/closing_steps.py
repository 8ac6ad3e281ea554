"""From the inside to the last measure, with the numbers of the closing (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator

from pleatwright.bench.closing import Panel
from pleatwright.bench.guide.kilt import (
    FLAMES,
    IRON,
    IRON_OFF,
    LIGHT,
    LOCAL_RULES,
    NEEDLES,
    SHEARS,
    Kilt,
)
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.wearer import LevelName

MEASURES_SHOWN = 6
"""Most of the last measures that stand in a step; the measuring sheet has them all."""


def closing_steps(kilt: Kilt) -> Iterator[Step]:
    """From the sewn fell to a finished kilt."""
    yield _folds_cut(kilt)
    yield _interfacing(kilt)
    yield _straps(kilt)
    yield _band(kilt)
    yield _lining(kilt)
    if kilt.job.sizes.hem:
        yield _hem(kilt)
    yield _fitting(kilt)
    yield _pressing(kilt)
    yield _measuring(kilt)


def _piece(kilt: Kilt, panel: Panel) -> Figure:
    """A piece to cut: its widest by its height."""
    wide = max(panel.width_top, panel.width_bottom)
    return Figure(panel.name, f"{kilt.write(wide)} × {kilt.write(panel.height)}")


def _folds_cut(kilt: Kilt) -> Step:
    folds, stabiliser = kilt.closing.inside.folds, kilt.closing.inside.stabiliser
    if folds.kept:
        title, do = (
            "Stabiliser",
            [f"Cut nothing out of the folds: {folds.kept}.", "Lay the folds flat and baste them."],
        )
        figures: list[Figure] = []
        proof = Proof("the folds above the hip line", "whole", "no cut")
    else:
        title, do = (
            "Cut out the folds, sew in the stabiliser",
            [
                "Turn the kilt over. Above the hip line cut out the inside of each fold, one at a time, the "
                "hand between the layers: the front is never under the shears.",
                f"Stop {kilt.write(folds.cut_below_top)} down from the top: the last stitches of the fell "
                "need whole cloth.",
            ],
        )
        figures = [
            kilt.figure("cut down from the top to", folds.cut_below_top),
            kilt.figure("hip line, down from the top", folds.hip_below_top),
            kilt.figure("cloth left inside each seam", folds.left),
        ]
        proof = Proof("end of the cut, down from the top", kilt.write(folds.cut_below_top), "never lower")
    do.append(
        "Sew the stabiliser over the edges of the folds, a few stitches into each, none through to the front."
    )
    return Step(
        Chapter.INSIDE,
        title,
        Drawn.FOLDS_CUT,
        tuple(do),
        proof,
        (*figures, _piece(kilt, stabiliser)),
        ("sharp shears", "needle", "strong thread"),
        (SHEARS, LIGHT),
    )


def _interfacing(kilt: Kilt) -> Step:
    panels = kilt.closing.inside.interfacing
    do = (
        "Cut the pieces and baste them inside, their upper edges along the top edge of the kilt.",
        "Sew them to the folds and to the facings, never through to the front.",
        "Straps and buckles are sewn to it, so it must lie without a wrinkle.",
    )
    first = panels[0]
    return Step(
        Chapter.INSIDE,
        "Sew in the interfacing",
        Drawn.INTERFACING,
        do,
        kilt.proof(
            f"height of the {first.name}'s piece", first.height, kilt.job.request.settings.sewing.off_good
        ),
        tuple(_piece(kilt, panel) for panel in panels),
        ("shears", "needle", "thread", "pins"),
        (SHEARS, NEEDLES),
    )


def _straps(kilt: Kilt) -> Step:
    straps, loops = kilt.closing.straps, kilt.closing.inside.loops
    do = [
        f"{strap.name[0].upper()}{strap.name[1:]}: {strap.words[0].lower()}{strap.words[1:]}"
        for strap in straps
    ]
    do.append("Sew straps and buckles to the interfacing; pass the buckles' tongues between threads, uncut.")
    levels = dict.fromkeys(strap.below_top for strap in straps)
    figures = [kilt.figure("straps, their middle below the top", below) for below in levels]
    for strap in straps:
        figures += [
            kilt.figure(f"{strap.name}, to hole {strap.chosen.number}", strap.reach),
            kilt.figure("its buckle, from the seam", strap.buckle.from_seam),
        ]
    if loops:
        at = " and ".join(str(loop.pleat) for loop in loops)
        do.append(f"Sew the loops for the sporran belt on {kilt.pleats} {at}, across the strap line.")
    first = straps[0]
    return Step(
        Chapter.CLOSING,
        "Straps, buckles and loops" if loops else "Straps and buckles",
        Drawn.STRAPS,
        tuple(do),
        kilt.proof(f"middle of the {first.name}, down from the top", first.below_top, kilt.job.grid.step),
        tuple(figures),
        ("needle", "strong thread", "thimble", "awl"),
        (NEEDLES,),
    )


def _band(kilt: Kilt) -> Step:
    band = kilt.closing.band
    do = (
        "Lay the band on the outside, right side down, its mark on the over-apron's centre: band and apron "
        "show the same stripes.",
        f"Sew it on, fold it over the top edge so that {kilt.write(band.showing)} shows, and hem it down "
        "inside.",
        "Turn in its ends at both aprons.",
    )
    return Step(
        Chapter.CLOSING,
        "Bind the top edge",
        Drawn.BAND,
        do,
        kilt.proof("top band showing", band.showing, kilt.job.grid.step),
        (
            kilt.figure("band, as cut", band.length),
            kilt.figure("its height", band.height),
            kilt.figure("it binds", band.binds),
            kilt.figure("showing", band.showing),
        ),
        ("needle", "thread", "pins", "iron", "press cloth"),
        (NEEDLES, IRON),
    )


def _lining(kilt: Kilt) -> Step:
    panels = kilt.closing.inside.lining
    do = (
        "Turn in the edges of the lining pieces and press them.",
        "Pin them under the band, from the middle out, with a soft pleat in the back: lining never pulls.",
        "Hem them all round, the lower edge loose from the folds.",
    )
    first = panels[0]
    return Step(
        Chapter.CLOSING,
        "Sew in the lining",
        Drawn.LINING,
        do,
        Proof("the fell from outside, kilt lying flat", "no pull", "no stitch shows"),
        (*(_piece(kilt, panel) for panel in panels), kilt.figure("turned in", first.turning)),
        ("shears", "needle", "thread", "iron", "press cloth"),
        (SHEARS, IRON),
    )


def _hem(kilt: Kilt) -> Step:
    sizes = kilt.job.sizes
    do = (
        "Undo the basting at the bottom and turn the hem up inside, along the chalk.",
        "Hem it with long loose stitches, the pleats open: it is let down as the child grows."
        if kilt.job.body.child
        else "Hem it with loose stitches, the pleats open.",
        "Lay the pleats again and press the fold.",
    )
    finished = sizes.total - sizes.hem
    return Step(
        Chapter.CLOSING,
        "Turn up the hem",
        Drawn.HEM,
        do,
        kilt.proof("top edge to the fold of the hem", finished, kilt.job.request.settings.sewing.off_good),
        (kilt.figure("hem", sizes.hem), kilt.figure("finished length", finished)),
        ("needle", "thread", "tape", "iron", "press cloth"),
        (IRON, FLAMES),
    )


def _fitting(kilt: Kilt) -> Step:
    fits = kilt.closing.fits
    side = "left" if kilt.opens_right else "right"
    do = (
        f"The pleats stay basted. The wearer puts the kilt on: under-apron to the {side} hip, its strap "
        "first, then the over-apron.",
        "Look from all sides: strap line at the waist, bottom edge level, aprons straight down, stripes "
        "level at the edges, no pleat pulled open.",
        "Pin what is to change and write it down before anything is undone.",
    )
    chosen = kilt.closing.straps[0].chosen
    figures = [
        Figure(f"hole {hole.number}{', chosen' if hole.chosen else ''}, waist", kilt.write(hole.waist))
        for hole in fits
    ]
    return Step(
        Chapter.FINISHING,
        "Baste and fit",
        Drawn.FITTING,
        do,
        Proof("buckled without pull", f"hole {chosen.number}", "one hole either way"),
        (*figures, kilt.figure("drop, as measured", kilt.job.body.drop)),
        ("pins", "tape", "mirror", "notebook"),
        (NEEDLES, FLAMES),
    )


def _pressing(kilt: Kilt) -> Step:
    do = (
        "Lay the kilt on the board, outside up, three or four pleats at a time, the basting still in.",
        "Damp cloth over it, iron down, lift, move on. Never slide: sliding moves the folds.",
        "Press the inside of the folds too. Let it lie until it is cold and dry.",
        "Then draw all basting, and press once more where it left a mark.",
    )
    return Step(
        Chapter.FINISHING,
        "Press",
        Drawn.PRESSING,
        do,
        Proof("every fold from hip line to bottom edge", "sharp, on one thread", "no shine"),
        (
            kilt.figure(
                "from the hip line down", kilt.job.sizes.total - kilt.job.sizes.fell - kilt.job.sizes.hem
            ),
        ),
        ("iron", "press cloth", "water", "board"),
        (IRON, IRON_OFF),
    )


def _measuring(kilt: Kilt) -> Step:
    measures = kilt.closing.measures
    waist = kilt.level(LevelName.STRAP).round
    do = (
        "Measure everything on the measuring sheet and write it in, as it is.",
        "Count the pins and needles in. Brush the kilt.",
        "Give the client the care card, and say it too: keep it from naked flames.",
    )
    return Step(
        Chapter.FINISHING,
        "The last measuring",
        Drawn.MEASURING,
        do,
        kilt.proof("waist, buckled", waist, kilt.job.request.settings.sewing.off_good),
        tuple(kilt.figure(measure.what, measure.wanted) for measure in measures[:MEASURES_SHOWN]),
        ("tape", "the measuring sheet", "brush"),
        (FLAMES, LOCAL_RULES),
    )
