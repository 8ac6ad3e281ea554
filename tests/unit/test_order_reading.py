"""From an order file to a job: what each table becomes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.lengths import MILLIMETRE, Grid, Units
from pleatwright.order import STYLES, Job, new_order_text, read_order
from pleatwright.pleats import PLAIN_KINDS, TARTAN_KINDS, UNEVEN_KIND, Form, Kind, Shows
from pleatwright.trade import default_settings
from pleatwright.wearer import Taper

BASE = new_order_text()


def read(*changes: tuple[str, str], units: str | None = None) -> Job:
    """The commented order with some of its text changed."""
    text = BASE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_order(text, units=units)


def test_the_commented_order_is_valid_in_both_units_and_means_about_the_same_kilt() -> None:
    inches, metric = read_order(new_order_text("in")), read_order(new_order_text("metric"))
    assert (inches.units, metric.units) == ("in", "metric")
    for one, other in (
        (inches.body.waist, metric.body.waist),
        (inches.body.hips, metric.body.hips),
        (inches.sizes.drop, metric.sizes.drop),
        (inches.request.sett_along, metric.request.sett_along),
    ):
        assert abs(one - other) < Fraction(1, 8)


def test_every_remark_of_the_commented_order_can_be_taken_out_of_its_remark() -> None:
    both: tuple[Units, Units] = ("in", "metric")
    for units in both:
        lines = new_order_text(units).split("\n")
        opened = []
        for line in lines:
            bare = line.removeprefix("# ")
            uses = line.startswith("# ") and (bare.startswith("[") or bare.split(" ")[1:2] == ["="])
            opened.append(bare if uses else line)
        job = read_order("\n".join(opened))
        assert job.request.wishes.pleats == 27
        assert job.end_points[0] == ("waist", "over the belt")


def test_lengths_are_exact_inches() -> None:
    job = read(('waist = "36"', 'waist = "36 3/8"'), ('hips = "41"', 'hips = "104 cm"'))
    assert job.body.waist == Fraction(291, 8)
    assert job.body.hips == 1040 * MILLIMETRE


def test_a_bare_number_means_what_the_files_own_units_say_whatever_is_printed() -> None:
    bare = ('waist = "36"', "waist = 36")
    assert read(bare, units="metric").body.waist == 36
    assert read(bare, units="metric").units == "metric"
    assert read(bare, ('units = "in"', 'units = "metric"'), ('hips = "41"', 'hips = "104"')).body.waist == (
        360 * MILLIMETRE
    )


def test_a_total_length_gives_the_drop_less_the_rise_and_says_so() -> None:
    job = read(('drop = "22"', 'total = "24 1/2"'))
    assert job.body.drop == Fraction(45, 2)
    assert job.sizes.drop == Fraction(45, 2)
    assert any("total length" in note for note in job.notes)
    assert "total" in dict(job.end_points)


def test_a_total_is_held_against_drop_and_rise_within_an_eighth() -> None:
    assert read(('drop = "22"', 'drop = "22"\ntotal = "24 1/8"')).body.drop == 22


def test_the_rise_is_the_shops_usual_where_none_was_chosen() -> None:
    job = read(('rise = "2" ', "# "), ("# [settings.wearer] ", '[settings.wearer]\nrise = "1 1/2" #'))
    assert job.body.rise is None
    assert job.sizes.rise == Fraction(3, 2)


def test_kilt_and_settings_reach_the_sizes() -> None:
    job = read(
        ("# lap =", "lap ="),
        ("# hem =", "hem ="),
        ("# share_waist =", 'share_waist = "0.55" #'),
        ("# [settings.wearer] ", "[settings.wearer] #"),
        ('# ease_hips = "1/2"', 'ease_hips = "3/4"'),
    )
    assert [job.sizes.lap, job.sizes.hem, job.sizes.hips] == [1, 3, Fraction(167, 4)]
    assert job.sizes.levels[1].under_apron == Fraction(36 * 55, 100)


def test_a_womans_taper_and_side_are_as_ordered() -> None:
    job = read(
        ('kind = "man" ', 'kind = "woman" '), ('taper = "man" ', 'taper = "woman" '), ('"right"', '"Left"')
    )
    assert job.sizes.taper is Taper.WOMAN
    assert job.request.opens_on == "left"
    assert job.body.woman


def test_a_womans_kilt_without_a_side_opens_on_the_right_and_says_so() -> None:
    job = read(('kind = "man" ', 'kind = "woman" '), ('opens_on = "right"', ""))
    assert job.request.opens_on == "right"
    assert any("opens on the wearer's right" in note for note in job.notes)


def test_the_towel_is_among_the_end_points() -> None:
    job = read(("# towel = true ", "towel = true #"))
    assert job.body.towel
    assert dict(job.end_points)["hips"].endswith("over a rolled towel")


def test_an_unlikely_body_is_asked_about_and_not_refused() -> None:
    job = read(('waist = "36"', 'waist = "43"'))
    assert "ask.towel" in {question.code for question in job.questions}


def test_what_the_client_said_and_how_the_count_was_read_are_notes() -> None:
    job = read(("# notes =", "notes ="), ("# figure =", "figure ="))
    assert job.notes[:2] == ("wears it dancing", "figure: stoops a little")
    assert "tartan: the number at a pivot was read as the whole stripe" in job.notes


def test_the_sett_on_the_piece_holds_against_the_tartans_own() -> None:
    piece = ('width = "29"', 'sett = { measured = "64", over = 10 }\nwidth = "29"')
    assert read().request.sett_along == Fraction(13, 2)
    job = read(piece)
    assert job.request.sett_along == job.request.sett_across == Fraction(32, 5)
    assert job.request.piece is not None
    assert job.request.piece.sett_along == Fraction(32, 5)


def test_a_size_across_that_was_measured_is_kept() -> None:
    job = read(("# sett_across =", "sett_across ="))
    assert (job.request.sett_along, job.request.sett_across) == (Fraction(13, 2), Fraction(25, 4))


def test_the_written_sett_is_divided_into_its_true_periods() -> None:
    count = ('count = "B/48 G6 B6 G28 W4 G28 K/24"', 'count = "B10 W4 B10 W4"')
    job = read(
        count, ('stripe = "W4", then = "G28 K24"', 'stripe = "W4"'), ('stripe = "K24"', 'stripe = "W4"')
    )
    assert job.request.tartan.weft.n == 14
    assert job.request.sett_along == Fraction(13, 4)


def test_measured_widths_give_the_sett_and_its_size() -> None:
    widths = 'widths = [["b", "1 1/2"], ["W", "1/4"], ["K", "3/4"]]\nsymmetric = true\n'
    job = read(
        ("count =", f"{widths}#"),
        ("sett = {", "# sett = {"),
        ('stripe = "W4", then = "G28 K24"', 'stripe = "W 1/4", then = "K"'),
        ('stripe = "K24"', 'stripe = "K 3/4"'),
    )
    assert job.request.sett_along == Fraction(11, 4)
    assert job.request.piece is not None
    assert job.request.piece.left_end.phase * job.request.sett_along / job.request.tartan.weft.n == (
        Fraction(13, 8)
    )


def test_different_counts_share_one_size_of_thread() -> None:
    job = read(
        ('G28 K/24"', 'G28 K/24 // B/30 W4 G/16"'),
        ('stripe = "W4", then = "G28 K24"', 'stripe = "W4", then = "G16"'),
    )
    assert job.request.sett_across / job.request.tartan.warp.n == job.request.sett_along / 54


def test_plain_cloth_needs_no_sett_and_no_stripe() -> None:
    job = read(
        ("count =", 'count = "DG" #'), ("sett = {", "# sett = {"), ("left_end =", "#"), ("selvedge =", "#")
    )
    assert job.request.sett_along == job.request.tartan.weft.n
    assert job.request.piece is not None
    assert job.request.piece.left_end.phase == 0


def test_without_a_piece_there_is_none() -> None:
    assert read_order(BASE[: BASE.index("[piece]")]).request.piece is None


def test_a_piece_without_a_stripe_at_its_selvedge_says_what_is_drawn() -> None:
    job = read(("selvedge = {", "# {"))
    assert job.request.piece is not None
    assert job.request.piece.selvedge is None
    assert any("horizontal lines" in note for note in job.notes)


def test_colours_come_from_the_shade_the_count_and_the_order() -> None:
    job = read(
        ('shade = "modern"', 'shade = "Ancient"'),
        ("W4 G28 K", "W#FFFFF0 4 G28 K"),
        ("# [tartan.colours]", "[tartan.colours]"),
        ("# B = ", "b = "),
    )
    tartan = job.request.tartan
    assert [tartan.hex_of(code) for code in "BWG"] == ["#1F3A6E", "#FFFFF0", "#5A8A57"]


@pytest.mark.parametrize(
    "words, kinds",
    [
        ("knife to the sett", {Kind(Form.KNIFE, Shows.SETT)}),
        ("Knife, alternate stripe", {Kind(Form.KNIFE, Shows.ALTERNATE)}),
        ("military box pleats to the stripe", {Kind(Form.MILITARY_BOX, Shows.STRIPE)}),
        ("knife pleat, to the sett, running", {Kind(Form.KNIFE, Shows.SETT_RUNNING)}),
        ("centre box with knives, to the sett", {Kind(Form.CENTRE_BOX, Shows.SETT)}),
        ("box", {kind for kind in TARTAN_KINDS if kind.form is Form.BOX}),
        ("all", set()),
    ],
)
def test_styles_are_read_by_their_plain_names_and_by_their_titles(words: str, kinds: set[Kind]) -> None:
    assert read(('styles = "all"', f'styles = ["{words}"]')).request.wishes.kinds == kinds


def test_every_kind_has_a_plain_name_of_its_own() -> None:
    alone = [next(iter(kinds)) for kinds in STYLES.values() if len(kinds) == 1]
    assert sorted(map(str, alone)) == sorted(map(str, (*TARTAN_KINDS, UNEVEN_KIND, *PLAIN_KINDS)))


def test_styles_given_beside_the_order_replace_its_own() -> None:
    job = read_order(BASE, styles=("knife to the sett", "knife to the stripe"))
    assert job.request.wishes.kinds == {Kind(Form.KNIFE, Shows.SETT), Kind(Form.KNIFE, Shows.STRIPE)}


def test_a_reveal_wished_for_is_what_the_search_prefers() -> None:
    job = read(("# reveal =", 'reveal = "5/8" #'))
    assert job.request.wishes.reveal == 0.625
    assert job.request.settings.pleats.reveal_preferred == Fraction(5, 8)


def test_a_stripe_to_pleat_to_may_be_either_of_its_mirror_images() -> None:
    sett = read().request.tartan.weft
    wished = read(("# stripe =", "stripe =")).request.wishes.stripe
    assert wished in {sett.centre_of(stripe) for stripe in sett.stripes if stripe.colour == "W"}


def test_a_stripe_that_no_style_asked_for_can_use_is_pointed_out() -> None:
    job = read(("# stripe =", "stripe ="), ('styles = "all"', 'styles = "knife to the sett"'))
    assert any("not used" in note for note in job.notes)


def test_the_middle_may_be_waived() -> None:
    assert read().request.wishes.same_middle
    assert not read(("# same_middle", "same_middle")).request.wishes.same_middle


def test_the_orders_own_settings_go_over_the_shops() -> None:
    shop = '[shop]\nname = "Harebell Lane"\npaper = "Letter"\n[settings.wearer]\nease_hips = "1"\nlap = "1"\n'
    text = BASE[: BASE.index("[shop]")] + '[settings.wearer]\nease_hips = "3/4"\n'
    job = read_order(text, shop_text=shop)
    assert (job.shop, job.paper) == ("Harebell Lane", "Letter")
    assert job.request.settings.wearer.ease_hips == Fraction(3, 4)
    assert job.sizes.lap == 1
    assert read_order(BASE, shop_text=shop).shop == "Harebell Lane Kilts"
    assert read_order(text).request.settings.wearer.lap == default_settings().wearer.lap


def test_a_metric_shop_makes_the_bare_numbers_of_its_orders_centimetres() -> None:
    text = new_order_text("metric").split("[shop]")[0].replace('waist = "91.5"', "waist = 91.5")
    job = read_order(text, shop_text='[shop]\nunits = "metric"')
    assert job.body.waist == 915 * MILLIMETRE
    assert job.grid is Grid.MILLIMETRE


def test_the_grid_is_the_settings_unless_the_units_are_metric() -> None:
    settings = '[settings.bench]\ngrid = "{}"\n'
    assert read_order(BASE).grid is Grid.SIXTEENTH
    assert read_order(BASE + settings.format("1/32")).grid is Grid.THIRTYSECOND
    assert read_order(BASE + settings.format("mm")).grid is Grid.SIXTEENTH
    assert read_order(BASE + settings.format("1/32"), units="metric").grid is Grid.MILLIMETRE


def test_dates_are_days_and_a_promise_may_be_words() -> None:
    job = read(("# measured_on =", "measured_on ="), ("# promised = 2031-08-01", 'promised = "by the fair"'))
    assert (job.measured_on, job.promised) == ("2031-05-04", "by the fair")


def test_one_order_has_one_version_and_every_change_another() -> None:
    versions = [
        read_order(BASE).version,
        read_order(BASE.replace('waist = "36"', 'waist = "36 1/4"')).version,
        read_order(BASE, shop_text="[settings.wearer]\nlap = 1").version,
        read_order(BASE, styles=("knife",)).version,
        read_order(BASE, units="metric").version,
    ]
    assert len(set(versions)) == len(versions)
    same = (read_order(BASE), read_order(BASE, units="in"), read_order(BASE, paper="Letter"))
    assert {job.version for job in same} == {versions[0]}  # what changes no plan gives it no other number
    assert all(len(version) == 8 and int(version, 16) >= 0 for version in versions)


def test_lines_may_be_wished_whole_or_split() -> None:
    job = read(("# keep_whole =", "keep_whole ="), ("# split =", "split ="))
    sett, wishes = job.request.tartan.weft, job.request.wishes
    assert [sett.stripe_at(phase).colour for phase in (*wishes.keep_whole, *wishes.split)] == ["W", "G"]
    alone = read(('# keep_whole = ["W4"]', 'keep_whole = { stripe = "W4" }')).request.wishes
    assert (alone.keep_whole, alone.split) == (wishes.keep_whole, ())


def test_lines_that_no_style_asked_for_can_keep_are_pointed_out() -> None:
    striped = ('styles = "all"', 'styles = "knife to the stripe"')
    job = read(("# keep_whole =", "keep_whole ="), striped)
    assert any("whole or split are not looked at" in note for note in job.notes)
    assert not any("whole or split" in note for note in read(striped).notes)
