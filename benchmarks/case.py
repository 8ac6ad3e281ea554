"""What a benchmark is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Case:
    """What is timed, and the plain reference it is held against; both are called without arguments.

    `rounds_reference`: how often a slow reference is called, unless as often as what is timed.
    """

    what: str
    run: Callable[[], object]
    reference: str
    run_reference: Callable[[], object]
    rounds: int = 5
    rounds_reference: int | None = None
