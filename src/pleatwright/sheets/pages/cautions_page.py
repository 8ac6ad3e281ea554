"""The cautions, by where they belong."""

from __future__ import annotations

from itertools import groupby

from pleatwright.bench import CAUTIONS
from pleatwright.sheets.flow import Block, Sheet, heading, paragraph, sheets_of, white
from pleatwright.sheets.look import Frame

SIZE = 13.0


def cautions_sheets(frame: Frame) -> tuple[Sheet, ...]:
    """One page for the wall."""
    blocks: list[Block] = []
    for where, listed in groupby(CAUTIONS, key=lambda caution: caution.where):
        blocks.append(heading(where))
        blocks += [paragraph(caution.text, frame.width, SIZE, gap=0.05) for caution in listed]
        blocks.append(white(0.22))
    return sheets_of("Cautions", blocks, frame)
