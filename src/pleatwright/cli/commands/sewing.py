"""sewing: the sewing log; sew, measure, correct."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    OrderArgument,
    ShopOption,
    StyleOption,
    UnitsOption,
    app,
    job_of,
    option_of,
    refuse,
)
from pleatwright.cli.sewing_bench import SewingBench, day, line, place_of, say_torn
from pleatwright.cli.terminal import say
from pleatwright.errors import Problem

sewing = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="The sewing log: sew, measure, correct. It lies beside the order and only grows.",
)
app.add_typer(sewing, name="sewing")


class BeginChoice(StrEnum):
    """The pleat sewn first."""

    FIRST = "first"
    LAST = "last"


class FollowChoice(StrEnum):
    """What is told after a measurement."""

    SPREAD = "spread"
    LEAST = "least"


LogOption = Annotated[
    Path | None, typer.Option(help="The log's file; default: <order>-sewing.jsonl beside the order.")
]
OnOption = Annotated[str | None, typer.Option(help="Day of the entry, as 2031-05-04.", metavar="DATE")]
ByOption = Annotated[str, typer.Option(help="Initials of who enters it.")]
HipOption = Annotated[str | None, typer.Option(help='Width at the hip line, as "6 7/8" or "17.4 cm".')]
StrapOption = Annotated[str | None, typer.Option(help="Width at the strap line.")]
SureOption = Annotated[bool, typer.Option("--sure", help="Keep a reading that was asked about.")]


@sewing.command()
def start(
    order: OrderArgument,
    option: OptionNumber = None,
    begin: Annotated[
        BeginChoice | None,
        typer.Option(help="Pleat sewn first, counted from the over-apron; default: by the maker's hand."),
    ] = None,
    follow: Annotated[
        FollowChoice,
        typer.Option(help="After measuring: re-spread the rest, or change the least that will do."),
    ] = FollowChoice.SPREAD,
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    units: UnitsOption = None,
    style: StyleOption = None,
    shop: ShopOption = None,
) -> None:
    """Begin a log with the figures of the plan.

    Example: pleatwright sewing start order.toml
    """
    from pleatwright.bench.guide.card import begin_of
    from pleatwright.bench.sewing import begun
    from pleatwright.shop.sewing_record import append_entry, read_log

    where = place_of(order, log)
    kept = read_log(where)
    if kept.log is not None:
        fix = "go on with it, or name another file with --log"
        refuse(Problem("--log", f'"{where}"', "holds a log already", fix))
    say_torn(kept, where)
    job = job_of(order, units, None, style, shop)
    chosen = option_of(job, order, option)
    pleat = begin_of(job) if begin is None else begin.value
    entry = begun(job, chosen, pleat, follow.value, on=day(on), by=by)
    append_entry(where, entry, kept)
    SewingBench(order, log, shop).report(entry)
    every = job.request.settings.sewing.measure_every
    say(f"The log is kept in {where}. Measure after every {every} pleats: sewing width {order} --after ...")


@sewing.command()
def width(
    order: OrderArgument,
    after: Annotated[
        int | None, typer.Option(help="From where sewing began to this pleat.", metavar="PLEAT")
    ] = None,
    pleat: Annotated[int | None, typer.Option(help="Across one pleat.", metavar="PLEAT")] = None,
    first: Annotated[int | None, typer.Option("--from", help="From this pleat ...", metavar="PLEAT")] = None,
    last: Annotated[int | None, typer.Option("--to", help="... to this one.", metavar="PLEAT")] = None,
    hip: HipOption = None,
    strap: StrapOption = None,
    sure: SureOption = False,
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Enter what the tape says across some pleats; they are numbered from the over-apron.

    Example: pleatwright sewing width order.toml --after 9 --hip "6 7/8" --strap "5 3/4"
    """
    from pleatwright.bench.sewing import Measured

    bench = SewingBench(order, log, shop)
    ends = bench.stretch(after, pleat, first, last)
    hips, straps = bench.read(hip, "--hip"), bench.read(strap, "--strap")
    if hips is None and straps is None:
        refuse(
            Problem("--hip, --strap", "nothing", "is given to be kept", 'measure, and write --hip "6 7/8"')
        )
    entry = Measured(*ends, hips, straps, hip or "", strap or "", sure, on=day(on), by=by)
    if not sure:
        bench.ask(entry, bench.log)
    bench.add(entry)


