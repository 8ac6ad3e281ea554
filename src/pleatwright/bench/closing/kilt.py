"""A finished kilt as far as it can be altered: rounds, aprons, and the cloth hidden beside them.

Exact inches.  Ours come from an order and its plan; anyone's can be measured.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.bench.closing.shape import Shape
from pleatwright.bench.closing.straps import strap_hole, straps
from pleatwright.bench.gauges import gauge_list
from pleatwright.layout import Apron, Option
from pleatwright.lengths import on_grid
from pleatwright.order import Job
from pleatwright.pleats import Form
from pleatwright.wearer import LevelName

LAYERS = {Form.KNIFE: 2, Form.CENTRE_BOX: 2, Form.BOX: 4, Form.MILITARY_BOX: 1}


@dataclass(frozen=True)
class Side:
    """One apron and the cloth hidden at its edges.

    `waist`, `hips`, `bottom`: its width there, without lap.  `facing`: cloth turned in at its free edge;
    `pleat`: cloth in the pleat at its other edge, beside what is folded in to shape the apron.
    """

    name: str
    waist: Fraction
    hips: Fraction
    bottom: Fraction
    facing: Fraction
    pleat: Fraction
    facing_keep: Fraction
    pleat_keep: Fraction

    @property
    def allotted(self) -> Fraction:
        """Its greatest width: the edges are folded in from there."""
        return max(self.waist, self.hips, self.bottom)

    @property
    def spare(self) -> Fraction:
        """Cloth that can be had from facing and pleat."""
        return max(Fraction(0), self.facing - self.facing_keep) + max(
            Fraction(0), self.pleat - self.pleat_keep
        )

    @property
    def room(self) -> tuple[Fraction, Fraction]:
        """How much wider it can be made at waist and hips; at the hips the bottom goes with it."""
        most = self.allotted + self.spare
        return most - self.waist, most - max(self.hips, self.bottom)

    def let_out(self, waist: Fraction, hips: Fraction) -> Side:
        """This apron made wider (negative: narrower); the cloth is taken half from either edge.

        Where one edge has too little the other gives the rest, and the stripe leaves the apron's middle.
        """
        wider = replace(self, waist=self.waist + waist, hips=self.hips + hips, bottom=self.bottom + hips)
        needed = wider.allotted - self.allotted
        facing = pleat = needed / 2
        if needed > 0:
            most_facing = max(Fraction(0), self.facing - self.facing_keep)
            most_pleat = max(Fraction(0), self.pleat - self.pleat_keep)
            facing = min(max(facing, needed - most_pleat), most_facing)
            pleat = needed - facing
        return replace(wider, facing=self.facing - facing, pleat=self.pleat - pleat)


@dataclass(frozen=True)
class Kilt:
    """A kilt that may be altered; inches.

    `waist`, `hips`: its rounds as it fits at the chosen hole.  `drop` from strap line to bottom edge, `rise`
    above it.  `layers`: cloth that a fold gives up for each inch it gets shallower: 2 in a knife pleat, 4 in
    a box pleat, 1 in a military box, whose other underfold grows with the panel [derived].  `depth_waist`,
    `depth_hips`: the shallowest fold.  `fold_left`: cloth left inside each seam where the folds were cut
    out, None where they were not.  `buckle_room`: how far the buckles can be moved to let it out.
    """

    opens_on: str
    waist: Fraction
    hips: Fraction
    drop: Fraction
    rise: Fraction
    hem: Fraction
    pleats: int
    layers: int
    over: Side
    under: Side
    depth_waist: Fraction
    depth_hips: Fraction
    fold_left: Fraction | None
    holes: int
    hole: int
    hole_step: Fraction
    buckle_room: Fraction

    @property
    def pleated_waist(self) -> Fraction:
        """Pleated width at the strap line."""
        return self.waist - self.under.waist

    @property
    def pleated_hips(self) -> Fraction:
        """Pleated width at the hip line."""
        return self.hips - self.under.hips

    @property
    def cloth(self) -> Fraction:
        """Cloth along the hip line, from cut end to cut end, every fold as deep as the shallowest."""
        return (
            sum((side.facing + side.allotted + side.pleat for side in (self.over, self.under)), Fraction(0))
            + self.pleated_hips
            + (self.pleats - 1) * self.layers * self.depth_hips
        )

    def resewn(self, waist: Fraction, hips: Fraction) -> Kilt:
        """The pleats sewn wider by so much in all (negative: narrower); the folds give the cloth."""
        each = hips / self.pleats
        return replace(
            self,
            waist=self.waist + waist,
            hips=self.hips + hips,
            depth_waist=self.depth_waist - waist / self.pleats / self.layers,
            depth_hips=self.depth_hips - each / self.layers,
            over=replace(self.over, pleat=self.over.pleat - each / 2),
            under=replace(self.under, pleat=self.under.pleat - each / 2),
        )

    def let_out(self, waist: Fraction, hips: Fraction) -> Kilt:
        """Both aprons made wider, and the rounds with them."""
        return replace(
            self,
            waist=self.waist + waist,
            hips=self.hips + hips,
            over=self.over.let_out(waist, hips),
            under=self.under.let_out(waist, hips),
        )


def kilt_of(job: Job, option: Option) -> Kilt:
    """The kilt an order's option will be, as planned; hidden cloth on the tape's grid."""
    sizes, request, settings = job.sizes, job.request, job.request.settings
    strap, hip, bottom = (sizes.level(name) for name in (LevelName.STRAP, LevelName.HIP, LevelName.BOTTOM))
    ours = settings.closing
    shape = Shape.of(option, sizes)
    hole = strap_hole(shape, gauge_list(option, request), request)
    reach = straps(shape, hole, request, job.body.waist)[0].reach
    kept = job.body.child or ours.let_out_later == "yes"

    def side(apron: Apron, pleat: float, keep: Fraction) -> Side:
        return Side(
            apron.name,
            strap.under_apron,
            hip.under_apron,
            bottom.under_apron,
            Fraction(option.facing).limit_denominator(10**6),
            on_grid(pleat, job.grid),
            ours.facing_keep,
            keep,
        )

    def depth(level: LevelName) -> Fraction:
        return on_grid(option.level(level).depth_least, job.grid)

    return Kilt(
        opens_on=option.opens_on,
        waist=sizes.waist,
        hips=sizes.hips,
        drop=sizes.drop,
        rise=sizes.rise,
        hem=sizes.hem,
        pleats=option.pleats,
        layers=LAYERS[option.form],
        over=side(option.over_apron, option.deep_pleat, ours.deep_keep),
        under=side(option.under_apron, option.reverse_pleat, ours.reverse_keep),
        depth_waist=depth(LevelName.STRAP),
        depth_hips=depth(LevelName.HIP),
        fold_left=None if kept else ours.fold_left,
        holes=ours.holes,
        hole=ours.hole,
        hole_step=ours.hole_step,
        buckle_room=reach - hole.from_seam - ours.buckle_clear if hole is not None else ours.buckle_move,
    )
