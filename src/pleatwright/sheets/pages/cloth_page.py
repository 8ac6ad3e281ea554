"""The cloth to order, where none has been bought or none of it fits; and what to note when it arrives."""

from __future__ import annotations

from pleatwright.layout import ClothToOrder, Plan
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Rect, Text
from pleatwright.sheets.flow import Block, Sheet, heading, paragraph, sheets_of, white
from pleatwright.sheets.look import ACCENT_PALE, BODY, GREY, Frame, baseline

BIG = 32.0
ON_ARRIVAL = (
    "length, against the invoice",
    "width, selvedge to selvedge",
    "sett along, over ten repeats",
    "sett across, over three repeats",
    "stripe nearest the left end, and the next one to its right",
    "left end to the centre of that stripe",
    "stripe nearest the selvedge, and the next one above",
    "selvedge to the centre of that stripe",
    "faults: where along, where across",
)


def cloth_sheets(job: Job, plan: Plan, frame: Frame) -> tuple[Sheet, ...]:
    """What to buy for the first option, or for the best kilt a longer piece would allow."""
    order = plan.to_order
    if order is None:
        return ()
    width, units = frame.width, job.units
    what = f" ({plan.chosen.title})" if plan.chosen is not None else ""
    intro = (
        f"The kilt{what} takes a strip of {write_yards(order.needed, units)}, whatever stripe the cloth "
        f"begins with, {write_length(job.sizes.total, units, job.grid)} high."
    )
    sett = write_length(job.request.sett_along, units, job.grid)
    reckoned = f"Reckoned with a repeat of {sett} along; ask the weaver, for another size changes the plan."
    blocks = (
        paragraph(intro, width, gap=0.16),
        _amounts(order, job, width),
        white(0.16),
        paragraph(_double(order), width, gap=0.1),
        *(() if job.request.tartan.weft.plain else (paragraph(reckoned, width, gap=0.1),)),
        white(0.2),
        heading("When it arrives, relaxed and laid flat"),
        *(_blank(text, width) for text in ON_ARRIVAL),
    )
    return sheets_of("Cloth to order", blocks, frame)


def _amounts(order: ClothToOrder, job: Job, width: float) -> Block:
    gap = 0.2
    wide = (width - gap) / 2
    items: list[Item] = []
    amounts = (("single width", order.single_width), ("double width", order.double_width))
    for i, (label, amount) in enumerate(amounts):
        x = i * (wide + gap)
        items.append(Rect(x, 0.0, wide, 1.15, fill=ACCENT_PALE))
        items.append(Text(x + wide / 2, 0.66, write_yards(amount, job.units), BIG, "middle", True))
        items.append(Text(x + wide / 2, 0.97, label, BODY, "middle", fill=GREY))
    return Block(1.15, tuple(items))


def _double(order: ClothToOrder) -> str:
    if order.joined:
        return (
            "Double width gives two strips, each ripped from its own selvedge; one is turned and joined to "
            "the other inside a fold, at the same place of the sett. What a join can lose is counted in."
        )
    return (
        "This sett has no mirror centre, so a strip turned round would not match: double width is reckoned "
        "without a join, one strip from its whole length."
    )


def _blank(text: str, width: float) -> Block:
    y = 0.08 + baseline(BODY)
    return Block(y + 0.1, (Text(0.0, y, text, BODY), Line(4.6, y + 0.03, width, y + 0.03, GREY, 0.5)))
