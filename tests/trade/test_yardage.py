"""How much cloth a kilt takes, against published reckonings."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.layout import Option, Plan, Request, make_plan
from pleatwright.lengths import write_inches
from pleatwright.pleats import Form, Kind, PleatSpace, Shows, Wishes, pleated_widths, pleatings
from pleatwright.sett import Sett, Tartan, parse_count
from pleatwright.trade import Settings, default_settings, with_overrides
from pleatwright.wearer import Body, LevelName, Sizes, Taper, sizes

SHOP = default_settings()
MILITARY = parse_count("A/28 K6 A6 K6 A6 K32 G32 K6 G32 K32 A32 K6 A/6").weft
RUNNING = frozenset({Kind(Form.KNIFE, Shows.SETT_RUNNING)})
TO_THE_SETT = RUNNING | {Kind(Form.KNIFE, Shows.SETT)}


def no_ease() -> Settings:
    """The published figures know no ease and no flare."""
    return with_overrides(SHOP, {"wearer": {"ease_hips": "0", "flare": "0"}})


def body(waist: int | Fraction, hips: int | Fraction) -> Body:
    return Body(Fraction(waist), Fraction(hips), Fraction(22), Fraction(7))


def plan(
    sett: Sett, size: Fraction, made: Sizes, wishes: Wishes, shop: Settings = SHOP
) -> tuple[Plan, Option]:
    tartan = Tartan("invented", sett, sett, (), "", "whole")
    found = make_plan(Request(made, tartan, size, size, None, wishes, "right", shop))
    return found, found.options[0]


def gap(option: Option) -> float:
    return option.strips[1].centre - option.strips[0].centre


@pytest.mark.parametrize("size,takes,yards", [(8, 9, 3.85), (6, 7, 3.15)])
def test_hips_of_42_with_a_reveal_of_an_inch(size: int, takes: int, yards: float) -> None:
    # 8" sett: 21 pleats × 9" = 189", aprons 42", 231" in all, a fifth added 277" = 3.85 yd of double width;
    # with a 6" sett 3.15 yd [public: scottishdance.net/highland/MakingKilt.html].
    # "A 6" sett takes 7" a pleat", cloth per pleat = sett + 1" [public: glimpseofscotland.co.uk, March 2014].
    shop = no_ease()
    made = sizes(body(37, 42), taper=Taper.MAN, settings=shop)
    _, option = plan(MILITARY, Fraction(size), made, Wishes(RUNNING, pleats=21), shop)
    assert option.level(LevelName.HIP).reveal == 1
    assert gap(option) == pytest.approx(takes)
    pleats, aprons = option.pleats * gap(option), option.over_apron.allotted + option.under_apron.allotted
    assert aprons == pytest.approx(42)
    assert (pleats, pleats + aprons) == pytest.approx((189, 231) if size == 8 else (147, 189))
    assert (pleats + aprons) * 1.2 / 36 / 2 == pytest.approx(yards, abs=0.005)


@pytest.mark.parametrize("size", [6, 8])
def test_a_whole_plan_takes_what_the_bare_count_leaves_out(size: int) -> None:
    # The published count has no facings and no deep and reverse pleat, and one gap more than there are folds.
    shop = no_ease()
    made = sizes(body(37, 42), taper=Taper.MAN, settings=shop)
    _, option = plan(MILITARY, Fraction(size), made, Wishes(RUNNING, pleats=21), shop)
    bare = 21 * (size + 1) + 42
    left_out = 2 * 3 + option.deep_pleat + option.reverse_pleat - size
    assert option.cloth_used == pytest.approx(bare + left_out)
    assert option.cloth_used < bare * 1.2  # the published fifth to spare covers it


def test_plain_cloth_of_26_pleats_narrows_to_13_16_at_the_waist() -> None:
    # hips 42, waist 37, apron 16, reveal 1": 26 pleats, 21/26 = 13/16" at the waist
    # [public: xmarksthescot.com thread 25996]
    shop = no_ease()
    made = sizes(
        body(37, 42),
        taper=Taper.MAN,
        settings=shop,
        share_waist=Fraction(16, 37),
        share_hips=Fraction(16, 42),
    )
    wishes = Wishes(frozenset({Kind(Form.KNIFE, Shows.PLAIN)}), reveal=1.0)
    space = PleatSpace(Sett.of_runs([("G", 10)]), 1.0, pleated_widths(made), shop, wishes)
    numbers = {pleating.pleats for pleating in pleatings(space)}
    assert 26 in numbers
    _, option = plan(Sett.of_runs([("G", 10)]), Fraction(1), made, Wishes(wishes.kinds, pleats=26), shop)
    assert option.level(LevelName.HIP).reveal == 1
    assert option.level(LevelName.STRAP).reveal == pytest.approx(21 / 26)
    assert write_inches(option.level(LevelName.STRAP).reveal) == '13/16"'


# Single-width yards bought, by hips: under 30": 5; 30–35": 6; 35–40": 7; 40–44": 8; over 44": 9
# [public: cis2.westerntc.edu, student page on kilt materials; a buying rule with room to spare].
TABLE = [(28, 5), (31, 6), (34, 6), (36, 7), (39, 7), (41, 8), (43, 8), (46, 9)]


@pytest.mark.parametrize("hips,yards", TABLE)
def test_cloth_bought_by_the_table_is_about_what_a_plan_asks_for(hips: int, yards: int) -> None:
    made = sizes(body(Fraction(hips * 82, 100), hips), taper=Taper.MAN, settings=SHOP)
    pleated = float(made.level(LevelName.HIP).pleated)
    pleats = 2 * round((pleated / 0.75 - 1) / 2) + 1  # odd, with a reveal near 3/4"
    found, option = plan(MILITARY, Fraction(13, 2), made, Wishes(RUNNING, pleats))
    bare = option.pleats * gap(option) + float(made.hips)
    assert bare <= yards * 36
    assert bare >= (yards - 2) * 36
    # Where a plan takes more than the bare count: facings, the flare, the deep and the reverse pleat.
    hidden = 2 * option.facing + 2 * float(made.flare) + option.deep_pleat + option.reverse_pleat
    assert option.cloth_used == pytest.approx(bare + hidden - 6.5)
    assert option.cloth_used <= (yards + 0.5) * 36
    assert found.to_order is not None
    worst = found.to_order.needed - option.cloth_used
    assert worst == pytest.approx(6.5)  # the first stripe wanted may be a whole sett away
    assert 0 <= found.to_order.single_width - found.to_order.needed < 9 + 1e-9
    assert found.to_order.single_width % 9 == 0


def test_double_width_takes_half_and_the_loss_at_the_join() -> None:
    # at most one sett + a reveal + clearance + two seam allowances of about 1/2" [from memory]
    made = sizes(body(34, 41), taper=Taper.MAN, settings=SHOP)
    found, option = plan(MILITARY, Fraction(13, 2), made, Wishes(TO_THE_SETT, pleats=25))
    ordered = found.to_order
    assert ordered is not None
    assert ordered.joined
    loss = 6.5 + max(level.reveal for level in option.levels) + 0.5 + 2 * 0.5
    half = (ordered.needed + loss) / 2
    assert 0 <= ordered.double_width - half < 9 + 1e-9


def test_half_setts_save_cloth() -> None:
    # half-setts are legitimate and save cloth [common practice, no source]
    made = sizes(body(34, 41), taper=Taper.MAN, settings=SHOP)
    kinds = frozenset({Kind(Form.KNIFE, Shows.STRIPE)})
    _, each = plan(MILITARY, Fraction(8), made, Wishes(kinds, pleats=26, stripe=119.0))
    _, pivot = plan(MILITARY, Fraction(8), made, Wishes(kinds, pleats=26, stripe=227.0))
    assert (each.takes, pivot.takes) == ("each occurrence", "once a sett")
    assert each.cloth_used < 0.75 * pivot.cloth_used


def test_a_box_pleated_kilt_takes_about_four_yards() -> None:
    # six to fifteen panels, about four yards, the panel about a third of the sett
    # [public: xmarksthescot.com threads 70749 and 12356]
    made = sizes(body(34, 41), taper=Taper.MAN, settings=SHOP)
    kinds = frozenset({Kind(Form.BOX, Shows.STRIPE)})
    _, option = plan(MILITARY, Fraction(13, 2), made, Wishes(kinds, pleats=10))
    assert option.takes == "once a sett"
    assert gap(option) == pytest.approx(6.5)
    assert option.level(LevelName.HIP).reveal == pytest.approx(6.5 / 3, rel=0.07)
    assert 3 < option.cloth_used / 36 < 4.25
