"""A store for each test, at each address there is."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from evenhand.store import Store, open_store


@pytest.fixture
def store(address: str | Path) -> Iterator[Store]:
    opened = open_store(address)
    yield opened
    opened.close()
