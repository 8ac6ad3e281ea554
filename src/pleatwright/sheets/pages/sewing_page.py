"""Where the sewing stands, on one page: figures, chart, the pleats still to be sewn."""

from __future__ import annotations

from dataclasses import replace

from pleatwright.bench.sewing import Hand, SewingLog, SewingWords, Standing, hand_of, standing
from pleatwright.findings import Finding
from pleatwright.order import Job
from pleatwright.sheets.drawing import Page
from pleatwright.sheets.flow import (
    Block,
    Column,
    Sheet,
    beside,
    heading,
    numbered,
    paragraph,
    sheets_of,
    shifted,
    stacked,
    table,
    white,
)
from pleatwright.sheets.look import BODY, SMALL, Frame
from pleatwright.sheets.pages.findings import finding_blocks, note_blocks
from pleatwright.sheets.pages.sewing_chart import sewing_chart

GAP = 0.3


def sewing_pages(job: Job, log: SewingLog, frame: Frame, more: tuple[Finding, ...] = ()) -> tuple[Page, ...]:
    """The sheets as pages; at their foot the plan that the log's figures are from, whatever came after."""
    plan = replace(job, version=log.started.plan)
    return numbered(plan, frame, sewing_sheets(job, log, frame, more))


def sewing_sheets(
    job: Job, log: SewingLog, frame: Frame, more: tuple[Finding, ...] = ()
) -> tuple[Sheet, ...]:
    """Where a log stands; one that has only begun is a page to take to the bench.  `more`: other findings."""
    sewing = job.request.settings.sewing
    hand, now = hand_of(log, sewing), standing(log, sewing)
    words = SewingWords(log, hand)
    blocks: list[Block] = [paragraph(words.where(now), frame.width, gap=0.08)]
    if now.hip.done:
        blocks += [*_levels(now, words, frame.width), white(0.12)]
    blocks += [
        heading("Too wide or too narrow so far"),
        sewing_chart(log, now, hand, frame.width),
        white(0.05),
    ]
    blocks += [paragraph(_under_chart(log, now, hand), frame.width, SMALL + 1, gap=0.1)]
    if words.changes(now):
        blocks.append(paragraph(words.changes(now), frame.width, bold=True, gap=0.1))
    blocks += _ahead(now, words, hand, frame.width)
    blocks += finding_blocks("To mind", (*now.findings, *more), frame.width)
    if now.gives:
        blocks.append(heading("What can give"))
        blocks += [
            paragraph(f"– {give.words[0].upper()}{give.words[1:]}.", frame.width) for give in now.gives
        ]
    blocks += note_blocks(words.notes(), frame.width)
    return sheets_of("Sewing log", blocks, frame)


def _levels(now: Standing, words: SewingWords, width: float) -> tuple[Block, ...]:
    first = 2.05
    each = (width - first) / 2
    columns = (
        Column("", first),
        *(Column(level.level, each, bold=True) for level in now.levels),
    )
    rows = zip(words.rows, *(words.figures(level) for level in now.levels), strict=True)
    return table(columns, rows, pad=0.025)


def _under_chart(log: SewingLog, now: Standing, hand: Hand) -> str:
    good = hand.long(float(hand.sewing.off_good))
    said = f"Tinted: within {good} of the plan."
    if now.hip.done:
        said += " Hollow: where it will end if sewn as told, with one standard deviation."
        for level in now.levels:
            more = float(level.target - sum(log.started.told.at(level.level)))
            if more:
                way = "wider" if more > 0 else "narrower"
                said += (
                    f" Since the fitting the {level.level} is to end {hand.long(more)} {way} than planned."
                )
        return said
    return f"{said} Measure after the pleats that are tinted below, and draw in what the tape says."


def _ahead(now: Standing, words: SewingWords, hand: Hand, width: float) -> tuple[Block, ...]:
    """The pleats still to be sewn, in two columns; those to measure after are tinted."""
    if not now.ahead:
        return ()
    half = (width - GAP) / 2
    narrow, sizes = 0.5, 0.68
    then = (half - narrow - 2 * sizes) / 2
    columns = tuple(
        Column(title, room, "end", figures=room != narrow, bold=room == sizes)
        for title, room in zip(words.ahead_headings, (narrow, sizes, sizes, then, then), strict=True)
    )
    every = hand.sewing.measure_every
    tall = (len(now.ahead) + 1) // 2
    parts = []
    for at in range(0, len(now.ahead), tall):
        part = now.ahead[at : at + tall]
        measured = frozenset(
            row
            for row in range(len(part))
            if (now.hip.done + at + row + 1) % every == 0 or at + row + 1 == len(now.ahead)
        )
        rows = [words.ahead_row(pleat) for pleat in part]
        parts.append(stacked(table(columns, rows, pad=0.02, strong=measured, size=BODY)))
    title = heading("Still to be sewn" if now.hip.done else "To be sewn")
    return (title, beside(parts[0], *shifted(parts[1:], half + GAP)), white(0.12))
