"""Every text of the pages stands in one place, and every one there is used."""

from __future__ import annotations

import ast
import re
import string
from importlib.resources import files

from pleatwright.shop.store import State
from pleatwright.web.pages import environment
from pleatwright.web.texts import texts

NAMED = re.compile(r"\bt\.([a-z_]+(?:\.[a-z_0-9]+)*)\b(?!\()")
BY_FIELD = ("names", "rows", "missing", "told")
"""Sections that are looked up by a field's own name."""
LOOKED_UP = re.compile(r"\bt\.([a-z_]+(?:\.[a-z_]+)*)\[")


def templates() -> dict[str, str]:
    folder = files("pleatwright.web") / "templates"
    names = environment().list_templates(extensions=["html"])
    return {name: folder.joinpath(name).read_text(encoding="utf-8") for name in names}


def code() -> str:
    return "\n".join(
        path.read_text(encoding="utf-8").replace("from __future__ import annotations", "")
        for folder in (files("pleatwright.web"), files("pleatwright.web") / "routes")
        for path in folder.iterdir()
        if path.name.endswith(".py")
    )


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
    python = code()
    for page, group in texts().items():
        if page in ("table", "mistakes", *BY_FIELD) or page in looked_up or not isinstance(group, dict):
            continue
        for name in group:
            used = f"{page}.{name}" in named or f"{page}.{name}" in looked_up or f'["{name}"]' in python
            assert used or page == "errors", f"{page}.{name}"


def test_every_state_of_an_order_has_its_words():
    assert set(texts()["states"]) == {str(state) for state in State}


def test_no_text_of_a_template_stands_outside_the_texts():
    loose = re.compile(r">\s*([A-Za-z][a-z]{2,}(?: [A-Za-z]+)+)\s*<")
    for template, source in templates().items():
        plain = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", "", source, flags=re.S)
        assert not loose.findall(plain), template


def test_every_mistake_is_told_in_words_that_stand_among_the_texts():
    calls = [each for each in ast.walk(ast.parse(code())) if isinstance(each, ast.Call)]
    called = [(getattr(each.func, "id", ""), each) for each in calls]
    assert not [ast.unparse(each) for name, each in called if name == "Problem" and literal(each.args[1:])]
    told = {name: set(filled(words)) for name, words in texts()["mistakes"].items()}
    used = set()
    for each in (each for name, each in called if name == "mistake"):
        (name,) = [text for text in ast.walk(each.args[0]) if isinstance(text, ast.Constant)][:1]
        names = {one for one in told if one.startswith(name.value)} if spelt_out(each) else {name.value}
        assert names <= set(told), ast.unparse(each)
        used |= names
        given = {keyword.arg for keyword in each.keywords}
        assert None in given or all(given == told[one] for one in names), ast.unparse(each)
    assert used == set(told)


def spelt_out(call: ast.Call) -> bool:
    """Whether the name of a mistake is put together where it is told."""
    return isinstance(call.args[0], ast.JoinedStr)


def literal(arguments: list[ast.expr]) -> list[ast.expr]:
    return [each for each in arguments if isinstance(each, ast.Constant | ast.JoinedStr)]


def filled(words: list[str]) -> list[str]:
    return [name for part in words for _, name, _, _ in string.Formatter().parse(part) if name]
