"""plan: the packet for the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    STOPPED,
    Ordered,
    app,
    order_command,
    write_text,
)
from pleatwright.cli.terminal import Progress, report_findings, report_options, say
from pleatwright.findings import blocking


@app.command()
@order_command
def plan(
    ordered: Ordered,
    out: Annotated[
        Path | None, typer.Option(help="Folder for the packet; default: the order's name beside it.")
    ] = None,
    json: Annotated[
        str | None, typer.Option(help="Write only plan.json, to this file; - for the screen.", metavar="FILE")
    ] = None,
) -> None:
    """Work out the kilts an order's cloth allows and write the packet for the bench.

    Example: pleatwright plan order.toml --out packet
    """
    from pleatwright.bench import cloth_findings
    from pleatwright.layout import make_plan

    job = ordered.job
    folder = out or ordered.path.with_suffix("")
    if json is None:
        from pleatwright.shop import check_folder

        check_folder(folder)
    with Progress() as progress:
        made = make_plan(job.request, progress.searched)
        if json is None:
            from pleatwright.shop import packet_files, write_folder

            write_folder(folder, packet_files(job, made, progress.say))
    if json is None:
        report_options(job, made)
        say(f"The packet lies in {folder}: print packet.pdf at 100%.")
    else:
        from pleatwright.shop import plan_json

        write_text(plan_json(job, made), json, option="--json")
    found = (*cloth_findings(job, made), *made.findings)
    report_findings((*job.questions, *found), to_stderr=json == "-")
    if blocking(found):
        raise typer.Exit(STOPPED)
