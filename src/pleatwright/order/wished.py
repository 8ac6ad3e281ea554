"""Wishes as a maker writes them beside an order, to see what they would change."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from pleatwright.errors import InputError
from pleatwright.layout import Request, Wish
from pleatwright.lengths import Units, write_length
from pleatwright.order.mistakes import Slips, read_tables
from pleatwright.order.models import StripeRef, Table
from pleatwright.order.references import Stripes
from pleatwright.order.styles import read_styles
from pleatwright.order.values import Pleats, Share, Size
from pleatwright.sett import Tartan
from pleatwright.trade import Settings

_TABLE = re.compile(
    r'\{ (?:number = (?P<number>[0-9]+)|stripe = "(?P<stripe>[^"]*)"(?:, then = "(?P<then>[^"]*)")?) \}'
)


class _Wished(Table):
    """Numbers wished for."""

    pleats: Pleats | None = None
    reveal: Size | None = None
    share: Share | None = None


def read_wish(
    request: Request,
    *,
    pleats: str | int | None = None,
    stripe: str | None = None,
    share: str | None = None,
    reveal: str | None = None,
    styles: Sequence[str] = (),
    prefix: str = "",
) -> Wish:
    """The wishes, each as in an order file; a bare reveal is in the request's units.

    A stripe is written as in the count ("K32"), where it occurs more than once with what follows it
    ("K4, G4"), or by its number.  Raises InputError with every mistake; `prefix` begins its fields' names.
    """
    slips, sett = Slips(prefix), request.tartan.weft
    written = {"pleats": pleats, "reveal": reveal, "share": share}
    table = read_tables(
        _Wished, {name: value for name, value in written.items() if value is not None}, request.units, slips
    )
    check_reveal(table.reveal, request.settings, request.units, "reveal", slips)
    kinds = read_styles(styles, plain=sett.plain, field="style", slips=slips) if styles else None
    phase = None
    if stripe is not None:
        with slips.collecting():
            found = stripes_of(request.tartan, request.units).find(
                _stripe(stripe), "stripe", mirrored_too=True
            )
            phase = sett.centre_of(found)
    if slips.problems:
        raise InputError([replace(one, fix=_on_one_line(one.fix)) for one in slips.named()])
    return Wish(table.pleats, phase, table.share, table.reveal, kinds)


def check_reveal(reveal: Fraction | None, settings: Settings, units: Units, field: str, slips: Slips) -> None:
    """Note a reveal wished for that no pleat may have."""
    limits = settings.pleats
    if reveal is not None and not limits.reveal_least <= reveal <= limits.reveal_most:
        least, most = (write_length(each, units) for each in (limits.reveal_least, limits.reveal_most))
        fix = "wish for another, or change settings.pleats.reveal_least or reveal_most"
        slips.add(field, write_length(reveal, units), f"is no knife pleat's reveal: {least} to {most}", fix)


def stripes_of(tartan: Tartan, units: Units) -> Stripes:
    """The weft's stripes, as they were written."""
    written = tartan.written.split("//")[-1]
    by_width = tartan.weft.unit_inches is not None
    pivots = tartan.weft.symmetric if by_width else "/" in written
    return Stripes(tartan.weft, tartan.pivots == "half" and pivots, "to the right", units)


def _on_one_line(fix: str) -> str:
    """A fix that is written for an order file, as it is written here."""
    return _TABLE.sub(
        lambda found: found["number"] or ", ".join(filter(None, (found["stripe"], found["then"]))), fix
    )


def _stripe(text: str) -> StripeRef:
    """One stripe from one line: a number, or colour and size, and after a comma what follows."""
    bare, _, then = (part.strip() for part in text.partition(","))
    if bare.isdecimal():
        return StripeRef(number=int(bare))
    return StripeRef(stripe=bare, then=then or None)
