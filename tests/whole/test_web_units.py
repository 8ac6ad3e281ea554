"""Inches and metric: an order is read by the unit it was written in, whatever the shop changes to."""

from __future__ import annotations

import json

from sqlalchemy import text
from typer.testing import CliRunner

from pleatwright.cli import commands
from pleatwright.cli.app import app
from pleatwright.order import read_order
from pleatwright.shop.store import ClothPiece, OrderCard, TartanCard, open_store
from pleatwright.shop.store.opening import migrate
from pleatwright.web.document import data_of
from tests.whole.visitors import CLOTH, EXAMPLES, MEASURES, TARTAN, said

INCHES = {"shop.name": "Harebell Lane Kilts", "shop.units": "in", "gauges": "3/4\n5/8 = 19/32"}
METRIC = {**INCHES, "shop.units": "metric"}
METRIC_MEASURES = {
    **MEASURES,
    "wearer.waist": "86",
    "wearer.hips": "102",
    "wearer.drop": "56",
    "wearer.fell_drop": "17",
    "wearer.rise": "5",
    "again.waist": "86,2",
}
METRIC_CLOTH = {
    **CLOTH,
    "piece.width": "74",
    "piece.length": "8 m",
    "piece.left_end.distance": "8,2",
    "piece.selvedge.distance": "4",
    "piece.readings.0.at": "24,7",
    "piece.readings.1.at": "322,1",
    "piece.readings.2.at": "652,3",
}


def read_now(maker, store, number=1):
    """The order as the app reads it."""
    shop = maker.app.state.house.shop()
    return read_order(store.get(OrderCard, number).document, shop_text=shop.text)


def test_a_shop_that_changes_its_units_reads_no_order_anew(maker, store):
    maker.save("/shop", {**INCHES, "settings.wearer.ease_hips": "3/4", "prices.cloth": "60"})
    order = maker.planned()
    before, plan = read_now(maker, store), said(maker.get(f"{order}/plan"))
    options = said(maker.get(f"{order}/options"))
    maker.save("/shop", {**METRIC, "settings.wearer.ease_hips": "3/4", "prices.cloth": "60"})
    after = read_now(maker, store)
    assert (after.request, after.sizes, after.drawer) == (before.request, before.sizes, before.drawer)
    assert said(maker.get(f"{order}/plan")) == plan
    assert said(maker.get(f"{order}/options")) == options
    measures = maker.get(f"{order}/measures")
    assert "a bare number is inches" in said(measures)
    assert 'name="again.waist" value="36 1/8"' in measures.text
    maker.save(f"{order}/measures", {**MEASURES, "wearer.hips": "42"})
    assert read_now(maker, store).body.hips == 42
    assert data_of(store.shop().document)["prices"]["cloth"] == "65.62"
    maker.save(
        "/shop", {**INCHES, "gauges": "3/4 in\n5/8 in = 19/32 in", "settings.wearer.ease_hips": "3/4 in"}
    )
    assert read_now(maker, store).drawer == before.drawer


def test_a_page_opened_before_the_change_and_saved_after_it_means_what_it_said(maker, store):
    order = maker.order()
    maker.save("/shop", METRIC)
    maker.save(f"{order}/measures", MEASURES)
    maker.save(f"{order}/tartan", TARTAN)
    maker.save(f"{order}/cloth", CLOTH)
    job = read_now(maker, store)
    assert (job.units, job.body.waist, float(job.request.piece.width)) == ("in", 36, 29)
    (kept,) = store.measurements(1)
    assert next(one.first for one in kept.taken if one.name == "waist") == 36
    assert "910 mm" not in said(maker.get(f"{order}/tartan"))


def test_what_is_written_with_the_change_is_in_the_new_unit(maker, store):
    maker.save("/shop", {**INCHES, "settings.wearer.ease_hips": "1"})
    maker.save("/shop", {**METRIC, "settings.wearer.ease_hips": "2", "gauges": "1.8"})
    shop = data_of(store.shop().document)
    assert shop["settings"]["wearer"]["ease_hips"] == "2"
    assert shop["shop"]["gauges"] == [{"marked": "1.8"}]


def test_tartans_and_cloth_kept_apart_have_their_unit_beside_every_length(maker, store):
    order = maker.order()
    maker.save(f"{order}/tartan", {**TARTAN, "book": "true"})
    maker.post(
        "/cloth/new",
        **{"name": "Bolt 4", "piece.width": "29", "piece.length": "8 1/2 yd", "piece.sett.measured": "6 1/2"},
    )
    assert data_of(store.get(TartanCard, 1).document)["tartan"]["sett"]["measured"] == "65 in"
    assert data_of(store.get(ClothPiece, 1).document)["piece"]["width"] == "29 in"
    assert 'name="piece.width" type="text" value="29"' in maker.get("/cloth/1").text
    assert 'name="tartan.sett.measured" type="text" value="65"' in maker.get("/tartans/1").text
    assert "&#34;piece.width&#34;: &#34;29&#34;" in maker.get(f"{order}/cloth").text.replace('"', "&#34;")
    maker.save("/shop", METRIC)
    assert 'name="piece.width" type="text" value="29 in"' in maker.get("/cloth/1").text
    page = maker.get("/cloth/1")
    maker.save("/cloth/1", {"name": "Bolt 4", "piece.width": "29 in", "piece.length": "8 1/2 yd"})
    assert "216" not in said(page)
    assert store.get(ClothPiece, 1).width == 29
    other = maker.order("Posy Larkrise")
    assert "29 in" in maker.get(f"{other}/cloth").text


