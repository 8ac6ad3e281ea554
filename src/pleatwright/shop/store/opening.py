"""Opening the store: SQLite in the user's data folder, or what PLEATWRIGHT_DATABASE_URL names."""

from __future__ import annotations

import os
import re
import sqlite3
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic, sleep
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DatabaseError

from pleatwright.errors import InputError, Problem
from pleatwright.shop.store.store import Store

VARIABLE = "PLEATWRIGHT_DATABASE_URL"
HEAD = "0003"
"""The newest migration; a test holds it against the folder of migrations."""
SAME_VALUES_SINCE = "0002"
"""The oldest migration after which the values look as they do now: a backup made since can be restored."""
GIVEN = "--store"
"""Names an address that was given, in messages."""
_NO_STORE = ("is not there", "name the store that is kept; a new one is made by: pleatwright serve")
_PATH = re.compile(r"[^@:\s]*[/.][^@:]*")
"""A file's path: it holds no password, and may be shown."""
_BUSY_SECONDS = 10.0
_CACHE_KB = 32_000
"""How much of its file SQLite keeps at hand for a connection; some thousand orders are 10 MB [our choice]."""
_LOCK = 0x706C_6561
"""Names the lock under which PostgreSQL is migrated [our choice]."""
_DRIVERS = {
    "postgresql": "postgresql+psycopg",
    "postgres": "postgresql+psycopg",
    "postgresql+psycopg": "postgresql+psycopg",
    "sqlite": "sqlite",
}


def open_store(
    url: str | None = None,
    *,
    new: bool = True,
    now: Callable[[], datetime] = lambda: datetime.now(UTC),
) -> Store:
    """Open the store, made or brought up to date where that is needed; several may be open at once.

    `url`: "sqlite:///file" or "postgresql://user@host/name"; left out, the one that PLEATWRIGHT_DATABASE_URL
    names, and without one the file in the user's data folder.  `new`: make it where there is none.  `now`
    tells the time of entries.  Raises InputError where it cannot be opened, or belongs to a newer
    Pleatwright or to another program.
    """
    chosen = _chosen(url)
    if not new and file_to_make(url) is not None:
        raise _refused(chosen, *_NO_STORE)
    try:
        engine = _sqlite(chosen) if chosen.get_backend_name() == "sqlite" else _postgres(chosen)
    except ModuleNotFoundError:
        fix = 'pip install "pleatwright[postgres]"'
        raise _refused(chosen, "cannot be opened, its driver is not installed", fix) from None
    try:
        with engine.connect() as connection:
            revision = _revision(connection)
            old = revision != HEAD
            if revision is None and not new:
                raise _refused(chosen, *_NO_STORE)
        if old:
            with engine.connect().execution_options(writing=True) as connection:
                _bring_up_to_date(connection, chosen)
    except (DatabaseError, OSError) as error:
        engine.dispose()
        reason = str(getattr(error, "orig", error)).strip().split("\n")[0]
        damaged = "malformed" in reason
        fix = "see that it is there, is a store, and may be written to"
        fix = "restore the last backup into a new store" if damaged else fix
        raise _refused(chosen, f"cannot be opened ({reason})", fix) from None
    except InputError:
        engine.dispose()
        raise
    return Store(engine, now)


def default_file() -> Path:
    """The store's file where no other is named: in the user's data folder."""
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA") or Path.home() / "AppData" / "Roaming")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return base / "pleatwright" / "store.sqlite"


def file_to_make(url: str | None) -> Path | None:
    """The file that opening this store would make; None where it is there, or is no file of ours."""
    chosen = _chosen(url)
    if chosen.get_backend_name() != "sqlite" or not chosen.database:
        return None
    path = Path(chosen.database).absolute()
    return None if path.exists() else path


def _chosen(url: str | None) -> URL:
    return _url(url, GIVEN) if url else _url(os.environ.get(VARIABLE) or "", VARIABLE)


def _url(written: str, field: str) -> URL:
    """The address as it was written in this field; raises InputError."""
    if not written:
        return URL.create("sqlite", database=str(default_file()))
    try:
        url = make_url(written)
    except ArgumentError:
        url = None
    if url is None or url.drivername not in _DRIVERS:
        fix = "write sqlite:///path/to/store.sqlite or postgresql://user@host/name"
        seen = "its value" if url is None else f'"{url.drivername}"'
        if url is None and _PATH.fullmatch(written):
            seen, fix = f'"{written}"', f"write sqlite:///{written}, or postgresql://user@host/name"
        raise InputError(Problem(field, seen, "names no database that can be used", fix))
    return url.set(drivername=_DRIVERS[url.drivername])


def _refused(url: URL, allowed: str, fix: str) -> InputError:
    return InputError(Problem("the store", url.render_as_string(hide_password=True), allowed, fix))


def _sqlite(url: URL) -> Engine:
    if not url.database or url.database == ":memory:":
        raise _refused(url, "names no file", "write sqlite:///path/to/store.sqlite")
    path = Path(url.database).absolute()
    try:
        if not path.parent.is_dir():
            path.parent.mkdir(parents=True, mode=0o700)
        if not path.exists():
            os.close(os.open(path, os.O_CREAT | os.O_WRONLY, 0o600))  # it holds people's measurements
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise _refused(url, f"cannot be made ({reason})", "name another file") from None
    engine = create_engine(
        url.set(database=str(path)), connect_args={"timeout": _BUSY_SECONDS}, hide_parameters=True
    )

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # transactions begin below, and where they are said to
        cursor = connection.cursor()
        _write_ahead(cursor)
        cursor.execute("PRAGMA synchronous = FULL")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.execute(f"PRAGMA cache_size = -{_CACHE_KB}")
        cursor.execute("PRAGMA secure_delete = ON")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        options = connection.get_execution_options()
        if not options.get("outside"):  # of any transaction
            connection.exec_driver_sql("BEGIN IMMEDIATE" if options.get("writing") else "BEGIN")

    return engine


def _write_ahead(cursor: sqlite3.Cursor) -> None:
    """Write ahead; while others make the same new store SQLite refuses at once, without waiting by itself."""
    until = monotonic() + _BUSY_SECONDS
    while True:
        try:
            cursor.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY or monotonic() > until:
                raise
            sleep(0.01)
        else:
            return


def _postgres(url: URL) -> Engine:
    if "connect_timeout" not in url.query:
        url = url.update_query_dict({"connect_timeout": str(round(_BUSY_SECONDS))})
    return create_engine(url, pool_pre_ping=True, hide_parameters=True)


def _revision(connection: Connection) -> str | None:
    """The store's last migration; None while there is none."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _bring_up_to_date(connection: Connection, url: URL) -> None:
    """Run the migrations that are missing, all in one transaction with their record."""
    with connection.begin():
        if connection.dialect.name == "postgresql":
            connection.execute(text(f"SELECT pg_advisory_xact_lock({_LOCK})"))
        revision = _revision(connection)  # another bench may have been quicker
        if revision is None and inspect(connection).get_table_names():
            raise _refused(url, "belongs to another program", "name an empty database")
        migrate(connection, "head")


def migrate(connection: Connection, target: str) -> None:
    """Bring the store to a migration, inside the transaction that is open.

    Raises InputError where the store knows a migration that this program does not.
    """
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, target)
    except CommandError:
        fix = "install the newest Pleatwright"
        raise InputError(Problem("the store", "its version", "is newer than this program", fix)) from None


MIGRATIONS = Path(__file__).parent / "migrations"
"""The folder of migrations, one file each."""
