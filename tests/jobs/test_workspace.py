"""Making and opening a workspace."""

import os
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.store.taking import FileTaken, taking
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules
from evenhand.terms.sources import READERS
from evenhand.terms.workplace import site_zones
from tests.disks import full_after, nobody, open_folder, readable_only


def take_readers(workspace: Workspace, *rows: tuple[str, str, str]) -> None:
    frame = READERS.rows({"reader": name, "site": site, "zone": zone} for name, site, zone in rows)
    with taking(workspace.store, FileTaken("r.csv", "d", "", 0), READERS, frame, np.arange(len(rows))):
        pass


def now(workspace: Workspace) -> Snapshot:
    return take_snapshot(workspace, date(2026, 11, 1))


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    yield made
    made.close()


def test_a_workspace_holds_settings_store_and_folders(workspace: Workspace) -> None:
    names = {entry.name for entry in workspace.directory.iterdir() if "sqlite-" not in entry.name}
    assert names == {"evenhand.toml", "evenhand.sqlite", "layouts", "rejected", "handoff"}
    assert workspace.settings.workplace == "Harbour Mill"
    assert workspace.settings.period.anchor.strftime("%A") == "Sunday"


def test_a_workspace_may_be_made_in_an_empty_directory(tmp_path: Path) -> None:
    create_workspace(tmp_path).close()
    open_workspace(tmp_path).close()


def test_a_workspace_is_not_made_over_another(workspace: Workspace) -> None:
    with pytest.raises(Refusal, match="is a workspace already"):
        create_workspace(workspace.directory)


