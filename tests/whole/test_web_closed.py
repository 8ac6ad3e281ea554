"""The workshop app keeps others out, and keeps what is written in its place."""

from __future__ import annotations

import csv
import io
import logging
import re
import zipfile
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import httpx2 as httpx
import pytest
from fastapi import FastAPI
from fastapi.routing import APIRoute
from fastapi.testclient import TestClient

from pleatwright.shop.store import OrderCard, Store
from pleatwright.web.app import WebSettings, make_app
from pleatwright.web.guard import COOKIE, LARGEST
from pleatwright.web.sessions import MOST
from tests.whole.visitors import HERE, let_in

EXAMPLES = Path(__file__).parents[2] / "examples"
ELSEWHERE = ("192.0.2.7", 50000)
EVIL = "<script>alert(1)</script>"


def device(app: object, client: tuple[str, int] = HERE, host: str = "localhost") -> TestClient:
    return TestClient(
        app,  # type: ignore[arg-type]  # any app
        base_url=f"http://{host}",
        client=client,
        follow_redirects=False,
    )


def csrf(web: TestClient) -> str:
    found = re.search(r'name="csrf" content="([^"]+)"', web.get("/").text)
    assert found is not None
    return found[1]


def test_only_the_workshops_own_names_are_answered(store):
    app = make_app(store)
    for host in ("localhost", "127.0.0.1", "localhost:8642"):
        assert device(app).get("/pair", headers={"host": host}).status_code == 200
    others = ("evil.example", "localhost.evil.example", "", "127.0.0.1.evil.example", "[", "localhost@evil")
    for host in others:
        assert device(app).get("/pair", headers={"host": host}).status_code == 400


def test_every_answer_carries_the_headers_that_close_it(store):
    app = make_app(store)
    for where in ("/", "/static/app.css", "/nowhere", "/form.pdf"):
        heads = let_in(app).get(where).headers
        policy = heads["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert heads["x-content-type-options"] == "nosniff"
        assert heads["x-frame-options"] == "DENY"
    assert let_in(app).get("/").headers["cache-control"] == "no-store"


def test_the_sessions_cookie_stays_with_the_browser(store):
    cookies = []
    for secure in (False, True):
        app = make_app(store, WebSettings(secure=secure))
        cookies.append(device(app).get(link_of(app)).headers["set-cookie"])
    for cookie in cookies:
        assert "HttpOnly" in cookie
        assert "SameSite=Strict" in cookie
    assert ["; Secure" in cookie for cookie in cookies] == [False, True]


def link_of(app: FastAPI) -> str:
    return f"/open?key={app.state.house.sessions.link()}"


def test_whoever_else_uses_this_machine_sees_nothing(store):
    told: list[str] = []
    app = make_app(store, WebSettings(tell=told.append))
    stranger = device(app)
    for where in ("/", "/orders", "/clients/1", "/shop/backup.zip", "/openapi.json", "/open.html", "/pairs"):
        answer = stranger.get(where)
        assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    assert stranger.post("/clients", data={"name": "Posy"}).status_code == 401
    assert stranger.get("/open?key=").status_code == 403
    assert stranger.get("/open?key=ä").status_code == 403
    assert "set-cookie" not in stranger.get("/pair").headers
    assert "<nav" not in stranger.get("/pair").text
    assert told[-1] not in stranger.get("/pair").text
    assert len(told) == 1  # one code, however often it is asked for


def test_the_link_that_is_printed_lets_one_browser_in_once(store):
    app = make_app(store)
    link, maker, stranger = link_of(app), device(app), device(app)
    answer = maker.get(link)
    assert answer.status_code == 200  # a redirect would go on without the cookie, after a link from elsewhere
    assert 'http-equiv="refresh" content="0; url=/"' in answer.text
    assert maker.get("/").status_code == 200
    assert maker.get(link).headers["location"] == "/"  # there it may be opened again
    answer = stranger.get(link)
    assert answer.status_code == 403
    assert "used before" in answer.text
    assert stranger.get("/").status_code == 303


def test_another_browser_of_this_machine_comes_in_by_the_code_and_stays_for_a_week(store):
    now, told = [0.0], list[str]()
    app = make_app(store, WebSettings(tell=told.append, clock=lambda: now[0]))
    assert told == []
    web = device(app)
    assert web.get("/", follow_redirects=True).status_code == 200
    assert web.post("/pair", data={"code": told[-1]}).status_code == 303
    now[0] += 6 * 24 * 3600
    assert web.get("/").status_code == 200
    now[0] += 2 * 24 * 3600
    assert web.get("/").status_code == 303


def test_a_site_elsewhere_that_asks_for_pages_again_and_again_throws_nobody_out(store):
    app = make_app(store)
    maker, site = let_in(app), device(app)
    for where in ("/", "/static/app.css") * MOST:
        heads = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
        assert "set-cookie" not in site.get(where, headers=heads).headers
    assert maker.get("/").status_code == 200


def test_an_app_on_another_port_of_this_machine_ends_no_session_of_this_one(store):
    answers = [
        TestClient(app, base_url=f"http://localhost:{port}", client=HERE).get(link_of(app))
        for port, app in ((8642, make_app(store)), (8643, make_app(store)))
    ]
    names = [answer.headers["set-cookie"].split("=")[0] for answer in answers]
    assert names == [f"{COOKIE}-8642", f"{COOKIE}-8643"]


def test_no_page_holds_a_script_or_a_style_of_its_own():
    folder = Path(__file__).parents[2] / "src/pleatwright/web/templates"
    for path in folder.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"<script(?![^>]*\bsrc=)", text), path
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:", text), path
        assert "| safe" not in text or path.name == "sewing.html", path


