"""Bench hours left on an order: the kilt's work stage by stage, less what is done."""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.bench.sewing import Stage
from pleatwright.errors import InputError
from pleatwright.shop.store import OrderCard, OrderLine, State
from pleatwright.web.alterations import altering
from pleatwright.web.errors import Refused
from pleatwright.web.house import House
from pleatwright.web.orders import pinned
from pleatwright.web.routes.sewing import log_of

DONE = (State.FINISHED, State.COLLECTED, State.CALLED_OFF)
AFTER = {State.CHECKED: 1, State.RIPPED: 2, State.SEWING: 2, State.FITTING: 2}
"""Stages of the work that a state says are behind it: the cloth marked and checked, the rip."""
FELL = 3
"""The stage whose hours go down pleat by pleat."""
REACHED = {
    Stage.PINNED: (2,),
    Stage.SEWN: (2, 3),
    Stage.APRONS: (4,),
    Stage.CUT_OUT: (),
    Stage.STABILISER: (5,),
    Stage.BAND: (7,),
    Stage.PRESSED: (9,),
}
"""Stages of the work, by their place, that an entry of the log says are done."""


@dataclass(frozen=True)
class Hours:
    """Hours of one kilt in all, and of them what is left to do."""

    all: float
    left: float


def hours_left(house: House, line: OrderLine) -> Hours | None:
    """The bench hours of an order; None while no kilt has been chosen."""
    if line.state in DONE:
        return Hours(0.0, 0.0)
    if line.kind == "alteration":
        name = (line.id, "alteration", line.version)
        work = house.desk.figures(name, lambda: _of_alteration(house, line.id))
        return Hours(sum(work), sum(work)) if work else None
    if line.plan is None:
        return None
    stages = house.desk.figures((line.id, line.plan, line.option), lambda: _stages(house, line.id))
    if not stages:
        return None
    left = list(stages)
    for at in range(min(AFTER.get(line.state, 0), len(left))):
        left[at] = 0.0
    log = log_of(house, line.id) if line.state in (State.SEWING, State.FITTING) else None
    if log is not None:
        left[FELL] *= 1 - log.done() / max(1, len(log.started.told.hip))
        for at in (at for stage in log.stages() for at in REACHED.get(stage, ())):
            left[at] = 0.0
    return Hours(sum(stages), sum(left))


def _of_alteration(house: House, order: int) -> tuple[float, ...]:
    """Hours of an alteration; none where its kilt is no longer kept here."""
    try:
        return (altering(house, house.store.get(OrderCard, order)).work.hours,)
    except (Refused, InputError):
        return ()


def _stages(house: House, order: int) -> tuple[float, ...]:
    """Hours stage by stage; none where the plan in force cannot be read here."""
    try:
        found = pinned(house, house.store.get(OrderCard, order))
    except (Refused, InputError):
        return ()
    if found is None:
        return ()
    return tuple(float(stage.hours) for stage in house.desk.closing(found.worked, found.option).work.stages)
