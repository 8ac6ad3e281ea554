"""Files that only grow: one line to an entry, added at the end and never changed."""

from __future__ import annotations

import os
from pathlib import Path

from pleatwright.errors import InputError, Problem


def append_line(path: Path, line: str, *, option: str) -> None:
    """Add one line; raises InputError, naming the command's option for the file, where it cannot be written.

    The line goes to the end in one write, so that two writers never mix their lines, and reaches the disk
    before this returns.  After a line that a crash tore off it begins on a new one.
    """
    content = f"{line}\n".encode()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
        try:
            if _torn(handle):
                content = b"\n" + content
            if os.write(handle, content) != len(content):
                raise OSError("no room for a whole line")
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fix = f"name another file with {option}"
        raise InputError(Problem(option, f'"{path}"', f"cannot be written ({reason})", fix)) from None


def _torn(handle: int) -> bool:
    """Whether the last line has no end."""
    if not os.fstat(handle).st_size:
        return False
    os.lseek(handle, -1, os.SEEK_END)
    return os.read(handle, 1) != b"\n"
