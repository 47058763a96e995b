"""A folder that may not be read is refused, and not taken for an empty one (POSIX.1-2017, opendir: EACCES)."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from evenhand.store.listing import files_in
from evenhand.store.own_rules import read_own_rules
from evenhand.terms.records import Refusal
from tests.disks import nobody, open_folder


def test_files_are_listed_by_name_and_a_folder_that_is_not_there_has_none(tmp_path: Path) -> None:
    for name in ("b.toml", "a.toml", "c.txt"):
        (tmp_path / name).touch()
    assert [path.name for path in files_in(tmp_path, ".toml")] == ["a.toml", "b.toml"]
    assert files_in(tmp_path / "missing", ".toml") == []


@pytest.mark.skipif(os.geteuid() != 0, reason="only a superuser can be somebody else")
def test_what_may_not_be_read_is_refused() -> None:
    with open_folder() as folder:
        (folder / "rules").mkdir(mode=0o700)
        (folder / "rules/own").mkdir()
        with nobody():
            for read in (lambda: files_in(folder / "rules", ".toml"), lambda: read_own_rules(folder / "rules")):
                with pytest.raises(Refusal, match=r"rules.*cannot be read or written"):
                    read()
