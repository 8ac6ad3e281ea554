"""The commands."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from pleatwright.cli.terminal import (
    Progress,
    report_check,
    report_findings,
    report_options,
    say,
    show_problems,
)
from pleatwright.errors import InputError, Problem
from pleatwright.findings import blocking

if TYPE_CHECKING:
    from pleatwright.order import Job

STOPPED, BAD_INPUT = 1, 2

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="From a client's measurements and a piece of tartan to a kilt marked for the rip.",
)


class UnitsChoice(StrEnum):
    """Units on paper and screen."""

    INCHES = "in"
    METRIC = "metric"


class PaperChoice(StrEnum):
    """Paper of the packet."""

    A4 = "A4"
    LETTER = "Letter"


def run() -> None:
    """Run one command; whatever is wrong with the input is shown at once, with exit code 2."""
    try:
        app()
    except InputError as error:
        show_problems(error)
        raise SystemExit(BAD_INPUT) from None


def _read(path: Path, *, field: str) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        problem = Problem(field, f'"{path}"', "is not plain text", "save it as UTF-8")
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fix = 'name an order file, or start one with "pleatwright new --out order.toml"'
        problem = Problem(field, f'"{path}"', f"cannot be read ({reason})", fix)
    raise InputError(problem)


def _job(
    order: Path,
    units: UnitsChoice | None,
    paper: PaperChoice | None,
    style: list[str] | None,
    shop: Path | None,
) -> Job:
    """The order, with everything that goes over it."""
    from pleatwright.order import read_order

    return read_order(
        _read(order, field="order"),
        source=order.name,
        shop_text=None if shop is None else _read(shop, field="--shop"),
        units=None if units is None else units.value,
        paper=None if paper is None else paper.value,
        styles=tuple(style or ()),
    )


@app.command()
def plan(
    order: Annotated[Path, typer.Argument(help="The order file (TOML).")],
    out: Annotated[
        Path | None, typer.Option(help="Folder for the packet; default: the order's name beside it.")
    ] = None,
    json: Annotated[
        str | None, typer.Option(help="Write only plan.json, to this file; - for the screen.", metavar="FILE")
    ] = None,
    units: Annotated[
        UnitsChoice | None, typer.Option(help="Inches or metric; default: as the order says.")
    ] = None,
    paper: Annotated[
        PaperChoice | None, typer.Option(help="Paper of the packet; default: as the order says.")
    ] = None,
    style: Annotated[
        list[str] | None, typer.Option(help='Only this style, as "knife to the sett"; may be given again.')
    ] = None,
    shop: Annotated[
        Path | None, typer.Option(help="The shop's own settings (TOML), under the order's.")
    ] = None,
) -> None:
    """Work out the kilts an order's cloth allows and write the packet for the bench.

    Example: pleatwright plan order.toml --out packet
    """
    from pleatwright.bench import cloth_findings
    from pleatwright.layout import make_plan

    job = _job(order, units, paper, style, shop)
    folder = out or order.with_suffix("")
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

        _write(plan_json(job, made), json)
    found = (*cloth_findings(job, made), *made.findings)
    report_findings((*job.questions, *found), to_stderr=json == "-")
    if blocking(found):
        raise typer.Exit(STOPPED)


def _write(text: str, where: str) -> None:
    if where == "-":
        typer.echo(text, nl=False)
        return
    from pleatwright.shop import write_file

    write_file(Path(where), text.encode())


@app.command()
def check(
    order: Annotated[Path, typer.Argument(help="The order file the packet was made from.")],
    found: Annotated[Path | None, typer.Argument(help="What was found on the chalked cloth (TOML).")] = None,
    form: Annotated[
        Path | None, typer.Option(help="Write a file to fill in, and check nothing.", metavar="FILE")
    ] = None,
    record: Annotated[
        Path | None,
        typer.Option(help="The record the check is added to; default: checks.jsonl beside what was found."),
    ] = None,
    units: Annotated[UnitsChoice | None, typer.Option(help="As the packet was made.")] = None,
    paper: Annotated[PaperChoice | None, typer.Option(help="As the packet was made.")] = None,
    style: Annotated[list[str] | None, typer.Option(help="As the packet was made.")] = None,
    shop: Annotated[Path | None, typer.Option(help="As the packet was made.")] = None,
) -> None:
    """Check what was measured again before the rip: go, or stop (exit code 1).

    Example: pleatwright check order.toml --form found.toml, then: pleatwright check order.toml found.toml
    """
    from pleatwright.layout import make_plan
    from pleatwright.shop import RECORD, append_record, check_record, found_form, read_found

    job = _job(order, units, paper, style, shop)
    with Progress() as progress:
        option = make_plan(job.request, progress.searched).chosen
    if option is None or option.cloth is None:
        seen = "no piece of cloth" if job.request.piece is None else "no kilt that fits the piece"
        fix = f'see "pleatwright plan {order}"'
        _refuse(Problem(order.name, seen, "is there to be checked", fix))
    if form is not None:
        if form.exists():
            _refuse(Problem("--form", f'"{form}"', "is there already", "name a new file"))
        _write(found_form(job, option), str(form))
        say(f"Measure again and fill in {form}, then: pleatwright check {order} {form}")
        return
    if found is None:
        fix = f'start one with "pleatwright check {order} --form found.toml"'
        _refuse(Problem("found", "nothing", "is given to be checked", fix))
    entered = read_found(_read(found, field="found"), job, option, source=found.name)
    made = check_record(job, option, entered)
    where = record or found.parent / RECORD
    append_record(where, made)
    report_check(made, where)
    if made.decision == "stop":
        raise typer.Exit(STOPPED)


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


@app.command()
def new(
    out: Annotated[Path | None, typer.Option(help="File to write; default: the screen.")] = None,
    units: Annotated[UnitsChoice, typer.Option(help="Inches or metric.")] = UnitsChoice.INCHES,
) -> None:
    """Write a commented order to start from.

    Example: pleatwright new --out order.toml
    """
    from pleatwright.order import new_order_text

    text = new_order_text(units.value)
    if out is not None and out.exists():
        _refuse(Problem("--out", f'"{out}"', "is there already", "name a new file"))
    _write(text, "-" if out is None else str(out))
    if out is not None:
        say(f"Fill in {out}, then: pleatwright plan {out}")


def _refuse(problem: Problem) -> NoReturn:
    raise InputError(problem)


@app.command()
def schema(
    what: Annotated[str, typer.Argument(help='"order" or "plan".')] = "order",
) -> None:
    """Print the JSON Schema of order files or of plan.json, for editors.

    Example: pleatwright schema order > order.schema.json
    """
    import json

    from pleatwright.order import order_schema
    from pleatwright.shop import plan_schema

    made = {"order": order_schema, "plan": plan_schema}
    if what not in made:
        _refuse(Problem("schema", f'"{what}"', 'must be "order" or "plan"', 'write "order" for order files'))
    typer.echo(json.dumps(made[what](), indent=1, ensure_ascii=False))
