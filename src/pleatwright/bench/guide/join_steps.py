"""Two strips in place of one: how they are read and sewn end to end (common practice, no source)."""

from __future__ import annotations

from pleatwright.bench.check_expected import CLOSE, drift, expected_of, shrink
from pleatwright.bench.guide.kilt import IRON, Kilt
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.bench.ruler import Ruler
from pleatwright.cloth import MEET
from pleatwright.layout import Join
from pleatwright.sett import short_name


def read_two(kilt: Kilt, sewn: Join, ruler: Ruler) -> tuple[list[str], list[Figure], Proof]:
    """Each strip with its own tape: sentences, figures and the proof.

    Repeats are numbered as they will follow one another along the joined cloth.
    """
    other = (
        "The second strip lies along the other selvedge. There the tape begins at the right end, for this "
        "strip is turned later."
    )
    if not ruler.repeats:
        piece = kilt.job.request.piece
        length = 0 if piece is None else piece.length
        do = [other, "Plain cloth has no repeats: every mark is taken from each strip's own tape."]
        return do, [], kilt.proof("length along each selvedge", length, shrink(float(length)))
    stripe = short_name(ruler.run.sett, ruler.reference)
    on = sewn.second_at - sewn.tape
    numbered = list(enumerate(ruler.repeats, 1))
    first = [(number, x) for number, x in numbered if x < sewn.tape]
    second = [(number, x + on) for number, x in numbered if x >= sewn.tape]
    do = [
        f"Find the centre of {stripe}: each time you meet it is a repeat. Chalk the repeats' numbers above "
        "the edge.",
        other,
    ]
    figures: list[Figure] = []
    for name, strip in (("first", first), ("second", second)):
        if strip:
            numbers = dict.fromkeys((strip[0][0], strip[-1][0]))
            do.append(f"On the {name} strip they are {' to '.join(str(number) for number in numbers)}.")
            figures += [
                kilt.figure(f"repeat {number}, {name} strip", ruler.snapped(x))
                for number, x in dict.fromkeys((strip[0], strip[-1]))
            ]
    do.append(
        "Hold each strip's tape against its first and its last number. What the join cuts off has no number."
    )
    number, place = (first or second)[-1]
    return do, figures, kilt.proof(f"place of repeat {number}", ruler.snapped(place), drift(place))


def join(kilt: Kilt) -> Step:
    """The seam, inside a fold; raises ValueError for a kilt of one strip."""
    sewn = kilt.option.join
    if sewn is None:
        raise ValueError("only joined cloth has a seam")
    allowance = kilt.job.request.settings.cloth.seam_allowance
    figures = [
        *kilt.mark_figures("join", "seam line on the first strip", "seam line on the second strip"),
        kilt.figure("horizontals off by", sewn.missed),
    ]
    do = [
        "Turn the second strip round by 180° on the table, still face up: now both have a selvedge at the "
        "bottom. Never turn it face down."
    ]
    if sewn.hem:
        do.append(
            f"Fold the {sewn.hemmed} strip's selvedge up inside by {kilt.write(sewn.hem)}, press it and hem "
            "it with loose stitches: its fold is the bottom edge now."
        )
        figures.append(kilt.figure(f"hem of the {sewn.hemmed} strip", sewn.hem))
    lines = (
        "and the horizontals too."
        if sewn.missed <= MEET
        else f"the bottom edges in one line; the horizontals miss each other by {kilt.write(sewn.missed)}."
    )
    do += [
        f"Lay the seam lines on each other, the same stripe on the same stripe, {lines}",
        f"Sew on the line, {kilt.write(allowance)} beyond it to each side, and press the seam open. "
        "It vanishes inside a fold.",
        "Measure on along the joined cloth.",
    ]
    proof = (
        kilt.proof(
            "one repeat, measured over the seam",
            expected_of(kilt.job.request, kilt.option).repeat_over_seam,
            CLOSE,
        )
        if not kilt.job.request.tartan.weft.plain
        else Proof("the bottom edge over the seam", "straight", "no step")
    )
    return Step(
        Chapter.CLOTH,
        "Join the two strips",
        Drawn.JOIN,
        tuple(do),
        proof,
        tuple(figures),
        ("needle", "thread", "pins", "iron", "press cloth"),
        (IRON,),
    )
