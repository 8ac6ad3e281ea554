"""What the app says of a mistake: in the words of its own pages, beside the field it is about."""

from __future__ import annotations

import re
from html import unescape
from importlib.resources import files

import pytest

from pleatwright.errors import Problem
from pleatwright.shop.store import OrderCard
from pleatwright.web.names import name_of, named, told
from pleatwright.web.texts import texts
from tests.whole.visitors import CLOTH, MEASURES, TARTAN, found, said

FILE_WORDS = re.compile(
    r"\b[a-z_]+ = |\bsettings\.|\b(piece|wearer|wishes|kilt|tartan|shop)\.[a-z]|pleatwright "
)


@pytest.fixture
def order(maker):
    """An order with its cloth, nothing chosen yet."""
    made = maker.order()
    maker.save(f"{made}/measures", MEASURES)
    maker.save(f"{made}/tartan", TARTAN)
    maker.save(f"{made}/cloth", CLOTH)
    return made


WRONG = [
    ("cloth", {"piece.selvedge.stripe": "G28"}, 'write in the field “Followed by, upward” "W4 G28 K24" for'),
    ("cloth", {"piece.left_end.then": ""}, 'write in the field “Followed by, to the right” "G28 K24" for'),
    ("cloth", {"piece.readings.0.number": "3"}, '“Followed by, to the right” "G28 K24", for'),
    ("cloth", {"piece.readings.2.at": "250"}, "tick “read again, it stands” beside it if it stands"),
    ("cloth", {"piece.left_end.distance": "20"}, "put that stripe right"),
    ("cloth", {"piece.readings.1.at": ""}, "what the tape said at the stripe's centre, as 27 3/8"),
    ("cloth", {"piece.faults.0.note": "x"}, "begins and ends on the tape, as 45 1/2, 46"),
    ("cloth", {"piece.faults.0.from": "9", "piece.faults.0.to": "5"}, "write the smaller one first"),
    (
        "cloth",
        {"piece.readings_across.0.stripe": "G6", "piece.readings_across.0.at": "1"},
        "“Followed by, upward”",
    ),
    ("cloth", {"piece.sett.measured": "65"}, "write 10 in the field “over so many setts”"),
    ("options", {"wishes.reveal": "3"}, "wish for another"),
    ("options", {"wishes.pleats": "200"}, "the share of the aprons (on the page Measurements)"),
    ("options", {"wishes.styles[]": "plain"}, "tick another style, or none"),
    ("options", {"wishes.stripe.number": "99"}, "choose one of the list"),
]


@pytest.mark.parametrize("page, fields, fix", WRONG)
def test_a_fix_is_told_in_the_words_of_the_page(maker, store, order, page, fields, fix):
    sent = {**CLOTH, **fields} if page == "cloth" else fields
    version = store.get(OrderCard, 1).version
    data = {"csrf": maker.csrf, "version": version, **sent}
    for answer in (
        maker.web.post(f"{order}/{page}/look", data=data),
        maker.web.post(f"{order}/{page}", data=data),
    ):
        main = answer.text.partition("<main")[2] or answer.text
        words = " ".join(unescape(re.sub(r"<[^>]+>", " ", main)).split()).replace("\N{NO-BREAK SPACE}", " ")
        assert fix.casefold() in words.casefold()
        assert not FILE_WORDS.search(words), FILE_WORDS.search(words)


def test_a_row_of_a_list_is_named_in_words_whatever_is_wrong_with_it():
    names = [
        ("piece.faults, entry 1, from and to", "Fault 1"),
        ("piece.readings_across, entry 2.then", "Reading up from the bottom selvedge 2: followed by"),
        ("piece.readings.at, entry 3", "Tape reading 3: tape"),
        ("shop.gauges.marked, entry 1", "Gauge in the drawer 1: as marked"),
    ]
    for field, words in names:
        assert name_of(named(Problem(field, "", "", "")).field) == words


