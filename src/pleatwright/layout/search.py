"""The search: every pleating with every apron stripe, placed on the cloth, limited, ranked; nothing sampled.

Match, lines at risk and mirroring are the dear measures.  A candidate's points without them bound its score
from above, so candidates are taken in the order of that bound and the rest of a kind is left unmeasured once
the bound falls below the best score found: the best is the same as if all had been measured.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers, Run
from pleatwright.layout.field import SCORE_PLACES, Block, Candidate, Field
from pleatwright.layout.lays import Lay
from pleatwright.layout.placing import Frame, Table, place, place_all
from pleatwright.layout.scoring import (
    MATCH_SHARES,
    line_points,
    match_points,
    moved_points,
    placed_points,
    pleating_points,
)
from pleatwright.layout.settling import hides, seam_places, seam_thread, setts_on, shown
from pleatwright.pleats import (
    Alike,
    DepthRange,
    Form,
    Kind,
    LineAtRisk,
    Pleating,
    PleatSpace,
    Shows,
    alike,
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
SAME_THREAD = 1e-6
"""Two phases this near (in threads) are the same place."""
STRIPES_OFFERED = 3
"""Options to the stripe that are kept: the best for each of so many stripes."""

Tick = Callable[[int], None]
"""Told, now and then, how many candidates have been searched."""


@dataclass(frozen=True)
class Look:
    """A closer look at one kilt on the cloth as woven: fold depths by level, and what is dear only if asked.

    `groups`: its strips sorted by what they show; `reveals`: inches by level.
    """

    sett: Sett
    pleating: Pleating
    groups: tuple[Alike, ...]
    reveals: dict[LevelName, float]
    depths: dict[LevelName, DepthRange]
    settings: Settings

    @cached_property
    def match(self) -> dict[LevelName, float]:
        """Pattern match at the levels where it is judged."""
        return {
            level: pattern_match(self.sett, self.pleating, self.groups, self.reveals[level])
            for level in MATCH_SHARES
        }

    @cached_property
    def lines(self) -> tuple[LineAtRisk, ...]:
        """Lines at risk."""
        at_hip, at_strap = self.reveals[LevelName.HIP], self.reveals[LevelName.STRAP]
        return lines_at_risk(self.sett, self.groups, at_hip, at_strap, self.settings)


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

    lay: Lay
    frame: Frame
    space: PleatSpace
    settings: Settings
    _looks: dict[Pleating, Look | None] = field(default_factory=dict, init=False, compare=False, repr=False)

    @cached_property
    def run(self) -> Run:
        """The strip along which the plan goes."""
        return self.lay.run()

    def strip(self, apron_phase: float, seam: float | None = None) -> Run:
        """The strip to lay a kilt on; cloth not bought yet begins so that the over-apron fits at once."""
        if self.run.length is not None:
            return self.run if seam is None else self.lay.run(seam)
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

    def same_stripe(self, phase: float, others: Numbers) -> NDArray[np.bool_]:
        """Whether each of the others is the same place of the sett as `phase`, straight or mirrored."""
        n = self.sett.n
        same = np.full(others.shape, self.sett.plain)
        for gap in (phase - others, *(phase + others - 2 * centre for centre in self.sett.mirror_centres)):
            same |= np.abs((gap + n / 2) % n - n / 2) < SAME_THREAD
        return same

    def mirrors(self, pleating: Pleating) -> bool:
        """Whether the last pleat shows the first one's mirror image, over the greatest reveal."""
        last = pleating.first + pleating.span
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

    @cached_property
    def field(self) -> Field:
        """Every candidate, placed, with all its points but those that `finished` adds."""
        every = list(pleatings(self.space))
        table = Table.of(every, self.frame)
        lost = pleating_points(every, table, self.space.thread, self.space.wishes.reveal, self.settings)
        bound = np.array([p.shown is not None and self.space.wishes.same_middle for p in every], dtype=bool)
        middles = np.array([p.middle for p in every])
        blocks = []
        for phase in self.apron_phases:
            same = self.same_stripe(phase, middles)
            rows = np.flatnonzero(same | ~bound)
            part = Table(*(column[rows] for column in table))
            places = place_all(self.strip(phase), self.frame, part, phase)
            points = placed_points(lost[rows], places, self.frame, same[rows].astype(float), self.settings)
            blocks.append(Block(phase, rows, places, points))
        return Field.of(every, blocks)

    def measure(self, candidate: Candidate) -> Look | None:
        """A closer look at one candidate on the cloth as woven; None if a fold is too shallow there.

        On uniform cloth only the pleating matters, not its place, so one look serves every place.
        """
        if not self.run.uniform_cloth:
            return self._look(candidate)
        if candidate.pleating not in self._looks:
            self._looks[candidate.pleating] = self._look(candidate)
        return self._looks[candidate.pleating]

    def _look(self, candidate: Candidate) -> Look | None:
        pleating = candidate.pleating
        strip = self.strip(candidate.apron_phase, candidate.seam)
        threads = np.array(candidate.placement.strip_threads(pleating))
        sizes = strip.thread_sizes(threads).tolist()
        gaps = np.diff(strip.tapes_at(threads)).tolist()
        by_level = {
            level: reveals(self.frame.widths[level], pleating.pleats, pleating.centre_face)
            for level in FELL_LEVELS
        }
        depths = {level: depth_range(pleating, gaps, reveal) for level, reveal in by_level.items()}
        least = least_depth(pleating.form, self.settings) - ROUNDING
        if any(depth.least < least for depth in depths.values()):
            return None
        groups = alike(pleating, threads.tolist(), sizes, self.sett.n)
        return Look(self.sett, pleating, groups, by_level, depths, self.settings)

    def settled(self, candidate: Candidate) -> Candidate | None:
        """The candidate where nothing shows that must not: whole setts on, a join's seam out of sight."""
        window = self.lay.window
        if not self.run.blocked and window is None:
            return candidate
        room = (self.run.length or np.inf) - candidate.placement.used
        for on in setts_on(room / self.space.sett_size):
            run, seam = self.run, None
            placement = place(run, self.frame, candidate.pleating, candidate.apron_phase, on)
            if window is not None:
                places = seam_places(shown(run, self.frame, candidate.pleating, placement), self.settings)
                seam = seam_thread(run, window, places)
                if seam is None:
                    continue
                run = self.lay.run(seam)
                placement = place(run, self.frame, candidate.pleating, candidate.apron_phase, on)
            if placement.used > (run.length or np.inf) + ROUNDING:
                continue
            if hides(shown(run, self.frame, candidate.pleating, placement), run.blocked):
                points = moved_points(candidate.points, placement, self.frame, self.settings)
                return replace(candidate, placement=placement, points=points, seam=seam)
        return None

    def judged(self, candidate: Candidate, least: float = -np.inf) -> Candidate | None:
        """The candidate where it lies with every point counted; None if the cloth as woven breaks a limit.

        The dearest parts come last: None also as soon as its score is sure to be below `least`.
        """
        weights, pleats = self.settings.weights, candidate.pleating.pleats
        points = candidate.points._replace(
            mirror=0.0 if self.mirrors(candidate.pleating) else weights.mirror,
            join=0.0 if self.lay.joint is None else weights.join,
            turn=weights.turn if self.lay.turned else 0.0,
        )
        look = self.measure(candidate) if points.score >= least else None
        if look is None:
            return None
        points = points._replace(lines=line_points(look.lines, pleats, self.settings))
        if points.score < least:
            return None
        points = points._replace(match=match_points(look.match, self.settings))
        return replace(candidate, points=points)

    def finished(self, candidate: Candidate) -> Candidate | None:
        """The candidate settled and judged; None if it cannot be."""
        settled = self.settled(candidate)
        return None if settled is None else self.judged(settled)

    def best_of(self, candidates: Iterable[Candidate], *, settle: bool = True) -> Candidate | None:
        """The best of some candidates of one kind; they come in the order of `rank`, best bound first.

        On uniform cloth a kilt is judged before it is settled: moving it on can only cost points.  What is
        too long for the cloth is not settled (`settle` False): there is no place to settle it on.
        """
        best: Candidate | None = None
        least = -np.inf
        for candidate in candidates:
            if candidate.points.score < least:
                break
            full: Candidate | None = candidate
            if not settle or self.run.uniform_cloth:
                full = self.judged(candidate, least)
                if full is None or (best is not None and best.rank <= full.rank):
                    continue
            if settle:
                full = self.finished(candidate)
            if full is not None and (best is None or full.rank < best.rank):
                best = full
                least = best.points.score - 10**-SCORE_PLACES
        return best

    def run_through(self, tick: Tick | None = None) -> Found:
        """Search everything; `tick` hears of the progress."""
        if not self.field.pleatings:
            return Found(0, 0, (), (), None)
        used = self.field.places.used
        if tick is not None:
            tick(len(used))
        fits = used <= (np.inf if self.run.length is None else self.run.length + ROUNDING)
        best = self._best_of_each(fits)
        return Found(
            len(used),
            int(fits.sum()),
            best,
            () if best else self._best_of_each(~fits, settle=False),
            self.field.candidate(int(np.argmin(used))),
        )

    def _best_of_each(self, rows: NDArray[np.bool_], *, settle: bool = True) -> tuple[Candidate, ...]:
        """The best of each kind, and for knives to the stripe of each stripe, best standing first."""
        groups = self.field.ranked(rows)
        best = (self.best_of(map(self.field.candidate, group), settle=settle) for group in groups)
        return tuple(candidate for _, candidate in _kept([(0, one) for one in best if one is not None]))


def best_of_lays(found: Sequence[Found]) -> list[tuple[int, Candidate]]:
    """The best of each kind over several lays, each with its lay's number."""
    return _kept([(lay, candidate) for lay, one in enumerate(found) for candidate in one.best])


def _kept(candidates: list[tuple[int, Candidate]]) -> list[tuple[int, Candidate]]:
    """The best of each kind, best standing first; of knives to the stripe the best of a few stripes."""
    stripe = Kind(Form.KNIFE, Shows.STRIPE)
    groups: defaultdict[Kind, set[tuple[str, ...]]] = defaultdict(set)
    kept = []
    for lay, candidate in sorted(candidates, key=lambda one: (one[1].rank, one[0])):
        stripes = candidate.pleating.stripes if candidate.kind == stripe else ()
        known = groups[candidate.kind]
        if stripes not in known and len(known) < (STRIPES_OFFERED if stripes else 1):
            known.add(stripes)
            kept.append((lay, candidate))
    return sorted(kept, key=lambda one: (-round(one[1].points.standing, SCORE_PLACES), *one[1].key))