@sewing.command()
def correct(
    order: OrderArgument,
    entry: Annotated[int, typer.Argument(help="Number of the measurement.")],
    hip: HipOption = None,
    strap: StrapOption = None,
    reason: Annotated[str, typer.Option(help="Why.")] = "",
    sure: SureOption = False,
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Put a measurement right; what was written first stays in the log.

    Example: pleatwright sewing correct order.toml 3 --hip "6 3/4" --reason "read from the wrong end"
    """
    from dataclasses import replace

    from pleatwright.bench.sewing import Corrected, Undone

    bench = SewingBench(order, log, shop)
    measured = dict(bench.log.readings()).get(entry)
    if measured is None:
        refuse(Problem("ENTRY", str(entry), "is no measurement that counts", bench.see))
    hips, straps = bench.read(hip, "--hip"), bench.read(strap, "--strap")
    if hips is None and straps is None:
        refuse(Problem("--hip, --strap", "nothing", "is given to put right", 'write --hip "6 7/8"'))
    if not sure:
        bench.ask(replace(measured, hip=hips, strap=straps), bench.log.adding(Undone(entry)))
    bench.add(Corrected(entry, hips, straps, hip or "", strap or "", line(reason), on=day(on), by=by))


@sewing.command()
def undo(
    order: OrderArgument,
    entry: Annotated[
        int | None,
        typer.Argument(
            help="Number of the entry; default: the last that counts. An undoing's brings its entry back."
        ),
    ] = None,
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Let an entry not count; it stays in the log, and undoing the undoing, by its number, brings it back.

    Example: pleatwright sewing undo order.toml, or: pleatwright sewing undo order.toml 6
    """
    from pleatwright.bench.sewing import Undone

    bench = SewingBench(order, log, shop)
    void, numbers = bench.log.void(), range(1, len(bench.log.entries) + 1)
    if entry is None:
        counting = bench.log.counting()
        if not counting:
            fix = f"name an undoing by its number, and its entry counts again; {bench.see}"
            refuse(
                Problem("undo", "nothing", "after the beginning of the log counts that could be undone", fix)
            )
        entry = counting[-1]
    if entry == 1 or entry not in numbers:
        allowed = "is the beginning of the log" if entry == 1 else "is no entry of this log"
        refuse(Problem("ENTRY", str(entry), f"{allowed} and cannot be undone", bench.see))
    if entry in void:
        fix = f'to let it count again: "pleatwright sewing undo {order} {bench.log.undone_by(entry)}"'
        refuse(Problem("ENTRY", str(entry), "does not count already", fix))
    bench.add(Undone(entry, on=day(on), by=by))
    again = len(bench.log.entries)
    say(f"To let entry {entry} count again: pleatwright sewing undo {order} {again}")


@sewing.command()
def stage(
    order: OrderArgument,
    reached: Annotated[str, typer.Argument(help='As "basted"; wrong ones are answered with the list.')],
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Enter that a stage is done."""
    from pleatwright.bench.sewing import Stage, Staged

    known = {str(one): one for one in Stage}
    found = known.get(" ".join(reached.casefold().split()))
    if found is None:
        refuse(Problem("STAGE", f'"{reached}"', "is not a stage", f"write one of {', '.join(known)}"))
    SewingBench(order, log, shop).add(Staged(found, on=day(on), by=by))


@sewing.command()
def fitting(
    order: OrderArgument,
    waist: Annotated[str | None, typer.Option(help='"tight 1/2" or "loose 1/4".')] = None,
    hips: Annotated[str | None, typer.Option(help='"tight 1/2" or "loose 1/4".')] = None,
    front: Annotated[str | None, typer.Option(help='"long 1/4" or "short 1/4".')] = None,
    side: Annotated[str | None, typer.Option(help='"long 1/4" or "short 1/4".')] = None,
    back: Annotated[str | None, typer.Option(help='"long 1/4" or "short 1/4".')] = None,
    words: Annotated[str, typer.Option(help="What else was seen.")] = "",
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Enter what a fitting found; it goes into what is left to do.

    Example: pleatwright sewing fitting order.toml --waist "tight 1/2" --front "long 1/4"
    """
    from pleatwright.bench.sewing import Fitted

    bench = SewingBench(order, log, shop)
    girth, length = ("tight", "loose"), ("long", "short")
    bench.add(
        Fitted(
            bench.signed(waist, "--waist", girth),
            bench.signed(hips, "--hips", girth),
            bench.signed(front, "--front", length),
            bench.signed(side, "--side", length),
            bench.signed(back, "--back", length),
            len(bench.log.started.told.hip) - bench.log.done(),
            line(words),
            on=day(on),
            by=by,
        )
    )


@sewing.command()
def note(
    order: OrderArgument,
    words: Annotated[str, typer.Argument(help="What is to be remembered.")],
    log: LogOption = None,
    on: OnOption = None,
    by: ByOption = "",
    shop: ShopOption = None,
) -> None:
    """Enter a note."""
    from pleatwright.bench.sewing import Noted

    SewingBench(order, log, shop).add(Noted(line(words), on=day(on), by=by))


@sewing.command()
def show(
    order: OrderArgument,
    out: Annotated[
        Path | None, typer.Option(help="Write it as a page to print (PDF).", metavar="FILE")
    ] = None,
    every: Annotated[bool, typer.Option("--all", help="Show every pleat still to be sewn.")] = False,
    log: LogOption = None,
    shop: ShopOption = None,
) -> None:
    """Show every entry and where things stand.

    Example: pleatwright sewing show order.toml --out standing.pdf
    """
    from pleatwright.cli.terminal_sewing import report_entries

    bench = SewingBench(order, log, shop)
    report_entries(bench.log, bench.words)
    bench.stand(every=every)
    if out is not None:
        from pleatwright.sheets.look import frame_of, who
        from pleatwright.sheets.pages.sewing_page import sewing_pages
        from pleatwright.sheets.pdf import write_pdf
        from pleatwright.shop import write_file

        frame = frame_of(bench.job)
        pages = sewing_pages(bench.job, bench.log, frame, bench.changed())
        write_file(out, write_pdf(pages, f"{who(bench.job)}, sewing"))
        say(f"The page lies in {out}.")
