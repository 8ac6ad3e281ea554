"""Gauge sizes add up exactly, and the fewest gauges serve them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.bench import GaugeList, gauge_list
from pleatwright.layout import Option, Request, make_plan
from pleatwright.lengths import MILLIMETRE, Grid, on_grid
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
