"""The same kilt laid on the same piece again, now that more of it is read: every part stays on its stripe."""

from __future__ import annotations

from dataclasses import replace

from pleatwright.cloth import Run
from pleatwright.layout.detail import cloth_map
from pleatwright.layout.option import Apron, ClothMap, Option
from pleatwright.layout.plan import searches_of
from pleatwright.layout.request import Request
from pleatwright.sett import Sett
from pleatwright.wearer import LevelName


def relaid(option: Option, request: Request) -> Option:
    """The option with its strips and aprons centred on the very same threads, where `request` has them now.

    Nothing is searched: the kilt was chosen, and some of it may be chalked.  What is counted in inches from
    an apron's centre stays so; deep and reverse pleat take up the difference [derived].  Match, lines at risk
    and points stay those of the choice.  Unchanged where no cloth was bought; raises ValueError where the
    piece can no longer be laid as it was.
    """
    if option.cloth is None or request.piece is None:
        return option
    cloth = _as_laid(option.cloth, request)
    sett = request.tartan.weft
    run, shift = cloth.run(sett), _whole_setts(option.cloth, cloth, sett)
    strips = tuple(
        replace(strip, thread=strip.thread + shift, centre=run.tape_at(strip.thread + shift))
        for strip in option.strips
    )
    over, under = (_moved(apron, shift, run) for apron in (option.over_apron, option.under_apron))
    on = 1 if option.opens_on == "right" else -1
    reveal = option.level(LevelName.HIP).reveal
    used = option.cloth_used + on * (under.centre - option.under_apron.centre)
    if on < 0:
        used += cloth.length - option.cloth.length
    return replace(
        option,
        strips=strips,
        over_apron=over,
        under_apron=under,
        deep_pleat=on * (strips[0].centre - over.centre) - _reach(over, on) - reveal / 2,
        reverse_pleat=on * (under.centre - strips[-1].centre) - _reach(under, -on) - reveal / 2,
        cloth_used=used,
        cloth_left=cloth.length - used,
        cloth=cloth,
    )


def _whole_setts(before: ClothMap, now: ClothMap, sett: Sett) -> int:
    """By how many threads, whole setts, the new map counts on from another start.

    Judged at the end of the piece that readings begin at, where no map can be half a sett off.
    """
    old, new = (
        cloth.run(sett).thread_at(cloth.length if before.turned_end_for_end else 0.0)
        for cloth in (before, now)
    )
    return sett.n * round((new - old) / sett.n)


def _as_laid(before: ClothMap, request: Request) -> ClothMap:
    """The strip laid as before: turned or joined as it was, the seam at the same thread."""
    found = []
    for search in searches_of(request):
        lay = search.lay
        if lay.turned is not before.turned_end_for_end or (lay.joint is None) is not (before.join is None):
            continue
        seam = None
        if before.join is not None and lay.joint is not None:
            first = replace(before, tape=lay.joint.first.tape, threads=lay.joint.first.threads)
            seam = before.join.thread + _whole_setts(before, first, request.tartan.weft)
            if not lay.joint.low <= seam <= lay.joint.high:
                continue
            seam = -seam if lay.mirrored else seam
        cloth = cloth_map(lay, seam)
        if cloth is not None:
            off = 0.0
            if before.join is not None and cloth.join is not None:
                off = abs(cloth.join.loss - before.join.loss)
            found.append((off, cloth))
    if not found:
        raise ValueError("the piece can no longer be laid as it was for this kilt")
    return min(found, key=lambda one: one[0])[1]


def _moved(apron: Apron, shift: int, run: Run) -> Apron:
    thread = apron.thread + shift
    centre = run.tape_at(thread)
    by = centre - apron.centre
    edges = tuple(replace(edge, left=edge.left + by, right=edge.right + by) for edge in apron.edges)
    return replace(
        apron, thread=thread, centre=centre, left=apron.left + by, right=apron.right + by, edges=edges
    )


def _reach(apron: Apron, way: int) -> float:
    """Inches from the apron's centre to its edge on one side, where it is widest."""
    return apron.right - apron.centre if way > 0 else apron.centre - apron.left
