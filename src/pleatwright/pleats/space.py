"""Every way of pleating worth trying, before any of them is laid on the cloth.

Steps and gaps are in threads; reveals in inches at the nominal sett size.  What is left out, and why:
numbers of pleats whose reveals break a limit; whole setts beyond those a fold can sensibly hold; stripes as
wide as the reveal (the pleat would show one colour and no line); alternate stripes of which one gap is more
than twice the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import ceil, floor
from typing import TypeVar

from pleatwright.pleats.forms import Form, Kind, Shows, gap_for_depth
from pleatwright.pleats.limits import ROUNDING, least_depth, pleat_numbers
from pleatwright.pleats.pleating import LEFT_OUT, Pleating, reveals
from pleatwright.pleats.wishes import PLAIN_KINDS, TARTAN_KINDS, Wishes
from pleatwright.sett import Occurrence, Sett, Sight, sights
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

T = TypeVar("T")

ALTERNATE_GAPS_MOST = 2.0
"""Greatest ratio of the two gaps of an alternate stripe; our choice: beyond it one fold is twice as bulky."""


@dataclass(frozen=True)
class PleatSpace:
    """The space for one sett on one body: `sett_size` inches a period, `widths` pleated inches by level."""

    sett: Sett
    sett_size: float
    widths: Mapping[LevelName, float]
    settings: Settings
    wishes: Wishes
    _known_sights: dict[float, tuple[Sight, ...]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    @cached_property
    def thread(self) -> float:
        """Nominal inches a thread."""
        return self.sett_size / self.sett.n

    @cached_property
    def middles(self) -> tuple[float, ...]:
        """Phases that may lie in the middle of the back: mirror centres, else every stripe's centre."""
        if self.wishes.apron_phase is not None and self.wishes.same_middle:
            return (self.wishes.apron_phase,)
        return self.sett.mirror_centres or tuple(s.centre % self.sett.n for s in self.sett.stripes)

    def least_gap(self, form: Form, pleats: int, faces: float = 1.0, centre_face: float = 1.0) -> float:
        """Threads from centre to centre that leave the least depth at every level; `faces`: mean face."""
        depth = least_depth(form, self.settings)
        faces_wide = (faces * reveals(width, pleats, centre_face) for width in self.widths.values())
        return max(gap_for_depth(form, depth, face) for face in faces_wide) / self.thread - ROUNDING

    def deepest_gap(self, form: Form, reveal: float) -> float:
        """The greatest gap (threads) that is tried: a box's fold fills its panel, others have a setting."""
        depth = reveal if form is Form.BOX else float(self.settings.search.depth_most)
        return gap_for_depth(form, depth, reveal) / self.thread + ROUNDING

    def useful(
        self, form: Form, gaps: Sequence[Sequence[float]], pleats: int, reveal: float
    ) -> Iterator[int]:
        """Which gap patterns to try: all that fit and are not too deep; where none is, the shallowest."""
        least = self.least_gap(form, pleats)
        fitting = [i for i, pattern in enumerate(gaps) if min(pattern) >= least]
        shallowest = min((max(gaps[i]) for i in fitting), default=0.0) + ROUNDING
        deepest = max(self.deepest_gap(form, reveal), shallowest)
        yield from (i for i in fitting if max(gaps[i]) <= deepest)

    def steps(self, shows: Shows, reveal: float) -> Iterator[tuple[float, int | None]]:
        """(Threads of flat tartan one reveal stands for, parts of a sett): even division, or running."""
        if shows is Shows.SETT_RUNNING:
            yield reveal / self.thread, None
            return
        search = self.settings.search
        least = max(2, ceil(search.division_least * self.sett_size / reveal - ROUNDING))
        for parts in range(least, floor(search.division_most * self.sett_size / reveal + ROUNDING) + 1):
            yield self.sett.n / parts, parts

    def sights(self, reveal: float) -> tuple[Sight, ...]:
        """Sights worth pleating to at this reveal (the greatest of any level)."""
        clear = reveal - 2 * float(self.settings.pleats.fold_clearance)
        wanted = self.wishes.stripe
        return tuple(
            sight
            for sight in self._sights_at(reveal)
            if all(self.sett.stripe_at(o.phase).threads * self.thread <= clear for o in sight.occurrences)
            and (wanted is None or any(abs(o.phase - wanted) < 0.75 for o in sight.occurrences))
        )

    def _sights_at(self, reveal: float) -> tuple[Sight, ...]:
        """The sights at a reveal.  Wider reveals only tell more places apart, so between two reveals with the
        same sights there is nothing to look for."""
        known = self._known_sights
        if reveal not in known:
            below = max((each for each in known if each < reveal), default=None)
            above = min((each for each in known if each > reveal), default=None)
            if below is not None and above is not None and known[below] == known[above]:
                known[reveal] = known[below]
            else:
                tolerance = float(self.settings.pleats.sight_tolerance)
                known[reveal] = sights(self.sett, self.thread, reveal / 2, tolerance)
        return known[reveal]

    def occurrences(self, sight: Sight) -> Iterator[tuple[str, tuple[Occurrence, ...], tuple[float, ...]]]:
        """Ways of taking a sight: words, one turn of occurrences, and the threads from each to the next."""
        n, all_of = self.sett.n, sight.occurrences
        many = len(all_of)
        whole = range(many, many * self.settings.search.setts_most + 1, many)
        for stride in (*range(1, many), *whole):
            places = [o.phase + turn * n for turn in range(2 * stride + 2) for o in all_of]
            for start in range(many):
                taken: list[Occurrence] = []
                gaps: list[float] = []
                at = start
                while not taken or at % many != start:
                    taken.append(all_of[at % many])
                    gaps.append(places[at % many + stride] - places[at % many])
                    at += stride
                yield _takes(stride, many), tuple(taken), tuple(gaps)

    def greatest_reveal(self, pleats: int, centre_face: float = 1.0) -> float:
        """The greatest reveal of any level."""
        return reveals(max(self.widths.values()), pleats, centre_face)


