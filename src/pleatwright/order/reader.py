"""An order file's text, read into a job; every mistake is found before anything is said."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import pleatwright
from pleatwright.cloth import arrival_findings
from pleatwright.errors import InputError
from pleatwright.findings import Finding
from pleatwright.layout import Request
from pleatwright.lengths import Units
from pleatwright.order.document import read_toml
from pleatwright.order.job import Job, OwnedGauge
from pleatwright.order.levels import left_over, on_boundaries
from pleatwright.order.material import Pattern, read_pattern, read_scale, setts_apart
from pleatwright.order.measures import Measured, read_measures
from pleatwright.order.mistakes import Slips, read_tables
from pleatwright.order.models import (
    ClientTable,
    KiltTable,
    OrderFile,
    ShopFile,
    ShopTable,
    StripeRef,
    WishesTable,
)
from pleatwright.order.piece import MeasuredPiece, read_piece
from pleatwright.order.stated import stated_units
from pleatwright.order.styles import read_styles
from pleatwright.order.wished import check_reveal
from pleatwright.pleats import TO_THE_SETT, Kind, Shows, Wishes
from pleatwright.trade import Settings, default_settings, with_overrides
from pleatwright.wearer import Sizes, questions


@dataclass(frozen=True)
class _Files:
    """The tables of the order, of the shop's file and of what goes over both, with their mistakes."""

    order: OrderFile
    shop: ShopTable
    settings: Settings
    reading: Units
    slips: Slips
    over: Slips
    notes: tuple[str, ...] = ()


def read_order(
    text: str,
    *,
    source: str = "order.toml",
    shop_text: str | None = None,
    shop_source: str = "shop.toml",
    units: str | None = None,
    paper: str | None = None,
    styles: tuple[str, ...] = (),
) -> Job:
    """Read an order file; `source` and `shop_source` name the files in messages.

    `shop_text` is a shop's own file with [shop] and [settings], over which the order's go; `units`, `paper`
    and `styles` go over both.  `units` changes what is printed: a bare number keeps the meaning it has in its
    file.  Raises InputError with every mistake of both files.
    """
    theirs, ours, over = Slips(f"{shop_source}: "), Slips(f"{source}: "), Slips("--")
    shop_data = _data(shop_text or "", theirs)
    data = _data(text, ours)
    if not data and ours.problems:
        raise InputError([*theirs.named(), *ours.named()])
    shop_units = stated_units(shop_data, "in")
    reading = stated_units(data, shop_units)
    shop_file = read_tables(ShopFile, shop_data, shop_units, theirs)
    order = read_tables(OrderFile, data, reading, ours)
    given = {name: value for name, value in (("units", units), ("paper", paper)) if value is not None}
    shop = _laid_over(shop_file.shop, order.shop, read_tables(ShopTable, given, reading, over))
    settings = _settings(default_settings(), shop_file.settings, shop_units, theirs)
    settings = _settings(settings, order.settings, reading, ours)
    files = _Files(order, shop, settings, reading, ours, over)
    job = _job(files, styles)
    problems = [*theirs.named(), *ours.named(), *over.named()]
    if problems or job is None:
        raise InputError(problems)
    return replace(job, version=_version(text, shop_text or "", job.units, *styles))


def _data(text: str, slips: Slips) -> dict[str, Any]:
    data, problems = read_toml(text)
    slips.problems += problems
    return data


def _laid_over(*tables: ShopTable | None) -> ShopTable:
    """One table of several, the later over the earlier."""
    merged: dict[str, Any] = {}
    for table in tables:
        merged |= {} if table is None else {name: value for name, value in table if value is not None}
    return ShopTable.model_construct(**merged)  # every value has been read already


def _settings(settings: Settings, own: Mapping[str, Any] | None, units: Units, slips: Slips) -> Settings:
    """The settings with a file's own values; unchanged where those are wrong."""
    with slips.collecting():
        return with_overrides(settings, own or {}, unit=units)
    return settings


def _job(files: _Files, styles: tuple[str, ...]) -> Job | None:
    """The job but for its version; None, with what is wrong among the slips, where there is a mistake."""
    order, slips, reading = files.order, files.slips, files.reading
    client = order.client or ClientTable()
    if client.name is None:
        slips.missing("client.name", "write the name that is to be printed on every page")
    measured = pattern = scale = cloth = None
    units = files.shop.units or reading
    kilt = order.kilt or KiltTable()
    if order.wearer is None:
        slips.missing("wearer", "add a table [wearer] with kind, waist, hips and drop")
    else:
        measured = read_measures(order.wearer, kilt, files.settings, reading, slips)
    if order.tartan is None:
        slips.missing("tartan", "add a table [tartan] with name, count and sett")
    else:
        pattern = read_pattern(order.tartan, reading, slips)
        scale = read_scale(pattern, order.tartan, order.piece, slips)
    if order.piece is not None:
        cloth = read_piece(order.piece, pattern, scale, units, slips)
    table = order.wishes or WishesTable()
    wishes = _wishes(table, styles, pattern, files)
    drawer = _drawer(files.shop, slips)
    if slips.problems or files.over.problems or measured is None or pattern is None or scale is None:
        return None
    settings = files.settings
    if wishes.reveal is not None and table.reveal is not None:
        settings = replace(settings, pleats=replace(settings.pleats, reveal_preferred=table.reveal))
    sizes, cloth_findings = _made_of(measured, cloth, pattern, settings, units)
    notes = [client.notes] if client.notes else []
    notes += [*measured.notes, *pattern.notes, *_reading_notes(table, wishes, order, pattern)]
    return Job(
        version="",
        shop=files.shop.name or "",
        client=client.name or "",
        reference=client.reference or "",
        measured_on=client.measured_on or "",
        promised=client.promised or "",
        body=measured.body,
        sizes=sizes,
        request=Request(
            sizes=sizes,
            tartan=pattern.tartan,
            sett_along=scale.along,
            sett_across=scale.across,
            piece=None if cloth is None else cloth.piece,
            wishes=wishes,
            opens_on=kilt.opens_on or "right",
            settings=settings,
            units=units,
        ),
        questions=questions(measured.body, measured.sizes, settings=settings, units=units),
        cloth_findings=(*setts_apart(order.tartan, order.piece, units), *cloth_findings),
        taped=() if cloth is None else cloth.taped,
        notes=tuple(notes),
        end_points=measured.end_points,
        paper=files.shop.paper or "A4",
        hand=files.shop.hand or "right",
        sewn_first=files.shop.sewn_first or "over-apron",
        drawer=drawer,
    )


