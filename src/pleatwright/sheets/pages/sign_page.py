"""One page for the client to sign: the kilt in pictures, the choice in words, what is agreed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from pleatwright.cloth import MEET
from pleatwright.layout import Option
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.pleats import Form, Shows
from pleatwright.sheets.drawing import Item, Line, Picture, Text, png_size
from pleatwright.sheets.flow import (
    Block,
    Sheet,
    beside,
    heading,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    white,
)
from pleatwright.sheets.lettering import wrapped
from pleatwright.sheets.look import BODY, GREY, SMALL, Frame, baseline, line_height
from pleatwright.sheets.pages.options_page import LINES_NAMED
from pleatwright.wearer import LevelName

LABEL = 0.95
GAP, GAP_MOST = 0.22, 0.5
CAPTION = 0.22
UPPER = 0.64
"""Share of the pictures' height that back and front have; the rest is for waist and tartan."""
AGREED = (
    "I have seen these pictures and agree to a kilt pleated and opening as they show, in this tartan and of "
    "this length. I know that colours on paper and on a screen differ from those of the cloth, and that "
    "nothing of this can be changed once the cloth is ripped."
)


@dataclass(frozen=True)
class SignPictures:
    """The kilt as PNG from behind and from the front, the waist enlarged, and the flat tartan."""

    back: bytes
    front: bytes
    waist: bytes
    tartan: bytes


def sign_sheets(job: Job, option: Option, pictures: SignPictures, frame: Frame) -> tuple[Sheet, ...]:
    """One page: pictures as large as the words leave room for, the words, lines for names and dates."""
    width = frame.width
    words = (
        white(0.06),
        heading("The choice in words"),
        *_words(job, option, width),
        white(0.1),
        heading("Agreed"),
        paragraph(AGREED, width, gap=0.34),
        _signatures(job, width),
    )
    left = frame.height - stacked(words).height
    high = left - 2 * (CAPTION + GAP / 2)
    tartan = job.request.tartan.name or "the tartan"
    upper = _row((("from behind", pictures.back), ("from the front", pictures.front)), width, high * UPPER)
    lower = _row(
        (("the waist from behind, enlarged", pictures.waist), (f"{tartan}, flat", pictures.tartan)),
        width,
        high * (1 - UPPER),
    )
    return sheets_of("Your kilt, to be signed", (upper, lower, *words), frame)


def _row(pictures: tuple[tuple[str, bytes], ...], width: float, high: float) -> Block:
    """Pictures side by side, all of one height, across the page; their captions below."""
    shapes = [png_size(png) for _, png in pictures]
    wide = sum(across / up for across, up in shapes)
    count = len(pictures) - 1
    tall = min(high, (width - GAP * count) / wide)
    gap = min((width - tall * wide) / count, GAP_MOST)
    items: list[Item] = []
    x = (width - tall * wide - gap * count) / 2
    for (caption, png), (across, up) in zip(pictures, shapes, strict=True):
        each = tall * across / up
        items.append(Picture(x, 0.0, each, tall, png))
        items.append(Text(x + each / 2, tall + CAPTION - 0.06, caption, SMALL, "middle", fill=GREY))
        x += each + gap
    return Block(tall + CAPTION, tuple(items), gap=GAP / 2)


def _words(job: Job, option: Option, width: float) -> tuple[Block, ...]:
    """The choice: what is short two by two, what may be long below it."""

    def length(inches: Fraction | float) -> str:
        return write_length(inches, job.units, job.grid)

    request, sizes, half = job.request, job.sizes, width / 2
    hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
    shown = "panels" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveals"
    short = (
        ("client", job.client),
        ("made by", job.shop),
        ("tartan", request.tartan.name),
        ("opens on", f"the wearer's {option.opens_on}"),
        ("length", f"{length(sizes.drop + sizes.rise)}, rise {length(sizes.rise)}"),
        ("plan", f"{job.version}, option {option.number}"),
    )
    long = (
        ("pleats", option.title),
        (shown, f"{length(hip.reveal)} at the hip line, {length(strap.reveal)} at the strap line"),
        ("stripes", "" if option.shows is Shows.PLAIN else _stripes(option)),
        ("at risk", _at_risk(option)),
        ("join", _join(job, option)),
    )
    pairs = [_fact(label, text or "–", half - GAP) for label, text in short]
    rows = [
        replace(beside(left, *shifted((right,), half)), keep=True)
        for left, right in zip(pairs[::2], pairs[1::2], strict=True)
    ]
    return (*rows, *(_fact(label, text, width) for label, text in long if text))


def _stripes(option: Option) -> str:
    apron = option.over_apron.stripe
    if option.same_middle:
        return f"{option.middle} in the middle of the back and of the apron"
    return f"{option.middle} in the middle of the back, {apron} in the middle of the apron"


def _at_risk(option: Option) -> str:
    """What the client has to know of lines that the pleats spoil; nothing where they spoil none."""
    names = [line.name for line in option.lines_at_risk[:LINES_NAMED]]
    more = len(option.lines_at_risk) - len(names)
    rest = f" and {more} more" if more else ""
    return f"not whole on every pleat: {'; '.join(names)}{rest}" if names else ""


def _join(job: Job, option: Option) -> str:
    """What the client has to know of a seam in the cloth; nothing where it is one strip."""
    join = option.join
    if join is None:
        return ""
    sewn = "of two strips, the seam hidden in a fold"
    if abs(join.horizontals_off) <= MEET:
        return f"{sewn}; the lines across run on"
    off = write_length(abs(join.horizontals_off), job.units, job.grid)
    if join.hem:
        return (
            f"{sewn}; the lines across would miss by {off}, so one strip has a hem of that depth: they run on"
        )
    return f"{sewn}; the lines across miss each other there by {off}"


def _fact(label: str, text: str, width: float) -> Block:
    lines = wrapped(text, width - LABEL, BODY)
    step = line_height(BODY)
    items: list[Item] = [Text(0.0, baseline(BODY), label, BODY, fill=GREY)]
    items += [Text(LABEL, i * step + baseline(BODY), line, BODY) for i, line in enumerate(lines)]
    return Block(len(lines) * step, tuple(items), keep=True)


def _signatures(job: Job, width: float) -> Block:
    """Two lines to sign on, each with its date."""
    items: list[Item] = []
    gap, date = 0.3, 0.95
    each = (width - gap) / 2
    for x, who in ((0.0, job.client or "client"), (each + gap, job.shop or "kiltmaker")):
        items += [
            Line(x, 0.0, x + each - date - 0.12, 0.0, GREY, 0.7),
            Line(x + each - date, 0.0, x + each, 0.0, GREY, 0.7),
            *(
                Text(x, baseline(SMALL) + i * line_height(SMALL), line, SMALL, fill=GREY)
                for i, line in enumerate(wrapped(who, each - date - 0.12, SMALL))
            ),
            Text(x + each - date, baseline(SMALL), "date", SMALL, fill=GREY),
        ]
    return Block(line_height(SMALL) * 2, tuple(items))
