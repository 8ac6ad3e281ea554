"""The check before the rip: every slip it is there for, on cloth that is otherwise right; clean cloth passes.

The bench here knows the cloth's threads and where the chalk lies, and says what a maker would measure; it
does not use the check's own expectations.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from itertools import accumulate, pairwise
from pathlib import Path

import pytest

from pleatwright.bench import Decision, Found, Override, decision, judge
from pleatwright.cloth import Run
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Option, make_plan
from pleatwright.order import Job, read_order
from pleatwright.sett import Sett, Stripe
from pleatwright.shop import read_found

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str, units: str | None = None) -> tuple[Job, Option]:
    """An example's kilt; after a colon, another height of the selvedge's stripe."""
    name, _, selvedge = name.partition(":")
    text = (EXAMPLES / f"{name}.toml").read_text()
    if selvedge:
        text = text.replace('stripe = "W6", distance = "3"', f'stripe = "W6", distance = "{selvedge}"')
    job = read_order(text, units=units)
    option = make_plan(job.request).chosen
    assert option is not None
    return job, option


def noise_of(seed: int | None) -> Callable[[], float]:
    if seed is None:
        return lambda: 0.0
    draw = random.Random(seed)
    return lambda: draw.uniform(-1 / 16, 1 / 16)


@dataclass
class Bench:
    """A piece on the table with its chalk; inches and threads as they truly are."""

    job: Job
    option: Option
    along: Run
    across: Run | None
    noise: Callable[[], float]
    zero: float = 0.0  # where the first sound thread lies on the true tape
    chalk: float = 0.0  # how far every mark along has slipped
    height: float = 0.0
    width: float = 0.0
    length: float = 0.0
    mirrored: bool = False
    said: dict[str, str] = field(default_factory=dict)

    @classmethod
    def right(cls, name: str, seed: int | None = None) -> Bench:
        job, option = planned(name)
        request, noise = job.request, noise_of(seed)
        piece, cloth = request.piece, option.cloth
        assert piece is not None
        assert cloth is not None
        along = wandering(cloth.run(request.tartan.weft), seed)
        across = None
        if piece.selvedge is not None:
            size = float(piece.sett_across) + noise() / 4
            phase = piece.selvedge_phase(request.tartan) + noise() * request.tartan.warp.n / size
            across = Run.uniform(request.tartan.warp, size, phase, float(piece.width))
        return cls(
            job,
            option,
            along,
            across,
            noise,
            height=float(request.sizes.total) + (option.join.hem_first if option.join else 0.0),
            width=float(piece.width),
            length=float(piece.length),
        )

    def read(self, value: float) -> str:
        """A length as it is read off a tape, to the sixteenth and never below nothing."""
        return f"{max(Fraction(0), Fraction(round((value + self.noise()) * 16), 16))} in"

    def at(self, thread: float, *, by_eye: bool) -> float:
        """Where the mark for a thread lies on the true tape; the centre of a stripe is found by eye."""
        return self.along.tape_at(thread) + self.chalk + self.noise() * (0.5 if by_eye else 1)

    def answers(self) -> dict[str, str]:
        """Every blank as this bench fills it in."""
        option, read = self.option, self.read
        left, right = option.over_apron, option.under_apron
        far = option.strips[-1]
        if option.opens_on == "left":
            left, right, far = right, left, option.strips[0]
        weft = self.along.sett
        eye = abs(weft.centre_of(weft.stripe_at(far.phase)) - far.phase) < 1e-6
        marks = {
            "left_apron": self.at(left.thread, by_eye=True),
            "far_pleat": self.at(far.thread, by_eye=eye),
        }
        last = self.at(right.thread, by_eye=True)
        found = {
            "plan": self.job.version,
            "left_apron": left.name,
            "setts": str(
                round((self.along.thread_at(last) - self.along.thread_at(marks["left_apron"])) / weft.n)
            ),
            "length": read(self.length - self.zero),
            "fringe": "0",
            "left_facing": read(marks["left_apron"] - (left.centre - left.left) - self.zero),
            "right_facing": read((self.along.length or 0.0) - last - (right.right - right.centre)),
            "end_out": read(0.0),
            "lean": read(0.0),
            "above_rip": read(self.width - self.height - self.second),
            "band_beside": read(0.0),
            "faults": "none",
        }
        for key, x in marks.items():
            found[f"{key}_centre"] = read(x - self.zero)
            found[f"{key}_stripes"] = labels(weft, self.along.thread_at(x), mirrored=self.mirrored)
        for place in ("left", "middle", "right"):
            found[f"height_{place}"] = read(self.height + self.noise())
        if self.across is not None:
            found["rip_stripes"] = labels(self.across.sett, self.across.thread_at(self.height + self.noise()))
        found |= self.joined()
        if not self.job.request.tartan.weft.plain:
            return found | self.said
        return {key: value for key, value in found.items() if not key.endswith("stripes")} | self.said

    @property
    def second(self) -> float:
        """Height of the second strip; 0 where there is none."""
        join = self.option.join
        return 0.0 if join is None else self.height - join.hem_first + join.hem_second

    def joined(self) -> dict[str, str]:
        option = self.option
        if option.cloth is None or option.cloth.join is None:
            return {}
        thread, weft = option.cloth.join.thread, self.along.sett
        at = self.along.tape_at(thread)
        reveal = max(level.reveal for level in option.levels)
        edges = [
            self.along.tape_at(s.thread) + side * s.face * reveal / 2
            for s in option.strips
            for side in (-1, 1)
        ]
        pivot = weft.mirror_centres[0]
        before = thread - (thread - pivot) % weft.n
        seen = self.along.thread_at(at + self.noise())
        return {
            "second_selvedge": "bottom",
            "second_twill": "same way",
            "seam_pleats": str(sum(s.thread < thread for s in option.strips)),
            "seam_clear": self.read(min(abs(edge - at) for edge in edges) + self.noise()),
            "horizontals": self.read(option.cloth.join.missed),
            "seam_stripes": f"{label(stripe_on(weft, seen, -1))} {labels(weft, seen)}",
            "seam_repeat": self.read(self.along.tape_at(before + weft.n) - self.along.tape_at(before)),
        }

    def found(self) -> Found:
        lines = [
            f"{key} = {value}" if value.startswith("[") else f'{key} = "{value}"'
            for key, value in self.answers().items()
        ]
        return read_found("\n".join(lines), self.job, self.option).found

    def findings(self) -> tuple[Finding, ...]:
        return judge(self.job, self.option, self.found())

    def stops(self) -> set[str]:
        return {f.code for f in self.findings() if f.severity is Severity.STOP}

    def warns(self) -> set[str]:
        return {f.code for f in self.findings() if f.severity is Severity.WARN}


def wandering(run: Run, seed: int | None) -> Run:
    """The cloth as it truly is: its scale changes by up to 0.5% every 26", and the first stripe lies off."""
    if seed is None or run.length is None:
        return run
    draw = random.Random(f"cloth {seed}")
    places = {26.0 * i for i in range(int(run.length / 26) + 2)} | set(run.tape)
    threads = sorted(run.thread_at(x) for x in places)
    scales = accumulate((draw.uniform(-0.005, 0.005) for _ in threads[1:]), initial=1.0)
    tape = [draw.uniform(-1 / 16, 1 / 16)]
    for (low, high), scale in zip(pairwise(threads), scales, strict=False):
        tape.append(tape[-1] + (run.tape_at(high) - run.tape_at(low)) * scale)
    return Run(run.sett, run.length, tuple(tape), tuple(threads))


