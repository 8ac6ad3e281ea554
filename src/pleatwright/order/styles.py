"""Styles by their plain names, as a maker says them and as an option's title shows them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pleatwright.order.mistakes import Slips
from pleatwright.order.values import nearest, shown
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND, Form, Kind, Shows

ALL = "all"

_FORMS = {
    Form.KNIFE: "knife",
    Form.BOX: "box",
    Form.MILITARY_BOX: "military box",
    Form.CENTRE_BOX: "centre box",
}
_SHOWS = {
    Shows.SETT: " to the sett",
    Shows.SETT_RUNNING: " to the sett, running",
    Shows.SETT_UNEVEN: " to the sett, uneven",
    Shows.STRIPE: " to the stripe",
    Shows.ALTERNATE: ", alternate stripe",
    Shows.PLAIN: ", plain",
}
_PATTERNED = (*TARTAN_KINDS, UNEVEN_KIND)
_SILENT = re.compile(r"\b(pleats?|cloth|with knives|center)\b|[^a-z]+")


def _named() -> dict[str, frozenset[Kind]]:
    kinds = (*_PATTERNED, *PLAIN_KINDS)
    named = {ALL: frozenset(kinds), "plain": frozenset(PLAIN_KINDS)}
    for form, word in _FORMS.items():
        named[word] = frozenset(kind for kind in kinds if kind.form is form)
    for kind in kinds:
        named[_FORMS[kind.form] + _SHOWS[kind.shows]] = frozenset([kind])
    return named


STYLES = _named()
"""Every style's plain name and the kinds of pleating it means; "box" means all its kinds."""


def _bare(name: str) -> str:
    american = name.casefold().replace("center", "centre")
    return " ".join(_SILENT.sub(" ", american).split())


_BY_BARE_NAME = {_bare(name): kinds for name, kinds in STYLES.items()}


def read_styles(names: Sequence[str], *, plain: bool | None, field: str, slips: Slips) -> frozenset[Kind]:
    """The kinds of pleating some names mean; all of them is the empty set, as no name at all.

    `plain` says whether the cloth has no pattern, None when that is not known: a style that such cloth cannot
    show is noted among the slips, as are unknown names.
    """
    kinds: set[Kind] = set()
    possible = {True: frozenset(PLAIN_KINDS), False: frozenset(_PATTERNED), None: STYLES[ALL]}[plain]
    for name in names:
        meant = _BY_BARE_NAME.get(_bare(name))
        if meant is None:
            slips.add(field, shown(name), "is not a style", nearest(name, tuple(STYLES)))
        elif not meant & possible:
            cloth = "plain cloth has no pattern to show" if plain else "the tartan has a pattern"
            fix = 'write "plain", "knife" or "box"' if plain else 'write "knife to the sett" or "all"'
            slips.add(field, shown(name), f"does not suit: {cloth}", fix)
        else:
            kinds |= meant & possible
    return frozenset() if kinds == possible else frozenset(kinds)
