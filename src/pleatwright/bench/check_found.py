"""What was found before the rip, and the decision; what every question of the check needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from pleatwright.bench.check_expected import Expected, Neighbours, stripes_in_words
from pleatwright.findings import Finding, Severity
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sett import Sett

Seen = tuple[frozenset[int], ...]
"""Stripes as they were named, each by the indices of all it may be."""


@dataclass(frozen=True)
class FaultSeen:
    """A fault that was seen: tape position, and height above the selvedge, None where it was not given."""

    at: Fraction
    height: Fraction | None = None


@dataclass(frozen=True)
class Found:
    """What was found, by the keys of the blanks; lengths in inches.

    A blank that was not asked has no entry: those of the join, and of the sewn strip, before it is pinned.
    """

    plan: str
    lengths: Mapping[str, Fraction]
    stripes: Mapping[str, Seen]
    counts: Mapping[str, int]
    choices: Mapping[str, str]
    faults: tuple[FaultSeen, ...]


@dataclass(frozen=True)
class Override:
    """A stop that the maker takes on: its code, why, and whose initials stand for it."""

    code: str
    reason: str
    by: str


class Decision(StrEnum):
    """What the check says."""

    GO = "go"
    STOP = "stop"


def decision(findings: tuple[Finding, ...], overrides: tuple[Override, ...]) -> Decision:
    """Go, unless a finding stops the work that nobody has taken on by its code, a reason and initials."""
    taken = {one.code for one in overrides if one.reason.strip() and one.by.strip()}
    stops = any(each.severity is Severity.STOP and each.code not in taken for each in findings)
    return Decision.STOP if stops else Decision.GO


class Case:
    """One check: the plan's side and the table's, and what every question needs of them."""

    def __init__(self, job: Job, expected: Expected, found: Found) -> None:
        self.job, self.expected, self.found = job, expected, found
        self.option, self.sett = expected.option, expected.run.sett
        self.size = float(job.request.sett_along)

    def written(self, inches: Fraction | float) -> str:
        """A length as the maker reads it."""
        return write_length(inches, self.job.units, self.job.grid)

    def length(self, key: str) -> float | None:
        """Inches written into a blank; None where it was not asked."""
        found = self.found.lengths.get(key)
        return None if found is None else float(found)


def agrees(seen: Seen, expected: Neighbours) -> bool:
    """Whether the stripes named are among those that may be seen there."""
    return any(
        len(seen) == len(row) and all(index in one for one, index in zip(seen, row, strict=True))
        for row in expected.accepted
    )


def named(sett: Sett, seen: Seen) -> str:
    """The stripes that were named, in words; where one may be several, the first."""
    return stripes_in_words(sett, tuple(min(one) for one in seen))


def stop(code: str, seen: str, expected: str, do: str) -> Finding:
    """A finding that stops the rip."""
    return Finding(f"check.{code}", Severity.STOP, seen, expected, do)


def warn(code: str, seen: str, expected: str, do: str) -> Finding:
    """A finding to look at before going on."""
    return Finding(f"check.{code}", Severity.WARN, seen, expected, do)
