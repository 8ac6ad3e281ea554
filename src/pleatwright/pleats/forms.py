"""The forms of pleat and what each does with the cloth it hides; widths and depths in inches."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple, TypeVar

from pleatwright.cloth import Numbers


class Form(StrEnum):
    """How the cloth is folded."""

    KNIFE = "knife pleat"
    BOX = "box pleat"
    MILITARY_BOX = "military box"
    CENTRE_BOX = "centre box with knives"


class Shows(StrEnum):
    """What the reveals show when they lie side by side."""

    SETT = "to the sett"
    SETT_RUNNING = "to the sett, running"
    SETT_UNEVEN = "to the sett, uneven"
    STRIPE = "to the stripe"
    ALTERNATE = "alternate stripe"
    PLAIN = "plain cloth"


TO_THE_SETT = frozenset({Shows.SETT, Shows.SETT_RUNNING, Shows.SETT_UNEVEN})


class Kind(NamedTuple):
    """A form of pleat together with what it shows; options are kept kind by kind."""

    form: Form
    shows: Shows

    def __str__(self) -> str:
        return f"{self.form}, {self.shows}"


def hidden_cloth(gap: float, face: float, next_face: float) -> float:
    """Cloth between the shown strips of two neighbours whose centres are `gap` inches apart."""
    return gap - (face + next_face) / 2


Inches = TypeVar("Inches", float, Numbers)


def deepest_fold(form: Form, hidden: Inches, face: Inches) -> Inches:
    """How far the deepest fold between two neighbours goes under.

    Knife: the hidden cloth is folded once, so half of it.  Box: twice under each way, so a quarter.
    Military box: one underfold of half the panel, the rest in the deep one (a = 2w + 2u).  [derived]
    """
    if form is Form.BOX:
        return hidden / 4
    if form is Form.MILITARY_BOX:
        return (hidden - face) / 2
    return hidden / 2


def gap_for_depth(form: Form, depth: float | Numbers, face: Numbers) -> Numbers:
    """The other way round: inches from centre to centre that make the deepest fold `depth` deep."""
    if form is Form.BOX:
        return face + 4 * depth
    if form is Form.MILITARY_BOX:
        return 2 * face + 2 * depth
    return face + 2 * depth
