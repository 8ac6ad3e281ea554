"""Stitches, thread, hours and weight of one kilt."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from pleatwright.bench.closing.hours import half_hours
from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.values import Band, Inside, Panel, Seam, Stage, Weight, Work
from pleatwright.layout import Option, Request
from pleatwright.wearer import LevelName

CLOTH_YARD = 2160
"""Square inches of a cloth yard: 36 by 60; 288" × 24" of 16 oz weigh 51.2 oz [public:
xmarksthescot.com threads 38115 and 90830]."""
GRAMS = 28.349523125
"""Grams in an ounce (avoirdupois), exactly."""
KINDS = ((12.5, "light"), (15.0, "medium"), (17.0, "heavy"))
"""Names of weights by ounces a cloth yard: 10 to 12 light, 13 to 14 medium, 16 heavy, 18 to 21 regimental
[public: xmarksthescot.com threads 38115 and 90830]; between them the nearer one."""


def work(option: Option, shape: Shape, band: Band, inside: Inside, request: Request) -> Work:
    """Every length sewn by hand with its stitches and thread, and the hours stage by stage.

    The fell is sewn once for every pleat, from the top edge to the hip line.  The hours of the settings are
    those of a maker at `hours_pace`; a slower one takes as much longer over every stage.  Every stage is told
    on the half hour, and the whole is the sum of what is told.
    """
    ours, sewing = request.settings.closing, request.settings.sewing
    fell = shape.sizes.level(LevelName.HIP).below_top
    total = shape.sizes.total

    def seam(name: str, length: Fraction) -> Seam:
        stitches = ceil(length * Fraction(ours.stitches_an_inch))
        return Seam(name, length, stitches, length * Fraction(ours.thread_factor))

    seams = (
        seam("fell", option.pleats * fell),
        seam("facings", 2 * total),
        seam("top band", 2 * band.length),
        seam("stabiliser", 2 * inside.stabiliser.width_top),
        seam("lining", sum((_round(panel) for panel in inside.lining), Fraction(0))),
    )
    slower = ours.hours_pace / sewing.pace_pleats_an_hour
    worked = (
        Stage("relax, read and mark the cloth; the check", ours.hours_cloth * slower),
        Stage("rip, facings and fringe", ours.hours_rip * slower),
        Stage("fold and baste the pleats", ours.hours_fold * slower),
        Stage("sew the fell", option.pleats / sewing.pace_pleats_an_hour),
        Stage("aprons, deep and reverse pleat", ours.hours_aprons * slower),
        Stage("folds, stabiliser, interfacing", ours.hours_inside * slower),
        Stage("straps, buckles, loops", ours.hours_straps * slower),
        Stage("top band", ours.hours_band * slower),
        Stage("lining", ours.hours_lining * slower),
        Stage("fit, press, last measures", ours.hours_press * slower),
    )
    stages = tuple(Stage(stage.name, half_hours(stage.hours)) for stage in worked)
    return Work(
        stitches_an_inch=ours.stitches_an_inch,
        fell_stitches=seams[0].stitches,
        seams=seams,
        thread=sum((one.thread for one in seams), Fraction(0)),
        pleats_an_hour=sewing.pace_pleats_an_hour,
        stages=stages,
        hours=sum(stage.hours for stage in stages),
    )


def _round(panel: Panel) -> Fraction:
    return panel.width_top + panel.width_bottom + 2 * panel.height


def weight(option: Option, shape: Shape, inside: Inside, request: Request) -> Weight:
    """Hem length × total length / 2160 square inches × the cloth's ounces, and the inner parts."""
    ours = request.settings.closing
    yards = option.cloth_used * float(shape.sizes.total) / CLOTH_YARD
    cloth = yards * ours.cloth_ounces
    cut_out = inside.folds.area / CLOTH_YARD * ours.cloth_ounces
    kind = next((name for most, name in KINDS if ours.cloth_ounces < most), "regimental")
    return Weight(yards, cloth, cut_out, ours.inner_ounces, cloth - cut_out + ours.inner_ounces, kind)
