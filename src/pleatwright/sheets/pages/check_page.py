"""The check before the rip: one page of blanks; what is expected is not printed, so that nobody copies it."""

from __future__ import annotations

from dataclasses import replace

from pleatwright.bench import Blank, Kind, Question, questions
from pleatwright.layout import Option
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Rect, Text
from pleatwright.sheets.flow import Block, Sheet, heading, paragraph, sheets_of, stacked
from pleatwright.sheets.lettering import width_of, wrapped
from pleatwright.sheets.look import ACCENT, BODY, GREY, HEADING, TITLE, Frame, baseline, line_height

BLANK = 1.55
"""Width of a blank to write a length in, inches."""
WIDE = 2.4
"""Width of one for stripes or places."""
ROW = 0.25
"""Height of a row with its blank: room for a pencil."""
INDENT = 0.3
OUTSIDE_UP = (
    "outside up, the selvedge towards you. Write what you find, not what the packet says; then run the check."
)
BOX = 0.2
VERDICT = 0.62


def check_sheets(job: Job, option: Option, frame: Frame) -> tuple[Sheet, ...]:
    """The form for the chosen option; where two strips are joined, a second page for when they are pinned."""
    asked = tuple(enumerate(questions(job, option), 1))
    pinned = any(blank.sewn for _, question in asked for blank in question.blanks)
    before = "Measure the chalked cloth again"
    sheets = _page("Check before the rip", f"{before}, {OUTSIDE_UP}", asked, frame, sewn=False)
    if pinned:
        before = "Pin the ripped strips as they will be sewn, and measure again"
        sheets += _page("Check before the join", f"{before}, {OUTSIDE_UP}", asked, frame, sewn=True)
    return sheets


def _page(
    title: str, intro: str, asked: tuple[tuple[int, Question], ...], frame: Frame, *, sewn: bool
) -> tuple[Sheet, ...]:
    """One page with the blanks that are filled in at one time."""
    blocks = [paragraph(intro, frame.width, BODY, gap=0.05)]
    for number, question in asked:
        blanks = tuple(blank for blank in question.blanks if blank.sewn == sewn)
        if blanks:
            blocks.append(_question(number, replace(question, blanks=blanks), frame.width))
    blocks.append(_verdict(frame.width))
    return sheets_of(title, blocks, frame)


def _question(number: int, question: Question, width: float) -> Block:
    title = heading(f"{number}  {question.title}", gap=0.0)
    wide = INDENT + width_of(question.title, HEADING, bold=True) + 0.2
    why = wrapped(question.why, width - wide, BODY)
    step = line_height(BODY)
    items: list[Item] = [*title.items]
    items += [Text(wide, baseline(HEADING) + i * step, line, BODY, fill=GREY) for i, line in enumerate(why)]
    height = max(title.height, len(why) * step)
    blocks = [Block(height, tuple(items))]
    blocks += [_row(blank, width) for blank in question.blanks]
    return Block(sum(block.height for block in blocks), stacked(blocks).items, gap=0.045)


def _row(blank: Blank, width: float) -> Block:
    base, items = ROW - 0.06, list[Item]()
    room = WIDE if blank.kind in (Kind.STRIPES, Kind.PLACES) else BLANK
    if blank.kind is Kind.CHOICE:
        x = width
        for choice in reversed(blank.choices):
            x -= width_of(choice, BODY)
            items.append(Text(x, base, choice, BODY))
            x -= BOX + 0.08
            items.append(Rect(x, base - BOX + 0.03, BOX, BOX, stroke=GREY, weight=0.8))
            x -= 0.25
        room = width - x
    else:
        items.append(Line(width - room, base + 0.03, width, base + 0.03, GREY, 0.8))
    asked = wrapped(blank.ask, width - room - INDENT - 0.1, BODY)
    step = line_height(BODY)
    items += [Text(INDENT, base + i * step, line, BODY) for i, line in enumerate(asked)]
    return Block(ROW + (len(asked) - 1) * step, tuple(items))


def _verdict(width: float) -> Block:
    """GO or STOP, with initials and day; the plan's version is stamped below."""
    middle = VERDICT / 2 + 0.1
    size = TITLE * 0.85
    items: list[Item] = [Rect(0.0, 0.1, width, VERDICT, stroke=ACCENT, weight=1.6)]
    x = 0.2
    for word in ("GO", "STOP"):
        items.append(Rect(x, middle - 0.15, 0.3, 0.3, stroke=ACCENT, weight=1.4))
        items.append(Text(x + 0.42, middle + 0.1, word, size, bold=True))
        x += 0.75 + width_of(word, size, bold=True)
    for label, room in (("initials", 1.0), ("day", 1.2)):
        items.append(Text(x, middle + 0.1, label, BODY, fill=GREY))
        x += width_of(label, BODY) + 0.1
        items.append(Line(x, middle + 0.12, x + room, middle + 0.12, GREY, 0.8))
        x += room + 0.2
    return Block(VERDICT + 0.1, tuple(items))
