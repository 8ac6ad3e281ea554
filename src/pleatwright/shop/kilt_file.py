"""A finished kilt's measurements as a file: written to be filled in, read with every mistake named."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import BeforeValidator

from pleatwright.bench.alter import Kilt, Side
from pleatwright.bench.closing.kilt import LAYERS
from pleatwright.errors import InputError
from pleatwright.lengths import Grid, Units
from pleatwright.order import Paper
from pleatwright.order.document import read_toml
from pleatwright.order.mistakes import Slips, read_tables
from pleatwright.order.models import Table
from pleatwright.order.starting import in_units
from pleatwright.order.values import (
    Count,
    Length,
    PaperWord,
    Pleats,
    Size,
    Text,
    UnitsWord,
    refused,
)
from pleatwright.order.values import (
    Side as SideWord,
)
from pleatwright.pleats import Form
from pleatwright.trade import Settings, default_settings, with_overrides

_FORMS = {"knife": Form.KNIFE, "box": Form.BOX, "military box": Form.MILITARY_BOX}


def _form(value: object) -> object:
    word = str(value).strip().casefold()
    if word not in _FORMS:
        raise refused(value, "is not known here", 'write "knife", "box" or "military box"')
    return word


FormWord = Annotated[Literal["knife", "box", "military box"], BeforeValidator(_form)]


class ApronTable(Table):
    """One apron of the kilt, and the cloth hidden beside it."""

    required = ("waist", "hips")

    waist: Size | None = None
    """Its width at the strap line, without the lap."""
    hips: Size | None = None
    """Its width at the hip line, without the lap."""
    bottom: Size | None = None
    """Its width at the bottom edge; left out: as at the hip line."""
    facing: Length | None = None
    """Cloth turned in at its free edge; left out: none."""
    pleat: Length | None = None
    """Cloth in the deep (under-apron: reverse) pleat beside it; left out: none that can be had."""


class PleatsTable(Table):
    """The pleats."""

    required = ("number", "depth_waist", "depth_hips")

    number: Pleats | None = None
    """How many."""
    form: FormWord | None = None
    """knife, box or military box; usually knife."""
    depth_waist: Size | None = None
    """Depth of the shallowest fold at the strap line."""
    depth_hips: Size | None = None
    """Depth of the shallowest fold at the hip line."""
    folds_cut: bool | None = None
    """Whether cloth was cut out of the folds; usually true."""
    fold_left: Length | None = None
    """Where it was: how much is left inside each seam; left out: 1/2."""


class StrapsTable(Table):
    """The straps."""

    holes: Count | None = None
    """Holes in each strap; usually 5."""
    hole: Count | None = None
    """The hole it fits at, counted from the apron's edge; usually 3."""
    step: Size | None = None
    """From hole to hole; usually 1/2."""


class KiltFile(Table):
    """A kilt to alter."""

    required = ("waist", "hips", "drop", "over_apron", "under_apron", "pleats")

    name: Text | None = None
    """Whose kilt it is."""
    opens_on: SideWord | None = None
    """The wearer's side it opens on; usually right."""
    units: UnitsWord | None = None
    """in or metric: what a bare number means, and what is printed."""
    paper: PaperWord | None = None
    """A4 or Letter; usually A4."""
    waist: Size | None = None
    """The round at the strap line, straps closed."""
    hips: Size | None = None
    """The round at the hip line, straps closed."""
    drop: Size | None = None
    """Strap line to bottom edge."""
    rise: Size | None = None
    """Top edge above the strap line; usually 2."""
    hem: Length | None = None
    """Hem turned up; usually none."""
    over_apron: ApronTable | None = None
    """The over-apron."""
    under_apron: ApronTable | None = None
    """The under-apron."""
    pleats: PleatsTable | None = None
    """The pleats."""
    straps: StrapsTable | None = None
    """The straps."""


@dataclass(frozen=True)
class KiltToAlter:
    """A kilt as read, with how it is written of."""

    name: str
    kilt: Kilt
    units: Units
    grid: Grid
    paper: Paper
    settings: Settings


def new_kilt_text(units: Units = "in") -> str:
    """A commented kilt file, valid as it stands."""
    return in_units((files("pleatwright.shop") / "kilt.toml").read_text(encoding="utf-8"), units)


