"""The wearer: a body as measured, the kilt's sizes at every level, and what to ask about again."""

from pleatwright.wearer.body import FELL_LEVELS, Body, Level, LevelName, Sizes, Taper
from pleatwright.wearer.plausibility import questions
from pleatwright.wearer.population import draw_bodies
from pleatwright.wearer.resizing import resized, shares
from pleatwright.wearer.sizing import sizes

__all__ = [
    "FELL_LEVELS",
    "Body",
    "Level",
    "LevelName",
    "Sizes",
    "Taper",
    "draw_bodies",
    "questions",
    "resized",
    "shares",
    "sizes",
]
