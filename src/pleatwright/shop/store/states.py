"""How far an order is, and which way it may go from there [our choice]."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class State(StrEnum):
    """The states of an order, in the order of the work."""

    ASKED = "asked"
    MEASURED = "measured"
    QUOTED = "quoted"
    CLOTH_ORDERED = "cloth ordered"
    CLOTH_HERE = "cloth here"
    PLANNED = "planned"
    CHALKED = "chalked"
    CHECKED = "checked"
    RIPPED = "ripped"
    SEWING = "sewing"
    FITTING = "fitting"
    FINISHED = "finished"
    COLLECTED = "collected"
    CALLED_OFF = "called off"


_FREE = (
    State.ASKED,
    State.MEASURED,
    State.QUOTED,
    State.CLOTH_ORDERED,
    State.CLOTH_HERE,
    State.PLANNED,
    State.CHALKED,
)

MOVES: Mapping[State, tuple[State, ...]] = {
    **{
        state: (
            *(other for other in _FREE if other is not state),
            *((State.CHECKED,) if state is State.CHALKED else ()),
            State.CALLED_OFF,
        )
        for state in _FREE
    },
    State.CHECKED: (*_FREE, State.RIPPED, State.CALLED_OFF),
    State.RIPPED: (State.SEWING, State.CALLED_OFF),
    State.SEWING: (State.FITTING, State.FINISHED, State.CALLED_OFF),
    State.FITTING: (State.SEWING, State.FINISHED, State.CALLED_OFF),
    State.FINISHED: (State.SEWING, State.FITTING, State.COLLECTED, State.CALLED_OFF),
    State.COLLECTED: (),
    State.CALLED_OFF: (State.ASKED,),
}
"""Until the rip an order goes back and forth as it likes; checked comes after chalked only, ripped after
checked only, and nothing ripped goes back on the bolt.  An alteration has no rip: see `may_move`."""

OPEN = tuple(state for state in State if state not in (State.COLLECTED, State.CALLED_OFF))
"""The states of an order that still wants work."""


def may_move(kind: str, here: State) -> tuple[State, ...]:
    """Where an order of a kind may go; an alteration goes to the sewing without chalk, check or rip."""
    if kind == "alteration" and here in _FREE:
        return (*MOVES[here], State.SEWING)
    return MOVES[here]
