"""Writing a packet's folder: whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from pleatwright.errors import InputError, Problem

OURS = "pleatwright-files.txt"
"""The list, inside the folder, of the files that are ours to replace."""


def check_folder(folder: Path) -> None:
    """Refuse at once what `write_folder` would refuse only after the files have been made."""
    folder = folder.absolute()
    with _writing(folder, "--out", "folder"):
        _refuse_strangers(folder)
        there = next(parent for parent in folder.parents if parent.exists())
        tempfile.TemporaryFile(dir=there).close()


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put exactly these files into `folder`, or leave all as it was.

    The files are written to a new folder beside it, which then takes its place in two renames.  Of a folder
    that is already there only what an earlier run wrote is replaced; another file in it is an InputError, and
    so is a folder that cannot be written.  Where a link leads to a folder, that one is replaced.
    """
    folder = folder.absolute()
    with _writing(folder, "--out", "folder"):
        _refuse_strangers(folder)
        folder = folder.resolve()
        folder.parent.mkdir(parents=True, exist_ok=True)
        _put(folder, files)


def _put(folder: Path, files: Mapping[str, bytes]) -> None:
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


def write_file(path: Path, content: bytes, *, option: str = "--out") -> None:
    """Write one file whole or not at all: a temporary file beside it, then a rename.

    What a link leads to is written, and the link stays; a device or a pipe is written to as it is.
    Raises InputError, naming the command's option for the file, where it cannot be written.
    """
    path = path.absolute()
    with _writing(path, option, "file"):
        path = path.resolve()
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists() and not (path.is_file() or path.is_dir()):
            path.write_bytes(content)
        else:
            _replace(path, content)


def _replace(path: Path, content: bytes) -> None:
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


@contextmanager
def _writing(path: Path, option: str, what: str) -> Iterator[None]:
    """A folder or file that cannot be written is refused as any other input."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        if isinstance(error, FileExistsError | NotADirectoryError):
            reason = "a file stands where its folder should be"
        allowed, fix = f"cannot be written ({reason})", f"name another {what} with {option}"
        raise InputError(Problem(option, f'"{path}"', allowed, fix)) from None


def _refuse_strangers(folder: Path) -> None:
    if not folder.exists():
        return
    if not folder.is_dir():
        allowed = "is a file, and a packet needs a folder"
        raise InputError(Problem("--out", f'"{folder}"', allowed, "name another folder with --out"))
    listed = folder / OURS
    ours = set(listed.read_text(encoding="utf-8").split("\n")) if listed.is_file() else set()
    found = [path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()]
    strangers = [name for name in found if name not in ours]
    if strangers:
        others = len(strangers) - 1
        more = f" and {others} other file{'s' if others > 1 else ''}" if others else ""
        allowed = f"holds {strangers[0]}{more}, which no earlier packet put there"
        raise InputError(Problem("--out", f'"{folder}"', allowed, "name a new folder with --out"))


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
