"""new and schema: to start an order, and to help an editor with it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import UnitsChoice, app, refuse, write_text
from pleatwright.cli.terminal import say
from pleatwright.errors import Problem


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
        refuse(Problem("--out", f'"{out}"', "is there already", "name a new file"))
    write_text(text, "-" if out is None else str(out))
    if out is not None:
        say(f"Fill in {out}, then: pleatwright plan {out}")


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
        refuse(Problem("schema", f'"{what}"', 'must be "order" or "plan"', 'write "order" for order files'))
    typer.echo(json.dumps(made[what](), indent=1, ensure_ascii=False))
