"""Opening a store: where it lies, its migrations, and what is refused."""

from __future__ import annotations

import sqlite3
import stat
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Engine, QueuePool, create_engine, inspect, text

from pleatwright.errors import InputError
from pleatwright.shop.store import VARIABLE, Client, Unavailable, default_file, open_store
from pleatwright.shop.store.opening import HEAD, MIGRATIONS, migrate
from pleatwright.shop.store.tables import metadata

if TYPE_CHECKING:
    from tests.conftest import Databases


def engine_of(address: str) -> Engine:
    return create_engine(address.replace("postgresql:", "postgresql+psycopg:"))


def test_the_migrations_make_the_tables_the_store_works_with(databases: Databases):
    with open_store(databases.empty()) as store, store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []
        if connection.dialect.name == "sqlite":  # what a comparison of types does not look at
            query = "SELECT count(*) FROM sqlite_master WHERE sql LIKE '%AUTOINCREMENT%'"
            assert connection.exec_driver_sql(query).scalar() == len(metadata.tables)


def test_the_newest_migration_is_the_one_the_store_is_opened_with():
    revisions = {path.name[1:5] for path in (MIGRATIONS / "versions").glob("v*.py")}
    assert max(revisions) == HEAD


def test_a_store_opened_again_is_as_it_was(databases: Databases):
    address = databases.empty()
    for number in (1, 2):
        with open_store(address) as store:
            assert store.add(Client(f"Client {number}")).id == number


def test_a_migration_that_fails_leaves_nothing_behind(databases: Databases, monkeypatch: pytest.MonkeyPatch):
    address = databases.empty()
    from alembic import op

    create_table = op.create_table

    def fails_at_the_last(name: str, *columns: object, **options: object) -> object:
        if name == "sewing":
            raise OSError("no room")
        return create_table(name, *columns, **options)  # type: ignore[arg-type]  # passed on as they came

    with monkeypatch.context() as patched:
        patched.setattr(op, "create_table", fails_at_the_last)
        with pytest.raises(InputError, match=r"cannot be opened \(no room\)"):
            open_store(address)
    engine = engine_of(address)
    assert inspect(engine).get_table_names() == []
    engine.dispose()
    with open_store(address) as store:
        assert store.clients() == ()


def test_a_store_of_a_newer_program_is_left_alone(databases: Databases):
    address = databases.empty()
    with open_store(address) as store, store.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(InputError, match="its version is newer than this program; install the newest"):
        open_store(address)


def test_a_database_of_another_program_is_left_alone(databases: Databases):
    address = databases.empty()
    engine = engine_of(address)
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE theirs (id INTEGER)"))
    with pytest.raises(InputError, match="belongs to another program"):
        open_store(address)
    assert inspect(engine).get_table_names() == ["theirs"]
    engine.dispose()


def test_an_unknown_migration_is_refused_before_anything_is_done(databases: Databases):
    with open_store(databases.empty()) as store, store.writing() as connection, pytest.raises(InputError):
        migrate(connection, "7777")


# The file of SQLite


def test_the_store_lies_in_the_users_data_folder_for_nobody_else_to_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("sys.platform", "linux")
    assert default_file() == tmp_path / "data/pleatwright/store.sqlite"
    with open_store() as store:
        store.add(Client("Rowan Millbeck"))
        files = list((tmp_path / "data/pleatwright").iterdir())
        assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o600}
        assert stat.S_IMODE((tmp_path / "data/pleatwright").stat().st_mode) == 0o700
    assert [file.name for file in default_file().parent.iterdir()] == ["store.sqlite"]


def test_each_system_has_its_own_data_folder(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    monkeypatch.setenv("APPDATA", "/roaming")
    found = {}
    for system in ("linux", "darwin", "win32"):
        monkeypatch.setattr("sys.platform", system)
        found[system] = default_file()
    home = Path.home()
    assert found == {
        "linux": home / ".local/share/pleatwright/store.sqlite",
        "darwin": home / "Library/Application Support/pleatwright/store.sqlite",
        "win32": Path("/roaming/pleatwright/store.sqlite"),
    }


def test_the_variable_names_the_store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv(VARIABLE, f"sqlite:///{tmp_path}/100%/bench.sqlite")
    open_store().close()
    assert (tmp_path / "100%/bench.sqlite").exists()


def test_a_store_is_written_ahead_and_holds_its_references(tmp_path: Path):
    with open_store(f"sqlite:///{tmp_path}/store.sqlite") as store, store.reading() as connection:
        settings = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "foreign_keys", "synchronous", "secure_delete")
        }
    assert settings == {"journal_mode": "wal", "foreign_keys": 1, "synchronous": 2, "secure_delete": 1}


