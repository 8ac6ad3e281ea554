"""Files that hold people's measurements: only their owner may read them, and they are whole or not there."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from pleatwright.errors import InputError, Problem


@contextmanager
def private_file(path: Path, what: str) -> Iterator[BinaryIO]:
    """A new file to write into; it takes its name at the end, once it is on the disk.

    Raises InputError, with `what` for its field, where a file is there already or it cannot be written.
    """
    path = path.absolute()
    if path.exists():
        raise InputError(Problem(what, f'"{path}"', "is there already", "name a new file"))
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)  # with mode 0600
        try:
            with os.fdopen(handle, "wb") as out:
                yield out
                out.flush()
                os.fsync(out.fileno())
            Path(name).replace(path)
            _settle(path.parent)
        finally:
            Path(name).unlink(missing_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        allowed = f"cannot be written ({reason})"
        raise InputError(Problem(what, f'"{path}"', allowed, "name another file")) from None


def _settle(folder: Path) -> None:
    """See that a folder's names are on the disk, where the system lets a folder be opened."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
