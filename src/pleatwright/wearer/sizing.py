"""From a body to the sizes of a kilt at every level: ease, split, taper, flare.  All in exact inches."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import exact_text
from pleatwright.trade import SHARE_ABOVE, SHARE_BELOW, Settings
from pleatwright.wearer.body import Body, Level, LevelName, Sizes, Taper


@dataclass(frozen=True)
class _Girth:
    """The round at one level and the part of it that is apron."""

    round: Fraction
    apron: Fraction

    def towards(self, other: _Girth, way: Fraction) -> _Girth:
        """On the straight line from this level to another, `way` of the distance along (or beyond)."""
        return _Girth(
            self.round + (other.round - self.round) * way,
            self.apron + (other.apron - self.apron) * way,
        )

    def wider(self, by: Fraction, share: Fraction) -> _Girth:
        """This round let out, `share` of it in the apron."""
        return _Girth(self.round + by, self.apron + by * share)


def sizes(
    body: Body,
    *,
    taper: Taper,
    settings: Settings,
    lap: Fraction | None = None,
    hem: Fraction | None = None,
    opening_above_strap: Fraction | None = None,
    share_waist: Fraction | None = None,
    share_hips: Fraction | None = None,
) -> Sizes:
    """The kilt's sizes at every level.

    W = waist + ease, H = hips + ease, between strap line and hip line everything runs in straight lines.
    Above the strap line a man's taper runs parallel, a woman's goes on in the same line [common practice, no
    source]; `opening_above_strap` lets the top edge out [public: xmarksthescot.com threads 73073, 29872].
    A share of each round is apron, half by default [public: xmarksthescot.com thread 79489]; the lap lies
    wholly at the fringed edge.  At the bottom the apron is its hip width and the flare, shared by both edges.
    Without a fell drop the hip line lies a share of the length (without hem) below the top edge [public:
    en.citizendium.org, Kilt Makers Association of Scotland].  Where the drops differ the greatest is ripped:
    cloth can be taken off at the top edge, never put on.

    What is not given comes from the settings; a child has its own ease and hem.  Raises InputError, with
    every problem, where no kilt has these sizes; a belly is never one.
    """
    ours = settings.wearer
    rise = ours.rise if body.rise is None else body.rise
    lap = ours.lap if lap is None else lap
    if hem is None:
        hem = ours.child_hem if body.child else Fraction(0)
    opening = ours.opening_above_strap if opening_above_strap is None else opening_above_strap
    share_waist = ours.share_waist if share_waist is None else share_waist
    share_hips = ours.share_hips if share_hips is None else share_hips
    drop = max(body.drops)
    length = drop + rise
    fell_drop = ours.fell_share * length - rise if body.fell_drop is None else body.fell_drop

    problems = _not_above_zero(body, rise)
    problems += _below_zero(lap=lap, hem=hem, opening_above_strap=opening)
    problems += _not_a_share(share_waist=share_waist, share_hips=share_hips)
    if not problems:
        problems += _no_fell(body, rise, fell_drop, drop)
    if problems:
        raise InputError(problems)

    waist = body.waist + (ours.ease_child if body.child else ours.ease_waist)
    hips = body.hips + (ours.ease_child if body.child else ours.ease_hips)
    strap = _Girth(waist, share_waist * waist)
    hip = _Girth(hips, share_hips * hips)
    top = strap if taper is Taper.MAN else strap.towards(hip, -rise / fell_drop)
    top = top.wider(opening, share_waist)
    if not 0 < top.apron < top.round:
        raise InputError(_nothing_at_the_top(rise, fell_drop))
    if lap >= min(top.apron, strap.apron, hip.apron):
        narrowest = exact_text(min(top.apron, strap.apron, hip.apron))
        fix = "write the lap alone, usually 0 or 1"
        raise InputError(Problem("kilt.lap", _seen(lap), f"must be less than the apron, {narrowest}", fix))
    fell = rise + fell_drop
    return Sizes(
        waist=waist,
        hips=hips,
        drop=drop,
        rise=rise,
        hem=hem,
        total=length + hem,
        fell=fell,
        fell_assumed=body.fell_drop is None,
        lap=lap,
        flare=ours.flare,
        taper=taper,
        levels=(
            _level(LevelName.TOP, Fraction(0), top, lap),
            _level(LevelName.STRAP, rise, strap, lap),
            _level(LevelName.MID, rise + fell_drop / 2, strap.towards(hip, Fraction(1, 2)), lap),
            _level(LevelName.HIP, fell, hip, lap),
            _level(LevelName.BOTTOM, length, hip.wider(ours.flare, Fraction(1)), lap),
        ),
    )


def _level(name: LevelName, below_top: Fraction, girth: _Girth, lap: Fraction) -> Level:
    return Level(
        name=name,
        below_top=below_top,
        round=girth.round,
        pleated=girth.round - girth.apron,
        over_apron=girth.apron + lap,
        under_apron=girth.apron,
        pleat_side=girth.apron / 2,
    )


def _seen(value: Fraction) -> str:
    return f'"{exact_text(value)}"'


def _not_above_zero(body: Body, rise: Fraction) -> list[Problem]:
    taken = {
        "waist": body.waist,
        "hips": body.hips,
        "drop": body.drop,
        "drop_side": body.drop_side,
        "drop_back": body.drop_back,
        "fell_drop": body.fell_drop,
        "rise": rise,
    }
    fixes = {
        "fell_drop": "measure from the strap line down to the fullest seat, or leave it out",
        "rise": "write the height of the top edge above the strap line, usually 2",
    }
    return [
        Problem(f"wearer.{name}", _seen(value), "must be more than 0", fixes.get(name, "measure it again"))
        for name, value in taken.items()
        if value is not None and value <= 0
    ]


def _below_zero(**lengths: Fraction) -> list[Problem]:
    return [
        Problem(f"kilt.{name}", _seen(value), "must not be negative", "write 0 for none")
        for name, value in lengths.items()
        if value < 0
    ]


def _not_a_share(**shares: Fraction) -> list[Problem]:
    allowed = f"must lie between {SHARE_ABOVE} and {SHARE_BELOW}"
    return [
        Problem(f"kilt.{name}", _seen(share), allowed, "write the apron's part of the round, usually 1/2")
        for name, share in shares.items()
        if not SHARE_ABOVE < share < SHARE_BELOW
    ]


def _no_fell(body: Body, rise: Fraction, fell_drop: Fraction, drop: Fraction) -> list[Problem]:
    """The hip line must lie below the strap line and above the bottom edge."""
    if fell_drop <= 0:
        allowed = f"leaves no fell below the strap line in a drop of {exact_text(drop)}"
        fix = "measure wearer.fell_drop, or choose a smaller rise"
        return [Problem("wearer.rise", _seen(rise), allowed, fix)]
    if fell_drop >= min(body.drops):
        allowed = f"must be less than the drop, {exact_text(min(body.drops))}"
        fix = "measure from the strap line down to the fullest seat, about 7 on a grown body"
        return [Problem("wearer.fell_drop", _seen(fell_drop), allowed, fix)]
    return []


def _nothing_at_the_top(rise: Fraction, fell_drop: Fraction) -> Problem:
    allowed = (
        f"leaves nothing at the top edge of a woman's taper with a fell drop of {exact_text(fell_drop)}: its "
        "straight line closes below"
    )
    fix = 'choose a smaller rise or a man\'s taper (kilt.taper = "man"), and measure fell_drop again'
    return Problem("wearer.rise", _seen(rise), allowed, fix)
