"""From the order's wearer and kilt to a body, where the tape lay, and the kilt's sizes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.lengths import Units, write_length
from pleatwright.order.mistakes import Slips
from pleatwright.order.models import KiltTable, TakenTable, WearerTable
from pleatwright.trade import Settings
from pleatwright.wearer import Body, Sizes, Taper, sizes

_ANY_GIRTH = Fraction(40)
"""Inches; stands for both girths where they are missing, so that the lengths are still checked."""

AGREE = Fraction(1, 8)
"""Inches by which drop + rise and a total may differ; each is read to a sixteenth [own choice]."""

_USUAL_END_POINTS = {
    "waist": "snug, at the strap line",
    "hips": "loose, at the fullest seat",
    "drop": "from the strap line to the bottom edge, in front",
    "total": "from the top edge to the bottom edge, in front",
    "fell_drop": "from the strap line down to the fullest seat",
    "drop_side": "from the strap line to the bottom edge, at the side",
    "drop_back": "from the strap line to the bottom edge, at the back",
}


@dataclass(frozen=True)
class Measured:
    """A body with its sizes, the end points of its measurements, and notes on how it was read."""

    body: Body
    sizes: Sizes
    end_points: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    kilt: KiltTable
    settings: Settings

    def resized(self, *, rise: Fraction, fell_drop: Fraction) -> Sizes:
        """The sizes with another rise and fell drop; raises InputError where no kilt has them."""
        body = replace(self.body, rise=rise, fell_drop=fell_drop)
        return _sizes(body, self.sizes.taper, self.kilt, self.settings)


def read_measures(
    wearer: WearerTable, kilt: KiltTable, settings: Settings, units: Units, slips: Slips
) -> Measured | None:
    """The body and its sizes; None, with what is wrong among the slips, where they cannot be had."""
    before = len(slips.problems)
    notes = [f"figure: {wearer.figure}"] if wearer.figure else []
    taper = _taper(wearer, kilt, slips)
    rise = settings.wearer.rise if wearer.rise is None else wearer.rise
    drop = _drop(wearer, rise, units, slips, notes)
    if wearer.waist is None:
        slips.missing("wearer.waist", 'measure snug, at the strap line, and write it like waist = "36 1/2"')
    if wearer.hips is None:
        slips.missing("wearer.hips", 'measure loose, at the fullest seat, and write it like hips = "41 1/2"')
    if wearer.kind == "woman" and kilt.opens_on is None:
        notes.append("opens on the wearer's right: no other side was ordered")
    if drop is None:
        return None
    girths = [girth for girth in (wearer.waist, wearer.hips) if girth is not None] or [_ANY_GIRTH]
    body = Body(
        waist=girths[0],
        hips=girths[-1],
        drop=drop,
        fell_drop=wearer.fell_drop,
        rise=wearer.rise,
        drop_side=wearer.drop_side,
        drop_back=wearer.drop_back,
        towel=bool(wearer.towel),
        child=wearer.kind == "child",
        woman=wearer.kind == "woman",
    )
    with slips.collecting():
        made = _sizes(body, taper or Taper.MAN, kilt, settings)
        if len(slips.problems) == before:
            return Measured(body, made, _end_points(wearer), tuple(notes), kilt, settings)
    return None


def _sizes(body: Body, taper: Taper, kilt: KiltTable, settings: Settings) -> Sizes:
    return sizes(
        body,
        taper=taper,
        settings=settings,
        lap=kilt.lap,
        hem=kilt.hem,
        opening_above_strap=kilt.opening_above_strap,
        share_waist=kilt.share_waist,
        share_hips=kilt.share_hips,
    )


def _taper(wearer: WearerTable, kilt: KiltTable, slips: Slips) -> Taper | None:
    """A man's taper, unless the order says otherwise; for a woman it must say which: ask, never assume."""
    if wearer.kind is None:
        slips.missing("wearer.kind", 'write "man", "woman" or "child"')
    if kilt.taper is None and wearer.kind == "woman":
        slips.missing(
            "kilt.taper",
            'write "man" (above the strap line the pleats run parallel to the top edge) or "woman" (one '
            "straight line from the hip line through the strap line to the top edge); ask the client which",
        )
        return None
    return Taper.MAN if kilt.taper is None else Taper(kilt.taper)


def _drop(
    wearer: WearerTable, rise: Fraction, units: Units, slips: Slips, notes: list[str]
) -> Fraction | None:
    """The drop as taken, or the total less the rise; both are held against each other."""
    drop, total = wearer.drop, wearer.total
    if total is None:
        if drop is None and "wearer.total" not in slips.spoilt:
            fix = "measure from the strap line to the bottom edge; or write total, with the rise in it"
            slips.missing("wearer.drop", fix)
        return drop
    written = write_length(total, units)
    if drop is None:
        if total <= rise:
            allowed = f"must be more than the rise, {write_length(rise, units)}"
            slips.add(
                "wearer.total", written, allowed, "write the length from the top edge to the bottom edge"
            )
            return None
        if "wearer.drop" not in slips.spoilt:
            notes.append(
                f"the total length, {written}, was given: the drop is that less the rise, "
                f"{write_length(rise, units)}"
            )
        return total - rise
    if abs(drop + rise - total) > AGREE:
        allowed = f"is not drop + rise, {write_length(drop, units)} + {write_length(rise, units)}"
        fix = f"write {write_length(drop + rise, units)}, or put drop or rise right, or leave the total out"
        slips.add("wearer.total", written, allowed, fix)
    return drop


def _end_points(wearer: WearerTable) -> tuple[tuple[str, str], ...]:
    """Where the tape lay, for every measurement that was taken."""
    usual = dict(_USUAL_END_POINTS)
    if wearer.towel:
        usual["hips"] += ", over a rolled towel"
    taken = wearer.taken or TakenTable()
    return tuple(
        (name.replace("_", " "), getattr(taken, name) or where)
        for name, where in usual.items()
        if getattr(wearer, name) is not None
    )
