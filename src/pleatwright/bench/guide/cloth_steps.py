"""The first steps: the cloth is rested, read, chalked, checked and ripped (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from pleatwright.bench.check_expected import CLOSE, HEIGHT, ON_CLOTH, drift, expected_of, shrink
from pleatwright.bench.guide.join_steps import join, read_two
from pleatwright.bench.guide.kilt import COLOURS, IRON, MASK, NO_WAY_BACK, RESTRICTED, SHEARS, Kilt
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.bench.regions import Part
from pleatwright.bench.ruler import ruler_of
from pleatwright.lengths import write_yards
from pleatwright.pleats import Shows
from pleatwright.sett import short_name
from pleatwright.wearer import LevelName

CHALK = ("long table", "tape", "sharp chalk", "pins")
FAULTS_SHOWN = 3
"""Most faults named in a step; the packet lists all."""


def cloth_steps(kilt: Kilt) -> Iterator[Step]:
    """From the piece as it comes to one strip ready to fold."""
    yield _rest(kilt)
    yield _read(kilt)
    yield _levels(kilt)
    yield _over_apron(kilt)
    yield _band(kilt)
    yield _pleats(kilt)
    yield _under_apron(kilt)
    yield _check(kilt)
    yield _rip(kilt)
    if kilt.option.join is not None:
        yield join(kilt)


def _rest(kilt: Kilt) -> Step:
    piece, used = kilt.job.request.piece, kilt.option.cloth_used
    if piece is None:
        do = [
            "The cloth has not come yet. When it does, hold its length and width against the order.",
            "Lay it open on a long table, outside up, and let it rest for a night or steam it.",
        ]
        figures = [Figure("wanted along", write_yards(used, kilt.job.units))]
    else:
        do = [
            "Lay the piece open on a long table, outside up, the selvedge that will be the bottom edge "
            "towards you.",
            "Let it rest for a night, or steam it and let it dry flat. Do not stretch it.",
        ]
        figures = [kilt.figure("length", piece.length), kilt.figure("width", piece.width)]
        if piece.arrival is not None and piece.arrival.relaxed:
            do[-1] = "It has been rested or steamed: smooth it out, and do not stretch it."
        if kilt.option.cloth is not None and kilt.option.cloth.turned_end_for_end:
            do.append(
                "Turn the whole piece end for end, still face up: every figure here counts from the end "
                "that is then at the left."
            )
    do.append("Look for faults in daylight, and put a thread through each.")
    what = "length along the selvedge"
    if kilt.option.join is not None:
        do.append("It gives two strips, one at each selvedge: measure both selvedges, end to end.")
        what, used = "length along each selvedge", expected_of(kilt.job.request, kilt.option).needed
    return Step(
        Chapter.CLOTH,
        "Let the cloth rest",
        Drawn.PIECE,
        tuple(do),
        Proof(what, kilt.write(used), "that much at least"),
        tuple(figures),
        ("long table", "steam iron", "press cloth"),
        (RESTRICTED, COLOURS, IRON),
    )


def _read(kilt: Kilt) -> Step:
    ruler = ruler_of(kilt.option, kilt.job.request)
    do = ["Lay the tape along the selvedge, its end at the first sound thread of the left end."]
    figures: list[Figure] = []
    tools = ("tape", "sharp chalk", "daylight")
    piece = kilt.job.request.piece
    if ruler is None or piece is None:
        do += [
            "Write down the place of one stripe's centre about every four setts, right to the end, and the "
            "same up from the selvedge.",
            "Put the readings into the order and plan again: the marks then follow this piece.",
        ]
        sett = kilt.write(kilt.job.request.sett_along)
        proof = Proof("one sett along", sett, "another size changes the plan")
        return Step(Chapter.CLOTH, "Read the cloth", Drawn.READING, tuple(do), proof, (), tools)
    if kilt.option.join is not None:
        more, figures, proof = read_two(kilt, kilt.option.join, ruler)
        do += more
    elif ruler.repeats:
        stripe = short_name(ruler.run.sett, ruler.reference)
        first, last = ruler.repeats[0], ruler.repeats[-1]
        number = len(ruler.repeats)
        do += [
            f"Find the centre of {stripe}: each time you meet it is a repeat. Chalk the repeats' numbers "
            "above the edge, 1 at the left.",
            f"Hold the tape against repeat 1 and repeat {number}. Marks are chalked against the stripes, "
            "because a woven pattern wanders.",
        ]
        figures += [
            kilt.figure("repeat 1", ruler.snapped(first)),
            kilt.figure(f"repeat {number}", ruler.snapped(last)),
        ]
        proof = kilt.proof(f"place of repeat {number}", ruler.snapped(last), drift(last))
    else:
        do.append("Plain cloth has no repeats: every mark is taken from the tape, from this one end.")
        proof = kilt.proof("length along the selvedge", piece.length, shrink(float(piece.length)))
    for fault in piece.faults[:FAULTS_SHOWN]:
        where = f"{kilt.write(fault.start)} – {kilt.write(fault.end)}"
        figures.append(Figure(fault.kind if fault.strip == 1 else f"{fault.kind}, other selvedge", where))
    if piece.faults:
        do.append("Chalk a ring round every fault. None may show on an apron or on a pleat.")
    return Step(Chapter.CLOTH, "Read the cloth", Drawn.READING, tuple(do), proof, tuple(figures), tools)


def _levels(kilt: Kilt) -> Step:
    sizes = kilt.job.sizes
    every = "metre" if kilt.job.units == "metric" else "yard"
    levels = [mark for mark in kilt.marks if mark.group == "levels"]
    do: tuple[str, ...] = (
        f"Measure up from the selvedge and chalk each level at both ends and every {every}.",
        "Where a level lies on a line woven into the cloth, follow the line.",
        "Chalk long lines only where they stay hidden: inside, or above the rip.",
    )
    up, selvedge = sizes.total - sizes.level(LevelName.HIP).below_top, "selvedge"
    sewn = kilt.option.join
    if sewn is not None and sewn.hem:
        do += (
            f"The {sewn.hemmed} strip's horizontals lie {kilt.write(sewn.hem)} higher than the other's: all "
            "its levels do too, and what is then below its fold is hemmed.",
        )
        up, selvedge = up + Fraction(sewn.hem_first), "first strip's selvedge"
    return Step(
        Chapter.CLOTH,
        "Chalk the levels",
        Drawn.LEVELS,
        do,
        kilt.proof(f"{selvedge} up to the hip line, in three places", up, ON_CLOTH),
        tuple(kilt.figure(_up_to(mark.what), mark.tape) for mark in levels),
        CHALK,
    )


def _up_to(what: str) -> str:
    """A level's figure: up to the hip line; of two strips, second strip, hip line."""
    level, of, strip = what.partition(",")[0].rpartition(" of the ")
    return f"{strip}, {level}" if of and strip.endswith(" strip") else f"up to the {what.partition(',')[0]}"


