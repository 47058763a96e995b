"""Disks that are full or may only be read, on any machine and without mounting one."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

__all__ = ["full_after", "nobody", "open_folder", "readable_only"]

NOBODY = 65534


@contextmanager
def full_after(pages: int) -> Iterator[None]:
    """Let no SQLite store that is opened meanwhile grow beyond so many pages.

    SQLite then answers with SQLITE_FULL, the same as it does for ENOSPC: https://www.sqlite.org/rescode.html#full
    """

    def limit(connection: Any, _record: object) -> None:
        connection.execute(f"PRAGMA max_page_count = {pages}")

    sa.event.listen(sa.Engine, "connect", limit)
    try:
        yield
    finally:
        sa.event.remove(sa.Engine, "connect", limit)


@contextmanager
def readable_only(folder: Path) -> Iterator[None]:
    """Let nobody write in `folder` or to its files; a superuser, whom modes do not bind, becomes nobody meanwhile.

    What is there is nobody's then, so that whatever its owner alone may read can be read.
    """
    modes = {place: place.stat().st_mode for place in (folder, *folder.iterdir())}
    is_superuser = os.geteuid() == 0
    for place, mode in modes.items():
        place.chmod(mode & ~0o222)
        if is_superuser:
            os.chown(place, NOBODY, -1)
    if is_superuser:
        os.setresuid(NOBODY, NOBODY, 0)
    try:
        yield
    finally:
        if is_superuser:
            os.setresuid(0, 0, 0)
        for place, mode in modes.items():
            if is_superuser:
                os.chown(place, 0, -1)
            place.chmod(mode)


@contextmanager
def nobody() -> Iterator[None]:
    """Be another user than the one who made what is there; only a superuser can."""
    if os.geteuid():
        pytest.skip("only a superuser can be somebody else")
    os.setresuid(NOBODY, NOBODY, 0)
    try:
        yield
    finally:
        os.setresuid(0, 0, 0)


@contextmanager
def open_folder() -> Iterator[Path]:
    """Yield a new folder that every user of the machine may read."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)
