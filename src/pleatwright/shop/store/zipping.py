"""Files inside a zip."""

from __future__ import annotations

import zipfile

_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The day a zip counts from: the same store gives the same bytes."""


def entry(name: str) -> zipfile.ZipInfo:
    """A file of that name, to be pressed; only its owner may read it."""
    made = zipfile.ZipInfo(name, _EPOCH)
    made.compress_type = zipfile.ZIP_DEFLATED
    made.external_attr = 0o600 << 16
    return made
