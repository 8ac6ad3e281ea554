"""What the tests in a real browser share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, sync_playwright

from tests.whole.browsers.browsing import ARGUMENTS, CHROMIUM, SCREENS, TABLET, Opening, Workshop


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if not Path(CHROMIUM).exists():
        pytest.fail(f"{CHROMIUM} is not installed; apt-get install chromium")
    SCREENS.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    opened = Workshop(tmp_path_factory.mktemp("workshop"))
    yield opened
    opened.close()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Workshop]:
    opened = Workshop(tmp_path)
    yield opened
    opened.close()


@pytest.fixture
def opening(browser: Browser, workshop: Workshop) -> Iterator[Opening]:
    """Opens pages; at the end no page may have said anything on its console."""
    contexts: list[BrowserContext] = []
    said: list[str] = []

    def opened(path: str, viewport: ViewportSize | None = None, **more: Any) -> Page:
        context = workshop.let_in(browser, viewport=viewport or TABLET, **more)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
        page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
    # a lost connection is reported by the browser itself, whatever the page does about it
    assert [text for text in said if "ERR_INTERNET_DISCONNECTED" not in text] == []
