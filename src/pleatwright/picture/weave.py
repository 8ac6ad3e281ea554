"""Rows of cloth seen from the front: what each pixel holds, as an exact mean over its width.

A row is a line of panels side by side, each showing some threads; only running sums are looked up, so a fold
in the middle of a pixel, or a hundred threads in one, are all the same.
"""

from __future__ import annotations

from dataclasses import dataclass
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

    def rows(self, chosen: NDArray[np.intp]) -> Panels:
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
    panel each lies in.
    """

    at: Numbers
    panel: NDArray[np.intp]

    @classmethod
    def of(cls, edges: Numbers, width: int) -> Reach:
        """The reach of every pixel of rows `width` pixels wide."""
        rows, panels = edges.shape[0], edges.shape[1] - 1
        counts = np.zeros((rows, width + 2), dtype=np.intp)
        inner = np.clip(np.ceil(edges[:, 1:-1]).astype(np.intp), 0, width + 1)
        np.add.at(counts, (np.arange(rows)[:, None], inner), 1)
        panel = np.minimum(np.cumsum(counts[:, :-1], axis=1), panels - 1)
        at = np.clip(np.arange(width + 1.0), edges[:, :1], edges[:, -1:])
        return cls(at, panel)

    def take(self, table: Numbers) -> Numbers:
        """From a table rows × panels, each place's own figure."""
        found: Numbers = np.take_along_axis(table, self.panel, axis=1)
        return found

    @property
    def covered(self) -> Numbers:
        """The share of each pixel that the panels cover."""
        shares: Numbers = np.diff(self.at, axis=1)
        return shares


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
        found: Numbers = self.sums[whole] + part * self.threads[whole]
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


@dataclass(frozen=True)
class Shadows:
    """Shadows along panel edges, fading inwards: how dark at the left and right edge, how many pixels wide.

    All three are rows × panels, or one row for all.
    """

    left: Numbers
    right: Numbers
    wide: Numbers


def darkness(panels: Panels, reach: Reach, shadows: Shadows) -> Numbers:
    """How much of its light each pixel loses, as a mean over the pixel: rows × pixels."""

    def upto(inwards: Numbers, wide: Numbers) -> Numbers:
        within = np.clip(inwards, 0, wide)
        shade: Numbers = within - within**2 / (2 * wide)
        return shade

    whole_panel = upto(np.diff(panels.edges, axis=1), shadows.wide)
    both = (shadows.left + shadows.right) * whole_panel
    before = np.cumsum(both, axis=1) - both + shadows.right * whole_panel
    wide = reach.take(shadows.wide)
    from_left = reach.at - reach.take(panels.edges[:, :-1])
    from_right = reach.take(panels.edges[:, 1:]) - reach.at
    sums = (
        reach.take(before)
        + reach.take(shadows.left) * upto(from_left, wide)
        - reach.take(shadows.right) * upto(from_right, wide)
    )
    lost: Numbers = np.diff(sums, axis=1)
    return lost
