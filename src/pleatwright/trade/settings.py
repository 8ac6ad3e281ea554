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
    uneven_most: Fraction
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
    """How far the search looks; `division_*` are hip reveal over even division, `near_best` points.

    `off_*`: how far the sett (a proportion), a girth and a sewn pleat (inches) may be off.
    """

    division_least: float
    division_most: float
    setts_most: int
    depth_most: Fraction
    near_best: float
    off_sett: float
    off_body: Fraction
    off_reveal: Fraction


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
    join_jump: float
    turn: float
    style_sett: float
    style_sett_running: float
    style_sett_uneven: float
    style_stripe: float
    style_alternate: float
    style_plain: float
    style_box: float
    style_military_box: float
    style_centre_box: float


@dataclass(frozen=True)
class BenchSettings:
    """Chalk, gauges and grid; inches, `*_mm` millimetres."""

    chalk_line: Fraction
    chalk_line_mm: float
    gauge_tolerance: Fraction
    gauge_tolerance_mm: float
    grid: str


@dataclass(frozen=True)
class SewingSettings:
    """How a maker sews, and how near the end must come; inches a pleat, inches."""

    pace_pleats_an_hour: float
    bias: Fraction
    scatter: Fraction
    neighbours_most: Fraction
    change_most: Fraction
    doubt_sds: float
    off_good: Fraction
    off_most: Fraction
    measure_every: int
    miss_chance: float


@dataclass(frozen=True)
class ClosingSettings:
    """Straps, inside, finishing, altering; inches, `*_ounces` ounces (of cloth a yard), `hours_*` hours."""

    strap_width: Fraction
    strap_hole_longer: Fraction
    fold_cut_clear: Fraction
    straps: int
    under_strap: str
    strap_sewn: Fraction
    strap_reach: Fraction
    strap_tip: Fraction
    holes: int
    hole: int
    hole_step: Fraction
    hole_across: Fraction
    lower_strap_below: Fraction
    buckle_clear: Fraction
    let_out_later: str
    fold_left: Fraction
    stabiliser_height: Fraction
    turning: Fraction
    interfacing_apron: Fraction
    interfacing_apron_least: Fraction
    interfacing_apron_most: Fraction
    interfacing_pleats: Fraction
    interfacing_pleats_least: Fraction
    lining_below: Fraction
    lining_ease: Fraction
    loops: int
    loop_width: Fraction
    loop_height: Fraction
    fringe: Fraction
    fringe_most: Fraction
    band_showing: Fraction
    band_showing_least: Fraction
    band_showing_most: Fraction
    under_lift: Fraction
    bottom_beyond_seat: Fraction
    stripes_off: Fraction
    stitches_an_inch: float
    thread_factor: float
    hours_pace: float
    hours_cloth: float
    hours_rip: float
    hours_fold: float
    hours_aprons: float
    hours_inside: float
    hours_straps: float
    hours_band: float
    hours_lining: float
    hours_press: float
    cloth_ounces: float
    inner_ounces: float
    let_out_most: Fraction
    take_in_most: Fraction
    buckle_move: Fraction
    facing_keep: Fraction
    deep_keep: Fraction
    reverse_keep: Fraction
    resew_most: Fraction
    strap_line_move: Fraction
    hours_alter_buckles: float
    hours_alter_aprons: float
    hours_alter_straps: float
    hours_alter_hem: float


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
