"""Gauge sizes add up exactly, and the fewest gauges serve them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.bench import Gauge, GaugeList, GaugeSize, Reading, gauge_list
from pleatwright.bench.drawer import drawer_findings, fewest
from pleatwright.findings import Severity
from pleatwright.layout import Option, Request, make_plan
from pleatwright.lengths import MILLIMETRE, Grid, on_grid
from pleatwright.order import OwnedGauge
from pleatwright.pleats import Form, Kind, Shows, Wishes
from pleatwright.sett import Tartan, parse_count
from pleatwright.trade import default_settings, with_overrides
from pleatwright.wearer import Body, LevelName, Taper, sizes

SHOP = default_settings()


@cache
def planned() -> tuple[Option, Request]:
    sett = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
    made = sizes(
        Body(Fraction(34), Fraction(83, 2), Fraction(22), Fraction(6)), taper=Taper.MAN, settings=SHOP
    )
    request = Request(
        made,
        Tartan("invented", sett, sett, (), "", "whole"),
        Fraction(13, 2),
        Fraction(13, 2),
        None,
        Wishes(kinds=frozenset({Kind(Form.KNIFE, Shows.SETT)})),
        "right",
        SHOP,
    )
    return make_plan(request).options[0], request


def of_body(waist: int, hips: int, pleats: int, *, centre: float = 1.0, metric: bool = False) -> GaugeList:
    """A gauge list for measures in sixteenths and any number of pleats."""
    option, request = planned()
    body = Body(Fraction(waist, 16), Fraction(hips, 16), Fraction(22), Fraction(6))
    made = sizes(body, taper=Taper.MAN, settings=SHOP)
    form = Form.KNIFE if centre == 1 else Form.CENTRE_BOX
    return gauge_list(
        replace(option, pleats=pleats, centre_face=centre, form=form),
        replace(request, sizes=made, units="metric" if metric else "in"),
    )


bodies = st.tuples(st.integers(400, 900), st.integers(400, 900))


@given(bodies, st.integers(2, 45), st.booleans())
def test_sizes_add_up_to_the_pleated_width_on_the_grid(
    body: tuple[int, int], pleats: int, metric: bool
) -> None:
    gauges = of_body(*body, pleats, metric=metric)
    step = MILLIMETRE if metric else Fraction(1, 16)
    assert sum(row.hip for row in gauges.rows) == gauges.hip_total
    assert sum(row.strap for row in gauges.rows) == gauges.strap_total
    for sizes_of in ([row.hip for row in gauges.rows], [row.strap for row in gauges.rows]):
        assert max(sizes_of) - min(sizes_of) <= step
        assert all((size / step).denominator == 1 for size in sizes_of)
    assert [row.pleat for row in gauges.rows] == list(range(1, pleats + 1))


def test_totals_are_the_pleated_widths_on_the_tape() -> None:
    option, request = planned()
    gauges = gauge_list(option, request)
    assert gauges.grid is Grid.SIXTEENTH
    assert gauges.hip_total == on_grid(request.sizes.level(LevelName.HIP).pleated, Grid.SIXTEENTH)
    assert gauges.strap_total == 17


@given(bodies, st.integers(1, 22).map(lambda half: 2 * half + 1), st.sampled_from([2.0, 2.5, 3.0]))
def test_a_centre_box_keeps_its_proportion_and_both_sides_are_alike(
    body: tuple[int, int], pleats: int, centre: float
) -> None:
    gauges = of_body(*body, pleats, centre=centre)
    hips = [row.hip for row in gauges.rows]
    middle = hips[pleats // 2]
    assert sum(hips) == gauges.hip_total
    assert hips == hips[::-1]
    wanted = float(gauges.hip_total) * centre / (pleats - 1 + centre)
    assert float(middle) == pytest.approx(wanted, abs=1 / 16 + 1e-9)


@given(bodies, st.integers(1, 22).map(lambda half: 2 * half + 1))
def test_an_odd_number_of_pleats_is_mirrored(body: tuple[int, int], pleats: int) -> None:
    hips = [row.hip for row in of_body(*body, pleats).rows]
    assert hips == hips[::-1]


@given(bodies, st.integers(2, 45), st.booleans())
def test_every_size_has_a_gauge_and_no_fewer_would_do(
    body: tuple[int, int], pleats: int, metric: bool
) -> None:
    gauges = of_body(*body, pleats, metric=metric)
    twice = MILLIMETRE if metric else Fraction(1, 16)
    wanted = {size.size for size in gauges.sizes}
    served = {gauge.width for gauge in gauges.gauges} | {
        gauge.outside for gauge in gauges.gauges if gauge.outside is not None
    }
    assert served == wanted
    assert all(gauge.outside in (None, gauge.width + twice) for gauge in gauges.gauges)
    widths = wanted | {size - twice for size in wanted}
    fewer = combinations(sorted(widths), len(gauges.gauges) - 1)
    assert not any(wanted <= {w for width in some for w in (width, width + twice)} for some in fewer)


def test_how_often_a_size_is_wanted() -> None:
    gauges = of_body(544, 656, 27)
    assert sum(size.at_hip for size in gauges.sizes) == sum(size.at_strap for size in gauges.sizes) == 27
    for size in gauges.sizes:
        assert size.at_hip == sum(row.hip == size.size for row in gauges.rows)


def test_a_gauge_of_seven_eighths_reads_fifteen_sixteenths_outside_its_lines() -> None:
    # common practice, no source: lines of 1/32" each
    # hips 42 1/4" with ease: 21 1/8" over 23 pleats is 338 sixteenths, sizes 14 and 15; straps likewise
    gauges = of_body(2 * 338, 2 * 338 - 8, 23)
    assert [(gauge.width, gauge.outside) for gauge in gauges.gauges] == [(Fraction(7, 8), Fraction(15, 16))]


def test_a_shop_that_chalks_a_wider_line_cannot_share_a_gauge_between_neighbours() -> None:
    option, request = planned()
    wide = replace(request, settings=with_overrides(SHOP, {"bench": {"chalk_line": "1/16"}}))
    one = gauge_list(replace(option, pleats=23), request)
    two = gauge_list(replace(option, pleats=23), wide)
    assert one.sizes == two.sizes
    assert len(one.sizes) == 2 * len(one.gauges)
    assert all(gauge.outside in (None, gauge.width + Fraction(1, 8)) for gauge in two.gauges)
    assert len(two.gauges) > len(one.gauges)


# ---- gauges the shop owns


def cost(gauges: tuple[Gauge, ...]) -> tuple[int, Fraction, int]:
    made = sum(not gauge.owned for gauge in gauges)
    return (
        made,
        sum((abs(use.accumulated) for gauge in gauges for use in gauge.uses), Fraction(0)),
        len(gauges),
    )


def least_cost(
    sizes: tuple[GaugeSize, ...], line: Fraction, drawer: list[Fraction], tolerance: Fraction
) -> tuple[int, Fraction, int]:
    """Every set of new gauges and every way to read all sizes off them and the drawer, tried one by one."""
    candidates = sorted({s.size for s in sizes} | {s.size - 2 * line for s in sizes})
    best: tuple[int, Fraction, int] | None = None
    for number in range(len(sizes) + 1):
        for made in combinations(candidates, number):
            readings = [
                (gauge, side, width + side * 2 * line, allowed)
                for gauge, (width, allowed) in enumerate(
                    [*((w, tolerance) for w in drawer), *((w, Fraction(0)) for w in made)]
                )
                for side in (0, 1)
            ]
            for used in permutations(readings, len(sizes)):
                offs = [abs(one[2] - size.size) for one, size in zip(used, sizes, strict=True)]
                if any(off > one[3] for off, one in zip(offs, used, strict=True)):
                    continue
                error = sum(
                    (off * (size.at_hip + size.at_strap) for off, size in zip(offs, sizes, strict=True)),
                    Fraction(0),
                )
                found = number, error, len({one[0] for one in used})
                best = found if best is None else min(best, found)
        if best is not None:
            return best
    raise AssertionError("a gauge for each size always serves")


@st.composite
def wanted(draw: st.DrawFn) -> tuple[tuple[GaugeSize, ...], Fraction, list[Fraction]]:
    units = sorted(draw(st.sets(st.integers(9, 14), min_size=1, max_size=3)))
    counts = st.integers(0, 14)
    sizes = tuple(GaugeSize(Fraction(unit, 16), draw(counts), draw(counts)) for unit in units)
    line = draw(st.sampled_from([Fraction(1, 64), Fraction(1, 32), Fraction(1, 16)]))
    drawer = draw(st.lists(st.integers(9 * 16, 14 * 16), unique=True, max_size=2))
    return sizes, line, [Fraction(width, 256) for width in drawer]


@settings(max_examples=60)
@given(wanted())
def test_no_other_choice_of_gauges_is_better(
    case: tuple[tuple[GaugeSize, ...], Fraction, list[Fraction]],
) -> None:
    sizes, line, drawer = case
    tolerance = Fraction(1, 64)
    gauges = fewest(sizes, line, Fraction(2), [(width, width) for width in drawer], tolerance)
    assert cost(gauges) == least_cost(sizes, line, drawer, tolerance)
    uses = [(gauge, use) for gauge in gauges for use in gauge.uses]
    assert sorted(use.size for _, use in uses) == [size.size for size in sizes]
    for gauge, use in uses:
        reads = gauge.width + (2 * line if use.reading is Reading.ACROSS else 0)
        assert use.off == reads - use.size
        assert abs(use.off) <= (tolerance if gauge.owned else 0)
        assert use.accumulated == use.off * (use.at_hip + use.at_strap)
        assert not gauge.owned or gauge.width in drawer


def test_a_gauge_from_the_drawer_is_read_at_its_true_width() -> None:
    option, request = planned()
    plain = gauge_list(option, request)
    sizes = [size.size for size in plain.sizes]
    true = sizes[0] + Fraction(3, 1000)
    owned = gauge_list(option, request, (OwnedGauge(sizes[0], true),))
    first = owned.gauges[0]
    assert (first.marked, first.width) == (sizes[0], true)
    assert [(use.reading, use.size, use.off) for use in first.uses] == [
        (Reading.BETWEEN, sizes[0], Fraction(3, 1000)),
        (Reading.ACROSS, sizes[1], Fraction(3, 1000)),
    ]
    assert sum(not gauge.owned for gauge in owned.gauges) == len(plain.gauges) - 1
    assert owned.strap_off == Fraction(3, 1000) * sum(use.at_strap for use in first.uses)
    assert owned.hip_off == Fraction(3, 1000) * sum(use.at_hip for use in first.uses)


def test_what_a_gauge_off_its_marking_adds_up_to_is_said() -> None:
    sizes = (GaugeSize(Fraction(3, 4), 24, 0),)
    drawer = ((Fraction(3, 4), Fraction("0.753")), (Fraction(1), Fraction("1.01")))
    _, request = planned()
    found = drawer_findings(
        sizes, drawer, {"hip line": Fraction("0.072"), "strap line": Fraction(0)}, request
    )
    assert [(one.code, one.severity) for one in found] == [
        ("gauge-off-marking", Severity.NOTE),
        ("gauges-add-up", Severity.NOTE),
    ]
    assert found[0].seen == (
        'the gauge marked 3/4" is truly 0.753": over 24 pleats 0.07" wide at the hip line'
    )
    worse = drawer_findings(
        sizes, ((Fraction(3, 4), Fraction("0.744")),), {"hip line": Fraction("-0.144")}, request
    )
    assert [one.severity for one in worse] == [Severity.WARN, Severity.WARN]
    assert '0.14" narrow at the hip line' in worse[1].seen
    metric = replace(request, units="metric")
    said = drawer_findings(
        (GaugeSize(19 * MILLIMETRE, 0, 20),),
        ((19 * MILLIMETRE, Fraction("18.95") * MILLIMETRE),),
        {},
        metric,
    )
    assert said[0].seen.endswith("19 mm is truly 18.95 mm: over 20 pleats 1.0 mm narrow at the strap line")


def test_a_gauge_that_is_further_off_than_the_shop_allows_stays_in_the_drawer() -> None:
    option, request = planned()
    size = gauge_list(option, request).sizes[0].size
    drawer = (OwnedGauge(size, size + Fraction(1, 64)),)
    assert gauge_list(option, request, drawer).gauges[0].owned
    strict = replace(request, settings=with_overrides(SHOP, {"bench": {"gauge_tolerance": "1/100"}}))
    assert not any(gauge.owned for gauge in gauge_list(option, strict, drawer).gauges)
    metric = replace(request, units="metric")
    size = gauge_list(option, metric).sizes[0].size
    near, far = (OwnedGauge(size, size + Fraction(tenths, 10) * MILLIMETRE) for tenths in (-4, 5))
    assert any(gauge.owned for gauge in gauge_list(option, metric, (near,)).gauges)
    wide = gauge_list(option, metric, (OwnedGauge(far.marked, size + Fraction(7, 2) * MILLIMETRE),))
    assert not any(gauge.owned for gauge in wide.gauges)


def test_a_blank_is_as_long_as_the_rise() -> None:
    option, request = planned()
    assert {gauge.length for gauge in gauge_list(option, request).gauges} == {request.sizes.rise}


def test_a_large_drawer_is_searched_quickly() -> None:
    sizes = tuple(GaugeSize(Fraction(unit, 16), 5, 7) for unit in (9, 10, 11, 12, 13, 30))
    drawer = [(Fraction(1, 2), Fraction(1, 2) + Fraction(number, 1000)) for number in range(400)]
    gauges = fewest(sizes, Fraction(1, 32), Fraction(2), drawer, Fraction(1, 64))
    assert sum(not gauge.owned for gauge in gauges) == 1


def test_one_reading_never_stands_for_two_sizes() -> None:
    sizes = (GaugeSize(Fraction(3, 4), 5, 5), GaugeSize(Fraction(25, 32), 5, 5))
    between = Fraction(49, 64)  # on the fine grid it is as near to one size as to the other
    gauges = fewest(sizes, Fraction(1, 32), Fraction(2), [(between, between)], Fraction(1, 64))
    assert [len(gauge.uses) for gauge in gauges] == [1, 1]
    assert sum(gauge.owned for gauge in gauges) == 1
