"""What others may read is closed to them, as POSIX mode bits say it (POSIX.1-2017, sys/stat.h)."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from evenhand.store.database import open_store
from evenhand.store.owner_only import close_to_others
from evenhand.store.replacing import replace_file


def mode(path: Path) -> int:
    return stat.S_IMODE(path.lstat().st_mode)


@pytest.fixture(autouse=True)
def _open_mask() -> Iterator[None]:
    before = os.umask(0)
    yield
    os.umask(before)


def test_others_are_shut_out_of_what_they_could_read_and_of_nothing_else(tmp_path: Path) -> None:
    wide, shut, link = tmp_path / "wide", tmp_path / "shut", tmp_path / "link"
    wide.write_text("P1")
    shut.touch(0o600)
    link.symlink_to(wide)
    assert close_to_others([wide, shut, link, tmp_path / "missing"]) == ([wide], [])
    assert (mode(wide), mode(shut)) == (0o600, 0o600)


def test_what_cannot_be_closed_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wide = tmp_path / "wide"
    wide.touch(0o644)

    def not_the_owner(path: Path, mode: int) -> None:
        raise PermissionError(1, "Operation not permitted", str(path))

    monkeypatch.setattr(Path, "chmod", not_the_owner)
    assert close_to_others([wide]) == ([], [wide])


def test_the_store_and_what_is_written_beside_it_is_its_owners_from_the_beginning(tmp_path: Path) -> None:
    store = open_store(tmp_path / "store.sqlite")
    try:
        with store.writing():
            modes = {path.name: mode(path) for path in tmp_path.iterdir()}
    finally:
        store.close()
    assert modes == {f"store.sqlite{ending}": 0o600 for ending in ("", "-wal", "-shm")}


def test_a_file_that_is_replaced_is_its_owners(tmp_path: Path) -> None:
    (tmp_path / "evenhand.toml").touch(0o666)
    replace_file(tmp_path / "evenhand.toml", b"[workplace]")
    assert mode(tmp_path / "evenhand.toml") == 0o600
