"""Findings: what a computation or a check has to say, as values instead of exceptions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding weighs."""

    STOP = "stop"  # do not rip; the command exits with 1
    WARN = "warn"  # look at it before going on
    ASK = "ask"  # a question for the client or the maker; never a refusal
    NOTE = "note"  # good to know


@dataclass(frozen=True)
class Finding:
    """One thing found: a stable code, its weight, what was seen, what was expected, what to do."""

    code: str
    severity: Severity
    seen: str
    expected: str
    do: str


def blocking(findings: tuple[Finding, ...]) -> bool:
    """Whether any finding stops the work."""
    return any(finding.severity is Severity.STOP for finding in findings)
