"""What to say beside the options: cloth to order, what would fit a piece that is too short, the standards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pleatwright.cloth import MEET, turnable
from pleatwright.findings import Finding, Severity
from pleatwright.layout.field import Candidate
from pleatwright.layout.found import Found
from pleatwright.layout.lays import strips_high
from pleatwright.layout.option import Option
from pleatwright.layout.request import Request
from pleatwright.layout.search import Search
from pleatwright.lengths import Units, round_up_yards, write_length, write_yards
from pleatwright.pleats import TO_THE_SETT, Form, Wishes
from pleatwright.sett import Tartan, stripe_name
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

ADVICE_OFFERED = 4


@dataclass(frozen=True)
class ClothToOrder:
    """Length to order, in inches, whatever stripe the cloth begins with.

    `needed`: the strip the kilt takes at worst.  `single_width`, `double_width`: rounded up to a quarter yard
    or 0.1 m; `joined`: whether double width gives two strips that are joined.
    """

    needed: float
    single_width: float
    double_width: float
    joined: bool


def cloth_to_order(search: Search, candidate: Candidate, tartan: Tartan, units: Units) -> ClothToOrder:
    """Cloth for one candidate, worst case of the end: the first stripe wanted may be a whole sett away.

    Double width gives two strips, joined at equal phase, which only symmetric counts allow once one of them
    has been turned; the join loses at most a sett, a reveal, its clearance and two seam allowances.
    """
    start = candidate.placement.over_centre - search.frame.start
    needed = candidate.placement.used - start + _repeat(search)
    return _ordered(needed, _join_loss(search, candidate), tartan, units)


def cloth_for(option: Option, request: Request) -> ClothToOrder:
    """The same for an option of a plan, from its own figures."""
    length = option.cloth_used if option.cloth is None else option.cloth.length
    apron, tartan = option.over_apron, request.tartan
    before = apron.left if option.opens_on == "right" else length - apron.right
    sett_size = 0.0 if tartan.weft.plain else float(request.sett_along)
    reveal = max(level.reveal for level in option.levels)
    loss = _loss(sett_size, reveal, request.settings)
    return _ordered(option.cloth_used - before + option.facing + sett_size, loss, tartan, request.units)


def _ordered(needed: float, loss: float, tartan: Tartan, units: Units) -> ClothToOrder:
    joined = all(sett.symmetric or sett.plain for sett in (tartan.warp, tartan.weft))
    double = (needed + loss) / 2 if joined else needed
    return ClothToOrder(
        needed, float(round_up_yards(needed, units)), float(round_up_yards(double, units)), joined
    )


def standards(option: Option, settings: Settings, units: Units) -> tuple[Finding, ...]:
    """Findings about the chosen option that a maker should hear of, none of them a reason to stop."""
    found = []
    if option.form is Form.KNIFE and option.pleats < settings.pleats.standard_pleats:
        found.append(
            Finding(
                "plan.few-pleats",
                Severity.NOTE,
                f"{option.pleats} pleats",
                f"an association's standard asks for at least {settings.pleats.standard_pleats}",
                "Choose a smaller reveal if the kilt must meet that standard.",
            )
        )
    hip = option.level(LevelName.HIP).reveal
    if option.form in (Form.KNIFE, Form.CENTRE_BOX) and hip > float(settings.pleats.reveal_usual_most):
        found.append(
            Finding(
                "plan.wide-reveal",
                Severity.NOTE,
                f"a reveal of {write_length(hip, units)} at the hip line",
                f"usual up to {write_length(settings.pleats.reveal_usual_most, units)}",
                "More pleats look finer; fewer save cloth and work.",
            )
        )
    if not option.same_middle:
        found.append(
            Finding(
                "plan.middle",
                Severity.NOTE,
                f"{option.middle} lies in the middle of the back",
                f"the aprons are centred on {option.over_apron.stripe}",
                "Show the client both before choosing.",
            )
        )
    return tuple(found)


def strips_findings(request: Request, options: Sequence[Option]) -> tuple[Finding, ...]:
    """What a maker must know of the strips a double width gives: joins, horizontals, why none is possible."""
    piece, units = request.piece, request.units
    if piece is None:
        return ()
    if options and options[0].cloth is not None and options[0].cloth.turned_end_for_end:
        return (
            Finding(
                "cloth.turned",
                Severity.NOTE,
                "option 1 lies on the piece turned end for end, so that its faults stay out of sight",
                "the right cut end on the left, the other selvedge towards you",
                "Turn the piece by 180°, face up, before the first mark.",
            ),
        )
    if strips_high(piece, request.sizes) < 2:
        return ()
    if not turnable(request.tartan):
        alone = f" ({write_yards(options[0].cloth_used, units)} for option 1)" if options else ""
        return (
            Finding(
                "cloth.no-join",
                Severity.NOTE,
                "an asymmetric sett: a strip turned by 180° runs the other way",
                "two strips of this piece cannot be joined so that the pattern runs on",
                f"Use one strip alone{alone}, or order single width of the full length.",
            ),
        )
    joined = next((option for option in options if option.cloth is not None and option.cloth.join), None)
    if joined is None or joined.cloth is None or joined.cloth.join is None:
        return ()
    join = joined.cloth.join
    loss = write_length(join.loss, units)
    found = [
        Finding(
            "cloth.join",
            Severity.NOTE,
            f"option {joined.number} is sewn from two strips; the join takes {loss}",
            f"seam at {write_length(join.first_cut, units)} on the first strip and "
            f"{write_length(join.second_at, units)} on the second, from its new left end",
            "Rip one strip at each selvedge; turn the second by 180° (not face down: the twill line must run "
            "the same way); a stripe may occur twice a sett, so match the stripes beside the seam too.",
        )
    ]
    off = join.horizontals_off
    if abs(off) > MEET:
        spare = float(piece.width - 2 * request.sizes.total)
        most = write_length(request.settings.wearer.hem_most, units)
        trim = (
            f"Rip the {join.hemmed} strip {write_length(join.hem, units)} higher and hem its selvedge by as "
            "much, as guide and marks of a joined kilt have it; or use one strip alone."
            if join.hem
            else (
                f"The piece is {write_length(abs(off) - spare, units)} too narrow to hem a strip"
                if spare < abs(off)
                else f"A hem over {most} hangs badly"
            )
            + ": use one strip alone, or show the client that the lines differ beside the fold with the join."
        )
        found.append(
            Finding(
                "cloth.horizontals",
                Severity.WARN,
                f"the horizontals of the two strips miss each other by {write_length(abs(off), units)}",
                "lines that meet at the join",
                trim,
            )
        )
    return tuple(found)


def _what(candidate: Candidate) -> str:
    p = candidate.pleating
    stripe = f" ({p.takes})" if p.takes else ""
    return f"{p.pleats} pleats, {p.form}, {p.shows}{stripe}"


def lines_not_kept(request: Request, options: Sequence[Option]) -> tuple[Finding, ...]:
    """That no kilt to the sett does what is wished of lines, where one was asked for."""
    wishes, sett = request.wishes, request.tartan.weft
    wanted = not wishes.kinds or any(kind.shows in TO_THE_SETT for kind in wishes.kinds)
    if not wanted or not (wishes.keep_whole or wishes.split) or any(o.step is not None for o in options):
        return ()
    words = [
        f"{what} {' and '.join(stripe_name(sett, sett.stripe_at(phase)) for phase in phases)}"
        for what, phases in (("keeps whole:", wishes.keep_whole), ("splits over two pleats:", wishes.split))
        if phases
    ]
    return (
        Finding(
            "plan.lines-not-kept",
            Severity.WARN if options else Severity.STOP,
            "no kilt to the sett does with its lines as wished",
            f"one that {'; '.join(words)}",
            "Wish for fewer lines, other pleats or another stripe at the apron's centre, or let pleats "
            "differ more (settings.pleats.uneven_most); a line wider than the reveal cannot be kept whole.",
        ),
    )


def nothing_fits(search: Search, found: Found, wishes: Wishes, units: Units) -> tuple[Finding, ...]:
    """Why there is no option, and what would give one: more cloth, fewer pleats, another style."""
    length = search.run.length
    if not found.searched or length is None:
        return (_no_candidate(search, units),)
    best = found.longer[0] if found.longer else found.shortest
    ways: list[str] = []
    if best is not None:
        more = write_yards(best.placement.used, units)
        ways.append(f"{more} of this cloth, for {_what(best)}")
    wider = replace(search.space, wishes=replace(wishes, kinds=frozenset(), pleats=None))
    others = replace(search, space=wider).run_through()
    wished = [one for one in others.best if wishes.wants(one.kind)]
    ways += [
        f"{_what(one)}: {write_yards(one.placement.used, units)}"
        for one in (*wished, *(one for one in others.best if one not in wished))[:ADVICE_OFFERED]
    ]
    if not others.best and others.shortest is not None:
        shortest = others.shortest
        ways.append(f"at the very least {write_yards(shortest.placement.used, units)}, for {_what(shortest)}")
    return (
        Finding(
            "plan.piece-short",
            Severity.STOP,
            f"the piece is {write_yards(length, units)} long",
            f"none of {found.searched} kilts as wished fits it"
            + (" and keeps its faults out of sight" if search.run.blocked else ""),
            "What would fit: " + "; ".join(ways) + ".",
        ),
    )


def third_piece(search: Search, found: Found, units: Units) -> tuple[Finding, ...]:
    """Two strips joined and still too short: how long a third one must be; `search` is on joined cloth."""
    length = search.run.length
    if search.lay.joint is None or length is None or not found.longer:
        return ()
    best = found.longer[0]
    more = best.placement.used - length + _join_loss(search, best)
    return (
        Finding(
            "cloth.third-piece",
            Severity.NOTE,
            f"two strips joined give {write_yards(length, units)}",
            f"{write_yards(best.placement.used, units)} for {_what(best)}",
            f"A third strip of at least {write_yards(more, units)}, joined at equal phase in another fold, "
            "would do; it must be of the same weaving.",
        ),
    )


def _join_loss(search: Search, candidate: Candidate) -> float:
    return _loss(_repeat(search), search.frame.greatest_reveal(candidate.pleating), search.settings)


def _loss(sett_size: float, reveal: float, settings: Settings) -> float:
    """The most a join takes: a sett, a reveal, its clearance, two seam allowances (inches)."""
    return sett_size + reveal + float(settings.cloth.join_clearance + 2 * settings.cloth.seam_allowance)


def _repeat(search: Search) -> float:
    """Inches of a sett; 0 of plain cloth, which begins with the same stripe everywhere."""
    return 0.0 if search.sett.plain else search.space.sett_size


def _no_candidate(search: Search, units: Units) -> Finding:
    limits, wishes = search.settings.pleats, search.space.wishes
    widths = search.frame.widths
    wished = [str(kind) for kind in sorted(wishes.kinds)]
    if wishes.pleats is not None:
        wished.append(f"{wishes.pleats} pleats")
    if wishes.stripe is not None:
        wished.append("the stripe asked for")
    return Finding(
        "plan.no-pleats",
        Severity.STOP,
        f"no way to pleat {write_length(widths[LevelName.HIP], units)} at the hip line and "
        f"{write_length(widths[LevelName.STRAP], units)} at the strap line"
        + (f" as wished ({'; '.join(wished)})" if wished else ""),
        f"reveals from {write_length(limits.reveal_least, units)} to "
        f"{write_length(limits.reveal_most, units)} (boxes: "
        f"{limits.box_least} to {limits.box_most} panels) and folds of at least "
        f"{write_length(limits.depth_least, units)} at every level, on a stripe narrower than the reveal",
        "Wish for another number of pleats, stripe or style, or change the share of the aprons "
        "(settings.wearer.share_waist) or the limits (settings.pleats).",
    )