def _takes(stride: int, many: int) -> str:
    if stride % many == 0:
        return {1: "once a sett", 2: "every second sett"}.get(stride // many, f"every {stride // many} setts")
    return "each occurrence" if stride == 1 else f"every {stride} occurrences"


def _turned(pattern: Sequence[T], count: int) -> tuple[T, ...]:
    """The first `count` entries of a pattern repeated for ever."""
    return (tuple(pattern) * (count // len(pattern) + 1))[:count]


def _middle(first: float, gaps: tuple[float, ...], n: int) -> float:
    """Phase of the stripe shown in the middle of the back; of two middle pleats, the first one's."""
    return (first + sum(gaps[: len(gaps) // 2])) % n


def _to_the_sett(space: PleatSpace, kind: Kind, pleats: int, reveal: float) -> Iterator[Pleating]:
    n = space.sett.n
    for shown, parts in space.steps(kind.shows, reveal):
        deep = [(k * n + shown,) for k in range(1, space.settings.search.setts_most + 1)]
        for i in space.useful(kind.form, deep, pleats, reveal):
            for middle in space.middles:
                yield Pleating(
                    kind.form,
                    kind.shows,
                    pleats,
                    (middle - (pleats - 1) / 2 * shown) % n,
                    deep[i] * (pleats - 1),
                    middle,
                    shown=shown,
                    division=parts,
                    setts=i + 1,
                )


def _to_the_stripe(space: PleatSpace, kind: Kind, pleats: int, reveal: float) -> Iterator[Pleating]:
    for sight in space.sights(space.greatest_reveal(pleats)):
        ways = list(space.occurrences(sight))
        for i in space.useful(kind.form, [gaps for _, _, gaps in ways], pleats, reveal):
            takes, taken, pattern = ways[i]
            gaps = _turned(pattern, pleats - 1)
            yield Pleating(
                kind.form,
                kind.shows,
                pleats,
                taken[0].phase,
                gaps,
                _middle(taken[0].phase, gaps, space.sett.n),
                setts=int(min(pattern) // space.sett.n),
                stripes=(sight.name,),
                takes=takes,
                classes=_turned([int(o.mirrored) for o in taken], pleats),
            )


def _alternate(space: PleatSpace, kind: Kind, pleats: int, reveal: float) -> Iterator[Pleating]:
    n = space.sett.n
    found = space.sights(space.greatest_reveal(pleats))
    places = [(o.phase, sight.name) for sight in found for o in sight.occurrences]
    least, deepest = space.least_gap(kind.form, pleats), space.deepest_gap(kind.form, reveal)
    for first, name in places:
        for second, other in places:
            if name == other:
                continue
            pattern = (_whole_setts_on(second - first, least, n), _whole_setts_on(first - second, least, n))
            if max(pattern) > min(deepest, ALTERNATE_GAPS_MOST * min(pattern)):
                continue
            gaps = _turned(pattern, pleats - 1)
            yield Pleating(
                kind.form,
                kind.shows,
                pleats,
                first,
                gaps,
                _middle(first, gaps, n),
                setts=int(min(pattern) // n),
                stripes=(name, other),
                takes="in turn",
                classes=_turned((0, 1), pleats),
            )


def _plain(space: PleatSpace, kind: Kind, pleats: int, reveal: float) -> Iterator[Pleating]:
    depth = float(space.settings.pleats.plain_depth)
    underfold = max(reveal / 2, least_depth(kind.form, space.settings))
    hidden = {Form.KNIFE: 2 * depth, Form.BOX: 4 * underfold, Form.MILITARY_BOX: reveal + 2 * depth}
    gap = max((reveal + hidden[kind.form]) / space.thread, space.least_gap(kind.form, pleats))
    yield Pleating(kind.form, kind.shows, pleats, 0.0, (gap,) * (pleats - 1), 0.0, setts=0)


def _centre_box(space: PleatSpace, kind: Kind, pleats: int, reveal: float) -> Iterator[Pleating]:
    """A wide middle panel; knives run away from it on both sides, each side the other's mirror image."""
    n, wide = space.sett.n, float(space.settings.pleats.centre_box_reveals)
    side = (pleats - 1) // 2
    bare = Pleating(kind.form, kind.shows, pleats, 0.0, (), 0.0, centre_face=wide)

    def around(bare: Pleating, middle: float, right: float, left: float, far: float) -> Pleating:
        gaps = ((far,) * (side - 1) + (left,) + (right,) + (far,) * (side - 1)) if side else ()
        return replace(bare, first=(middle - sum(gaps[:side])) % n, gaps=gaps, middle=middle)

    near_least = space.least_gap(kind.form, pleats, (wide + 1) / 2, wide)
    far_least = space.least_gap(kind.form, pleats, 1.0, wide)
    if kind.shows is Shows.PLAIN:
        gap = (reveal + 2 * float(space.settings.pleats.plain_depth)) / space.thread
        near = gap + (wide - 1) / 2 * reveal / space.thread
        yield around(replace(bare, setts=0), 0.0, near, near, gap)
    elif kind.shows is Shows.STRIPE:
        far = _whole_setts_on(n, far_least, n)
        mirrored = int(space.sett.symmetric)
        for sight in space.sights(space.greatest_reveal(pleats, wide)):
            marked = replace(
                bare,
                setts=int(far // n),
                stripes=(sight.name,),
                takes=_takes(round(far / n), 1),
                classes=(*(mirrored,) * side, LEFT_OUT, *(0,) * side),
            )
            for middle in space.middles:
                for there in sight.occurrences:
                    right = _whole_setts_on(there.phase - middle, near_least, n)
                    left = right if mirrored else _whole_setts_on(middle - there.phase, near_least, n)
                    yield around(marked, middle, right, left, far)
    else:
        for shown, parts in space.steps(kind.shows, reveal):
            for k in range(1, space.settings.search.setts_most + 1):
                near, far = k * n + (wide + 1) / 2 * shown, k * n + shown
                if near < near_least or far < far_least:
                    continue
                for middle in space.middles:
                    yield around(replace(bare, shown=shown, division=parts, setts=k), middle, near, near, far)
                if far + n > space.deepest_gap(kind.form, reveal):
                    break


def _whole_setts_on(gap: float, least: float, n: int) -> float:
    """The smallest gap of at least `least` threads that differs from `gap` by whole setts."""
    return gap + n * ceil((least - gap) / n)


WAYS = {Shows.STRIPE: _to_the_stripe, Shows.ALTERNATE: _alternate, Shows.PLAIN: _plain}


def pleatings(space: PleatSpace) -> Iterator[Pleating]:
    """Every way of pleating in the space, kind by kind in a fixed order."""
    for kind in filter(space.wishes.wants, PLAIN_KINDS if space.sett.plain else TARTAN_KINDS):
        centre_box = kind.form is Form.CENTRE_BOX
        way = _centre_box if centre_box else WAYS.get(kind.shows, _to_the_sett)
        wide = float(space.settings.pleats.centre_box_reveals) if centre_box else 1.0
        for pleats in pleat_numbers(kind.form, space.widths, space.settings, space.wishes.pleats):
            yield from way(space, kind, pleats, reveals(space.widths[LevelName.HIP], pleats, wide))
