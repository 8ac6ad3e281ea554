"""The guide: this kilt step by step, from the resting cloth to the last measure."""

from dataclasses import replace

from pleatwright.bench.guide.card import Begin, CardRow, begin_of, card_rows
from pleatwright.bench.guide.closing_steps import closing_steps
from pleatwright.bench.guide.cloth_steps import cloth_steps
from pleatwright.bench.guide.fell_steps import fell_steps, stops
from pleatwright.bench.guide.fold_steps import fold_depths, fold_steps
from pleatwright.bench.guide.kilt import Kilt
from pleatwright.bench.guide.step import Chapter, Drawn, Figure, Proof, Step
from pleatwright.layout import Option
from pleatwright.order import Job

__all__ = [
    "Begin",
    "CardRow",
    "Chapter",
    "Drawn",
    "Figure",
    "Kilt",
    "Proof",
    "Step",
    "begin_of",
    "card_rows",
    "fold_depths",
    "guide",
    "steps_of",
    "stops",
]


def guide(job: Job, option: Option, begin: Begin | None = None) -> tuple[Step, ...]:
    """Every step of one kilt, numbered from 1; `begin`: the pleat sewn first, as the job's hand has it."""
    return steps_of(Kilt.of(job, option, begin))


def steps_of(kilt: Kilt) -> tuple[Step, ...]:
    """The steps of one kilt on the bench, in the order in which they are done."""
    drafts = (*cloth_steps(kilt), *fold_steps(kilt), *fell_steps(kilt), *closing_steps(kilt))
    return tuple(replace(step, number=number) for number, step in enumerate(drafts, 1))