def _over_apron(kilt: Kilt) -> Step:
    option, apron = kilt.option, kilt.option.over_apron
    stripe = "" if kilt.job.request.tartan.weft.plain else f" on {apron.stripe}"
    do = (
        f"Begin at the {kilt.back} end. Chalk the cut end, then the outer edge: the facing lies between.",
        f"Chalk the centre{stripe}, then the edge beside the pleats.",
        "Chalk both edges at bottom, hip line, strap line and top: they are shaped to these marks later.",
    )
    figures = (
        kilt.figure("facing", option.facing),
        kilt.figure("cloth for the apron", apron.allotted),
        *kilt.mark_figures(
            "over-apron",
            "cut end",
            "outer edge, as allotted",
            "centre",
            "pleat-side edge, as allotted",
        ),
    )
    half = abs(apron.centre - (apron.right if kilt.opens_right else apron.left))
    proof = kilt.proof("centre to the edge beside the pleats, as allotted", half, ON_CLOTH)
    return Step(
        Chapter.CLOTH, "Chalk the over-apron", Drawn.APRON_MARKS, do, proof, _or_widths(kilt, figures), CHALK
    )


def _or_widths(kilt: Kilt, figures: tuple[Figure, ...]) -> tuple[Figure, ...]:
    """The figures; while there is no piece, the tape's are missing and a word says so."""
    return figures if kilt.has_cloth else (*figures, Figure("places on the tape", "with the cloth"))


