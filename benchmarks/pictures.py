"""Speed of the pictures: weaving against copying memory, drawing against writing the file."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks.case import Case

if TYPE_CHECKING:
    from pleatwright.layout import Plan
    from pleatwright.order import Job

SIDE = 4000
OPTIONS = 8


@cache
def _demo() -> tuple[Job, Plan]:
    from pleatwright.layout import make_plan
    from pleatwright.order import read_order

    order = Path(__file__).parents[1] / "examples" / "demo.toml"
    job = read_order(order.read_text(encoding="utf-8"), source=order.name)
    return job, make_plan(job.request)


def weave() -> Case:
    """Every thread of a raster of 4000 by 4000 pixels, against copying as many bytes: at most twice."""
    import numpy as np

    from pleatwright.picture import woven

    tartan = _demo()[0].request.tartan
    out = np.empty((SIDE, SIDE, 3), dtype=np.uint8)
    ready = woven(tartan, SIDE, SIDE, threads_per_px=0.25)
    return Case(
        what=f"weave {SIDE} x {SIDE}, RGB, a thread 4 px",
        run=lambda: woven(tartan, SIDE, SIDE, threads_per_px=0.25, out=out),
        reference=f"copying its {ready.nbytes / 1e6:.0f} MB",
        run_reference=lambda: np.copyto(out, ready),
    )


def back() -> Case:
    """A shaded back 1600 pixels wide as PNG, against encoding that PNG alone: at most three times."""
    from pleatwright.picture import back_picture, png_bytes

    job, plan = _demo()
    option, across = plan.options[0], 1600
    drawn = back_picture(option, job.request, width_px=across)
    return Case(
        what=f"back {drawn.width} x {drawn.height} with PNG",
        run=lambda: png_bytes(back_picture(option, job.request, width_px=across)),
        reference="its PNG encoding",
        run_reference=lambda: png_bytes(drawn),
        rounds=3,
    )


def contact_sheet() -> Case:
    """Eight options on one sheet as PNG, against encoding that PNG alone."""
    from pleatwright.picture import png_bytes
    from pleatwright.picture.compare import options_picture

    job, plan = _demo()
    options = plan.options[:OPTIONS]
    ready = options_picture(options, job.request)
    return Case(
        what=f"sheet of {len(options)} options, {ready.width} x {ready.height}",
        run=lambda: png_bytes(options_picture(options, job.request)),
        reference="its PNG encoding",
        run_reference=lambda: png_bytes(ready),
        rounds=3,
    )


PICTURES: tuple[Callable[[], Case], ...] = (weave, back, contact_sheet)
