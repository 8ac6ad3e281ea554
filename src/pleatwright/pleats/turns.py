"""The ways of taking the occurrences of a sight, turn by turn: each one, every other one, one in a sett."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from pleatwright.cloth import Numbers, Rows
from pleatwright.pleats.columns import Columns
from pleatwright.pleats.ways import ramps
from pleatwright.sett import Sight


class Turn(NamedTuple):
    """One way: its words, where its cycle is written, its strips and threads, its gaps, its first phase."""

    takes: int
    at: int
    length: int
    turn: float
    low: float
    high: float
    first: float


class Turns:
    """The ways of every sight that is met, each written down once and known by the sight's number."""

    def __init__(self, columns: Columns, setts_most: int) -> None:
        self._columns, self._setts_most = columns, setts_most
        self._numbers: dict[Sight, int] = {}
        self._offered: dict[float, list[int]] = {}
        self._turns: list[Turn] = []
        self._starts = [0]
        self._words: list[int] = []
        self.sights: list[Sight] = []

    def offered(self, sights: Callable[[float], Sequence[Sight]], reveal: float) -> list[int]:
        """The numbers of the sights at this reveal; forms of as many pleats ask for the same."""
        if reveal not in self._offered:
            self._offered[reveal] = [self.number(sight) for sight in sights(reveal)]
        return self._offered[reveal]

    def number(self, sight: Sight) -> int:
        """The sight's number; its ways are written down when it is met first."""
        if sight not in self._numbers:
            self._numbers[sight] = len(self.sights)
            self.sights.append(sight)
            self._words.append(self._columns.word(sight.name))
            self._write(sight)
            self._starts.append(len(self._turns))
        return self._numbers[sight]

    def _write(self, sight: Sight) -> None:
        n, every = sight.n, sight.occurrences
        many = len(every)
        offsets: list[float] = []
        models: list[int] = []
        found: list[tuple[str, int, float, list[float]]] = []
        for stride in (*range(1, many), *range(many, many * self._setts_most + 1, many)):
            words = takes_words(stride, many)
            for start in range(many):
                taken = [start]
                while (taken[-1] + stride) % many != start:
                    taken.append(taken[-1] + stride)
                places = [every[i % many].phase + i // many * n for i in (*taken, taken[-1] + stride)]
                mirrored = [every[i % many].mirrored for i in taken]
                offsets += [place - places[0] for place in places[:-1]]
                models += [mirrored.index(one) for one in mirrored]
                found.append((words, len(taken), places[-1] - places[0], places))
        at = self._columns.cycles(offsets, models)
        for words, length, turn, places in found:
            gaps = [after - place for place, after in pairwise(places)]
            takes = self._columns.word(words)
            self._turns.append(Turn(takes, at, length, turn, min(gaps), max(gaps), places[0]))
            at += length

    def expanded(self, sights: Rows) -> tuple[Rows, Rows]:
        """For each sight in turn all its ways: the place in `sights`, and the way's number."""
        starts = np.array(self._starts)
        counts = starts[sights + 1] - starts[sights]
        place = np.repeat(np.arange(len(sights)), counts)
        return place, starts[sights][place] + ramps(counts)

    def table(self) -> tuple[Rows, Numbers]:
        """Of every way so far: whole numbers (takes, at, length) and threads (turn, low, high, first)."""
        every = np.array(self._turns, dtype=float).reshape(-1, len(Turn._fields)).T
        return every[:3].astype(np.intp), every[3:]

    def words(self, sights: Sequence[int] | Rows) -> Rows:
        """The sights' names."""
        return np.array(self._words, dtype=np.intp)[sights]


def takes_words(stride: int, many: int) -> str:
    """Which of the occurrences a stride takes, `many` a sett."""
    if stride % many == 0:
        return {1: "once a sett", 2: "every second sett"}.get(stride // many, f"every {stride // many} setts")
    return "each occurrence" if stride == 1 else f"every {stride} occurrences"
