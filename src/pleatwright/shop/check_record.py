"""checks.jsonl: the record of every check before a rip, one to a line; lines are added and never changed."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import pleatwright
from pleatwright.bench import Decision, Override, decision, judge, questions
from pleatwright.findings import Finding
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.shop.found import Entered, Entry
from pleatwright.shop.lines import append_line
from pleatwright.shop.record import as_json

FORMAT_VERSION = 1
RECORD = "checks.jsonl"


@dataclass(frozen=True)
class Answer:
    """One entry of the found file beside what the plan expects there, in words ("" where nothing is)."""

    key: str
    found: Entry
    expected: str


@dataclass(frozen=True)
class CheckRecord:
    """One check: everything entered, every finding, what was taken on by whom and why, the decision."""

    format: str
    format_version: int
    made_by: str
    plan_version: str
    client: str
    reference: str
    option: str
    answers: tuple[Answer, ...]
    findings: tuple[Finding, ...]
    overrides: tuple[Override, ...]
    decision: Decision


def check_record(job: Job, option: Option, entered: Entered) -> CheckRecord:
    """Judge what was entered and make its record; raises ValueError while there is no piece of cloth."""
    expected = {blank.key: blank.expected for question in questions(job, option) for blank in question.blanks}
    findings = judge(job, option, entered.found)
    return CheckRecord(
        format="pleatwright check",
        format_version=FORMAT_VERSION,
        made_by=f"pleatwright {pleatwright.__version__}",
        plan_version=job.version,
        client=job.client,
        reference=job.reference,
        option=option.title,
        answers=tuple(Answer(key, found, expected.get(key, "")) for key, found in entered.as_written),
        findings=findings,
        overrides=entered.overrides,
        decision=decision(findings, entered.overrides),
    )


def append_record(path: Path, record: CheckRecord) -> None:
    """Add one line to the record; raises InputError where the file cannot be written."""
    append_line(path, json.dumps(as_json(record), ensure_ascii=False), option="--record")
