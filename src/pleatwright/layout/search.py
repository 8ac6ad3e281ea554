"""The search: every pleating with every apron stripe, placed on the cloth, limited, ranked; nothing sampled.

Match, lines at risk and mirroring are the dear measures.  A candidate's points without them bound its score
from above, so candidates are taken in the order of that bound and the rest of a kind is left unmeasured once
the bound falls below the best score found: the best is the same as if all had been measured.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from pleatwright.cloth import Run
from pleatwright.layout.placing import Frame, Placement, place
from pleatwright.layout.scoring import MATCH_SHARES, Points, complete, placed_points, pleating_points
from pleatwright.pleats import (
    DepthRange,
    Form,
    Kind,
    LineAtRisk,
    Pleating,
    PleatSpace,
    Shows,
    depth_range,
    least_depth,
    lines_at_risk,
    pattern_match,
    pleatings,
    reveals,
)
from pleatwright.sett import Sett, same_surroundings
from pleatwright.trade import Settings
from pleatwright.wearer import FELL_LEVELS, LevelName

ROUNDING = 1e-9
STRIPES_OFFERED = 3
"""Options to the stripe that are kept: the best for each of so many stripes."""

Tick = Callable[[int], None]
"""Told, now and then, how many candidates have been searched."""


@dataclass(frozen=True)
class Candidate:
    """One kilt: a pleating, the stripe at the aprons' centres, its place, the points it has lost so far."""

    pleating: Pleating
    apron_phase: float
    placement: Placement
    points: Points

    @property
    def kind(self) -> Kind:
        """The kind of pleating."""
        return Kind(self.pleating.form, self.pleating.shows)

    @property
    def key(self) -> tuple[float, ...]:
        """Order among equals: less cloth, then fewer pleats, parts, setts, then the phases."""
        p = self.pleating
        return (self.placement.used, p.pleats, p.division or 0, p.setts, p.first, self.apron_phase)

    @property
    def rank(self) -> tuple[float, ...]:
        """Sorts the best of one kind first; to a millionth of a point, so that rounding decides nothing."""
        return (-round(self.points.score, 6), *self.key)


@dataclass(frozen=True)
class Measured:
    """What only a closer look gives: by level pattern match and fold depths; lines at risk."""

    match: dict[LevelName, float]
    depths: dict[LevelName, DepthRange]
    lines: tuple[LineAtRisk, ...]


@dataclass(frozen=True)
class Found:
    """What a search found: `best` on this cloth, `longer` the best of each kind were the cloth long enough.

    `searched` counts every candidate, `fitting` those that the cloth is long enough for.
    """

    searched: int
    fitting: int
    best: tuple[Candidate, ...]
    longer: tuple[Candidate, ...]
    shortest: Candidate | None


