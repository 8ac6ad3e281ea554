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
from typing import Any

from benchmarks.case import Case
from benchmarks.pictures import PICTURES


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


def _military_request() -> Any:
    """The 426-thread sett at 6 1/2", waist 34", hips 41 1/2", eight and a half yards: everything open."""
    from pleatwright.cloth import Anchor, Piece
    from pleatwright.layout import Request
    from pleatwright.pleats import Wishes
    from pleatwright.sett import Tartan, parse_count
    from pleatwright.trade import default_settings
    from pleatwright.wearer import Body, Taper, sizes

    count = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6")
    tartan = Tartan("military", count.warp, count.weft, count.palette, count.written, count.pivots)
    settings, sett = default_settings(), Fraction(13, 2)
    worn = sizes(
        Body(Fraction(34), Fraction(83, 2), Fraction(22), Fraction(6)), taper=Taper.MAN, settings=settings
    )
    piece = Piece(Fraction(30), Fraction(306), sett, sett, Anchor(14.0, Fraction(1), "azure"), None)
    return Request(worn, tartan, sett, sett, piece, Wishes(), "right", settings)


def search() -> Case:
    """The whole search, best proven by a bound, against looking closely at every candidate."""
    from pleatwright.layout import search_of

    request = _military_request()

    def every() -> None:
        full = search_of(request)
        for row in range(len(full.field.which)):
            full.finished(full.field.candidate(row))

    return Case(
        what=f"search, {search_of(request).run_through().searched} candidates",
        run=lambda: search_of(request).run_through(),
        reference="every candidate measured",
        run_reference=every,
        rounds=3,
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
        what="pleatwright plan demo.toml",
        run=plan,
        reference="python -c pass",
        run_reference=lambda: subprocess.run([sys.executable, "-c", "pass"], check=True),
        rounds=3,
    )


CASES: tuple[Callable[[], Case], ...] = (start, lengths, search, plan_command, *PICTURES)


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
    print(f"{'case':<38}{'time':>12}  {'reference':<34}{'time':>12}{'ratio':>9}")
    for make in CASES:
        case = make()
        ours, theirs = best(case.run, case.rounds), best(case.run_reference, case.rounds)
        print(
            f"{case.what:<38}{ours * 1000:>9.2f} ms  {case.reference:<34}{theirs * 1000:>9.2f} ms"
            f"{ours / theirs:>8.2f}×"
        )
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory of the largest process above: {peak:.0f} MB")


if __name__ == "__main__":
    main()
