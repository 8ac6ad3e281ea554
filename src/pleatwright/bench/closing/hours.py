"""Hours of work as they are told: on the half hour, so that what is shown adds up to the total."""

from __future__ import annotations

from math import floor

from pleatwright.lengths import NOISE_DIGITS


def half_hours(hours: float) -> float:
    """Hours on the half hour, a quarter rounded up: 2.25 is 2.5 [our choice: nobody plans work closer]."""
    return floor(round(2 * hours, NOISE_DIGITS) + 0.5) / 2


def write_hours(hours: float) -> str:
    """Hours with their word: 1 hour, 18.5 hours."""
    told = half_hours(hours)
    return f"{told:g} hour{'' if told == 1 else 's'}"
