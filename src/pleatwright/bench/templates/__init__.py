"""Templates of true size: what is cut from card or printed, as exact geometry and words."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from pleatwright.bench.gauges import gauge_list
from pleatwright.bench.templates.cards import apron_line, apron_template, strap_hole_template
from pleatwright.bench.templates.narrow import gauge_templates, taper_templates
from pleatwright.bench.templates.tape import tape_template
from pleatwright.bench.templates.template import Points, Round, Template, Use, Words, with_kerf
from pleatwright.layout import Option, Request
from pleatwright.order import OwnedGauge

__all__ = ["Points", "Round", "Template", "Use", "Words", "apron_line", "templates", "with_kerf"]


def templates(
    option: Option,
    request: Request,
    drawer: Sequence[OwnedGauge] = (),
    only: Collection[Use] = tuple(Use),
) -> tuple[Template, ...]:
    """The templates for one option, in the order of `Use`.

    Left out is what this kilt does not need: gauges in the drawer, the hole of a strap that lies inside, and
    the tape while there is no piece of cloth.
    """
    gauges = gauge_list(option, request, drawer)
    found = (
        *gauge_templates(gauges, request.units),
        strap_hole_template(gauges, option, request),
        apron_template(request),
        *taper_templates(gauges, option, request),
        tape_template(option, request),
    )
    return tuple(one for one in found if one is not None and one.use in only)
