"""What every test shares."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from glob import glob
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

# No deadline: a first call may load a library. In CI every run draws the same examples.
settings.register_profile("pleatwright", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("pleatwright")

NewStore = Callable[[], str]
"""Makes a new empty store and returns its address."""


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The address of a PostgreSQL of this run's own, in a folder of its own, reached by a socket there."""
    found = sorted(glob("/usr/lib/postgresql/*/bin/initdb"))
    initdb = found[-1] if found else shutil.which("initdb")
    if initdb is None:
        pytest.fail("PostgreSQL is not installed; apt-get install postgresql")
    programs = Path(os.path.realpath(initdb)).parent
    folder = Path(tempfile.mkdtemp(prefix="pleatwright-"))
    user = "postgres" if os.geteuid() == 0 else None  # it refuses to run as root
    if user:
        shutil.chown(folder, user)
    data, log = folder / "data", folder / "log"

    def run(program: str, *arguments: object) -> None:
        subprocess.run(
            [programs / program, *map(str, arguments)],
            check=True,
            stdout=subprocess.DEVNULL,
            user=user,
            cwd=folder,
            env={**os.environ, "LC_ALL": "C.UTF-8"},
        )

    try:
        run("initdb", "-D", data, "-A", "trust", "-U", "postgres", "-E", "UTF8", "--no-sync")
        run(
            "pg_ctl", "-D", data, "-l", log, "-w", "start",
            "-o", f"-c listen_addresses= -c fsync=off -k {folder}",
        )  # fmt: skip
        try:
            yield f"postgresql://postgres@/{{}}?host={folder}"
        finally:
            run("pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder)


class Databases:
    """Makes databases of one kind: empty ones, or with an empty store in them."""

    def __init__(self, folder: Path, postgres: str | None) -> None:
        self.folder, self.postgres, self.numbers = folder, postgres, count(1)
        from pleatwright.shop.store import open_store

        open_store(self._made("model", "template0")).close()

    def empty(self) -> str:
        """The address of a new database with nothing in it."""
        return self._made(f"empty{next(self.numbers)}", "template0")

    def store(self) -> str:
        """The address of a new empty store; a copy is quicker than its migrations."""
        return self._made(f"store{next(self.numbers)}", "model")

    def _made(self, name: str, model: str) -> str:
        if self.postgres is None:
            if (self.folder / model).exists():
                shutil.copy(self.folder / model, self.folder / name)
            return f"sqlite:///{self.folder}/{name}"
        import psycopg

        with psycopg.connect(self.postgres.format("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name} TEMPLATE {model}".encode())
        return self.postgres.format(name)


@pytest.fixture(scope="session", params=["sqlite", "postgresql"])
def databases(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Databases:
    """SQLite, then PostgreSQL."""
    server = request.getfixturevalue("postgres") if request.param == "postgresql" else None
    return Databases(tmp_path_factory.mktemp("stores"), server)


@pytest.fixture
def new_store(databases: Databases) -> NewStore:
    """Makes new empty stores, of each kind in turn."""
    return databases.store
