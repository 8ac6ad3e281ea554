"""The shop's settings: one typed value for every default of the trade."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class WearerSettings:
    """What is added to a body, and how the round is shared; inches."""

    ease_waist: Fraction
    ease_hips: Fraction
    ease_child: Fraction
    rise: Fraction
    rise_usual_least: Fraction
    rise_usual_most: Fraction
    share_waist: Fraction
    share_hips: Fraction
    lap: Fraction
    flare: Fraction
    fell_share: Fraction
    child_hem: Fraction
    hem_most: Fraction
    opening_above_strap: Fraction


@dataclass(frozen=True)
class ClothSettings:
    """What is allotted along and across the piece of cloth; inches."""

    facing: Fraction
    deep_pleat: Fraction
    reverse_pleat: Fraction
    band_height: Fraction
    band_spare: Fraction
    snap_tolerance: Fraction
    seam_allowance: Fraction
    join_clearance: Fraction
    skew_warn: Fraction
    skew_stop: Fraction


@dataclass(frozen=True)
class PleatsSettings:
    """Limits and wishes for reveals, depths and lines; inches unless a count or a proportion."""

    depth_least: Fraction
    depth_usual_least: Fraction
    depth_usual_most: Fraction
    reveal_least: Fraction
    reveal_most: Fraction
    reveal_preferred: Fraction
    reveal_usual_least: Fraction
    reveal_usual_most: Fraction
    underfold_least: Fraction
    narrow_line: Fraction
    fold_clearance: Fraction
    lost_share: float
    standard_pleats: int
    box_least: int
    box_most: int
    military_reveal_least: Fraction
    military_reveal_most: Fraction
    plain_depth: Fraction
    centre_box_reveals: float
    sight_tolerance: Fraction


@dataclass(frozen=True)
class SearchSettings:
    """How far the search looks; `division_*` are hip reveal over even division."""

    division_least: float
    division_most: float
    setts_most: int
    depth_most: Fraction


@dataclass(frozen=True)
class WeightsSettings:
    """Points a candidate loses in the ranking; each one's unit stands in its provenance."""

    match: float
    line: float
    reveal: float
    depth: float
    cloth: float
    bulk: float
    even_middle: float
    centre: float
    mirror: float
    square: float
    few_pleats: float
    join: float
    turn: float
    style_sett: float
    style_sett_running: float
    style_stripe: float
    style_alternate: float
    style_plain: float
    style_box: float
    style_military_box: float
    style_centre_box: float


@dataclass(frozen=True)
class BenchSettings:
    """Chalk and grid; inches, `chalk_line_mm` millimetres."""

    chalk_line: Fraction
    chalk_line_mm: float
    grid: str


@dataclass(frozen=True)
class SewingSettings:
    """How a maker sews, and how near the end must come; inches a pleat, inches."""

    pace_pleats_an_hour: float
    bias: Fraction
    scatter: Fraction
    neighbours_most: Fraction
    off_good: Fraction
    off_most: Fraction


@dataclass(frozen=True)
class ClosingSettings:
    """Straps, inside and finishing; inches."""

    strap_width: Fraction
    strap_hole_longer: Fraction
    fold_cut_clear: Fraction


@dataclass(frozen=True)
class Settings:
    """Every setting of a shop, by room."""

    wearer: WearerSettings
    cloth: ClothSettings
    pleats: PleatsSettings
    search: SearchSettings
    weights: WeightsSettings
    bench: BenchSettings
    sewing: SewingSettings
    closing: ClosingSettings
