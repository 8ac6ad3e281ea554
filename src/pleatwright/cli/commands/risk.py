"""risk: how near a kilt is likely to end, before it is sewn."""

from __future__ import annotations

from typing import Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    Ordered,
    app,
    order_command,
)
from pleatwright.cli.terminal import say, screen


@app.command()
@order_command
def risk(
    ordered: Ordered,
    option: OptionNumber = None,
    every: Annotated[
        int | None, typer.Option(min=1, help="Pleats from one measurement to the next; default: the shop's.")
    ] = None,
) -> None:
    """How near hips and waist are likely to end, by how often they are measured while sewing.

    Example: pleatwright risk order.toml --every 6
    """
    from rich.table import Table

    from pleatwright.bench.risk import risk as risk_of
    from pleatwright.bench.risk import risk_rows
    from pleatwright.lengths import write_length

    job = ordered.job
    chosen = ordered.option(option)
    made = risk_of(chosen, job.request, every)
    sewing = job.request.settings.sewing
    good, most = (write_length(off, job.units) for off in (sewing.off_good, sewing.off_most))
    say(f"{job.client}, {job.reference}: {chosen.title}")
    for sentence in made.words:
        say(sentence)
    say("")
    say("Kilts in 100 that end near enough:")
    table = Table(box=None, pad_edge=False, show_edge=False)
    table.add_column("measured")
    for heading in (
        "pleats after the last",
        f"within {good} at the hips",
        "at hips and waist",
        f"within {most} at both",
    ):
        table.add_column(heading, justify="right")
    for row in risk_rows(made):
        table.add_row(*row)
    screen.print(table)
