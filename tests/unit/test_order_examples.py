"""The example orders: each is read, gives options, and conforms to the schema of order files."""

from __future__ import annotations

import json
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from pleatwright.findings import blocking
from pleatwright.layout import make_plan
from pleatwright.order import STYLES, new_order_text, order_schema, read_order
from pleatwright.pleats import Form, Shows

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SCHEMA = order_schema()


def plain_data(text: str) -> Any:
    """The order as JSON data: days become text."""
    return json.loads(json.dumps(tomllib.loads(text), default=str))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_gives_kilts_and_nothing_stops_the_work(path: Path) -> None:
    job = read_order(path.read_text(encoding="utf-8"), source=path.name)
    plan = make_plan(job.request)
    assert plan.options
    assert not blocking(plan.findings)
    assert job.shop == "Harebell Lane Kilts"
    if job.request.piece is not None:
        assert job.request.piece.width >= job.sizes.total + job.request.settings.cloth.band_height


def test_the_examples_cover_what_makers_meet() -> None:
    jobs = {path.stem: read_order(path.read_text(encoding="utf-8")) for path in EXAMPLES}
    assert jobs["belly"].sizes.belly
    assert jobs["womans-taper"].sizes.taper == "woman"
    assert jobs["womans-taper"].request.opens_on == "left"
    assert jobs["child-hem"].sizes.hem == 3
    assert not jobs["asymmetric"].request.tartan.weft.symmetric
    assert jobs["asymmetric"].units == "metric"
    assert jobs["large-abac-sett"].request.sett_along > 10
    assert jobs["no-cloth-yet"].request.piece is None
    assert jobs["no-cloth-yet"].paper == "Letter"
    assert 180 <= jobs["demo"].request.tartan.weft.n <= 260


def test_the_first_example_is_best_in_knife_pleats_to_the_sett() -> None:
    demo = next(path for path in EXAMPLES if path.stem == "demo")
    best = make_plan(read_order(demo.read_text(encoding="utf-8")).request).options[0]
    assert (best.form, best.shows) == (Form.KNIFE, Shows.SETT)


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_the_shipped_schema_is_the_models_own() -> None:
    shipped = (files("pleatwright") / "schemas" / "order.schema.json").read_text(encoding="utf-8")
    assert json.loads(shipped) == SCHEMA


@pytest.mark.parametrize(
    "text",
    [
        *(path.read_text(encoding="utf-8") for path in EXAMPLES),
        new_order_text("in"),
        new_order_text("metric"),
    ],
    ids=[*(path.stem for path in EXAMPLES), "new", "new-metric"],
)
def test_every_order_we_ship_conforms_to_the_schema(text: str) -> None:
    assert list(Draft202012Validator(SCHEMA).iter_errors(plain_data(text))) == []


@pytest.mark.parametrize(
    "old, new",
    [
        ('name = "Wilfred Ashgrove"', "nam = 'x'"),
        ('hips = "41"', ""),
        ('opens_on = "right"', 'opens_on = "front"'),
        ("left_end = {", 'left_end = "K24" # {'),
        ("# [settings.wearer]", "[settings.waerer]"),
        ("# pleats = 27", "pleats = 0"),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str) -> None:
    text = new_order_text()
    assert old in text
    assert list(Draft202012Validator(SCHEMA).iter_errors(plain_data(text.replace(old, new))))


def test_the_schema_describes_every_field_and_offers_every_style() -> None:
    fields = [
        field
        for table in SCHEMA["$defs"].values()
        for shape in (table, *table.get("anyOf", ()))
        for field in shape.get("properties", {}).values()
    ]
    assert fields
    assert all(field.get("description") for field in fields)
    assert (
        list(STYLES) == SCHEMA["$defs"]["WishesTable"]["properties"]["styles"]["anyOf"][0]["anyOf"][0]["enum"]
    )
