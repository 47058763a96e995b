"""A store that is damaged, or holds less than its takes brought, is told before anything is read of it."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from evenhand.jobs.workspace import Workspace, open_workspace
from evenhand.store.database import open_store
from evenhand.store.soundness import check_database, check_takes
from evenhand.terms.records import Refusal
from tests.jobs.workplaces import made

LEFT_OPEN = """
import os, signal, sys
from evenhand.store import open_store
store = open_store(sys.argv[1])
with store.writing() as conn:
    conn.exec_driver_sql("INSERT INTO settled (finding, author, reason, made_at) VALUES ('a/b', 'Ada', 'seen', 5)")
print("written", flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def mill(tmp_path: Path) -> Workspace:
    return made(tmp_path)


def _overwrite(file: Path) -> None:
    """Write 3,000 bytes of something else into a page of the punches' rows."""
    with sqlite3.connect(file) as conn:
        [(page,)] = conn.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'punches' AND type = 'table'"
        ).fetchall()
        [(size,)] = conn.execute("PRAGMA page_size").fetchall()
    content = bytearray(file.read_bytes())
    at = (page - 1) * size + 20
    content[at : at + 3000] = b"\x7f" * 3000
    file.write_bytes(content)


def test_a_sound_store_is_passed(mill: Workspace) -> None:
    with mill.store.reading() as conn:
        check_database(conn, mill.store.where)
        check_takes(conn, mill.store.where)


def test_a_store_of_which_bytes_were_overwritten_is_damaged(mill: Workspace) -> None:
    mill.close()
    _overwrite(mill.directory / "evenhand.sqlite")
    with pytest.raises(Refusal, match=r"evenhand\.sqlite is damaged.*put back a backup of it"):
        store = open_store(mill.directory / "evenhand.sqlite")
        with store.reading() as conn:
            check_database(conn, store.where)


def test_punches_that_are_fewer_than_their_take_brought_are_told(mill: Workspace) -> None:
    with mill.store.writing() as conn:
        conn.exec_driver_sql("DROP TRIGGER punches_delete")
        conn.exec_driver_sql("DELETE FROM punches WHERE number = '2290' AND direction = 'out'")
    with mill.store.reading() as conn, pytest.raises(Refusal) as told:
        check_takes(conn, "mill.sqlite")
    assert str(told.value) == (
        "mill.sqlite holds 26 punches of take 4, punches.csv, in rows and 27 in columns, and the take brought 27; "
        "`evenhand rebuild` makes them anew from the files taken, or put back a backup."
    )


def test_punches_of_no_take_are_told(mill: Workspace) -> None:
    with mill.store.writing() as conn:
        conn.exec_driver_sql("INSERT INTO punches VALUES ('GATE', 5, '0042', '', '', 0, NULL, 2, 99)")
    with mill.store.reading() as conn, pytest.raises(Refusal, match="punches of takes that it does not name"):
        check_takes(conn, "mill.sqlite")


def test_a_store_that_a_stopped_program_left_open_is_looked_through_first(
    mill: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = mill.directory / "evenhand.sqlite"
    looked: list[str] = []
    monkeypatch.setattr("evenhand.store.database.check_database", lambda conn, where: looked.append(where))
    open_workspace(mill.directory).close()
    assert looked == []  # another has it open
    mill.close()
    open_workspace(mill.directory).close()
    assert looked == []  # it was closed
    with subprocess.Popen([sys.executable, "-c", LEFT_OPEN, str(file)], stdout=subprocess.PIPE) as program:
        assert program.communicate()[0] == b"written\n"
    opened = open_workspace(mill.directory)
    assert looked == [str(file)]
    open_workspace(mill.directory).close()
    assert looked == [str(file)]
    opened.close()
    with sqlite3.connect(file) as kept:
        assert kept.execute("SELECT finding FROM settled").fetchall() == [("a/b",)]


def test_an_empty_file_in_place_of_a_store_is_refused(mill: Workspace) -> None:
    mill.close()
    (mill.directory / "evenhand.sqlite").write_bytes(b"")
    with pytest.raises(Refusal, match=r"evenhand\.sqlite is empty, where a store was; put back a backup of it"):
        open_workspace(mill.directory)
    assert (mill.directory / "evenhand.sqlite").read_bytes() == b""


def test_a_store_without_takes_beside_their_files_is_refused(mill: Workspace) -> None:
    mill.close()
    for name in ("evenhand.sqlite", "evenhand.sqlite-wal", "evenhand.sqlite-shm"):
        (mill.directory / name).unlink(missing_ok=True)
    open_store(mill.directory / "evenhand.sqlite").close()
    with pytest.raises(Refusal, match=r"knows no take, and .*sources holds the files of 4 takes: it is not"):
        open_workspace(mill.directory)


def test_a_first_take_that_was_stopped_keeps_nobody_out(tmp_path: Path, mill: Workspace) -> None:
    mill.close()
    (mill.directory / "evenhand.sqlite").unlink()
    open_store(mill.directory / "evenhand.sqlite").close()
    for source in sorted((mill.directory / "sources").glob("*.gz"))[1:]:
        source.unlink()
    open_workspace(mill.directory).close()
