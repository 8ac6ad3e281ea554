"""The command line as a maker meets it: real files, real processes, real exit codes."""

import csv
import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from PIL import Image
from pypdf import PdfReader

import pleatwright
from pleatwright.order import order_schema
from pleatwright.shop import plan_schema
from tests.whole.commands import run, run_anew

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
SCHEMAS = Path(pleatwright.__file__).parent / "schemas"
PACKET = {
    "plan.json",
    "packet.pdf",
    "guide.pdf",
    "sewing-card.pdf",
    "templates",
    "marks.csv",
    "back.png",
    "front.png",
    "pleatwright-files.txt",
}


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "packet"
    done = run_anew("plan", ROOT / "examples/demo.toml", "--out", folder)
    assert done.returncode == 0, done.stderr
    assert str(folder) in done.stdout.replace("\n", "")
    return folder


def test_the_packet_holds_every_file_and_nothing_else(packet: Path):
    assert {path.name for path in packet.iterdir()} == PACKET
    assert [path.name for path in packet.parent.iterdir()] == [packet.name]  # nothing half-written beside it


def test_the_plan_keeps_its_schema(packet: Path):
    plan = json.loads((packet / "plan.json").read_text())
    jsonschema.validate(plan, plan_schema())
    assert plan["options"]
    for option in plan["options"]:
        assert len(option["strips"]) == option["pleats"]
        assert {level["level"] for level in option["levels"]} >= {
            "top edge",
            "strap line",
            "mid-fell",
            "hip line",
        }


def test_the_pages_are_stamped_with_client_version_and_opening_side(packet: Path):
    plan = json.loads((packet / "plan.json").read_text())
    for page in PdfReader(packet / "packet.pdf").pages:
        text = page.extract_text()
        assert plan["client"] in text
        assert plan["plan_version"] in text
        assert f"opens on the {plan['opens_on']}" in text


