"""The pages in a real browser: who is let in, wishes that redraw at once, every page at every size."""

from __future__ import annotations

import re
from time import sleep
from typing import Literal

import pytest
from playwright.sync_api import Route, ViewportSize, expect

from tests.whole.browsers.browsing import DESKTOP, PHONE, overflows, serious, shot


def test_what_is_refused_is_a_list_that_a_screen_reader_tells(browser, workshop):
    context = workshop.let_in(browser, viewport=PHONE)
    page = context.new_page()
    answer = page.goto("/orders/999")
    assert answer is not None
    assert answer.status == 404
    expect(page.get_by_role("alert").get_by_role("listitem")).to_have_count(1)
    assert serious(page) == []
    context.close()


SIZES: tuple[tuple[int, int, Literal["light", "dark"]], ...] = (
    (360, 740, "light"),
    (1440, 900, "dark"),
    (3840, 2160, "light"),
)
STEPS = ("", "measures", "tartan", "cloth", "options", "plan", "check", "sewing", "closing", "quote")


@pytest.mark.slow
def test_every_page_fits_a_phone_and_a_wall_of_pixels_and_says_nothing_serious_to_axe(opening, workshop):
    card = workshop.order("demo")
    paths = [f"/orders/{card.id}/{step}".rstrip("/") for step in STEPS]
    paths += ["/", "/orders", "/orders/new", "/clients", f"/clients/{card.client}", "/cloth", "/cloth/new"]
    paths += ["/tartans", "/tartans/new", "/shop", "/pair"]
    page, seen = opening("/"), list[str]()
    for path in paths:
        page.goto(path)
        page.wait_for_load_state("networkidle")
        name = re.sub(r"[0-9]+", "n", path.strip("/").replace("/", "-")) or "day"
        for width, height, scheme in SIZES:
            page.set_viewport_size(ViewportSize(width=width, height=height))
            page.emulate_media(color_scheme=scheme)
            if overflows(page):
                seen.append(f"{path}: wider than the screen of {width}")
            if width < 3840:
                shot(page, f"page-{width}-{scheme}-{name}")
                seen += serious(page)
    assert seen == []


def test_a_browser_that_nobody_opened_is_let_in_by_the_code_in_the_terminal(browser, workshop):
    context = browser.new_context(viewport=PHONE, base_url=workshop.base)
    page = context.new_page()
    page.goto("/orders")
    expect(page.get_by_role("heading", level=1)).to_have_text("Let this browser in")
    assert serious(page) == []
    page.get_by_label("Code").fill("0")
    page.get_by_role("button", name="Let it in").click()
    expect(page.get_by_role("alert")).to_contain_text("is not the one shown now")
    code = workshop.told[-1]
    page.get_by_label("Code").fill(f"{code[:4]} {code[4:]}")
    page.get_by_role("button", name="Let it in").click()
    page.wait_for_url(f"{workshop.base}/")
    page.goto("/orders")  # as a bookmark does
    expect(page.get_by_role("heading", level=1)).to_have_text("Orders")
    context.close()


def test_the_link_that_serve_opens_goes_on_to_the_day_and_is_good_once(browser, workshop):
    link = workshop.serving.link()
    for expected in (f"{workshop.base}/", link):
        context = browser.new_context(viewport=PHONE)
        page = context.new_page()
        page.goto(link)
        page.wait_for_url(expected)
        context.close()


def test_a_wish_redraws_the_kilts_at_once_without_loading_the_page_again(opening, workshop):
    page = opening(f"/orders/{workshop.order('demo').id}/options", DESKTOP)
    page.evaluate("() => { window.loaded = 'once'; }")
    first = page.locator(".option").first
    expect(first.locator(".bears")).to_contain_text("Stays good if")
    expect(first.locator("h3")).to_contain_text("27 ")
    page.locator("[name='wishes.pleats']").fill("25")
    expect(first.locator("h3")).to_contain_text("25 ")
    expect(page.locator(".costs")).to_contain_text("With 25 pleats")
    expect(page.locator("#look-said")).to_contain_text("kilts fit")
    page.get_by_label("knife, to the stripe", exact=True).check()
    expect(page.locator(".costs")).to_contain_text("With all of it")
    assert "25 knife pleats on" in first.locator("h3").inner_text()
    page.locator("[name='wishes.pleats']").fill("")
    page.get_by_label("knife, to the stripe", exact=True).uncheck()
    expect(page.locator(".costs")).to_have_count(0)
    expect(first.locator("h3")).to_contain_text("27 ")
    assert page.evaluate("() => window.loaded") == "once"


