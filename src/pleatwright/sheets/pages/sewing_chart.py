"""A chart of how far the sewing is ahead or behind, pleat by pleat; an empty one to draw in with a pencil."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from pleatwright.bench.sewing import Hand, Outlook, SewingLog, Standing
from pleatwright.lengths import MILLIMETRE
from pleatwright.sheets.drawing import INK, Circle, Item, Line, Polyline, Rect, Text
from pleatwright.sheets.flow import Block
from pleatwright.sheets.lettering import CAPITALS, POINTS
from pleatwright.sheets.look import ACCENT_PALE, GREY, HAIR, SMALL, WHITE
from pleatwright.wearer import LevelName

HEIGHT = 2.15
LEFT, RIGHT, BELOW, ABOVE = 0.62, 0.75, 0.42, 0.22
COLOURS = {LevelName.HIP: "#0B5394", LevelName.STRAP: "#B35900"}
"""Blue and orange, told apart by every eye; the marks differ too: round at the hip line, else square."""
MARK = 0.05
LINES_MOST = 5
"""Most lines on either side of the plan."""


@dataclass(frozen=True)
class _Frame:
    """Where pleats and inches lie on the paper: `tall` inches of kilt from the middle to the top."""

    width: float
    pleats: int
    tall: float

    def x(self, pleats: float) -> float:
        return LEFT + (self.width - LEFT - RIGHT) * pleats / self.pleats

    def y(self, off: float) -> float:
        half = (HEIGHT - ABOVE - BELOW) / 2
        return ABOVE + half - half * off / self.tall


def sewing_chart(log: SewingLog, now: Standing, hand: Hand, width: float) -> Block:
    """By how much the tape said too wide (up) or too narrow after so many pleats, and where it will end."""
    pleats = now.hip.pleats
    read = {level.level: _read(log, level.level) for level in now.levels}
    wide = [abs(off) for points in read.values() for _, off in points]
    ends = {
        level.level: level.forecast - float(sum(log.started.told.at(level.level))) for level in now.levels
    }
    if now.hip.done:
        wide += [abs(ends[level.level]) + level.forecast_sd for level in now.levels]
    step = _line_step(max(wide, default=0.0), hand)
    lines = max(2, ceil(max([*wide, 2 * float(hand.sewing.off_good)]) / float(step) - 1e-9))
    frame = _Frame(width, pleats, float(step) * (lines + 0.3))
    items = [*_ground(frame, step, lines, hand)]
    for level in now.levels:
        items += _level(frame, level, read[level.level], ends[level.level], now.hip.done)
    items += _key(frame)
    return Block(HEIGHT, tuple(items))


def _read(log: SewingLog, level: LevelName) -> list[tuple[int, float]]:
    """Pleats sewn and by how much they were off the plan, of the readings from where sewing began."""
    planned, pleats = log.started.told.at(level), len(log.started.told.at(level))
    found = {}
    for _, one in log.readings():
        width = one.hip if level is LevelName.HIP else one.strap
        begins = one.first == 1 if log.from_over_apron else one.last == pleats
        if width is not None and begins:
            off = float(width - sum(planned[one.first - 1 : one.last]))
            found[one.last - one.first + 1] = off
    return sorted(found.items())


def _line_step(widest: float, hand: Hand) -> Fraction:
    """From line to line: one of the tape's own divisions, few enough to be read."""
    metric = hand.units == "metric"
    steps = (
        [n * MILLIMETRE for n in (2, 5, 10, 20)] if metric else [Fraction(n, 16) for n in (1, 2, 4, 8, 16)]
    )
    return next((step for step in steps if widest <= LINES_MOST * step), steps[-1])


def _ground(frame: _Frame, step: Fraction, lines: int, hand: Hand) -> Iterator[Item]:
    left, right = frame.x(0), frame.x(frame.pleats)
    good = float(hand.sewing.off_good)
    yield Rect(left, frame.y(good), right - left, frame.y(-good) - frame.y(good), fill=ACCENT_PALE)
    every = hand.sewing.measure_every
    for pleats in sorted({*range(0, frame.pleats + 1, every), frame.pleats}):
        x = frame.x(pleats)
        yield Line(x, ABOVE, x, HEIGHT - BELOW, HAIR, 0.4)
        if pleats == frame.pleats or frame.pleats - pleats > every / 2:
            yield Text(x, HEIGHT - BELOW + 0.16, str(pleats), SMALL, "middle", fill=GREY)
    for line in range(-lines, lines + 1):
        y = frame.y(float(step) * line)
        yield Line(left, y, right, y, INK if line == 0 else HAIR, 0.8 if line == 0 else 0.4)
        said = "plan" if line == 0 else hand.long(float(step) * line)
        yield Text(left - 0.08, y + SMALL * CAPITALS / POINTS / 2, said, SMALL, "end", fill=GREY)
    middle = (left + right) / 2
    yield Text(middle, HEIGHT - 0.1, "pleats sewn", SMALL, "middle", fill=GREY)
    yield Text(left, ABOVE - 0.08, "too wide", SMALL, fill=GREY)
    yield Text(left, HEIGHT - 0.1, "too narrow", SMALL, fill=GREY)


def _level(
    frame: _Frame, level: Outlook, read: list[tuple[int, float]], ends: float, done: int
) -> Iterator[Item]:
    """`ends`: how far off the plan it will end, which a fitting may have asked for."""
    colour = COLOURS[level.level]
    points = [(frame.x(0), frame.y(0)), *((frame.x(pleats), frame.y(off)) for pleats, off in read)]
    if len(points) > 1:
        yield Polyline(tuple(points), colour, 1.3)
    for x, y in points[1:]:
        yield _mark(level.level, x, y)
    if not done:
        return
    end = frame.x(frame.pleats) + (0.1 if level.level is LevelName.HIP else 0.3)
    if level.done < level.pleats:
        yield Line(*points[-1], end, frame.y(ends), colour, 0.9, (3.0, 2.0))
    for off in (ends - level.forecast_sd, ends + level.forecast_sd):
        yield Line(end - 0.05, frame.y(off), end + 0.05, frame.y(off), colour, 0.9)
    yield Line(
        end,
        frame.y(ends - level.forecast_sd),
        end,
        frame.y(ends + level.forecast_sd),
        colour,
        0.9,
    )
    yield _mark(level.level, end, frame.y(ends), hollow=True)


def _mark(level: LevelName, x: float, y: float, *, hollow: bool = False) -> Item:
    colour = COLOURS[level]
    fill = WHITE if hollow else colour
    if level is LevelName.HIP:
        return Circle(x, y, MARK, colour, 1.0, fill)
    return Rect(x - MARK, y - MARK, 2 * MARK, 2 * MARK, colour, 1.0, fill)


def _key(frame: _Frame) -> Iterator[Item]:
    x = frame.x(frame.pleats) - 2.1
    for level in COLOURS:
        yield _mark(level, x, ABOVE - 0.11)
        yield Text(x + 0.12, ABOVE - 0.08, level, SMALL)
        x += 1.1
