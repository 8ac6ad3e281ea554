"""Pictures and files: made when they are asked for; no path of a request names a file on the disk."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Mapping
from typing import Annotated, Literal

from fastapi import APIRouter, Query
from fastapi.responses import Response

from pleatwright.errors import InputError
from pleatwright.order import Paper, spelt
from pleatwright.sheets import write_pdf
from pleatwright.sheets.flow import numbered
from pleatwright.sheets.guide import guide_pdf
from pleatwright.sheets.look import frame_of, who
from pleatwright.sheets.pages.care_page import care_sheets
from pleatwright.sheets.pages.closing_page import closing_sheets
from pleatwright.sheets.pages.gauges_page import gauges_pdf
from pleatwright.sheets.pages.measures_page import measures_sheets
from pleatwright.sheets.pages.measuring_form import measuring_form
from pleatwright.sheets.pages.sewing_page import sewing_pages
from pleatwright.shop import packet_files
from pleatwright.shop.store import OrderCard
from pleatwright.shop.template_files import template_files
from pleatwright.web.document import data_of, text_of
from pleatwright.web.errors import NotYet, Refused
from pleatwright.web.house import House, HouseOf, Shop
from pleatwright.web.orders import Pinned, in_force
from pleatwright.web.routes.sewing import log_of
from pleatwright.web.texts import mistake

router = APIRouter()

PDF, PNG, ZIP, TOML = "application/pdf", "image/png", "application/zip", "application/toml"
WIDTHS = (420, 760, 1600)
"""Widths in pixels that a picture is drawn in; what is asked for is brought up to one of them."""
Width = Annotated[int, Query(ge=1, le=1600)]


def attached(content: bytes, kind: str, name: str) -> Response:
    """A file to keep; its name holds nothing that a header or a disk could trip over."""
    safe = re.sub(r"[^A-Za-z0-9._-]+", "-", name).strip("-.") or "file"
    shown = "inline" if kind == PDF else "attachment"
    return Response(content, media_type=kind, headers={"content-disposition": f'{shown}; filename="{safe}"'})


def _png(content: bytes) -> Response:
    return Response(content, media_type=PNG, headers={"cache-control": "private, max-age=86400, immutable"})


@router.get("/pictures/{key}/{option}/{side}.png")
def option_picture(
    house: HouseOf, key: str, option: int, side: Literal["back", "front"], w: Width = 420
) -> Response:
    """One option from behind or in front; the key is on the page that shows it."""
    worked = house.desk.known(key)
    found = None if worked is None else worked.option(option)
    if worked is None or found is None or found.number != option:
        raise Refused(404)
    wide = next(each for each in WIDTHS if each >= w)
    return _png(house.desk.picture(worked, found, side, wide))


@router.get("/pictures/{key}/cloth.png")
def cloth_picture(house: HouseOf, key: str) -> Response:
    """A sett and a half of flat cloth."""
    job = house.desk.known_job(key)
    if job is None:
        raise Refused(404)
    return _png(house.desk.cloth(key, job))


Maker = Callable[[House, OrderCard, Pinned], bytes]


def _packet(_: House, __: OrderCard, found: Pinned) -> bytes:
    return packet_files(found.worked.job, found.worked.plan, _quietly)["packet.pdf"]


def _everything(_: House, __: OrderCard, found: Pinned) -> bytes:
    return zipped(packet_files(found.worked.job, found.worked.plan, _quietly))


def _templates(_: House, __: OrderCard, found: Pinned) -> bytes:
    return zipped(template_files(found.worked.job, found.option))


def _gauges(_: House, __: OrderCard, found: Pinned) -> bytes:
    return gauges_pdf(found.worked.job, found.option)


def _guide(_: House, __: OrderCard, found: Pinned) -> bytes:
    return guide_pdf(found.worked.job, found.option)


def _closing(_: House, __: OrderCard, found: Pinned) -> bytes:
    job, frame = found.worked.job, frame_of(found.worked.job)
    sheets = (*closing_sheets(job, found.option, frame), *measures_sheets(job, found.option, frame))
    return write_pdf(numbered(job, frame, sheets), f"{who(job)}, closing")


def _care(_: House, __: OrderCard, found: Pinned) -> bytes:
    job, frame = found.worked.job, frame_of(found.worked.job)
    return write_pdf(numbered(job, frame, care_sheets(job, found.option, frame)), f"{who(job)}, care")


def _sewing(house: House, card: OrderCard, found: Pinned) -> bytes:
    log = log_of(house, card.id)
    if log is None:
        raise NotYet("sewing", mistake("no_log", "sewing"))
    job, frame = found.worked.job, frame_of(found.worked.job)
    return write_pdf(sewing_pages(job, log, frame), f"{who(job)}, sewing")


PRINTED: Mapping[str, Maker] = {
    "packet.pdf": _packet,
    "packet.zip": _everything,
    "templates.zip": _templates,
    "gauges.pdf": _gauges,
    "guide.pdf": _guide,
    "closing.pdf": _closing,
    "care-card.pdf": _care,
    "sewing.pdf": _sewing,
}
"""What can be printed of the plan in force, by its name in the address."""


@router.get("/orders/{number}/print/{what}")
def printed(house: HouseOf, number: int, what: str) -> Response:
    """A file of the plan in force."""
    card = house.card(number)
    make = PRINTED.get(what)
    if make is None:
        raise Refused(404)
    content = make(house, card, in_force(house, card))
    return attached(content, PDF if what.endswith(".pdf") else ZIP, f"{card.reference}-{what}")


@router.get("/orders/{number}/order.toml")
def order_file(house: HouseOf, number: int) -> Response:
    """The order as the file that the command line reads."""
    card = house.card(number)
    return attached(_taken_out(card.document, house.shop()).encode(), TOML, f"{card.reference}-order.toml")


def _taken_out(document: str, shop: Shop) -> str:
    """An order's text as it is read without this shop: with its units, the shop's table and settings.

    What cannot be read, or is no order for a kilt, stays as it is.
    """
    try:
        data = data_of(document)
    except InputError:
        return document
    if "client" not in data:
        return document
    units = shop.units_of(data)
    ours = shop.data if shop.units == units else spelt(shop.data, shop.units)
    settings = {
        group: {**ours.get("settings", {}).get(group, {}), **data.get("settings", {}).get(group, {})}
        for group in {**ours.get("settings", {}), **data.get("settings", {})}
    }
    made = {**data, "shop": {**ours.get("shop", {}), **data.get("shop", {}), "units": units}}
    return text_of(made | ({"settings": settings} if settings else {}))


@router.get("/form.pdf")
def blank_form(house: HouseOf) -> Response:
    """A form to measure by, for clients far away."""
    shop = house.shop()
    paper: Paper = "Letter" if shop.table.get("paper") == "Letter" else "A4"
    pages = measuring_form(shop.name, shop.units, paper)
    return attached(write_pdf(pages, "Measuring for a kilt"), PDF, "measuring-form.pdf")


def zipped(files: Mapping[str, bytes]) -> bytes:
    """The files as one archive; the same files give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0)), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _quietly(_: str) -> None:
    """Nobody listens to how a packet gets on."""
