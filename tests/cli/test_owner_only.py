"""Whatever commands write is for its owner alone, however open the account's own mask is (POSIX.1-2017, umask)."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.cli.test_doors import run
from tests.web.conftest import MILL

TORN = """reader,number,time,direction
MILL-1,4101,2026-03-05 07:00:00,in
MILL-1,4102,never,in
MILL-1,4101,2026-03-05 15:00:00,out
"""
AS_OF = ("--as-of", "2026-03-09T13:00Z")
DEEDS = (
    ("take", "--yes", *(f"../{name}" for name in MILL)),
    ("take", "--yes", "--table", "punches", "../torn.csv"),
    ("consent", "policy", "add", "../hands.toml", "--from", "2026-03-09", "--author", "Ada", "--yes", *AS_OF),
    ("consent", "say", "agree", "P4", "--on", "2026-03-09", "--author", "Ada", "--yes", *AS_OF),
    ("enrol", "plan", "2026-03-10", "--unattended", "--author", "Ada", *AS_OF),
    ("enrol", "print", "2026-03-10-1"),
    ("hands", "--as-of", "2026-03-09T13:00Z", "export", "out/hands"),
    ("statement", "P1", "--out", "out/P1.pdf", "--as-of", "2026-03-09T13:00Z"),
    ("handoff", "--despite-findings", "--author", "Ada", "--as-of", "2026-03-09T13:00Z"),
)


@pytest.fixture
def open_mask() -> Iterator[None]:
    before = os.umask(0)
    yield
    os.umask(before)


@pytest.mark.usefixtures("open_mask")
def test_every_file_that_a_command_writes_is_its_owners(tmp_path: Path) -> None:
    for name, text in {**MILL, "torn.csv": TORN}.items():
        (tmp_path / name).write_text(text)
    home = tmp_path / "w"
    assert run("new", "w", "--zone", "America/New_York", cwd=tmp_path).returncode == 0
    settings = home / "evenhand.toml"
    settings.write_text(settings.read_text().replace("[workplace]\n", "[workplace]\ninvented = true\n"))
    (tmp_path / "hands.toml").write_text(run("consent", "policy", "example", cwd=tmp_path).stdout)
    for deed in DEEDS:
        answer = run("-w", ".", *deed, cwd=home)
        assert answer.returncode in (0, 3), (deed, answer.stderr)
    found = {path.relative_to(home): stat.S_IMODE(path.stat().st_mode) for path in (home, *home.rglob("*"))}
    for folder in ("sources", "rejected", "handoff", "layouts", "rounds/2026-03-10-1", "out/hands"):
        assert any(path.parent == Path(folder) for path in found), f"nothing was written to {folder}"
    assert Path("out/P1.pdf") in found
    assert {str(path): oct(mode) for path, mode in found.items() if mode & 0o077} == {}
