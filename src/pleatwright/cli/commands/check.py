"""check: go or stop before the rip."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    STOPPED,
    Ordered,
    app,
    order_command,
    read_file,
    refuse,
    write_text,
)
from pleatwright.cli.terminal import report_check, say
from pleatwright.errors import Problem


@app.command()
@order_command
def check(
    ordered: Ordered,
    found: Annotated[Path | None, typer.Argument(help="What was found on the chalked cloth (TOML).")] = None,
    form: Annotated[
        Path | None, typer.Option(help="Write a file to fill in, and check nothing.", metavar="FILE")
    ] = None,
    record: Annotated[
        Path | None,
        typer.Option(help="The record the check is added to; default: checks.jsonl beside what was found."),
    ] = None,
) -> None:
    """Check what was measured again before the rip: go, or stop (exit code 1).

    Example: pleatwright check order.toml --form found.toml, then: pleatwright check order.toml found.toml
    """
    from pleatwright.shop import RECORD, append_record, check_record, found_form, read_found

    job = ordered.job
    option = ordered.option(cloth=True)
    if form is not None:
        if form.exists():
            refuse(Problem("--form", f'"{form}"', "is there already", "name a new file"))
        write_text(found_form(job, option), str(form), option="--form")
        say(f"Measure again and fill in {form}, then: pleatwright check {ordered.path} {form}")
        return
    if found is None:
        fix = f'start one with "pleatwright check {ordered.path} --form found.toml"'
        refuse(Problem("found", "nothing", "is given to be checked", fix))
    entered = read_found(read_file(found, field="found"), job, option, source=found.name)
    made = check_record(job, option, entered)
    where = record or found.parent / RECORD
    append_record(where, made)
    report_check(made, where)
    if made.decision == "stop":
        raise typer.Exit(STOPPED)
