"""what-if: a wish changed, the best kilt under it, and what it costs in everything else."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from pleatwright.cli.app import Ordered, app, order_command
from pleatwright.cli.terminal import Progress, report_findings, say, screen

if TYPE_CHECKING:
    from pleatwright.layout import Compromise, Plan
    from pleatwright.lengths import Units


@app.command(name="what-if")
@order_command
def what_if(
    ordered: Ordered,
    pleats: Annotated[int | None, typer.Option(help="This number of pleats.", min=2)] = None,
    stripe: Annotated[
        str | None, typer.Option(help='Pleated to this stripe: "W4"; "K4, G4" for the K4 before a G4.')
    ] = None,
    share: Annotated[
        str | None, typer.Option(help="The apron's part of the round at waist and hips: 0.55.")
    ] = None,
    reveal: Annotated[str | None, typer.Option(help="The reveal aimed at, at the hip line: 13/16.")] = None,
) -> None:
    """What another number of pleats, stripe, share of apron, reveal or style would cost; without any, what
    else of the same kind is worth comparing.

    Example: pleatwright what-if order.toml --pleats 29 --share 0.55
    """
    from pleatwright.layout import make_plan, nondominated
    from pleatwright.layout import what_if as answered
    from pleatwright.order import read_wish

    request = replace(ordered, style=None).job.request
    wish = read_wish(
        request, pleats=pleats, stripe=stripe, share=share, reveal=reveal, styles=ordered.style or (),
        prefix="--",
    )  # fmt: skip
    with Progress() as progress:
        progress.say("searching")
        before = make_plan(request)
        answer = answered(request, wish, before) if wish.alone() else None
    last, asked = before, request
    if answer is not None:
        together = () if len(answer.alone) == 1 else (answer.together,)
        rows = [("as ordered", before), *((f"with {one.wished}", one.plan) for one in answer.alone)]
        rows += [("with all of it", one.plan) for one in together]
        _table([(label, plan) for label, plan in rows if plan.chosen is not None], request.units)
        say("")
        for one in (*answer.alone, *together):
            say(one.words)
        last, asked = answer.together.plan, wish.within(request)
        if last.chosen is None:
            report_findings(last.findings, to_stderr=False)
    few = nondominated(asked, last)
    if len(few) > 1:
        say("")
        say("Worth comparing; none of them is better than another in all of these:")
        _compromises(few, request.units)


def _table(rows: list[tuple[str, Plan]], units: Units) -> None:
    from rich.table import Table

    from pleatwright.lengths import Grid, write_length, write_yards
    from pleatwright.wearer import LevelName

    table = Table(box=None, pad_edge=False, show_edge=False)
    table.add_column("")
    table.add_column("kilt")
    for heading in ("cloth", "true at hips", "lines at risk", "reveal", "hidden", "points"):
        table.add_column(heading, justify="right")
    kinds = {(plan.options[0].form, plan.options[0].shows) for _, plan in rows}
    for label, plan in rows:
        option = plan.options[0]
        hip = option.level(LevelName.HIP)
        table.add_row(
            label,
            option.title,
            write_yards(option.cloth_used, units),
            "" if hip.match is None else f"{100 * hip.match:.0f}%",
            str(len(option.lines_at_risk)),
            write_length(hip.reveal, units, Grid.THIRTYSECOND),
            write_length(option.deep_pleat + option.reverse_pleat, units),
            f"{option.score if len(kinds) == 1 else option.standing:.1f}",
        )
    screen.print(table)


def _compromises(few: tuple[Compromise, ...], units: Units) -> None:
    from rich.table import Table

    from pleatwright.lengths import Grid, write_length, write_yards
    from pleatwright.wearer import LevelName

    table = Table(box=None, pad_edge=False, show_edge=False)
    table.add_column("kilt")
    for heading in ("cloth", "true", "reveal", "hidden", "lines at risk"):
        table.add_column(heading, justify="right")
    table.add_column("best in")
    for one in few:
        option, measures = one.option, one.measures
        table.add_row(
            option.title,
            write_yards(measures.cloth, units),
            f"{100 * measures.match:.0f}%",
            write_length(option.level(LevelName.HIP).reveal, units, Grid.THIRTYSECOND),
            write_length(option.deep_pleat + option.reverse_pleat, units),
            str(len(option.lines_at_risk)),
            ", ".join(one.best_in),
        )
    screen.print(table)
