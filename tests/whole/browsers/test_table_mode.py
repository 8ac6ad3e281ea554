"""Table mode in a real browser: one mark a screen, through a dropped connection."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from pleatwright.shop.store import OrderCard
from tests.whole.browsers.browsing import TABLET, at_table, cut_off, millimetres, shot, to_part


def test_figures_stand_40_mm_high_and_words_12_mm(opening, workshop):
    page = at_table(opening, workshop.order("demo"), ViewportSize(width=1280, height=800))
    to_part(page, "Over-apron")
    size = page.evaluate("() => parseFloat(getComputedStyle(document.getElementById('figure')).fontSize)")
    digits = 0.729 * size / 96 * 25.4  # of DejaVu Sans, a digit is 0.729 of the size high
    assert 37 <= digits <= 43
    size = page.evaluate("() => parseFloat(getComputedStyle(document.getElementById('words')).fontSize)")
    assert 11.5 <= size / 96 * 25.4 <= 12.5
    assert millimetres(page, "#next") > 15  # to be hit with the side of a chalky hand
    shot(page, "table-mark")


def test_every_fraction_is_stacked_and_none_is_a_decimal(opening, workshop):
    page = at_table(opening, workshop.order("demo"))
    while page.locator("#next").is_enabled():
        shown = page.locator("#figure, #from, #words, #beside")
        for text in shown.all_inner_texts():
            assert not re.search(r"\d\.\d|\d/\d", text), text
        page.keyboard.press("PageDown")
    expect(page.locator("#figure")).to_have_text("STOP")


def test_next_and_back_by_tap_key_and_pedal_go_the_same_way(opening, workshop):
    page = at_table(opening, workshop.order("demo"), has_touch=True)
    what, words = page.locator("#what"), page.locator("#words")
    first = words.inner_text()
    for on, back in (("ArrowRight", "ArrowLeft"), ("PageDown", "PageUp"), ("ArrowDown", "ArrowUp")):
        page.keyboard.press(on)
        second = words.inner_text()
        assert second != first
        page.keyboard.press(back)
        expect(words).to_have_text(first)
        page.locator("#next").tap()
        expect(words).to_have_text(second)
        page.locator("#back").tap()
    expect(words).to_have_text(first)
    expect(what).to_be_focused()


def test_the_stripe_drawn_has_two_neighbours_each_side_in_the_tartans_colours(opening, workshop):
    page = at_table(opening, workshop.order("demo"))
    to_part(page, "Pleats 1, 2, last")
    colours = page.locator("#picture rect:not(.edge)").evaluate_all(
        "(all) => all.map((one) => one.getAttribute('fill'))"
    )
    assert len(colours) >= 5
    assert set(colours) <= {"#14592F", "#14161A", "#23408C", "#8DB3D6", "#F4F2EA"}
    assert page.locator("#picture .line").count() == 1
    names = page.locator("#picture text").all_inner_texts()
    assert len(names) == len(colours)  # the narrow ones too, each in a row where there is room
    boxes = [box for one in page.locator("#picture text").all() if (box := one.bounding_box())]
    for one, box in enumerate(boxes):
        for other in boxes[:one]:
            assert box["x"] >= other["x"] + other["width"] - 1 or box["y"] >= other["y"] + other["height"] / 2


def test_found_through_a_dropped_connection_is_held_and_sent_and_the_marks_follow(opening, workshop):
    card = workshop.order("demo")
    page = at_table(opening, card)
    expect(page.locator("#state")).to_contain_text("answers")
    with cut_off(page):
        for repeats in (0, 8):
            for _ in range(repeats):
                page.keyboard.press("ArrowRight")
            page.locator("#found").click()
            page.locator("#pad").get_by_role("button", name="5" if repeats == 0 else "2", exact=True).click()
            if repeats:
                for digit in "14":
                    page.locator("#pad").get_by_role("button", name=digit, exact=True).click()
            page.locator("#fractions").get_by_role("button", name="7/8", exact=True).click()
            expect(page.locator("#shown")).to_contain_text("7")
            if not repeats:
                shot(page, "table-found")
            page.locator("#enter").click()
            expect(page.locator("#beside")).to_contain_text("Not sent yet")
        expect(page.locator("#state")).to_contain_text("2 held here")
        to_part(page, "Over-apron")  # the marks held here go on
        before = page.locator("#figure").get_attribute("aria-label")
        page.locator("#chalk").click()
        page.keyboard.press("ArrowLeft")
        expect(page.locator("#chalk")).to_have_attribute("aria-pressed", "true")
        shot(page, "table-offline")
        assert workshop.store.marks(card.id) == ()
    expect(page.locator("#state")).to_contain_text("Sent", timeout=15_000)
    kept = workshop.store.marks(card.id)
    assert [entry.found is not None for entry in kept] == [True, True, False]
    assert "readings" in workshop.store.get(OrderCard, card.id).document
    assert page.locator("#figure").get_attribute("aria-label") != ""
    assert before


def test_the_page_opens_again_without_a_connection(opening, workshop):
    page = at_table(opening, workshop.order("measured-piece"))
    figure = page.locator("#figure").get_attribute("aria-label") or ""
    held = "async () => (await (await caches.open('pleatwright-table-1')).keys()).map((one) => one.url)"
    parts = ("/table", *(f"/static/{name}" for name in ("table.css", "table.js", "table.line.js")))
    page.wait_for_function(
        f"async (parts) => {{ const urls = await ({held})(); "
        "return parts.every((part) => urls.some((url) => url.endsWith(part))); }",
        arg=list(parts),
    )
    with cut_off(page):
        page.reload()
        expect(page.locator("#figure")).to_have_attribute("aria-label", figure)
        expect(page.locator("#state")).to_contain_text("No connection")


def test_a_mark_chalked_at_two_tablets_is_kept_once_for_each_and_both_see_it(opening, workshop):
    card = workshop.order("demo")
    one, other = at_table(opening, card), at_table(opening, card)
    for page in (one, other):
        to_part(page, "Levels")
        page.keyboard.press("c")
        expect(page.locator("#state")).to_contain_text("Sent")
    assert len(workshop.store.marks(card.id)) == 2


def test_a_mark_that_would_move_after_it_was_chalked_says_so(opening, workshop):
    card = workshop.order("demo")
    page = at_table(opening, card)
    to_part(page, "Pleats 1, 2, last")
    page.keyboard.press("c")
    expect(page.locator("#state")).to_contain_text("Sent")
    to_part(page, "Readings")
    for at in (0, 8):
        figure = page.locator("#figure").get_attribute("aria-label") or ""
        whole = int(figure.split()[0])
        page.keyboard.press("f")
        page.locator("#typed").fill(f"{whole + 1} 1/2")
        page.keyboard.press("Enter")
        expect(page.locator("#state")).to_contain_text("Sent" if at else "too near")
        for _ in range(8):
            page.keyboard.press("ArrowRight")
    to_part(page, "Pleats 1, 2, last")
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#beside")).to_contain_text("Moved since it was chalked")
    shot(page, "table-moved")


def test_the_bar_is_made_as_long_as_a_tape_says_and_the_figures_with_it(opening, workshop):
    page = at_table(opening, workshop.order("demo"), has_touch=True, is_mobile=True)

    def high(selector: str) -> float:
        return float(
            page.evaluate(
                f"() => parseFloat(getComputedStyle(document.querySelector('{selector}')).fontSize)"
            )
        )

    page.locator("#more").click()
    bar = page.locator("#rule").bounding_box()
    assert bar is not None
    assert bar["width"] == pytest.approx(2 * 132, abs=1)  # most tablets: 132 pixels an inch
    before = high("#words")
    for _ in range(4):
        page.locator("#smaller").click()
    bar = page.locator("#rule").bounding_box()
    assert bar is not None
    assert bar["width"] == pytest.approx(2 * (132 - 9.6), abs=1)
    assert high("#words") == pytest.approx(before * (132 - 9.6) / 132, rel=0.01)
    shot(page, "table-set-up")


def test_the_left_handed_have_next_on_the_left_and_it_is_remembered(opening, workshop):
    page = at_table(opening, workshop.order("demo"))

    def beginning(selector: str) -> float:
        box = page.locator(selector).bounding_box()
        assert box is not None
        return box["x"]

    assert beginning("#back") < beginning("#next")
    page.locator("#more").click()
    page.locator("#hand").click()
    page.locator("#close").click()
    assert beginning("#next") < beginning("#back")
    page.reload()
    page.wait_for_selector("#parts li")
    assert beginning("#next") < beginning("#back")
    shot(page, "table-left-handed")


def test_a_mark_is_read_aloud_in_words(browser, workshop):
    card = workshop.order("demo")
    context = workshop.let_in(browser, viewport=TABLET)
    context.add_init_script(
        "window.heard = []; speechSynthesis.speak = (words) => window.heard.push(words.text);"
    )
    page = context.new_page()
    page.goto(f"/orders/{card.id}/table")
    page.wait_for_selector("#parts li")
    page.keyboard.press("r")
    assert page.evaluate("() => window.heard") == [
        "centre of the wide green in the black. 5 and 15 sixteenths inches from the left cut end. "
        "repeat 1, centre of the wide green in the black"
    ]
    context.close()


def test_of_two_tablets_the_later_finding_counts_though_the_earlier_is_sent_last(opening, workshop):
    card = workshop.order("demo")
    one, other = at_table(opening, card), at_table(opening, card)

    def find(page: Page, text: str) -> None:
        page.keyboard.press("f")
        page.locator("#typed").fill(text)
        page.keyboard.press("Enter")

    expect(one.locator("#state")).to_contain_text("answers")
    with cut_off(one):
        find(one, "6 1/16")
        expect(one.locator("#beside")).to_contain_text("Not sent yet")
        other.wait_for_timeout(1500)  # clocks are known as well as the machine answers quickly
        find(other, "5 7/8")
        expect(other.locator("#state")).to_contain_text("too near")
    expect(one.locator("#beside")).to_contain_text("since, and that counts", timeout=15_000)
    expect(one.locator("#beside .small").first).to_have_attribute("aria-label", "5 7/8″")
    assert [str(entry.found) for entry in workshop.store.marks(card.id)] == ["47/8", "97/16"]


def test_what_is_no_length_stays_on_the_pad_and_what_is_refused_is_not_called_sent(opening, workshop):
    page = at_table(opening, workshop.order("demo"))
    page.locator("#found").click()
    page.fill("#typed", "abc")
    page.locator("#enter").click()
    expect(page.locator("#no-length")).to_contain_text("“abc” is no length")
    expect(page.locator("#typed")).to_have_value("abc")
    page.fill("#typed", "12 1/2")
    page.locator("#enter").click()
    expect(page.locator("#beside .alarm")).to_contain_text("count the repeats again")
    expect(page.locator("#state")).to_have_text("")


def test_every_part_of_the_work_has_its_tab_in_sight_on_a_small_desk(opening, workshop):
    page = at_table(opening, workshop.order("demo"), ViewportSize(width=1280, height=800))
    page.evaluate(
        "() => document.querySelectorAll('#parts button').forEach((one) => one.classList.add('done'))"
    )
    wide = "(nav) => nav.scrollWidth - nav.clientWidth"
    assert page.locator("header nav").evaluate(wide) <= 0
