"""The search: every pleating with every apron stripe, placed on the cloth, limited, ranked; none sampled."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows, Run
from pleatwright.layout.field import Block, Candidate, Field
from pleatwright.layout.found import Found
from pleatwright.layout.lays import Lay
from pleatwright.layout.look import Look, look_at
from pleatwright.layout.placing import Allotted, Frame, Table, place_all
from pleatwright.layout.scoring import (
    join_points,
    line_points,
    match_points,
    moved_points,
    place_points,
    placed_points,
    pleating_points,
)
from pleatwright.layout.settling import Kilts, Settled, Stand, least_between, settle
from pleatwright.layout.stripes import ends_mirror, same_stripe
from pleatwright.layout.winning import best_of_each
from pleatwright.lengths import ROUNDING
from pleatwright.pleats import Pleating, PleatSpace
from pleatwright.sett import Sett
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName

SLACK = 1e-6
"""Inches by which bounds of lengths are loosened, so that rounding decides nothing."""
Tick = Callable[[int], None]
"""Told, now and then, how many candidates have been searched."""


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

    def same_stripe(self, phase: float, others: Numbers) -> Bools:
        """Whether each of the others is the same place of the sett as `phase`, straight or mirrored."""
        return same_stripe(self.sett, phase, others)

    def same_middle(self, candidate: Candidate) -> bool:
        """Whether the middle of the back and the aprons' centres are the same place of the sett."""
        return bool(self.same_stripe(candidate.apron_phase, np.array([candidate.pleating.middle]))[0])

    def mirrors(self, pleating: Pleating) -> bool:
        """Whether the last pleat shows the first one's mirror image, over the greatest reveal."""
        first, last = (np.array([thread]) for thread in (pleating.first, pleating.first + pleating.span))
        return bool(ends_mirror(self.space, first, last, np.array([self.frame.greatest_reveal(pleating)]))[0])

    @cached_property
    def field(self) -> Field:
        """Every candidate, placed, with all its points but those that `finished` adds."""
        ways, frame = self.space.ways, self.frame
        bound = ~np.isnan(ways.shown) & self.space.wishes.same_middle
        blocks = []
        for phase in self.apron_phases:
            same = self.same_stripe(phase, ways.middle)
            which = np.flatnonzero(same | ~bound)
            table = Table.of_columns(ways.faces[which], ways.first[which], ways.span[which], frame)
            places = place_all(self.strip(phase), frame, table, phase)
            points = placed_points(places, frame, same[which], self.settings)
            blocks.append(Block(phase, which, places, points))
        lost = pleating_points(ways, frame, self.space.thread, self.space.wishes.reveal, self.settings)
        return Field.of(ways, lost, blocks)

    def measure(self, candidate: Candidate) -> Look | None:
        """A closer look at one candidate on the cloth as woven; None if a fold is too shallow there.

        On uniform cloth only the pleating matters, not its place, so one look serves every place.
        """
        pleating = candidate.pleating
        if not self.run.uniform_cloth or pleating not in self._looks:
            strip = self.strip(candidate.apron_phase, candidate.seam)
            look = look_at(strip, self.frame, pleating, candidate.placement, self.settings)
            if not self.run.uniform_cloth:
                return look
            self._looks[pleating] = look
        return self._looks[pleating]

    def settled(self, candidate: Candidate) -> Candidate | None:
        """The candidate where nothing shows that must not, a join's seam out of sight, at the least loss."""
        if not self.settles:
            return candidate
        frame, pleating = self.frame, candidate.pleating
        kilt = Kilts(
            np.array([candidate.apron_phase]),
            np.array([pleating.first]),
            np.array([pleating.gaps]),
            np.array([[pleating.face(strip) for strip in range(pleating.pleats)]]),
            np.array([frame.widths[LevelName.HIP] / pleating.faces]),
            np.array([frame.greatest_reveal(pleating)]),
            Allotted.of(frame, 1),
        )
        there = settle(self.lay, self.run, kilt, self.settings)
        stand = there.stand(0)
        return None if stand is None else self.standing(candidate, stand)

    @property
    def settles(self) -> bool:
        """Whether kilts must be settled: there is something that must not show, or a seam to hide."""
        return bool(self.run.blocked) or self.lay.window is not None

    def settle(self, rows: Rows) -> Settled:
        """Where candidates settle."""
        ways, which = self.space.ways, self.field.which[rows]
        hip, greatest = self.frame.widths[LevelName.HIP], max(self.frame.widths.values())
        kilts = Kilts(
            self.field.phases[rows],
            ways.first[which],
            ways.gaps(which),
            ways.strip_faces(which),
            hip / ways.faces[which],
            greatest / ways.faces[which],
            Allotted.of(self.frame, len(rows)),
        )
        return settle(self.lay, self.run, kilts, self.settings)

    def standing(self, candidate: Candidate, stand: Stand) -> Candidate:
        """The candidate where it has settled."""
        placement, seam = stand
        points = moved_points(candidate.points, placement, self.frame, self.settings)
        return replace(candidate, placement=placement, points=points, seam=seam)

    @cached_property
    def bounds(self) -> Numbers:
        """Bounds of every candidate's score wherever it settles.

        On even cloth its first place is the dearest.  On cloth that wanders the hidden pleats may take less
        further on: as many threads as reach across what they must, each of the least size; where two strips
        are joined the seam shifts everything, so cloth is reckoned so too.
        """
        field = self.field
        if self.run.uniform_cloth or not self.settles:
            return field.bounds
        which, frame, ways, phases = field.which, self.frame, self.space.ways, field.phases
        small, large = self.lay.thread_sizes
        half, span = max(frame.widths.values()) / ways.faces[which] / 2, ways.span[which]
        first = ways.first[which]
        deep, reverse = (
            least_between(self.sett, need - SLACK, threads, small, large)
            for need, threads in (
                (frame.pleat_side + frame.deep_least + half, first - phases),
                (half + frame.reverse_least + frame.pleat_side, phases - first - span),
            )
        )
        hip = frame.widths[LevelName.HIP] / ways.faces[which]
        hidden = deep + reverse - hip - 2 * frame.pleat_side - frame.deep_least - frame.reverse_least
        used = field.places.used
        if self.lay.window is not None:
            used = frame.start + deep + span * small + reverse + frame.under_outer + frame.facing - SLACK
        least = place_points(used, hidden - SLACK, self.settings)
        bounds: Numbers = field.bounds + sum(field.lost_here[part] - least[part] for part in least)
        return bounds

    @cached_property
    def of_lay(self) -> dict[str, float]:
        """Points that every kilt laid in this way loses."""
        weights = self.settings.weights
        return {
            "join": 0.0 if self.lay.joint is None else join_points(self.lay.off, self.settings),
            "turn": weights.turn if self.lay.turned else 0.0,
        }

    def judged(self, candidate: Candidate, least: float = -np.inf) -> Candidate | None:
        """The candidate where it lies with every point counted; None if the cloth as woven breaks a limit.

        The dearest parts come last: None also as soon as its score is sure to be below `least`.
        """
        weights, pleats = self.settings.weights, candidate.pleating.pleats
        points = candidate.points._replace(
            mirror=0.0 if self.mirrors(candidate.pleating) else weights.mirror, **self.of_lay
        )
        look = self.measure(candidate) if points.score >= least else None
        if look is None:
            return None
        at_risk = sum(len(line.pleats) for line in look.lines)
        points = points._replace(lines=line_points(at_risk, pleats, self.settings))
        if points.score < least:
            return None
        points = points._replace(match=match_points(look.match, self.settings))
        return replace(candidate, points=points, match=look.match)

    def finished(self, candidate: Candidate) -> Candidate | None:
        """The candidate settled and judged; None if it cannot be."""
        settled = self.settled(candidate)
        return None if settled is None else self.judged(settled)

    def run_through(self, tick: Tick | None = None, rivals: Sequence[Candidate] = ()) -> Found:
        """Search everything; `tick` hears of the progress.

        `rivals`: kilts kept from other ways of laying the cloth.  Those they beat are not looked for.
        """
        if not len(self.field):
            return Found(0, 0, (), (), None)
        used = self.field.places.used
        if tick is not None:
            tick(len(used))
        fits = used <= (np.inf if self.run.length is None else self.run.length + ROUNDING)
        best = best_of_each(self, fits & self.as_wished, rivals)
        return Found(
            len(used),
            int(fits.sum()),
            best,
            () if best or rivals else best_of_each(self, ~fits & self.as_wished, settle=False),
            self.field.candidate(int(np.argmin(used))),
        )

    @cached_property
    def as_wished(self) -> Bools:
        """Which candidates do with their lines as wished."""
        lines, ways = self.space.line_wishes, self.space.ways
        if not lines:
            return np.full(len(self.field), True)
        met = np.isnan(ways.shown)
        for i in np.flatnonzero(~met).tolist():
            met[i] = lines.met_by(ways.pleating(i), self.frame.widths, self.space.thread)
        return met[self.field.which]