def stripe_on(sett: Sett, thread: float, step: int = 0) -> Stripe:
    return sett.stripes[(sett.stripe_at(thread).index + step) % len(sett.stripes)]


def label(stripe: Stripe) -> str:
    return f"{stripe.colour}{stripe.threads}"


def labels(sett: Sett, thread: float, *, mirrored: bool = False) -> str:
    return f"{label(stripe_on(sett, thread))} {label(stripe_on(sett, thread, -1 if mirrored else 1))}"


ONE_STRIP = (
    "asymmetric",
    "belly",
    "box-four-yards",
    "child-hem",
    "demo",
    "large-abac-sett",
    "womans-taper",
)


@pytest.mark.parametrize("name", [*ONE_STRIP, "double-width"])
def test_right_cloth_measured_without_error_has_nothing_to_find(name: str):
    assert Bench.right(name).findings() == ()


@pytest.mark.parametrize("name", [*ONE_STRIP, "double-width"])
def test_two_hundred_clean_pieces_measured_to_a_sixteenth_never_stop(name: str):
    stopped = {seed: bench.stops() for seed in range(200) if (bench := Bench.right(name, seed)).stops()}
    assert stopped == {}


def test_a_clean_fringe_measured_from_its_first_sound_thread_never_stops():
    for seed in range(100):
        bench = Bench.right("demo", seed)
        bench.said = {"fringe": str(Fraction(1 + seed % 20, 16))}
        assert bench.stops() == set()