def test_a_workspace_is_not_made_among_other_files(tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("Dear Ada")
    with pytest.raises(Refusal, match="is not empty"):
        create_workspace(tmp_path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["letters.txt"]


def test_an_interrupted_making_can_be_completed(tmp_path: Path) -> None:
    create_workspace(tmp_path).close()
    (tmp_path / "evenhand.toml").unlink()
    create_workspace(tmp_path).close()


def test_a_workspace_is_not_made_in_place_of_a_file_or_beneath_one(tmp_path: Path) -> None:
    (tmp_path / "mill").write_text("")
    with pytest.raises(Refusal, match="is a file"):
        create_workspace(tmp_path / "mill")
    with pytest.raises(Refusal, match=r"cannot be read or written .Not a directory"):
        create_workspace(tmp_path / "mill" / "north")


def test_an_unknown_zone_is_refused_before_anything_is_made(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="Chicago time"):
        create_workspace(tmp_path / "mill", zone="Chicago time")
    assert not (tmp_path / "mill").exists()


def test_a_directory_without_settings_is_no_workspace(tmp_path: Path) -> None:
    for directory in (tmp_path, tmp_path / "nowhere"):
        with pytest.raises(Refusal, match="is no workspace"):
            open_workspace(directory)


def test_a_workspace_whose_store_is_missing_is_refused_and_none_is_made(workspace: Workspace) -> None:
    workspace.close()
    (workspace.directory / "evenhand.sqlite").unlink()
    with pytest.raises(Refusal, match="is missing"):
        open_workspace(workspace.directory)
    assert not (workspace.directory / "evenhand.sqlite").exists()


def test_a_workspace_whose_store_is_no_database_is_refused(workspace: Workspace) -> None:
    workspace.close()
    (workspace.directory / "evenhand.sqlite").write_bytes(b"not a database at all" * 50)
    with pytest.raises(Refusal, match=r"evenhand\.sqlite is not a database"):
        open_workspace(workspace.directory)


def test_a_locked_workspace_is_refused_after_the_wait(workspace: Workspace) -> None:
    holder = sqlite3.connect(workspace.directory / "evenhand.sqlite", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with pytest.raises(Refusal, match="locked"):
        open_workspace(workspace.directory, busy_s=0.1)
    holder.close()


def test_sites_nobody_described_get_the_zone_of_most_of_their_readers(workspace: Workspace) -> None:
    chicago, denver = "America/Chicago", "America/Denver"
    take_readers(
        workspace, ("A", "North", denver), ("B", "North", chicago), ("C", "North", chicago), ("D", "S", denver)
    )
    assert now(workspace).rules_of("North") == SiteRules("North", chicago)
    assert site_zones(workspace.settings, now(workspace).readers) == {"North": chicago, "S": denver}
    assert now(workspace).zone == chicago  # two and two: the first by name


def test_a_site_without_readers_gets_the_zone_that_all_readers_share(workspace: Workspace) -> None:
    take_readers(workspace, ("A", "North", "America/Denver"), ("B", "South", "America/Denver"))
    assert now(workspace).rules_of("Depot").zone == "America/Denver"
    assert now(workspace).rules_of(None).zone == "America/Denver"


def test_a_site_that_nothing_places_is_refused_rather_than_guessed(workspace: Workspace) -> None:
    take_readers(workspace, ("A", "North", "America/Denver"), ("B", "South", "America/Chicago"))
    with pytest.raises(Refusal, match=r'\[site\."Depot"\]'):
        now(workspace).rules_of("Depot")


def test_the_workplaces_zone_holds_where_no_reader_hangs(tmp_path: Path) -> None:
    made = create_workspace(tmp_path / "mill", zone="Europe/Lisbon")
    take_readers(made, ("A", "North", "America/Denver"))
    assert now(made).rules_of("Depot").zone == "Europe/Lisbon"
    assert now(made).rules_of("North").zone == "America/Denver"
    made.close()


def test_a_workspace_that_may_only_be_read_is_refused() -> None:
    with open_folder() as folder:
        create_workspace(folder / "mill").close()
        with readable_only(folder / "mill"), pytest.raises(Refusal, match="may only be read"):
            open_workspace(folder / "mill")


def test_a_workspace_is_not_made_on_a_full_disk(tmp_path: Path) -> None:
    with full_after(4), pytest.raises(Refusal, match="disk is full"):
        create_workspace(tmp_path / "mill")
    with pytest.raises(Refusal, match="is no workspace"):
        open_workspace(tmp_path / "mill")
    create_workspace(tmp_path / "mill").close()


def test_rows_rejected_by_a_version_before_stand_where_they_are_written_now(tmp_path: Path) -> None:
    create_workspace(tmp_path / "mill").close()
    (tmp_path / "mill" / "rejected").rename(tmp_path / "mill" / "refused")
    (tmp_path / "mill" / "refused" / "march.csv.csv").write_text("line")
    workspace = open_workspace(tmp_path / "mill")
    assert (workspace.rejected / "march.csv.csv").read_text() == "line"
    workspace.close()


def modes(workspace: Workspace) -> dict[str, int]:
    """The mode of the workspace and of what lies in it."""
    places = (workspace.directory, *workspace.directory.iterdir())
    return {place.name: stat.S_IMODE(place.stat().st_mode) for place in places}


def test_a_workspace_is_its_owners_alone(tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        made = create_workspace(tmp_path / "mill")
    finally:
        os.umask(before)
    assert made.notices == ()
    for name, mode in modes(made).items():
        assert mode == (0o600 if "." in name else 0o700), name
    made.close()


def test_a_workspace_that_others_could_read_is_closed_to_them_and_that_is_said_once(workspace: Workspace) -> None:
    workspace.close()
    for place in (workspace.directory, *workspace.directory.iterdir()):
        place.chmod(0o755 if place.is_dir() else 0o644)
    again = open_workspace(workspace.directory)
    (notice,) = again.notices
    assert "Other users of this machine could read evenhand.toml, evenhand.sqlite" in notice
    assert set(modes(again).values()) == {0o700, 0o600}
    again.close()
    again = open_workspace(workspace.directory)
    assert again.notices == ()
    # An editor writes the settings anew, as it writes any file; behind a closed door nobody could read them.
    again.settings_file.chmod(0o644)
    again.close()
    again = open_workspace(workspace.directory)
    assert (again.notices, modes(again)["evenhand.toml"]) == ((), 0o600)
    again.close()


def test_a_workspace_that_is_somebody_elses_is_refused_by_name() -> None:
    with open_folder() as folder:
        create_workspace(folder / "mill").close()
        with nobody(), pytest.raises(Refusal, match=r"evenhand\.toml cannot be read or written \(Permission denied\)"):
            open_workspace(folder / "mill")


def test_what_a_stopped_program_left_half_written_is_gone_when_the_workspace_is_next_opened(tmp_path: Path) -> None:
    create_workspace(tmp_path / "mill").close()
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    folders = [
        tmp_path / "mill" / name for name in ("", "layouts", "rejected", "sources", "waiting", "rounds/2026-11-09-1")
    ]
    for folder in folders:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / f".slips.pdf.{ended.pid}.part").write_text("Tess Marrow, 4101")
        (folder / f".slips.pdf.{os.getpid()}.part").write_text("still being written")
        (folder / ".mine.part").write_text("not named as evenhand does")
    open_workspace(tmp_path / "mill").close()
    for folder in folders:
        assert {one.name for one in folder.glob(".*.part")} == {f".slips.pdf.{os.getpid()}.part", ".mine.part"}, folder
