"""Writing a packet's folder: whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from pleatwright.errors import InputError, Problem

OURS = "pleatwright-files.txt"
"""The list, inside the folder, of the files that are ours to replace."""


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put exactly these files into `folder`, or leave all as it was.

    The files are written to a new folder beside it, which then takes its place in two renames.  Of a folder
    that is already there only what an earlier run wrote is replaced; another file in it is an InputError.
    """
    folder = folder.absolute()
    _refuse_strangers(folder)
    folder.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
    try:
        fresh.chmod(0o777 & ~_umask())
        listed = "".join(f"{name}\n" for name in sorted([*files, OURS]))
        for name, content in {**files, OURS: listed.encode()}.items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("wb") as out:
                out.write(content)
                out.flush()
                os.fsync(out.fileno())
        if folder.exists():
            old = Path(tempfile.mkdtemp(prefix=f".{folder.name}.old.", dir=folder.parent))
            folder.rename(old / folder.name)
            fresh.rename(folder)
            shutil.rmtree(old)
        else:
            fresh.rename(folder)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def write_file(path: Path, content: bytes) -> None:
    """Write one file whole or not at all: a temporary file beside it, then a rename."""
    path = path.absolute()
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        fresh = Path(name)
        fresh.chmod(0o666 & ~_umask())
        fresh.replace(path)
    finally:
        Path(name).unlink(missing_ok=True)


def _refuse_strangers(folder: Path) -> None:
    if not folder.exists():
        return
    field = f"--out {folder}"
    if not folder.is_dir():
        raise InputError(Problem(field, "is a file", "must be a folder", "name another folder with --out"))
    listed = folder / OURS
    ours = set(listed.read_text(encoding="utf-8").split("\n")) if listed.is_file() else set()
    found = [path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()]
    strangers = [name for name in found if name not in ours]
    if strangers:
        seen = f"holds {strangers[0]}" + (f" and {len(strangers) - 1} more" if len(strangers) > 1 else "")
        raise InputError(
            Problem(field, seen, "may hold only an earlier packet", "name a new folder with --out")
        )


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
