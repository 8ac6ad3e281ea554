"""Reading the defaults and a shop's own settings; the numbers themselves stand in defaults.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import StrEnum
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, get_type_hints

from pleatwright.errors import InputError, Problem
from pleatwright.lengths import Units, exact_text, parse_length
from pleatwright.trade.settings import Settings

Value = Fraction | float | int | str

SHARE_ABOVE = Fraction(1, 5)
SHARE_BELOW = Fraction(4, 5)
"""The apron's part of a round, and the fell's part of the length, lie strictly between these; our choice, so
that a percentage or an inverted fraction is caught."""

_PLAIN_NUMBER = re.compile(r"-?[0-9]{1,20}(\.[0-9]{0,20}|/[0-9]{1,20})?")


class Kind(StrEnum):
    """How a setting is written and read."""

    LENGTH = "length"
    SHARE = "share"
    NUMBER = "number"
    COUNT = "count"
    TEXT = "text"


@dataclass(frozen=True)
class Default:
    """One default of the trade with its provenance; lengths in inches.

    `tag` is "public", "practice", "memory", "derived" or "own"; `why` names the source, or says why a value
    of our own was chosen.  `not_over` names a key of the same group that this one may not exceed.
    """

    group: str
    key: str
    kind: Kind
    value: Value
    tag: str
    why: str
    least: Fraction | None = None
    most: Fraction | None = None
    not_over: str | None = None
    allowed: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Its dotted name: `wearer.ease_hips`."""
        return f"{self.group}.{self.key}"


@cache
def provenance() -> Mapping[str, Default]:
    """Every default by its dotted name (`wearer.ease_hips`), in the order of the data file."""
    text = (files("pleatwright.trade") / "defaults.toml").read_text(encoding="utf-8")
    return MappingProxyType(
        {
            f"{group}.{key}": _default(group, key, entry)
            for group, entries in tomllib.loads(text).items()
            for key, entry in entries.items()
        }
    )


def _default(group: str, key: str, entry: dict[str, Any]) -> Default:
    bounds = {bound: Fraction(entry[bound]) for bound in ("least", "most") if bound in entry}
    blank = Default(
        group,
        key,
        Kind(entry["kind"]),
        entry["value"],
        entry["tag"],
        entry["why"],
        not_over=entry.get("not_over"),
        allowed=tuple(entry.get("allowed", ())),
        **bounds,
    )
    return replace(blank, value=_read(blank, entry["value"], f"defaults.{group}.{key}", "in"))


@cache
def default_settings() -> Settings:
    """The defaults of the trade as one frozen value."""
    groups: dict[str, dict[str, Any]] = {}
    for default in provenance().values():
        groups.setdefault(default.group, {})[default.key] = default.value
    types = get_type_hints(Settings)
    return Settings(**{group: types[group](**values) for group, values in groups.items()})


def with_overrides(
    settings: Settings, overrides: Mapping[str, object], *, field: str = "settings", unit: Units = "in"
) -> Settings:
    """The settings with a shop's own values put in, given as nested tables: {"wearer": {"ease_hips": "1"}}.

    Lengths are read as `parse_length` reads them: a bare number is inches, or centimetres when `unit` is
    "metric".  Raises InputError with every unknown name and every bad value at once; `field` begins the
    names in its messages.
    """
    problems: list[Problem] = []
    changes: dict[str, dict[str, Any]] = {}
    groups = tuple(dict.fromkeys(default.group for default in provenance().values()))
    for group, table in overrides.items():
        where = f"{field}.{group}"
        if group not in groups:
            problems.append(_unknown(where, group, groups, "is not a group of settings"))
        elif not isinstance(table, Mapping):
            fix = f"write its settings as a table, [{where}]"
            problems.append(Problem(where, _shown(table), "is not a table of settings", fix))
        else:
            changes[group] = {}
            for key, seen in table.items():
                default = provenance().get(f"{group}.{key}")
                if default is None:
                    problems.append(_unknown_key(f"{where}.{key}", group, str(key)))
                    continue
                try:
                    changes[group][key] = _read(default, seen, f"{where}.{key}", unit)
                except InputError as error:
                    problems.extend(error.problems)
    changed = replace(
        settings, **{g: replace(getattr(settings, g), **values) for g, values in changes.items()}
    )
    problems.extend(_out_of_order(changed, changes, field))
    if problems:
        raise InputError(problems)
    return changed


