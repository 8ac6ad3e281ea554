"""The cloth of one kilt where it shows: stretches of tape laid side by side, and the threads they carry."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers, Run, horizontals_off, run_across
from pleatwright.layout import Apron, Option, Request, Strip
from pleatwright.picture.weave import Panels
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class Faces:
    """Stretches of cloth side by side, a row for each height: all in inches.

    `edges` (rows × stretches + 1): where they meet in the drawing, rising.  `start`, `end` (rows ×
    stretches): tape positions at each one's left and right edge.
    """

    edges: Numbers
    start: Numbers
    end: Numbers

    @classmethod
    def beside(cls, parts: tuple[Faces, ...]) -> Faces:
        """Some faces and those that begin where they end."""
        return cls(
            np.concatenate([parts[0].edges[:, :1], *(part.edges[:, 1:] for part in parts)], axis=1),
            np.concatenate([part.start for part in parts], axis=1),
            np.concatenate([part.end for part in parts], axis=1),
        )

    def seen(self) -> tuple[Faces, slice]:
        """Without those at either end that have no width in any row; and which are left."""
        wide = np.flatnonzero((np.diff(self.edges, axis=1) > 0).any(axis=0))
        some = slice(int(wide[0]), int(wide[-1]) + 1)
        edges = self.edges[:, some.start : some.stop + 1]
        return Faces(edges, self.start[:, some], self.end[:, some]), some

    def within(self, left: Numbers | float, right: Numbers | float) -> Faces:
        """What is seen of them from `left` to `right` (inches, one for each row or for all)."""
        low, high = (np.broadcast_to(side, (len(self.edges),))[:, None] for side in (left, right))
        edges = np.clip(self.edges, low, high)
        wide = np.diff(self.edges, axis=1)
        pace = (self.end - self.start) / np.where(wide > 0, wide, 1)
        start = self.start + (edges[:, :-1] - self.edges[:, :-1]) * pace
        end = self.end - (self.edges[:, 1:] - edges[:, 1:]) * pace
        return Faces(edges, start, end)


@dataclass(frozen=True)
class Cloth:
    """The two ways a thread is found: `along` the tape, and `up` from the bottom selvedge.

    `seam`: the tape position beyond which the second strip lies.  `higher`: inches by which the horizontals
    of the first and of the second strip lie higher than `up` has them.
    """

    along: Run
    up: Run
    seam: float | None
    higher: tuple[float, float]

    @classmethod
    def of(cls, option: Option, request: Request) -> Cloth:
        """The cloth an option lies on; of the sizes it was ordered in where none has been bought yet."""
        tartan, piece = request.tartan, request.piece
        up = None if piece is None else run_across(piece, tartan)
        if up is None:
            across = request.sett_across if piece is None else piece.sett_across
            up = Run.uniform(tartan.warp, float(across), 0.0, None)
        if option.cloth is None or piece is None:
            size, apron = float(request.sett_along), option.over_apron
            at_zero = apron.thread - apron.centre * tartan.weft.n / size
            return cls(Run.uniform(tartan.weft, size, at_zero, None), up, None, (0.0, 0.0))
        join, turned = option.cloth.join, option.cloth.turned_end_for_end
        first = horizontals_off(piece, tartan) if turned else 0.0
        along = option.cloth.run(tartan.weft)
        if join is None:
            return cls(along, up, None, (first, first))
        return cls(along, up, join.tape, (-join.hem_first, join.horizontals_off - join.hem_second))

    def is_second(self, tape: float) -> bool:
        """Whether that tape position lies on the second strip."""
        return self.seam is not None and tape > self.seam

    def panels(self, faces: Faces, scale: float, middle: float) -> tuple[Panels, NDArray[np.bool_]]:
        """The panels that faces along the tape make in a picture; which of them lie on the second strip.

        `scale` pixels an inch, 0 of the drawing at pixel `middle`.
        """
        breaks = {*_knots(self.along), *(() if self.seam is None else (self.seam,))}
        panels, middles = _panels(self.along, breaks, faces, scale, middle)
        return panels, np.array([self.is_second(tape) for tape in middles])

    def panels_up(self, low: float, high: float, scale: float, bottom: float, second: bool) -> Panels:
        """One row of panels, counted upwards in pixels from `bottom`: from one height to another (inches)."""
        ends = np.array([low, high]) - self.higher[second]
        faces = Faces(np.array([[0.0, high - low]]), ends[None, :1], ends[None, 1:])
        return _panels(self.up, set(_knots(self.up)), faces, scale, bottom)[0]


def _knots(run: Run) -> tuple[float, ...]:
    """Where the size of a thread changes."""
    return () if run.uniform_cloth else run.tape


def _panels(
    run: Run, breaks: set[float], faces: Faces, scale: float, middle: float
) -> tuple[Panels, list[float]]:
    """The faces as panels, parted at the breaks; a place within each one."""
    rising = sorted(breaks)
    edges, first, last, middles = [faces.edges[:, :1]], [], [], []
    for i in range(faces.start.shape[1]):
        left, right = faces.edges[:, i : i + 1], faces.edges[:, i + 1 : i + 2]
        start, end = faces.start[:, i : i + 1], faces.end[:, i : i + 1]
        low, high = float(start.min()), float(end.max())
        stops = [low, *(at for at in rising if low < at < high), high]
        tapes = np.clip(np.array([stops]), start, end)
        tapes[:, :1], tapes[:, -1:] = start, end
        long = end - start
        share = (tapes[:, 1:-1] - start) / np.where(long > 0, long, 1)
        edges += [left + share * (right - left), right]
        threads = run.threads_at(tapes)
        first.append(threads[:, :-1])
        last.append(threads[:, 1:])
        middles += [(a + b) / 2 for a, b in pairwise(stops)]
    at = middle + scale * np.concatenate(edges, axis=1)
    begun, wide = np.concatenate(first, axis=1), np.diff(at, axis=1)
    passed = np.concatenate(last, axis=1) - begun
    shown = (wide > 1e-9) & (passed > 0)
    return Panels(at, begun, np.where(shown, passed / np.where(shown, wide, 1), 1.0)), middles


def levels_below_top(request: Request, names: tuple[LevelName, ...]) -> list[float]:
    """Inches below the top edge of these levels."""
    return [float(request.sizes.level(name).below_top) for name in names]


def left_to_right(option: Option) -> tuple[Strip, ...]:
    """The strips as they lie along the cloth, and as they are seen from behind."""
    return tuple(sorted(option.strips, key=lambda strip: strip.centre))


def reveals_at(option: Option, request: Request, depths: Numbers) -> Numbers:
    """One reveal (inches) at depths below the top edge: straight lines between the levels."""
    at = levels_below_top(request, tuple(level.level for level in option.levels))
    return np.interp(depths, at, [level.reveal for level in option.levels])


def apron_tapes(apron: Apron, request: Request, depths: Numbers) -> tuple[Numbers, Numbers]:
    """Tape positions of both edges of an apron at depths below the top: straight between the levels."""
    at = levels_below_top(request, tuple(edge.level for edge in apron.edges))
    left = np.interp(depths, at, [edge.left for edge in apron.edges])
    right = np.interp(depths, at, [edge.right for edge in apron.edges])
    return left, right


def pleat_faces(option: Option, request: Request, depths: Numbers) -> Faces:
    """The pleats laid flat, 0 in their middle: strip i shows its centre ± half a face."""
    reveal = reveals_at(option, request, depths)[:, None]
    strips = left_to_right(option)
    face = np.array([strip.face for strip in strips])
    centre = np.array([strip.centre for strip in strips])
    ends = np.concatenate([[0.0], np.cumsum(face)])
    half = reveal * face / 2
    return Faces(reveal * (ends - ends[-1] / 2), centre - half, centre + half)
