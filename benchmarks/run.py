"""Speed, shown as ratios in one run: each case against a stated reference on the same machine.

Figures are printed and never asserted, for they belong to the machine they were taken on.
To add a case, write a function that returns a `Case` and name it in `CASES`.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Case:
    """What is timed, and the plain reference it is held against; both are called without arguments."""

    what: str
    run: Callable[[], object]
    reference: str
    run_reference: Callable[[], object]
    rounds: int = 5


def start() -> Case:
    """How long the command takes to say its version, against an interpreter that does nothing."""

    def python(*arguments: str) -> None:
        subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)

    return Case(
        what="pleatwright --version",
        run=lambda: python("-c", "from pleatwright.cli import main; main()", "--version"),
        reference="python -c pass",
        run_reference=lambda: python("-c", "pass"),
    )


def lengths() -> Case:
    """Reading a thousand lengths as makers write them, against reading plain fractions."""
    from pleatwright.lengths import parse_length

    written = [f"{whole} {part}/16" for whole in range(63) for part in range(16)]
    plain = [f"{whole * 16 + part}/16" for whole in range(63) for part in range(16)]
    return Case(
        what=f"{len(written)} lengths read",
        run=lambda: [parse_length(text) for text in written],
        reference="Fraction(text)",
        run_reference=lambda: [Fraction(text) for text in plain],
    )


CASES: tuple[Callable[[], Case], ...] = (start, lengths)


def best(call: Callable[[], object], rounds: int) -> float:
    """The shortest of several calls in seconds, after one call that is not counted."""
    call()
    times = []
    for _ in range(rounds):
        before = time.perf_counter()
        call()
        times.append(time.perf_counter() - before)
    return min(times)


def main() -> None:
    """Time every case and print a line for each."""
    print(f"{'case':<34}{'time':>12}  {'reference':<34}{'time':>12}{'ratio':>9}")
    for make in CASES:
        case = make()
        ours, theirs = best(case.run, case.rounds), best(case.run_reference, case.rounds)
        print(
            f"{case.what:<34}{ours * 1000:>9.2f} ms  {case.reference:<34}{theirs * 1000:>9.2f} ms"
            f"{ours / theirs:>8.1f}×"
        )


if __name__ == "__main__":
    main()
