"""The columns of `Ways` while they are being written, kind by kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from itertools import accumulate
from typing import Any

import numpy as np

from pleatwright.cloth import Numbers, Rows
from pleatwright.pleats.forms import Kind
from pleatwright.pleats.ways import Ways, phases_of

WHOLE = ("kind", "pleats", "division", "setts", "stripe", "other", "takes", "at", "length")
USUAL = {
    "centre_face": 1.0,
    "middle": np.nan,
    "shown": np.nan,
    "division": 0,
    "setts": 1,
    "stripe": 0,
    "other": 0,
    "takes": 0,
    "at": 0,
    "length": 1,
}
"""What a column holds where a kind does not say; gaps beside a middle panel are as all others."""


class Columns:
    """Blocks of rows, the cycles they name, and the words they use."""

    def __init__(self, kinds: tuple[Kind, ...]) -> None:
        self.kinds = kinds
        self._words = {"": 0}
        self._cycles: list[Numbers] = [np.zeros(1)]
        self._models: list[Rows] = [np.zeros(1, dtype=np.intp)]
        self._written = 1
        self._blocks: list[dict[str, Numbers | Rows | float]] = []

    def word(self, text: str) -> int:
        """The number of a word."""
        return self._words.setdefault(text, len(self._words))

    def cycles(self, offsets: Numbers | Sequence[float], models: Rows | Sequence[int]) -> int:
        """Write cycles one after the other; where the first of them begins.  At 0 is that of one strip."""
        start, self._written = self._written, self._written + len(offsets)
        self._cycles.append(np.asarray(offsets, dtype=float))
        self._models.append(np.asarray(models, dtype=np.intp))
        return start

    def add(self, kind: Kind, pleats: Rows, **columns: Numbers | Rows | float) -> None:
        """Write rows of one kind; a single number holds for all of them."""
        block = {**USUAL, **columns}
        block.setdefault("near_low", block["low"])
        block.setdefault("near_high", block["high"])
        self._blocks.append({**block, "kind": self.kinds.index(kind), "pleats": pleats})

    def ways(self, n: int) -> Ways:
        """All that was written; where nothing is said of it, the stripe in the middle of the back is found.

        Of two middle pleats it is the first one's.
        """
        ends = list(accumulate(len(np.asarray(block["pleats"])) for block in self._blocks))
        columns: dict[str, Any] = {}
        for name in [column.name for column in fields(Ways)][2:-2]:
            columns[name] = np.empty(max(ends, default=0), dtype=np.intp if name in WHOLE else np.float64)
            for block, start, end in zip(self._blocks, [0, *ends], ends, strict=False):
                columns[name][start:end] = block[name]
        cycles, models = np.concatenate(self._cycles), np.concatenate(self._models)
        ways = Ways(self.kinds, tuple(self._words), cycles=cycles, models=models, **columns)
        shown = phases_of(ways.first + ways.thread_of((ways.pleats - 1) // 2), n)
        return replace(ways, middle=np.where(np.isnan(ways.middle), shown, ways.middle))
