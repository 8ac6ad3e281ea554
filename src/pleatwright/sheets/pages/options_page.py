"""The options compared: the back of each, its figures in words, why it stands where it stands."""

from __future__ import annotations

from pleatwright.layout import Option, Plan, sensitivities
from pleatwright.lengths import write_length, write_yards
from pleatwright.order import Job
from pleatwright.pleats import Form, Shows
from pleatwright.sheets.drawing import Item, Line, Picture, Rect, Text, moved, png_size
from pleatwright.sheets.flow import Block, Sheet, paragraph, sheets_of
from pleatwright.sheets.lettering import wrapped
from pleatwright.sheets.look import (
    ACCENT,
    GREY,
    HAIR,
    HEADING,
    SMALL,
    WHITE,
    Frame,
    baseline,
    line_height,
)
from pleatwright.wearer import LevelName

REASONED = 3
"""So many options have all their reasons printed; the others where they stand."""
PICTURE = 1.8
PICTURE_TALLEST = 1.9
LABEL = 0.82
FIGURES = 10.0
LINES_NAMED = 2


def options_sheets(job: Job, plan: Plan, backs: tuple[bytes, ...], frame: Frame) -> tuple[Sheet, ...]:
    """Every option of the plan, best first; `backs` holds one PNG for each, or none at all."""
    pictures: tuple[bytes | None, ...] = backs or (None,) * len(plan.options)
    counted = "1 kilt fits" if plan.fitting == 1 else f"{plan.fitting} kilts fit"
    intro = (
        f"{counted} the cloth and the limits, of {plan.searched} searched; the best of each kind is shown. "
        "Points are what is left of 100; a score holds within one kind, a standing across kinds."
    )
    blocks = [paragraph(intro, frame.width, gap=0.12)]
    bear = [one.words for one in sensitivities(job.request, plan)] or [""] * len(plan.options)
    for option, picture, words in zip(plan.options, pictures, bear, strict=True):
        blocks.append(_card(option, picture, words, job, frame.width))
    return sheets_of("The kilts this cloth allows", blocks, frame)


def _card(option: Option, picture: bytes | None, bears: str, job: Job, width: float) -> Block:
    items: list[Item] = [
        Rect(0.0, 0.02, 0.36, 0.3, fill=ACCENT),
        Text(0.18, 0.02 + 0.215, str(option.number), HEADING, "middle", True, WHITE),
    ]
    y = 0.05
    for line in wrapped(option.title, width - 0.5, HEADING, bold=True):
        items.append(Text(0.48, y + baseline(HEADING), line, HEADING, bold=True))
        y += line_height(HEADING)
    y += 0.08
    left, bottom = 0.0, y
    if picture is not None:
        pixels_wide, pixels_high = png_size(picture)
        scale = min(PICTURE / pixels_wide, PICTURE_TALLEST / pixels_high)
        wide, high = pixels_wide * scale, pixels_high * scale
        items.append(Picture(0.0, y + 0.04, wide, high, picture))
        left, bottom = PICTURE + 0.2, y + high
    for label, text in _figures(option, job):
        items.append(Text(left, y + baseline(FIGURES), label, SMALL, fill=GREY))
        for line in wrapped(text, width - left - LABEL, FIGURES):
            items.append(Text(left + LABEL, y + baseline(FIGURES), line, FIGURES))
            y += line_height(FIGURES)
        y += 0.025
    y += 0.07
    reasons = option.reasons if option.number <= REASONED else option.reasons[-1:]
    for reason in (*reasons, *([bears] if bears and bears not in reasons else [])):
        block = paragraph(reason, width - left - 0.15, FIGURES)
        items.append(Text(left, y + baseline(FIGURES), "–", FIGURES, fill=ACCENT))
        items += moved(block.items, left + 0.15, y)
        y += block.height
    y = max(y, bottom) + 0.12
    items.append(Line(0.0, y, width, y, HAIR, 0.5))
    return Block(y, tuple(items), gap=0.12)


def _figures(option: Option, job: Job) -> list[tuple[str, str]]:
    units, grid = job.units, job.grid
    hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
    shown = "panel" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveal"
    least, most = (write_length(depth, units, grid) for depth in (hip.depth_least, hip.depth_greatest))
    left = "" if option.cloth_left is None else f", {write_yards(option.cloth_left, units)} left over"
    return [
        (
            shown,
            f"{write_length(hip.reveal, units, grid)} at the hip line, "
            f"{write_length(strap.reveal, units, grid)} at the strap line",
        ),
        ("folds", f"{least} deep" if least == most else f"{least} to {most} deep"),
        ("cloth", f"{write_yards(option.cloth_used, units)}{left}"),
        ("pattern", _pattern(option)),
        ("at risk", _at_risk(option)),
        ("points", f"standing {option.standing:.1f}, score {option.score:.1f}"),
    ]


def _pattern(option: Option) -> str:
    if option.shows is Shows.PLAIN:
        return "plain cloth"
    said = [
        f"{100 * level.match:.0f}% at the {level.level}"
        for level in option.levels
        if level.match is not None and level.level is not LevelName.MID
    ]
    true = "true" if option.step is not None else "alike"
    return f"{true} over {', '.join(reversed(said))}" if said else "not judged"


def _at_risk(option: Option) -> str:
    if not option.lines_at_risk:
        return "no narrow line"
    named = [
        f"{line.name} ({len(line.pleats)} pleat{'s' if len(line.pleats) > 1 else ''})"
        for line in option.lines_at_risk[:LINES_NAMED]
    ]
    more = len(option.lines_at_risk) - len(named)
    return "; ".join(named) + (f"; and {more} more" if more else "")
