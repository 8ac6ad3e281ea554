"""The measured piece from order to packet: doubts on the screen and in plan.json, a stop in the exit code."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema

from pleatwright.shop import plan_schema
from tests.whole.commands import Done, run

EXAMPLE = Path(__file__).parents[2] / "examples" / "measured-piece.toml"


def plan(order: Path, *more: str) -> Done:
    return run("plan", order, "--style", "knife to the sett", *more)


def test_findings_about_the_cloth_reach_the_screen_and_the_record(tmp_path: Path) -> None:
    done = plan(EXAMPLE, "--json", str(tmp_path / "plan.json"))
    assert done.returncode == 0, done.stderr
    record = json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))
    jsonschema.validate(record, plan_schema())
    codes = {one["code"] for one in record["cloth"]}
    assert codes >= {
        "cloth.reading-doubtful",
        "cloth.drift-avoided",
        "cloth.ends-crooked",
        "cloth.hip-line-moved",
        "cloth.left-strip",
    }
    for code in codes:
        assert code in done.stdout
    doubt = next(one for one in record["cloth"] if one["code"] == "cloth.reading-doubtful")
    assert '193 7/8"' in doubt["expected"]
    assert "two digits changed round" in doubt["expected"]


def test_cloth_skewed_beyond_the_limit_stops_the_work(tmp_path: Path) -> None:
    order = tmp_path / "order.toml"
    text = EXAMPLE.read_text(encoding="utf-8").replace('skew = "1/8"', 'skew = "1 1/2"')
    order.write_text(text, encoding="utf-8")
    done = plan(order, "--json", str(tmp_path / "plan.json"))
    assert done.returncode == 1
    assert "cloth.skew" in done.stdout
    assert (tmp_path / "plan.json").exists()
