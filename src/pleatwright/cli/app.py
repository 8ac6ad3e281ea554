"""What the commands share: the application, the options that mean the same in all, reading and writing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, wraps
from inspect import Parameter, Signature, signature
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn, get_type_hints

import typer

from pleatwright.cli.terminal import Progress, errors, show_problems
from pleatwright.errors import InputError, PleatwrightError, Problem

if TYPE_CHECKING:
    from pleatwright.layout import Option
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


OrderArgument = Annotated[Path, typer.Argument(help="The order file (TOML).")]
UnitsOption = Annotated[
    UnitsChoice | None, typer.Option(help="Inches or metric; default: as the order says.")
]
PaperOption = Annotated[PaperChoice | None, typer.Option(help="Paper; default: as the order says.")]
StyleOption = Annotated[
    list[str] | None, typer.Option(help='Only this style, as "knife to the sett"; may be given again.')
]
ShopOption = Annotated[
    Path | None, typer.Option(help="The shop's own file (TOML), under the order's settings.")
]
OptionNumber = Annotated[
    int | None, typer.Option("--option", min=1, help="Number of the plan's option; default: the first.")
]
StoreOption = Annotated[
    str | None,
    typer.Option(
        help="The store: sqlite:///file or postgresql://user@host/name; default: PLEATWRIGHT_DATABASE_URL, "
        "or the file in your data folder."
    ),
]


def run() -> None:
    """Run one command; whatever is wrong with the input is shown at once, with exit code 2."""
    try:
        app()
    except InputError as error:
        show_problems(error)
        raise SystemExit(BAD_INPUT) from None
    except PleatwrightError as error:  # the store, when it is busy or away
        errors.print(str(error), markup=False)
        raise SystemExit(BAD_INPUT) from None


def read_file(path: Path, *, field: str) -> str:
    """A file's text; raises InputError, naming it as `field`, where it cannot be read."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        problem = Problem(field, f'"{path}"', "is not plain text", "save it as UTF-8")
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fix = "name another file"
        if field == "order":
            fix = 'name an order file, or start one with "pleatwright new --out order.toml"'
        problem = Problem(field, f'"{path}"', f"cannot be read ({reason})", fix)
    raise InputError(problem)


@dataclass(frozen=True)
class Ordered:
    """An order as the command line names it, with everything that goes over it."""

    path: Path
    units: UnitsChoice | None = None
    paper: PaperChoice | None = None
    style: list[str] | None = None
    shop: Path | None = None

    @cached_property
    def job(self) -> Job:
        """The order as read."""
        return job_of(self.path, self.units, self.paper, self.style, self.shop)

    def beside(self, name: str) -> Path:
        """A file or folder beside the order, its own name in front."""
        return self.path.with_name(f"{self.path.stem}-{name}")

    def option(self, number: int | None = None, *, cloth: bool = False) -> Option:
        """`option_of` this order."""
        return option_of(self.job, self.path, number, cloth=cloth)


def order_command(command: Callable[..., None]) -> Callable[..., None]:
    """A command whose first parameter, `ordered`, is an order: on the command line it is given as ORDER,
    --units, --paper, --style and --shop, as everywhere."""
    own = list(signature(command).parameters.values())[1:]
    hints = get_type_hints(command, include_extras=True)

    def one(name: str, kind: Any, default: Any = None) -> Parameter:
        return Parameter(name, Parameter.KEYWORD_ONLY, annotation=kind, default=default)

    shared = [
        one("units", UnitsOption),
        one("paper", PaperOption),
        one("style", StyleOption),
        one("shop", ShopOption),
    ]

    @wraps(command)
    def on_the_line(**given: Any) -> None:
        ordered = Ordered(given.pop("order"), *(given.pop(each.name) for each in shared))
        command(ordered, **given)

    every = [
        one("order", OrderArgument, Parameter.empty),
        *(one(each.name, hints[each.name], each.default) for each in own),
        *shared,
    ]
    on_the_line.__signature__ = Signature(every)  # type: ignore[attr-defined]  # read by typer
    on_the_line.__annotations__ = {each.name: each.annotation for each in every}
    del on_the_line.__wrapped__
    return on_the_line


def job_of(
    order: Path,
    units: UnitsChoice | None,
    paper: PaperChoice | None,
    style: list[str] | None,
    shop: Path | None,
) -> Job:
    """The order, with everything that goes over it."""
    from pleatwright.order import read_order

    return read_order(
        read_file(order, field="order"),
        source=order.name,
        shop_text=None if shop is None else read_file(shop, field="--shop"),
        units=None if units is None else units.value,
        paper=None if paper is None else paper.value,
        styles=tuple(style or ()),
    )


def option_of(job: Job, order: Path, number: int | None = None, *, cloth: bool = False) -> Option:
    """The plan's first option, or that of the number; raises InputError where there is none.

    `cloth`: one that lies on a piece of cloth is needed.
    """
    return one_of(options_of(job, order, cloth=cloth), order, number)


def options_of(job: Job, order: Path, *, cloth: bool = False) -> tuple[Option, ...]:
    """Every option of the plan; raises InputError where there is none, or with `cloth` none on a piece."""
    from pleatwright.layout import make_plan

    with Progress() as progress:
        options = make_plan(job.request, progress.searched).options
    if not options or (cloth and options[0].cloth is None):
        seen = "no piece of cloth" if job.request.piece is None else "no kilt that fits the piece"
        refuse(Problem(order.name, seen, "leaves nothing to work from", f'see "pleatwright plan {order}"'))
    return options


def one_of(options: tuple[Option, ...], order: Path, number: int | None) -> Option:
    """The option of that number, the first for None; raises InputError where there is none of it."""
    if number is not None and number > len(options):
        allowed = f"is not among the plan's options, 1 to {len(options)}"
        refuse(Problem("--option", str(number), allowed, f'see "pleatwright plan {order}"'))
    return options[(number or 1) - 1]


def write_text(text: str, where: str, *, option: str = "--out") -> None:
    """Write to the file an option names, whole or not at all, or to the screen (-)."""
    if where == "-":
        typer.echo(text, nl=False)
        return
    from pleatwright.shop import write_file

    write_file(Path(where), text.encode(), option=option)


def refuse(problem: Problem) -> NoReturn:
    """Raise it as an InputError."""
    raise InputError(problem)