def test_a_piece_and_a_tartan_written_on_a_page_from_before_the_change_mean_what_they_said(maker, store):
    page = maker.get("/cloth/new").text
    assert 'name="units" value="in"' in page
    maker.save("/shop", METRIC)
    maker.post(
        "/cloth/new", units="in", **{"name": "Bolt 4", "piece.width": "29", "piece.length": "8 1/2 yd"}
    )
    assert store.get(ClothPiece, 1).width == 29
    maker.post("/tartans/new", units="in", **TARTAN)
    assert data_of(store.get(TartanCard, 1).document)["tartan"]["sett"]["measured"] == "65 in"


def test_an_order_file_gives_the_command_line_the_same_plan(maker, store, tmp_path):
    maker.save("/shop", {**METRIC, "settings.wearer.ease_hips": "2", "shop.paper": "Letter"})
    order = maker.order()
    maker.save(f"{order}/measures", METRIC_MEASURES)
    maker.save(f"{order}/tartan", {**TARTAN, "tartan.sett.measured": "165"})
    maker.save(f"{order}/cloth", METRIC_CLOTH)
    maker.save(f"{order}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
    file = tmp_path / "order.toml"
    file.write_bytes(maker.get(f"{order}/order.toml").content)
    assert data_of(file.read_text(encoding="utf-8"))["shop"]["units"] == "metric"
    assert commands.__name__  # each has made itself known to the app
    done = CliRunner().invoke(app, ["plan", str(file), "--out", str(tmp_path / "out")])
    assert done.exit_code in (0, 1), done.output
    theirs = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    ours = json.loads(store.plan(1).record)
    assert theirs["options"] == ours["options"]
    assert theirs["units"] == ours["units"] == "metric"


def test_a_file_in_other_units_keeps_them(maker, store):
    maker.save("/shop", METRIC)
    stated = (EXAMPLES / "demo.toml").read_text(encoding="utf-8")
    assert 'units = "in"' in stated
    job = read_order(stated)
    files = {"file": ("order.toml", stated, "text/plain")}
    maker.web.post("/orders/new", data={"csrf": maker.csrf}, files=files)
    assert read_now(maker, store).body == job.body


def test_a_store_from_before_gets_the_shops_unit_beside_everything(tmp_path):
    url = f"sqlite:///{tmp_path / 'old.sqlite'}"
    from sqlalchemy import create_engine

    engine = create_engine(url)
    kept = [
        ("INSERT INTO shop VALUES (1, 1, :text)", '[shop]\nunits = "metric"\n'),
        ("INSERT INTO tartans VALUES (1, 1, 'T', :text, '', 0, '', 't')", '[tartan]\nsett = "16,5"\n'),
        ("INSERT INTO clients VALUES (1, 1, 'W', '', '', '', '', NULL, 'w')", ""),
    ]
    with engine.begin() as connection:
        migrate(connection, "0001")
        for query, document in kept:
            connection.execute(text(query), {"text": document} if ":text" in query else {})
        for number, document in ((1, '[wearer]\nwaist = "86"\n'), (2, ""), (3, "not TOML")):
            connection.execute(
                text(
                    "INSERT INTO orders "
                    "(id, version, client, reference, kind, state, document, notes, folded) "
                    "VALUES (:id, 1, 1, '', 'kilt', 'measured', :text, '', '')"
                ),
                {"id": number, "text": document},
            )
        connection.execute(
            text(
                'INSERT INTO drafts (id, kind, "of", base, "by", kept_at, text) '
                "VALUES (1, 'order', 1, 1, '', '2031-05-01T00:00:00+00:00', :text)"
            ),
            {"text": json.dumps({"document": '[wearer]\nwaist = "87"\n'})},
        )
    engine.dispose()
    with open_store(url) as store:
        assert data_of(store.get(OrderCard, 1).document) == {
            "wearer": {"waist": "86"},
            "shop": {"units": "metric"},
        }
        assert [store.get(OrderCard, number).document for number in (2, 3)] == ["", "not TOML"]
        assert data_of(store.get(TartanCard, 1).document)["tartan"]["sett"] == "16,5 cm"
        assert 'units = "metric"' in json.loads(store.drafts()[0].text)["document"]


def test_every_field_that_takes_a_bare_number_says_its_unit(maker):
    maker.save("/shop", METRIC)
    order = maker.order()
    maker.save(f"{order}/measures", METRIC_MEASURES)
    maker.save(f"{order}/tartan", {**TARTAN, "tartan.sett.measured": "165"})
    maker.save(f"{order}/cloth", METRIC_CLOTH)
    maker.save(f"{order}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
    for where, names in {
        "measures": ("Waist, cm", "Rise, cm", "Hem, cm"),
        "cloth": ("Width, cm", "Tape, cm", "From, cm", "Lowest, above the selvedge, cm"),
        "tartan": ("this much, cm",),
        "options": ("Reveal to aim at, cm", "usually 1.6 to 2.2 cm"),
    }.items():
        page = said(maker.get(f"{order}/{where}")).replace("\N{NO-BREAK SPACE}", " ")
        assert [name for name in names if name not in page] == []
    assert "Ease at the hips, cm" in said(maker.get("/shop"))
    assert "Length, cm" in said(maker.get("/cloth/new"))
    wrong = said(maker.save(f"{order}/measures", {**METRIC_MEASURES, "wearer.hips": "1O2"}, 422))
    assert "write 102 or 102.5 (centimetres), 1020 mm" in wrong.replace("\N{NO-BREAK SPACE}", " ")