@pytest.mark.parametrize(
    "address",
    [
        "mysql://host/name",
        "sqlite://",
        "sqlite:///:memory:",
        "not an address",
        "postgresql+psycopg2://host/name",
    ],
)
def test_an_address_that_is_none_is_refused(address: str):
    with pytest.raises(InputError, match=r"write sqlite:///path/to/store\.sqlite"):
        open_store(address)


def test_a_file_that_is_no_store_is_left_alone(tmp_path: Path):
    path = tmp_path / "order.toml"
    path.write_text("# an order\n" * 999)
    with pytest.raises(InputError, match="file is not a database"):
        open_store(f"sqlite:///{path}")
    assert path.read_text() == "# an order\n" * 999


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path):
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match=r"the store: sqlite:///.*/file/store.sqlite cannot be made"):
        open_store(f"sqlite:///{tmp_path}/file/store.sqlite")


def test_a_server_that_is_away_is_named_without_its_password():
    with pytest.raises(InputError, match=r"host=%2Fnowhere cannot be opened") as refused:
        open_store("postgresql://maker:thimble@/shop?host=/nowhere")
    assert "thimble" not in str(refused.value)


def test_a_store_that_is_busy_too_long_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("pleatwright.shop.store.opening._BUSY_SECONDS", 0.05)
    with open_store(f"sqlite:///{tmp_path}/store.sqlite") as store:
        other = sqlite3.connect(tmp_path / "store.sqlite")
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(Unavailable, match="the store cannot be used now: database is locked"):
            store.add(Client("Rowan Millbeck"))
        other.rollback()
        other.close()
        assert store.add(Client("Rowan Millbeck")).id == 1


def damaged(path: Path, first: int, last: int | None = None) -> str:
    """A store with some of its pages, counted from 1, spoilt; returns its address."""
    with open_store(f"sqlite:///{path}") as store:
        store.add(Client("Rowan Millbeck"))
    content = bytearray(path.read_bytes())
    begin, end = (first - 1) * 4096, len(content) if last is None else last * 4096
    content[begin:end] = b"\xff" * (end - begin)
    path.write_bytes(content)
    return f"sqlite:///{path}"


def test_a_damaged_store_says_so_and_not_what_was_in_it(tmp_path: Path):
    address = damaged(tmp_path / "store.sqlite", first=2)
    with pytest.raises(InputError, match=r"malformed.*; restore the last backup into a new") as refused:
        open_store(address)
    assert "Millbeck" not in str(refused.value)


def test_a_store_with_one_damaged_table_says_so_when_it_is_looked_into(tmp_path: Path):
    path = tmp_path / "store.sqlite"
    with open_store(f"sqlite:///{path}") as store, store.reading() as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'clients'"
        page = connection.exec_driver_sql(query).scalar_one()
    with open_store(damaged(path, page, page)) as store:
        assert store.tartans() == ()
        with pytest.raises(Unavailable, match="malformed") as refused:
            store.clients()
        assert "Millbeck" not in str(refused.value)


def test_a_store_is_opened_while_another_bench_writes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("pleatwright.shop.store.opening._BUSY_SECONDS", 0.05)
    address = f"sqlite:///{tmp_path}/store.sqlite"
    with open_store(address) as store, store.writing(), open_store(address) as other:
        assert other.clients() == ()


def test_more_at_once_than_there_are_connections_wait_and_are_told(databases: Databases):
    with open_store(databases.store()) as store, ExitStack() as held:
        pool = store.engine.pool
        assert isinstance(pool, QueuePool)
        pool._timeout = 0.05  # else half a minute
        for _ in range(15):
            held.enter_context(store.reading())
        with pytest.raises(Unavailable, match="too many want it at once"):
            store.clients()
