"""What is seen to when the cloth comes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.cloth import Anchor, Arrival, Edge, Fault, Piece, Reading, arrival_findings
from pleatwright.findings import Finding, Severity
from pleatwright.trade import default_settings


def found(
    arrival: Arrival | None, *faults: Fault, read: bool = False, width: Fraction = Fraction(30)
) -> dict[str, Finding]:
    readings = (Reading("", 4.0, 1.0),) if read else ()
    piece = Piece(
        width,
        Fraction(300),
        Fraction(6),
        Fraction(6),
        Anchor(4.0, Fraction(1), "G"),
        None,
        readings,
        faults=faults,
        arrival=arrival,
    )
    return {one.code: one for one in arrival_findings(piece, default_settings(), Fraction(24))}


def test_a_piece_that_is_right_says_nothing() -> None:
    assert found(None) == {}
    right = Arrival(Fraction(300), Fraction(0), Fraction(1, 4), Edge.TRUE, None, "", True)
    assert found(right) == {}


@pytest.mark.parametrize("width", [12, 82, 28 * 12])
def test_a_width_that_no_kilt_cloth_has_is_asked_about(width: int) -> None:
    """Single width 26 to 30 inches, double 54 to 60: common practice, no source."""
    assert found(None, width=Fraction(width))["cloth.width-unusual"].severity is Severity.ASK
    assert all(found(None, width=Fraction(usual)) == {} for usual in (26, 28, 30, 54, 60))


def test_a_piece_shorter_than_invoiced_is_claimed_by_what_is_missing() -> None:
    one = found(Arrival(invoiced=Fraction(306)))["cloth.short"]
    assert one.severity is Severity.WARN
    assert 'missing 6"' in one.do
    assert "before anything is cut" in one.do
    assert "cloth.short" not in found(Arrival(invoiced=Fraction(601, 2)))


def test_a_crooked_end_costs_the_strip_its_share() -> None:
    one = found(Arrival(end_out=Fraction(5, 2)))["cloth.ends-crooked"]
    assert one.severity is Severity.WARN
    assert 'loses 2"' in one.expected
    assert found(Arrival(end_out=Fraction(1, 8)))["cloth.ends-crooked"].severity is Severity.NOTE


@pytest.mark.parametrize(
    "skew, severity",
    [(Fraction(5, 16), Severity.WARN), (Fraction(19, 16), Severity.WARN), (Fraction(5, 4), Severity.STOP)],
)
def test_skew_is_judged_over_the_height_that_is_ripped(skew: Fraction, severity: Severity) -> None:
    assert found(Arrival(skew=skew))["cloth.skew"].severity is severity
    assert "cloth.skew" not in found(Arrival(skew=Fraction(1, 4)))


def test_an_end_that_is_not_true_is_measured_from_the_first_sound_thread() -> None:
    asked = found(Arrival(edge=Edge.TUCKED))["cloth.edge"]
    assert asked.severity is Severity.ASK
    told = found(Arrival(edge=Edge.FRINGE, sound_from=Fraction(5, 8)))["cloth.edge"]
    assert told.severity is Severity.NOTE
    assert '5/8" in' in told.seen


def test_shade_and_rest_are_seen_to_before_any_reading() -> None:
    both = found(Arrival(shade="greener than the sample", relaxed=False), read=True)
    assert "greener than the sample" in both["cloth.shade"].seen
    assert "readings were taken before" in both["cloth.not-relaxed"].seen
    assert "nothing may be read" in found(Arrival(relaxed=False))["cloth.not-relaxed"].seen


def test_every_fault_is_listed_with_where_it_lies() -> None:
    one = found(None, Fault("knot", Fraction(60), Fraction(61), Fraction(14), Fraction(15), 2, "red thread"))[
        "cloth.fault"
    ]
    assert one.seen == (
        'knot (red thread), on the strip at the other selvedge, from 60" to 61" along, 14" to 15" above its '
        "selvedge"
    )
    assert found(None, Fault("stain", Fraction(1), Fraction(2), high=Fraction(3)))[
        "cloth.fault"
    ].seen.endswith('up to 3" above its selvedge')
