"""A closer look at many kilts at once, on the cloth as woven: folds, lines at risk, pattern match."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from pleatwright.cloth import Bools, Numbers, Rows, Run
from pleatwright.layout.placing import Frame
from pleatwright.layout.scoring import MATCH_SHARES
from pleatwright.lengths import ROUNDING
from pleatwright.pleats import LEFT_OUT, PHASE_PLACES, Strips, Ways, agreements, count_at_risk, least_depth
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName


@dataclass(frozen=True)
class CloserLook:
    """Some pleatings, a row each: `which` of the `ways`, `first`: the thread of each first strip's centre.

    On even cloth strips that show the same are looked at once.
    """

    run: Run
    frame: Frame
    settings: Settings
    ways: Ways
    which: Rows
    first: Numbers

    @cached_property
    def strips(self) -> Strips:
        """The strips that are looked at."""
        return self.ways.strips(self.which, once=self.run.uniform_cloth)

    @cached_property
    def _threads(self) -> Numbers:
        return self.first[self.strips.row] + self.strips.thread

    @cached_property
    def _sizes(self) -> Numbers:
        """Inches a thread at every strip."""
        if self.run.uniform_cloth:
            return np.full(len(self._threads), self.run.inches_a_thread(0.0))
        return self.run.thread_sizes(self._threads)

    @cached_property
    def _phases(self) -> Numbers:
        return np.round(self._threads % self.run.sett.n, PHASE_PLACES)

    def _faces(self, width: float) -> Numbers:
        """Inches every strip shows where the pleated width is so many inches."""
        return (width / self.ways.faces[self.which])[self.strips.row] * self.strips.face

    def _summed(self, of_strips: Numbers) -> Numbers:
        """Figures of strips added up, a row a pleating."""
        return np.bincount(self.strips.row, of_strips, len(self.which)).astype(float)

    def deep_enough(self) -> Bools:
        """Whether every fold keeps the least depth at every level: the widest reveal leaves the least."""
        ways, kinds, widest = self.ways, self.ways.kinds, max(self.frame.widths.values())
        least = np.array([least_depth(kind.form, self.settings) for kind in kinds])[ways.kind[self.which]]
        if self.run.uniform_cloth:
            size, reveal = self.run.inches_a_thread(0.0), widest / ways.faces[self.which]
            shallowest = ways.depths(size, reveal, self.which)[0]
        else:
            row, faces = self.strips.row, self._faces(widest)
            hidden = np.diff(self.run.tapes_at(self._threads)) - (faces[1:] + faces[:-1]) / 2
            depths = ways.folds(self.which[row[1:]], hidden, (widest / ways.faces[self.which])[row[1:]])
            within = row[1:] == row[:-1]
            shallowest = np.full(len(self.which), np.inf)
            np.minimum.at(shallowest, row[1:][within], depths[within])
        return shallowest >= least - ROUNDING

    def at_risk(self) -> Numbers:
        """Lines at risk, counted on every pleat."""
        hip, strap = (self._faces(self.frame.widths[level]) for level in (LevelName.HIP, LevelName.STRAP))
        once: Rows | slice = slice(None)
        back: Rows | slice = slice(None)
        if self.run.uniform_cloth:  # many pleatings show the same strips
            _, once, back = np.unique(self._phases + 1j * hip, return_index=True, return_inverse=True)
        counts = count_at_risk(
            self.run.sett, self._phases[once], self._sizes[once], hip[once], strap[once], self.settings
        )[back]
        return self._summed((counts * self.strips.times).astype(float))

    def match(self) -> dict[LevelName, Numbers]:
        """Pattern match at the levels where it is judged.

        To the sett a strip is held against the flat tartan it stands for, otherwise against the first one
        that ought to look like it.  Plain cloth always agrees, and so does a strip held against itself.
        """
        if self.run.sett.plain:
            return {level: np.ones(len(self.which)) for level in MATCH_SHARES}
        strips, shown = self.strips, self.ways.shown[self.which][self.strips.row]
        flat = ~np.isnan(shown)
        model = np.arange(len(shown)) - strips.number + np.where(flat, strips.number, strips.model)
        times = strips.times * (strips.model != LEFT_OUT)
        open_ = np.flatnonzero((times > 0) & (flat | (model != np.arange(len(shown)))))
        like = model[open_]
        of_each = self._summed(times.astype(float))
        found = {}
        for level in MATCH_SHARES:
            threads = self._faces(self.frame.widths[level]) / self._sizes
            others = np.where(flat[open_], strips.face[open_] * shown[open_], threads[like])
            share = np.ones(len(shown))
            share[open_] = agreements(
                self.run.sett, self._phases[open_], threads[open_], self._phases[like], others
            )
            found[level] = self._summed(share * times) / of_each
        return found
