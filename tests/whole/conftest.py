"""What the tests of the app share: an empty store, and a maker who works in it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from pleatwright.shop.store import Store, open_store
from tests.whole.visitors import Maker


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty store."""
    with open_store(f"sqlite:///{tmp_path}/store.sqlite") as opened:
        yield opened


@pytest.fixture
def maker(store: Store) -> Maker:
    """A maker with that store."""
    return Maker(store)