def _read(default: Default, seen: object, where: str, unit: Units) -> Value:
    """One value as its kind says; raises InputError."""
    if default.kind is Kind.TEXT:
        if seen not in default.allowed:
            choices = ", ".join(f'"{word}"' for word in default.allowed)
            raise InputError(Problem(where, _shown(seen), "is not known here", f"write one of {choices}"))
        return str(seen)
    if default.kind is Kind.LENGTH:
        if not isinstance(seen, str | int | float | Fraction):
            raise InputError(Problem(where, _shown(seen), "is not a length", 'write 3/8, 2 1/2 or "6 cm"'))
        exact = parse_length(seen, field=where, unit=unit)
    else:
        exact = _number(default, seen, where)
    _within(default, exact, seen, where)
    if default.kind is Kind.COUNT:
        return int(exact)
    return float(exact) if default.kind is Kind.NUMBER else exact


def _number(default: Default, seen: object, where: str) -> Fraction:
    """A share, a number or a count, exactly; a share may be written 1/3."""
    wanted, example = {
        Kind.SHARE: ("a proportion", "1/2 or 0.45"),
        Kind.COUNT: ("a whole number", str(default.value)),
    }.get(default.kind, ("a number", str(default.value)))
    refused = InputError(Problem(where, _shown(seen), f"is not {wanted}", f"write it as {example}"))
    if not isinstance(seen, str | int | float | Fraction):
        raise refused
    if isinstance(seen, str) and not _PLAIN_NUMBER.fullmatch(seen.strip()):
        raise refused
    try:
        exact = Fraction(str(seen))
    except (ValueError, ZeroDivisionError):
        raise refused from None
    if default.kind is Kind.COUNT and exact.denominator != 1:
        raise refused
    return exact


def _within(default: Default, value: Fraction, seen: object, where: str) -> None:
    """Raise InputError unless the value lies within the bounds of its kind and its own."""
    inches = " inches" if default.kind is Kind.LENGTH else ""
    usual = f"write for example {_plain(default.value)}, the default"
    if default.kind is Kind.SHARE and not SHARE_ABOVE < value < SHARE_BELOW:
        allowed = f"must lie between {SHARE_ABOVE} and {SHARE_BELOW}"
        raise InputError(Problem(where, _shown(seen), allowed, usual))
    least = default.least or Fraction(1 if default.kind is Kind.COUNT else 0)
    if value < least:
        raise InputError(Problem(where, _shown(seen), f"must be at least {exact_text(least)}{inches}", usual))
    if default.most is not None and value > default.most:
        allowed = f"must be at most {exact_text(default.most)}{inches}"
        raise InputError(Problem(where, _shown(seen), allowed, usual))


def _out_of_order(settings: Settings, changes: Mapping[str, Mapping[str, Any]], field: str) -> list[Problem]:
    """Pairs of settings where a least lies over its most; only pairs that were touched."""
    problems = []
    for default in provenance().values():
        touched = changes.get(default.group, {})
        if default.not_over is None or not {default.key, default.not_over} & touched.keys():
            continue
        group = getattr(settings, default.group)
        value, over = getattr(group, default.key), getattr(group, default.not_over)
        if value > over:
            where = f"{field}.{default.group}.{default.key}"
            allowed = f"must not be over {default.not_over}, which is {_plain(over)}"
            problems.append(Problem(where, _plain(value), allowed, "change one of the two"))
    return problems


def _unknown(where: str, seen: str, known: Iterable[str], what: str) -> Problem:
    near = get_close_matches(seen, list(known), n=1)
    fix = f"did you mean {near[0]}?" if near else f"known are {', '.join(known)}"
    return Problem(where, _shown(seen), what, fix)


def _unknown_key(where: str, group: str, key: str) -> Problem:
    """An unknown setting: a slip of the pen within its group, or the right name in the wrong group."""
    elsewhere = [d.group for d in provenance().values() if d.key == key]
    if elsewhere:
        return Problem(where, _shown(key), f"is not a setting of {group}", f"it belongs under {elsewhere[0]}")
    keys = [default.key for default in provenance().values() if default.group == group]
    return _unknown(where, key, keys, f"is not a setting of {group}")


def _shown(seen: object) -> str:
    return f'"{seen}"'


def _plain(value: Value) -> str:
    return exact_text(value) if isinstance(value, Fraction) else str(value)
