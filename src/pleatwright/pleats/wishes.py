"""What the client and the maker wish for; everything left open is searched."""

from __future__ import annotations

from dataclasses import dataclass

from pleatwright.pleats.forms import Form, Kind, Shows

TARTAN_KINDS = (
    *(Kind(Form.KNIFE, shows) for shows in (Shows.SETT, Shows.SETT_RUNNING, Shows.STRIPE, Shows.ALTERNATE)),
    *(
        Kind(form, shows)
        for form in (Form.BOX, Form.MILITARY_BOX, Form.CENTRE_BOX)
        for shows in (Shows.SETT, Shows.SETT_RUNNING, Shows.STRIPE)
    ),
)
EVEN_KIND = Kind(Form.KNIFE, Shows.SETT)
UNEVEN_KIND = Kind(Form.KNIFE, Shows.SETT_UNEVEN)
"""Looked for after the others, from the best even divisions."""
PLAIN_KINDS = tuple(Kind(form, Shows.PLAIN) for form in Form)


@dataclass(frozen=True)
class Wishes:
    """`kinds`: those asked for (empty: show all).  `pleats`: an exact number.  `reveal`: inches aimed at.

    `stripe`: centre of the stripe to pleat to.  `apron_phase`: centre of the stripe wanted in the middle of
    the apron, both in threads.  `same_middle`: the middle of the back carries the apron's centre stripe and a
    mirror centre lies there; False waives it.  `keep_whole`, `split`: centres of lines, in threads, that
    a kilt to the sett must show whole on one pleat, or split over two; their mirror images are meant too.
    """

    kinds: frozenset[Kind] = frozenset()
    pleats: int | None = None
    reveal: float | None = None
    stripe: float | None = None
    apron_phase: float | None = None
    same_middle: bool = True
    keep_whole: tuple[float, ...] = ()
    split: tuple[float, ...] = ()

    def wants(self, kind: Kind) -> bool:
        """Whether options of this kind were asked for."""
        return not self.kinds or kind in self.kinds
