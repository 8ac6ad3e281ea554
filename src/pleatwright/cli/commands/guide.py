"""guide and card: this kilt step by step, and the card for the sewing."""

from __future__ import annotations

from enum import StrEnum
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


class BeginChoice(StrEnum):
    """The pleat that is sewn first."""

    FIRST = "first"
    LAST = "last"


BeginOption = Annotated[
    BeginChoice | None,
    typer.Option(help="Sew from the first or from the last pleat; default: as the shop's hand has it."),
]


@app.command()
@order_command
def guide(
    ordered: Ordered,
    out: Annotated[
        Path | None, typer.Option(help="The PDF; default: the order's name with -guide.pdf.")
    ] = None,
    option: OptionNumber = None,
    begin: BeginOption = None,
) -> None:
    """Write the guide: this kilt step by step, from the resting cloth to the last measure.

    Example: pleatwright guide order.toml --option 2 --out guide.pdf
    """
    from pleatwright.sheets.guide import guide_pdf
    from pleatwright.shop import write_file

    job = ordered.job
    chosen = ordered.option(option)
    where = out or ordered.beside("guide.pdf")
    write_file(where, guide_pdf(job, chosen, None if begin is None else begin.value))
    say(f"The guide lies in {where}.")


@app.command()
@order_command
def card(
    ordered: Ordered,
    out: Annotated[
        Path | None, typer.Option(help="The PDF; default: the order's name with -card.pdf.")
    ] = None,
    option: OptionNumber = None,
    begin: BeginOption = None,
) -> None:
    """Write the sewing card: one line a pleat, with the totals to be found on the way.

    Example: pleatwright card order.toml --out card.pdf
    """
    from pleatwright.sheets.pages.sewing_card import sewing_card_pdf
    from pleatwright.shop import write_file

    job = ordered.job
    chosen = ordered.option(option)
    where = out or ordered.beside("card.pdf")
    write_file(where, sewing_card_pdf(job, chosen, None if begin is None else begin.value))
    say(f"The sewing card lies in {where}: print it at 100% and cut along the lines.")
