"""Settling kilts on cloth with faults or a join: whole setts on until nothing shows that must not.

Over-apron, strips and under-apron each lie so many whole setts beyond their first place.  Every such way that
the cloth has room for is weighed, the one that loses least points for cloth and for hidden cloth first.
Many kilts are settled at once: a row each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Bools, Interval, Numbers, Rows, Run
from pleatwright.layout.field import SCORE_PLACES
from pleatwright.layout.lays import Lay
from pleatwright.layout.placing import Allotted, Placement, Placements, Table, place_all, running
from pleatwright.layout.scoring import place_points
from pleatwright.lengths import ROUNDING
from pleatwright.sett import Sett
from pleatwright.trade import Settings

SAME_PLACE = 1e-6
"""A place this near (in repeats) to the wanted one counts as the wanted one."""


class Kilts(NamedTuple):
    """What settling asks of kilts, a row each.

    `phase`, `first`: phases of the aprons' centres and of the first strip's.  `gaps`: threads from strip to
    strip, a column a gap, 0 beyond the last one.  `faces`: every strip's width in reveals, a column a strip.
    `hip_reveal`, `greatest_reveal`: inches.
    """

    phase: Numbers
    first: Numbers
    gaps: Numbers
    faces: Numbers
    hip_reveal: Numbers
    greatest_reveal: Numbers
    allotted: Allotted

    def where(self, rows: Rows) -> Kilts:
        """Some of them."""
        some = {name: getattr(self, name)[rows] for name in self._fields[:-1]}
        return Kilts(**some, allotted=Allotted(*(column[rows] for column in self.allotted)))

    @property
    def threads(self) -> Numbers:
        """Threads from the first strip's centre to every strip's."""
        return running(np.zeros(len(self.first)), self.gaps)

    def placed(self, run: Run, way: Sequence[Rows] | Sequence[int]) -> Placements:
        """The kilts on a strip, so many whole setts on."""
        table = Table(self.first, self.threads[:, -1], self.hip_reveal, self.greatest_reveal)
        return place_all(run, self.allotted, table, self.phase, way)

    def shown(self, run: Run, places: Placements) -> tuple[Numbers, Numbers]:
        """From where to where cloth shows, left to right: aprons as allotted, every strip at its widest."""
        tapes = run.tapes_at(running(places.first_thread, self.gaps))
        half, own = self.greatest_reveal[:, None] / 2 * self.faces, self.allotted
        over, under = places.over_centre, places.under_centre
        starts = np.column_stack([over - own.over_outer, tapes - half, under - own.pleat_side])
        ends = np.column_stack([over + own.pleat_side, tapes + half, under + own.under_outer])
        return starts, ends


Stand = tuple[Placement, float | None]
"""Where one kilt has settled: its place, and the thread at which two strips are joined."""


@dataclass(frozen=True)
class Settled:
    """Where kilts settle, a row each, at the least loss; those not `found` have no place.

    Two strips are joined kilt by kilt, when its `stand` is asked for: before, `places` are those on the strip
    with the seam in the middle of its window, and on even cloth no kilt will lose less.
    """

    found: Bools
    places: Placements
    _board: _Board
    _on: tuple[Rows, Rows, Rows]
    _lay: Lay

    def stand(self, row: int) -> Stand | None:
        """Where nothing shows that must not, a join's seam out of sight; None if that is nowhere."""
        if not self.found[row]:
            return None
        if self._lay.window is None:
            return self.places.row(row), None
        board, one = self._board, self._board.kilts.where(np.array([row]))
        first = tuple(int(on[row]) for on in self._on)
        for way in chain([first], board.ways(row)):
            sewn = _sewn(self._lay, self._lay.window, board, one, way)
            if sewn is not None:
                return sewn
        return None


def settle(lay: Lay, run: Run, kilts: Kilts, settings: Settings) -> Settled:
    """The kilts where nothing shows that must not, at the least loss.

    `run`: the strip along which the plan goes, a join's seam in the middle of its window.
    """
    board = _Board.of(run, kilts, lay.window, settings)
    found, on = board.first()
    return Settled(found, kilts.placed(run, on), board, on, lay)


def _sewn(lay: Lay, window: Interval, board: _Board, one: Kilts, way: tuple[int, ...]) -> Stand | None:
    """One kilt on two strips joined, so many whole setts on; None if no seam is out of sight."""
    run, settings = board.run, board.settings
    for low, high in stretches(run, window, *one.shown(run, one.placed(run, way)), settings):
        seam = (low + high) / 2
        sewn = lay.run(seam)
        place = one.placed(sewn, way)
        starts, ends = one.shown(sewn, place)
        fits = (
            place.used[0] <= (sewn.length or np.inf) + ROUNDING and not _hit(starts, ends, sewn.blocked).any()
        )
        if fits and any(a <= seam <= b for a, b in stretches(sewn, window, starts, ends, settings)):
            return place.row(0), seam
    return None


