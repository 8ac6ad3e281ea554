"""The kilt seen from above, its folds opened a little so that each is seen: a line as long as its cloth.

You look down on the top edge, the outside towards you; x runs to the right along the cloth, y away from you
into the folds, both in inches.  Every stretch of cloth is a straight line exactly as long as the cloth it
stands for; opening the folds takes no cloth, it only makes the whole wider than it is sewn.  Aprons are drawn
at their widest, pleats as at the hip line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import acos, ceil, cos, floor, radians, sin, sqrt
from typing import NamedTuple

from pleatwright.bench import Part, Region, regions
from pleatwright.layout import Option, Request
from pleatwright.picture.faces import Cloth
from pleatwright.pleats import Form

Point = tuple[float, float]

LEAN = radians(45)
"""How steep folds hang; our choice, as every angle here: as flat as leaves the lines apart."""
LEAN_BOX = radians(35), radians(35)
STRAIGHT_IN = radians(90)
ROOM = 0.9
"""Of the room under a panel that folds may take up, drawn, before they hang steeper."""
LEAN_MILITARY = radians(40), radians(60)
LEAN_FACING = radians(14)
UNDER = 0.3
"""Inches by which a pleat that lies under both its neighbours is drawn below them."""
STEEPEST, STEEPEST_KNIFE = 0.95, radians(82)
"""Sine of the steepest fold under such a pleat; steepest lean of any knife."""


@dataclass(frozen=True)
class Stretch:
    """A straight length of cloth: tape positions (inches) of its two ends, and where they are drawn.

    `pleat` is the number of the pleat that shows it, 0 for cloth that is no pleat's face.
    """

    part: Part
    pleat: int
    start: float
    end: float
    a: Point
    b: Point

    @property
    def length(self) -> float:
        """Inches of cloth."""
        return abs(self.end - self.start)

    def at(self, tape: float) -> Point:
        """Where a tape position of this stretch is drawn."""
        way = (tape - self.start) / (self.end - self.start)
        return self.a[0] + way * (self.b[0] - self.a[0]), self.a[1] + way * (self.b[1] - self.a[1])

    def between(self, start: float, end: float) -> Stretch:
        """A part of it, from one tape position to another."""
        return replace(self, start=start, end=end, a=self.at(start), b=self.at(end))


@dataclass(frozen=True)
class Band:
    """A piece of a stretch in one colour (sRGB hex), from point to point."""

    a: Point
    b: Point
    colour: str


def top_view(option: Option) -> tuple[Stretch, ...]:
    """The whole strip from one cut end of the kilt to the other, left to right along the cloth.

    Knives point to the wearer's right on a kilt that opens there, and the over-apron lies over the deep pleat
    alike [derived].  The reverse pleat is folded the other way round, under the under-apron's edge, and a
    military box is a knife whose next panel has an underfold of half its width besides [from memory].
    """
    right = option.opens_on == "right"
    length = option.cloth_used if option.cloth is None else option.cloth.length
    parts = [part for part in regions(option, length) if part.part not in (Part.SPARE, Part.REST)]
    found = _walked(option, parts if right else [_turned(part, length) for part in reversed(parts)])
    if right:
        return tuple(found)
    widest = max(x for stretch in found for x in (stretch.a[0], stretch.b[0]))

    def mirrored(point: Point) -> Point:
        return widest - point[0], point[1]

    return tuple(
        replace(
            stretch,
            start=length - stretch.end,
            end=length - stretch.start,
            a=mirrored(stretch.b),
            b=mirrored(stretch.a),
        )
        for stretch in reversed(found)
    )


def _turned(part: Region, length: float) -> Region:
    return replace(part, start=length - part.end, end=length - part.start)


def bands(stretch: Stretch, option: Option, request: Request) -> Iterator[Band]:
    """The stretch stripe by stripe in the colours of the weft."""
    tartan, sett = request.tartan, request.tartan.weft
    if sett.plain:
        yield Band(stretch.a, stretch.b, tartan.hex_of(sett.stripes[0].colour))
        return
    run = Cloth.of(option, request).along
    first, last = run.thread_at(stretch.start), run.thread_at(stretch.end)
    for turn in range(floor(first / sett.n) - 1, ceil(last / sett.n) + 1):
        for stripe in sett.stripes:
            left, right = (max(first, min(last, turn * sett.n + t)) for t in (stripe.start, stripe.end))
            if right > left:
                yield Band(
                    stretch.at(run.tape_at(left)),
                    stretch.at(run.tape_at(right)),
                    tartan.hex_of(stripe.colour),
                )


class _Fold(NamedTuple):
    """Cloth between two faces: `under` goes back beneath the first face, `before` lies ahead of the second.

    A knife has only the one, a knife the other way round only the other, a box both: from the first face's
    edge back by `under`, on by both, and back by `before` to the second face's edge.
    """

    region: Region
    under: float
    before: float


def _folds(option: Option, between: list[Region]) -> list[_Fold]:
    """The folds in walking order; `between` holds fold, pleat, fold and so on."""
    found = []
    for number, region in enumerate(between[::2]):
        half = region.width / 2
        if number == option.pleats:
            fold = _Fold(region, 0.0, half)
        elif number == 0 or option.form is Form.KNIFE:
            fold = _Fold(region, half, 0.0)
        elif option.form is Form.CENTRE_BOX:
            before_middle = number <= option.pleats // 2
            fold = _Fold(region, 0.0, half) if before_middle else _Fold(region, half, 0.0)
        elif option.form is Form.MILITARY_BOX:
            shallow = min(between[2 * number - 1].width, half) / 2
            fold = _Fold(region, half - shallow, shallow)
        else:
            fold = _Fold(region, half / 2, half / 2)
        found.append(fold)
    return found


def _leans(form: Form, fold: _Fold, face: float) -> tuple[float, float]:
    """How steep both sides of a box's fold hang, in radians; where folds overlap, one below the other."""
    if form is Form.MILITARY_BOX:
        return LEAN_MILITARY
    if fold.under <= face / 2:
        return LEAN_BOX
    return max(LEAN, acos(min(1.0, ROOM * face / fold.under))), STRAIGHT_IN


