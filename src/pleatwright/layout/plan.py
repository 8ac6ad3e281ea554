"""The plan: the best kilts one piece of cloth allows, compared, or what would be needed instead."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from pleatwright.findings import Finding, Severity
from pleatwright.layout.advice import (
    ClothToOrder,
    cloth_to_order,
    lines_not_kept,
    nothing_fits,
    standards,
    strips_findings,
    third_piece,
)
from pleatwright.layout.again import Girths
from pleatwright.layout.choice import robust_first
from pleatwright.layout.detail import detailed
from pleatwright.layout.field import Candidate
from pleatwright.layout.found import Found, best_of_lays
from pleatwright.layout.lays import lays
from pleatwright.layout.option import Option
from pleatwright.layout.placing import Frame
from pleatwright.layout.reasons import with_reasons
from pleatwright.layout.request import Request
from pleatwright.layout.robust import Sensitivity, Usual, sensitivity
from pleatwright.layout.search import Search, Tick
from pleatwright.layout.uneven import with_uneven
from pleatwright.lengths import write_length
from pleatwright.pleats import EVEN_KIND, UNEVEN_KIND, PleatSpace


@dataclass(frozen=True)
class Plan:
    """What a search made of a request; `options` best first, `findings` in the order they matter.

    `to_order`: cloth to order for the first option, or for the best that would fit a longer piece.  `kept`:
    the options as candidates, each with the number of its lay.
    """

    options: tuple[Option, ...]
    findings: tuple[Finding, ...]
    searched: int
    fitting: int
    to_order: ClothToOrder | None
    kept: tuple[tuple[int, Candidate], ...] = field(default=(), compare=False, repr=False)

    @property
    def chosen(self) -> Option | None:
        """The option that stands first."""
        return self.options[0] if self.options else None


def searches_of(request: Request) -> tuple[Search, ...]:
    """The searches a request asks for: one for each way of laying the piece, the plainest first."""
    wishes, sett_size = request.wishes, float(request.sett_along)
    frame = Frame.of(request.sizes, request.settings)
    found = []
    for lay in lays(
        request.piece, request.tartan, sett_size, request.sizes, request.opens_on, request.settings
    ):
        sett = lay.run().sett
        wished = wishes
        if UNEVEN_KIND in wishes.kinds:
            wished = replace(wishes, kinds=wishes.kinds | {EVEN_KIND})
        if request.opens_on == "left":
            wished = replace(
                wished,
                stripe=_turned(wishes.stripe, sett.n),
                apron_phase=_turned(wishes.apron_phase, sett.n),
                keep_whole=tuple(-phase % sett.n for phase in wishes.keep_whole),
                split=tuple(-phase % sett.n for phase in wishes.split),
            )
        space = PleatSpace(sett, sett_size, frame.widths, request.settings, wished)
        found.append(Search(lay, frame, space, request.settings))
    return tuple(found)


def search_of(request: Request) -> Search:
    """The search on the plainest lay: the strip along the bottom selvedge, as it lies."""
    return searches_of(request)[0]


def _turned(phase: float | None, n: int) -> float | None:
    return None if phase is None else -phase % n


def searches_made(request: Request) -> list[Search]:
    """The searches worth making: turning end for end helps only where faults would show."""
    return [search for search in searches_of(request) if not search.lay.turned or search.run.blocked]


def sensitivities(request: Request, plan: Plan) -> tuple[Sensitivity, ...]:
    """What each option of a request's plan bears, in their order."""
    searches, girths = searches_made(request), Girths.of(request.sizes)
    return tuple(
        sensitivity(Usual.of(searches[lay], girths, candidate), request.tartan.weft, request.units)
        for lay, candidate in plan.kept
    )


def make_plan(request: Request, tick: Tick | None = None) -> Plan:
    """Search the whole space and work out the best of each kind; `tick` hears of the progress."""
    searches = searches_made(request)
    found: list[Found] = []
    for search in searches:
        found.append(search.run_through(tick, [one for _, one in best_of_lays(found)]))
    girths = Girths.of(request.sizes)
    choice = robust_first(searches, with_uneven(searches, best_of_lays(found), request.wishes), girths)
    kept = choice.kept
    options = with_reasons(
        tuple(
            detailed(searches[lay], candidate, request.sizes, request.tartan.weft, request.opens_on, number)
            for number, (lay, candidate) in enumerate(kept, 1)
        ),
        request.units,
        choice,
        [
            sensitivity(
                choice.usual or Usual.of(searches[lay], girths, one), request.tartan.weft, request.units
            )
            for lay, one in kept[:1]
        ],
    )
    plainest, first = searches[0], found[0]
    findings = (
        (*lines_not_kept(request, options), *standards(options[0], request.settings, request.units))
        if options
        else lines_not_kept(request, options)
        if first.fitting
        else (
            *nothing_fits(plainest, first, request.wishes, request.units),
            *third_piece(searches[-1], found[-1], request.units),
        )
    )
    wanted = [candidate for _, candidate in kept] or list(first.longer)
    return Plan(
        options,
        (*_width(request), *strips_findings(request, options), *findings),
        sum(one.searched for one in found),
        sum(one.fitting for one in found),
        cloth_to_order(plainest, wanted[0], request.tartan, request.units) if wanted else None,
        tuple(kept),
    )


def _width(request: Request) -> tuple[Finding, ...]:
    """Whether the piece is wide enough for the total length, and for the top band beside it."""
    piece, total = request.piece, request.sizes.total
    if piece is None:
        return ()
    band = request.settings.cloth.band_height
    width, length = write_length(piece.width, request.units), write_length(total, request.units)
    if piece.width < total:
        return (
            Finding(
                "plan.piece-narrow",
                Severity.STOP,
                f"the piece is {width} from selvedge to selvedge",
                f"{length} are ripped for the total length",
                "Take a wider piece, or measure drop and rise again.",
            ),
        )
    if piece.width < total + band:
        return (
            Finding(
                "plan.no-band",
                Severity.WARN,
                f"{write_length(piece.width - total, request.units)} are left above the rip",
                f"the top band takes {write_length(band, request.units)}",
                "Cut the band from the end of the piece, or from other cloth, and mind its stripes.",
            ),
        )
    return ()