def stretches(
    run: Run, window: Interval, starts: Numbers, ends: Numbers, settings: Settings
) -> list[Interval]:
    """Threads between which the seam may lie, the widest stretch first: out of sight, and not at the strap.

    `starts`, `ends`: what one kilt shows, left to right.  Between two of them the cloth is folded in the
    middle; the seam keeps its clearance from that fold and from both sides.  The strap hole lies between the
    first two pleats.
    """
    clear, away = float(settings.cloth.join_clearance), np.arange(starts.shape[1] - 1) != 1
    start, end = ends[0, :-1][away], starts[0, 1:][away]
    fold = (start + end) / 2
    left, right = np.concatenate([start + clear, fold + clear]), np.concatenate([fold - clear, end - clear])
    there = left <= right
    low = np.maximum(window[0], run.threads_at(left[there]))
    high = np.minimum(window[1], run.threads_at(right[there]))
    wide = low <= high
    return sorted(
        zip(low[wide].tolist(), high[wide].tolist(), strict=True),
        key=lambda stretch: (-round(stretch[1] - stretch[0], SCORE_PLACES), stretch),
    )


def _hit(starts: Numbers, ends: Numbers, faults: Sequence[Interval]) -> Bools:
    """Which of the places a fault reaches into."""
    hit = np.zeros(starts.shape, dtype=bool)
    for start, end in faults:
        hit |= (starts < end) & (start < ends)
    return hit


