"""closing: straps, inside, work and last measures of one kilt."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    Ordered,
    app,
    order_command,
)
from pleatwright.cli.terminal import say, screen

if TYPE_CHECKING:
    from pleatwright.layout import Option
    from pleatwright.order import Job


@app.command()
@order_command
def closing(
    ordered: Ordered,
    option: OptionNumber = None,
    out: Annotated[Path | None, typer.Option(help="PDF to write; default: tables on the screen.")] = None,
) -> None:
    """Straps and buckles, everything inside, stitches, hours and weight, and the last measures.

    Example: pleatwright closing order.toml --out closing.pdf
    """
    job = ordered.job
    chosen = ordered.option(option)
    if out is None:
        _show(job, chosen)
        return
    from pleatwright.sheets import write_pdf
    from pleatwright.sheets.flow import numbered
    from pleatwright.sheets.look import frame_of, who
    from pleatwright.sheets.pages.closing_page import closing_sheets
    from pleatwright.sheets.pages.measures_page import measures_sheets
    from pleatwright.shop import write_file

    frame = frame_of(job)
    sheets = (*closing_sheets(job, chosen, frame), *measures_sheets(job, chosen, frame))
    write_file(out, write_pdf(numbered(job, frame, sheets), f"{who(job)}, closing"))
    say(f"{out} is written: print it at 100%.")


def _show(job: Job, option: Option) -> None:
    from rich.table import Table

    from pleatwright.bench.closing import closing as closing_of
    from pleatwright.bench.closing import write_hours
    from pleatwright.lengths import write_length

    made = closing_of(job, option)

    def long(value: Fraction) -> str:
        return write_length(value, job.units, job.grid)

    def shown(headings: tuple[str, ...], rows: list[tuple[str, ...]]) -> None:
        table = Table(box=None, pad_edge=False, show_edge=False)
        for heading in headings:
            table.add_column(heading, justify="left" if heading in ("", headings[0]) else "right")
        for row in rows:
            table.add_row(*row)
        screen.print(table)
        say("")

    say(f"{job.client}, {job.reference}: {option.title}, opens on the {made.opens_on}.")
    say("")
    for strap in made.straps:
        say(
            f"{strap.name}: {long(strap.length)} long, {long(strap.below_top)} below the top edge. "
            f"{strap.words}"
        )
        say(f"  buckle: {strap.buckle.words}")
    say("")
    shown(
        ("hole", "from the apron's edge", "fits waist"),
        [
            (f"{hole.number}{' (chosen)' if hole.chosen else ''}", long(hole.from_edge), long(hole.waist))
            for hole in made.fits
        ],
    )
    folds = made.inside.folds
    if folds.kept:
        say(f"Nothing is cut out of the folds: {folds.kept}.")
    else:
        say(f"Folds are cut out down to {long(folds.cut_below_top)} below the top edge, never lower.")
    say(f"Top band: {long(made.band.length)} by {long(made.band.height)}, {made.band.source}.")
    say("")
    shown(
        ("piece", "wide at the top", "below", "high"),
        [
            (name, long(panel.width_top), long(panel.width_bottom), long(panel.height))
            for name, panel in (
                ("stabiliser", made.inside.stabiliser),
                *((f"interfacing, {panel.name}", panel) for panel in made.inside.interfacing),
                *((f"lining, {panel.name}", panel) for panel in made.inside.lining),
            )
        ],
    )
    shown(
        ("measure", "wanted", "least", "most"),
        [
            (
                ", ".join(part for part in (one.what, one.where) if part),
                long(one.wanted),
                long(max(one.least, Fraction(0))),
                long(one.most),
            )
            for one in made.measures
        ],
    )
    shown(
        ("later", "waist out", "waist in", "hips out", "hips in", "hours"),
        [
            (
                way.name,
                *(long(value) for value in (way.waist_out, way.waist_in, way.hips_out, way.hips_in)),
                f"{way.hours:g}",
            )
            for way in made.later
        ],
    )
    work = made.work
    say(
        f"{work.fell_stitches} stitches in the fell; about {write_hours(work.hours)} at "
        f"{work.pleats_an_hour:g} pleats an hour; {weight_words(made.weight.kilt, job.units)}."
    )


def weight_words(ounces: float, units: str) -> str:
    """A weight in the maker's units."""
    from pleatwright.bench.closing.work import GRAMS

    return f"about {ounces * GRAMS:.0f} g" if units == "metric" else f"about {ounces:.0f} oz"
