"""What can go wrong, as one tree.

    PleatwrightError
    └── InputError        the order, a count, a length or a setting cannot be read (exit code 2)

An `InputError` carries every problem found, never only the first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One mistake in what was given: where, what was seen, what is allowed, how to mend it."""

    field: str
    seen: str
    allowed: str
    fix: str

    def __str__(self) -> str:
        return f"{self.field}: {self.seen} {self.allowed}; {self.fix}"


class PleatwrightError(Exception):
    """Base of every error this package raises on purpose."""


class InputError(PleatwrightError):
    """Input that cannot be used; `problems` holds one entry for every mistake."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
