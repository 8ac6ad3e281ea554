"""sett: a thread count explained."""

from __future__ import annotations

from typing import Annotated

import typer

from pleatwright.cli.app import UnitsChoice, app


@app.command()
def sett(
    count: Annotated[str, typer.Argument(help='A thread count, as "B/24 W4 B24 R2 K24 G24 W/2".')],
    half: Annotated[
        bool, typer.Option("--half", help="The numbers at the pivots are half of the stripe.")
    ] = False,
    size: Annotated[
        str | None, typer.Option(help="Size of one sett as woven; gives stripes and spacings their widths.")
    ] = None,
    reveal: Annotated[str, typer.Option(help="Reveal over which sights are compared.")] = "3/4",
    units: Annotated[UnitsChoice, typer.Option(help="Inches or metric.")] = UnitsChoice.INCHES,
) -> None:
    """Explain a thread count: threads, mirror centres, stripes, sights and where they recur.

    Example: pleatwright sett "B/24 W4 B24 R2 K24 G24 W/2" --size "6 1/2"
    """
    from pleatwright.cli.terminal import explain_sett

    explain_sett(count, half, size, reveal, units.value)
