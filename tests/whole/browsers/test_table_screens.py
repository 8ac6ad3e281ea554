"""Table mode on every screen: it fits, nothing overlaps, and what is too long is turned to."""

from __future__ import annotations

from typing import Any, Literal

import pytest
from playwright.sync_api import ViewportSize, expect

from tests.whole.browsers.browsing import TABLET, at_table, overflows, serious, shot, to_part

TABLETS: tuple[tuple[int, int, Literal["light", "dark"]], ...] = (
    (360, 740, "light"),
    (740, 360, "dark"),
    (768, 1024, "light"),
    (1440, 900, "dark"),
    (3840, 2160, "light"),
)


@pytest.mark.slow
def test_table_mode_fits_every_screen_in_light_and_dark(opening, workshop):
    page = at_table(opening, workshop.order("double-width"))
    for width, height, scheme in TABLETS:
        page.set_viewport_size(ViewportSize(width=width, height=height))
        page.emulate_media(color_scheme=scheme)
        for part in ("Levels", "Join", "Over-apron", "The rip", "Under-apron"):
            to_part(page, part)
            assert not overflows(page), f"{part} at {width}"
        shot(page, f"table-{width}x{height}-{scheme}")
        if width in (360, 1440):
            assert serious(page) == []


SHOWN = """() => {
  const size = (id) => parseFloat(getComputedStyle(document.getElementById(id)).fontSize);
  const main = document.getElementById('main');
  const density = parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--scale'));
  const boxes = [...main.querySelectorAll('#what, #figure, #from, #picture, #words, #beside')]
    .filter((one) => one.childNodes.length).map((one) => one.getBoundingClientRect());
  const overlap = (a, b, from, to) => a[from] < b[to] - 1 && b[from] < a[to] - 1;
  const meet = (a, b) => overlap(a, b, 'left', 'right') && overlap(a, b, 'top', 'bottom');
  return {
    words: size('words') / density / 96 * 25.4, figure: 0.729 * size('figure') / density / 96 * 25.4,
    wide: main.scrollWidth - main.clientWidth, high: main.scrollHeight - main.clientHeight,
    meet: boxes.some((one, at) => boxes.slice(at + 1).some((other) => meet(one, other))),
  };
}"""


@pytest.mark.slow
def test_on_a_tablet_at_its_own_density_no_words_are_too_long_for_their_screen(opening, workshop):
    size = ViewportSize(width=1180, height=820)
    page = at_table(opening, workshop.order("double-width"), size, has_touch=True, is_mobile=True)
    seen: dict[str, Any] = {}
    while page.locator("#next").is_enabled():
        seen[page.locator("#said").inner_text()] = page.evaluate(SHOWN)
        page.keyboard.press("PageDown")
    shown = list(seen.values())
    assert len(shown) > 80
    assert not any(one["meet"] or one["wide"] > 0 for one in shown)
    assert min(one["figure"] for one in shown) > 28  # three figures and a fraction beside their picture
    assert max(one["figure"] for one in shown) == pytest.approx(40, abs=1)
    assert max(one["words"] for one in shown) == pytest.approx(12, abs=0.1)
    assert min(one["words"] for one in shown) >= 8  # long ones
    assert sum(one["high"] > 0 for one in shown) < 0.05 * len(shown)  # turned to by "next"


def test_next_first_turns_to_the_rest_of_words_too_long_for_the_screen(opening, workshop):
    page = at_table(opening, workshop.order("double-width"), TABLET, has_touch=True, is_mobile=True)
    to_part(page, "Join")
    page.keyboard.press("PageDown")
    expect(page.locator("#what")).to_contain_text("second strip")
    what, rest = page.locator("#what").inner_text(), page.locator("#words .notes")
    assert page.evaluate(SHOWN)["high"] > 20
    turns = 0
    while page.locator("#what").inner_text() == what:
        page.keyboard.press("PageDown")
        turns += 1
        if page.locator("#what").inner_text() == what:
            expect(rest).to_be_in_viewport()
    assert 2 <= turns <= 3
