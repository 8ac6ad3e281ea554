"""Questions, findings and notes, as blocks on any page."""

from __future__ import annotations

from collections.abc import Sequence

from pleatwright.findings import Finding, Severity
from pleatwright.sheets.drawing import Item, Line, Text, moved
from pleatwright.sheets.flow import Block, heading, paragraph, white
from pleatwright.sheets.look import ACCENT, ALARM, BODY, GREY, HAIR, baseline, line_height

WORDS = {
    Severity.STOP: ("Stop", ALARM),
    Severity.WARN: ("Mind", ALARM),
    Severity.ASK: ("Ask", ACCENT),
    Severity.NOTE: ("Note", GREY),
}
INDENT = 0.62


def finding_blocks(title: str, findings: Sequence[Finding], width: float) -> tuple[Block, ...]:
    """The findings under a heading, the heaviest first; nothing when there are none."""
    if not findings:
        return ()
    weights = list(Severity)
    ordered = sorted(findings, key=lambda one: weights.index(one.severity))
    return (heading(title), *(_finding(one, width) for one in ordered), white(0.12))


def _finding(finding: Finding, width: float) -> Block:
    word, colour = WORDS[finding.severity]
    ask = finding.severity is Severity.ASK
    text = f"{_sentence(f'{finding.seen}; {finding.expected}')} {_sentence(finding.do)}"
    body = paragraph(text, width - INDENT, BODY, gap=0.0)
    items: list[Item] = [Text(0.0, baseline(BODY), word, BODY, bold=True, fill=colour)]
    height = body.height
    if ask:
        height += line_height(BODY) + 0.06
        items.append(Text(INDENT, height - 0.06, "answer", BODY, fill=GREY))
        items.append(Line(INDENT + 0.65, height - 0.04, width, height - 0.04, HAIR, 0.6))
    return Block(height, (*items, *moved(body.items, INDENT, 0.0)), gap=0.1)


def _sentence(text: str) -> str:
    """The text with a capital before and a full stop behind."""
    return f"{text[:1].upper()}{text[1:].rstrip('.')}." if text else ""


def note_blocks(notes: Sequence[str], width: float) -> tuple[Block, ...]:
    """What the client said and how the order was read."""
    if not notes:
        return ()
    return (heading("Notes"), *(paragraph(f"– {note[:1].upper()}{note[1:]}", width) for note in notes))
