"""Files wait where only their owner may read them, under names that lead nowhere else, until they are let go."""

from __future__ import annotations

import io
import os
import stat
import threading
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.jobs import folder_state, waiting
from evenhand.jobs.folder_state import FileStanding, Folder
from evenhand.jobs.take import Answers, Seen
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.terms.records import Refusal, Unknown


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return create_workspace(tmp_path / "workspace", "Mill", "America/Chicago")


def drop(workspace: Workspace, name: str = "march.csv", content: bytes = b"reader,number\n") -> str:
    return waiting.receive(workspace, name, io.BytesIO(content)).key


def test_a_file_waits_whole_and_for_its_owner_alone(workspace: Workspace) -> None:
    content = os.urandom(3 << 20)
    key = drop(workspace, "march.csv", content)
    one, path = waiting.path_of(workspace, key)
    assert (one.file, one.size, path.read_bytes()) == ("march.csv", len(content), content)
    for place, mode in ((path, 0o600), (path.parent, 0o700), (workspace.waiting, 0o700)):
        assert stat.S_IMODE(place.stat().st_mode) == mode
    assert [seen.key for seen in waiting.list_waiting(workspace)] == [key]


def test_what_is_only_looked_at_keeps_its_files(workspace: Workspace) -> None:
    key = drop(workspace)
    for deed in (lambda: drop(workspace.looking()), lambda: waiting.give_up(workspace.looking(), key)):
        with pytest.raises(Refusal, match="--as-of only looks"):
            deed()
    assert [one.key for one in waiting.list_waiting(workspace)] == [key]


@pytest.mark.parametrize("is_taken", [True, False])
def test_what_is_let_go_leaves_nothing_behind(workspace: Workspace, is_taken: bool) -> None:
    key, other = drop(workspace), drop(workspace)
    waiting.finish(workspace, key, is_taken=is_taken)
    assert [path.name for path in workspace.waiting.iterdir()] == [other]
    with pytest.raises(Unknown, match="does not wait any longer"):
        waiting.path_of(workspace, key)


@pytest.mark.parametrize("key", ["", "..", "../layouts", "0" * 16, "a/b", "watched.json"])
def test_no_key_leads_out_of_the_folder(workspace: Workspace, key: str) -> None:
    drop(workspace)
    with pytest.raises(Unknown):
        waiting.path_of(workspace, key)


@given(st.text(max_size=300))
def test_every_name_becomes_one_that_is_only_a_name(name: str) -> None:
    kept = waiting.as_file_name(name)
    assert kept not in ("", ".", "..")
    assert Path(kept).name == kept
    assert not kept.startswith(".")
    assert len(kept.encode()) <= 200
    assert kept.isprintable() or " " in kept or any(ord(one) > 127 for one in kept)
    assert waiting.as_file_name(kept) == kept


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("../../etc/passwd", "passwd"),
        ("C:\\exports\\März.csv", "März.csv"),
        ("..", "file"),
        ("\x00\u202egnp.csv", "__gnp.csv"),
        (".part", "part"),
        ("x" * 400 + ".csv", "x" * 146 + ".csv"),
    ],
)
def test_names_that_would_lead_elsewhere(name: str, kept: str) -> None:
    assert waiting.as_file_name(name) == kept


