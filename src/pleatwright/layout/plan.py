"""The plan: the best kilts one piece of cloth allows, compared, or what would be needed instead."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.cloth import Piece, Run
from pleatwright.findings import Finding, Severity
from pleatwright.layout.advice import ClothToOrder, cloth_to_order, nothing_fits, standards
from pleatwright.layout.detail import detailed
from pleatwright.layout.option import Option
from pleatwright.layout.placing import Frame
from pleatwright.layout.reasons import with_reasons
from pleatwright.layout.search import Search, Tick
from pleatwright.lengths import Units, write_length
from pleatwright.pleats import PleatSpace, Wishes
from pleatwright.sett import Tartan
from pleatwright.trade import Settings
from pleatwright.wearer import Sizes


@dataclass(frozen=True)
class Request:
    """All that decides a kilt: sizes, tartan, cloth, wishes.

    `sett_along`, `sett_across`: inches a true period; `piece` None when no cloth has been bought yet.
    `opens_on`: "right" or "left".
    """

    sizes: Sizes
    tartan: Tartan
    sett_along: Fraction
    sett_across: Fraction
    piece: Piece | None
    wishes: Wishes
    opens_on: str
    settings: Settings
    units: Units = "in"


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


def search_of(request: Request) -> Search:
    """The search a request asks for, along the strip as the plan goes: mirrored to open on the left."""
    piece, wishes = request.piece, request.wishes
    frame = Frame.of(request.sizes, request.settings)
    if piece is None:
        run = Run.uniform(request.tartan.weft, float(request.sett_along), 0.0, None)
    else:
        run = piece.run(request.tartan)
    if request.opens_on == "left":
        run = run.mirrored(run.length or 0.0)
        wishes = replace(
            wishes,
            stripe=_turned(wishes.stripe, run.sett.n),
            apron_phase=_turned(wishes.apron_phase, run.sett.n),
        )
    space = PleatSpace(run.sett, float(request.sett_along), frame.widths, request.settings, wishes)
    return Search(run, frame, space, request.settings)


def _turned(phase: float | None, n: int) -> float | None:
    return None if phase is None else -phase % n


def make_plan(request: Request, tick: Tick | None = None) -> Plan:
    """Search the whole space and work out the best of each kind; `tick` hears of the progress."""
    search = search_of(request)
    found = search.run_through(tick)
    options = with_reasons(
        tuple(
            detailed(search, candidate, request.sizes, request.tartan.weft, request.opens_on, number)
            for number, candidate in enumerate(found.best, 1)
        ),
        request.units,
    )
    findings = (
        standards(options[0], request.settings)
        if options
        else nothing_fits(search, found, request.wishes, request.units)
    )
    wanted = (found.best or found.longer)[:1]
    return Plan(
        options,
        (*_width(request), *findings),
        found.searched,
        found.fitting,
        cloth_to_order(search, wanted[0], request.tartan, request.units) if wanted else None,
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
