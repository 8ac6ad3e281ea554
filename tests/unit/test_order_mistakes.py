"""Every mistake of an order file is named at once, each with what is allowed and how to mend it."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from pleatwright.errors import InputError, Problem
from pleatwright.order import new_order_text, read_order
from pleatwright.order.document import read_toml

BASE = new_order_text()


def problems_of(text: str, *, source: str = "order.toml", shop_text: str | None = None) -> dict[str, Problem]:
    """The problems by field, without the file's name where it is order.toml."""
    with pytest.raises(InputError) as caught:
        read_order(text, source=source, shop_text=shop_text)
    fields = [problem.field.removeprefix("order.toml: ") for problem in caught.value.problems]
    assert len(set(fields)) == len(fields)
    return dict(zip(fields, caught.value.problems, strict=True))


def changed(*changes: tuple[str, str]) -> str:
    text = BASE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def test_a_length_that_is_none_is_named_with_the_file_the_field_and_the_fix() -> None:
    with pytest.raises(InputError) as caught:
        read_order(changed(('hips = "41"', 'hips = "4O"')), source="mine.toml")
    assert str(caught.value) == 'mine.toml: wearer.hips: "4O" is not a length; write 40, 40 1/2 or 102 cm'


def test_a_metric_order_is_told_what_to_write_in_metric() -> None:
    text = new_order_text("metric").replace('hips = "104"', 'hips = "1O4"')
    assert problems_of(text)["wearer.hips"].fix == 'write 102 or 102.5 (centimetres), 1020 mm or 40 1/2"'


def test_an_empty_order_is_told_what_it_needs() -> None:
    assert list(problems_of("")) == ["client.name", "wearer", "tartan"]


MANY = """
[client]
name = Wilfred
[wearer]
kind = "women"
waist = 34 1/2
hips = "4O"
drop = "21 1/2""
fell_drop = "30"
hips = "41"
lap = 2
[kilt]
openson = "right"
opens_on = "lft"
share_waist = 0.9
hem = -1
[wishes]
styles = ["knife to the set"]
pleats = 2.5
reveal = 4
[tartan]
count = "B/24 W4 B24 R2 K24 G24 W2"
shade = "old"
sett = "abc"
[tartan.colours]
B = "blue"
[piece]
length = "8"
left_end = "B24"
[settings.wearer]
ease_hip = 1
[settings.pleets]
x = 1
"""


def test_mistakes_in_every_room_are_found_together_in_the_order_of_the_file() -> None:
    found = problems_of(MANY)
    assert list(found) == [
        *(f"line {line}" for line in (3, 6, 8, 10)),
        *(f"wearer.{name}" for name in ("kind", "hips", "lap", "fell_drop")),
        *(f"kilt.{name}" for name in ("opens_on", "hem", "share_waist", "openson")),
        *(f"wishes.{name}" for name in ("pleats", "styles", "reveal")),
        *(f"tartan.{name}" for name in ("colours.B", "sett", "shade", "count")),
        *(f"piece.{name}" for name in ("width", "length", "left_end.distance")),
        *(f"settings.{name}" for name in ("wearer.ease_hip", "pleets")),
    ]


def test_no_mistake_of_a_file_hides_those_of_another_or_of_the_command() -> None:
    with pytest.raises(InputError) as caught:
        read_order(
            changed(('waist = "36"', 'waist = "x"')),
            shop_text='[shop]\nunits = "metrik"\n[settings.wearer]\nease_hips = "-1"',
            units="cm",
            paper="A3",
            styles=("bax",),
        )
    assert [problem.field for problem in caught.value.problems] == [
        "shop.toml: shop.units",
        "shop.toml: settings.wearer.ease_hips",
        "order.toml: wearer.waist",
        "--paper",
        "--units",
        "--style",
    ]