def _band(kilt: Kilt) -> Step:
    band = kilt.closing.band
    figures = [kilt.figure("height", band.height), kilt.figure("length", band.length)]
    mark = kilt.mark("top band", "mark, at the over-apron's centre")
    if mark is not None or not kilt.has_cloth:
        do: tuple[str, ...] = (
            "The band comes from the strip above the rip: right beside the kilt it has the same stripes.",
            "Put its mark exactly above the over-apron's centre, before anything is torn.",
            "Chalk its two ends, write TOP BAND on it, and which way is up.",
        )
        figures += kilt.mark_figures(
            "top band",
            "end, at the over-apron",
            "mark, at the over-apron's centre",
            "end, at the under-apron",
        )
        proof = Proof("band's mark against the over-apron's centre", "one line", "not a thread off")
    else:
        do = (
            "The piece is too low to leave the band above the rip.",
            f"Cut it elsewhere, {kilt.write(band.height)} high and {kilt.write(band.length)} long, with the "
            "stripe of the over-apron's centre at the same place.",
            "Chalk it now, before anything is torn.",
        )
        proof = kilt.proof("length of the band", band.length, CLOSE)
    return Step(
        Chapter.CLOTH, "Chalk the top band", Drawn.BAND_MARK, do, proof, tuple(figures), CHALK, (SHEARS,)
    )


def _pleats(kilt: Kilt) -> Step:
    option = kilt.option
    first, last = option.strips[0], option.strips[-1]
    do = [
        f"Go on to the {kilt.onward}: the inner fold of the deep pleat, then the first, the second and the "
        f"last {kilt.pleat}.",
        "Chalk the strap hole on both edges of the first seam, at the strap line.",
    ]
    if option.shows in (Shows.SETT, Shows.SETT_RUNNING):
        do.append(f"Chalk the centre of all {option.pleats} {kilt.pleats} as a check before sewing.")
    else:
        stripes = " and ".join(option.stripes)
        do.append(
            f"Each {kilt.pleat} is centred on {stripes}, {option.takes}."
            if stripes
            else f"Each {kilt.pleat} has its place from the tape."
        )
    do += _beyond_the_seam(kilt)
    spans = [abs(b.centre - a.centre) for a, b in zip(option.strips, option.strips[1:], strict=False)]
    figures = [kilt.figure("cloth in the deep pleat, hip line", kilt.cloth_in(Part.DEEP_PLEAT))]
    if spans:
        least, most = kilt.write(min(spans)), kilt.write(max(spans))
        each = least if least == most else f"{least} to {most}"
        figures.append(Figure(f"{kilt.pleat} to {kilt.pleat}", each))
    figures += kilt.mark_figures("deep pleat", "inner fold")
    for group in ("first pleat", "last pleat"):
        mark = kilt.mark(group, "centre")
        if mark is not None:
            figures.append(kilt.figure(f"mark {mark.number}, {group}", mark.tape))
    across = abs(last.centre - first.centre)
    return Step(
        Chapter.CLOTH,
        f"Chalk deep pleat and {kilt.pleats}",
        Drawn.PLEAT_MARKS,
        tuple(do),
        kilt.proof(f"centre of the first {kilt.pleat} to the last's", across, drift(across)),
        _or_widths(kilt, tuple(figures)),
        CHALK,
    )


