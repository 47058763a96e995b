"""The small mill, one for each test that changes it and one for the tests of a module that only look."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from evenhand.jobs.workspace import Workspace
from tests.jobs.workplaces import made


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    opened = made(tmp_path)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    """For tests that only look."""
    opened = made(tmp_path_factory.mktemp("mill"))
    yield opened
    opened.close()
