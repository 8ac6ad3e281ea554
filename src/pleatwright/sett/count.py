"""Reading and writing thread counts, as written in registers and pattern books.

`B/24 W4 B24 R2 K24 G24 W/2`: slashes mark the two pivots; the count is read to the second pivot,
mirrored back, and neither pivot is repeated. Without slashes, or between dots, the sequence
repeats. `warp // weft` gives two counts. The forms are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import gcd, lcm
from typing import Literal

from pleatwright.errors import InputError, Problem
from pleatwright.sett.colours import CODES
from pleatwright.sett.stripes import Sett

Pivots = Literal["whole", "half"]

MOST_THREADS = 20_000
"""More threads than this in one sett is taken for a slip of the pen [own choice]."""

_FINEST_UNITS = 100_000
_LONGEST_TEXT = 20_000
_CODE = re.compile(r"[A-Z]{1,3}")
_DOTS = r"(?:\.{3,}|…)"
_TOKEN = re.compile(
    r"(?P<lead>/\s*)?(?P<code>[A-Za-z]+)\s*(?P<hex>#[0-9A-Fa-f]{6})?"
    r"(?P<mid>\s*/(?=\s*[0-9]))?\s*(?P<threads>[0-9]+)?(?P<trail>/|\s+/\s*$)?"
)
_SPACE = re.compile(r"[\s,;]+")
_STRAY = re.compile(r"[^\sA-Za-z,;/]+|/")


@dataclass(frozen=True)
class ParsedCount:
    """A thread count as read.

    `palette` holds the colours given inline, `written` the count in one regular spelling (with
    the numbers as given, so that it reads the same under the same `pivots`), `notes` what a maker
    should know about how it was read.
    """

    warp: Sett
    weft: Sett
    palette: tuple[tuple[str, str], ...]
    pivots: Pivots
    written: str
    notes: tuple[str, ...]


@dataclass(frozen=True)
class _Token:
    """One written stripe: `threads` is None where no number stands."""

    text: str
    code: str
    hex: str | None
    threads: int | None
    pivot: bool


def parse_count(
    text: str,
    *,
    pivots: Pivots = "whole",
    field: str = "tartan.count",
    known: Mapping[str, str] | None = None,
) -> ParsedCount:
    """Read a thread count in any of its usual spellings.

    `pivots` says whether the number at a pivot is the whole stripe or, as in older lists, half
    of it. `known` holds further colour codes. Raises InputError with every problem found:
    unknown codes, missing or zero numbers, pivots that do not stand first and last, stray signs.
    """
    if not text.strip():
        raise InputError(Problem(field, f'"{text}"', "holds no stripe", "write it like B/24 W4 R2 G/24"))
    if len(text) > _LONGEST_TEXT:
        raise InputError(
            Problem(field, f"{len(text)} characters", "are too many for a count", "give one sett only")
        )
    parts = re.split(r"\s*//\s*", text)
    readers = [
        _Reader(part, field, "" if len(parts) == 1 else f"{name} ", pivots)
        for part, name in zip(parts, ("warp", "weft"), strict=False)
    ]
    problems = [problem for reader in readers for problem in reader.problems]
    if len(parts) > len(readers):
        problems.append(
            Problem(field, f'"{text}"', "holds more than one //", "write the warp, then //, then the weft")
        )
    palette: dict[str, str] = {}
    for reader in readers:
        problems += reader.collect_palette(palette)
    allowed = {*CODES, *palette, *(code.upper() for code in known or {})}
    for reader in readers:
        problems += reader.unknown_codes(allowed)
    if problems:
        raise InputError(problems)
    setts = [reader.sett() for reader in readers]
    return ParsedCount(
        warp=setts[0],
        weft=setts[-1],
        palette=tuple(palette.items()),
        pivots=pivots,
        written=" // ".join(reader.written() for reader in readers),
        notes=tuple(note for reader in readers for note in reader.notes()),
    )


class _Reader:
    """One count being read: its tokens, and every problem met on the way."""

    def __init__(self, text: str, field: str, side: str, pivots: Pivots) -> None:
        self.field, self.side, self.pivots = field, side, pivots
        self.problems: list[Problem] = []
        bare = re.sub(rf"^\s*{_DOTS}|{_DOTS}\s*$", " ", text)
        self.dotted = bare != text
        self.tokens = self._split(bare)
        if self.tokens or not self.problems:
            self._check()

    @property
    def symmetric(self) -> bool:
        return any(token.pivot for token in self.tokens)

    def sett(self) -> Sett:
        runs = [(token.code, token.threads or 1) for token in self.tokens]
        if self.symmetric:
            if self.pivots == "half":
                for at in (0, -1):
                    runs[at] = (runs[at][0], 2 * runs[at][1])
            runs += runs[-2:0:-1]
        return Sett.of_runs(runs)

    def written(self) -> str:
        words = [
            token.code
            + (token.hex or "")
            + ("/" if token.pivot else "")
            + ("" if token.threads is None else str(token.threads))
            for token in self.tokens
        ]
        return _repeating(words) if len(words) > 1 and not self.symmetric else " ".join(words)

    def notes(self) -> list[str]:
        sett, found = self.sett(), []
        if self.symmetric:
            what = "the whole stripe" if self.pivots == "whole" else "half the stripe"
            found.append(f"the number at a pivot was read as {what}")
        elif sett.symmetric:
            found.append("no pivot is marked, yet the sett mirrors")
        elif not sett.plain:
            found.append("no pivot is marked and the sett does not mirror: it repeats one way")
        if any(a.code == b.code for a, b in pairwise(self.tokens)):
            found.append("neighbouring stripes of one colour were joined")
        if sett.written_periods > 1:
            found.append(
                f"the written sett holds {sett.written_periods} equal parts; one of them, "
                f"{sett.n} threads, is the true sett"
            )
        return [self.side + note for note in found]

    def collect_palette(self, palette: dict[str, str]) -> list[Problem]:
        """Add the colours given inline; a code given two colours is a problem."""
        problems = []
        for at, token in enumerate(self.tokens, start=1):
            if token.hex and palette.setdefault(token.code, token.hex) != token.hex:
                allowed = f"gives {token.code} a second colour, after {palette[token.code]}"
                problems.append(self._problem(at, token, allowed, "give each code one colour"))
        return problems

    def unknown_codes(self, allowed: set[str]) -> list[Problem]:
        problems = []
        for at, token in enumerate(self.tokens, start=1):
            if not _CODE.fullmatch(token.code):
                why, fix = (
                    "has a colour code of more than three letters",
                    "write a code of one to three letters",
                )
            elif token.code not in allowed:
                why = f"has the unknown colour code {token.code}"
                fix = f"give its colour, as {token.code}#4A6B8C, or use one of {' '.join(sorted(allowed))}"
            else:
                continue
            problems.append(self._problem(at, token, why, fix))
        return problems

    def _split(self, text: str) -> list[_Token]:
        tokens: list[_Token] = []
        at = 0
        while at < len(text):
            space = _SPACE.match(text, at)
            if space:
                at = space.end()
                continue
            match = _TOKEN.match(text, at)
            if match is None:
                stray = _STRAY.match(text, at)
                seen = text[at : stray.end()] if stray else text[at]
                self._stray(seen, len(tokens))
                at += len(seen)
                continue
            threads = match["threads"]
            tokens.append(
                _Token(
                    text=match.group().strip(),
                    code=match["code"].upper(),
                    hex=match["hex"].upper() if match["hex"] else None,
                    threads=int(threads[:9]) if threads else None,
                    pivot=bool(match["lead"] or match["mid"] or match["trail"]),
                )
            )
            at = match.end()
        return tokens

    def _stray(self, seen: str, after: int) -> None:
        place = f"{self.side}{f'after stripe {after}' if after else 'at the start'}"
        if re.fullmatch(_DOTS, seen):
            why, fix = "stands inside the count", "put dots only before the first and after the last stripe"
        elif seen.isdigit():
            why, fix = "is a number without a colour", "write the colour code first, as R20"
        else:
            why, fix = "cannot be read", "write each stripe as colour code and whole threads, as R20"
        self.problems.append(Problem(self.field, f'{place} "{seen}"', why, fix))

    def _check(self) -> None:
        tokens = self.tokens
        if not tokens:
            self._whole("holds no stripe", "write it like B/24 W4 R2 G/24")
            return
        for at, token in enumerate(tokens, start=1):
            if token.threads is None and (len(tokens) > 1 or token.pivot):
                why = "has no number of threads"
                self.problems.append(self._problem(at, token, why, f"write {token.code} and its threads"))
            elif token.threads == 0:
                why = "has no threads"
                self.problems.append(self._problem(at, token, why, "write 1 or more, or leave it out"))
        self._check_pivots()
        total = self.sett_threads()
        if total > MOST_THREADS:
            self._whole(f"has {total} threads in one sett, over {MOST_THREADS}", "check the numbers")

    def sett_threads(self) -> int:
        """Threads of the written sett; works on faulty counts too."""
        numbers = [token.threads or 0 for token in self.tokens]
        return sum(numbers) + (sum(numbers[1:-1]) if self.symmetric else 0)

    def _check_pivots(self) -> None:
        marked = [at for at, token in enumerate(self.tokens, start=1) if token.pivot]
        last = len(self.tokens)
        for at in marked:
            if 1 < at < last:
                why = "is marked as a pivot but is neither first nor last"
                fix = "mark only the first and the last stripe, or write no slash for a repeat"
                self.problems.append(self._problem(at, self.tokens[at - 1], why, fix))
        if not marked:
            return
        for at in {1, last} - set(marked):
            other = self.tokens[at - 1]
            why = "is not marked as a pivot, though another stripe is"
            fix = f"write {other.code}/{other.threads or ''}, or leave out every slash for a repeat"
            self.problems.append(self._problem(at, other, why, fix))
        if last == 1:
            self._whole("has one pivot and no other stripe", "write the second pivot, or leave out the slash")
        if self.dotted:
            self._whole("has both slashes and dots", "use slashes to mirror or dots to repeat, not both")

    def _problem(self, at: int, token: _Token, allowed: str, fix: str) -> Problem:
        return Problem(self.field, f'{self.side}stripe {at} "{token.text}"', allowed, fix)

    def _whole(self, allowed: str, fix: str) -> None:
        self.problems.append(Problem(self.field, f"the {self.side}count", allowed, fix))


def write_count(sett: Sett) -> str:
    """A count of one true period that reads back, with whole pivots, as the same cloth.

    A symmetric sett is written between slashes from its first pivot on, so θ = 0 moves to that
    pivot's left edge; any other between dots from θ = 0 on.
    """
    stripes = sett.stripes
    if sett.plain:
        return f"{stripes[0].colour}{sett.n}"
    if not sett.symmetric:
        wrapped = stripes[-1].end - sett.n
        runs = [(stripe.colour, stripe.threads) for stripe in stripes]
        if wrapped > 0:
            colour, threads = runs[-1]
            runs = [(colour, wrapped), *runs[:-1], (colour, threads - wrapped)]
        return _repeating([f"{colour}{threads}" for colour, threads in runs])
    first = sett.stripe_at(sett.mirror_centres[0]).index
    count = len(stripes) // 2 + 1
    half = [stripes[(first + step) % len(stripes)] for step in range(count)]
    ends = (0, count - 1)
    return " ".join(
        f"{stripe.colour}{'/' if at in ends else ''}{stripe.threads}" for at, stripe in enumerate(half)
    )


def _repeating(words: Sequence[str]) -> str:
    return f"...{' '.join(words)}..."


def sett_from_widths(
    widths: Sequence[tuple[str, Fraction]],
    symmetric: bool,
    *,
    pivots: Pivots = "whole",
    field: str = "tartan.widths",
) -> Sett:
    """A sett from stripe widths measured over one sett, in inches, in place of thread numbers.

    A written count gives proportions, not this weaver's threads [public: elliotclan.com/weaving.html].
    `symmetric` takes the first and last stripe as pivots. The unit is the widths' greatest common
    measure, exact. Raises InputError with every problem found.
    """
    problems = [
        Problem(
            field, f"stripe {at} ({colour})", "is not wider than 0", "give the measured width of the stripe"
        )
        for at, (colour, width) in enumerate(widths, start=1)
        if width <= 0
    ]
    if len(widths) < (2 if symmetric else 1):
        problems.append(
            Problem(field, f"{len(widths)} widths", "are too few", "measure every stripe of one sett")
        )
    if problems:
        raise InputError(problems)
    bottom = lcm(*(width.denominator for _, width in widths))
    unit = Fraction(gcd(*(int(width * bottom) for _, width in widths)), bottom)
    runs = [(colour, int(width / unit)) for colour, width in widths]
    if symmetric:
        if pivots == "half":
            for at in (0, -1):
                runs[at] = (runs[at][0], 2 * runs[at][1])
        runs += runs[-2:0:-1]
    if sum(units for _, units in runs) > _FINEST_UNITS:
        raise InputError(
            Problem(
                field,
                "the widths",
                "have no common measure that is not too fine",
                "round them to 1/64 in or 1/2 mm",
            )
        )
    return Sett.of_runs(runs, unit_inches=unit)
