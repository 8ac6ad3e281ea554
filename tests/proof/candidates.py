"""Every way of pleating that is to be tried, in plain loops (the tables of docs/choosing.md)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from pleatwright.layout import Request
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, Form, Kind, Shows
from pleatwright.wearer import FELL_LEVELS, LevelName
from tests.proof.pattern import Name, Pattern

FUZZ = 1e-9
NO_CLASS = -1
TWICE = 2.0
"""Greatest ratio of the two gaps of an alternate stripe [our choice]."""

Gaps = tuple[float, ...]


@dataclass(frozen=True)
class Pleats:
    """N strips in threads; `wide`: the middle face in reveals; `like`: strips of one number look alike."""

    kind: Kind
    count: int
    first: float
    gaps: Gaps
    middle: float
    flat: float | None = None
    wide: float = 1.0
    parts: int | None = None
    setts: int = 1
    sight: Name = ()
    like: tuple[int, ...] = ()

    def face(self, strip: int) -> float:
        return self.wide if strip == self.count // 2 else 1.0

    @property
    def faces(self) -> float:
        return self.count - 1 + self.wide


@dataclass
class Space:
    """What one request leaves to be tried along one pattern; thread sizes are the nominal ones."""

    pattern: Pattern
    request: Request
    stripe: float | None
    apron_phase: float | None

    def __post_init__(self) -> None:
        self.limits, self.search = self.request.settings.pleats, self.request.settings.search
        self.size = float(self.request.sett_along)
        self.thread = self.size / self.pattern.n
        sizes = self.request.sizes
        self.widths = {level: float(sizes.level(level).pleated) for level in FELL_LEVELS}
        self.looks: dict[float, list[list[tuple[float, bool]]]] = {}

    @property
    def aprons(self) -> list[float]:
        """Stripes that may lie at the aprons' centres."""
        if self.apron_phase is not None:
            return [self.apron_phase]
        if self.pattern.plain:
            return [0.0]
        if self.request.wishes.same_middle and self.pattern.mirrors:
            return self.pattern.mirrors
        return self.pattern.centres

    @property
    def middles(self) -> list[float]:
        """Stripes that may lie in the middle of the back."""
        if self.apron_phase is not None and self.request.wishes.same_middle:
            return [self.apron_phase]
        return self.pattern.mirrors or self.pattern.centres

    def shallowest(self, form: Form) -> float:
        """Inches every fold must be deep."""
        knife = form in (Form.KNIFE, Form.CENTRE_BOX)
        return float(self.limits.depth_least if knife else self.limits.underfold_least)

    def gap_for(self, form: Form, depth: float, face: float) -> float:
        """Inches from centre to centre for a fold of this depth between two faces of this width."""
        if form is Form.BOX:
            return face + 4 * depth
        if form is Form.MILITARY_BOX:
            return 2 * face + 2 * depth
        return face + 2 * depth

    def least_gap(self, form: Form, faces: float, mean_face: float = 1.0) -> float:
        """Threads between neighbours that leave every level its depth."""
        depth = self.shallowest(form)
        inches = max(self.gap_for(form, depth, mean_face * (w / faces)) for w in self.widths.values())
        return inches / self.thread - FUZZ

    def most_gap(self, form: Form, hip: float) -> float:
        """Threads beyond which a fold is deeper than is tried."""
        depth = hip if form is Form.BOX else float(self.search.depth_most)
        return self.gap_for(form, depth, hip) / self.thread + FUZZ

    def worth_trying(self, patterns: list[Gaps], form: Form, count: int, hip: float) -> list[int]:
        """Which gaps are deep enough and not too deep; the shallowest of the deep enough ones always."""
        least = self.least_gap(form, float(count))
        fit = [i for i, gaps in enumerate(patterns) if min(gaps) >= least]
        if not fit:
            return []
        most = max(self.most_gap(form, hip), min(max(patterns[i]) for i in fit) + FUZZ)
        return [i for i in fit if max(patterns[i]) <= most]

    def numbers(self, form: Form) -> list[int]:
        """Numbers of pleats whose reveals keep the limits at every level."""
        limits, wished = self.limits, self.request.wishes.pleats
        if form is Form.BOX:
            found = list(range(limits.box_least, limits.box_most + 1))
        else:
            most = float(limits.military_reveal_most if form is Form.MILITARY_BOX else limits.reveal_most)
            extra = float(limits.centre_box_reveals) - 1 if form is Form.CENTRE_BOX else 0.0
            narrow, wide = min(self.widths.values()), max(self.widths.values())
            found = []
            for count in range(
                1 if form is Form.CENTRE_BOX else 2, floor(narrow / float(limits.reveal_least)) + 2
            ):
                if form is Form.CENTRE_BOX and count % 2 == 0:
                    continue
                if wide / most - extra - FUZZ <= count <= narrow / float(limits.reveal_least) - extra + FUZZ:
                    found.append(count)
            if form is Form.MILITARY_BOX:
                hip, least = self.widths[LevelName.HIP], float(limits.military_reveal_least)
                found = [count for count in found if hip / count >= least - FUZZ]
        return [count for count in found if wished in (None, count)]

    def flats(self, shows: Shows, hip: float) -> list[tuple[float, int | None]]:
        """Threads of flat tartan that one reveal may stand for, with the parts of a sett."""
        if shows is Shows.SETT_RUNNING:
            return [(hip / self.thread, None)]
        found: list[tuple[float, int | None]] = []
        for parts in range(2, ceil(2 * self.search.division_most * self.size / hip) + 2):
            ratio = hip * parts / self.size
            slack = FUZZ * hip / self.size
            if self.search.division_least - slack <= ratio <= self.search.division_most + slack:
                found.append((self.pattern.n / parts, parts))
        return found

    def sights(self, widest: float) -> list[tuple[Name, list[tuple[float, bool]]]]:
        """Named looks of stripes that leave both folds clear at the greatest reveal."""
        if widest not in self.looks:
            tolerance = float(self.limits.sight_tolerance) / self.thread
            self.looks[widest] = self.pattern.sights(widest / 2 / self.thread, tolerance)
        room = widest - 2 * float(self.limits.fold_clearance)
        widths = {self.pattern.centre(line): line.threads * self.thread for line in self.pattern.lines}
        return [
            (self.pattern.name(look), look)
            for look in self.looks[widest]
            if all(widths[phase] <= room for phase, _ in look)
            and (self.stripe is None or any(abs(phase - self.stripe) < 0.75 for phase, _ in look))
        ]

    def on(self, gap: float, least: float) -> float:
        """`gap` and so many whole setts that it is at least `least`."""
        return gap + self.pattern.n * ceil((least - gap) / self.pattern.n)

    def every(self) -> Iterator[Pleats]:
        """All of them."""
        kinds = PLAIN_KINDS if self.pattern.plain else TARTAN_KINDS
        for kind in kinds:
            if self.request.wishes.kinds and kind not in self.request.wishes.kinds:
                continue
            for count in self.numbers(kind.form):
                if kind.form is Form.CENTRE_BOX:
                    yield from self.centre_box(kind, count)
                elif kind.shows is Shows.STRIPE:
                    yield from self.to_the_stripe(kind, count)
                elif kind.shows is Shows.ALTERNATE:
                    yield from self.alternate(kind, count)
                elif kind.shows is Shows.PLAIN:
                    yield from self.plain(kind, count)
                else:
                    yield from self.to_the_sett(kind, count)

    def to_the_sett(self, kind: Kind, count: int) -> Iterator[Pleats]:
        n, hip = self.pattern.n, self.widths[LevelName.HIP] / count
        for flat, parts in self.flats(kind.shows, hip):
            gaps: list[Gaps] = [(k * n + flat,) for k in range(1, self.search.setts_most + 1)]
            for i in self.worth_trying(gaps, kind.form, count, hip):
                for middle in self.middles:
                    first = (middle - (count - 1) / 2 * flat) % n
                    strips = gaps[i] * (count - 1)
                    yield Pleats(kind, count, first, strips, middle, flat=flat, parts=parts, setts=i + 1)

    def to_the_stripe(self, kind: Kind, count: int) -> Iterator[Pleats]:
        n, hip = self.pattern.n, self.widths[LevelName.HIP] / count
        for name, look in self.sights(max(self.widths.values()) / count):
            ways = []
            for stride in range(1, len(look) * self.search.setts_most + 1):
                if stride > len(look) and stride % len(look):
                    continue
                for start in range(len(look)):
                    taken: list[tuple[float, bool]] = []
                    gaps: list[float] = []
                    at = start
                    while not taken or at != start:
                        taken.append(look[at])
                        to = at + stride
                        gaps.append(look[to % len(look)][0] + to // len(look) * n - look[at][0])
                        at = to % len(look)
                    ways.append((taken, tuple(gaps)))
            for i in self.worth_trying([gaps for _, gaps in ways], kind.form, count, hip):
                taken, turn = ways[i]
                strips = tuple(turn[k % len(turn)] for k in range(count - 1))
                like = tuple(int(taken[k % len(taken)][1]) for k in range(count))
                yield self.centred(kind, count, taken[0][0], strips, int(min(turn) // n), name, like)

    def centred(
        self,
        kind: Kind,
        count: int,
        first: float,
        strips: Gaps,
        setts: int,
        sight: Name,
        like: tuple[int, ...],
    ) -> Pleats:
        middle = (first + sum(strips[: (count - 1) // 2])) % self.pattern.n
        return Pleats(kind, count, first, strips, middle, setts=setts, sight=sight, like=like)

    def alternate(self, kind: Kind, count: int) -> Iterator[Pleats]:
        n, hip = self.pattern.n, self.widths[LevelName.HIP] / count
        places = [
            (name, phase)
            for name, look in self.sights(max(self.widths.values()) / count)
            for phase, _ in look
        ]
        least, most = self.least_gap(kind.form, float(count)), self.most_gap(kind.form, hip)
        for one, first in places:
            for two, second in places:
                if one == two:
                    continue
                there, back = self.on(second - first, least), self.on(first - second, least)
                if max(there, back) > most or max(there, back) > TWICE * min(there, back):
                    continue
                strips = tuple((there, back)[k % 2] for k in range(count - 1))
                like = tuple(k % 2 for k in range(count))
                yield self.centred(kind, count, first, strips, int(min(there, back) // n), one, like)

    def plain(self, kind: Kind, count: int) -> Iterator[Pleats]:
        hip, depth = self.widths[LevelName.HIP] / count, float(self.limits.plain_depth)
        if kind.form is Form.BOX:
            gap = hip + 4 * max(hip / 2, self.shallowest(kind.form))
        elif kind.form is Form.MILITARY_BOX:
            gap = 2 * hip + 2 * depth
        else:
            gap = hip + 2 * depth
        threads = max(gap / self.thread, self.least_gap(kind.form, float(count)))
        yield Pleats(kind, count, 0.0, (threads,) * (count - 1), 0.0, setts=0)

    def centre_box(self, kind: Kind, count: int) -> Iterator[Pleats]:
        """A wide middle panel, knives running away from it, each side the other's mirror image."""
        n, wide, side = self.pattern.n, float(self.limits.centre_box_reveals), count // 2
        faces = count - 1 + wide
        hip, widest = self.widths[LevelName.HIP] / faces, max(self.widths.values()) / faces
        near_least, far_least = (
            self.least_gap(kind.form, faces, (wide + 1) / 2),
            self.least_gap(kind.form, faces),
        )

        def around(
            middle: float,
            left: float,
            right: float,
            far: float,
            flat: float | None = None,
            parts: int | None = None,
            setts: int = 0,
            sight: Name = (),
            like: tuple[int, ...] = (),
        ) -> Pleats:
            gaps = ((far,) * (side - 1) + (left, right) + (far,) * (side - 1)) if side else ()
            first = (middle - sum(gaps[:side])) % n
            return Pleats(kind, count, first, gaps, middle, flat, wide, parts, setts, sight, like)

        if kind.shows is Shows.PLAIN:
            far = (hip + 2 * float(self.limits.plain_depth)) / self.thread
            near = far + (wide - 1) / 2 * hip / self.thread
            yield around(0.0, near, near, far)
        elif kind.shows is Shows.STRIPE:
            far = self.on(float(n), far_least)
            for name, look in self.sights(widest):
                for middle in self.middles:
                    mirrored = middle in self.pattern.mirrors
                    like = (*(int(mirrored),) * side, NO_CLASS, *(0,) * side)
                    for phase, _ in look:
                        right = self.on(phase - middle, near_least)
                        left = right if mirrored else self.on(middle - phase, near_least)
                        yield around(middle, left, right, far, setts=int(far // n), sight=name, like=like)
        else:
            for flat, parts in self.flats(kind.shows, hip):
                fit = [
                    k
                    for k in range(1, self.search.setts_most + 1)
                    if k * n + flat >= far_least and k * n + (wide + 1) / 2 * flat >= near_least
                ]
                for k in fit:
                    if k > fit[0] and k * n + flat > self.most_gap(kind.form, hip):
                        continue
                    for middle in self.middles:
                        near, far = k * n + (wide + 1) / 2 * flat, k * n + flat
                        yield around(middle, near, near, far, flat, parts, k)
