"""How the sett wanders along a piece, as a drawing for the page: places in the drawing's own units."""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.bench.readings import sett_size_told
from pleatwright.cloth import drift
from pleatwright.lengths import MILLIMETRE
from pleatwright.order import Job

WIDE, HIGH = 640.0, 220.0
LEFT, BELOW = 84.0, 34.0
ROOM = 0.0025
"""Share of the sett above and below the plotted sizes."""


@dataclass(frozen=True)
class Tick:
    """A line of the grid and its figure."""

    at: float
    words: str


@dataclass(frozen=True)
class Plot:
    """The sett's local size against the place along the piece, and the same in words."""

    width: float
    height: float
    left: float
    bottom: float
    points: tuple[tuple[float, float], ...]
    stated: float
    along: tuple[Tick, ...]
    sizes: tuple[Tick, ...]
    words: str

    @property
    def line(self) -> str:
        """The points as SVG writes them."""
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in self.points)


def plot_of(job: Job) -> Plot | None:
    """The plot of a job's readings; None where there are too few."""
    piece = job.request.piece
    found = None if piece is None else drift(piece.readings, job.request.tartan.weft)
    if piece is None or found is None:
        return None
    sett, length = float(job.request.sett_along), float(piece.length)
    low, high = min(found.least, sett) - ROOM * sett, max(found.greatest, sett) + ROOM * sett
    bottom = HIGH - BELOW

    def x_of(at: float) -> float:
        return LEFT + (WIDE - LEFT - 10) * at / length

    def y_of(size: float) -> float:
        return 12 + (bottom - 12) * (high - size) / (high - low)

    metric = job.units == "metric"
    step = float(500 * MILLIMETRE) if metric else 36.0
    along = tuple(
        Tick(x_of(i * step), f"{i / 2:g} m" if metric else f"{i} yd") for i in range(int(length / step) + 1)
    )
    named = {sett_size_told(size, job): size for size in (found.least, found.greatest)}
    sizes = tuple(Tick(y_of(size), words) for words, size in named.items())
    least, most, mean, stated = (
        sett_size_told(size, job) for size in (found.least, found.greatest, found.mean, sett)
    )
    words = f"{least} – {most}, {mean}, {stated}"
    points = tuple((x_of(one.at), y_of(one.size)) for one in found.sizes)
    return Plot(WIDE, HIGH, LEFT, bottom, points, y_of(sett), along, sizes, words)
