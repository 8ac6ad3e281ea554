"""Cautions, short, each with where it belongs [from memory]."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Caution:
    """One caution: the part of the work it belongs to, and what to mind."""

    where: str
    text: str


CAUTIONS = (
    Caution("Before the order", "Some tartans are restricted: ask before weaving or making."),
    Caution("Before the order", "Check the colours on a piece of the cloth itself, in daylight."),
    Caution("Before the rip", "A rip cannot be undone: check every mark on these pages against the cloth."),
    Caution("Before the rip", "Mind the dust when ripping: wear a mask, open a window."),
    Caution("At the table", "Shears closed when not cutting, and put down away from the cloth."),
    Caution("At the table", "Count needles and pins out and in; none in the mouth."),
    Caution("At the table", "Good light, an upright back, breaks; nobody sews tired."),
    Caution("At the iron", "The iron is hot: press through a press cloth, down, without sliding."),
    Caution("At the iron", "Switch it off, or stand it up, before turning away."),
    Caution("For the wearer", "Keep wide cloth from naked flames, above all on children."),
    Caution(
        "Always", "Follow local rules and a qualified person's advice where they say more than this page."
    ),
)
