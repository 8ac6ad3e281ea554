"""The best kilts of a request, found by laying and judging every candidate, one after the other.

It takes the request as it was read from the order and shares no step of the reckoning with the search: own
rulers, own pleats, own places, own measures, and no candidate left out because it cannot win.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate, count, pairwise
from math import inf

from pleatwright.layout import Request
from pleatwright.pleats import Form, Kind, Shows
from pleatwright.wearer import FELL_LEVELS, LevelName
from tests.proof.candidates import FUZZ, NO_CLASS, Pleats, Space
from tests.proof.pattern import Name
from tests.proof.strip import Laid, Strip, ways_of_laying

Stretch = tuple[float, float]
MATCH_AT = {LevelName.HIP: 0.5, LevelName.MID: 0.25, LevelName.STRAP: 0.25}
STRIPES_KEPT = 3
Moves = tuple[int, int, int]
"""Whole setts by which over-apron, strips and under-apron each lie beyond their first place."""


@dataclass(frozen=True)
class Place:
    """Where the parts fall: tape positions in inches, the first strip's centre as a thread."""

    over: float
    first: float
    under: float
    deep: float
    reverse: float
    used: float

    def threads(self, pleats: Pleats) -> list[float]:
        """Every strip's centre."""
        return list(accumulate(pleats.gaps, initial=self.first))


def shows(places: Sequence[Stretch], faults: Sequence[Stretch]) -> bool:
    """Whether a fault reaches into one of the places."""
    return any(a < y and x < b for x, y in faults for a, b in places)


@dataclass(frozen=True)
class Kilt:
    """One candidate with everything reckoned; `lost` by part as docs/choosing.md names them."""

    pleats: Pleats
    apron: float
    way: int
    place: Place
    centres: tuple[float, ...]
    seam: float | None
    seam_tape: float | None
    lost: dict[str, float]
    match: dict[LevelName, float] = field(default_factory=dict)

    @property
    def score(self) -> float:
        return 100 - sum(self.lost.values())

    @property
    def standing(self) -> float:
        return self.score + self.lost["match"]

    def order(self, n: int) -> tuple[object, ...]:
        """The total order among candidates of one kind; the first is the best."""

        def phase(value: float) -> float:
            return round(value % n, 6) % n

        p = self.pleats
        return (
            round(self.place.used, 6), p.count, p.parts or 0, p.setts, phase(p.first), phase(self.apron),
            tuple(round(gap, 6) for gap in p.gaps), self.way,
        )  # fmt: skip

    def rank(self, n: int) -> tuple[object, ...]:
        return (-round(self.score, 6), *self.order(n))


@dataclass
class Answer:
    """How many candidates there are, how many the cloth is long enough for, and the kept ones in order."""

    searched: int
    fitting: int
    kept: list[Kilt]