def test_a_rip_short_of_the_rise():
    bench = Bench.right("demo")
    bench.height -= float(bench.job.sizes.rise)
    assert "check.height-short" in bench.stops()
    assert any("as if the rise had been left out" in finding.seen for finding in bench.findings())


def test_a_rip_short_of_the_hem():
    bench = Bench.right("child-hem")
    bench.height -= float(bench.job.sizes.hem)
    assert "check.height-short" in bench.stops()
    assert any("as if the hem had been left out" in finding.seen for finding in bench.findings())


def test_marks_chalked_from_the_end_of_the_fringe():
    bench = Bench.right("demo")
    bench.chalk, bench.said = -0.75, {"fringe": "3/4"}
    assert "check.from-fringe" in bench.stops()


def test_an_order_measured_from_the_end_of_the_fringe():
    bench = Bench.right("demo")
    bench.zero, bench.said = 0.75, {"fringe": "3/4"}
    assert bench.stops() == {"check.from-fringe"}


def test_a_rip_begun_on_the_next_stripe_of_the_same_colour():
    text = (EXAMPLES / "demo.toml").read_text().replace('drop = "21 1/2"', 'drop = "21"')
    job = read_order(text)  # the rip now lies at the upper edge of a black
    option = make_plan(job.request).chosen
    assert option is not None
    bench = replace(Bench.right("demo"), job=job, option=option, height=float(job.sizes.total))
    assert bench.answers()["rip_stripes"] == "K14 B24"
    assert bench.stops() == set()
    assert bench.across is not None
    bench.height = bench.across.tape_at(bench.across.thread_at(bench.height) + 24 + 4 + 24 + 7)
    assert bench.answers()["rip_stripes"] == "K14 W6"
    assert bench.stops() == {"check.rip-stripe", "check.height-long"}
    assert any("a neighbour of the same colour" in finding.seen for finding in bench.findings())


def test_where_the_size_across_was_never_measured_the_stripe_under_the_rip_only_warns():
    bench = Bench.right("belly")
    bench.said = {"rip_stripes": "DG30 R8"}
    assert bench.stops() == set()
    assert bench.warns() == {"check.rip-stripe"}


def test_too_little_left_for_the_band():
    bench = Bench.right("demo")
    bench.width = bench.height + 2.75
    assert bench.stops() == {"check.band-short"}


def test_a_band_centred_from_another_repeat():
    bench = Bench.right("demo")
    bench.said = {"band_beside": "6 1/2"}
    assert bench.stops() == {"check.band-repeat"}
    bench.said = {"band_beside": "1"}
    assert bench.stops() == {"check.band-beside"}


def test_a_second_strip_face_down():
    bench = Bench.right("double-width")
    bench.said = {"second_twill": "other way"}
    assert bench.stops() == {"check.face-down"}


def test_a_second_strip_that_was_not_turned():
    bench = Bench.right("double-width")
    bench.said = {"second_selvedge": "top"}
    assert bench.stops() == {"check.not-turned"}


def test_a_join_half_a_sett_out_because_its_stripe_occurs_twice():
    bench = Bench.right("double-width")
    assert bench.option.cloth is not None
    assert bench.option.cloth.join is not None
    thread, weft = bench.option.cloth.join.thread, bench.along.sett
    twin = 2 * weft.mirror_centres[0] - thread  # the second strip goes on from the mirror image of the place
    here = stripe_on(weft, thread)
    assert label(stripe_on(weft, twin)) == label(here)
    size = float(bench.job.request.sett_along) / weft.n
    pivot = weft.mirror_centres[0]
    over = ((thread - pivot) % weft.n + (pivot - twin) % weft.n) * size
    bench.said = {
        "seam_stripes": f"{label(stripe_on(weft, thread, -1))} {labels(weft, twin)}",
        "seam_repeat": str(Fraction(round(over * 16), 16)),
    }
    assert bench.stops() == {"check.join-out"}
    right = Bench.right("double-width").answers()
    assert bench.said["seam_stripes"] != right["seam_stripes"]
    assert bench.said["seam_repeat"] != right["seam_repeat"]
    for told in ("seam_stripes", "seam_repeat"):  # either of the two is enough
        again = Bench.right("double-width")
        again.said = {told: bench.said[told]}
        assert again.stops() == {"check.join-out"}