def test_the_marks_are_the_plan_s(packet: Path):
    plan = json.loads((packet / "plan.json").read_text())
    with (packet / "marks.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    centre = next(row for row in rows if row["group"] == "over-apron" and row["what"] == "centre")
    assert float(centre["tape_inches"]) == pytest.approx(
        plan["options"][0]["over_apron"]["centre"], abs=1 / 32 + 1e-6
    )
    assert [int(row["number"]) for row in rows] == list(range(1, len(rows) + 1))


def test_the_pictures_open(packet: Path):
    for name in ("back.png", "front.png"):
        with Image.open(packet / name) as picture:
            assert picture.width > 800
            assert len(picture.convert("RGB").resize((40, 40)).getcolors(1600) or []) > 4


def test_the_same_order_gives_the_same_bytes(packet: Path, tmp_path: Path):
    again = tmp_path / "again"
    assert run("plan", ROOT / "examples/demo.toml", "--out", again).returncode == 0
    files = [path.relative_to(packet) for path in packet.rglob("*") if path.is_file()]
    assert len(files) > len(PACKET)  # the templates' folder among them
    for name in files:
        assert (again / name).read_bytes() == (packet / name).read_bytes(), name


def test_a_packet_may_be_replaced_but_a_stranger_s_file_is_never_lost(packet: Path):
    assert run("plan", ROOT / "examples/demo.toml", "--out", packet).returncode == 0
    stranger = packet / "notes.txt"
    stranger.write_text("mine")
    try:
        done = run("plan", ROOT / "examples/demo.toml", "--out", packet)
        assert done.returncode == 2
        assert "notes.txt" in done.stderr
        assert stranger.read_text() == "mine"
    finally:
        stranger.unlink()


@pytest.mark.parametrize("order", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_planned(order: Path):
    jsonschema.Draft202012Validator.check_schema(order_schema())
    done = run("plan", order, "--json", "-")
    assert done.returncode == 0, done.stderr
    plan = json.loads(done.stdout)
    jsonschema.validate(plan, plan_schema())
    assert plan["options"][0]["score"] > 0


def test_bad_input_writes_nothing_and_names_every_mistake(tmp_path: Path):
    order = tmp_path / "order.toml"
    text = (ROOT / "examples/demo.toml").read_text()
    order.write_text(
        text.replace("[tartan]", '[tartan]\nshayd = "modern"', 1).replace("hips = ", 'hips = "4O" # ')
    )
    done = run("plan", order, "--out", tmp_path / "packet")
    assert done.returncode == 2
    assert "order.toml: wearer.hips" in done.stderr
    assert "shayd" in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["order.toml"]


def test_a_piece_too_short_is_told_what_would_fit_and_the_findings_are_written(tmp_path: Path):
    order = tmp_path / "order.toml"
    lines = (ROOT / "examples/demo.toml").read_text().splitlines()
    start = lines.index("[piece]")
    at = next(i for i in range(start, len(lines)) if lines[i].startswith("length"))
    lines[at] = 'length = "2 yd"'
    order.write_text("\n".join(lines))
    done = run("plan", order, "--out", tmp_path / "packet")
    assert done.returncode == 1
    assert "plan.piece-short" in done.stdout
    assert "yd" in done.stdout
    plan = json.loads((tmp_path / "packet/plan.json").read_text())
    assert plan["options"] == []
    assert plan["findings"][0]["severity"] == "stop"
    assert "What would fit" in PdfReader(tmp_path / "packet/packet.pdf").pages[0].extract_text() + "".join(
        finding["do"] for finding in plan["findings"]
    )


def test_a_new_order_can_be_planned_as_it_stands(tmp_path: Path):
    for units in ("in", "metric"):
        order = tmp_path / f"{units}.toml"
        assert run("new", "--out", order, "--units", units).returncode == 0
        assert run("plan", order, "--json", "-").returncode == 0
    refused = run("new", "--out", tmp_path / "in.toml")
    assert refused.returncode == 2
    assert "is there already" in refused.stderr


def test_a_thread_count_is_explained():
    done = run("sett", "B/24 W4 B24 R2 K24 G24 W/2", "--size", "6 1/2")
    assert done.returncode == 0
    assert "182 threads" in done.stdout
    assert "12, 103" in done.stdout
    assert run("sett", "B/24 W4 QX24").returncode == 2


def test_the_shipped_schemas_are_those_of_the_program():
    for name, made in (("order", order_schema()), ("plan", plan_schema())):
        assert json.loads((SCHEMAS / f"{name}.schema.json").read_text()) == made


def test_style_units_and_paper_go_over_the_order(tmp_path: Path):
    folder = tmp_path / "packet"
    done = run(
        "plan",
        ROOT / "examples/demo.toml",
        "--out",
        folder,
        "--style",
        "box",
        "--units",
        "metric",
        "--paper",
        "Letter",
    )
    assert done.returncode == 0, done.stderr
    plan = json.loads((folder / "plan.json").read_text())
    assert {option["form"] for option in plan["options"]} == {"box pleat"}
    assert plan["units"] == "metric"
    first = PdfReader(folder / "packet.pdf").pages[0]
    assert float(first.mediabox.width) == pytest.approx(8.5 * 72, abs=0.01)
    assert " mm" in first.extract_text()


def test_the_version_needs_no_heavy_library():
    code = (
        "import sys; sys.argv=['pleatwright','--version']; from pleatwright.cli import main; main();"
        "print(sorted(set(sys.modules) & {'numpy','reportlab','pydantic','typer','rich','PIL'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == [f"pleatwright {pleatwright.__version__}", "[]"]


def test_what_cannot_be_written_is_refused_in_one_whole_sentence(tmp_path: Path):
    taken = tmp_path / "taken"
    taken.write_text("a file, no folder")
    strange = tmp_path / "strange"
    strange.mkdir()
    for name in ("mine.txt", "other.txt"):
        (strange / name).write_text("not ours")
    demo = ROOT / "examples/demo.toml"
    for arguments, sentence in (
        (
            ("plan", demo, "--out", taken / "packet"),
            "cannot be written (a file stands where its folder should be); name another folder",
        ),
        (("templates", demo, "--out", taken), "is a file, and a packet needs a folder; name another folder"),
        (("templates", demo, "--out", strange), ".txt and 1 other file, which no earlier packet put there;"),
        (
            ("new", "--out", taken / "order.toml"),
            "cannot be written (a file stands where its folder should be); name another file",
        ),
        (("plan", demo, "--json", taken / "plan.json"), "name another file with --json"),
    ):
        done = run(*arguments)
        told = " ".join(done.stderr.split())
        assert (done.returncode, done.stdout) == (2, "")
        assert told.startswith(f'{arguments[-2]}: "{arguments[-1]}" ')
        assert sentence in told
    assert {path.name for path in tmp_path.iterdir()} == {"taken", "strange"}