def _knife_lean(option: Option, folds: list[_Fold], faces: list[Region]) -> float:
    """How steep a knife's folds hang: beside a centre box so steep that both find room under it."""
    if option.form is not Form.CENTRE_BOX:
        return LEAN
    middle = option.pleats // 2
    deepest = max(folds[middle].before, folds[middle + 1].under)
    return max(LEAN, min(STEEPEST_KNIFE, acos(min(1.0, ROOM * faces[middle].width / (2 * deepest)))))


@dataclass
class _Walk:
    """Lays one part after the other, for a kilt that opens on the right.

    `lean`: of knives, in radians; `at` is where it has come to, `tape` how far along the cloth that is.
    """

    lean: float
    at: Point
    tape: float
    found: list[Stretch] = field(default_factory=list)

    def to(self, part: Part, pleat: int, end: Point, length: float) -> None:
        """A straight line to a point that is `length` inches away."""
        self.found.append(Stretch(part, pleat, self.tape, self.tape + length, self.at, end))
        self.at, self.tape = end, self.tape + length

    def fold(self, form: Form, fold: _Fold, face: float) -> None:
        """From the last face's edge, or from under it, to where the next face's own line begins."""
        part, pleat, (x, y) = fold.region.part, 0, self.at
        if fold.under == 0.0:
            self.to(part, pleat, (x - sqrt(max(fold.before**2 - y**2, 0.0)), 0.0), fold.before)
            return
        if fold.before == 0.0:
            self.to(part, pleat, (x - fold.under * cos(self.lean), fold.under * sin(self.lean)), fold.under)
            return
        near, far = _leans(form, fold, face)
        self.to(part, pleat, (x - fold.under * cos(near), fold.under * sin(near)), fold.under)
        both = fold.under + fold.before
        deep = fold.before * sin(far)
        far_x = self.at[0] + sqrt(both**2 - (self.at[1] - deep) ** 2)
        self.to(part, pleat, (far_x, deep), both)
        self.to(part, pleat, (far_x - fold.before * cos(far), 0.0), fold.before)

    def face(self, fold: _Fold, face: Region, then: _Fold | None) -> None:
        """A pleat or the under-apron with the hidden cloth that lies in one line with it."""
        coming = fold.under if fold.before == 0.0 else 0.0
        going = then.before if then is not None and then.under == 0.0 else 0.0
        x, y = self.at
        if coming and going:
            level = min(UNDER, y)
            slope = min(sin(self.lean), STEEPEST - level / going)
            first = x + sqrt(coming**2 - (y - level) ** 2), level
            second = first[0] + face.width, level
            third = second[0] + going * sqrt(1 - slope**2), level + going * slope
        else:
            deep, whole = going * sin(self.lean), coming + face.width + going
            wide = sqrt(whole**2 - (deep - y) ** 2)
            first, second, third = (
                (x + wide * done / whole, y + (deep - y) * done / whole)
                for done in (coming, coming + face.width, whole)
            )
        if coming:
            self.to(fold.region.part, 0, first, coming)
        self.to(face.part, face.pleat, second, face.width)
        if then is not None and going:
            self.to(then.region.part, 0, third, going)


def _walked(option: Option, parts: list[Region]) -> list[Stretch]:
    """Facing, over-apron, folds and pleats in turn, under-apron, facing."""
    faced = parts[0].part is Part.FACING
    facing = parts[0].width if faced else 0.0
    over, *between, under = parts[1:-1] if faced else parts
    folds, faces = _folds(option, between), [*between[1::2], under]
    turned_in = facing * cos(LEAN_FACING), facing * sin(LEAN_FACING)
    walk = _Walk(_knife_lean(option, folds, faces), turned_in, parts[0].start)
    if faced:
        walk.to(Part.FACING, 0, (0.0, 0.0), facing)
    walk.to(Part.OVER_APRON, 0, (over.width, 0.0), over.width)
    for fold, face, then in zip(folds, faces, (*folds[1:], None), strict=True):
        walk.fold(option.form, fold, face.width)
        walk.face(fold, face, then)
    if faced:
        walk.to(Part.FACING, 0, (walk.at[0] - turned_in[0], walk.at[1] + turned_in[1]), facing)
    return walk.found
