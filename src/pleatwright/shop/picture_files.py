"""The files of the pictures, made in memory: PNG of a size and resolution, SVG, PDF, and each in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from pleatwright.layout import Option, Request
from pleatwright.order import Job
from pleatwright.picture import (
    alt_text,
    back_picture,
    back_vector,
    front_picture,
    front_vector,
    png_bytes,
    tartan_picture,
)
from pleatwright.picture.compare import beside_tartan, options_picture, shades_picture, waist_picture
from pleatwright.picture.risk_overlay import risk_picture
from pleatwright.picture.words import OfOption, options_alt_text
from pleatwright.sheets import write_pdf
from pleatwright.sheets.flow import Sheet, numbered
from pleatwright.sheets.kilt_svg import kilt_page
from pleatwright.sheets.look import frame_of, who
from pleatwright.sheets.pages.sign_page import SignPictures, sign_sheets
from pleatwright.sheets.pages.top_view_page import top_view_sheets
from pleatwright.sheets.svg import write_svg
from pleatwright.shop.say import Say

if TYPE_CHECKING:
    from PIL.Image import Image


class What(StrEnum):
    """The pictures there are."""

    BACK = "back"
    FRONT = "front"
    WAIST = "waist"
    ABOVE = "above"
    OPTIONS = "options"
    SHADES = "shades"
    TARTAN = "tartan"
    LINES = "lines"
    SIGN = "sign"


DRAWN: dict[What, Callable[..., Image]] = {
    What.BACK: back_picture,
    What.FRONT: front_picture,
    What.WAIST: waist_picture,
    What.SHADES: shades_picture,
    What.TARTAN: beside_tartan,
    What.LINES: risk_picture,
}
"""Pictures of one option: called with it, the request and `width_px`."""
SAID: dict[What, OfOption] = {
    What.BACK: "back",
    What.FRONT: "front",
    What.WAIST: "waist",
    What.ABOVE: "above",
    What.SHADES: "shades",
    What.TARTAN: "tartan",
    What.LINES: "lines",
}
VECTORS = (What.BACK, What.FRONT, What.ABOVE)
"""Pictures that can be had as SVG."""
WORDS = "pictures.txt"
"""The file that says every picture in words."""
SIGN_DPI = 260
"""Pixels an inch of the sheet to sign, where it stands alone."""


@dataclass(frozen=True)
class PictureSize:
    """Width in pixels, and pixels an inch as written into the file (None: not written)."""

    width_px: int = 1600
    dpi: float | None = None


def picture_file(
    job: Job, options: Sequence[Option], option: Option, what: What, size: PictureSize, *, svg: bool = False
) -> tuple[str, bytes]:
    """One picture's file name and content; raises ValueError for an SVG of what has none."""
    request, wide = job.request, size.width_px
    if svg:
        return f"{what}.svg", _svg(job, option, what).encode()
    if what is What.ABOVE:
        return f"{what}.pdf", _pdf(job, top_view_sheets(job, option, frame_of(job)))
    if what is What.SIGN:
        pictures = sign_pictures(option, request, SIGN_DPI)
        return f"{what}.pdf", _pdf(job, sign_sheets(job, option, pictures, frame_of(job)))
    image = (
        options_picture(options, request, width_px=wide)
        if what is What.OPTIONS
        else DRAWN[what](option, request, width_px=wide)
    )
    return f"{what}.png", png_bytes(image, size.dpi)


def picture_files(
    job: Job, options: Sequence[Option], option: Option, size: PictureSize, say: Say, *, svg: bool = False
) -> dict[str, bytes]:
    """Every picture by file name, with `svg` the vector ones besides, and all of them in words."""
    files, words = {}, []
    for what in What:
        say(f"drawing {what}")
        name, content = picture_file(job, options, option, what, size)
        files[name] = content
        words.append(f"{name}: {picture_words(job, options, option, what)}\n")
        if svg and what in VECTORS:
            name, content = picture_file(job, options, option, what, size, svg=True)
            files[name] = content
            words.append(f"{name}: {picture_words(job, options, option, what)}\n")
    files[WORDS] = "\n".join(words).encode()
    return files


def picture_words(job: Job, options: Sequence[Option], option: Option, what: What) -> str:
    """One picture in words."""
    if what is What.OPTIONS:
        return options_alt_text(options, job.request)
    if what is What.SIGN:
        back, front = alt_text(option, job.request, "back"), alt_text(option, job.request, "front")
        return f"A sheet to sign. {back} {front}"
    return alt_text(option, job.request, SAID[what])


def _svg(job: Job, option: Option, what: What) -> str:
    if what is What.ABOVE:
        return write_svg(numbered(job, frame_of(job), top_view_sheets(job, option, frame_of(job)))[0])
    if what not in VECTORS:
        raise ValueError(f"{what} is not drawn as SVG")
    patches = (back_vector if what is What.BACK else front_vector)(option, job.request)
    return write_svg(kilt_page(patches, picture_words(job, (), option, what)))


def _pdf(job: Job, sheets: Sequence[Sheet]) -> bytes:
    return write_pdf(numbered(job, frame_of(job), sheets), f"{who(job)}, plan {job.version}")


def sign_pictures(option: Option, request: Request, inch: int) -> SignPictures:
    """The pictures of the sheet to sign, `inch` pixels to an inch of it."""
    piece = request.piece
    across = request.sett_across if piece is None else piece.sett_across
    return SignPictures(
        back=png_bytes(back_picture(option, request, width_px=4 * inch)),
        front=png_bytes(front_picture(option, request, width_px=4 * inch)),
        waist=png_bytes(
            waist_picture(option, request, width_px=5 * inch, cut=2, only_middle=True, letters_px=inch // 8)
        ),
        tartan=png_bytes(
            tartan_picture(
                request.tartan,
                width_px=2 * inch,
                setts=2.0,
                sett_sizes=(float(request.sett_along), float(across)),
            )
        ),
    )
