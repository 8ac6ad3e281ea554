"""The plan: the best kilts one piece of cloth allows, compared, or what would be needed instead."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pleatwright.findings import Finding, Severity
from pleatwright.layout.advice import (
    ClothToOrder,
    cloth_to_order,
    nothing_fits,
    standards,
    strips_findings,
    third_piece,
)
from pleatwright.layout.detail import detailed
from pleatwright.layout.lays import lays
from pleatwright.layout.option import Option
from pleatwright.layout.placing import Frame
from pleatwright.layout.reasons import with_reasons
from pleatwright.layout.request import Request
from pleatwright.layout.search import Found, Search, Tick, best_of_lays
from pleatwright.lengths import write_length
from pleatwright.pleats import PleatSpace


@dataclass(frozen=True)
class Plan:
    """What a search made of a request; `options` best first, `findings` in the order they matter.

    `to_order`: cloth to order for the first option, or for the best that would fit a longer piece.
    """

    options: tuple[Option, ...]
    findings: tuple[Finding, ...]
    searched: int
    fitting: int
    to_order: ClothToOrder | None

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
        if request.opens_on == "left":
            wished = replace(
                wishes, stripe=_turned(wishes.stripe, sett.n), apron_phase=_turned(wishes.apron_phase, sett.n)
            )
        space = PleatSpace(sett, sett_size, frame.widths, request.settings, wished)
        found.append(Search(lay, frame, space, request.settings))
    return tuple(found)


def search_of(request: Request) -> Search:
    """The search on the plainest lay: the strip along the bottom selvedge, as it lies."""
    return searches_of(request)[0]


def _turned(phase: float | None, n: int) -> float | None:
    return None if phase is None else -phase % n


def _best_lays(request: Request, tick: Tick | None) -> tuple[list[Search], list[Found]]:
    """The searches worth making: the plainest lay; others only where that leaves a kind without a kilt.

    Turning end for end helps where faults would show; joining two strips where one is too short.
    """
    searches, found = [], []
    for search in searches_of(request):
        plain = not search.lay.turned and search.lay.joint is None
        if not plain and search.lay.turned and not search.run.blocked:
            continue
        searches.append(search)
        found.append(search.run_through(tick))
    return searches, found


def make_plan(request: Request, tick: Tick | None = None) -> Plan:
    """Search the whole space and work out the best of each kind; `tick` hears of the progress."""
    searches, found = _best_lays(request, tick)
    kept = best_of_lays(found)
    options = with_reasons(
        tuple(
            detailed(searches[lay], candidate, request.sizes, request.tartan.weft, request.opens_on, number)
            for number, (lay, candidate) in enumerate(kept, 1)
        ),
        request.units,
    )
    plainest, first = searches[0], found[0]
    findings = (
        standards(options[0], request.settings)
        if options
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
