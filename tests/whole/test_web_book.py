"""What the workshop keeps beside its orders: shop, stock, clients, backup, hours."""

from __future__ import annotations

import gc
import io
import weakref
import zipfile
from dataclasses import replace
from datetime import date

from pleatwright.bench.closing.closing import closing
from pleatwright.bench.marks import marks_at
from pleatwright.sheets.lettering import width_of, wrapped
from pleatwright.shop.store import OrderCard, State
from tests.whole.visitors import found, said


def test_the_shop_is_kept_and_used(maker, store):
    maker.save(
        "/shop",
        {"shop.name": "Harebell Lane Kilts", "shop.units": "metric", "gauges": "19 mm\n22 mm = 21.5 mm"},
    )
    assert "centimetres" in said(maker.get(f"{maker.order()}/measures"))
    page = maker.save(
        "/shop", {"shop.units": "metric", "settings.wearer.ease_hips": "wide", "prices.tax": "x"}, 422
    )
    assert '"wide" is not a length' in said(page)
    assert '"x" is not an amount' in said(page)
    assert "Harebell Lane Kilts" in store.shop().document


def test_cloth_is_ripped_and_what_is_left_stays_in_stock(maker, store):
    maker.post("/cloth/new", **{"name": "Mallowbeck 16 oz", "piece.width": "29", "piece.length": "8 1/2 yd"})
    maker.save(
        "/cloth/1", {"name": "Mallowbeck 16 oz", "piece.width": "29", "piece.length": "9 yd", "state": "here"}
    )
    version = store.pieces()[0].version
    maker.post("/cloth/1/rip", version=version, left_length="2 yd", left_width="5")
    first, left = store.pieces()
    assert (first.state, left.state, left.came_from) == ("ripped", "here", 1)
    assert float(left.length or 0) == 72.0
    page = maker.post("/cloth/new", 422, **{"name": "", "piece.width": "wide"})
    assert '"wide" is not a length' in said(page)


def test_a_client_takes_everything_along_and_is_forgotten(maker, store):
    order = maker.planned()
    with zipfile.ZipFile(io.BytesIO(maker.get("/clients/1/export.zip").content)) as files:
        assert b"Wilfred Ashgrove" in files.read("client.json")
    maker.post("/clients/1/forget", 422, sure="somebody else")
    assert "still open" in said(maker.post("/clients/1/forget", 422, sure="Wilfred Ashgrove"))
    store.move(1, State.CALLED_OFF)
    page = said(maker.post("/clients/1/forget", sure="Wilfred Ashgrove"))
    assert "Erased" in page
    for where in (order, f"{order}/measures", "/clients/1", "/orders"):
        assert "Wilfred" not in maker.get(where).text


def test_a_backup_is_one_file(maker):
    maker.order()
    with zipfile.ZipFile(io.BytesIO(maker.get("/shop/backup.zip").content)) as files:
        assert files.testzip() is None


def test_bench_hours_left_go_down_with_what_is_done(maker, store):
    order = maker.planned()
    store.save(replace(store.get(OrderCard, 1), promised=date(2031, 5, 20)))

    def left() -> float:
        return float(found(said(maker.get("/")), r"Wilfred Ashgrove \S+ \D+?([\d.]+) \d+"))

    whole = left()
    for state in (State.CHALKED, State.CHECKED, State.RIPPED):
        store.move(1, state)
    ripped = left()
    maker.post(f"{order}/sewing/start")
    maker.post(
        f"{order}/sewing", kind="width", entries=1, first=1, last=10, hip="8 3/4", strap="7 1/2", sure="true"
    )
    assert whole > ripped > left() > 0


def test_nothing_of_a_forgotten_client_stays_in_memory(maker, store):
    order = maker.planned()
    picture = found(maker.get(f"{order}/options").text, r'src="(/pictures/\w+/1/back\.png)')
    prints = [f"{order}/print/{name}.pdf" for name in ("packet", "guide")]
    for where in (picture, *prints, f"{order}/table/marks", f"{order}/closing"):
        maker.get(where)
    desk = maker.app.state.house.desk
    job = weakref.ref(desk.known(picture.split("/")[2]).job)
    assert job() is not None
    assert all(one.cache_info().currsize for one in (width_of, wrapped, closing, marks_at))
    store.move(1, State.CALLED_OFF)
    maker.post("/clients/1/forget", sure="Wilfred Ashgrove")
    maker.get(picture, 404)
    gc.collect()
    assert job() is None
    assert not any(one.cache_info().currsize for one in (width_of, wrapped, closing, marks_at))