@pytest.mark.parametrize(
    "old, new, field, fix",
    [
        ("opens_on =", "openson =", "kilt.openson", "did you mean opens_on?"),
        ("[wishes]", "[wishs]", "wishs", "did you mean wishes?"),
        ("rise =", "lap = 1\nrise =", "wearer.lap", "it belongs under [kilt]"),
        ('opens_on = "right"', 'opens_on = "front"', "kilt.opens_on", 'write "right" or "left"'),
        ('kind = "man" ', 'kind = "boy" ', "wearer.kind", 'write "man", "woman" or "child"'),
        ('styles = "all"', 'styles = "boxx"', "wishes.styles", "did you mean box?"),
        ("# towel = true ", 'towel = "perhaps" #', "wearer.towel", "write true or false, without quotes"),
        (
            "# promised = 2031-08-01",
            "measured_on = 31",
            "client.measured_on",
            "write year-month-day, as 2031-05-04",
        ),
        ("# pleats = 27", "pleats = true", "wishes.pleats", "write it like 27"),
        ('count = "B', 'count = 3 #"B', "tartan.count", "write it in quotes"),
        ('width = "29" ', 'width = "0" ', "piece.width", "measure it again"),
        ('"8 1/2 yd"', '"8 1/2"', "piece.length", 'write the unit, as "8 yd" or "7.5 m"'),
        ("# [wearer.taken] ", "taken = 3 #", "wearer.taken", "write it as { waist = ..., hips = ... }"),
        ('"modern" ', '"modrn" ', "tartan.shade", "did you mean modern?"),
        (
            "# share_hips = ",
            "share_hips = 50 #",
            "kilt.share_hips",
            "write the apron's part of the round, usually 1/2",
        ),
        ("# share_hips = ", 'share_hips = "1/0" #', "kilt.share_hips", "write it as 1/2 or 0.45"),
        ("[shop]", 'colours = "red"\n[shop]', "piece.colours", "it belongs under [tartan]"),
    ],
)
def test_a_slip_is_named_with_its_fix(old: str, new: str, field: str, fix: str) -> None:
    found = problems_of(changed((old, new)))
    assert list(found) == [field]
    assert found[field].fix == fix


def test_a_style_must_suit_the_cloth() -> None:
    plain = (("count =", 'count = "DG" #'), ("sett = {", "# {"), ("left_end =", "#"), ("selvedge =", "#"))
    found = problems_of(changed(*plain, ('styles = "all"', 'styles = "knife to the sett"')))
    assert "plain cloth has no pattern" in found["wishes.styles"].allowed
    found = problems_of(changed(*plain, ("# stripe =", "stripe =")))
    assert list(found) == ["wishes.stripe"]
    found = problems_of(changed(('styles = "all"', 'styles = ["knife", "plain"]')))
    assert "the tartan has a pattern" in found["wishes.styles"].allowed


def test_drop_rise_and_total_that_disagree_are_refused() -> None:
    found = problems_of(changed(('drop = "22"', 'drop = "22"\ntotal = "27"')))
    assert found["wearer.total"].allowed == 'is not drop + rise, 22" + 2"'
    assert list(problems_of(changed(('drop = "22"', 'total = "1"')))) == ["wearer.total"]
    assert list(problems_of(changed(('drop = "22"', "")))) == ["wearer.drop"]


def test_a_womans_taper_is_asked_for_never_assumed() -> None:
    found = problems_of(changed(('kind = "man" ', 'kind = "woman" '), ('taper = "man"', "")))
    assert list(found) == ["kilt.taper"]
    assert all(words in found["kilt.taper"].fix for words in ('"man" (', "parallel", '"woman" (', "straight"))


def test_a_tartan_needs_its_size_unless_its_widths_were_measured() -> None:
    assert list(problems_of(changed(("sett = {", "# {")))) == ["tartan.sett"]
    assert list(problems_of(changed(("measured = ", "over = 10 } # ")))) == ["tartan.sett.measured"]


