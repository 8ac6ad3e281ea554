"""Speed of the search and of whole plans: against a plain reference, by the size of the sett, by the body.

The reference is the proof's evaluator (tests/proof/evaluator.py): the same candidates in plain loops over
plain numbers, every one placed and measured, what it has measured before remembered.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from fractions import Fraction
from functools import cache, partial
from pathlib import Path
from random import Random
from statistics import median
from typing import TYPE_CHECKING

from benchmarks.case import Case

if TYPE_CHECKING:
    from pleatwright.layout import Request
    from pleatwright.sett import Sett
    from pleatwright.wearer import Body

THREADS = (60, 120, 240, 426, 850, 2000)
BODIES, SEED = 60, 11
ROUNDS = 15
CLOSE = 1e-9


@cache
def demo() -> Request:
    """The first example order."""
    from pleatwright.order import read_order

    order = Path(__file__).parents[1] / "examples" / "demo.toml"
    return read_order(order.read_text(encoding="utf-8"), source=order.name).request


@cache
def military() -> Request:
    """The 426-thread sett at 6 1/2", waist 34", hips 41 1/2", eight and a half yards: everything open."""
    from pleatwright.sett import parse_count

    return asked(parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft)


def asked(sett: Sett) -> Request:
    """A usual man's kilt in this sett at 6 1/2", everything open."""
    from pleatwright.cloth import Anchor, Piece
    from pleatwright.layout import Request
    from pleatwright.pleats import Wishes
    from pleatwright.sett import Tartan
    from pleatwright.trade import default_settings
    from pleatwright.wearer import Body, Taper, sizes

    tartan = Tartan("invented", sett, sett, (), "", "whole")
    settings, size = default_settings(), Fraction(13, 2)
    worn = sizes(
        Body(Fraction(34), Fraction(83, 2), Fraction(22), Fraction(6)), taper=Taper.MAN, settings=settings
    )
    anchor = Anchor(sett.centre_of(sett.stripes[0]), Fraction(1), "the first stripe")
    piece = Piece(Fraction(30), Fraction(306), size, size, anchor, None)
    return Request(worn, tartan, size, size, piece, Wishes(), "right", settings)