def test_horizontals_of_the_strips_apart():
    bench = Bench.right("double-width")
    bench.said = {"horizontals": "1/2"}
    assert bench.stops() == {"check.horizontals"}


@pytest.mark.parametrize("selvedge, hemmed", [("2", "second"), ("4", "first")])
def test_a_strip_hemmed_so_that_the_horizontals_meet(selvedge: str, hemmed: str):
    bench = Bench.right(f"double-width:{selvedge}")
    assert bench.option.join is not None
    assert (bench.option.join.hemmed, round(bench.option.join.hem, 6)) == (hemmed, 2)
    assert (bench.stops(), bench.warns()) == (set(), set())
    forgotten = Bench.right(f"double-width:{selvedge}")
    forgotten.said = {"horizontals": "2"}  # the hem was not folded
    assert forgotten.stops() == {"check.horizontals"}
    if hemmed == "first":  # ripped without its hem
        short = Bench.right("double-width:4")
        short.height -= 2
        assert "check.height-short" in short.stops()


def test_a_join_on_a_reveal():
    bench = Bench.right("double-width")
    bench.said = {"seam_clear": "0"}
    assert bench.stops() == {"check.join-shows"}


def test_a_join_at_the_strap_hole():
    bench = Bench.right("double-width")
    bench.said = {"seam_pleats": "1"}
    assert bench.stops() == {"check.join-strap-hole"}
    bench.said = {"seam_pleats": "2"}
    assert (bench.stops(), bench.warns()) == (set(), {"check.join-elsewhere"})


def test_a_join_that_is_not_pinned_yet_warns_and_lets_the_rip_go_on():
    job, option = planned("double-width")
    asked = Bench.right("double-width").answers()
    before = ("plan", "length", "fringe", "height", "rip", "end", "lean", "above", "band")
    text = "\n".join(f'{key} = "{value}"' for key, value in asked.items() if key.startswith(before))
    findings = judge(job, option, read_found(text, job, option).found)
    assert [finding.code for finding in findings] == ["check.join-open"]
    assert decision(findings, ()) is Decision.GO


def test_an_asymmetric_cloth_marked_as_if_it_mirrored():
    bench = Bench.right("asymmetric")
    bench.mirrored = True
    assert bench.stops() == {"check.asymmetric"}


def test_a_facing_too_short():
    bench = Bench.right("demo")
    bench.said = {"left_facing": "2 1/2"}
    assert bench.stops() == {"check.facing-short"}
    bench.said = {"right_facing": "1 1/2"}
    assert bench.stops() == {"check.facing-short"}
    bench.said = {"left_facing": "2 7/8"}
    assert bench.stops() == set()


def test_the_opening_side_reversed():
    bench = Bench.right("demo")
    bench.said = {"left_apron": "under-apron"}
    assert bench.stops() == {"check.opening-side"}
    left = Bench.right("womans-taper")
    left.said = {"left_apron": "over-apron"}
    assert left.stops() == {"check.opening-side"}


def test_a_piece_shorter_than_invoiced_warns_while_the_kilt_can_be_made():
    bench = Bench.right("demo")
    bench.length -= 9
    assert (bench.stops(), bench.warns()) == (set(), {"check.piece-short"})


def test_a_piece_shorter_than_the_plan_stops():
    bench = Bench.right("demo")
    bench.length = bench.option.under_apron.right + bench.option.facing - 1
    assert bench.stops() == {"check.piece-short"}


def test_an_end_that_is_crooked_warns_and_stops_where_it_eats_the_facing():
    bench = Bench.right("demo")
    bench.said = {"end_out": "3/4"}
    assert (bench.stops(), bench.warns()) == (set(), {"check.end-crooked"})
    bench.said = {"end_out": "3", "left_facing": "2"}
    assert (bench.stops(), bench.warns()) == ({"check.facing-short"}, {"check.end-crooked"})


def test_stripes_that_lean():
    bench = Bench.right("demo")
    bench.said = {"lean": "3/8"}
    assert (bench.stops(), bench.warns()) == (set(), {"check.skew"})
    bench.said = {"lean": "1 1/4", "end_out": "1 1/4"}
    assert (bench.stops(), bench.warns()) == ({"check.skew"}, set())


