"""Every text of the pages stands in one place, and every one there is used."""

from __future__ import annotations

import re
from importlib.resources import files

from pleatwright.shop.store import State
from pleatwright.web.pages import environment
from pleatwright.web.texts import texts

NAMED = re.compile(r"\bt\.([a-z_]+(?:\.[a-z_0-9]+)*)\b(?!\()")
BY_FIELD = ("names", "rows", "missing")
"""Sections that are looked up by a field's own name."""
LOOKED_UP = re.compile(r"\bt\.([a-z_]+(?:\.[a-z_]+)*)\[")


def templates() -> dict[str, str]:
    folder = files("pleatwright.web") / "templates"
    names = environment().list_templates(extensions=["html"])
    return {name: folder.joinpath(name).read_text(encoding="utf-8") for name in names}


def test_every_text_a_page_names_is_there():
    for template, source in templates().items():
        for name in NAMED.findall(source):
            value: object = texts()
            for part in name.split("."):
                assert isinstance(value, dict), f"{template}: {name}"
                assert part in value, f"{template}: {name}"
                value = value[part]


def test_every_text_of_a_page_is_used():
    sources = "\n".join(templates().values())
    named, looked_up = set(NAMED.findall(sources)), set(LOOKED_UP.findall(sources))
    code = "\n".join(
        path.read_text(encoding="utf-8")
        for folder in (files("pleatwright.web"), files("pleatwright.web") / "routes")
        for path in folder.iterdir()
        if path.name.endswith(".py")
    )
    for page, group in texts().items():
        if page in ("table", *BY_FIELD) or page in looked_up or not isinstance(group, dict):
            continue
        for name in group:
            used = f"{page}.{name}" in named or f"{page}.{name}" in looked_up or f'["{name}"]' in code
            assert used or page == "errors", f"{page}.{name}"


def test_every_state_of_an_order_has_its_words():
    assert set(texts()["states"]) == {str(state) for state in State}


def test_no_text_of_a_template_stands_outside_the_texts():
    loose = re.compile(r">\s*([A-Za-z][a-z]{2,}(?: [A-Za-z]+)+)\s*<")
    for template, source in templates().items():
        plain = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", "", source, flags=re.S)
        assert not loose.findall(plain), template
