"""Rows of cloth seen from the front: what each pixel holds, as an exact mean over its width.

A row is a line of panels side by side, each showing some threads; only running sums are looked up, so a fold
in the middle of a pixel, or a hundred threads in one, are all the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pleatwright.cloth import Numbers
from pleatwright.picture.light import light_of
from pleatwright.sett import Sett, Tartan


@dataclass(frozen=True)
class Panels:
    """Panels side by side, a row for each row of pixels.

    `edges` (rows × panels + 1): in pixels from the left, rising.  `first`, `pace` (rows × panels): the thread
    at each panel's left edge, and threads a pixel.
    """

    edges: Numbers
    first: Numbers
    pace: Numbers

    def rows(self, chosen: NDArray[np.intp] | slice) -> Panels:
        """Only these rows."""
        return Panels(self.edges[chosen], self.first[chosen], self.pace[chosen])

    def different(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """The rows unlike the row before them, and for every row which of those it is."""
        table = np.concatenate([self.edges, self.first, self.pace], axis=1)
        new = np.concatenate([[True], np.any(table[1:] != table[:-1], axis=1)])
        return np.flatnonzero(new), np.cumsum(new) - 1


@dataclass(frozen=True)
class Reach:
    """Every pixel's left edge in a row of panels, the last one's right edge added.

    `at`: rows × (pixels + 1), in pixels, held between the first and the last panel's outer edge; `panel`: the
    one of so many `panels` each lies in.
    """

    at: Numbers
    panel: NDArray[np.intp]
    panels: int

    @classmethod
    def of(cls, edges: Numbers, width: int) -> Reach:
        """The reach of every pixel of rows `width` pixels wide."""
        at = np.clip(np.arange(width + 1.0), edges[:, :1], edges[:, -1:])
        return cls(at, panel_at(edges, width + 1), edges.shape[1] - 1)

    def take(self, table: Numbers) -> Numbers:
        """From a table rows × panels, each place's own figure."""
        return picked(table, self._flat)

    @cached_property
    def _flat(self) -> NDArray[np.intp]:
        return flat(self.panel, self.panels)

    @property
    def covered(self) -> Numbers:
        """The share of each pixel that the panels cover."""
        shares: Numbers = np.diff(self.at, axis=1)
        return shares


def panel_at(edges: Numbers, count: int, offset: float = 0.0) -> NDArray[np.intp]:
    """The panel at 0, 1, 2 … pixels and `offset`: rows × count; beyond the outermost edge the outermost."""
    rows, panels = edges.shape[0], edges.shape[1] - 1
    counts = np.zeros((rows, count + 1), dtype=np.intp)
    inner = np.clip(np.ceil(edges[:, 1:-1] - offset).astype(np.intp), 0, count)
    np.add.at(counts, (np.arange(rows)[:, None], inner), 1)
    panel: NDArray[np.intp] = np.minimum(np.cumsum(counts[:, :-1], axis=1), panels - 1)
    return panel


def flat(panel: NDArray[np.intp], panels: int) -> NDArray[np.intp]:
    """Panels row by row as places in a table rows × panels read as one line."""
    places: NDArray[np.intp] = panel + (np.arange(len(panel)) * panels)[:, None]
    return places


def picked(table: Numbers, places: NDArray[np.intp]) -> Numbers:
    """The figures of a table at `flat` places; several times quicker than numpy's own way along an axis."""
    found: Numbers = np.take(np.ravel(table), places, mode="clip")
    return found


class _Sums(NamedTuple):
    """One primary's light summed from thread 0 on, and thread by thread."""

    sums: Numbers
    threads: Numbers

    @classmethod
    def of(cls, dye: Numbers, last: Numbers) -> _Sums:
        threads = np.resize(dye, int(last.max()) + 2)
        return cls(np.concatenate([[0.0], np.cumsum(threads)]), threads)

    def between(self, whole: NDArray[np.intp], part: Numbers) -> Numbers:
        """Up to so many whole threads and a part of the next."""
        found: Numbers = np.take(self.sums, whole, mode="clip")
        found += part * np.take(self.threads, whole, mode="clip")
        return found

    def at(self, thread: Numbers) -> Numbers:
        whole = thread.astype(np.intp)
        return self.between(whole, thread - whole)


def colours(panels: Panels, reach: Reach, sett: Sett, tartan: Tartan) -> Numbers:
    """Light of each pixel, its mean over the pixel: 3 × rows × pixels; black beside the panels."""
    light = {code: light_of(tartan.rgb(code)) for code in sett.colours}
    dyes = np.array([light[code] for code in sett.threads()]).T
    first = panels.first % sett.n
    last = first + panels.pace * np.diff(panels.edges, axis=1)
    pace, left = reach.take(panels.pace), reach.take(panels.edges[:, :-1])
    thread = reach.take(first) + (reach.at - left) * pace
    whole = thread.astype(np.intp)
    part = thread - whole
    means = np.empty((3, *reach.covered.shape))
    for mean, dye in zip(means, dyes, strict=True):
        upto = _Sums.of(dye, last)
        begun, ended = (upto.at(place) / panels.pace for place in (first, last))
        before = np.cumsum(ended - begun, axis=1) - ended  # of all panels to the left, less what is not shown
        mean[:] = np.diff(reach.take(before) + upto.between(whole, part) / pace, axis=1)
    return means


def covered_by(chosen: NDArray[np.bool_], panels: Panels, reach: Reach) -> Numbers:
    """The share of each pixel that the chosen panels cover: rows × pixels."""
    wide = np.diff(panels.edges, axis=1) * chosen
    before = np.cumsum(wide, axis=1) - wide
    inside = (reach.at - reach.take(panels.edges[:, :-1])) * chosen[reach.panel]
    shares: Numbers = np.diff(reach.take(before) + inside, axis=1)
    return shares


def middles(panels: Panels, width: int) -> tuple[Numbers, Numbers]:
    """The thread in the middle of each pixel, and threads a pixel there: rows × pixels."""
    places = flat(panel_at(panels.edges, width, 0.5), panels.pace.shape[1])
    tables = (panels.first, panels.pace, panels.edges[:, :-1])
    first, pace, left = (picked(table, places) for table in tables)
    return first + (np.arange(width) + 0.5 - left) * pace, pace


@dataclass(frozen=True)
class Shadows:
    """Shadows along the edges of faces, fading inwards: how dark at each left and right edge, and the pixels
    over which they fade."""

    left: Numbers
    right: Numbers
    wide: float


def darkness(edges: Numbers, width: int, layers: Iterable[Shadows]) -> NDArray[np.float32]:
    """How much of its light each pixel loses in its middle: rows × pixels."""
    face = panel_at(edges, width, 0.5)
    x = np.arange(width) + 0.5
    places = flat(face, edges.shape[1] - 1)
    from_left = (x - picked(edges[:, :-1], places)).astype(np.float32)
    from_right = (picked(edges[:, 1:], places) - x).astype(np.float32)
    lost = np.zeros_like(from_left)
    for layer in layers:
        for dark, inwards in ((layer.left, from_left), (layer.right, from_right)):
            if dark.any():
                fading = inwards * np.float32(-1 / layer.wide)
                fading += 1
                np.clip(fading, 0, 1, out=fading)
                fading *= dark.astype(np.float32)[face]
                lost += fading
    return lost