@pytest.mark.parametrize("name", ["demo", "womans-taper", "asymmetric"])
@pytest.mark.parametrize("way", [-1, 1])
def test_everything_one_sett_out(name: str, way: int):
    for seed in range(20):
        bench = Bench.right(name, seed)
        bench.chalk = way * float(bench.job.request.sett_along)
        assert "check.sett-out" in bench.stops()


def test_the_pleats_one_sett_out():
    bench = Bench.right("demo")
    bench.said = {"setts": str(int(bench.answers()["setts"]) + 1)}
    assert bench.stops() == {"check.setts-between"}


def test_a_knot_in_the_over_apron():
    bench = Bench.right("demo")
    bench.said = {"faults": '["16 1/2"]'}
    assert bench.stops() == {"check.fault-on-apron"}


def test_a_knot_on_a_pleat_stops_and_in_a_fold_or_above_the_rip_does_not():
    bench = Bench.right("demo")
    pleat = bench.option.strips[3].centre
    bench.said = {"faults": f'["{pleat:.2f}"]'}
    assert bench.stops() == {"check.fault-on-pleat"}
    fold = (bench.option.strips[3].centre + bench.option.strips[4].centre) / 2
    bench.said = {"faults": f'["{fold:.2f}", {{ at = "{pleat:.2f}", height = "25" }}]'}
    assert bench.stops() == set()


def test_a_fault_the_plan_already_keeps_clear_of_is_no_news():
    bench = Bench.right("double-width")
    bench.said = {"faults": '["14 1/8"]'}
    assert bench.stops() == set()


def test_a_packet_printed_from_older_measurements():
    job, _ = planned("demo")
    text = (EXAMPLES / "demo.toml").read_text()
    older = read_order(text.replace('waist = "35 1/2"', 'waist = "35"')).version
    assert older != job.version
    bench = Bench.right("demo")
    bench.said = {"plan": older}
    assert bench.stops() == {"check.old-packet"}


def test_a_mark_on_the_wrong_stripe():
    bench = Bench.right("demo")
    bench.chalk = 1.0
    assert bench.stops() == {"check.wrong-stripe"}
    assert len(bench.findings()) == 2  # apron and pleat, each by itself


def test_a_tape_that_disagrees_where_the_stripe_is_right_warns():
    bench = Bench.right("demo")
    bench.said = {"left_apron_centre": "16 3/4"}
    assert (bench.stops(), bench.warns()) == (set(), {"check.tape-off"})


@pytest.mark.parametrize(
    "name, said",
    [
        ("demo", {"above_rip": "2 15/16"}),
        ("demo", {"band_beside": "3/16"}),
        ("demo", {"lean": "3/16"}),
        ("demo", {"end_out": "3/16"}),
        ("demo", {"height_left": "23 1/4", "height_right": "23 5/8"}),
        ("double-width", {"seam_clear": "3/8"}),
        ("double-width", {"horizontals": "1/8"}),
    ],
)
def test_what_is_only_just_off_is_not_mentioned(name: str, said: dict[str, str]):
    bench = Bench.right(name)
    bench.said = said
    assert bench.findings() == ()


def test_a_fault_just_beside_a_pleat_s_edge_stops_too():
    bench = Bench.right("demo")
    strip = bench.option.strips[3]
    edge = strip.centre + max(level.reveal for level in bench.option.levels) / 2
    bench.said = {"faults": f'["{edge + 1 / 8:.3f}"]'}
    assert bench.stops() == {"check.fault-on-pleat"}


def test_a_stop_is_taken_on_by_code_reason_and_initials_only():
    stop = (Finding("check.skew", Severity.STOP, "", "", ""),)
    warn = (Finding("check.skew", Severity.WARN, "", "", ""),)
    assert decision((), ()) is decision(warn, ()) is Decision.GO
    assert decision(stop, ()) is Decision.STOP
    assert decision(stop, (Override("check.skew", "steamed since", "HB"),)) is Decision.GO
    for override in (
        Override("check.skew", " ", "HB"),
        Override("check.skew", "steamed since", ""),
        Override("check.band-short", "steamed since", "HB"),
    ):
        assert decision(stop, (override,)) is Decision.STOP