def read_kilt(text: str, *, source: str = "kilt.toml", shop_text: str | None = None) -> KiltToAlter:
    """Read a kilt file; `shop_text`: the shop's own file, for its settings.

    Raises InputError with every mistake.
    """
    slips, theirs = Slips(f"{source}: "), Slips("shop: ")
    data, problems = read_toml(text)
    slips.problems += problems
    units: Units = "metric" if str(data.get("units", "")).strip().casefold() == "metric" else "in"
    file = read_tables(KiltFile, data, units, slips)
    settings = _settings(shop_text, theirs)
    kilt = _kilt(file, settings, slips)
    wrong = [*theirs.named(), *slips.named()]
    if wrong or kilt is None:
        raise InputError(wrong)
    grid = Grid.MILLIMETRE if units == "metric" else Grid(settings.bench.grid)
    if units == "in" and grid is Grid.MILLIMETRE:
        grid = Grid.SIXTEENTH
    return KiltToAlter(file.name or source, kilt, units, grid, file.paper or "A4", settings)


def _settings(shop_text: str | None, slips: Slips) -> Settings:
    data, problems = read_toml(shop_text or "")
    slips.problems += problems
    shop = data.get("shop")
    metric = isinstance(shop, dict) and shop.get("units") == "metric"
    table = data.get("settings", {})
    if isinstance(table, dict):
        with slips.collecting():
            return with_overrides(default_settings(), table, unit="metric" if metric else "in")
    return default_settings()


def _kilt(file: KiltFile, settings: Settings, slips: Slips) -> Kilt | None:
    """The kilt; None, with what is wrong among the slips."""
    ours = settings.closing
    over = _side("over_apron", file.over_apron, ours.facing_keep, ours.deep_keep, slips)
    under = _side("under_apron", file.under_apron, ours.facing_keep, ours.reverse_keep, slips)
    rounds = {name: _needed(file, name, "", slips) for name in ("waist", "hips", "drop")}
    pleats = file.pleats
    if pleats is None:
        slips.missing("pleats", "add a table [pleats] with number, depth_waist and depth_hips")
    depths = {name: _needed(pleats, name, "pleats.", slips) for name in ("depth_waist", "depth_hips")}
    if pleats is not None and pleats.number is None:
        slips.missing("pleats.number", "count them, and write it like number = 27")
    straps = file.straps or StrapsTable()
    holes, hole = straps.holes or ours.holes, straps.hole or ours.hole
    if hole > holes:
        slips.add("straps.hole", str(hole), f"is more than the {holes} holes there are", "count again")
    if under is not None:
        for name, apron in (("waist", under.waist), ("hips", under.hips)):
            round_ = rounds[name]
            if round_ is not None and apron >= round_:
                fix = "measure the round with the straps closed, the apron alone"
                slips.add(f"under_apron.{name}", str(apron), "must be less than the round", fix)
    waist, hips, drop = rounds["waist"], rounds["hips"], rounds["drop"]
    at_waist, at_hips = depths["depth_waist"], depths["depth_hips"]
    if slips.problems or None in (over, under, waist, hips, drop, at_waist, at_hips):
        return None
    if over is None or under is None or waist is None or hips is None or drop is None:
        return None
    if pleats is None or pleats.number is None or at_waist is None or at_hips is None:
        return None
    cut = pleats.folds_cut is not False
    return Kilt(
        opens_on=file.opens_on or "right",
        waist=waist,
        hips=hips,
        drop=drop,
        rise=file.rise or settings.wearer.rise,
        hem=file.hem or Fraction(0),
        pleats=pleats.number,
        layers=LAYERS[_FORMS[pleats.form or "knife"]],
        over=over,
        under=under,
        depth_waist=at_waist,
        depth_hips=at_hips,
        fold_left=(Fraction(1, 2) if pleats.fold_left is None else pleats.fold_left) if cut else None,
        holes=holes,
        hole=hole,
        hole_step=straps.step or ours.hole_step,
        buckle_room=ours.buckle_move,
    )


def _side(
    field: str, table: ApronTable | None, facing: Fraction, pleat: Fraction, slips: Slips
) -> Side | None:
    if table is None:
        slips.missing(field, f"add a table [{field}] with waist and hips")
        return None
    waist, hips = (_needed(table, name, f"{field}.", slips) for name in ("waist", "hips"))
    if waist is None or hips is None:
        return None
    return Side(
        name=field.replace("_", "-"),
        waist=waist,
        hips=hips,
        bottom=table.bottom or hips,
        facing=table.facing or Fraction(0),
        pleat=table.pleat or Fraction(0),
        facing_keep=facing,
        pleat_keep=pleat,
    )


def _needed(table: Table | None, name: str, where: str, slips: Slips) -> Fraction | None:
    if table is None:
        return None
    value: Fraction | None = getattr(table, name)
    if value is None:
        slips.missing(f"{where}{name}", f'measure it, and write it like {name} = "20 1/2"')
    return value