def test_measured_widths_are_checked_one_by_one() -> None:
    widths = 'widths = [["B", "1 1/2"], ["Q", "0"], ["K"], 3]\nsymmetric = true\n#'
    found = problems_of(changed(("count =", widths)))
    assert list(found) == [f"tartan.widths, entry {entry}" for entry in (2, 3, 4)]
    known = changed(("count =", 'widths = [["B", "1"], ["QQ", "2"]]\n#'))
    assert list(problems_of(known)) == ["tartan.widths, entry 2", "tartan.symmetric"]


def test_colours_must_belong_to_the_tartan() -> None:
    found = problems_of(changed(("# [tartan.colours]", "[tartan.colours]"), ("# B = ", "LB = ")))
    assert found["tartan.colours.LB"].fix == "did you mean B?"


def test_count_and_widths_are_not_both_taken() -> None:
    assert list(problems_of(changed(("pivots =", 'widths = [["B", 1]]\npivots =')))) == ["tartan"]


def test_a_fraction_without_quotes_is_pointed_out_and_the_rest_still_read() -> None:
    found = problems_of(
        changed(('waist = "36"', "waist = 36 1/2"), ('drop = "22"', 'drop = "22""'), ('"41"', '"4l"'))
    )
    assert [problem.fix for problem in found.values()] == [
        'write waist = "36 1/2"',
        'write drop = "22"',
        "write 40, 40 1/2 or 102 cm",
    ]


def test_toml_that_cannot_be_read_on_is_named_by_its_line() -> None:
    found = problems_of("[client]\nname = 'x'\njust some words\n[wearer\nkind='man'")
    assert list(found) == ["line 3"]
    found = problems_of("[client\nname = 'x'\n")
    assert found["line 1"].fix == "write [client]"
    assert list(problems_of("a = [1,\n")) == ["line 2"]


@pytest.mark.parametrize(
    "text", ["a = 1" + "0" * 5000, "a=" + "[" * 5000, "#" * 200_000, "a = 0x" + "f" * 9000]
)
def test_a_file_that_is_no_order_is_refused_without_a_crash(text: str) -> None:
    assert problems_of(text)


def test_signs_that_cannot_be_printed_are_refused() -> None:
    assert list(problems_of(changed(("Wilfred", "\\u0007")))) == ["client.name"]


lines = st.integers(0, BASE.count("\n"))
values = st.one_of(
    st.text(max_size=12).map(repr),
    st.sampled_from(
        [
            "-1",
            "0",
            "1e400",
            "nan",
            "[]",
            "{}",
            "[[1]]",
            "true",
            "2031-01-01",
            '""',
            '"1/0"',
            "07:32:00",
            "'K32'",
        ]
    ),
    st.integers().map(str),
)


@given(lines, values)
@example(0, "\x00")
def test_whatever_stands_in_a_line_is_read_or_refused_in_words(at: int, value: str) -> None:
    text = BASE.split("\n")
    key = text[at].removeprefix("# ").partition("=")[0]
    text[at] = f"{key}= {value}"
    assert outcome("\n".join(text))


def outcome(text: str) -> bool:
    """Whether the order gave a kilt, or was refused with every part of every message filled in."""
    try:
        return read_order(text).sizes.total > 0
    except InputError as error:
        return all(p.field and p.seen and p.allowed and p.fix for p in error.problems)


@given(st.text(max_size=60))
def test_any_text_is_refused_in_words(text: str) -> None:
    with pytest.raises(InputError):
        read_order(text)


@pytest.mark.parametrize("text", [f'"{"7" * 400}"', f"'{'7' * 400}'", f'"a \\" {"7" * 400}"'])
def test_digits_within_a_text_are_no_number(text):
    data, problems = read_toml(f"notes = {text}\n")
    assert problems == []
    assert "7" * 400 in data["notes"]


@pytest.mark.parametrize("line", ["a = {}", 'a = ["x", {}]', 'a = ["""x\ny""", {}]', "a = ['it''s', {}]"])
def test_a_number_of_too_many_digits_is_refused_before_it_is_read(line):
    _, problems = read_toml(line.format("7" * 400))
    assert problems[0].allowed == "holds a number of too many digits"
