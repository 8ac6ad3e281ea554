"""The kilt as plain polygons: one for every crossing of a stripe along and a stripe across on every pleat.

A 2/2 twill shows half weft and half warp, so each crossing has the one colour that is their mean in linear
light; the twill's lines themselves are not drawn.  Places are exact: nothing is rounded to pixels.
Neighbours share their edges, so a renderer should not blur them (in SVG shape-rendering="crispEdges").
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from pleatwright.cloth import Numbers, Run
from pleatwright.layout import Option, Request
from pleatwright.picture.back import back_faces
from pleatwright.picture.faces import Cloth, Faces, apron_tapes
from pleatwright.picture.folds import Folds, apron_shadows, pleat_folds
from pleatwright.picture.front import front_faces
from pleatwright.picture.light import light_of, shown
from pleatwright.picture.weave import Shadows
from pleatwright.sett import Tartan

GAMMA = 2.2
"""sRGB figures go about with the 1/2.2 power of light; black of that opacity takes away as much light."""

Point = tuple[float, float]
RGB = tuple[int, int, int]

STEPS = 3
"""A shadow is drawn in so many strips, each of one darkness."""


@dataclass(frozen=True)
class Patch:
    """A filled polygon: points in inches, x from the drawing's 0 to the right, y down from the top edge."""

    points: tuple[Point, ...]
    rgb: RGB
    opacity: float = 1.0


def back_vector(option: Option, request: Request, *, folds: bool = True) -> tuple[Patch, ...]:
    """`back_picture` as polygons, painted in this order; 0 is the middle of the pleats.

    Neither fringe nor straps.
    """

    def faces(depths: Numbers) -> tuple[Faces, ...]:
        return back_faces(option, request, depths)

    patches = list(_woven(option, request, faces))
    if folds:
        patches += _shaded(request, lambda depths: faces(depths)[1], pleat_folds(option), (True, True))
    return tuple(patches)


def front_vector(option: Option, request: Request, *, folds: bool = True) -> tuple[Patch, ...]:
    """`front_picture` as polygons, painted in this order; 0 is the apron's centre.

    Neither fringe nor straps.
    """

    def faces(depths: Numbers) -> tuple[Faces, ...]:
        before, _, after = front_faces(option, request, depths)
        start, end = (tape[:, None] for tape in apron_tapes(option.over_apron, request, depths))
        edges = np.concatenate([start, end], axis=1) - option.over_apron.centre
        return before, Faces(edges, start, end), after

    patches = list(_woven(option, request, faces))
    if folds:
        pleats = pleat_folds(option)
        patches += _shaded(request, lambda depths: faces(depths)[0], pleats, (False, True))
        patches += _shaded(request, lambda depths: faces(depths)[2], pleats, (True, False))
    return tuple(patches)


def _levels(request: Request) -> list[float]:
    return [float(level.below_top) for level in request.sizes.levels]


def _woven(
    option: Option, request: Request, faces: Callable[[Numbers], tuple[Faces, ...]]
) -> Iterator[Patch]:
    """Band by band from the top down; within a band every edge is straight."""
    cloth, tartan = Cloth.of(option, request), request.tartan
    long, hem = float(request.sizes.drop + request.sizes.rise), float(request.sizes.hem)
    for second in (False, True) if cloth.seam is not None else (False,):
        higher = cloth.higher[second]
        upto = long + hem - higher
        lines = [upto - at for at in _lines(cloth.up, hem - higher, upto)]
        for top, bottom in _bands([*_levels(request), *lines], long):
            warp = tartan.warp.colour_at(cloth.up.thread_at(upto - (top + bottom) / 2))
            for part in faces(np.array([top, bottom])):
                for i in np.flatnonzero(np.diff(part.edges, axis=1).max(axis=0) > 0):
                    yield from _crossings(_Face.of(part, int(i), top, bottom), cloth, tartan, warp, second)


def _bands(at: list[float], long: float) -> list[tuple[float, float]]:
    rising = sorted({0.0, long, *(y for y in at if 0 < y < long)})
    return [(a, b) for a, b in pairwise(rising) if b - a > 1e-9]


