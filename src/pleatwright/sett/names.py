"""What a maker calls a stripe: "white, 4 threads, in the green"; "the narrow white in the green".

Mirror images share a name. Two places that are not mirror images of each other never do: where
the plain words do not tell them apart, the pivots are named as such and the others counted from
the first pivot, or from the beginning of a sett that has none.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from functools import lru_cache

from pleatwright.lengths import MILLIMETRE, exact_text, write_inches, write_metric
from pleatwright.sett.colours import colour_word
from pleatwright.sett.stripes import Sett, Stripe

_TAPE_DENOMINATOR = 64
_NARROW, _WIDE = 1 / 4, 1 / 2  # of the sett's widest stripe [own choice]


def stripe_name(sett: Sett, stripe: Stripe) -> str:
    """The stripe's full name: colour, threads (or measured width), and what it lies in."""
    return stripe_names(sett)[stripe.index]


def short_name(sett: Sett, stripe: Stripe) -> str:
    """The stripe's name in running text, as "the narrow white in the green"."""
    return short_names(sett)[stripe.index]


@lru_cache(maxsize=32)
def stripe_names(sett: Sett) -> tuple[str, ...]:
    """`stripe_name` of every stripe, by index."""
    return _distinct(sett, plain_name)


@lru_cache(maxsize=32)
def short_names(sett: Sett) -> tuple[str, ...]:
    """`short_name` of every stripe, by index."""
    return _distinct(sett, _plain_short_name)


def plain_name(sett: Sett, stripe: Stripe) -> str:
    """The full name without what tells it from others of the same words."""
    if sett.plain:
        return f"plain {colour_word(stripe.colour)}"
    return f"{colour_word(stripe.colour)}, {_size(sett, stripe)}, {_surroundings(sett, stripe)}"


def _plain_short_name(sett: Sett, stripe: Stripe) -> str:
    if sett.plain:
        return f"the plain {colour_word(stripe.colour)}"
    share = stripe.threads / max(other.threads for other in sett.stripes)
    width = "narrow " if share <= _NARROW else "wide " if share >= _WIDE else ""
    return f"the {width}{colour_word(stripe.colour)} {_surroundings(sett, stripe)}"


def _size(sett: Sett, stripe: Stripe) -> str:
    """Threads as written, or the measured width: an exact fraction of the tape, else millimetres."""
    if sett.unit_inches is None:
        return f"{stripe.threads} thread{'' if stripe.threads == 1 else 's'}"
    width = stripe.threads * sett.unit_inches
    if _TAPE_DENOMINATOR % width.denominator == 0:
        written = f'{exact_text(width)}"'
    elif (width / MILLIMETRE * 2).denominator == 1:
        written = write_metric(width, 0.5)
    else:
        written = write_inches(width)
    return f"{written} wide"


def _surroundings(sett: Sett, stripe: Stripe) -> str:
    """What the stripe lies in or between; the same for a stripe and its mirror image."""
    count = len(sett.stripes)
    left, right = sorted(colour_word(sett.stripes[(stripe.index + step) % count].colour) for step in (-1, 1))
    return f"in the {left}" if left == right else f"between the {left} and the {right}"


def _distinct(sett: Sett, name: Callable[[Sett, Stripe], str]) -> tuple[str, ...]:
    """The names by stripe index, with an addition wherever different places share one."""
    places: dict[str, dict[float, list[Stripe]]] = defaultdict(lambda: defaultdict(list))
    for stripe in sett.stripes:
        places[name(sett, stripe)][_distance(sett, stripe)].append(stripe)
    names = [""] * len(sett.stripes)
    for base, by_distance in places.items():
        additions = _additions(sett, sorted(by_distance)) if len(by_distance) > 1 else [""]
        for distance, addition in zip(sorted(by_distance), additions, strict=True):
            for stripe in by_distance[distance]:
                names[stripe.index] = base + addition
    return tuple(names)


def _distance(sett: Sett, stripe: Stripe) -> float:
    """Threads from the first pivot, either way; without pivots from θ = 0 on. Tells places apart."""
    centre = sett.centre_of(stripe)
    if not sett.symmetric:
        return centre
    away = (centre - sett.mirror_centres[0]) % sett.n
    return min(away, sett.n - away)


def _additions(sett: Sett, distances: list[float]) -> list[str]:
    """What to add to one name shared by places at these distances."""
    if not sett.symmetric:
        return [f", the {_ordinal(at)} from the start of the sett" for at in range(1, len(distances) + 1)]
    first, second = _pivot_words(sett)
    words = {0.0: f", at the {first}", sett.n / 2: f", at the {second}"}
    additions, counted = [], 0
    for distance in distances:
        if distance not in words:
            counted += 1
            words[distance] = f", the {_ordinal(counted)} from the {first}"
        additions.append(words[distance])
    return additions


def _pivot_words(sett: Sett) -> tuple[str, str]:
    """What to call the two pivots: by colour, by width where that is one, else first and second."""
    first, second = (sett.stripe_at(centre) for centre in sett.mirror_centres)
    one, two = colour_word(first.colour), colour_word(second.colour)
    if first.colour == second.colour and first.threads == second.threads:
        one, two = f"first {one}", f"second {two}"
    elif first.colour == second.colour:
        wider = first.threads > second.threads
        one, two = (f"wide {one}", f"narrow {two}") if wider else (f"narrow {one}", f"wide {two}")
    return f"{one} pivot", f"{two} pivot"


def _ordinal(number: int) -> str:
    ending = "th" if 10 < number % 100 < 14 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"