def test_an_empty_file_and_one_too_large_are_refused_and_not_kept(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(waiting, "LARGEST", 1 << 20)
    with pytest.raises(Refusal, match="empty"):
        drop(workspace, content=b"")
    with pytest.raises(Refusal, match="larger than 1 MiB; put it into a watched folder"):
        drop(workspace, content=bytes((1 << 20) + 1))
    assert list(workspace.waiting.iterdir()) == []
    drop(workspace, content=bytes(1 << 20))


def test_a_transfer_that_breaks_off_leaves_nothing(workspace: Workspace) -> None:
    class Broken(io.BytesIO):
        def read(self, size: int | None = -1) -> bytes:
            raise ValueError

    with pytest.raises(ValueError):
        waiting.receive(workspace, "march.csv", Broken())
    assert list(workspace.waiting.iterdir()) == []


def test_what_nobody_looked_at_for_a_week_is_swept_when_the_next_comes(workspace: Workspace) -> None:
    old, young = drop(workspace), drop(workspace)
    for key, days in ((old, 7.01), (young, 6.9)):
        at = time.time() - days * 86_400
        os.utime(workspace.waiting / key, (at, at))
    third = drop(workspace)
    assert {path.name for path in workspace.waiting.iterdir()} == {young, third}


def watch(workspace: Workspace, folder: Path, name: str, why: str, *, is_moved: bool = True) -> None:
    found = os.lstat(folder / name)
    with folder_state.noting(workspace) as held:
        standing = FileStanding(found.st_size, found.st_mtime_ns, 1_773_061_200, why)
        held[0] = Folder(str(folder), is_moved, files={**held[0].files, name: standing})


def test_a_file_of_the_watched_folder_waits_while_it_is_what_it_was(workspace: Workspace, tmp_path: Path) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    (folder / "march.csv").write_text("a,b\n")
    watch(workspace, folder, "march.csv", "No kept layout fits it.")
    (one,) = folder_state.look(workspace).waiting
    assert (one.file, one.why, one.is_watched) == ("march.csv", "No kept layout fits it.", True)
    assert waiting.path_of(workspace, one.key)[1] == folder / "march.csv"
    with pytest.raises(Refusal, match="take it away there"):
        waiting.finish(workspace, one.key, is_taken=False)
    (folder / "march.csv").write_text("a,b\n1,2\n")
    assert folder_state.look(workspace).waiting == ()


def test_a_file_with_a_name_that_is_no_text_is_shown_and_found(workspace: Workspace, tmp_path: Path) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    name = os.fsdecode(b"m\xe4rz\n.csv")
    (folder / name).write_text("a,b\n")
    watch(workspace, folder, name, "No kept layout fits it.")
    (one,) = folder_state.look(workspace).waiting
    assert one.file == "m\\udce4rz\\n.csv"
    assert waiting.path_of(workspace, one.key)[1].read_text() == "a,b\n"


def test_what_is_taken_is_moved_beside_and_never_over_another(workspace: Workspace, tmp_path: Path) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    for content in ("first", "second", "third"):
        (folder / "march.csv").write_text(content)
        watch(workspace, folder, "march.csv", "why")
        (one,) = folder_state.look(workspace).waiting
        waiting.finish(workspace, one.key, is_taken=True)
        assert folder_state.look(workspace).waiting == ()
    assert {path.name: path.read_text() for path in (folder / "taken").iterdir()} == {
        "march.csv": "first",
        "march (2).csv": "second",
        "march (3).csv": "third",
    }


def test_what_is_taken_is_left_where_the_settings_say_so(workspace: Workspace, tmp_path: Path) -> None:
    folder = tmp_path / "exports"
    folder.mkdir()
    (folder / "march.csv").write_text("a")
    watch(workspace, folder, "march.csv", "why", is_moved=False)
    (one,) = folder_state.look(workspace).waiting
    waiting.finish(workspace, one.key, is_taken=True)
    assert folder_state.look(workspace).waiting == ()
    assert [path.name for path in folder.iterdir()] == ["march.csv"]


@pytest.mark.parametrize("kept", [b"", b"{", b"[]", b'{"files": 3}', b'{"files": {"a": {"size": 1}}}', b"\xff"])
def test_what_was_kept_and_cannot_be_read_is_forgotten(workspace: Workspace, kept: bytes) -> None:
    workspace.waiting.mkdir()
    (workspace.waiting / "watched.json").write_bytes(kept)
    assert folder_state.read(workspace) == Folder()
    assert folder_state.look(workspace).waiting == ()


def test_a_file_that_is_being_taken_is_not_given_up_meanwhile(workspace: Workspace) -> None:
    key = drop(workspace, "readers.csv", b"reader,site,zone\nGATE,Mill,UTC\n")
    told: list[str] = []

    def give_up() -> None:
        try:
            waiting.give_up(workspace, key)
        except Unknown as unknown:
            told.append(str(unknown))

    second = threading.Thread(target=give_up)

    def is_as_seen(seen: Seen) -> bool:
        second.start()  # somebody gives it up while it is taken
        second.join(0.3)
        return True

    receipt = waiting.take_waiting(workspace, key, Answers(), is_as_seen)
    second.join()
    assert receipt.taken == 1
    assert len(told) == 1
    assert "does not wait any longer" in told[0]