class Evaluator:
    """One request on one way of laying its cloth."""

    def __init__(self, request: Request, laid: Laid, way: int) -> None:
        self.request, self.laid, self.way = request, laid, way
        self.shop = request.settings
        self.strip = laid.strip()
        self.pattern, self.n = self.strip.pattern, self.strip.pattern.n
        wishes = request.wishes
        stripe, apron = wishes.stripe, wishes.apron_phase
        if request.opens_on == "left":
            stripe = None if stripe is None else -stripe % self.n
            apron = None if apron is None else -apron % self.n
        self.space = Space(self.pattern, request, stripe, apron)
        levels = request.sizes.levels
        self.side = float(max(level.pleat_side for level in levels))
        self.outer = float(max(level.over_apron - level.pleat_side for level in levels))
        self.under_outer = float(max(level.under_apron - level.pleat_side for level in levels))
        cloth = self.shop.cloth
        self.facing, self.deep = float(cloth.facing), float(cloth.deep_pleat)
        self.reverse = float(cloth.reverse_pleat)
        self.length = inf if request.piece is None else self.strip.length
        self.seen: dict[tuple[object, ...], tuple[dict[str, float], dict[LevelName, float]] | None] = {}
        self.known_faces: tuple[Pleats | None, dict[object, list[Stretch]]] = (None, {})

    # ------------------------------------------------------------------ candidates and places

    def candidates(self) -> Iterator[tuple[Pleats, float]]:
        """Every pleating with every stripe at the aprons' centres that goes with it."""
        bound = self.request.wishes.same_middle
        for pleats in self.space.every():
            for apron in self.space.aprons:
                if pleats.flat is None or not bound or self.pattern.same_place(apron, pleats.middle):
                    yield pleats, apron

    def reveal(self, pleats: Pleats, level: LevelName) -> float:
        return self.space.widths[level] / pleats.faces

    def widest(self, pleats: Pleats) -> float:
        return max(self.space.widths.values()) / pleats.faces

    def strip_for(self, apron: float, seam: float | None = None) -> Strip:
        """The strip; cloth that is not bought yet begins so that the over-apron fits at once."""
        if self.request.piece is not None:
            return self.strip if seam is None else self.laid.strip(seam)
        start = apron - (self.facing + self.outer) / self.space.thread
        return Strip(self.pattern, ((start, 0.0), (start + self.n, self.space.size)), inf)

    def lay(self, strip: Strip, pleats: Pleats, apron: float, moves: Moves = (0, 0, 0)) -> Place:
        """Each part at its first place, moved on by whole setts."""
        half, half_hip = self.widest(pleats) / 2, self.reveal(pleats, LevelName.HIP) / 2
        over = strip.tape(strip.next(self.facing + self.outer, apron) + moves[0] * self.n)
        first = strip.next(over + self.side + self.deep + half, pleats.first) + moves[1] * self.n
        centre, last = strip.tape(first), strip.tape(first + sum(pleats.gaps))
        under = strip.tape(strip.next(last + half + self.reverse + self.side, apron) + moves[2] * self.n)
        return Place(
            over,
            first,
            under,
            deep=centre - half_hip - over - self.side,
            reverse=under - self.side - last - half_hip,
            used=under + self.under_outer + self.facing,
        )

    def faces(self, strip: Strip, pleats: Pleats, first: float) -> list[Stretch]:
        """What shows of the strips, the first one's centre at this thread."""
        key = (strip.knots, first)
        if self.known_faces[0] is not pleats:
            self.known_faces = (pleats, {})
        known = self.known_faces[1]
        if key not in known:
            half = self.widest(pleats) / 2
            centres = [strip.tape(thread) for thread in accumulate(pleats.gaps, initial=first)]
            known[key] = [
                (x - pleats.face(i) * half, x + pleats.face(i) * half) for i, x in enumerate(centres)
            ]
        return known[key]

    def shown(self, strip: Strip, pleats: Pleats, place: Place) -> list[Stretch]:
        """What shows, left to right."""
        over = (place.over - self.outer, place.over + self.side)
        under = (place.under - self.side, place.under + self.under_outer)
        return [over, *self.faces(strip, pleats, place.first), under]

    def cost(self, place: Place) -> dict[str, float]:
        weights = self.shop.weights
        hidden = place.deep - self.deep + place.reverse - self.reverse
        return {"cloth": weights.cloth / 36 * place.used, "bulk": weights.bulk * max(0.0, hidden)}

    # ------------------------------------------------------------------ faults and joins

    def stretches(self, strip: Strip, shown: list[Stretch]) -> list[Stretch]:
        """Where a seam may lie, in threads: clear of the fold amid each gap and of what shows beside it.

        Not between the first two strips: there the strap goes through.
        """
        assert self.laid.window is not None
        low, high = self.laid.window
        near, far = strip.tape(low), strip.tape(high)
        clear = float(self.shop.cloth.join_clearance)
        found = []
        for gap in range(len(shown) - 1):
            left, right = shown[gap][1], shown[gap + 1][0]
            fold = (left + right) / 2
            if gap == 1 or right < near or left > far:
                continue
            for a, b in ((left + clear, fold - clear), (fold + clear, right - clear)):
                if a <= b and max(near, a) <= min(far, b):
                    found.append((max(low, strip.thread(a)), min(high, strip.thread(b))))
        return found

    def settled(self, pleats: Pleats, apron: float) -> tuple[Place, float | None] | None:
        """Of all places where nothing shows that must not, the one that loses least.

        Then the one that takes least cloth, hides fewest setts, and lies furthest left.
        """
        strip = self.strip_for(apron)
        if not strip.blocked and self.laid.joined is None:
            return self.lay(strip, pleats, apron), None
        best: tuple[tuple[object, ...], tuple[Place, float | None]] | None = None
        best_lost = inf
        cloth, bulk = self.shop.weights.cloth / 36, self.shop.weights.bulk
        room = self.length + FUZZ
        always = self.always_shown(strip)
        for over in count():
            place = self.lay(strip, pleats, apron, (over, 0, 0))
            if place.used > room or cloth * place.used > best_lost:
                break
            if shows([(place.over - self.outer, place.over + self.side)], always):
                continue
            for first in count():
                place = self.lay(strip, pleats, apron, (over, first, 0))
                sure = cloth * place.used + bulk * max(0.0, place.deep - self.deep)
                if place.used > room or sure > best_lost:  # further on both only grow
                    break
                if shows(self.faces(strip, pleats, place.first), always):
                    continue
                for under in count():
                    moves = (over, first, under)
                    place = self.lay(strip, pleats, apron, moves)
                    lost = round(sum(self.cost(place).values()), 6)
                    if place.used > room or lost > best_lost:
                        break
                    key = (lost, round(place.used, 6), first + under, moves)
                    if best is None or key < best[0]:
                        works = self.works(strip, pleats, apron, moves, place)
                        if works is not None:
                            best, best_lost = (key, works), lost + 1e-6
        return None if best is None else best[1]

    def works(
        self, strip: Strip, pleats: Pleats, apron: float, moves: Moves, place: Place
    ) -> tuple[Place, float | None] | None:
        """The place if nothing shows that must not; joined, the seam amid the widest stretch that works."""
        if self.laid.joined is None:
            return None if shows(self.shown(strip, pleats, place), strip.blocked) else (place, None)
        stretches = self.stretches(strip, self.shown(strip, pleats, place))
        for low, high in sorted(stretches, key=lambda stretch: (-round(stretch[1] - stretch[0], 6), stretch)):
            seam = (low + high) / 2
            sewn = self.laid.strip(seam)
            again = self.lay(sewn, pleats, apron, moves)
            if again.used > sewn.length + FUZZ or shows(self.shown(sewn, pleats, again), sewn.blocked):
                continue
            if any(a <= seam <= b for a, b in self.stretches(sewn, self.shown(sewn, pleats, again))):
                return again, seam
        return None

    def always_shown(self, strip: Strip) -> list[Stretch]:
        """The faults that are there wherever the seam lies."""
        if self.laid.window is None:
            return list(strip.blocked)
        low, high = (strip.tape(thread) for thread in self.laid.window)
        return [fault for fault in strip.blocked if fault[1] <= low or fault[0] >= high] if strip.even else []

    # ------------------------------------------------------------------ measures

    def depth(self, pleats: Pleats, gap: float, near: bool, reveal: float) -> float:
        """Depth of the deepest fold between two neighbours `gap` inches apart; `near`: one is the middle."""
        face = (pleats.wide + 1) / 2 * reveal if near else reveal
        if pleats.kind.form is Form.BOX:
            return (gap - face) / 4
        if pleats.kind.form is Form.MILITARY_BOX:
            return (gap - face - reveal) / 2
        return (gap - face) / 2

    def depths(self, pleats: Pleats, gaps: list[float], reveal: float) -> list[float]:
        middle = pleats.count // 2
        return [self.depth(pleats, gap, i in (middle - 1, middle), reveal) for i, gap in enumerate(gaps)]

    def look(
        self, strip: Strip, pleats: Pleats, place: Place
    ) -> tuple[dict[str, float], dict[LevelName, float]] | None:
        """Lines and match on the cloth as woven; None where a fold is too shallow.

        On even cloth they hang on the pleats alone, wherever they lie.
        """
        key = (pleats.kind, pleats.count, pleats.first, pleats.gaps, pleats.middle, pleats.like)
        if not self.even:
            return self._look(strip, pleats, place)
        if key not in self.seen:
            self.seen[key] = self._look(strip, pleats, place)
        return self.seen[key]

    @property
    def even(self) -> bool:
        return self.request.piece is None or self.strip.even

    def _look(
        self, strip: Strip, pleats: Pleats, place: Place
    ) -> tuple[dict[str, float], dict[LevelName, float]] | None:
        reveals = {level: self.reveal(pleats, level) for level in FELL_LEVELS}
        threads = place.threads(pleats)
        centres = [strip.tape(thread) for thread in threads]
        gaps = [b - a for a, b in pairwise(centres)]
        least = self.space.shallowest(pleats.kind.form) - FUZZ
        if any(min(self.depths(pleats, gaps, reveal)) < least for reveal in reveals.values()):
            return None
        sizes = [strip.size(thread) for thread in threads]
        weights, at_risk = self.shop.weights, 0
        hip, strap = reveals[LevelName.HIP], reveals[LevelName.STRAP]
        known: dict[tuple[float, float, float], int] = {}
        for i, (thread, size) in enumerate(zip(threads, sizes, strict=True)):
            face = pleats.face(i)
            strip_key = (round(thread % self.n, 9), size, face)
            if strip_key not in known:
                risky = self.pattern.at_risk(thread, size, face * hip, face * strap, self.shop.pleats)
                known[strip_key] = len(risky)
            at_risk += known[strip_key]
        match = {level: self.match(pleats, threads, sizes, reveals[level]) for level in MATCH_AT}
        missed = 1 - sum(share * match[level] for level, share in MATCH_AT.items())
        lost = {"match": weights.match * missed, "lines": weights.line * at_risk / pleats.count}
        return lost, match

    def match(self, pleats: Pleats, threads: list[float], sizes: list[float], reveal: float) -> float:
        """Mean over the strips of the share that is as it ought to be."""
        if pleats.kind.shows is Shows.PLAIN:
            return 1.0
        shares = []
        first_of: dict[int, int] = {}
        for i, thread in enumerate(threads):
            face = pleats.face(i)
            shown = face * reveal / sizes[i]
            if pleats.flat is not None:
                shares.append(self.pattern.agreement(thread, shown, thread, face * pleats.flat))
            elif pleats.like[i] != NO_CLASS:
                like = first_of.setdefault(pleats.like[i], i)
                other = pleats.face(like) * reveal / sizes[like]
                shares.append(self.pattern.agreement(thread, shown, threads[like], other))
        return sum(shares) / len(shares)

    def style(self, kind: Kind) -> float:
        weights = self.shop.weights
        return {
            Form.BOX: weights.style_box,
            Form.MILITARY_BOX: weights.style_military_box,
            Form.CENTRE_BOX: weights.style_centre_box,
            Form.KNIFE: {
                Shows.SETT: weights.style_sett,
                Shows.SETT_RUNNING: weights.style_sett_running,
                Shows.STRIPE: weights.style_stripe,
                Shows.ALTERNATE: weights.style_alternate,
                Shows.PLAIN: weights.style_plain,
            }[kind.shows],
        }[kind.form]

    def mirrors(self, pleats: Pleats) -> bool:
        """Whether the last pleat is the first one in a mirror."""
        if self.pattern.plain:
            return True
        last = pleats.first + sum(pleats.gaps)
        tolerance = float(self.shop.pleats.sight_tolerance) / self.space.thread
        half = self.widest(pleats) / 2 / self.space.thread
        return self.pattern.looks_like(pleats.first, last, True, half, tolerance)

    def nominal(self, pleats: Pleats, apron: float) -> dict[str, float]:
        """Points that hang neither on the place nor on the cloth as woven."""
        weights, limits, wished = self.shop.weights, self.shop.pleats, self.request.wishes.reveal
        form, hip = pleats.kind.form, self.reveal(pleats, LevelName.HIP)
        depths = self.depths(pleats, [gap * self.space.thread for gap in pleats.gaps], hip)
        least, most = float(limits.depth_usual_least), float(limits.depth_usual_most)
        aim = float(limits.reveal_preferred)
        if form is Form.BOX:
            least, most, aim = 0.0, hip, hip
        elif form is Form.MILITARY_BOX:
            least, aim = 0.0, float(limits.military_reveal_least + limits.military_reveal_most) / 2
        aim = wished or aim
        few = max(0, limits.standard_pleats - pleats.count) if form is Form.KNIFE else 0
        flat = hip if pleats.flat is None else pleats.flat * self.space.thread
        return {
            "reveal": weights.reveal * 16 * abs(hip - aim),
            "depth": weights.depth * (max(0.0, least - min(depths)) + max(0.0, max(depths) - most)),
            "middle": 0.0 if pleats.count % 2 else weights.even_middle,
            "centre": 0.0 if self.pattern.same_place(apron, pleats.middle) else weights.centre,
            "mirror": 0.0 if self.mirrors(pleats) else weights.mirror,
            "square": weights.square * abs(hip / flat - 1),
            "few_pleats": weights.few_pleats * few,
            "style": self.style(pleats.kind),
            "join": 0.0
            if self.laid.joined is None
            else weights.join + weights.join_jump * abs(self.laid.joined.off),
            "turn": weights.turn if self.laid.turned else 0.0,
        }

    def judged(self, pleats: Pleats, apron: float) -> Kilt | None:
        """One candidate with everything reckoned; None if the cloth does not allow it."""
        where = self.settled(pleats, apron)
        if where is None:
            return None
        place, seam = where
        strip = self.strip_for(apron, seam)
        looked = self.look(strip, pleats, place)
        if looked is None:
            return None
        dear, match = looked
        lost = {**dear, **self.cost(place), **self.nominal(pleats, apron)}
        centres = tuple(strip.tape(thread) for thread in place.threads(pleats))
        seam_tape = None if seam is None else strip.tape(seam)
        return Kilt(pleats, apron, self.way, place, centres, seam, seam_tape, lost, match)

    def fits(self, pleats: Pleats, apron: float) -> bool:
        """Whether the cloth is long enough for the first place."""
        return self.lay(self.strip_for(apron), pleats, apron).used <= self.length + FUZZ

    def all_kilts(self) -> tuple[int, int, list[Kilt]]:
        """Candidates, those the cloth is long enough for, and those that can be made of it."""
        searched = fitting = 0
        kilts = []
        for pleats, apron in self.candidates():
            searched += 1
            if not self.fits(pleats, apron):
                continue
            fitting += 1
            kilt = self.judged(pleats, apron)
            if kilt is not None:
                kilts.append(kilt)
        return searched, fitting, kilts


def evaluate(request: Request) -> Answer:
    """The best of each kind over every way of laying the cloth, best standing first.

    Of knives to the stripe the best for each of three stripes.
    """
    searched = fitting = 0
    every: list[Kilt] = []
    n = request.tartan.weft.n
    for way, laid in enumerate(ways_of_laying(request)):
        more, fit, kilts = Evaluator(request, laid, way).all_kilts()
        searched, fitting = searched + more, fitting + fit
        every += kilts
    kept: list[Kilt] = []
    known: dict[Kind, set[Name]] = {}
    for kilt in sorted(every, key=lambda one: one.rank(n)):
        kind = kilt.pleats.kind
        stripe = kilt.pleats.sight if kind == (Form.KNIFE, Shows.STRIPE) else ()
        stripes = known.setdefault(kind, set())
        if stripe not in stripes and len(stripes) < (STRIPES_KEPT if stripe else 1):
            stripes.add(stripe)
            kept.append(kilt)
    kept.sort(key=lambda one: (-round(one.standing, 6), *one.order(n)))
    return Answer(searched, fitting, kept)
