"""Speed, shown as ratios in one run: each case against a stated reference on the same machine.

Figures are printed and never asserted, for they belong to the machine they were taken on.
To add a case, write a function that returns a `Case` and name it in `CASES`.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from benchmarks import web
from benchmarks.case import Case
from benchmarks.pictures import PICTURES
from benchmarks.search import SEARCH, tables


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


def plan_command() -> Case:
    """The whole command with pictures and PDF, against an interpreter that does nothing; and its memory."""
    order = Path(__file__).parents[1] / "examples" / "demo.toml"

    def plan() -> None:
        with tempfile.TemporaryDirectory() as folder:
            subprocess.run(
                [sys.executable, "-m", "pleatwright", "plan", str(order), "--out", f"{folder}/packet"],
                check=True,
                stdout=subprocess.DEVNULL,
            )

    return Case(
        what="whole plan command, all papers",
        run=plan,
        reference="python -c pass",
        run_reference=lambda: subprocess.run([sys.executable, "-c", "pass"], check=True),
        rounds=3,
    )


CASES: tuple[Callable[[], Case], ...] = (start, lengths, *SEARCH, plan_command, *PICTURES)


def best(call: Callable[[], object], rounds: int) -> float:
    """The shortest of several calls in seconds, after one call that is not counted."""
    call()
    times = []
    for _ in range(rounds):
        before = time.perf_counter()
        call()
        times.append(time.perf_counter() - before)
    return min(times)


def _ratio(ours: float, theirs: float) -> str:
    return f"{ours / theirs:.2f}×" if ours > theirs / 10 else f"1/{theirs / ours:.0f}"


def main() -> None:
    """Time every case and print a line for each; then the workshop app under load."""
    print(f"{'case':<38}{'time':>12}  {'reference':<34}{'time':>12}{'ratio':>9}")
    for make in CASES:
        case = make()
        ours = best(case.run, case.rounds)
        theirs = best(case.run_reference, case.rounds_reference or case.rounds)
        print(
            f"{case.what:<38}{ours * 1000:>9.2f} ms  {case.reference:<34}{theirs * 1000:>9.2f} ms"
            f"{_ratio(ours, theirs):>9}"
        )
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory of the largest process above: {peak:.0f} MB")
    tables()
    print()
    web.main()


if __name__ == "__main__":
    main()
