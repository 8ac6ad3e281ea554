"""Why an option stands where it stands, in a maker's words."""

from __future__ import annotations

from dataclasses import replace

from pleatwright.layout.option import Option
from pleatwright.layout.scoring import Points
from pleatwright.lengths import Units, write_length, write_yards
from pleatwright.pleats import Form, Shows
from pleatwright.wearer import LevelName

PART_WORDS = {
    "lines": "lines at risk",
    "reveal": "a reveal away from the preferred one",
    "depth": "folds outside the usual depth",
    "cloth": "more cloth",
    "bulk": "more cloth hidden at the hips",
    "middle": "a fold in the middle of the back",
    "centre": "the middle of the back not matching the apron",
    "mirror": "first and last pleat that do not mirror",
    "square": "checks that are not square",
    "few_pleats": "few pleats",
    "style": "the shop's liking for other styles",
    "join": "a join",
    "turn": "a piece turned end for end",
}
"""What a lost point means; pattern match is left out, for it is only compared within a kind."""

SMALL = 0.5
"""Points below which a difference is not worth a word."""


def with_reasons(options: tuple[Option, ...], units: Units) -> tuple[Option, ...]:
    """The options with their reasons: their own figures first, then how they stand against the others."""
    return tuple(
        replace(option, reasons=(*_own(option, units), _standing(option, options))) for option in options
    )


def _own(option: Option, units: Units) -> tuple[str, ...]:
    return tuple(
        sentence
        for sentence in (
            _pattern(option),
            _lines(option, units),
            _folds(option, units),
            _middle(option),
            _cloth(option, units),
        )
        if sentence
    )


def _pattern(option: Option) -> str:
    match = {level.level: level.match for level in option.levels}
    at_strap = match[LevelName.STRAP]
    if option.shows is Shows.PLAIN:
        return "Plain cloth: there is no pattern to keep."
    if option.step is None:
        if at_strap is not None and at_strap > 1 - 1e-6:
            return "Every pleat shows its stripe alike, from the hip line to the strap line."
        return f"Pleats that should look alike agree over {_percent(at_strap)} at the strap line."
    hip = option.level(LevelName.HIP).reveal
    ratio = hip / option.step
    shape = (
        "squares stay square"
        if abs(ratio - 1) < 0.005
        else f"checks come out {_percent(ratio)} as wide as high"
    )
    return (
        f"At the hip line {_percent(match[LevelName.HIP])} of the pattern is true ({shape}); "
        f"at the strap line {_percent(at_strap)}."
    )


def _percent(share: float | None) -> str:
    return "all" if share is None else f"{100 * share:.0f}%"


def _lines(option: Option, units: Units) -> str:
    if option.shows is Shows.PLAIN:
        return ""
    if not option.lines_at_risk:
        return "No narrow line is at risk."
    worst = option.lines_at_risk[0]
    more = len(option.lines_at_risk) - 1
    pleats = f"{len(worst.pleats)} pleat{'s' if len(worst.pleats) > 1 else ''}"
    lost = f", {write_length(worst.lost, units)} of it lost" if worst.lost > 1 / 64 else ""
    rest = f"; {more} more line{'s' if more > 1 else ''} at risk" if more else ""
    return f"At risk on {pleats}: {worst.name} ({' and '.join(worst.why)}{lost}){rest}."


def _folds(option: Option, units: Units) -> str:
    hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
    taper = (
        f"narrowing to {write_length(strap.reveal, units)} at the strap line"
        if option.narrowing > 1 / 64
        else f"widening to {write_length(strap.reveal, units)} at the strap line"
        if option.narrowing < -1 / 64
        else "as wide at the strap line"
    )
    name = "panels" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveals"
    least, greatest = write_length(hip.depth_least, units), write_length(hip.depth_greatest, units)
    depth = f"all {least} deep" if least == greatest else f"{least} to {greatest} deep"
    return (
        f"{name.capitalize()} of {write_length(hip.reveal, units)} at the hip line, {taper}; folds {depth}."
    )


def _middle(option: Option) -> str:
    where = "a pleat" if option.pleats % 2 else "a fold" if option.step else "a fold between two pleats"
    apron = "as on the aprons" if option.same_middle else f"while the aprons carry {option.over_apron.stripe}"
    ends = "mirror each other" if option.mirrors else "do not mirror each other"
    return f"The middle of the back is {where} on {option.middle}, {apron}; first and last pleat {ends}."


def _cloth(option: Option, units: Units) -> str:
    left = "" if option.cloth_left is None else f", {write_yards(option.cloth_left, units)} left over"
    deep, reverse = write_length(option.deep_pleat, units), write_length(option.reverse_pleat, units)
    return (
        f"Takes {write_yards(option.cloth_used, units)}{left}; {deep} goes into the deep pleat and {reverse} "
        "into the reverse pleat."
    )


def _standing(option: Option, options: tuple[Option, ...]) -> str:
    """Against the first option, or the first against the second: the parts that decide."""
    first = options[0]
    if option is not first:
        behind = first.standing - option.standing
        worse = _worse(option.points, first.points)
        because = f", mostly for {' and '.join(worse)}" if worse else ""
        return f"Stands {behind:.1f} points behind option {first.number}{because}."
    if len(options) == 1:
        return "The only kind of kilt that was asked for and fits."
    second = options[1]
    better = _worse(second.points, first.points)
    because = f": option {second.number} loses more for {' and '.join(better)}" if better else ""
    return (
        f"Stands first, {first.standing - second.standing:.1f} points before option {second.number}{because}."
    )


def _worse(one: Points, other: Points) -> list[str]:
    """The two parts, at most, for which `one` loses most points against `other`."""
    more = {part: getattr(one, part) - getattr(other, part) for part in PART_WORDS}
    ranked = sorted(more, key=lambda part: -more[part])[:2]
    return [PART_WORDS[part] for part in ranked if more[part] > SMALL]