@dataclass(frozen=True)
class _Board:
    """Every place of each part, a row a kilt, one whole sett after the other; tape positions.

    `left`, `right`: a strip's sides by kilt, place and strip; `span`: first to last strip by kilt and place.
    `after_over`, `after_strips`: the number of the first place of the next part that leaves the cloth it
    needs, for each place of this one.  `fits`: which places of the under-apron the cloth has room for.
    """

    run: Run
    kilts: Kilts
    window: Interval | None
    settings: Settings
    overs: Numbers
    left: Numbers
    right: Numbers
    span: Numbers
    unders: Numbers
    after_over: Rows
    after_strips: Rows
    fits: Bools

    @classmethod
    def of(cls, run: Run, kilts: Kilts, window: Interval | None, settings: Settings) -> _Board:
        """The places of kilts."""
        length, n, own = run.length or 0.0, run.sett.n, kilts.allotted
        half = kilts.greatest_reveal[:, None] / 2
        start, side, _, under_outer, facing, deep, reverse = (column[:, None] for column in own)
        phase, last = kilts.phase[:, None], run.thread_at(length)

        def places(first: Numbers) -> Numbers:
            """As many as the cloth has room for, at least one; beyond its end nothing else has room."""
            many = max(0, int(((last - first) // n).max(initial=0))) + 1
            return first + n * np.arange(many, dtype=float)

        def numbers(threads: Numbers) -> Rows:
            return np.rint((threads - threads[:, :1]) / n).astype(np.intp)

        overs = run.tapes_at(places(run.next_threads(start, phase)))
        behind = run.next_threads(overs + side + deep + half, kilts.first[:, None])
        firsts, threads = places(behind[:, :1]), kilts.threads
        beyond = run.next_threads(run.tapes_at(firsts + threads[:, -1:]) + half + reverse + side, phase)
        unders, after_strips = run.tapes_at(places(beyond[:, :1])), numbers(beyond)
        fits = unders + under_outer + facing <= length + ROUNDING
        room = int((after_strips < fits.sum(axis=1)[:, None]).sum(axis=1).max(initial=0))
        after_over = numbers(behind)
        ahead = int((after_over < room).sum(axis=1).max(initial=0))
        strips = run.tapes_at(firsts[:, :room, None] + threads[:, None, :])
        faces = (half * kilts.faces)[:, None, :]
        return cls(
            run,
            kilts,
            window,
            settings,
            overs[:, :ahead],
            strips - faces,
            strips + faces,
            strips[:, :, -1] - strips[:, :, 0],
            unders,
            after_over[:, :ahead],
            after_strips[:, :room],
            fits,
        )

    @cached_property
    def _faults(self) -> Sequence[Interval]:
        """The faults that are there wherever the seam lies; on cloth that wanders their places hang on it."""
        run = self.run
        if self.window is None:
            return run.blocked
        low, high = (run.tape_at(thread) for thread in self.window)
        return [one for one in run.blocked if one[1] <= low or one[0] >= high] if run.uniform_cloth else []

    @cached_property
    def _under_sound(self) -> Bools:
        own = self.kilts.allotted
        starts, ends = self.unders - own.pleat_side[:, None], self.unders + own.under_outer[:, None]
        return self.fits & ~_hit(starts, ends, self._faults)

    @cached_property
    def _possible(self) -> Bools:
        """Which places go together with no fault in sight, by kilt, over-apron and strips."""
        own = self.kilts.allotted
        starts, ends = self.overs - own.over_outer[:, None], self.overs + own.pleat_side[:, None]
        over_sound = ~_hit(starts, ends, self._faults)
        strips_sound = ~np.asarray(_hit(self.left, self.right, self._faults).any(axis=2))
        after = np.arange(self.left.shape[1]) >= self.after_over[:, :, None]
        return np.asarray(after & over_sound[:, :, None] & strips_sound[:, None, :])

    @cached_property
    def _hidden_seam(self) -> tuple[Bools, Bools]:
        """Where a seam finds a stretch: among the strips or in the deep pleat; in the reverse pleat.

        Kilt, over-apron, strips; kilt, strips, under-apron.
        """
        if self.window is None:
            raise ValueError("a single strip has no seam")
        near, far = (self.run.tape_at(thread) for thread in self.window)
        clear, side = float(self.settings.cloth.join_clearance), self.kilts.allotted.pleat_side[:, None, None]

        def may(start: Numbers, end: Numbers) -> Bools:
            fold = (start + end) / 2
            first = np.maximum(start + clear, near) <= np.minimum(fold - clear, far)
            second = np.maximum(fold + clear, near) <= np.minimum(end - clear, far)
            return np.asarray(first | second)

        among = may(self.right[:, :, 1:-1], self.left[:, :, 2:]).any(axis=2, keepdims=True)
        in_deep = may(self.overs[:, :, None] + side, self.left[:, None, :, 0])
        in_reverse = may(self.right[:, :, -1:], self.unders[:, None, :] - side)
        return np.asarray(np.swapaxes(among, 1, 2) | in_deep), in_reverse

    def _best_first(
        self, rows: Rows, overs: Rows, strips: Rows, unders: Rows
    ) -> tuple[Rows, Rows, Rows, Rows]:
        """Ways by the numbers of the parts' places: row and whole setts on, row by row the best first.

        Among equals the one that takes less cloth, hides fewer setts, lies further left.
        """
        own = Allotted(*(column[rows] for column in self.kilts.allotted))
        under = self.unders[rows, unders]
        used = under + own.under_outer + own.facing
        hidden = under - self.overs[rows, overs] - self.span[rows, strips]
        hidden = (
            hidden - self.kilts.hip_reveal[rows] - 2 * own.pleat_side - own.deep_least - own.reverse_least
        )
        lost = sum(place_points(used, hidden, self.settings).values())
        on, further = strips - self.after_over[rows, overs], unders - self.after_strips[rows, strips]
        cost = (np.round(used, SCORE_PLACES), np.round(lost, SCORE_PLACES))
        order = np.lexsort((further, on, overs, on + further, *cost, rows))
        return rows[order], overs[order], on[order], further[order]

    def first(self) -> tuple[Bools, tuple[Rows, Rows, Rows]]:
        """Which kilts have a way in which no fault shows, and whole setts on in the best one.

        With a `window` for a seam only those are left out that a fault spoils wherever the seam lies, or that
        leave it no place.
        """
        rows, overs, strips = np.nonzero(self._possible)
        after = self.after_strips[rows, strips]
        unders = _next(self._under_sound)[rows, after]
        if self.window is not None:
            anywhere, in_reverse = self._hidden_seam
            there = _next(in_reverse & self._under_sound[:, None, :])[rows, strips, after]
            unders = np.where(anywhere[rows, overs, strips], unders, there)
        fits = unders < self.unders.shape[1]
        row, *way = self._best_first(rows[fits], overs[fits], strips[fits], unders[fits])
        found, at = np.unique(row, return_index=True)
        columns = np.zeros((3, len(self.kilts.first)), dtype=np.intp)
        columns[:, found] = np.stack(way)[:, at]
        sound = np.zeros(len(self.kilts.first), dtype=bool)
        sound[found] = True
        return sound, (columns[0], columns[1], columns[2])

    def ways(self, row: int) -> Iterator[tuple[int, ...]]:
        """Every way of one kilt, the best first."""
        after = np.arange(self.unders.shape[1]) >= self.after_strips[row][:, None]
        sound = self._possible[row][:, :, None] & after & self._under_sound[row]
        if self.window is not None:
            anywhere, in_reverse = self._hidden_seam
            sound &= anywhere[row][:, :, None] | in_reverse[row]
        parts = np.nonzero(sound)
        _, *way = self._best_first(np.full(len(parts[0]), row), *parts)
        yield from zip(*(column.tolist() for column in way), strict=True)


def _next(good: Bools) -> Rows:
    """For each place, and for the one beyond the last, the number of the first good one from there on."""
    many = good.shape[-1]
    number = np.where(good, np.arange(many), many)
    beyond = np.full((*good.shape[:-1], 1), many)
    number = np.concatenate([number, beyond], axis=-1)
    return np.minimum.accumulate(number[..., ::-1], axis=-1)[..., ::-1]


def least_between(sett: Sett, need: Numbers, threads: Numbers, small: float, large: float) -> Numbers:
    """The least inches from one place to another that leaves `need` inches, wherever on the cloth both lie.

    `threads`: from the one to the other but for whole setts; `small`, `large`: inches of the least and of the
    greatest thread.
    """
    if sett.plain:
        return need
    part = threads % sett.n
    many = part + sett.n * np.maximum(0, np.ceil((need / large - part) / sett.n - SAME_PLACE))
    least: Numbers = np.maximum(need, many * small)
    return least
