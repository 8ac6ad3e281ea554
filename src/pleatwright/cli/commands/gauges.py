"""gauges: every pleat's widths, and the gauges to mark them with."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    Ordered,
    app,
    order_command,
)
from pleatwright.cli.terminal import report_findings, say


@app.command()
@order_command
def gauges(
    ordered: Ordered,
    option: OptionNumber = None,
    out: Annotated[
        Path | None, typer.Option(help="Write the gauges page, drawn at true size, to this PDF.")
    ] = None,
) -> None:
    """List every pleat's width at hip and strap line, and the fewest gauges that mark them.

    Gauges that the shop owns are used first ([shop] gauges).
    Example: pleatwright gauges order.toml --option 2 --out gauges.pdf
    """
    from pleatwright.bench import gauge_list
    from pleatwright.cli.gauge_tables import report_gauges

    job = ordered.job
    chosen = ordered.option(option)
    listed = gauge_list(chosen, job.request, job.drawer)
    say(f"{job.client}, {job.reference}, option {chosen.number}: {chosen.title}")
    report_gauges(job, listed)
    report_findings(listed.findings, to_stderr=False)
    if out is not None:
        from pleatwright.sheets.pages.gauges_page import gauges_pdf
        from pleatwright.shop import write_file

        write_file(out, gauges_pdf(job, chosen))
        say(f"The gauges are drawn in {out}: print it at 100%.")
