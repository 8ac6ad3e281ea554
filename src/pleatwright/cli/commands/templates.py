"""templates: cards and tape of true size, to print or to cut."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    Ordered,
    app,
    order_command,
    refuse,
)
from pleatwright.cli.terminal import say
from pleatwright.errors import Problem

ROLL_LEAST, ROLL_MOST = Fraction(8), Fraction(72)
KERF_MOST = Fraction(1, 16)


class SheetChoice(StrEnum):
    """Paper for templates."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"
    TABLOID = "Tabloid"
    ROLL = "roll"


class UseChoice(StrEnum):
    """Kinds of template."""

    GAUGES = "gauges"
    STRAP_HOLE = "strap-hole"
    APRONS = "aprons"
    TAPER = "taper"
    TAPE = "tape"


@app.command()
@order_command
def templates(
    ordered: Ordered,
    option: OptionNumber = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder; default: the order's name and -templates, beside it.")
    ] = None,
    sheet: Annotated[
        SheetChoice | None, typer.Option(help="Paper of templates.pdf; default: the packet's.")
    ] = None,
    roll_width: Annotated[
        str | None, typer.Option(help="Width of the roll; default: 24 inches.", metavar="LENGTH")
    ] = None,
    kerf: Annotated[
        str, typer.Option(help='Width of the cut in SVG and DXF, as "0.2 mm".', metavar="LENGTH")
    ] = "0",
    only: Annotated[
        list[UseChoice] | None, typer.Option(help="Only these templates; may be given again.")
    ] = None,
) -> None:
    """Write templates of true size: a PDF to print, and an SVG and a DXF of each to cut.

    Example: pleatwright templates order.toml --sheet A3 --kerf "0.2 mm" --only gauges
    """
    from pleatwright.bench.templates import Use
    from pleatwright.sheets.templates import SheetName
    from pleatwright.shop import write_folder
    from pleatwright.shop.template_files import ROLL_WIDTH, template_files

    job = ordered.job
    wide = ROLL_WIDTH
    if roll_width is not None:
        wide = _between(roll_width, "--roll-width", ROLL_LEAST, ROLL_MOST, job.units)
    beam = _between(kerf, "--kerf", Fraction(0), KERF_MOST, job.units)
    files = template_files(
        job,
        ordered.option(option),
        None if sheet is None else SheetName(sheet.value),
        roll_width=wide,
        kerf=beam,
        only=tuple(Use) if not only else tuple(Use(one.value) for one in only),
    )
    if not files:
        seen = " and ".join(f'"{one.value}"' for one in only or ())
        verb = "is" if len(only or ()) == 1 else "are"
        allowed = f"{verb} not needed for this kilt, or not without a piece of cloth"
        refuse(Problem("--only", seen, allowed, "leave --only out to see what there is"))
    folder = out or ordered.beside("templates")
    write_folder(folder, files)
    say(f"{len(files)} files lie in {folder}: print templates.pdf at 100% and measure its square first.")


def _between(text: str, field: str, least: Fraction, most: Fraction, units: str) -> Fraction:
    """A length in inches within its bounds; raises InputError."""
    from pleatwright.lengths import exact_text, parse_length

    length = parse_length(text, field=field, unit="metric" if units == "metric" else "in")
    if not least <= length <= most:
        allowed = f"must be from {exact_text(least)} to {exact_text(most)} inches"
        refuse(Problem(field, f'"{text}"', allowed, 'write it with its unit, as "0.2 mm" or "24 in"'))
    return length
