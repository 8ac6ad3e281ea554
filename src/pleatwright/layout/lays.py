"""The ways a piece can be laid for one kilt: one strip, the same turned end for end, or two strips joined."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pleatwright.cloth import (
    MEET,
    Joint,
    Piece,
    Run,
    blocked_along,
    horizontals_off,
    join_hems,
    joints,
    turnable,
    turned,
)
from pleatwright.sett import Tartan
from pleatwright.trade import Settings
from pleatwright.wearer import Sizes


@dataclass(frozen=True)
class Lay:
    """One way of laying the cloth, left to right as the strip lies once it is sewn.

    `turned`: the whole piece lies end for end.  `off`: inches by which the second strip's horizontals lie
    higher than the first one's.  `mirrored`: the plan goes from the right, for a kilt that opens on the left.
    `hems`: inches by which first and second strip are ripped higher and hemmed, so that horizontals meet.
    """

    strip: Run | None
    joint: Joint | None
    turned: bool
    off: float
    mirrored: bool
    hems: tuple[float, float] = (0.0, 0.0)

    @property
    def window(self) -> tuple[float, float] | None:
        """Thread positions of the plan between which the seam may lie; None for a single strip."""
        if self.joint is None:
            return None
        low, high = self.joint.low, self.joint.high
        return (-high, -low) if self.mirrored else (low, high)

    @property
    def thread_sizes(self) -> tuple[float, float]:
        """Inches of the least and of the greatest thread anywhere on the cloth."""
        strips = [self.strip] if self.joint is None else [self.joint.first, self.joint.second]
        sizes = [strip.sizes for strip in strips if strip is not None]
        return min(low for low, _ in sizes), max(high for _, high in sizes)

    def run(self, seam: float | None = None) -> Run:
        """The strip along which the plan goes; a join's seam in the middle of its window, or where told."""
        strip = self.sewn(seam)
        return strip.mirrored(strip.length or 0.0) if self.mirrored else strip

    def sewn(self, seam: float | None = None) -> Run:
        """The strip as it lies, the seam at this thread of the plan."""
        if self.joint is None:
            if self.strip is None:
                raise ValueError("a lay is one strip or a joint")
            return self.strip
        if seam is None:
            return self.joint.sewn((self.joint.low + self.joint.high) / 2)
        return self.joint.sewn(-seam if self.mirrored else seam)


def strips_high(piece: Piece, sizes: Sizes) -> int:
    """How many strips of the total length the piece is wide enough for: one or two."""
    return 2 if piece.width >= 2 * sizes.total else 1


def lays(
    piece: Piece | None, tartan: Tartan, sett_size: float, sizes: Sizes, opens_on: str, settings: Settings
) -> tuple[Lay, ...]:
    """Every way of laying the piece, the plainest first; cloth not bought yet is one strip without end.

    A strip may be turned where both counts are symmetric; the whole piece, end for end, where moreover the
    horizontals then lie as before.
    """
    left = opens_on == "left"
    if piece is None:
        return (Lay(Run.uniform(tartan.weft, sett_size, 0.0, None), None, False, 0.0, left),)
    first = replace(piece.run(tartan), blocked=blocked_along(piece.faults, 1, sizes.total))
    found = [Lay(first, None, False, 0.0, left)]
    if not turnable(tartan):
        return tuple(found)
    off = horizontals_off(piece, tartan)
    if abs(off) <= MEET:
        found.append(Lay(turned(first), None, True, 0.0, left))
    if strips_high(piece, sizes) == 2:
        hems = join_hems(off, piece.width - 2 * sizes.total, settings)
        heights = [float(sizes.total) + hem for hem in hems]
        lower = replace(first, blocked=blocked_along(piece.faults, 1, heights[0]))
        second = replace(piece.second_run(tartan), blocked=blocked_along(piece.faults, 2, heights[1]))
        seam = float(settings.cloth.seam_allowance)
        found += [Lay(None, joint, False, off, left, hems) for joint in joints(lower, turned(second), seam)]
    return tuple(found)
