"""From a candidate to a fully worked-out option, mirrored back where the kilt opens on the left."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from pleatwright.layout.field import Candidate
from pleatwright.layout.lays import Lay
from pleatwright.layout.look import Look
from pleatwright.layout.option import Apron, ApronEdge, ClothMap, Join, Option, PleatLevel, Strip
from pleatwright.layout.search import Search
from pleatwright.pleats import Form, Shows, reveals
from pleatwright.sett import Sett, short_name, stripe_name
from pleatwright.wearer import FELL_LEVELS, LevelName, Sizes


def detailed(
    search: Search, candidate: Candidate, sizes: Sizes, sett: Sett, opens_on: str, number: int
) -> Option:
    """Every figure of one candidate; `sett` is the weft as the cloth lies, left to right."""
    option = _opening_right(search, candidate, sizes, number)
    if opens_on == "left":
        length = option.cloth.length if option.cloth is not None else option.cloth_used
        option = _mirrored(option, length, sett.n)
    return _named(option, sett)


def _opening_right(search: Search, candidate: Candidate, sizes: Sizes, number: int) -> Option:
    pleating, placement, points = candidate.pleating, candidate.placement, candidate.points
    weights = search.settings.weights
    strip = search.strip(candidate.apron_phase, candidate.seam)
    measured = search.measure(candidate)
    if measured is None:
        raise ValueError("an option must keep every limit")
    threads = placement.strip_threads(pleating)
    tapes = strip.tapes_at(np.array(threads)).tolist()
    strips = tuple(
        Strip(i + 1, thread, thread % search.sett.n, tape, pleating.face(i))
        for i, (thread, tape) in enumerate(zip(threads, tapes, strict=True))
    )
    over_edges = tuple(
        ApronEdge(
            level.name,
            placement.over_centre - float(level.over_outer),
            placement.over_centre + float(level.pleat_side),
        )
        for level in sizes.levels
    )
    under_edges = tuple(
        ApronEdge(
            level.name,
            placement.under_centre - float(level.pleat_side),
            placement.under_centre + float(level.under_outer),
        )
        for level in sizes.levels
    )
    return Option(
        number=number,
        form=pleating.form,
        shows=pleating.shows,
        title="",
        opens_on="right",
        pleats=pleating.pleats,
        division=pleating.division,
        setts=pleating.setts,
        step=None if pleating.shown is None else pleating.shown * search.space.thread,
        stripes=pleating.stripes,
        takes=pleating.takes,
        centre_face=pleating.centre_face,
        middle="",
        middle_phase=pleating.middle,
        same_middle=not points.centre if weights.centre else search.same_middle(candidate),
        mirrors=not points.mirror if weights.mirror else search.mirrors(pleating),
        levels=_levels(candidate, search, measured),
        strips=strips,
        over_apron=_apron(
            "over-apron", candidate.apron_phase, placement.over_thread, placement.over_centre, over_edges
        ),
        under_apron=_apron(
            "under-apron", candidate.apron_phase, placement.under_thread, placement.under_centre, under_edges
        ),
        facing=search.frame.facing,
        deep_pleat=placement.deep_pleat,
        reverse_pleat=placement.reverse_pleat,
        cloth_used=placement.used,
        cloth_left=None if strip.length is None else strip.length - placement.used,
        cloth=cloth_map(search.lay, candidate.seam),
        lines_at_risk=measured.lines,
        score=candidate.points.score,
        standing=candidate.points.standing,
        points=candidate.points,
        steps=tuple(step * search.space.thread for step in pleating.steps),
    )


def _levels(candidate: Candidate, search: Search, measured: Look) -> tuple[PleatLevel, ...]:
    """The fell's levels as sewn; below the hip line the pleats hang straight, so the bottom is as the hip."""
    levels, pleating = [], candidate.pleating
    for name in (*FELL_LEVELS, LevelName.BOTTOM):
        sewn = LevelName.HIP if name is LevelName.BOTTOM else name
        reveal = reveals(search.frame.widths[sewn], pleating.pleats, pleating.centre_face)
        depth = measured.depths[sewn]
        levels.append(
            PleatLevel(
                name, reveal, depth.least, depth.greatest, depth.greatest / reveal, candidate.match.get(name)
            )
        )
    return tuple(levels)


