"""care: the card that goes home with the kilt."""

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
from pleatwright.cli.terminal import say


@app.command()
@order_command
def care(
    ordered: Ordered,
    out: Annotated[Path, typer.Option(help="PDF to write.")],
    option: OptionNumber = None,
) -> None:
    """Write the care card for the client: how it is worn, kept and pressed, and the waists it fits.

    Example: pleatwright care order.toml --out care.pdf
    """
    from pleatwright.sheets import write_pdf
    from pleatwright.sheets.flow import numbered
    from pleatwright.sheets.look import frame_of, who
    from pleatwright.sheets.pages.care_page import care_sheets
    from pleatwright.shop import write_file

    job = ordered.job
    frame = frame_of(job)
    sheets = care_sheets(job, ordered.option(option), frame)
    write_file(out, write_pdf(numbered(job, frame, sheets), f"{who(job)}, care card"))
    say(f"{out} is written: print it and cut along the dashed line.")