@dataclass(frozen=True)
class Search:
    """One kilt's search on one strip of cloth."""

    run: Run
    frame: Frame
    space: PleatSpace
    settings: Settings
    _looks: dict[Pleating, Measured | None] = field(default_factory=dict, compare=False, repr=False)

    def strip(self, apron_phase: float) -> Run:
        """The strip to lay a kilt on; cloth not bought yet begins so that the over-apron fits at once."""
        if self.run.length is not None:
            return self.run
        thread = self.space.thread
        return Run.uniform(self.sett, self.space.sett_size, apron_phase - self.frame.start / thread, None)

    @cached_property
    def sett(self) -> Sett:
        """The sett along the strip."""
        return self.run.sett

    @cached_property
    def apron_phases(self) -> tuple[float, ...]:
        """Stripes that may lie at the aprons' centres."""
        wishes = self.space.wishes
        if wishes.apron_phase is not None:
            return (wishes.apron_phase,)
        if self.sett.plain:
            return (0.0,)
        centres = tuple(self.sett.centre_of(stripe) for stripe in self.sett.stripes)
        return (self.sett.mirror_centres or centres) if wishes.same_middle else centres

    def same_stripe(self, phase: float, other: float) -> bool:
        """Whether two phases are the same place of the sett, straight or mirrored."""
        n = self.sett.n
        apart = [phase - other, *(phase + other - 2 * centre for centre in self.sett.mirror_centres)]
        return self.sett.plain or any(abs((gap + n / 2) % n - n / 2) < 1e-6 for gap in apart)

    def mirrors(self, pleating: Pleating) -> bool:
        """Whether the last pleat shows the first one's mirror image, over the greatest reveal."""
        last = pleating.first + pleating.threads
        if self.sett.plain:
            return True
        return same_surroundings(
            self.sett,
            pleating.first,
            last,
            mirrored=True,
            half_window=self.frame.greatest_reveal(pleating) / 2 / self.space.thread,
            tolerance=float(self.settings.pleats.sight_tolerance) / self.space.thread,
        )

    def candidates(self) -> Iterator[Candidate]:
        """Every candidate, placed, with all its points but those that `finished` adds."""
        strips = [(phase, self.strip(phase)) for phase in self.apron_phases]
        for pleating in pleatings(self.space):
            reveal = self.frame.hip_reveal(pleating)
            depths = depth_range(pleating, [gap * self.space.thread for gap in pleating.gaps], reveal)
            points = pleating_points(pleating, self.frame, self.space.thread, depths, self.settings)
            for phase, strip in strips:
                same = self.same_stripe(phase, pleating.middle)
                if pleating.shown is not None and self.space.wishes.same_middle and not same:
                    continue
                placement = place(strip, self.frame, pleating, phase)
                yield Candidate(
                    pleating,
                    phase,
                    placement,
                    placed_points(points, placement, self.frame, same, self.settings),
                )

    def measure(self, candidate: Candidate) -> Measured | None:
        """A closer look at one candidate on the cloth as woven; None if a fold is too shallow there.

        On uniform cloth only the pleating matters, not its place, so one look serves every place.
        """
        if not self.run.uniform_cloth:
            return self._look(candidate)
        if candidate.pleating not in self._looks:
            self._looks[candidate.pleating] = self._look(candidate)
        return self._looks[candidate.pleating]

    def _look(self, candidate: Candidate) -> Measured | None:
        pleating = candidate.pleating
        threads = candidate.placement.strip_threads(pleating)
        strip = self.strip(candidate.apron_phase)
        sizes = [strip.inches_a_thread(t) for t in threads]
        centres = [strip.tape_at(t) for t in threads]
        gaps = [after - centre for centre, after in pairwise(centres)]
        by_level = {
            level: reveals(self.frame.widths[level], pleating.pleats, pleating.centre_face)
            for level in FELL_LEVELS
        }
        depths = {level: depth_range(pleating, gaps, reveal) for level, reveal in by_level.items()}
        least = least_depth(pleating.form, self.settings) - ROUNDING
        if any(depth.least < least for depth in depths.values()):
            return None
        return Measured(
            {
                level: pattern_match(self.sett, pleating, threads, sizes, by_level[level])
                for level in MATCH_SHARES
            },
            depths,
            lines_at_risk(
                self.sett,
                pleating,
                threads,
                sizes,
                by_level[LevelName.HIP],
                by_level[LevelName.STRAP],
                self.settings,
            ),
        )

    def finished(self, candidate: Candidate) -> Candidate | None:
        """The candidate with every point counted, or None if the cloth as woven breaks a limit."""
        measured = self.measure(candidate)
        if measured is None:
            return None
        at_risk = sum(len(line.pleats) for line in measured.lines)
        mirrors = self.mirrors(candidate.pleating)
        points = complete(
            candidate.points, measured.match, at_risk, candidate.pleating.pleats, mirrors, self.settings
        )
        return Candidate(candidate.pleating, candidate.apron_phase, candidate.placement, points)

    def best_of(self, candidates: list[Candidate]) -> Candidate | None:
        """The best of some candidates of one kind."""
        best: Candidate | None = None
        for candidate in sorted(candidates, key=lambda one: one.rank):
            if best is not None and candidate.points.score < best.points.score - 1e-6:
                break
            full = self.finished(candidate)
            if full is not None and (best is None or full.rank < best.rank):
                best = full
        return best

    def run_through(self, tick: Tick | None = None) -> Found:
        """Search everything; `tick` hears of the progress."""
        fitting: defaultdict[tuple[Kind, tuple[str, ...]], list[Candidate]] = defaultdict(list)
        longer: defaultdict[tuple[Kind, tuple[str, ...]], list[Candidate]] = defaultdict(list)
        shortest: Candidate | None = None
        searched = 0
        for searched, candidate in enumerate(self.candidates(), 1):
            pleating = candidate.pleating
            group = (candidate.kind, pleating.stripes if pleating.shows is Shows.STRIPE else ())
            fits = self.run.length is None or candidate.placement.used <= self.run.length + ROUNDING
            (fitting if fits else longer)[group].append(candidate)
            if shortest is None or candidate.placement.used < shortest.placement.used:
                shortest = candidate
            if tick is not None and searched % 500 == 0:
                tick(searched)
        return Found(
            searched,
            sum(len(group) for group in fitting.values()),
            self._best_of_each(fitting),
            () if fitting else self._best_of_each(longer),
            shortest,
        )

    def _best_of_each(
        self, groups: dict[tuple[Kind, tuple[str, ...]], list[Candidate]]
    ) -> tuple[Candidate, ...]:
        """The best of each kind, best standing first; knives to the stripe: one for each of few stripes."""
        by_kind: defaultdict[Kind, list[Candidate]] = defaultdict(list)
        for (kind, _), candidates in groups.items():
            best = self.best_of(candidates)
            if best is not None:
                by_kind[kind].append(best)
        kept = []
        for kind, candidates in by_kind.items():
            stripes = kind == Kind(Form.KNIFE, Shows.STRIPE)
            kept += sorted(candidates, key=lambda one: one.rank)[: STRIPES_OFFERED if stripes else 1]
        return tuple(sorted(kept, key=lambda one: (-round(one.points.standing, 6), *one.key)))