def test_every_change_needs_the_pages_token(store):
    app = make_app(store)
    web = let_in(app, follow_redirects=False)
    token = csrf(web)
    changes = {
        route.path.replace("{number}", "1").replace("{draft}", "1").replace("{quote}", "1")
        for route in _routes()
        if "POST" in (route.methods or ()) and route.path != "/pair"
    }
    assert len(changes) > 20
    for where in changes:
        assert web.post(where, data={"csrf": "wrong"}).status_code == 403, where
        assert web.post(where, data={}).status_code == 403, where
    assert web.post("/clients", data={"csrf": token, "name": "Posy"}).status_code == 303
    assert web.post("/clients", data={"name": "Posy"}, headers={"x-csrf": token}).status_code == 303


def _routes() -> list[APIRoute]:
    from pleatwright.web.routes import ROUTERS

    return [route for router in ROUTERS for route in router.routes if isinstance(route, APIRoute)]


def test_a_form_from_another_site_is_refused_even_with_the_token(store):
    web = let_in(make_app(store), follow_redirects=False)
    sent = {"csrf": csrf(web), "name": "Posy"}
    for heads in (
        {"origin": "http://evil.example"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "null"},
    ):
        assert web.post("/clients", data=sent, headers=heads).status_code == 403
    assert web.post("/clients", data=sent, headers={"origin": "http://localhost"}).status_code == 303


def test_another_device_sees_nothing_until_it_is_paired(store):
    codes: list[str] = []
    app = make_app(store, WebSettings(hosts=("192.0.2.2",), lan=True, tell=codes.append))
    tablet = device(app, ELSEWHERE, "192.0.2.2")
    for where in ("/", "/orders", "/clients/1", "/shop/backup.zip", "/openapi.json"):
        answer = tablet.get(where)
        assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    assert tablet.post("/clients", data={"name": "Posy"}).status_code == 401
    assert tablet.get("/pair").status_code == 200
    assert tablet.post("/pair", data={"code": "0"}).status_code == 403
    shown = f" {codes[-1][:4]} {codes[-1][4:]}"
    assert tablet.post("/pair", data={"code": shown}).status_code == 303
    assert f"{COOKIE}-80" in tablet.cookies
    assert tablet.get("/").status_code == 200
    assert codes[-1] not in tablet.get("/shop").text
    thief = device(app, ("192.0.2.9", 1), "192.0.2.2")
    assert thief.post("/pair", data={"code": codes[0]}).status_code == 403
    assert tablet.post("/shop/leave", data={"csrf": csrf(tablet)}).status_code == 303
    assert tablet.get("/").status_code == 303


def test_a_session_ends_by_itself(store):
    now = [0.0]
    app = make_app(store, WebSettings(hosts=("192.0.2.2",), lan=True, clock=lambda: now[0]))
    tablet = device(app, ELSEWHERE, "192.0.2.2")
    tablet.post("/pair", data={"code": app.state.house.sessions.code()})
    assert tablet.get("/").status_code == 200
    now[0] += 13 * 3600
    assert tablet.get("/").status_code == 303


def test_what_is_too_large_is_refused_before_it_is_read(store):
    web = let_in(make_app(store), follow_redirects=False)
    token = csrf(web)
    assert web.post("/clients", content=b"x" * (LARGEST + 1)).status_code == 413

    def dripping() -> Iterator[bytes]:
        for _ in range(LARGEST // 1000 + 2):
            yield b"x" * 1000

    form = {"content-type": "application/x-www-form-urlencoded", "x-csrf": token}
    assert web.post("/clients", content=dripping(), headers=form).status_code == 413
    assert web.post("/clients", data={"csrf": token, "name": "x", "notes": "y" * 30_000}).status_code == 413
    many = {f"a{n}": "1" for n in range(2_000)}
    assert web.post("/clients", data={"csrf": token, "name": "x", **many}).status_code in (400, 413, 422)


@pytest.mark.parametrize(
    "content, status", [(b"\xff\xfe\x00\x01", 415), (b"x" * 150_000, 413), (b"[client", 422)]
)
def test_only_an_order_file_is_taken(store, content, status):
    web = let_in(make_app(store), follow_redirects=False)
    answer = web.post("/orders/new", data={"csrf": csrf(web)}, files={"file": ("../../etc/passwd", content)})
    assert answer.status_code == status
    assert store.count_orders() == 0


@pytest.mark.parametrize(
    "where",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/pictures/..%2f..%2fetc/1/back.png",
        "/orders/1/print/..%2f..%2fetc%2fpasswd",
        "/static//etc/passwd",
    ],
)
def test_no_path_of_a_request_reaches_the_disk(store, where):
    assert let_in(make_app(store)).get(where).status_code in (404, 422)


