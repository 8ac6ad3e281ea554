"""The workshop app without a browser: the whole job through its forms, from empty store to last page."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date
from html import unescape

import pytest
from pypdf import PdfReader

from pleatwright.layout import make_plan
from pleatwright.order import read_order
from pleatwright.shop.store import OrderCard, State
from tests.whole.visitors import CLOTH, EXAMPLES, MEASURES, TARTAN, assert_refused, found, said


def test_an_empty_store_opens_with_what_to_do_first(maker):
    page = said(maker.get("/"))
    assert "An empty book" in page
    for where in (
        "/orders",
        "/orders/new",
        "/clients",
        "/cloth",
        "/cloth/new",
        "/tartans",
        "/tartans/new",
        "/shop",
    ):
        maker.get(where)


def test_the_whole_job_from_an_empty_store_to_the_last_page(maker, store):
    order = maker.order()
    assert maker.save(f"{order}/measures", MEASURES).url.path == f"{order}/tartan"
    assert maker.save(f"{order}/tartan", {**TARTAN, "book": "true"}).url.path == f"{order}/cloth"
    options = maker.save(f"{order}/cloth", CLOTH)
    assert options.url.path == f"{order}/options"
    for picture in re.findall(r'src="(/pictures/[^"]+)"', options.text)[:2]:
        assert maker.get(picture.replace("&amp;", "&")).content.startswith(b"\x89PNG")
    plan = maker.save(f"{order}/options", {"wishes.styles[]": "knife to the sett", "option": "1"})
    assert plan.url.path == f"{order}/plan"

    card = store.get(OrderCard, 1)
    assert card.state is State.PLANNED
    first = make_plan(read_order(card.document).request).options[0]
    assert first.title in said(plan)

    packet = PdfReader(io.BytesIO(maker.get(f"{order}/print/packet.pdf").content))
    assert "Wilfred Ashgrove" in packet.pages[0].extract_text()
    version = found(said(plan), r"plan ([0-9a-f]{8}) ·")
    assert version in packet.pages[0].extract_text()
    with zipfile.ZipFile(io.BytesIO(maker.get(f"{order}/print/packet.zip").content)) as files:
        assert {"plan.json", "packet.pdf", "marks.csv", "guide.pdf"} <= set(files.namelist())

    assert maker.post(f"{order}/chalked").url.path == f"{order}/check"
    assert store.get(OrderCard, 1).state is State.CHALKED
    maker.post(f"{order}/sewing/start", begin="first", by="EL")
    pleats = first.pleats
    started = said(maker.get(f"{order}/sewing"))
    assert f"{pleats} pleats to be sewn" in started
    row = found(started, r"straps then read (?:\d+ \S+ \S+ \S+ \S+ )*?(\d+ .+?) and \d+ more")
    assert row
    maker.post(
        f"{order}/sewing", kind="width", entries=1, first=1, last=1, hip="7/8", strap="3/4", sure="true"
    )
    maker.post(f"{order}/sewing", kind="stage", entries=2, stage="pinned")
    maker.post(f"{order}/sewing", kind="note", entries=3, words="white thread")
    page = said(maker.get(f"{order}/sewing"))
    assert f"1 of {pleats} pleats sewn" in page
    assert "white thread" in page
    assert b"<svg" in maker.get(f"{order}/sewing.svg").content
    for what in ("sewing.pdf", "guide.pdf", "gauges.pdf", "closing.pdf", "care-card.pdf"):
        assert maker.get(f"{order}/print/{what}").content.startswith(b"%PDF")

    assert "Last measures" in said(maker.get(f"{order}/closing"))
    maker.post(f"{order}/closing", 409, waist="37")
    quote = maker.post(
        f"{order}/quote",
        **{
            "line.0.what": "Cloth", "line.0.quantity": "8.25", "line.0.price": "62",
            "line.1.what": "Making", "line.1.quantity": "20", "line.1.price": "30",
            "margin": "10", "tax": "20", "currency": "£",
        },
    )  # fmt: skip
    assert "£ 1,467.18" in said(quote)
    letter = PdfReader(io.BytesIO(maker.get(f"{order}/quotes/1.pdf").content))
    assert "£1,467.18" in letter.pages[0].extract_text()
    assert "Wilfred Ashgrove" in said(maker.get("/clients/1"))
    assert "Mallowbeck" in said(maker.get("/tartans"))


def test_measurements_are_kept_twice_with_who_took_them(maker, store):
    order = maker.order()
    maker.save(f"{order}/measures", MEASURES)
    (kept,) = store.measurements(1)
    waist = next(one for one in kept.taken if one.name == "waist")
    assert (float(waist.first), float(waist.second or 0)) == (36.0, 36.125)
    assert (kept.taken_by, kept.taken_on) == ("EL", date(2031, 4, 30))
    assert 'value="36 1/8"' in maker.get(f"{order}/measures").text


def test_two_takings_far_apart_are_asked_about_while_they_are_written(maker):
    order = maker.order()
    look = maker.post(f"{order}/measures/look", **{**MEASURES, "again.hips": "42"})
    assert 'Hips: the two takings are +1" apart' in said(look)
    assert "Waist: the two takings" not in said(look)


def test_an_unlikely_body_is_asked_about_and_never_refused(maker):
    order = maker.order()
    look = maker.post(f"{order}/measures/look", **{**MEASURES, "wearer.hips": "104"})
    assert "Ask" in said(look)
    assert "centimetres" in said(look)


def test_a_mistake_stands_beside_its_field_and_what_was_written_stays(maker, store):
    order = maker.order()
    page = maker.save(f"{order}/measures", {**MEASURES, "wearer.hips": "4O"}, 422)
    field = found(page.text, r'(?s)<input id="wearer-hips"(.*?)</div>\s*</div>|$') or page.text
    assert 'aria-invalid="true"' in page.text
    assert '"4O" is not a length' in said(page)
    assert 'value="4O"' in field
    assert 'hips = "4O"' in store.get(OrderCard, 1).document


def test_a_check_stops_until_it_is_right_and_is_kept(maker, store):
    order = maker.planned()
    page = maker.post(f"{order}/check", 422, plan="x")
    assert "nothing is given, and it is needed" in said(page)
    assert store.checks(1) == ()
    form = maker.get(f"{order}/check").text
    names = re.findall(r'<(?:input|textarea|select) id="([a-z_]+)" name="\1"', form)
    fields = dict.fromkeys(names, "0")
    fields |= {"plan": "00000000", "left_apron": "over-apron", "faults": "none", "checked_on": "2031-05-01"}
    fields |= {name: "W4 G28" for name in names if name.endswith("_stripes")}
    stopped = said(maker.post(f"{order}/check", **{**fields, "checked_by": "EL"}))
    assert "STOP Do not rip" in stopped
    (entry,) = store.checks(1)
    assert (entry.decision, entry.by) == ("stop", "EL")
    assert store.get(OrderCard, 1).state is State.PLANNED
    maker.post(f"{order}/state", 409, state="checked")


def test_an_impossible_width_is_asked_about_before_it_is_kept(maker, store):
    order = maker.planned()
    maker.post(f"{order}/sewing/start")
    page = said(maker.post(f"{order}/sewing", 422, kind="width", entries=1, first=1, last=8, hip="60"))
    assert "is hardly possible" in page
    assert len(store.sewing(1)) == 1
    page = said(maker.post(f"{order}/sewing", 409, kind="note", entries=0, words="late"))
    assert "has grown meanwhile" in page
    assert len(store.sewing(1)) == 1


def test_an_order_file_becomes_an_order_and_comes_out_the_same_job(maker):
    text = (EXAMPLES / "measured-piece.toml").read_text()
    sent = maker.web.post("/orders/new", data={"csrf": maker.csrf}, files={"file": ("order.toml", text)})
    assert sent.url.path == "/orders/1/options"
    given = maker.get("/orders/1/order.toml").text
    assert read_order(given).request == read_order(text).request
    for step in ("measures", "tartan", "cloth", "options"):
        maker.get(f"/orders/1/{step}")


@pytest.mark.parametrize("example", sorted(path.stem for path in EXAMPLES.glob("*.toml")))
def test_saving_every_page_of_an_example_changes_nothing_of_its_job(maker, store, example):
    text = (EXAMPLES / f"{example}.toml").read_text()
    maker.web.post("/orders/new", data={"csrf": maker.csrf}, files={"file": ("order.toml", text)})
    for step in ("measures", "tartan", "cloth"):
        page = maker.get(f"/orders/1/{step}").text
        fields = filled(page)
        if step == "cloth" and "piece.width" not in {name for name, text in fields if text}:
            continue
        answer = maker.web.post(f"/orders/1/{step}", data=_multi(fields))
        assert answer.status_code == 200, said(answer)
    one, other = read_order(text), read_order(store.get(OrderCard, 1).document)
    assert one.request == other.request
    assert one.body == other.body
    assert one.taped == other.taped
    assert one.end_points == other.end_points


def _multi(fields: list[tuple[str, str]]) -> dict[str, list[str]]:
    made: dict[str, list[str]] = {}
    for name, text in fields:
        made.setdefault(name, []).append(text)
    return made


def filled(page: str) -> list[tuple[str, str]]:
    """The fields of a page's first form as a browser would send them, buttons left out."""
    form = found(page, r"(?s)(<form method=\"post\".*?</form>)")
    fields = []
    pattern = r"(?s)<input\b([^>]*)>|<textarea\b([^>]*)>(.*?)</textarea>|<select\b([^>]*)>(.*?)</select>"
    for field in re.finditer(pattern, form):
        head = field[1] or field[2] or field[4]
        name = re.search(r'\bname="([^"]+)"', head)
        if name is None or ('type="checkbox"' in head and " checked" not in head):
            continue
        value = re.search(r'\bvalue="([^"]*)"', head)
        text = value[1] if value else ""
        if field[2]:
            text = field[3]
        elif field[4]:
            options = re.findall(r'<option value="([^"]*)"([^>]*)>', field[5])
            text = next(
                (one for one, rest in options if "selected" in rest), options[0][0] if options else ""
            )
        fields.append((unescape(name[1]), unescape(text)))
    return fields


def test_every_error_has_one_shape(maker):
    ask = {"accept": "application/json"}
    assert_refused(maker.web.get("/orders/99", headers=ask), 404, "order")
    order = maker.order()
    assert_refused(maker.web.get(f"{order}/check", headers=ask), 409, "plan")
    nowhere = maker.web.get("/nowhere", headers=ask)
    assert maker.web.get("/orders/x/plan", headers=ask).json() == nowhere.json()
    sent = {"csrf": maker.csrf, "state": "nonsense"}
    assert_refused(maker.web.post(f"{order}/state", data=sent, headers=ask), 422, "order.state")
    assert maker.web.get("/nowhere", headers=ask).json()["status"] == 404