def _lines(run: Run, low: float, high: float) -> list[float]:
    """Every place between two colours from one place of a run to another."""
    sett = run.sett
    first, last = run.thread_at(low), run.thread_at(high)
    turns = range(int(first // sett.n), int(last // sett.n) + 1)
    threads = (edge + turn * sett.n for turn in turns for edge in sett.edges)
    return [run.tape_at(thread) for thread in threads if first < thread < last]


@dataclass(frozen=True)
class _Face:
    """One face between two heights: its edges in the drawing and on the tape at each (top, bottom)."""

    top: float
    bottom: float
    left: Point
    right: Point
    start: Point
    end: Point

    @classmethod
    def of(cls, faces: Faces, i: int, top: float, bottom: float) -> _Face:
        left, right, start, end = (
            (float(table[0, at]), float(table[1, at]))
            for table, at in ((faces.edges, i), (faces.edges, i + 1), (faces.start, i), (faces.end, i))
        )
        return cls(top, bottom, left, right, start, end)

    def between(self, one: float, other: float) -> tuple[Point, ...]:
        """The polygon that shows the tape from one position to another, as far as it is seen."""
        shares = {0.0, 1.0}
        for side in (self.start, self.end):
            if side[0] != side[1]:
                shares |= {(tape - side[0]) / (side[1] - side[0]) for tape in (one, other)}
        rising = sorted(share for share in shares if 0 <= share <= 1)
        rows = [(share, self._x(one, share), self._x(other, share)) for share in rising]
        rows = [
            row
            for at, row in enumerate(rows)
            if any(b - a > 1e-9 for _, a, b in rows[max(0, at - 1) : at + 2])
        ]
        if len(rows) < 2:
            return ()
        height = self.bottom - self.top
        down = [(a, self.top + share * height) for share, a, _ in rows]
        return (*down, *((b, self.top + share * height) for share, _, b in reversed(rows)))

    def _x(self, tape: float, share: float) -> float:
        left, right, start, end = (
            a + share * (b - a) for a, b in (self.left, self.right, self.start, self.end)
        )
        if end <= start:
            return left
        return left + (min(max(tape, start), end) - start) / (end - start) * (right - left)


def _crossings(face: _Face, cloth: Cloth, tartan: Tartan, warp: str, second: bool) -> Iterator[Patch]:
    """Where each stripe along crosses one across on one face."""
    low, high = min(face.start), max(face.end)
    seam = [cloth.seam] if cloth.seam is not None and low < cloth.seam < high else []
    stops = sorted([low, *_lines(cloth.along, low, high), *seam, high])
    for one, other in pairwise(stops):
        middle = (one + other) / 2
        if cloth.is_second(middle) is second and (points := face.between(one, other)):
            weft = tartan.weft.colour_at(cloth.along.thread_at(middle))
            yield Patch(points, _mean(tartan.rgb(weft), tartan.rgb(warp)))


@lru_cache(maxsize=1000)
def _mean(weft: RGB, warp: RGB) -> RGB:
    light = (light_of(weft) + light_of(warp)) / 2
    red, green, blue = shown(light.astype(np.float32)[:, None, None])[0, 0].tolist()
    return red, green, blue


def _shaded(
    request: Request, faces: Callable[[Numbers], Faces], folds: Folds, under: tuple[bool, bool]
) -> Iterator[Patch]:
    """The folds' shadows as strips of black, the lighter the further from the fold."""
    for top, bottom in pairwise(_levels(request)):
        part, some = faces(np.array([top, bottom])).seen()
        yield from _strips(part.edges, folds.only(some).shadows(1.0, 0.0), top, bottom)
        yield from _strips(part.edges[:, [0, -1]], apron_shadows(*under, 1.0, 0.0), top, bottom)


def _strips(edges: Numbers, layers: tuple[Shadows, ...], top: float, bottom: float) -> Iterator[Patch]:
    wide = np.diff(edges, axis=1)
    for layer in layers:
        for sign, darks, froms in ((1, layer.left, edges[:, :-1]), (-1, layer.right, edges[:, 1:])):
            for i in np.flatnonzero(darks):
                for step in range(STEPS):
                    near, far = (np.minimum(layer.wide * s / STEPS, wide[:, i]) for s in (step, step + 1))
                    (a, b), (c, d) = (froms[:, i] + sign * near).tolist(), (froms[:, i] + sign * far).tolist()
                    lost = float(darks[i]) * (1 - (step + 0.5) / STEPS)
                    corners = ((a, top), (b, bottom), (d, bottom), (c, top))
                    yield Patch(corners, (0, 0, 0), 1 - (1 - lost) ** (1 / GAMMA))
