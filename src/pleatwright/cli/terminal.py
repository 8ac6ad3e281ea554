"""What the terminal shows: progress while it takes long, tables, findings; plain when piped."""

from __future__ import annotations

import time
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from rich.console import Console
from rich.table import Table

from pleatwright.errors import InputError
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Plan
from pleatwright.lengths import Units, write_length, write_yards
from pleatwright.order import Job
from pleatwright.wearer import LevelName

if TYPE_CHECKING:
    from pleatwright.shop import CheckRecord

QUIET_SECONDS = 0.5
"""Work shorter than this shows no progress."""

screen = Console(highlight=False, soft_wrap=True)
errors = Console(stderr=True, highlight=False, soft_wrap=True)

STYLES = {Severity.STOP: "bold red", Severity.WARN: "yellow", Severity.ASK: "cyan", Severity.NOTE: "dim"}


class Progress:
    """A line that says how far the work is; only on a terminal, and only once it has taken a while."""

    def __init__(self) -> None:
        self._started = time.monotonic()
        self._status = errors.status("searching")
        self._shown = False

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._shown:
            self._status.stop()

    def say(self, what: str) -> None:
        """Show what is being done."""
        if not errors.is_terminal or time.monotonic() - self._started < QUIET_SECONDS:
            return
        if not self._shown:
            self._status.start()
            self._shown = True
        self._status.update(what)

    def searched(self, candidates: int) -> None:
        """Show how many candidates have been searched."""
        self.say(f"searching: {candidates} kilts so far")


def say(text: str) -> None:
    """One plain line."""
    screen.print(text, markup=False)


def show_problems(error: InputError) -> None:
    """Every problem on its own line, on the error stream."""
    for problem in error.problems:
        errors.print(str(problem), markup=False)


def report_options(job: Job, plan: Plan) -> None:
    """The options as a table, the first with its reasons."""
    units = job.request.units
    say(f"{job.client}, {job.reference}: {plan.searched} kilts searched, {plan.fitting} fit the cloth.")
    if plan.to_order is not None and job.request.piece is None:
        single, double = (
            write_yards(length, units) for length in (plan.to_order.single_width, plan.to_order.double_width)
        )
        say(f"Cloth to order: {single} of single width, or {double} of double width.")
    if not plan.options:
        return
    table = Table(box=None, pad_edge=False, show_edge=False)
    for heading in ("", "kilt", "reveal hip", "strap", "depth", "cloth", "points"):
        table.add_column(heading, justify="left" if heading in ("", "kilt") else "right")
    for option in plan.options:
        hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
        table.add_row(
            str(option.number),
            option.title,
            write_length(hip.reveal, units),
            write_length(strap.reveal, units),
            write_length(hip.depth_greatest, units),
            write_yards(option.cloth_used, units),
            f"{option.standing:.1f}",
        )
    screen.print(table)
    say("")
    for reason in plan.options[0].reasons:
        say(f"  {reason}")


def report_findings(findings: tuple[Finding, ...], *, to_stderr: bool) -> None:
    """Every finding, the heaviest first."""
    where = errors if to_stderr else screen
    weights = list(Severity)
    for finding in sorted(findings, key=lambda one: weights.index(one.severity)):
        where.print(f"[{STYLES[finding.severity]}]{finding.severity}[/] ", end="")
        where.print(f"{finding.code}: {finding.seen}; {finding.expected}. {finding.do}", markup=False)


def report_check(record: CheckRecord, where: Path) -> None:
    """Every finding, what was taken on, and in the last line go or stop."""
    report_findings(record.findings, to_stderr=False)
    stops = {finding.code for finding in record.findings if finding.severity is Severity.STOP}
    for override in record.overrides:
        needed = "taken on" if override.code in stops else "not needed"
        say(f"{override.code} {needed} by {override.by}: {override.reason}")
    say(f"The check is kept in {where}.")
    if record.decision == "go":
        screen.print("[bold green]GO[/]", end="")
        say(": rip." if not stops else ": rip, against what is taken on above.")
    else:
        left = sorted(stops - {override.code for override in record.overrides})
        screen.print("[bold red]STOP[/]", end="")
        say(f": do not rip; {', '.join(left)}.")


def explain_sett(count: str, half: bool, size: str | None, reveal: str, units: Units) -> None:
    """A thread count in words and tables."""
    from pleatwright.lengths import parse_length
    from pleatwright.sett import Sett, parse_count, sights, stripe_name, write_count

    read = parse_count(count, pivots="half" if half else "whole", field="count")
    sett_size = None if size is None else float(parse_length(size, field="--size", unit=units))
    window = float(parse_length(reveal, field="--reveal", unit=units)) / 2

    def show(name: str, sett: Sett) -> None:
        thread = None if sett_size is None else sett_size / sett.written_periods / sett.n
        centres = ", ".join(f"{centre:g}" for centre in sett.mirror_centres)
        say(f"{name}{write_count(sett)}")
        say(f"{sett.n} threads in a sett; " + ("plain cloth." if sett.plain else _symmetry(centres)))
        for note in read.notes:
            say(note)
        table = Table(box=None, pad_edge=False, show_edge=False)
        for heading in ("", "stripe", "from", "to", "centre", "" if thread is None else "wide"):
            table.add_column(heading, justify="left" if heading == "stripe" else "right")
        for stripe in sett.stripes:
            wide = "" if thread is None else write_length(stripe.threads * thread, units)
            table.add_row(
                str(stripe.index + 1),
                stripe_name(sett, stripe),
                str(stripe.start),
                str(stripe.end),
                f"{sett.centre_of(stripe):g}",
                wide,
            )
        screen.print(table)
        for sight in sights(sett, thread or 1 / 64, window):
            places = ", ".join(f"{o.phase:g}{' mirrored' if o.mirrored else ''}" for o in sight.occurrences)
            gaps = ", ".join(
                f"{gap:g} threads" if thread is None else write_length(gap * thread, units)
                for gap in sight.spacings
            )
            say(f"sight: {sight.name}; at {places}; recurs after {gaps}")

    if read.warp == read.weft:
        show("", read.weft)
    else:
        show("warp: ", read.warp)
        say("")
        show("weft: ", read.weft)


def _symmetry(centres: str) -> str:
    if not centres:
        return "asymmetric: it has no mirror centre."
    return f"it mirrors about {centres} (thread edges, counted from the first written stripe)."
