"""alter: a finished kilt and a new waist, new hips or a new drop."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pleatwright.cli.app import (
    STOPPED,
    OptionNumber,
    PaperChoice,
    PaperOption,
    ShopOption,
    StyleOption,
    UnitsChoice,
    UnitsOption,
    app,
    job_of,
    option_of,
    read_file,
    refuse,
    write_text,
)
from pleatwright.cli.terminal import say, screen
from pleatwright.errors import InputError, Problem

if TYPE_CHECKING:
    from pleatwright.bench.alter import Alteration, Kilt
    from pleatwright.lengths import Grid, Units
    from pleatwright.order import Paper
    from pleatwright.trade import Settings


@dataclass(frozen=True)
class _ToAlter:
    """The kilt with what the new measurements are taken over: ease at waist and hips."""

    name: str
    kilt: Kilt
    units: Units
    grid: Grid
    paper: Paper
    settings: Settings
    ease_waist: Fraction
    ease_hips: Fraction


@app.command()
def alter(
    order: Annotated[Path | None, typer.Argument(help="The order file (TOML) of a kilt of ours.")] = None,
    kilt: Annotated[
        Path | None, typer.Option(help="Another maker's kilt, measured (TOML), in place of an order.")
    ] = None,
    waist: Annotated[str | None, typer.Option(help="The wearer's waist now, snug.")] = None,
    hips: Annotated[str | None, typer.Option(help="The wearer's hips now, loose.")] = None,
    drop: Annotated[str | None, typer.Option(help="The drop that is wanted now.")] = None,
    new: Annotated[
        Path | None, typer.Option(help="Write a commented kilt file to fill in.", metavar="FILE")
    ] = None,
    out: Annotated[Path | None, typer.Option(help="PDF to write; default: the screen alone.")] = None,
    option: OptionNumber = None,
    units: UnitsOption = None,
    paper: PaperOption = None,
    style: StyleOption = None,
    shop: ShopOption = None,
) -> None:
    """Work out an alteration step by step, with its hours; exit code 1 where the kilt must be remade.

    Example: pleatwright alter order.toml --waist 38, or: pleatwright alter --kilt kilt.toml --waist 38
    """
    if new is not None:
        _start(new, units)
        return
    if (order is None) == (kilt is None):
        seen = "nothing" if order is None else "an order and a kilt"
        fix = 'name one order, or one kilt with --kilt; start a kilt with "pleatwright alter --new kilt.toml"'
        refuse(Problem("alter", seen, "is given to be altered", fix))
    if waist is None and hips is None and drop is None:
        refuse(Problem("alter", "no new measurement", "is given", "add --waist, --hips or --drop"))
    from pleatwright.bench.alter import Verdict, Wanted
    from pleatwright.bench.alter import alter as plan_alteration

    if order is not None:
        it = _ours(order, option, units, paper, style, shop)
    else:
        it = _theirs(kilt or Path(), units, paper, shop)
    new_waist, new_hips, new_drop = _lengths(it.units, waist=waist, hips=hips, drop=drop)
    wanted = Wanted(
        None if new_waist is None else new_waist + it.ease_waist,
        None if new_hips is None else new_hips + it.ease_hips,
        new_drop,
    )
    made = plan_alteration(it.kilt, wanted, it.settings, units=it.units, grid=it.grid)
    _show(made)
    if out is not None:
        from pleatwright.sheets import write_pdf
        from pleatwright.sheets.pages.alteration_page import alteration_pages
        from pleatwright.shop import write_file

        pages = alteration_pages(made, it.name, it.units, it.grid, it.paper)
        write_file(out, write_pdf(pages, f"{it.name}, alteration"))
        say(f"{out} is written.")
    if made.verdict is Verdict.REMAKE:
        raise typer.Exit(STOPPED)


def _start(where: Path, units: UnitsChoice | None) -> None:
    from pleatwright.shop.kilt_file import new_kilt_text

    if where.exists():
        refuse(Problem("--new", f'"{where}"', "is there already", "name a new file"))
    write_text(new_kilt_text("in" if units is None else units.value), str(where), option="--new")
    say(f"Fill in {where}, then: pleatwright alter --kilt {where} --waist ...")


def _ours(
    order: Path,
    number: int | None,
    units: UnitsChoice | None,
    paper: PaperChoice | None,
    style: list[str] | None,
    shop: Path | None,
) -> _ToAlter:
    from pleatwright.bench.alter import kilt_of

    job = job_of(order, units, paper, style, shop)
    kilt = kilt_of(job, option_of(job, order, number))
    sizes, body = job.sizes, job.body
    name = ", ".join(part for part in (job.client, job.reference) if part)
    settings = job.request.settings
    return _ToAlter(
        name,
        kilt,
        job.units,
        job.grid,
        job.paper,
        settings,
        sizes.waist - body.waist,
        sizes.hips - body.hips,
    )


def _theirs(kilt: Path, units: UnitsChoice | None, paper: PaperChoice | None, shop: Path | None) -> _ToAlter:
    from pleatwright.lengths import Grid
    from pleatwright.shop.kilt_file import read_kilt

    read = read_kilt(
        read_file(kilt, field="--kilt"),
        source=kilt.name,
        shop_text=None if shop is None else read_file(shop, field="--shop"),
    )
    wearer = read.settings.wearer
    written = read.units if units is None else units.value
    grid = read.grid
    if written != read.units:
        grid = Grid.MILLIMETRE if written == "metric" else Grid.SIXTEENTH
    return _ToAlter(
        read.name,
        read.kilt,
        written,
        grid,
        read.paper if paper is None else paper.value,
        read.settings,
        wearer.ease_waist,
        wearer.ease_hips,
    )


def _lengths(units: Units, **given: str | None) -> tuple[Fraction | None, ...]:
    """The new measurements; raises InputError with every one that cannot be read."""
    from pleatwright.lengths import parse_length

    problems: list[Problem] = []
    found: list[Fraction | None] = []
    for name, text in given.items():
        value = None
        if text is not None:
            try:
                value = parse_length(text, field=f"--{name}", unit=units)
            except InputError as error:
                problems += error.problems
            if value == 0:
                problems.append(Problem(f"--{name}", f'"{text}"', "must be more than 0", "measure it again"))
        found.append(value)
    if problems:
        raise InputError(problems)
    return tuple(found)


def _show(made: Alteration) -> None:
    from pleatwright.bench.alter import Verdict
    from pleatwright.bench.closing import write_hours

    verdict = str(made.verdict)
    style = "bold red" if made.verdict is Verdict.REMAKE else "bold"
    screen.print(f"[{style}]{verdict[:1].upper()}{verdict[1:]}[/]", end="")
    say(f"; about {write_hours(made.hours)}." if made.hours else ".")
    for reason in made.why:
        say(f"  {reason}")
    for number, step in enumerate(made.steps, 1):
        say(f"{number}. {step.words}")
