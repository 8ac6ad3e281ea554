"""From a stripe as the order names it to one place in the sett.

A stripe is named by its colour and its threads as written ("K32"), where it occurs more than once by the
stripe or stripes that follow it to the right as well (in a symmetric sett every stripe but a pivot occurs
twice, mirrored), or by its number.  A bare colour is not a place: black may occur in many stripes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units, exact_text, parse_length, write_metric
from pleatwright.order.models import StripeRef
from pleatwright.order.values import shown
from pleatwright.sett import Sett, Stripe, stripe_name

MOST_NAMED = 12
"""Possibilities that are listed in one message."""
MOST_FOLLOWING = 4
"""Following stripes that are offered to tell two places apart; beyond that the stripe's number is."""

_NAMED = re.compile(r"/?\s*(?P<colour>[A-Za-z]{1,3})\s*/?\s*(?P<size>[0-9.⅛¼⅜½⅝¾⅞].*)?")


@dataclass(frozen=True)
class Stripes:
    """One direction's stripes and how they are written; `halved`: a pivot's number is half its threads.

    `onward` says where `then` looks: "to the right" or "up from the selvedge".
    """

    sett: Sett
    halved: bool
    onward: str
    units: Units

    def find(self, wanted: StripeRef, field: str, *, mirrored_too: bool = False) -> Stripe:
        """The one stripe that is meant; with `mirrored_too` its mirror image is as good.

        Raises InputError that lists what could be meant and what to write for each.
        """
        if wanted.stripe is None:
            if wanted.number is None:
                raise self._refused(field, "nothing", "names a stripe", self.sett.stripes, mirrored_too)
            return self._numbered(wanted.number, field)
        parts = _NAMED.fullmatch(wanted.stripe)
        seen = shown(wanted.stripe)
        if parts is None:
            what = "threads" if self._counted else "width"
            fix = f"write colour and {what}, as {self.label(self.sett.stripes[0])}"
            raise InputError(Problem(field, seen, "is not a stripe", fix))
        colour = parts["colour"].upper()
        same_colour = tuple(s for s in self.sett.stripes if s.colour == colour)
        if not same_colour:
            known = ", ".join(self.sett.colours)
            raise InputError(Problem(field, seen, "is a colour this sett does not have", f"it has {known}"))
        if parts["size"] is None and wanted.number is None:
            allowed = "is a colour, not a stripe"
            raise self._refused(field, seen, allowed, same_colour, mirrored_too)
        meant = same_colour if parts["size"] is None else self._of_size(same_colour, parts["size"], field)
        if not meant:
            raise self._refused(field, seen, "is not a stripe of this sett", same_colour, mirrored_too)
        if wanted.number is not None:
            numbered = self._numbered(wanted.number, f"{field}.number")
            if numbered not in meant:
                allowed = f"is not {wanted.stripe} but {self.label(numbered)}"
                raise self._refused(f"{field}.number", shown(wanted.number), allowed, meant, mirrored_too)
            return numbered
        if wanted.then is not None:
            followed = self._followed(meant, wanted.then, field)
            if not followed:
                allowed = f"never follows {wanted.stripe} {self.onward}"
                raise self._refused(f"{field}.then", shown(wanted.then), allowed, meant, mirrored_too)
            meant = followed
        if len(meant) > 1 and not (mirrored_too and self._one_name(meant)):
            after = f" followed by {wanted.then}" if wanted.then else ""
            allowed = f"{after.strip() + ' ' if after else ''}occurs {len(meant)} times in the sett"
            raise self._refused(field, seen, allowed, meant, mirrored_too)
        return meant[0]

    def label(self, stripe: Stripe) -> str:
        """Colour and size as the order writes them: K32; B 1 1/2\"."""
        size = self._written(stripe)
        if self._counted:
            return f"{stripe.colour}{exact_text(size)}"
        return f"{stripe.colour} {write_metric(size, 0.5) if self.units == 'metric' else exact_text(size)}"

    @property
    def _counted(self) -> bool:
        return self.sett.unit_inches is None

    def _written(self, stripe: Stripe) -> Fraction:
        """Threads or inches as the count gives them."""
        pivot = self.halved and self.sett.centre_of(stripe) in self.sett.mirror_centres
        return stripe.threads * (self.sett.unit_inches or Fraction(1)) / (2 if pivot else 1)

    def _of_size(self, stripes: tuple[Stripe, ...], text: str, field: str) -> tuple[Stripe, ...]:
        """Those of a written size; where none is, those of that size in full."""
        size = parse_length(text, field=field, unit="in" if self._counted else self.units)
        unit = self.sett.unit_inches or Fraction(1)
        return tuple(s for s in stripes if self._written(s) == size) or tuple(
            s for s in stripes if s.threads * unit == size
        )

    def _followed(self, stripes: tuple[Stripe, ...], then: str, field: str) -> tuple[Stripe, ...]:
        """Those that the stripes named in `then` follow, one after the other."""
        for step, name in enumerate(
            re.split(r"[\s,]+" if self._counted else r"\s*,\s*", then.strip(", ")), 1
        ):
            parts = _NAMED.fullmatch(name)
            if parts is None:
                fix = f"write what follows, as {self._after(stripes[0], step)}"
                raise InputError(Problem(f"{field}.then", shown(then), "is not a stripe", fix))
            after = {self._next(s, step): s for s in stripes}
            kept = tuple(s for s in after if s.colour == parts["colour"].upper())
            if parts["size"] is not None:
                kept = self._of_size(kept, parts["size"], f"{field}.then")
            stripes = tuple(after[following] for following in kept)
            if not stripes:
                break
        return stripes

    def _next(self, stripe: Stripe, step: int = 1) -> Stripe:
        return self.sett.stripes[(stripe.index + step) % len(self.sett.stripes)]

    def _after(self, stripe: Stripe, steps: int) -> str:
        """The next stripes as `then` names them."""
        labels = [self.label(self._next(stripe, step)) for step in range(1, steps + 1)]
        return (" " if self._counted else ", ").join(labels)

    def _numbered(self, number: int, field: str) -> Stripe:
        count = len(self.sett.stripes)
        if number > count:
            fix = 'see their numbers with "pleatwright sett"'
            raise InputError(
                Problem(field, shown(number), f"is more than the {count} stripes of the sett", fix)
            )
        return self.sett.stripes[number - 1]

    def _one_name(self, stripes: tuple[Stripe, ...]) -> bool:
        return len({stripe_name(self.sett, stripe) for stripe in stripes}) == 1

    def _spelt(self, stripe: Stripe, mirrored_too: bool) -> str:
        """What to write so that this stripe alone is meant."""
        same = tuple(s for s in self.sett.stripes if self.label(s) == self.label(stripe))
        if len(same) == 1 or (mirrored_too and self._one_name(same)):
            return f'stripe = "{self.label(stripe)}"'
        for steps in range(1, MOST_FOLLOWING + 1):
            then = self._after(stripe, steps)
            followed = tuple(s for s in same if self._after(s, steps) == then)
            if len(followed) == 1 or (mirrored_too and self._one_name(followed)):
                return f'stripe = "{self.label(stripe)}", then = "{then}"'
        return f"number = {stripe.index + 1}"

    def _refused(
        self, field: str, seen: str, allowed: str, meant: tuple[Stripe, ...], mirrored_too: bool
    ) -> InputError:
        ways = {self._spelt(stripe, mirrored_too): stripe for stripe in reversed(meant)}
        listed = [f"{{ {way} }} for {stripe_name(self.sett, s)}" for way, s in reversed(ways.items())]
        more = f"; and {len(listed) - MOST_NAMED} more" if len(listed) > MOST_NAMED else ""
        fix = f"write {'; '.join(listed[:MOST_NAMED])}{more}"
        return InputError(Problem(field, seen, allowed, fix))