def sett_of(threads: int) -> Sett:
    """An invented sett of at least so many threads that mirrors; the larger, the wider its stripes."""
    from pleatwright.sett import Sett

    draw, runs = Random(threads), [("B", 2), ("W", 4)]
    while (sett := Sett.of_runs(runs + runs[-2:0:-1])).n < threads:
        wide = draw.choice([2, 4, 6, 16, 32]) * max(1, threads // 200)
        runs.append((draw.choice([colour for colour in "BGKWRY" if colour != runs[-1][0]]), wide))
    return sett


def searched(request: Request) -> int:
    """Search on every way of laying the cloth that a plan looks at; how many candidates there were."""
    from pleatwright.layout.plan import searches_made

    return sum(search.run_through().searched for search in searches_made(request))


def search() -> Case:
    """The 426-thread sett, with the plan's options and the reference's held against each other."""
    from pleatwright.layout import make_plan
    from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND
    from tests.proof.evaluator import evaluate

    even = frozenset((*TARTAN_KINDS, *PLAIN_KINDS)) - {UNEVEN_KIND}
    request = replace(military(), wishes=replace(military().wishes, kinds=even))
    shop = request.settings
    by_points_alone = replace(request, settings=replace(shop, search=replace(shop.search, near_best=0.0)))

    def reference() -> None:
        plan, answer = make_plan(by_points_alone), evaluate(request)
        same = (plan.searched, plan.fitting) == (answer.searched, answer.fitting)
        for option, kilt in zip(plan.options, answer.kept, strict=True):
            same &= (option.form, option.shows) == kilt.pleats.kind and option.pleats == kilt.pleats.count
            same &= abs(option.score - kilt.score) < CLOSE
        if not same:
            raise AssertionError("the search and the plain reference do not agree")

    return Case(
        what=f"search, {searched(request)} candidates",
        run=lambda: searched(request),
        reference="every one in plain loops, same best",
        run_reference=reference,
        rounds_reference=1,
    )


def demo_search() -> Case:
    """The first example's search against its whole plan."""
    from pleatwright.layout import make_plan

    return Case(
        what=f"search of demo.toml, {searched(demo())}",
        run=lambda: searched(demo()),
        reference="its whole plan, no files",
        run_reference=lambda: make_plan(demo()),
        rounds=ROUNDS,
    )


SEARCH = (search, demo_search)


# ---------------------------------------------------------------------------------------------- tables


def times(call: Callable[[], object], rounds: int = ROUNDS) -> list[float]:
    """Seconds of several calls, after one that is not counted."""
    call()
    found = []
    for _ in range(rounds):
        before = time.perf_counter()
        call()
        found.append(time.perf_counter() - before)
    return found


def by_sett() -> None:
    """Time against threads and candidates."""
    print(f"\n{'sett':>14}{'stripes':>9}{'candidates':>12}{'median':>10}{'best':>10}{'a second':>12}")
    for threads in THREADS:
        sett = sett_of(threads)
        request = asked(sett)
        many, took = searched(request), times(partial(searched, request), 5)
        print(
            f"{sett.n:>6} threads{len(sett.stripes):>9}{many:>12,}{median(took) * 1000:>7.1f} ms"
            f"{min(took) * 1000:>7.1f} ms{many / median(took):>12,.0f}"
        )


def planned(body: Body) -> float:
    """Seconds for a whole plan of one body on the first example's cloth, without files; nought if refused."""
    from pleatwright.errors import InputError
    from pleatwright.layout import make_plan
    from pleatwright.wearer import Taper, sizes

    taper = Taper.WOMAN if body.woman else Taper.MAN
    before = time.perf_counter()
    try:
        worn = sizes(body, taper=taper, settings=demo().settings)
    except InputError:
        return 0.0
    make_plan(replace(demo(), sizes=worn))
    return time.perf_counter() - before


def by_body() -> None:
    """Whole plans a second over bodies drawn from the survey [public: ANSUR II, 2012], by processes."""
    from pleatwright.wearer import draw_bodies

    bodies = [
        body
        for pair in zip(
            draw_bodies(BODIES // 2, SEED, "man"), draw_bodies(BODIES // 2, SEED, "woman"), strict=True
        )
        for body in pair
    ]
    print(f"\nwhole plans without files, {BODIES} bodies on the cloth of demo.toml")
    planned(bodies[0])
    before = time.perf_counter()
    _print_plans("one process", [planned(body) for body in bodies], time.perf_counter() - before)
    with ProcessPoolExecutor(2) as two:
        list(two.map(planned, bodies[:8]))  # both awake, everything imported
        before = time.perf_counter()
        took = list(two.map(planned, bodies, chunksize=5))
        _print_plans("two processes", took, time.perf_counter() - before)


def _print_plans(what: str, took: Sequence[float], whole: float) -> None:
    made = [one for one in took if one]
    print(
        f"{what:>16}: {len(made) / whole:6.1f} plans a second; a plan {median(made) * 1000:.1f} ms in the "
        f"median, {max(made) * 1000:.1f} ms at most; {len(took) - len(made)} bodies refused"
    )


def by_memory() -> None:
    """The most memory a process of its own takes for one search; only where the system tells (Linux)."""
    told = Path("/proc/self/status")
    if not told.exists():
        return
    print("\npeak memory of a process that")
    ours = "from benchmarks import search; "
    for what, code in (
        ("imports the search", "import pleatwright.layout"),
        ("searches the 426-thread sett", f"{ours}search.searched(search.military())"),
        ("searches the largest sett above", f"{ours}search.searched(search.asked(search.sett_of(2000)))"),
    ):
        telling = f"{code}; print(open('{told}').read())"
        said = subprocess.run(
            [sys.executable, "-c", telling], check=True, capture_output=True, text=True
        ).stdout
        peak = next(line for line in said.splitlines() if line.startswith("VmHWM"))
        print(f"{what:>34}: {int(peak.split()[1]) / 1024:.0f} MB")


def tables() -> None:
    """Everything that is no ratio."""
    by_sett()
    by_body()
    by_memory()
