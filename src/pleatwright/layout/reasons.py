"""Why an option stands where it stands, in a maker's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from pleatwright.cloth import MEET
from pleatwright.layout.choice import Choice
from pleatwright.layout.option import Option
from pleatwright.layout.robust import ALL, Sensitivity
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
    "join": "a join and lines that miss at it",
    "turn": "a piece turned end for end",
}
"""What a lost point means; pattern match is left out, for it is only compared within a kind."""

LINES_SAID = 3
"""Lines that are named in one sentence."""
SMALL = 0.5
"""Points below which a difference is not worth a word."""


def with_reasons(
    options: tuple[Option, ...], units: Units, choice: Choice, bears: Sequence[Sensitivity]
) -> tuple[Option, ...]:
    """The options with their reasons: their own figures first, then how they stand against the others.

    `bears`: what the first of them bear.
    """
    said = [one.words for one in bears] + [""] * len(options)
    return tuple(
        replace(
            option,
            reasons=(
                *_own(option, units),
                *_saved(option, options),
                *filter(None, [words]),
                _standing(option, options),
                *(_bears_more(option, choice) if option is options[0] else ()),
            ),
        )
        for option, words in zip(options, said, strict=False)
    )


def _bears_more(first: Option, choice: Choice) -> Iterator[str]:
    """Why it stands before a kilt with more points."""
    other = choice.instead
    if other is None:
        return
    if other.kind == (first.form, first.shows):
        more = other.points.score - first.score
        what = f"{other.pleating.pleats} pleats of the same kind"
        points = f"have {more:.1f} points more" if more >= 0.05 else "have as many points"
    else:
        what, points = "option 2", f"has {other.points.standing - first.standing:.1f} points more"
    if choice.loses >= ALL:
        yield f"It bears more: {what} {points}, but cannot be made if cloth or body are a little off."
    else:
        yield (
            f"It bears more: {what} {points}, but with cloth, body or sewing a little off that may cost "
            f"{choice.loses:.1f} points, this one {max(0.0, choice.lost):.1f}."
        )


def _own(option: Option, units: Units) -> tuple[str, ...]:
    return tuple(
        sentence
        for sentence in (
            _pattern(option),
            _lines(option, units),
            _uneven(option, units),
            _folds(option, units),
            _middle(option),
            _cloth(option, units),
            _join(option, units),
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
        f"checks come out {_percent(hip / max(option.steps))} to {_percent(hip / min(option.steps))} as wide "
        "as high"
        if option.steps
        else "squares stay square"
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
    written = write_length(worst.lost, units)
    lost = f", {written} of it lost" if written != write_length(0, units) else ""
    rest = f"; {more} more line{'s' if more > 1 else ''} at risk" if more else ""
    return f"At risk on {pleats}: {worst.name} ({' and '.join(worst.why)}{lost}){rest}."


def _uneven(option: Option, units: Units) -> str:
    if not option.steps:
        return ""
    least, most = write_length(min(option.steps), units), write_length(max(option.steps), units)
    width = f"about {least}" if least == most else f"{least} to {most}"
    return (
        f"The folds are laid where they do least harm: a pleat stands for {width} of the tartan, and "
        f"every sett is cut alike in {option.division}."
    )


def _saved(option: Option, options: tuple[Option, ...]) -> Iterator[str]:
    """What uneven division saves against even and running division."""
    if option.shows is not Shows.SETT_UNEVEN:
        return
    own = {line.name: len(line.pleats) for line in option.lines_at_risk}
    for other in options:
        if other.form is not option.form or other.shows not in (Shows.SETT, Shows.SETT_RUNNING):
            continue
        whole = [line.name for line in other.lines_at_risk if line.name not in own]
        fewer = [
            f"{line.name} ({own[line.name]} pleats, not {len(line.pleats)})"
            for line in other.lines_at_risk
            if own.get(line.name, len(line.pleats)) < len(line.pleats)
        ]
        how = "even" if other.shows is Shows.SETT else "running"
        said = []
        if whole:
            lines = f"{len(whole)} line{'s' if len(whole) > 1 else ''}"
            said.append(f"saves {lines} that {how} division (option {other.number}) loses: {_few(whole)}")
        if fewer:
            against = "" if whole else f" than in {how} division (option {other.number})"
            said.append(f"fewer pleats lose a line{against}: {_few(fewer)}")
        if said:
            sentence = "; ".join(said)
            yield f"{sentence[0].upper()}{sentence[1:]}."


def _few(names: list[str]) -> str:
    more = len(names) - LINES_SAID
    return "; ".join(names[:LINES_SAID]) + (f"; and {more} more" if more > 0 else "")


def _folds(option: Option, units: Units) -> str:
    hip, strap = option.level(LevelName.HIP), option.level(LevelName.STRAP)
    wide, waist = write_length(hip.reveal, units), write_length(strap.reveal, units)
    taper = (
        "as wide at the strap line"
        if wide == waist
        else f"{'narrowing' if option.narrowing > 0 else 'widening'} to {waist} at the strap line"
    )
    name = "panels" if option.form in (Form.BOX, Form.MILITARY_BOX) else "reveals"
    least, greatest = write_length(hip.depth_least, units), write_length(hip.depth_greatest, units)
    depth = f"all {least} deep" if least == greatest else f"{least} to {greatest} deep"
    return f"{name.capitalize()} of {wide} at the hip line, {taper}; folds {depth}."


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


def _join(option: Option, units: Units) -> str:
    join = option.join
    if join is None:
        return ""
    sewn = "Sewn from two strips, the seam inside a fold"
    if abs(join.horizontals_off) <= MEET:
        return f"{sewn}; their horizontals meet."
    off = write_length(abs(join.horizontals_off), units)
    if join.hem:
        return (
            f"{sewn}: their horizontals miss each other by {off}, so the {join.hemmed} strip is ripped that "
            "much higher and hemmed, and then they meet."
        )
    return f"{sewn}: their horizontals miss each other by {off}, and no hem can make them meet."


def _standing(option: Option, options: tuple[Option, ...]) -> str:
    """Against the first option, or the first against the second: the parts that decide."""
    first = options[0]
    if option is not first:
        behind = first.standing - option.standing
        if behind < 0:
            return f"Has {-behind:.1f} points more than option {first.number}, which bears more."
        worse = _worse(option.points, first.points)
        because = f", mostly for {' and '.join(worse)}" if worse else ""
        return f"Stands {behind:.1f} points behind option {first.number}{because}."
    if len(options) == 1:
        return "The only kind of kilt that was asked for and fits."
    second = options[1]
    if second.standing > first.standing:
        return f"Stands first, though option {second.number} has more points."
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
