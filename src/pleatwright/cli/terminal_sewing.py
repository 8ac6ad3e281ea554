"""What the terminal shows of a sewing log: where things stand, what to sew next, what can give."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table

from pleatwright.cli.terminal import report_findings, say, screen
from pleatwright.findings import Finding

if TYPE_CHECKING:
    from pleatwright.bench.sewing import SewingLog, SewingWords, Standing

NEXT = 6
"""Pleats shown ahead, unless all are asked for."""


def report_standing(
    log: SewingLog, now: Standing, words: SewingWords, more: tuple[Finding, ...] = (), *, ahead: int | None
) -> None:
    """Both levels, the smallest change, the next pleats, the findings and what can give."""
    say(words.where(now))
    if now.hip.done:
        _report_levels(now, words)
    if now.ahead:
        say("")
        _report_ahead(now, words, ahead)
    _report_found(now, more)
    stages = ", ".join(log.stages())
    if stages:
        say(f"Done: {stages}.")


def _report_levels(now: Standing, words: SewingWords) -> None:
    table = Table(box=None, pad_edge=False, show_edge=False)
    for heading in ("", *(level.level for level in now.levels)):
        table.add_column(heading)
    for row in zip(words.rows, *(words.figures(level) for level in now.levels), strict=True):
        table.add_row(*row)
    screen.print(table)
    if words.changes(now):
        say(words.changes(now))


def _report_found(now: Standing, more: tuple[Finding, ...]) -> None:
    found = (*now.findings, *more)
    if found or now.gives:
        say("")
    report_findings(found, to_stderr=False)
    if now.gives:
        say("What can give:")
        for give in now.gives:
            say(f"  – {give.words}.")


def _report_ahead(now: Standing, words: SewingWords, ahead: int | None) -> None:
    table = Table(box=None, pad_edge=False, show_edge=False)
    for heading in words.ahead_headings:
        table.add_column(heading, justify="right", no_wrap=True)
    shown = now.ahead[:ahead]
    for pleat in shown:
        table.add_row(*words.ahead_row(pleat))
    screen.print(table)
    if len(shown) < len(now.ahead):
        say(f"and {len(now.ahead) - len(shown)} more; all of them: --all")


def report_entries(log: SewingLog, words: SewingWords) -> None:
    """Every entry with its number; those that do not count are marked."""
    void = log.void()
    table = Table(box=None, pad_edge=False, show_edge=False)
    for heading in ("entry", "", "on", "by"):
        table.add_column(heading, justify="right" if heading == "entry" else "left")
    for number, entry in enumerate(log.entries, 1):
        undone = "(undone) " if number in void else ""
        table.add_row(str(number), f"{undone}{words.entry(entry)}", entry.on, entry.by)
    screen.print(table)
    say("")
