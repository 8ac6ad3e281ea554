"""Small cases drawn from a seed: every kind of pleat, cloth, body and wish, few enough to try all of."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

from pleatwright.cloth import Anchor, Fault, Piece, Reading
from pleatwright.layout import Request
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, Form, Wishes
from pleatwright.sett import Sett, Tartan
from pleatwright.trade import Settings, default_settings
from pleatwright.wearer import Body, LevelName, Sizes, Taper, sizes
from tests.proof.candidates import Space
from tests.proof.pattern import Pattern

COLOURS = ["B", "G", "K", "W", "R", "Y"]
CLOTHS = ["even", "even", "read", "read", "not bought", "double", "double", "read double", "read double"]
REVEALS = {
    Form.KNIFE: (0.6, 0.95),
    Form.MILITARY_BOX: (0.52, 0.72),
    Form.CENTRE_BOX: (0.6, 0.95),
    Form.BOX: (1.7, 3),
}


def drawn_sett(draw: Random) -> Sett:
    """A sett of 8 to 60 threads, mirrored or not, now and then plain."""
    if draw.random() < 0.04:
        return Sett.of_runs([("G", draw.randint(8, 60))])
    while True:
        palette = draw.sample(COLOURS, draw.randint(2, 4))
        runs = [(draw.choice(palette), draw.randint(1, 12)) for _ in range(draw.randint(2, 6))]
        if draw.random() < 0.6:
            runs += runs[-2:0:-1]
        sett = Sett.of_runs(runs)
        if 8 <= sett.n <= 60 and not sett.plain:
            return sett


def drawn_sizes(draw: Random, shop: Settings) -> Sizes:
    """A man, a woman, a child or a belly."""
    hips = Fraction(draw.randint(35 * 8, 45 * 8), 8)
    waist = hips - Fraction(draw.choice([*range(10, 70), -4]), 8)
    woman = draw.random() < 0.4
    if draw.random() < 0.15:
        waist, hips = waist * 3 / 5, hips * 3 / 5
    body = Body(waist, hips, Fraction(draw.randint(20, 23)), Fraction(draw.randint(10, 15), 2), woman=woman)
    taper = Taper.WOMAN if woman and draw.random() < 0.7 else Taper.MAN
    return sizes(body, taper=taper, settings=shop, lap=Fraction(draw.choice([0, 0, 1])))


def drawn_readings(draw: Random, sett: Sett, size: float, length: float) -> tuple[Reading, ...]:
    """Tape readings of one stripe on cloth whose scale wanders by up to 2%."""
    stripe = draw.choice(sett.stripes)
    thread, at, found = sett.centre_of(stripe) - sett.n, -draw.random() * size, []
    while at < length - size:
        turns = draw.randint(1, 4)
        thread, at = thread + turns * sett.n, at + turns * size * draw.uniform(0.98, 1.02)
        if 0 < at < length:
            found.append(Reading("the one read", thread, round(at * 16) / 16))
    return tuple(found)


def drawn_faults(draw: Random, length: float, strips: int) -> tuple[Fault, ...]:
    """Up to two places that must not show."""
    found = []
    for _ in range(draw.choice([0, 1, 1, 2])):
        start = Fraction(draw.randint(0, round(length * 16) - 240), 16)
        end = start + Fraction(draw.choice([4, 12, 40, 240]), 16)
        low = draw.choice([None, Fraction(3), Fraction(40)])
        found.append(Fault("knot", start, end, low, None, draw.randint(1, strips)))
    return tuple(found)


def drawn_piece(draw: Random, sett: Sett, size: Fraction, made: Sizes) -> Piece | None:
    """Cloth on the table, or none; small setts, which have many places, without joins or without faults."""
    what = draw.choice(CLOTHS[:5] if size < 4 else CLOTHS)
    if what == "not bought":
        return None
    around = float(made.waist + made.hips)
    length = Fraction(round(around * draw.uniform(2.2, 4.4) * 4), 4)
    width, strips = Fraction(29), 1
    if "double" in what:
        length, width, strips = length * Fraction(5, 8), Fraction(draw.choice([56, 58, 60])), 2
    left = Anchor(
        sett.centre_of(draw.choice(sett.stripes)), Fraction(draw.randint(0, 60), 16), "the one named"
    )
    bottom = Anchor(sett.mirror_centres[0], Fraction(0), "a pivot") if sett.symmetric else None
    if bottom is not None and draw.random() < 0.7:  # horizontals that meet once a strip is turned
        bottom = replace(bottom, distance=width / 2 % size)
    read = tuple[Reading, ...]()
    second = tuple[Reading, ...]()
    if "read" in what and not sett.plain:
        read = drawn_readings(draw, sett, float(size), float(length))
        if strips == 2 and draw.random() < 0.5:
            second = drawn_readings(draw, sett, float(size), float(length))
    faults = () if size < 3 else drawn_faults(draw, float(length), strips)
    return Piece(width, length, size, size, left, bottom, read, second, faults=faults)


def drawn_shop(draw: Random) -> Settings:
    """The defaults, or a shop that weighs and allots otherwise."""
    shop = default_settings()
    if draw.random() < 0.6:
        return shop
    weights = replace(
        shop.weights,
        bulk=draw.choice([0.0, 0.02, 1.0]),
        cloth=draw.choice([0.0, 1.5, 20.0]),
        match=draw.choice([0.0, 60.0]),
        line=draw.choice([0.0, 12.0]),
        centre=draw.choice([0.0, 5.0]),
        join=draw.choice([0.0, 3.0]),
    )
    limits = replace(
        shop.pleats, lost_share=draw.choice([0.5, 0.75]), narrow_line=Fraction(draw.choice([2, 3, 5]), 8)
    )
    search = replace(shop.search, setts_most=draw.randint(2, 6), depth_most=Fraction(draw.choice([3, 6])))
    return replace(shop, weights=weights, pleats=limits, search=search)


def drawn_wishes(draw: Random, sett: Sett, made: Sizes) -> Wishes:
    """One or two kinds, a number of pleats, now and then a stripe, a reveal, an apron's centre."""
    kinds = draw.sample(PLAIN_KINDS if sett.plain else TARTAN_KINDS, draw.choice([1, 1, 2]))
    pleats = round(float(made.level(LevelName.HIP).pleated) / draw.uniform(*REVEALS[kinds[0].form]))
    if kinds[0].form is Form.CENTRE_BOX:
        pleats = (pleats - 2) | 1
    centres = [sett.centre_of(stripe) for stripe in sett.stripes]
    return Wishes(
        frozenset(kinds),
        pleats if draw.random() < 0.75 else None,
        draw.choice([None, None, 0.625, 0.875]),
        draw.choice(centres) if draw.random() < 0.15 else None,
        draw.choice(centres) if draw.random() < 0.15 else None,
        draw.random() < 0.75,
    )


def small_case(seed: int) -> Request:
    """One small request with something to try; the same seed, the same request."""
    draw = Random(seed)
    while True:
        shop = drawn_shop(draw)
        sett, made = drawn_sett(draw), drawn_sizes(draw, shop)
        size = Fraction(draw.choice([2, 3, 4, 6, 9, 11, 13, 16]), 2)
        piece = drawn_piece(draw, sett, size, made)
        tartan, wishes = Tartan("invented", sett, sett, (), "", "whole"), drawn_wishes(draw, sett, made)
        asked = Request(made, tartan, size, size, piece, wishes, draw.choice(["right", "left"]), shop)
        space = Space(Pattern.of(sett), asked, wishes.stripe, wishes.apron_phase)
        if next(space.every(), None) is not None:
            return asked
