"""A commented order to start from."""

from __future__ import annotations

import re
from importlib.resources import files

from pleatwright.lengths import Units

_EITHER = re.compile(r"<<(?P<inches>[^|<>]*)\|(?P<metric>[^|<>]*)>>")


def new_order_text(units: Units = "in") -> str:
    """A commented order, valid as it stands; new.toml holds both units of every figure as <<inches|metric>>.

    Raises ValueError for other units.
    """
    if units not in ("in", "metric"):
        raise ValueError(f'units "{units}"; give "in" or "metric"')
    return in_units((files("pleatwright.order") / "new.toml").read_text(encoding="utf-8"), units)


def in_units(text: str, units: Units) -> str:
    """A text that holds both units of its figures, as <<inches|metric>>, with one of them."""
    return _EITHER.sub(lambda either: either["metric" if units == "metric" else "inches"], text)
