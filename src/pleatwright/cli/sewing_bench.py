"""A sewing log at hand: read, asked, added to, shown; what every command of the log shares."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from pleatwright.cli.app import UnitsChoice, job_of, refuse
from pleatwright.cli.terminal import say
from pleatwright.errors import Problem

if TYPE_CHECKING:
    from pleatwright.bench.sewing import Entry, Hand, Measured, SewingLog, SewingWords
    from pleatwright.findings import Finding
    from pleatwright.order import Job
    from pleatwright.shop.sewing_record import KeptLog


@dataclass
class SewingBench:
    """A log at hand: read, added to, shown."""

    order: Path
    named: Path | None
    shop: Path | None

    def __post_init__(self) -> None:
        from pleatwright.bench.sewing import hand_of

        self.where = place_of(self.order, self.named)
        self._read()
        say_torn(self.kept, self.where)
        self.job: Job = job_of(self.order, None, None, None, self.shop)
        kept_in = UnitsChoice(self.log.started.units)
        if self.job.units != kept_in:  # naming the order's own units would be another plan's version
            self.job = job_of(self.order, kept_in, None, None, self.shop)
        self.settings = self.job.request.settings.sewing
        self.hand: Hand = hand_of(self.log, self.settings)
        self.see = f'see "pleatwright sewing show {self.order}"'

    def _read(self) -> None:
        from pleatwright.shop.sewing_record import read_log

        self.kept: KeptLog = read_log(self.where)
        if self.kept.log is None:
            fix = f'begin one with "pleatwright sewing start {self.order}"'
            refuse(Problem("--log", f'"{self.where}"', "holds no log yet", fix))
        self.log: SewingLog = self.kept.log

    @property
    def words(self) -> SewingWords:
        """The log in words."""
        from pleatwright.bench.sewing import SewingWords

        return SewingWords(self.log, self.hand)

    def read(self, written: str | None, field: str) -> Fraction | None:
        """A width as written, in inches."""
        from pleatwright.lengths import parse_length

        if written is None:
            return None
        length = parse_length(written, field=field, unit=self.log.started.units)
        if not length:
            refuse(Problem(field, f'"{written}"', "is no width", "leave it out where you did not measure"))
        return length

    def signed(self, written: str | None, field: str, words: tuple[str, str]) -> Fraction:
        """What a fitting found: positive for the first word, negative for the second, 0 where all is well."""
        if written is None or written.strip().casefold() in ("right", "good", "0"):
            return Fraction(0)
        first, _, rest = written.strip().partition(" ")
        if first.casefold() not in words or not rest:
            fix = f'write "{words[0]} 1/2", "{words[1]} 1/2" or "right"'
            refuse(Problem(field, f'"{written}"', f"says neither {words[0]} nor {words[1]}", fix))
        length = self.read(rest, field) or Fraction(0)
        return length if first.casefold() == words[0] else -length

    def stretch(
        self, after: int | None, pleat: int | None, first: int | None, last: int | None
    ) -> tuple[int, int]:
        """The pleats meant, the lower number first."""
        pleats = len(self.log.started.told.hip)
        for field, number in (("--after", after), ("--pleat", pleat), ("--from", first), ("--to", last)):
            if number is not None and not 1 <= number <= pleats:
                allowed = f"is no pleat; they are numbered 1 to {pleats} from the over-apron"
                refuse(Problem(field, str(number), allowed, "count again"))
        ways = [after is not None, pleat is not None, first is not None or last is not None]
        if sum(ways) != 1 or (first is None) != (last is None):
            fix = "write --after 9, --pleat 7, or --from 4 --to 9"
            refuse(Problem("--after", "the pleats", "must be said in one way", fix))
        if pleat is not None:
            return pleat, pleat
        if after is not None:
            return (1, after) if self.log.from_over_apron else (after, pleats)
        ends = sorted((first or 0, last or 0))
        return ends[0], ends[1]

    def ask(self, entry: Measured, log: SewingLog) -> None:
        """Refuse what is hardly possible, with a question."""
        from pleatwright.bench.sewing import doubt_about

        asked = doubt_about(log, entry, self.settings)
        if asked is not None:
            stretch = self.words.stretch(entry.first, entry.last)
            fix = " ".join((*asked.guesses, "measure again, and if it is right add --sure"))
            refuse(Problem(stretch, asked.said, "is hardly possible and is not kept", fix))

    def add(self, entry: Entry) -> None:
        """Keep one more entry, with the sizes it tells, and show where things stand."""
        from pleatwright.bench.sewing import telling
        from pleatwright.shop.sewing_record import append_entry

        entry = telling(self.log, entry, self.settings)
        append_entry(self.where, entry, self.kept)
        self._read()
        self.report(entry)

    def report(self, entry: Entry) -> None:
        """Say what was kept, and where things stand."""
        say(f"Entry {len(self.log.entries)}: {self.words.entry(entry)}.")
        say("")
        self.stand()

    def stand(self, *, every: bool = False) -> None:
        """Where things stand."""
        from pleatwright.bench.sewing import standing
        from pleatwright.cli.terminal_sewing import NEXT, report_standing

        now = standing(self.log, self.settings)
        ahead = None if every else NEXT
        report_standing(self.log, now, self.words, self.changed(), ahead=ahead)

    def changed(self) -> tuple[Finding, ...]:
        """What the order's plan of today would change."""
        from pleatwright.bench.sewing import changed_findings
        from pleatwright.layout import make_plan

        if self.job.version == self.log.started.plan:
            return ()
        request = self.job.request
        return changed_findings(self.log, make_plan(request).options, request, self.hand)


def place_of(order: Path, named: Path | None) -> Path:
    """The log's file: the one that is named, else that beside the order."""
    from pleatwright.shop.sewing_record import log_beside

    return named or log_beside(order)


def say_torn(kept: KeptLog, where: Path) -> None:
    """Say that a crash cut the last line off."""
    if kept.torn:
        say(f"The last line of {where} was cut off in the writing and is no entry: enter it again.")


def day(written: str | None) -> str:
    """A day as written, checked; "" where none is."""
    if written is None:
        return ""
    try:
        return date.fromisoformat(written).isoformat()
    except ValueError:
        refuse(Problem("--on", f'"{written}"', "is not a day", "write it as 2031-05-04"))


def line(words: str) -> str:
    """Words on one line."""
    return " ".join(words.split())
