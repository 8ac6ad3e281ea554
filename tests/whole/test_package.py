"""The wheel, built and opened again with the standard library's zip reader."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from zipfile import ZipFile

import pytest

import pleatwright

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ZipFile]:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (path,) = folder.glob("*.whl")
    with ZipFile(path) as opened:
        yield opened


@pytest.mark.slow
def test_the_wheel_carries_every_file_of_the_package(wheel: ZipFile) -> None:
    source = ROOT / "src"
    kept = {
        path.relative_to(source).as_posix()
        for path in source.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert {"pleatwright/py.typed", "pleatwright/fonts/DejaVuSans.ttf"} <= kept
    web = "pleatwright/web"
    assert {f"{web}/templates/base.html", f"{web}/static/htmx.min.js", f"{web}/texts/en.toml"} <= kept
    assert any(name.startswith("pleatwright/shop/store/migrations/versions/") for name in kept)
    assert kept - set(wheel.namelist()) == set()


@pytest.mark.slow
def test_the_wheel_says_its_version_its_licence_and_its_command(wheel: ZipFile) -> None:
    about = f"pleatwright-{pleatwright.__version__}.dist-info"
    metadata = wheel.read(f"{about}/METADATA").decode()
    assert f"\nVersion: {pleatwright.__version__}\n" in metadata
    assert "\nLicense-Expression: Apache-2.0\n" in metadata
    assert "Apache License" in wheel.read(f"{about}/licenses/LICENSE").decode()
    assert "pleatwright = pleatwright.cli:main" in wheel.read(f"{about}/entry_points.txt").decode()