def demo(web: TestClient, token: str, name: str = EVIL) -> None:
    text = (EXAMPLES / "demo.toml").read_text()
    text = text.replace('"Wilfred Ashgrove"', f'"{name}"').replace('"HL-101"', '"=1+1"')
    web.post("/orders/new", data={"csrf": token}, files={"file": ("order.toml", text)})


def test_names_and_notes_are_escaped_wherever_they_are_shown(store):
    web = let_in(make_app(store), follow_redirects=False)
    token = csrf(web)
    demo(web, token)
    card = store.get(OrderCard, 1)
    web.post("/orders/1", data={"csrf": token, "version": card.version, "reference": EVIL, "notes": EVIL})
    web.post("/clients/1", data={"csrf": token, "version": 1, "name": EVIL, "address": EVIL, "notes": EVIL})
    sent = {"csrf": token, "tartan.name": EVIL, "tartan.count": "B/24 W/4", "weaver": EVIL, "notes": EVIL}
    web.post("/tartans/new", data=sent)
    web.post("/cloth/new", data={"csrf": token, "name": EVIL, "shelf": EVIL, "supplier": EVIL})
    web.post("/orders/1/options", data={"csrf": token, "version": card.version + 1, "option": "1"})
    steps = ("measures", "tartan", "cloth", "options", "plan", "check", "sewing", "closing", "quote", "table")
    books = ("orders", "clients", "tartans", "cloth")
    pages = ["/", *(f"/{book}" for book in books), *(f"/{book}/1" for book in books)]
    shown = 0
    for where in (*pages, *(f"/orders/1/{step}" for step in steps)):
        page = web.get(where)
        assert page.status_code == 200, where
        assert EVIL not in page.text, where
        assert "\\u003cscript" in page.text or "&lt;script" in page.text, where
        shown += 1
    assert shown == 19


def test_no_cell_of_the_mark_list_is_a_formula(store):
    web = let_in(make_app(store), follow_redirects=False)
    token = csrf(web)
    demo(web, token, "=HYPERLINK(1)")
    version = store.get(OrderCard, 1).version
    web.post("/orders/1/options", data={"csrf": token, "version": version, "option": "1"})
    answer = web.get("/orders/1/print/packet.zip")
    name = answer.headers["content-disposition"]
    assert re.fullmatch(r'attachment; filename="[A-Za-z0-9._-]+"', name)
    with zipfile.ZipFile(io.BytesIO(answer.content)) as files:
        rows = list(csv.reader(io.StringIO(files.read("marks.csv").decode())))
        assert all(not entry.startswith(("/", "..")) for entry in files.namelist())
    for cell in (cell for row in rows for cell in row):
        assert not cell.startswith(("=", "+", "@", "\t", "-")) or re.fullmatch(r"-[\d.]+", cell)


def test_signs_no_page_can_show_are_left_out(store):
    web = let_in(make_app(store), follow_redirects=False)
    web.post("/clients", data={"csrf": csrf(web), "name": "Po\x00sy\x1b\u202eHazel"})
    (client,) = store.clients()
    assert "\x00" not in client.name
    assert "\x1b" not in client.name


def test_an_error_of_the_program_shows_nothing_and_logs_no_value(store, caplog, monkeypatch):
    web = let_in(make_app(store), follow_redirects=False)
    secret = "Wilfred 36 1/2"
    monkeypatch.setattr(Store, "clients", lambda *_, **__: 1 / 0 if secret else None)
    with caplog.at_level(logging.DEBUG, logger="pleatwright"):
        answer: httpx.Response = web.get("/clients", params={"q": secret})
    assert answer.status_code == 500
    assert "ZeroDivisionError" not in unescape(answer.text)
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    ours = [record.getMessage() for record in caplog.records if record.name.startswith("pleatwright")]
    assert ours == ["GET /clients: ZeroDivisionError"]
    answer = web.get("/clients", headers={"accept": "application/json"})
    assert answer.json()["status"] == 500


def test_the_api_describes_every_page(store):
    described = make_app(store).openapi()["paths"]
    for route in _routes():
        if route.include_in_schema:
            assert route.path in described
