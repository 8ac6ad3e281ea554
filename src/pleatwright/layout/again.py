"""What of a kilt and its cloth is needed to lay it again a little off."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers, Rows, Run
from pleatwright.layout.field import Candidate
from pleatwright.layout.lays import Lay
from pleatwright.layout.search import Search
from pleatwright.pleats import LEFT_OUT, Shows, alike, line_names
from pleatwright.wearer import FELL_LEVELS, LevelName, Sizes, resized

PROBE = Fraction(1, 16)
"""Inches by which a girth is changed to see how the sizes follow: they do in a straight line."""


class Off(NamedTuple):
    """How far each is off: the sett as a share of itself, both girths and every sewn reveal in inches."""

    sett: float = 0.0
    waist: float = 0.0
    hips: float = 0.0
    reveal: float = 0.0


class Girths(NamedTuple):
    """Sizes at every level, and how they grow with each inch of waist and of hips."""

    sizes: Numbers
    by_waist: Numbers
    by_hips: Numbers

    @classmethod
    def of(cls, sizes: Sizes) -> Girths:
        """The girths of a kilt."""
        base, probe = _of_levels(sizes), float(PROBE)
        waist = _of_levels(resized(sizes, waist=sizes.waist + PROBE))
        hips = _of_levels(resized(sizes, hips=sizes.hips + PROBE))
        return cls(base, (waist - base) / probe, (hips - base) / probe)


@dataclass(frozen=True)
class Again:
    """One kilt of a search that may be laid again on other cloth or another body."""

    search: Search
    girths: Girths
    candidate: Candidate

    @cached_property
    def faces(self) -> Numbers:
        """Width of every strip in reveals."""
        pleating = self.candidate.pleating
        return np.array([pleating.face(strip) for strip in range(pleating.pleats)])

    @property
    def between(self) -> Numbers:
        """Mean face of every two neighbours."""
        return (self.faces[1:] + self.faces[:-1]) / 2

    @property
    def follows(self) -> bool:
        """Whether the steps follow the reveal."""
        return self.candidate.pleating.shows in (Shows.SETT_RUNNING, Shows.PLAIN)

    @cached_property
    def columns(self) -> tuple[Rows, Numbers, Rows]:
        """Strips that are looked at, how many each stands for, and the column each is held against.

        On even cloth strips that show the same are looked at once; a strip like no other stands for none
        where the pattern is judged.
        """
        pleating, n = self.candidate.pleating, self.search.sett.n
        every, centres = range(pleating.pleats), self.candidate.placement.strip_threads(pleating)
        once = self.search.run.uniform_cloth and not self.follows
        sizes = [0.0] * pleating.pleats if once else [float(strip) for strip in every]
        groups = alike(pleating, centres, sizes, n)
        firsts: dict[int, int] = {}
        like = [firsts.setdefault(group.like, at) for at, group in enumerate(groups)]
        of_group = [at if group.like == LEFT_OUT else like[at] for at, group in enumerate(groups)]
        return (
            np.array([group.strips[0] - 1 for group in groups]),
            np.array([float(len(group.strips)) for group in groups]),
            np.array(of_group),
        )

    @cached_property
    def judged(self) -> Numbers:
        """For how many strips each column counts where the pattern is judged."""
        classes = self.candidate.pleating.classes
        which, times, _ = self.columns
        return np.where([bool(classes) and classes[strip] == LEFT_OUT for strip in which], 0.0, times)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names of the sett's lines, in the order of `Trials.at_risk`."""
        return line_names(self.search.sett)


def scaled(lay: Lay, scale: float) -> Lay:
    """The same lay of cloth whose every thread is so many times as large; cut ends, faults stay in place."""
    if lay.strip is not None:
        return replace(lay, strip=_scaled(lay.strip, scale, (lay.strip.length or 0.0) if lay.turned else 0.0))
    if lay.joint is None:
        return lay
    joint = lay.joint
    first = _scaled(joint.first, scale, 0.0)
    second = _scaled(joint.second, scale, joint.second.length or 0.0)
    low = second.thread_at(joint.allowance)
    high = first.thread_at((joint.first.length or 0.0) - joint.allowance)
    if low > high:  # a sett more is lost
        n = first.sett.n
        second = replace(second, threads=tuple(thread - n for thread in second.threads))
        low -= n
    return replace(lay, joint=replace(joint, first=first, second=second, low=low, high=high))


def _scaled(run: Run, scale: float, about: float) -> Run:
    return replace(run, tape=tuple(about + scale * (x - about) for x in run.tape))


def _of_levels(sizes: Sizes) -> Numbers:
    """Pleated width, pleat side and both outer sides of the aprons, a row a level of the kilt."""
    levels = [sizes.level(name) for name in (*FELL_LEVELS, LevelName.BOTTOM)]
    widths = [(one.pleated, one.pleat_side, one.over_outer, one.under_outer) for one in levels]
    return np.array(widths, dtype=float)
