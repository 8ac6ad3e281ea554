"""One step of the kilt, as values: what to do with this kilt's numbers, and how to see that it is right."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Chapter(StrEnum):
    """The parts of the kilt, in the order of the bench."""

    CLOTH = "The cloth"
    FOLDS = "Aprons and pleats"
    FELL = "The fell"
    INSIDE = "The inside"
    CLOSING = "Straps, band and lining"
    FINISHING = "Fitting and finishing"


class Drawn(StrEnum):
    """What a step's drawing shows."""

    PIECE = "the piece on the table"
    READING = "the numbered repeats"
    LEVELS = "the levels at the left end"
    APRON_MARKS = "the marks of the over-apron"
    BAND_MARK = "the band above the rip"
    PLEAT_MARKS = "the marks of the pleats"
    FAR_MARKS = "the marks of the under-apron"
    CHECK = "what is measured again"
    RIP = "the rip"
    JOIN = "the two strips"
    FRINGE = "facing and fringe"
    APRONS = "the aprons' edges"
    DEEP_PLEAT = "the deep pleat in section"
    PLEAT_FOLD = "the folds in section"
    BASTED = "the pleats laid and basted"
    GAUGE = "the gauge on the pleat"
    APRON_SEAM = "over-apron and first pleat"
    LAST_SEAM = "the last two pleats"
    STRAP_HOLE = "the seam with the strap hole"
    FELL = "the fell, sewn and measured"
    WHOLE_FELL = "the whole fell"
    REVERSE_PLEAT = "the reverse pleat in section"
    UNDER_APRON = "the under-apron's edges"
    FOLDS_CUT = "the folds from inside"
    INTERFACING = "interfacing from inside"
    STRAPS = "straps and buckles"
    BAND = "the top band"
    LINING = "the lining"
    HEM = "the hem"
    FITTING = "the fitting"
    PRESSING = "pressing"
    MEASURING = "the last measuring"


@dataclass(frozen=True)
class Figure:
    """One number of a step: its name and its value as the maker reads it."""

    name: str
    value: str


@dataclass(frozen=True)
class Proof:
    """How a step is checked: what is measured or looked at, what is wanted, what is allowed."""

    what: str
    wanted: str
    allowed: str


@dataclass(frozen=True)
class Step:
    """One step; `do` holds short sentences, `cautions` what belongs beside it, `number` counts from 1."""

    chapter: Chapter
    title: str
    drawing: Drawn
    do: tuple[str, ...]
    proof: Proof
    figures: tuple[Figure, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    number: int = 0