def test_what_a_file_holds_is_told_in_the_words_of_that_file(maker):
    text = 'client = { name = "Wilfred Ashgrove" }\nwearer = { kind = "man", waist = "36" }\n'
    answer = maker.web.post(
        "/orders/new", data={"csrf": maker.csrf}, files={"file": ("a.toml", text.encode())}
    )
    assert answer.status_code == 422
    assert "order.toml: wearer.hips nothing is given" in said(answer)
    assert 'write it like hips = "41 1/2"' in said(answer)


def test_every_word_of_the_file_that_is_told_otherwise_stands_in_the_code():
    root = files("pleatwright")
    folders = [
        one for one in root.iterdir() if one.is_dir() and one.name in ("order", "layout", "cloth", "bench")
    ]
    code = "".join(
        path.read_text() for folder in folders for path in folder.iterdir() if path.name.endswith(".py")
    )
    code = (
        re.sub(r'"\n\s*f?"', "", code)
        .replace("{edge.anchor}", "piece.left_end")
        .replace("{name} = {{", "sett = {{")
    )
    code = code.replace("{{", "{").replace("}}", "}")
    selvedge = code.replace("piece.left_end", "piece.selvedge") + code.replace("sett = {", "sett_across = {")
    for written, here in texts()["told"]["pairs"]:
        assert written in code + selvedge, written
        assert told(written) == here


def test_gauges_on_one_line_are_asked_for_one_to_a_line_beside_their_field(maker, store):
    answer = maker.save("/shop", {"gauges": "3/4, 5/8"}, 422)
    assert "write every gauge on a line of its own" in said(answer)
    assert found(answer.text, r'id="(gauges-wrong-1)"')
    maker.save("/shop", {"gauges": "3/4\n5/8"})
    assert store.shop().document.count("marked") == 2


def test_an_address_that_is_none_is_the_plain_page_of_nothing_here(maker):
    page = maker.get("/orders/abc/plan", 404)
    assert "There is nothing here" in said(page)
    assert "path.number" not in page.text


def test_a_stripe_and_its_mirror_image_are_one_choice(maker, order):
    for stripe in ("stripe", "apron_stripe"):
        names = re.findall(r">(the [^<]+)</option>", maker.get(f"{order}/options").text)
        assert len(names) == 2 * len(set(names)), stripe
        maker.save(f"{order}/options", {"wishes.styles[]": "", f"wishes.{stripe}.number": "9"})
        page = maker.get(f"{order}/options").text
        select = page.partition(f'name="wishes.{stripe}.number"')[2].partition("</select>")[0]
        assert re.search(r'<option value="\d+" selected>the ', select), stripe


@pytest.mark.parametrize("fields, word", [({}, False), ({"wearer.waist": "842"}, True)])
def test_a_bare_number_in_millimetres_is_asked_about(maker, fields, word):
    maker.save("/shop", {"shop.units": "metric"})
    order = maker.order()
    body = {"wearer.waist": "84", "wearer.hips": "102", "wearer.drop": "56", "wearer.fell_drop": "18"}
    answer = maker.post(f"{order}/measures/look", version=1, **{"wearer.kind": "man", **body, **fields})
    assert ("whether millimetres were written and read as centimetres" in said(answer)) is word


def test_a_deposit_is_a_share_of_the_whole(maker):
    assert '"150" is more than 100' in said(maker.save("/shop", {"prices.deposit": "150"}, 422))
    maker.save("/shop", {"prices.deposit": "100"})


def test_one_stripe_is_one_stripe(maker, order):
    answer = maker.post(
        f"{order}/tartan/look", version=1, **{"tartan.count": "G32", "tartan.sett.measured": "6"}
    )
    assert "1 stripe " in said(answer)


def test_hours_are_told_alike_on_closing_page_quote_and_papers(maker, order):
    maker.save(f"{order}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
    page = said(maker.get(f"{order}/closing"))
    hours = found(page, r"together ([\d.]+) hours")
    assert f'value="{hours}"' in maker.get(f"{order}/quote").text
    assert not re.search(r'\s0"', page.partition("what it can give")[2])
