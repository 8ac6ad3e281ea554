"""Placing kilts along one strip of cloth: aprons, deep pleat, strips, reverse pleat.

Everything here is for a kilt that opens on the right, left end first; one that opens on the left is placed on
the mirrored strip and mirrored back.  Lengths in inches, thread positions counted on without starting again.
Many pleatings are placed at once: a row each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers, Rows, Run
from pleatwright.pleats import Pleating, pleated_widths, reveals
from pleatwright.trade import Settings
from pleatwright.wearer import LevelName, Sizes


@dataclass(frozen=True)
class Frame:
    """What a body and a shop ask of the cloth, whatever the pleats; inches.

    `widths`: pleated width by level of the fell.  `pleat_side`, `over_outer`, `under_outer`: from an apron's
    centre to its edges at their widest.  `deep_least`, `reverse_least`: cloth in the two hidden pleats.
    """

    widths: dict[LevelName, float]
    pleat_side: float
    over_outer: float
    under_outer: float
    facing: float
    deep_least: float
    reverse_least: float

    @classmethod
    def of(cls, sizes: Sizes, settings: Settings) -> Frame:
        """The frame for a wearer's sizes and a shop's settings."""
        cloth = settings.cloth
        return cls(
            pleated_widths(sizes),
            float(sizes.pleat_side_greatest),
            float(sizes.outer_over_greatest),
            float(sizes.outer_under_greatest),
            float(cloth.facing),
            float(cloth.deep_pleat),
            float(cloth.reverse_pleat),
        )

    def greatest_reveal(self, pleating: Pleating) -> float:
        """The greatest reveal of any level."""
        return reveals(max(self.widths.values()), pleating.pleats, pleating.centre_face)

    @property
    def start(self) -> float:
        """The least tape position of the over-apron's centre."""
        return self.facing + self.over_outer


class Allotted(NamedTuple):
    """The part of a frame that placing asks for, a row a kilt where bodies differ too."""

    start: Numbers
    pleat_side: Numbers
    over_outer: Numbers
    under_outer: Numbers
    facing: Numbers
    deep_least: Numbers
    reverse_least: Numbers

    @classmethod
    def of(cls, frame: Frame, many: int) -> Allotted:
        """The same for so many kilts."""
        return cls(*(np.full(many, getattr(frame, part)) for part in cls._fields))


class Table(NamedTuple):
    """Many pleatings as columns, a row each: reveals in inches, thread positions, depths at the hip line."""

    first: Numbers
    span: Numbers
    hip_reveal: Numbers
    greatest_reveal: Numbers

    @classmethod
    def of(cls, pleatings: Sequence[Pleating], frame: Frame) -> Table:
        """The columns that placing needs."""
        faces, first, span = np.array([(p.faces, p.first, p.span) for p in pleatings]).T
        return cls.of_columns(faces, first, span, frame)

    @classmethod
    def of_columns(cls, faces: Numbers, first: Numbers, span: Numbers, frame: Frame) -> Table:
        """The same from reveals in the pleated width, the first strips' phases, and first to last strip."""
        return cls(first, span, frame.widths[LevelName.HIP] / faces, max(frame.widths.values()) / faces)


class Placement(NamedTuple):
    """Where one kilt falls on the strip: tape positions in inches, `*_thread` in threads."""

    over_thread: float
    over_centre: float
    first_thread: float
    first_strip: float
    last_strip: float
    under_thread: float
    under_centre: float
    deep_pleat: float
    reverse_pleat: float
    used: float

    def strip_threads(self, pleating: Pleating) -> tuple[float, ...]:
        """Thread position of every strip's centre."""
        return tuple(accumulate(pleating.gaps, initial=self.first_thread))


class Placements(NamedTuple):
    """`Placement` of many kilts, a row each."""

    over_thread: Numbers
    over_centre: Numbers
    first_thread: Numbers
    first_strip: Numbers
    last_strip: Numbers
    under_thread: Numbers
    under_centre: Numbers
    deep_pleat: Numbers
    reverse_pleat: Numbers
    used: Numbers

    def row(self, i: int) -> Placement:
        """One kilt's placement."""
        return Placement(*(float(column[i]) for column in self))


def place_all(
    run: Run,
    frame: Frame | Allotted,
    table: Table,
    apron_phase: float | Numbers,
    on: Sequence[int] | Sequence[Rows] = (0, 0, 0),
) -> Placements:
    """The leftmost places: each part at the smallest position of its phase that leaves the cloth it needs.

    x_o ≥ E1 + e_o; c_1 ≥ x_o + b + D1min + r/2; x_u ≥ c_N + r/2 + D2min + b; used = x_u + e_u + E2, with r
    the greatest reveal of any level; D1 and D2 are what then lies in the hidden pleats at the hip line.
    `on`: whole setts that over-apron, strips and under-apron are moved on beyond that.
    """
    over_on, strips_on, under_on = (turns * run.sett.n for turns in on)
    half, half_hip = table.greatest_reveal / 2, table.hip_reveal / 2
    over_thread = run.next_threads(np.atleast_1d(frame.start), apron_phase) + over_on
    over = run.tapes_at(over_thread)
    first_thread = run.next_threads(over + frame.pleat_side + frame.deep_least + half, table.first)
    first_thread = first_thread + strips_on
    first = run.tapes_at(first_thread)
    last = run.tapes_at(first_thread + table.span)
    under_thread = run.next_threads(last + half + frame.reverse_least + frame.pleat_side, apron_phase)
    under_thread = under_thread + under_on
    under = run.tapes_at(under_thread)
    return Placements(
        np.broadcast_to(over_thread, half.shape),
        np.broadcast_to(over, half.shape),
        first_thread,
        first,
        last,
        under_thread,
        under,
        first - half_hip - over - frame.pleat_side,
        under - frame.pleat_side - last - half_hip,
        under + frame.under_outer + frame.facing,
    )


def place(
    run: Run, frame: Frame, pleating: Pleating, apron_phase: float, on: tuple[int, int, int] = (0, 0, 0)
) -> Placement:
    """`place_all` for one pleating."""
    return place_all(run, frame, Table.of([pleating], frame), apron_phase, on).row(0)


def running(first: Numbers, gaps: Numbers) -> Numbers:
    """Thread positions of strips, a row a kilt, from the first ones and the gaps."""
    threads: Numbers = np.cumsum(np.concatenate([first[:, None], gaps], axis=1), axis=1)
    return threads
