"""One kilt laid again with cloth, body or sewing a little off, many times at once: a row a trial.

Number of pleats, parts of a sett, whole setts in a fold and stripes stay; the places follow.  Where each
pleat shows as much tartan as it is wide (running division) the steps follow the reveal; on plain cloth the
hidden cloth stays.  A sett that is off is off in every thread, counted from the end the cloth was measured
from, and what was read off the tape with it.  A reveal that is off is sewn so on every pleat.  [derived]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Bools, Numbers
from pleatwright.layout.again import Again, Off, scaled
from pleatwright.layout.placing import Allotted, Table, place_all, running
from pleatwright.layout.scoring import (
    MATCH_SHARES,
    Taste,
    depth_points,
    line_points,
    match_points,
    place_points,
    square_points,
)
from pleatwright.layout.settling import Kilts, settle
from pleatwright.layout.stripes import ends_mirror
from pleatwright.lengths import ROUNDING
from pleatwright.pleats import (
    PHASE_PLACES,
    Form,
    LineWishes,
    Shows,
    agreements,
    deepest_fold,
    least_depth,
    names_at_risk,
    phases_of,
    reveal_bounds,
)
from pleatwright.wearer import FELL_LEVELS, LevelName

HIP, STRAP = FELL_LEVELS.index(LevelName.HIP), FELL_LEVELS.index(LevelName.STRAP)


class Places(NamedTuple):
    """Where the kilts lie, a row a trial: the first strip's thread; by strip inches a thread; by gap inches.

    `used`: infinite where there is no place.  `length`: of the strip, infinite while none was bought.
    `hidden`: inches in deep and reverse pleat over their least.
    """

    first: Numbers
    sizes: Numbers
    gaps: Numbers
    used: Numbers
    hidden: Numbers
    length: Numbers


def laid_again(again: Again, offs: Sequence[Off]) -> Trials:
    """The kilt laid again, a row for each."""
    return Trials(again, np.array(offs, dtype=float))


@dataclass(frozen=True)
class Trials:
    """A kilt laid again: `offs` has a row a trial, columns as `Off`."""

    again: Again
    offs: Numbers

    @cached_property
    def _scale(self) -> Numbers:
        plain = self.again.search.sett.plain
        return np.ones(len(self.offs)) if plain else 1 + self.offs[:, 0]

    @cached_property
    def _levels(self) -> Numbers:
        base, by_waist, by_hips = self.again.girths
        waist, hips = (self.offs[:, column, None, None] for column in (1, 2))
        levels: Numbers = base + waist * by_waist + hips * by_hips
        return levels

    @cached_property
    def reveals(self) -> Numbers:
        """One sewn reveal in inches, a column a level of the fell."""
        faces = self.again.candidate.pleating.faces
        sewn: Numbers = self._levels[:, : len(FELL_LEVELS), 0] / faces + self.offs[:, 3, None]
        return sewn

    @cached_property
    def _thread(self) -> Numbers:
        """Nominal inches a thread."""
        return self.again.search.space.thread * self._scale

    @cached_property
    def _longer(self) -> Numbers:
        """Threads by which a step is longer than it was."""
        search, pleating = self.again.search, self.again.candidate.pleating
        if not self.again.follows:
            return np.zeros(len(self.offs))
        before = search.frame.widths[LevelName.HIP] / pleating.faces / search.space.thread
        longer: Numbers = self._levels[:, HIP, 0] / pleating.faces / self._thread - before
        return longer

    @cached_property
    def threads(self) -> Numbers:
        """Threads from each strip's centre to the next, a column a gap."""
        gaps = np.array(self.again.candidate.pleating.gaps)
        threads: Numbers = gaps + self._longer[:, None] * self.again.between
        return threads

    @cached_property
    def _first(self) -> Numbers:
        pleating = self.again.candidate.pleating
        first = pleating.first - (pleating.faces - 1) / 2 * self._longer
        return phases_of(first, self.again.search.sett.n)

    @cached_property
    def allotted(self) -> Allotted:
        """What body and shop ask of the cloth, a row a trial."""
        frame, sides = self.again.search.frame, self._levels[:, :, 1:].max(axis=1)
        side, over, under = sides.T
        rest = (frame.facing, frame.deep_least, frame.reverse_least)
        facing, deep, reverse = (np.full(len(self.offs), inches) for inches in rest)
        return Allotted(facing + over, side, over, under, facing, deep, reverse)

    @cached_property
    def places(self) -> Places:
        """Where each of them lies; with faults or a join where it settles."""
        search = self.again.search
        if search.settles:
            return self._settled()
        phase, scale = self.again.candidate.apron_phase, self._scale
        allotted, strip = self.allotted, search.strip(phase)
        # the cloth as it was measured, everything laid on it so much smaller
        length = np.inf if search.run.length is None else search.run.length
        ahead = (1 - scale) * length if search.lay.mirrored and search.run.length is not None else 0 * scale
        start = (allotted.start - ahead) / scale
        if search.run.length is None:  # it begins so that the over-apron fits at once
            start = np.full(len(scale), search.frame.start)
            ahead = allotted.start - start * scale
        smaller = Allotted(start, *(inches / scale for inches in allotted[1:]))
        reveal, greatest = (one / scale for one in (self.reveals[:, HIP], self.reveals.max(axis=1)))
        table = Table(self._first, self.threads.sum(axis=1), reveal, greatest)
        there = place_all(strip, smaller, table, phase)
        threads = running(there.first_thread, self.threads)
        hidden = there.deep_pleat + there.reverse_pleat - smaller.deep_least - smaller.reverse_least
        return Places(
            there.first_thread,
            strip.thread_sizes(threads) * scale[:, None],
            np.diff(strip.tapes_at(threads)) * scale[:, None],
            there.used * scale + ahead,
            hidden * scale,
            np.full(len(scale), length),
        )

    def _settled(self) -> Places:
        """The same where no fault shows and a seam is out of sight, those of one sett together."""
        search, candidate, (rows, gaps) = self.again.search, self.again.candidate, self.threads.shape
        phase, faces = np.full(rows, candidate.apron_phase), np.tile(self.again.faces, (rows, 1))
        kilts = Kilts(
            phase,
            self._first,
            self.threads,
            faces,
            self.reveals[:, HIP],
            self.reveals.max(axis=1),
            self.allotted,
        )
        first, used, length = np.zeros(rows), np.full(rows, np.inf), np.full(rows, np.inf)
        sizes, tapes, hidden = np.ones((rows, gaps + 1)), np.ones((rows, gaps)), np.zeros(rows)
        for scale in np.unique(self._scale).tolist():
            lay = scaled(search.lay, scale)
            some = np.flatnonzero(self._scale == scale)
            there = settle(lay, lay.run(), kilts.where(some), search.settings)
            for at, row in enumerate(some.tolist()):
                stand = there.stand(at)
                if stand is None:
                    continue
                place, seam = stand
                run = lay.run(seam)
                threads = running(np.array([place.first_thread]), self.threads[row : row + 1])[0]
                first[row], used[row] = place.first_thread, place.used
                length[row] = np.inf if run.length is None else run.length
                sizes[row], tapes[row] = run.thread_sizes(threads), np.diff(run.tapes_at(threads))
                hidden[row] = (
                    place.deep_pleat
                    + place.reverse_pleat
                    - search.frame.deep_least
                    - search.frame.reverse_least
                )
        return Places(first, sizes, tapes, used, hidden, length)

    @property
    def enough(self) -> Bools:
        """Whether the cloth is enough."""
        return np.asarray(self.places.used <= self.places.length + ROUNDING) & np.isfinite(self.places.used)

    @property
    def within(self) -> tuple[Bools, Bools]:
        """Whether no reveal is narrower, and none wider than the limits."""
        form, settings = self.again.candidate.pleating.form, self.again.search.settings
        if form is Form.BOX:
            every = np.full(len(self.offs), True)
            return every, every
        least, most = reveal_bounds(form, settings)
        wide = np.asarray(self.reveals.min(axis=1) >= least - ROUNDING)
        if form is Form.MILITARY_BOX:
            wide &= self.reveals[:, HIP] >= float(settings.pleats.military_reveal_least) - ROUNDING
        return wide, np.asarray(self.reveals.max(axis=1) <= most + ROUNDING)

    @property
    def deep_enough(self) -> Bools:
        """Whether every fold keeps the least depth at every level: the widest reveal leaves the least."""
        again, widest = self.again, self.reveals.max(axis=1)[:, None]
        form = again.candidate.pleating.form
        depths = deepest_fold(form, self.places.gaps - again.between * widest, widest)
        return np.asarray(depths.min(axis=1) >= least_depth(form, again.search.settings) - ROUNDING)

    @property
    def as_wished(self) -> Bools:
        """Whether lines are kept whole or split as wished."""
        space, candidate = self.again.search.space, self.again.candidate
        met = np.full(len(self.offs), True)
        if not space.line_wishes:
            return met
        for row, thread in enumerate(self._thread.tolist()):
            wishes = LineWishes.of(space.sett, space.wishes, space.settings, thread)
            widths = dict(zip(FELL_LEVELS, self.reveals[row] * candidate.pleating.faces, strict=True))
            shown = candidate.pleating.shown
            pleating = replace(
                candidate.pleating,
                first=float(self._first[row]),
                gaps=tuple(self.threads[row].tolist()),
                shown=None if shown is None else shown + float(self._longer[row]),
            )
            met[row] = wishes.met_by(pleating, widths, thread)
        return met

    @cached_property
    def _looked_at(self) -> tuple[Numbers, Numbers, Numbers]:
        """Phase, inches a thread and face in reveals of every strip looked at, one trial after the other."""
        which, _, _ = self.again.columns
        threads = running(self.places.first, self.threads)[:, which]
        phases = np.round(threads % self.again.search.sett.n, PHASE_PLACES)
        faces = np.broadcast_to(self.again.faces[which], phases.shape)
        return phases.ravel(), self.places.sizes[:, which].ravel(), faces.ravel()

    def _shown(self, level: int) -> Numbers:
        """Inches that each of them shows at a level."""
        which, _, _ = self.again.columns
        return np.repeat(self.reveals[:, level], len(which)) * self._looked_at[2]

    @cached_property
    def _hit(self) -> Bools:
        """Which lines are at risk: trial, strip looked at, name."""
        search, (phases, sizes, _) = self.again.search, self._looked_at
        hit = names_at_risk(search.sett, phases, sizes, self._shown(HIP), self._shown(STRAP), search.settings)
        return hit.reshape(len(self.offs), -1, len(self.again.names))

    @property
    def at_risk(self) -> Bools:
        """Which lines are at risk on any pleat, a column a name."""
        return np.asarray(self._hit.any(axis=1))

    @cached_property
    def match(self) -> dict[LevelName, Numbers]:
        """Pattern match at the levels where it is judged."""
        pleating, sett = self.again.candidate.pleating, self.again.search.sett
        if pleating.shows is Shows.PLAIN:
            return {level: np.ones(len(self.offs)) for level in MATCH_SHARES}
        (phases, sizes, _), (which, _, like) = self._looked_at, self.again.columns
        rows, strips = len(self.offs), len(which)
        times = np.tile(self.again.judged, rows)
        against = (np.arange(rows)[:, None] * strips + like).ravel()
        found = {}
        for level in MATCH_SHARES:
            shown = self._shown(FELL_LEVELS.index(level)) / sizes
            others, other = phases[against], shown[against]
            if pleating.shown is not None:
                flat = np.array([pleating.stands_for(strip) for strip in which.tolist()])
                others = phases
                other = (flat + self._longer[:, None] * self.again.faces[which]).ravel()
            share = agreements(sett, phases, shown, others, other) * times
            found[level] = share.reshape(rows, strips).sum(axis=1) / self.again.judged.sum()
        return found

    @cached_property
    def lost(self) -> Numbers:
        """Points lost in all, of those kilts that can be made."""
        again, search, candidate = self.again, self.again.search, self.again.candidate
        settings, points, pleating = search.settings, candidate.points, candidate.pleating
        taste = Taste.of(candidate.kind, search.space.wishes.reveal, settings)
        hip = self.reveals[:, HIP]
        folds = deepest_fold(
            pleating.form,
            self.threads * self._thread[:, None] - again.between * hip[:, None],
            hip[:, None],
        )
        most = hip if taste.depth_most is None else taste.depth_most
        lost: Numbers = depth_points(folds.min(axis=1), folds.max(axis=1), taste.depth_least, most, settings)
        if taste.reveal is not None:
            lost = lost + settings.weights.reveal * 16 * np.abs(hip - taste.reveal)
        if pleating.shown is not None:
            steps = np.array(pleating.steps or [pleating.shown]) + self._longer[:, None]
            squares = square_points(hip[:, None], steps * self._thread[:, None], settings)
            lost = lost + squares.mean(axis=1)
        used = np.where(np.isfinite(self.places.used), self.places.used, 0.0)
        lost = lost + sum(place_points(used, self.places.hidden, settings).values())
        counts = self._hit.sum(axis=2) @ again.columns[1]
        lost = lost + line_points(counts, np.full(len(counts), float(pleating.pleats)), settings)
        lost = lost + match_points(self.match, settings)
        last = self._first + self.threads.sum(axis=1)
        ends = ends_mirror(search.space, self._first, last, self.reveals.max(axis=1) / self._scale)
        lost = lost + np.where(ends, 0.0, settings.weights.mirror)
        staying: float = sum(getattr(points, part) for part in STAYING)
        return lost + staying


STAYING = ("middle", "centre", "few_pleats", "style", "join", "turn")
"""Parts of the score that hang neither on cloth nor on the body."""