def _drawer(shop: ShopTable, slips: Slips) -> tuple[OwnedGauge, ...]:
    """The gauges the shop owns; one without a true width is as marked."""
    owned = []
    for gauge in shop.gauges or ():
        if gauge.marked is None:
            slips.missing("shop.gauges", 'write the width on each gauge, as { marked = "3/4" }')
        else:
            owned.append(OwnedGauge(gauge.marked, gauge.width or gauge.marked))
    return tuple(owned)


def _made_of(
    measured: Measured, cloth: MeasuredPiece | None, pattern: Pattern, settings: Settings, units: Units
) -> tuple[Sizes, tuple[Finding, ...]]:
    """The sizes on this cloth, and what it has to say: arrival, readings, levels, the strip left over."""
    if cloth is None:
        return measured.sizes, ()
    sizes, moved = on_boundaries(measured, cloth.piece, pattern.tartan, settings, units)
    return sizes, (
        *arrival_findings(cloth.piece, settings, sizes.total, units),
        *cloth.findings,
        *moved,
        *left_over(cloth.piece, pattern.tartan, sizes, settings, units),
    )


def _wishes(table: WishesTable, styles: tuple[str, ...], pattern: Pattern | None, files: _Files) -> Wishes:
    """What is wished for; what cannot be is noted among the slips."""
    slips = files.slips
    plain = None if pattern is None else pattern.tartan.weft.plain
    kinds: frozenset[Kind] = read_styles(table.styles or (), plain=plain, field="wishes.styles", slips=slips)
    if styles:
        kinds = read_styles(styles, plain=plain, field="style", slips=files.over)
    check_reveal(table.reveal, files.settings, files.reading, "wishes.reveal", slips)
    return Wishes(
        kinds=kinds,
        pleats=table.pleats,
        reveal=None if table.reveal is None else float(table.reveal),
        stripe=_phase(table.stripe, pattern, "wishes.stripe", slips, mirrored_too=True),
        apron_phase=_phase(table.apron_stripe, pattern, "wishes.apron_stripe", slips),
        same_middle=table.same_middle is not False,
        keep_whole=_phases(table.keep_whole, pattern, "wishes.keep_whole", slips),
        split=_phases(table.split, pattern, "wishes.split", slips),
    )


def _phases(
    wanted: list[StripeRef] | None, pattern: Pattern | None, field: str, slips: Slips
) -> tuple[float, ...]:
    """The phases (threads) of lines wished for, mirror images meant with them."""
    found = [_phase(one, pattern, field, slips, mirrored_too=True) for one in wanted or ()]
    return tuple(phase for phase in found if phase is not None)


def _phase(
    wanted: StripeRef | None,
    pattern: Pattern | None,
    field: str,
    slips: Slips,
    *,
    mirrored_too: bool = False,
) -> float | None:
    """The phase (threads) of a stripe wished for."""
    if wanted is None or pattern is None:
        return None
    if pattern.along.sett.plain:
        slips.add(field, "a stripe", "is wished for, but plain cloth has none", "leave it out")
        return None
    with slips.collecting():
        return pattern.along.sett.centre_of(pattern.along.find(wanted, field, mirrored_too=mirrored_too))
    return None


def _reading_notes(table: WishesTable, wishes: Wishes, order: OrderFile, pattern: Pattern) -> list[str]:
    """What a maker should know about how the order was read."""
    notes = []
    striped = {Shows.STRIPE, Shows.ALTERNATE}
    if table.stripe is not None and wishes.kinds and not any(kind.shows in striped for kind in wishes.kinds):
        notes.append("the stripe wished for is not used: no style to the stripe is asked for")
    lined = wishes.keep_whole or wishes.split
    if lined and wishes.kinds and not any(kind.shows in TO_THE_SETT for kind in wishes.kinds):
        notes.append("the lines wished whole or split are not looked at: no style to the sett is asked for")
    piece = order.piece
    across = piece is not None and (piece.selvedge is not None or piece.readings_across)
    if piece is not None and not across and not pattern.across.sett.plain:
        notes.append(
            "no stripe was measured from the bottom selvedge: the horizontal lines are drawn as if the count "
            "began there"
        )
    return notes


def _version(*parts: str) -> str:
    """Eight hex digits over everything that decides a plan, and the program that makes it."""
    whole = "\0".join((pleatwright.__version__, *parts))
    return hashlib.sha256(whole.encode()).hexdigest()[:8]