def _apron(name: str, phase: float, thread: float, centre: float, edges: tuple[ApronEdge, ...]) -> Apron:
    left, right = min(edge.left for edge in edges), max(edge.right for edge in edges)
    return Apron(name, "", phase, thread, centre, left, right, right - left, edges)


def cloth_map(lay: Lay, seam: float | None) -> ClothMap | None:
    """The strip of a lay, its seam at this thread of the plan; None while no cloth has been bought."""
    strip = lay.sewn(seam)
    if strip.length is None:
        return None
    at = strip.seam
    join = None
    if at is not None:
        join = Join(at.thread, at.tape, at.first_cut, at.second_at, at.loss, lay.off, *lay.hems)
    return ClothMap(strip.length, strip.tape, strip.threads, strip.blocked, join, lay.turned)


def _mirrored(option: Option, length: float, n: int) -> Option:
    """The option with left and right exchanged on a strip of this length."""

    def apron(one: Apron) -> Apron:
        edges = tuple(ApronEdge(e.level, length - e.right, length - e.left) for e in one.edges)
        return _apron(one.name, -one.phase % n, -one.thread, length - one.centre, edges)

    return replace(
        option,
        opens_on="left",
        middle_phase=-option.middle_phase % n,
        strips=tuple(
            replace(s, thread=-s.thread, phase=-s.phase % n, centre=length - s.centre) for s in option.strips
        ),
        over_apron=apron(option.over_apron),
        under_apron=apron(option.under_apron),
        lines_at_risk=tuple(replace(line, phase=-line.phase % n) for line in option.lines_at_risk),
    )


def _named(option: Option, sett: Sett) -> Option:
    """Stripes named as the cloth lies, whichever way the kilt opens."""
    stripes: tuple[str, ...] = ()
    if option.stripes:
        strips = option.strips[: len(option.stripes)]
        stripes = tuple(stripe_name(sett, sett.stripe_at(strip.phase)) for strip in strips)
    named = replace(
        option,
        stripes=stripes,
        middle=short_name(sett, sett.stripe_at(option.middle_phase)),
        over_apron=replace(
            option.over_apron, stripe=stripe_name(sett, sett.stripe_at(option.over_apron.phase))
        ),
        under_apron=replace(
            option.under_apron, stripe=stripe_name(sett, sett.stripe_at(option.under_apron.phase))
        ),
        lines_at_risk=tuple(
            replace(line, name=stripe_name(sett, sett.stripe_at(line.phase))) for line in option.lines_at_risk
        ),
    )
    return replace(named, title=_title(named, sett))


def _title(option: Option, sett: Sett) -> str:
    """What a maker would call it: form, what it shows, number."""
    what = {
        Form.KNIFE: f"{option.pleats} knife pleats",
        Form.BOX: f"{option.pleats} box pleats",
        Form.MILITARY_BOX: f"{option.pleats} military box pleats",
        Form.CENTRE_BOX: f"a centre box and {option.pleats - 1} knife pleats",
    }[option.form]
    shown = [short_name(sett, sett.stripe_at(strip.phase)) for strip in option.strips[: len(option.stripes)]]
    how = {
        Shows.SETT: f"to the sett, a sett cut in {option.division}",
        Shows.SETT_RUNNING: "to the sett, running on",
        Shows.SETT_UNEVEN: f"to the sett, a sett cut unevenly in {option.division}",
        Shows.STRIPE: f"on {shown[0] if shown else ''}, {option.takes}",
        Shows.ALTERNATE: f"on {' and '.join(shown)} in turn",
        Shows.PLAIN: "of plain cloth",
    }[option.shows]
    return f"{what} {how}"
