"""The whole store as one file, and back: a zip of JSON lines, a file for each table.

The file is the same from both databases, so that a store can move from one to the other.
"""

from __future__ import annotations

import hashlib
import json
import lzma
import zipfile
import zlib
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, func, insert, select

import pleatwright
from pleatwright.errors import InputError, Problem
from pleatwright.shop.store.opening import HEAD, SAME_VALUES_SINCE, file_to_make, open_store
from pleatwright.shop.store.packing import pack, unpack
from pleatwright.shop.store.private import private_file
from pleatwright.shop.store.rows import from_row, keepable, to_row
from pleatwright.shop.store.store import Store
from pleatwright.shop.store.tables import TABLES
from pleatwright.shop.store.zipping import entry

FORMAT = "pleatwright backup"
FORMAT_VERSION = 1
_LIST = "backup.json"
_AT_ONCE = 100
_NO_BACKUP = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    LookupError,
    ValueError,
    TypeError,
    RuntimeError,
)
"""What reading a file that is none may raise."""


def write_backup(store: Store, path: Path) -> int:
    """Write everything the store holds at this moment to a new file, whole or not at all.

    Returns how many values that is.  The others go on working meanwhile.  Raises InputError where the file is
    there already or cannot be written.
    """
    with (
        private_file(path, "backup") as out,
        zipfile.ZipFile(out, "w") as packed,
        store.reading() as connection,
    ):
        return _write(connection, packed)


def _write(connection: Connection, packed: zipfile.ZipFile) -> int:
    listed, total = {}, 0
    for kind, table in TABLES.items():
        digest, count = hashlib.sha256(), 0
        with packed.open(entry(f"{table.name}.jsonl"), "w") as out:
            query = select(table).order_by(table.c.id).execution_options(yield_per=_AT_ONCE)
            for row in connection.execute(query):
                data = pack(from_row(kind, row._asdict()))
                line = json.dumps(data, ensure_ascii=False).encode() + b"\n"
                digest.update(line)
                out.write(line)
                count += 1
        listed[table.name] = {"values": count, "sha256": digest.hexdigest()}
        total += count
    about = {
        "format": FORMAT,
        "format_version": FORMAT_VERSION,
        "made_by": f"pleatwright {pleatwright.__version__}",
        "store": HEAD,
        "tables": listed,
    }
    packed.writestr(entry(_LIST), json.dumps(about, indent=1) + "\n")
    return total


def read_backup(store: Store, path: Path) -> int:
    """Bring back everything from a backup into an empty store, whole or not at all; returns how many values.

    Raises InputError where the store is not empty, or the file cannot be read, is damaged, is no backup, or
    was made by a Pleatwright whose store looks different.
    """
    try:
        with zipfile.ZipFile(path) as packed, store.writing() as connection:
            _refuse_damaged(packed, path)
            for table in TABLES.values():
                if connection.execute(select(table.c.id).limit(1)).first() is not None:
                    fix = "restore into a new store, with --store"
                    raise InputError(Problem("the store", f"its {table.name}", "must be empty", fix))
            return sum(_read_table(connection, packed, kind) for kind in TABLES)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        problem = Problem("backup", f'"{path}"', f"cannot be read ({reason})", "name a backup")
        raise InputError(problem) from None
    except _NO_BACKUP:
        raise _damaged(path) from None


def restore_backup(url: str | None, path: Path) -> int:
    """read_backup into the store of this address, as open_store reads it; raises InputError.

    A file that was made for it does not stay where nothing could be brought back into it.
    """
    made = file_to_make(url)
    try:
        with open_store(url) as store:
            return read_backup(store, path)
    except InputError:
        if made is not None:
            for end in ("", "-wal", "-shm"):
                made.with_name(made.name + end).unlink(missing_ok=True)
        raise


def _damaged(path: Path) -> InputError:
    return InputError(Problem("backup", f'"{path}"', "is no backup, or is damaged", "name another one"))


def _refuse_damaged(packed: zipfile.ZipFile, path: Path) -> None:
    about = json.loads(packed.read(_LIST))
    if about["format"] != FORMAT:
        raise _damaged(path)
    if about["format_version"] != FORMAT_VERSION or not SAME_VALUES_SINCE <= about["store"] <= HEAD:
        seen = f'"{path}", by {about["made_by"]}'
        fix = "restore it with that one into a new store, which this one then brings up to date"
        raise InputError(Problem("backup", seen, "was made by another Pleatwright", fix))
    if not all(_whole(packed, table.name, about["tables"]) for table in TABLES.values()):
        raise _damaged(path)


def _whole(packed: zipfile.ZipFile, name: str, listed: dict[str, Any]) -> bool:
    digest, count = hashlib.sha256(), 0
    with packed.open(f"{name}.jsonl") as kept:
        for line in kept:
            digest.update(line)
            count += 1
    return bool(listed[name] == {"values": count, "sha256": digest.hexdigest()})


def _read_table(connection: Connection, packed: zipfile.ZipFile, kind: type) -> int:
    table, count, rows = TABLES[kind], 0, list[dict[str, Any]]()
    with packed.open(f"{table.name}.jsonl") as kept:
        for line in kept:
            value = unpack(kind, json.loads(line))
            keepable(value)
            rows.append({"id": value.id, **to_row(value)})
            count += 1
            if len(rows) == _AT_ONCE:
                connection.execute(insert(table), rows)
                rows = []
    if rows:
        connection.execute(insert(table), rows)
    if connection.dialect.name == "postgresql" and count:
        last = select(func.max(table.c.id)).scalar_subquery()
        connection.execute(select(func.setval(func.pg_get_serial_sequence(table.name, "id"), last)))
    return count
