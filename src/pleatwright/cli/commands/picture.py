"""picture: the kilt as it would look, compared, and the sheet the client signs."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from pleatwright.cli.app import (
    OptionNumber,
    Ordered,
    app,
    one_of,
    options_of,
    order_command,
    refuse,
)
from pleatwright.cli.terminal import Progress, say
from pleatwright.errors import Problem


class WhatChoice(StrEnum):
    """Which picture."""

    BACK = "back"
    FRONT = "front"
    WAIST = "waist"
    ABOVE = "above"
    OPTIONS = "options"
    SHADES = "shades"
    TARTAN = "tartan"
    LINES = "lines"
    SIGN = "sign"
    ALL = "all"


class ShadeChoice(StrEnum):
    """Shades of dye."""

    MODERN = "modern"
    ANCIENT = "ancient"
    WEATHERED = "weathered"
    MUTED = "muted"


@app.command()
@order_command
def picture(
    ordered: Ordered,
    option: OptionNumber = None,
    what: Annotated[
        WhatChoice, typer.Option(help="Which picture; all of them into a folder.")
    ] = WhatChoice.ALL,
    width: Annotated[int, typer.Option(min=300, max=8000, help="Width of a picture in pixels.")] = 1600,
    dpi: Annotated[
        int | None, typer.Option(min=30, max=2400, help="Pixels an inch, written into the file.")
    ] = None,
    shade: Annotated[ShadeChoice | None, typer.Option(help="Draw in this shade of dye.")] = None,
    svg: Annotated[bool, typer.Option("--svg", help="As SVG: back, front and above.")] = False,
    out: Annotated[
        Path | None,
        typer.Option(help="Folder for all pictures, file or folder for one; default: beside the order."),
    ] = None,
) -> None:
    """Draw the kilt: all pictures, or one of them, and the sheet the client signs.

    Example: pleatwright picture order.toml --what back --width 3000 --dpi 300
    """
    from dataclasses import replace

    from pleatwright.picture.compare import in_shade
    from pleatwright.shop import check_folder, write_file, write_folder
    from pleatwright.shop.picture_files import (
        VECTORS,
        PictureSize,
        What,
        picture_file,
        picture_files,
        picture_words,
    )

    whole = what is WhatChoice.ALL
    if svg and not whole and what.value not in VECTORS:
        allowed = f"is not drawn as SVG; {', '.join(VECTORS[:-1])} and {VECTORS[-1]} are"
        refuse(Problem("--what", what.value, allowed, "leave out --svg"))
    job = ordered.job
    options = options_of(job, ordered.path)
    chosen = one_of(options, ordered.path, option)
    if shade is not None:
        job = replace(job, request=in_shade(job.request, shade.value))
    size = PictureSize(width, dpi)
    if whole:
        folder = out or ordered.beside("pictures")
        check_folder(folder)
        with Progress() as progress:
            write_folder(folder, picture_files(job, options, chosen, size, progress.say, svg=svg))
        say(f"The pictures of option {chosen.number} lie in {folder}.")
        return
    wanted = What(what.value)
    name, content = picture_file(job, options, chosen, wanted, size, svg=svg)
    path = out or ordered.beside(name)
    if path.is_dir() or (out is not None and not path.suffix):
        path /= name
    write_file(path, content)
    say(f"{path}: {picture_words(job, options, chosen, wanted)}")