def test_what_is_worth_comparing_can_be_wished_for(opening, workshop):
    page = opening(f"/orders/{workshop.order('demo').id}/options", DESKTOP)
    page.get_by_role("link", name="Worth comparing").click()
    few = page.locator(".few > li")
    expect(few).not_to_have_count(0)
    assert 2 <= few.count() <= 6
    wanted = few.filter(has_text="31 knife pleats").first
    wanted.get_by_role("button").click()
    expect(page.locator("[name='wishes.pleats']")).to_have_value("31")
    expect(page.locator(".option h3").first).to_contain_text("31 knife pleats to the sett")
    expect(page.locator(".costs")).to_contain_text("With all of it")
    shot(page, "options-wished")


def test_on_a_desk_every_figure_of_a_kilt_stands_on_one_line(opening, workshop):
    page = opening(f"/orders/{workshop.order('demo').id}/options", DESKTOP)
    for width in (1024, 1440):
        page.set_viewport_size(ViewportSize(width=width, height=900))
        broken = page.evaluate(
            """() => [...document.querySelectorAll('.option dd:not(.risk), .option dt')].filter((one) => {
              const range = document.createRange();
              range.selectNodeContents(one);
              return range.getClientRects().length > 1;
            }).map((one) => one.textContent)"""
        )
        assert broken == []


def test_a_form_pressed_twice_is_sent_once_and_can_be_sent_again_when_one_comes_back(opening, workshop):
    card = workshop.order("demo")
    page, sent = opening(f"/orders/{card.id}/quote"), list[str]()
    page.on("request", lambda one: sent.append(one.url) if one.method == "POST" else None)

    def slowly(route: Route) -> None:
        sleep(0.2)
        route.continue_()

    page.route("**/quote", slowly)
    with page.expect_navigation():
        page.locator("form.card .main").evaluate(
            "(one) => { one.click(); setTimeout(() => one.click(), 50); }"
        )
    assert len(sent) == len(workshop.store.quotes(card.id)) == 1
    page.go_back()
    expect(page.locator("form.card .main")).to_be_enabled()


def test_what_was_wrong_is_no_longer_said_once_it_is_put_right(browser, workshop):
    card = workshop.order("demo")
    context = workshop.let_in(browser)
    page = context.new_page()
    page.goto(f"/orders/{card.id}/measures")
    waist, hips = (page.locator(f"[name='wearer.{name}']") for name in ("waist", "hips"))
    waist.fill("4O")
    hips.fill("4O")
    page.locator(".bar .main").click()
    wrong = page.locator(".field.wrong")
    expect(wrong).to_have_count(2)
    waist.fill("36")
    expect(wrong).to_have_count(1)
    expect(waist).not_to_have_attribute("aria-invalid", "true")
    hips.fill("41")
    expect(wrong).to_have_count(0)
    expect(page.locator(".problem")).to_have_count(0)
    context.close()


def test_no_choice_of_the_shop_is_cut_off_on_a_small_desk(opening):
    page = opening("/shop", ViewportSize(width=1280, height=800))
    cut = page.evaluate("""() => [...document.querySelectorAll("main select")].flatMap((one) => {
      const style = getComputedStyle(one), pen = document.createElement("canvas").getContext("2d");
      pen.font = style.font;
      const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 16;
      return [...one.options].map((each) => each.text).filter((text) => pen.measureText(text).width > room);
    })""")
    assert cut == []
