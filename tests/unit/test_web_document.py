"""An order as data between page and file."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from pleatwright.order import new_order_text, read_order
from pleatwright.web.document import data_of, field_of, rows_of, text_of, with_fields

WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=20)
NAMES = st.from_regex(r"[a-z_]{1,8}", fullmatch=True)
VALUES = st.recursive(
    WORDS | st.booleans() | st.integers(-(10**6), 10**6),
    lambda inner: (
        st.lists(inner, min_size=1, max_size=3) | st.dictionaries(NAMES, inner, min_size=1, max_size=3)
    ),
    max_leaves=12,
)


@given(st.dictionaries(NAMES | WORDS, VALUES, max_size=5))
def test_what_is_written_is_read_again(data):
    assert data_of(text_of(data)) == data


def test_the_commented_order_written_anew_is_the_same_job_but_for_its_version():
    text = new_order_text()
    one, other = read_order(text), read_order(text_of(data_of(text)))
    assert one.request == other.request
    assert one.sizes == other.sizes


def test_an_empty_field_takes_its_value_out_and_the_rest_stays():
    data = {"wearer": {"waist": "36", "hips": "41"}, "kilt": {"lap": "1"}}
    made = with_fields(data, [("wearer.waist", ""), ("kilt.lap", "  "), ("wearer.drop", " 22 ")])
    assert made == {"wearer": {"hips": "41", "drop": "22"}}
    assert data["wearer"]["waist"] == "36"


def test_rows_are_replaced_as_a_whole_and_empty_ones_left_out():
    data = {"piece": {"width": "29", "readings": [{"at": "1"}, {"at": "2"}, {"at": "3"}]}}
    made = with_fields(
        data,
        [
            ("piece.readings.0.at", "9 3/4"),
            ("piece.readings.0.repeat", "2"),
            ("piece.readings.0.kept", ""),
            ("piece.readings.0.kept", "true"),
            ("piece.readings.1.at", ""),
            ("piece.readings.2.at", "35"),
        ],
    )
    assert rows_of(made, "piece.readings") == [{"at": "9 3/4", "repeat": 2, "kept": True}, {"at": "35"}]
    assert made["piece"]["width"] == "29"


def test_a_list_of_choices_is_emptied_when_nothing_is_ticked():
    ticked = with_fields(
        {}, [("wishes.styles[]", ""), ("wishes.styles[]", "box"), ("wishes.styles[]", "plain")]
    )
    assert ticked == {"wishes": {"styles": ["box", "plain"]}}
    assert with_fields(ticked, [("wishes.styles[]", "")]) == {}


def test_a_field_shows_what_was_written():
    data = {"wearer": {"towel": True}, "piece": {"readings": [{"at": "9 3/4"}]}, "client": {"reference": 12}}
    assert field_of(data, "wearer.towel") == "true"
    assert field_of(data, "piece.readings.0.at") == "9 3/4"
    assert field_of(data, "client.reference") == "12"
    assert field_of(data, "piece.readings.7.at") == field_of(data, "piece") == field_of(data, "no.such") == ""