def _beyond_the_seam(kilt: Kilt) -> list[str]:
    """On two strips not everything can be chalked at once."""
    if kilt.option.join is None:
        return []
    return ["Chalk what lies beyond the seam when the strips are joined, along the joined cloth."]


def _under_apron(kilt: Kilt) -> Step:
    option, apron = kilt.option, kilt.option.under_apron
    do = (
        "Chalk the inner fold of the reverse pleat, the under-apron's edge beside the pleats, its centre, "
        "its outer edge and the cut end.",
        "The same stripe lies in the middle of both aprons."
        if abs(apron.phase - option.over_apron.phase) < 1e-6
        else f"Its middle lies on {apron.stripe}.",
        "Chalk its edges at bottom, hip line, strap line and top.",
        *_beyond_the_seam(kilt),
    )
    figures = (
        kilt.figure("cloth in the reverse pleat, hip line", kilt.cloth_in(Part.REVERSE_PLEAT)),
        kilt.figure("cloth for the apron", apron.allotted),
        *kilt.mark_figures("reverse pleat", "inner fold"),
        *kilt.mark_figures("under-apron", "centre"),
        *kilt.mark_figures("far end", "cut end, with the facing"),
    )
    half = abs(apron.centre - (apron.left if kilt.opens_right else apron.right))
    return Step(
        Chapter.CLOTH,
        "Chalk reverse pleat and under-apron",
        Drawn.FAR_MARKS,
        do,
        kilt.proof("centre to the edge beside the pleats, as allotted", half, ON_CLOTH),
        _or_widths(kilt, figures),
        CHALK,
    )


def _check(kilt: Kilt) -> Step:
    do = [
        "Put the lists away and have a second person measure the chalked cloth again.",
        "Fill in the form of the check and let it say GO or STOP.",
        "STOP means: find the fault, chalk again, check again.",
    ]
    if not kilt.has_cloth:
        do.insert(0, "This is done when the cloth lies chalked on the table.")
    if kilt.option.join is not None:
        do.append("After the rip, pin the strips as they will be sewn, and check once more.")
    return Step(
        Chapter.CLOTH,
        "Check before the rip",
        Drawn.CHECK,
        tuple(do),
        Proof("the check", "GO", "nothing else"),
        (
            kilt.figure(f"height of the {'first ' if kilt.option.join else ''}rip", kilt.ripped),
            Figure("plan", kilt.job.version),
        ),
        ("tape", "the form of the check", "a second person"),
        (NO_WAY_BACK,),
    )


def _rip(kilt: Kilt) -> Step:
    total, sewn = float(kilt.job.sizes.total), kilt.option.join
    do = [
        "Nick the end at the mark and tear along the thread, in one steady pull.",
        "Stop every arm's length and look: the tear must follow one thread.",
        "Cut off the top band at its two marks and put it aside, marked.",
    ]
    title, strip, figures = "Rip the strip", "strip", [kilt.figure("height of the strip", total)]
    if sewn is not None:
        title, height = "Rip the two strips", "of the same height"
        if sewn.hem:
            heights = total + sewn.hem_first, total + sewn.hem_second
            height = f"{kilt.write(heights[1])} high"
            strip = "first strip"
            figures = [
                kilt.figure(f"height of the {name} strip", each)
                for name, each in zip(("first", "second"), heights, strict=True)
            ]
        do.insert(1, f"Tear a second strip {height} from the other selvedge.")
    return Step(
        Chapter.CLOTH,
        title,
        Drawn.RIP,
        tuple(do),
        kilt.proof(f"height of the {strip}, at both ends and the middle", kilt.ripped, HEIGHT),
        (*figures, kilt.figure("the band's height", kilt.closing.band.height)),
        ("shears", "tape"),
        (NO_WAY_BACK, MASK, SHEARS),
    )
