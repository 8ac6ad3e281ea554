"""Progress of long work, told to whoever asked for it."""

from __future__ import annotations

from collections.abc import Callable

Say = Callable[[str], None]
"""Told what is being made."""
