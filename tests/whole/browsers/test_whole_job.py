"""The whole job in a real browser, from an empty store to packet, sewing log and quote."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.whole.browsers.browsing import DESKTOP, TABLET, overflows, shot, to_part
from tests.whole.marked import MARKED_RIGHT

DEMO = {
    "measures": {
        "wearer.waist": "35 1/2",
        "again.waist": "35 3/4",
        "wearer.hips": "40 1/4",
        "wearer.drop": "21 1/2",
        "wearer.fell_drop": "6 3/4",
        "wearer.rise": "2",
    },
    "tartan": {
        "tartan.name": "Tarnside",
        "tartan.count": "G/32 K4 G4 K14 B24 LB4 B24 K14 W/6",
        "tartan.sett.measured": "6 1/2",
    },
    "cloth": {
        "piece.width": "29",
        "piece.length": "8 1/2 yd",
        "piece.sett.measured": "65 1/4",
        "piece.sett.over": "10",
        "piece.sett_across.measured": "25 3/4",
        "piece.sett_across.over": "4",
        "piece.left_end.stripe": "K14",
        "piece.left_end.then": "W6",
        "piece.left_end.distance": "2 3/8",
        "piece.selvedge.stripe": "G32",
        "piece.selvedge.distance": "2 1/4",
    },
}
"""The first example, as a maker types it."""


class Walk:
    """One maker at one screen, walking through an order; every page on the way is looked at."""

    def __init__(self, page: Page, name: str) -> None:
        self.page, self.name, self.seen = page, name, list[str]()

    def look(self, name: str) -> None:
        """Keep a picture of the page, and note where it does not fit."""
        self.page.wait_for_load_state("load")
        shot(self.page, f"{self.name}-{name}")
        if overflows(self.page):
            self.seen.append(f"{self.page.url}: wider than the screen")

    def fill(self, fields: dict[str, str]) -> None:
        for name, text in fields.items():
            field = self.page.locator(f"[name='{name}']").first
            field.fill(text)

    def saved(self, path: str) -> bytes:
        link = self.page.locator(f"a[href$='{path}']").first
        expect(link).to_be_visible()
        answer = self.page.request.get(link.get_attribute("href") or "", timeout=90_000)
        assert answer.ok
        return answer.body()


def words_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


@pytest.mark.slow
@pytest.mark.parametrize("name, size", [("tablet", TABLET), ("desktop", DESKTOP)])
def test_the_whole_job_from_an_empty_store_to_packet_sewing_log_and_quote(browser, empty, name, size):
    context = browser.new_context(viewport=size, base_url=empty.base, has_touch=name == "tablet")
    context.set_default_timeout(20_000)
    page = context.new_page()
    broken: list[str] = []
    page.on("pageerror", lambda error: broken.append(str(error)))
    page.on("console", lambda message: broken.append(message.text) if message.type == "error" else None)
    walk = Walk(page, name)

    page.goto(empty.serving.link())
    page.wait_for_url(f"{empty.base}/")
    walk.look("01-empty-day")
    page.goto("/orders/new")
    walk.fill({"client.name": "Wilfred Ashgrove", "client.promised": "2031-06-30"})
    walk.look("02-new-order")
    page.locator(".actions button.main").click()
    page.wait_for_url("**/measures")

    walk.fill(DEMO["measures"])
    expect(page.locator("#apart-waist")).not_to_be_empty()  # taken twice, the difference is shown
    walk.look("03-measures")
    page.locator(".actions.bar button.main").click()
    page.wait_for_url("**/tartan")
    walk.fill(DEMO["tartan"])
    page.wait_for_load_state("networkidle")
    walk.look("04-tartan")
    page.locator(".actions button.main").first.click()
    page.wait_for_url("**/cloth")
    walk.fill(DEMO["cloth"])
    page.wait_for_load_state("networkidle")
    walk.look("05-cloth")
    page.locator(".actions.bar button.main").click()
    page.wait_for_url("**/options")
    expect(page.locator(".option").first.locator("img")).to_be_visible()
    walk.look("06-options")
    page.locator("[name='wishes.pleats']").fill("25")
    expect(page.locator(".option h3").first).to_contain_text("25 ")
    page.locator("[name='wishes.pleats']").fill("")
    expect(page.locator(".option h3").first).to_contain_text("27 ")
    page.locator(".option button.main").first.click()
    page.wait_for_url("**/plan")
    walk.look("07-plan")
    packet = words_of(walk.saved("/print/packet.pdf"))
    assert "Wilfred Ashgrove" in packet
    assert "27 knife pleats" in packet

    order = empty.store.orders()[0].id
    page.goto(f"/orders/{order}/table")
    page.wait_for_selector("#parts li")
    to_part(page, "Levels")
    for _ in range(3):
        page.keyboard.press("c")
    expect(page.locator("#state")).to_contain_text("Sent")
    walk.look("08-table")
    page.goto(f"/orders/{order}/plan")
    page.locator("form[action$='/chalked'] button").click()
    page.goto(f"/orders/{order}/check")
    walk.look("09-check")
    check(page, empty.store.plans(order)[-1].plan_version)
    expect(page.locator(".verdict")).to_have_class(re.compile("go"))
    walk.look("10-go")
    page.goto(f"/orders/{order}/table")
    page.wait_for_selector("#parts li")
    to_part(page, "The rip")
    expect(page.locator("#figure")).to_have_text("GO")
    walk.look("11-table-go")
    page.goto(f"/orders/{order}/check")
    page.locator(".banner form button.main").click()
    page.goto(f"/orders/{order}/sewing")
    walk.look("12-sewing-begin")
    page.locator("form[action$='/sewing/start'] button.main").click()
    walk.fill({"last": "5", "hip": "3 3/4", "strap": "3 5/16"})
    page.locator("form:has(input[value='width']) button.main").click()
    expect(page.locator("table").last).to_be_visible()
    assert len(empty.store.sewing(order)) == 2
    walk.look("13-sewing")
    page.goto(f"/orders/{order}/closing")
    walk.look("14-closing")
    page.goto(f"/orders/{order}/quote")
    walk.fill({"line.0.price": "62.50", "currency": "GBP"})
    page.locator(".actions button.main").click()
    walk.look("15-quote")
    quote = words_of(walk.saved(".pdf"))
    assert "Wilfred Ashgrove" in quote
    assert "GBP" in quote
    for number, path in enumerate(
        ("/", "/orders", f"/orders/{order}", "/clients", "/clients/1", "/cloth", "/tartans", "/shop"), 16
    ):
        page.goto(path)
        walk.look(f"{number}-{path.strip('/').replace('/', '-') or 'day'}")
    assert walk.seen == []
    assert broken == []
    context.close()


def check(page: Page, version: str) -> None:
    """Fill in the check as a maker finds it whose marks are right, and have it judged."""
    for name, text in {**MARKED_RIGHT, "checked_by": "O.Q.", "plan": version}.items():
        field = page.locator(f"[name='{name}']")
        if field.evaluate("(one) => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
    page.locator(".actions.bar button.main").click()
