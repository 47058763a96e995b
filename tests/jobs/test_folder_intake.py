"""A watched folder: what a confirmed layout fits is taken by itself, once it is whole; everything else waits."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Event, Thread
from typing import Any

import pytest

from evenhand.jobs import folder_intake, folder_state
from evenhand.jobs.folder_intake import Watcher, watch
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.ledger import entries
from evenhand.jobs.take import Answers, take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.waiting import path_of, take_waiting
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.settings import read_settings, write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Intake
from tests.jobs.workplaces import PEOPLE, made

LOG = "reader,number,at,direction\nGATE,0042,2026-11-09 08:00:00,in\nGATE,0042,2026-11-09 17:00:00,out\n"
OTHER = "Badge;Door;When\n0042;GATE;2026-11-09 08:00\n"


@dataclass
class Place:
    """A workspace with a watched folder, and a clock of its own that the test moves on."""

    workspace: Workspace
    folder: Path
    said: list[str] = field(default_factory=list)
    now: float = 1000.0
    intake: Intake = field(default_factory=Intake)

    def __post_init__(self) -> None:
        self.intake = Intake(str(self.folder), quiet_s=10)
        self.restart()

    def restart(self) -> None:
        """Watch anew, as after a stop of the program."""
        self.watcher = Watcher(self.workspace, self.said.append, lambda: self.now)

    def look(self, after_s: float = 0.0) -> None:
        self.now += after_s
        self.watcher.look(self.intake)

    def settle(self) -> None:
        """Look at once, and again when everything has been still for long enough."""
        self.look()
        self.look(10.0)

    def put(self, name: str, text: str = LOG) -> Path:
        path = self.folder / name
        path.write_text(text)
        return path

    def waiting(self) -> dict[str, str]:
        return {one.file: one.why for one in folder_state.look(self.workspace).waiting}

    def taken(self) -> list[tuple[str, int, int, int]]:
        """What the store says was taken after the first files."""
        with self.workspace.store.reading() as conn:
            rows = frames.takes(conn).select("file", "taken", "known", "refused").rows()
        return rows[len(FIRST) :]


KILLED = 7
FIRST = ("readers.csv", "people.csv", "enrolments.csv", "punches.csv")


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Place]:
    workspace = made(tmp_path)
    folder = tmp_path / "incoming"
    folder.mkdir()
    found = Place(workspace, folder)
    assert [row[0] for row in _files(workspace)][: len(FIRST)] == list(FIRST)
    yield found
    workspace.close()


def _files(workspace: Workspace) -> list[tuple[str]]:
    with workspace.store.reading() as conn:
        return frames.takes(conn).select("file").rows()


def test_what_a_confirmed_layout_fits_is_taken_and_moved_once_it_is_still(place: Place) -> None:
    place.put("march.csv")
    place.look()
    place.look(9.9)
    assert (place.taken(), place.said) == ([], [])
    place.look(0.2)
    assert place.taken() == [("march.csv", 2, 0, 0)]
    assert entries(place.workspace, kind="take", most=1)[0].who == ("the watched folder",)
    assert [path.relative_to(place.folder).as_posix() for path in place.folder.rglob("*.csv")] == ["taken/march.csv"]
    assert place.said == ["march.csv: punches, 2 rows read, 2 taken, 0 known already, 0 rejected."]
    assert place.waiting() == {}
    place.settle()
    assert len(place.taken()) == 1


def test_a_file_that_grows_is_not_touched_until_it_has_stopped(place: Place) -> None:
    whole = LOG + "".join(f"GATE,7315,2026-11-10 0{hour}:00:00,in\n" for hour in range(9))
    for lines in range(1, 11):
        place.put("march.csv", "".join(whole.splitlines(keepends=True)[:lines]))
        place.look(6.0)
    assert place.taken() == []
    place.put("march.csv", whole)
    place.settle()
    assert place.taken() == [("march.csv", 11, 0, 0)]


def test_what_was_half_written_when_it_was_taken_is_taken_whole_when_it_goes_on(place: Place) -> None:
    place.intake = Intake(str(place.folder), quiet_s=10, is_moved=False)
    place.put("march.csv", LOG)
    place.settle()
    place.put("march.csv", LOG + "GATE,7315,2026-11-10 08:00:00,in\n")
    place.settle()
    assert place.taken() == [("march.csv", 2, 0, 0), ("march.csv", 1, 2, 0)]


def test_everything_else_waits_with_its_reason_and_is_told_once(place: Place) -> None:
    place.put("strange.csv", OTHER)
    (place.folder / "picture.png").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(99))
    place.put("empty.csv", "")
    place.settle()
    place.settle()
    waiting = place.waiting()
    assert set(waiting) == {"strange.csv", "picture.png", "empty.csv"}
    assert waiting["strange.csv"] == "No layout that somebody has confirmed fits it; it looks like punches."
    assert "is empty; export it again" in waiting["empty.csv"]
    assert "picture" in waiting["picture.png"]
    assert len(place.said) == 3
    assert place.taken() == []
    assert sorted(path.name for path in place.folder.iterdir()) == ["empty.csv", "picture.png", "strange.csv"]


def test_once_somebody_has_confirmed_a_layout_what_it_fits_is_taken(place: Place, tmp_path: Path) -> None:
    place.put("strange.csv", OTHER)
    place.settle()
    assert "strange.csv" in place.waiting()
    first = tmp_path / "first.csv"
    first.write_text(OTHER.replace("0042", "7315"))
    take_files(place.workspace, [first])
    place.settle()
    assert place.waiting() == {}
    assert place.taken()[-1] == ("strange.csv", 1, 0, 0)


def test_a_log_of_which_much_would_be_rejected_waits_and_one_slip_does_not_keep_it(place: Place) -> None:
    rows = "".join(f"GATE,0042,2026-11-09 {at // 60:02d}:{at % 60:02d}:00,in\n" for at in range(300))
    place.put("slip.csv", LOG.splitlines()[0] + "\n" + rows + "GATE,0042,yesterday,in\n")
    place.put("bad.csv", LOG.replace("2026-11-09 08:00:00", "yesterday").replace("0042", "7315"))
    place.settle()
    assert place.taken() == [("slip.csv", 300, 0, 1)]
    assert place.waiting()["bad.csv"].startswith("1 of its 2 rows would be rejected: ")


def test_a_list_cut_short_waits(place: Place) -> None:
    place.put("gate.csv", "reader,number,name,is_supervisor,enrolled_on\nGATE,0042,Ida Marlow,yes,2020-01-02\n")
    place.settle()
    says = "It no longer lists 2 of the 3 that were listed; it may have been cut short."
    assert place.waiting() == {"gate.csv": says}


def test_a_layout_that_is_taken_away_takes_no_file_by_itself(place: Place) -> None:
    for layout in place.workspace.layouts.glob("punches-*.toml"):
        layout.unlink()
    place.put("march.csv")
    place.settle()
    assert list(place.waiting()) == ["march.csv"]


def test_the_same_content_twice_is_known_and_put_away(place: Place) -> None:
    place.put("march.csv")
    place.settle()
    place.put("march.csv")
    place.put("copy of march.csv")
    place.settle()
    assert len(place.taken()) == 1
    moved = sorted(path.name for path in (place.folder / "taken").iterdir())
    assert moved == ["copy of march.csv", "march (2).csv", "march.csv"]
    known = "punches, 2 rows read, 0 taken, 2 known already, 0 rejected."
    assert place.said[1:] == [f"march.csv: {known}", f"copy of march.csv: {known}"]


def test_a_content_taken_by_another_layout_is_not_read_again_by_itself(place: Place) -> None:
    place.put("march.csv")
    place.settle()
    for kept in place.workspace.layouts.glob("punches-*.toml"):
        kept.write_text(kept.read_text().replace("header = 1\n", "header = 1\nnumber_width = 4\n"))
    place.put("march.csv")
    place.settle()
    assert place.waiting()["march.csv"].startswith("It was taken before, as take 5, by another layout")
    with place.workspace.store.reading() as conn:
        assert frames.take_decisions(conn).is_empty()


def test_a_content_that_was_taken_back_is_not_taken_anew_by_itself(place: Place) -> None:
    place.put("march.csv")
    place.settle()
    take_back(place.workspace, 5, author="Ada", reason="not ours", as_of=datetime(2026, 11, 12, tzinfo=UTC))
    place.put("march.csv")
    place.settle()
    assert place.waiting()["march.csv"].startswith("It was taken before, as take 5, and taken back")
    assert len(place.taken()) == 1
    key = next(one.key for one in folder_state.look(place.workspace).waiting)
    assert take_waiting(place.workspace, key, Answers(), lambda seen: True).taken == 2
    place.put("again.csv")  # it stands now, under another take
    place.settle()
    assert (place.waiting(), len(place.taken())) == ({}, 2)


def test_a_roster_that_leaves_out_more_than_half_of_those_listed_waits(place: Place) -> None:
    header, first, *_ = PEOPLE.splitlines()
    place.put("part.csv", f"{header}\n{first.replace('Milling', 'Packing')}\n")  # one of the three who are listed
    place.put("other.csv", f"{header}\nP9,Ada Quill,9009,Mill,Milling,no,2020-01-01,,18.25\n")  # none of them
    place.settle()
    assert place.taken() == []
    says = "It leaves out {} people, more than half of those listed; it may be a part, or another roster."
    assert place.waiting() == {"part.csv": says.format(2), "other.csv": says.format(3)}


@pytest.mark.parametrize(
    "name", ["march.csv.part", ".march.csv", "march.tmp", "march.csv.crdownload", "~$march.xlsx", "march.csv~"]
)
def test_what_says_that_it_is_not_whole_is_left_alone(place: Place, name: str) -> None:
    place.put(name)
    place.settle()
    assert (place.taken(), place.waiting()) == ([], {})


@pytest.mark.parametrize("beside", ["~$march.csv", ".~lock.march.csv#"])
def test_a_file_that_is_open_elsewhere_is_left_alone_until_it_is_closed(place: Place, beside: str) -> None:
    place.put("march.csv")
    place.put(beside, "")
    place.settle()
    assert (place.taken(), place.waiting()) == ([], {})
    (place.folder / beside).unlink()
    place.settle()
    assert place.taken() == [("march.csv", 2, 0, 0)]


def test_links_and_pipes_are_neither_followed_nor_read(place: Place, tmp_path: Path) -> None:
    outside = tmp_path / "outside.csv"
    outside.write_text(LOG)
    (place.folder / "link.csv").symlink_to(outside)
    (place.folder / "lost.csv").symlink_to(tmp_path / "nowhere")
    os.mkfifo(place.folder / "pipe.csv")
    (place.folder / "older").mkdir()
    place.settle()
    assert place.waiting() == {
        "link.csv": "link.csv is a link, which is not followed out of the folder; put the file itself there.",
        "lost.csv": "lost.csv is a link, which is not followed out of the folder; put the file itself there.",
        "pipe.csv": "pipe.csv is not an ordinary file; save what it gives as one.",
    }
    assert place.taken() == []
    for one in folder_state.look(place.workspace).waiting:
        with pytest.raises(Refusal, match=r"is a link|is not an ordinary file"):
            path_of(place.workspace, one.key)


def test_nothing_is_moved_through_a_link(place: Place, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (place.folder / "taken").symlink_to(tmp_path / "elsewhere")
    place.put("march.csv")
    place.settle()
    assert "is a link; make it a folder" in place.waiting()["march.csv"]
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_file_that_may_not_be_read_waits(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    path, read = place.put("march.csv"), Path.open

    def refused(self: Path, *said: Any, **named: Any) -> Any:
        if self.name == path.name:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return read(self, *said, **named)

    path.chmod(0)
    if os.geteuid() == 0:  # who may read everything is given the system's answer to others
        monkeypatch.setattr(Path, "open", refused)
    place.settle()
    assert "cannot be read" in place.waiting()["march.csv"]


def test_a_folder_that_vanishes_is_told_once_and_looked_into_when_it_is_back(place: Place) -> None:
    place.put("strange.csv", OTHER)
    place.settle()
    since = folder_state.look(place.workspace).waiting[0].since
    away = place.folder.with_name("away")
    place.folder.rename(away)
    place.said.clear()
    place.look(2.0)
    place.look(2.0)
    assert place.said == [
        f"The watched folder {place.folder} is not there; put it back or name another under [intake]."
    ]
    assert folder_state.look(place.workspace).problem == place.said[0]
    assert place.waiting() == {}
    away.rename(place.folder)
    place.settle()
    assert folder_state.look(place.workspace).problem == ""
    assert [one.since for one in folder_state.look(place.workspace).waiting] == [since]


def test_what_waits_and_what_was_left_is_remembered_over_a_restart(place: Place) -> None:
    place.intake = Intake(str(place.folder), quiet_s=10, is_moved=False)
    place.put("march.csv")
    place.put("strange.csv", OTHER)
    place.settle()
    place.said.clear()
    place.restart()
    place.settle()
    assert place.said == []
    assert list(place.waiting()) == ["strange.csv"]


def test_what_was_taken_and_not_yet_moved_when_the_program_stopped_is_moved_by_the_next(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(path: Path) -> Path:
        raise KeyboardInterrupt

    place.put("march.csv")
    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(folder_intake, "move_to_taken", stopped)
        place.settle()
    assert place.taken() == [("march.csv", 2, 0, 0)]
    place.restart()
    place.settle()
    assert (len(place.taken()), place.waiting()) == (1, {})
    assert (place.folder / "taken" / "march.csv").read_text() == LOG


def test_a_file_that_cannot_be_taken_now_is_tried_again_a_minute_later(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    def busy(*_: object, **__: object) -> None:
        raise Refusal("the store is in use by another program; try again.")

    place.put("march.csv")
    with monkeypatch.context() as patched:
        patched.setattr(folder_intake, "take_file", busy)
        place.settle()
        place.look(30.0)
    assert place.waiting() == {"march.csv": "the store is in use by another program; try again."}
    place.look(29.0)
    assert place.taken() == []
    place.look(1.5)
    assert (place.taken(), place.waiting()) == ([("march.csv", 2, 0, 0)], {})


def test_a_fault_over_one_file_does_not_keep_the_others(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    real = folder_intake.look_at

    def look(workspace: Workspace, incoming: object) -> object:
        if getattr(incoming, "name", "") == "evil.csv":
            raise ZeroDivisionError("by nought")
        return real(workspace, incoming)  # type: ignore[arg-type]

    monkeypatch.setattr(folder_intake, "look_at", look)
    place.put("evil.csv", LOG.replace("0042", "7315"))
    place.put("march.csv")
    place.settle()
    assert place.taken() == [("march.csv", 2, 0, 0)]
    why = place.waiting()["evil.csv"]
    assert "ZeroDivisionError at evenhand.jobs.folder_intake line" in why
    assert "by nought" not in why, "what a fault says may hold what is known of people"


def test_a_fault_while_a_file_is_taken_does_not_end_the_watch(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    real = folder_intake.take_file

    def take(workspace: Workspace, incoming: Incoming, **said: Any) -> object:
        if incoming.name == "evil.csv":
            raise ZeroDivisionError("by nought")
        return real(workspace, incoming, **said)

    monkeypatch.setattr(folder_intake, "take_file", take)
    place.put("evil.csv", LOG.replace("0042", "7315"))
    place.put("march.csv")
    place.settle()
    assert place.taken() == [("march.csv", 2, 0, 0)]
    why = place.waiting()["evil.csv"]
    assert "ZeroDivisionError at evenhand.jobs.folder_intake line" in why
    assert "by nought" not in why, "what a fault says may hold what is known of people"


def test_the_workspace_itself_is_not_watched(place: Place) -> None:
    for folder in (".", "layouts", f"../{place.workspace.directory.name}", str(place.workspace.directory / "waiting")):
        place.intake = Intake(folder)
        place.settle()
        assert "is the workspace's own; name another" in folder_state.look(place.workspace).problem


def test_thousands_of_files_that_wait_are_not_read_again_and_again(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[str] = []

    def look(_: Workspace, incoming: object) -> None:
        looked.append(str(getattr(incoming, "name", "")))
        raise Refusal("it is no table.")

    monkeypatch.setattr(folder_intake, "look_at", look)
    for number in range(2000):
        place.put(f"{number:04d}.csv", f"{number}\n")
    place.settle()
    assert len(looked) == len(place.waiting()) == 2000
    began = time.process_time()
    for _ in range(10):
        place.look(5.0)
    assert len(looked) == 2000
    # a look every two seconds may take a tenth of them at most
    assert time.process_time() - began < 10 * 0.2


def test_one_watches_at_a_time_and_a_stop_ends_it(place: Place) -> None:
    stop = Event()
    watching = Thread(target=watch, args=(place.workspace, lambda: place.intake, stop, place.said.append))
    watching.start()
    try:
        until = time.monotonic() + 20
        while not (place.workspace.waiting / ".watching.lock").exists() and time.monotonic() < until:
            time.sleep(0.05)
        time.sleep(0.2)
        with pytest.raises(Refusal, match=r"watches for .* already; stop it first"):
            watch(place.workspace, lambda: place.intake, Event(), place.said.append)
    finally:
        stop.set()
        watching.join(timeout=10)
    assert not watching.is_alive()


def test_settings_that_cannot_be_read_are_told_once_and_do_not_end_it(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(folder_intake, "PAUSE_S", 0.01)
    stop, asked = Event(), []

    def intake() -> Intake:
        asked.append(1)
        if len(asked) == 5:
            stop.set()
        raise Refusal("evenhand.toml, intake: found a key nobody knows.")

    watch(place.workspace, intake, stop, place.said.append)
    assert place.said == ["evenhand.toml, intake: found a key nobody knows."]
    assert len(asked) == 5


@pytest.mark.parametrize("ends", [signal.SIGINT, signal.SIGTERM])
def test_the_command_takes_says_so_and_ends_cleanly(place: Place, ends: signal.Signals) -> None:
    settings = read_settings(place.workspace.settings_file)
    write_settings(place.workspace.settings_file, replace(settings, intake=Intake("../incoming", quiet_s=1)))
    place.put("march.csv")
    place.put("strange.csv", OTHER)
    running = subprocess.Popen(
        [sys.executable, "-m", "evenhand", "-w", str(place.workspace.directory), "watch"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    until = time.monotonic() + 60
    while not (place.folder / "taken" / "march.csv").exists() and time.monotonic() < until:
        time.sleep(0.2)
    time.sleep(0.5)
    running.send_signal(ends)
    said, faults = running.communicate(timeout=30)
    assert running.returncode == 0, faults
    assert faults == ""
    first, *told, last = said.splitlines()
    assert first.endswith("incoming. Ctrl-C ends it.")
    assert "march.csv: punches, 2 rows read, 2 taken, 0 known already, 0 rejected." in told
    assert last == "No longer watching; what was not taken waits in the folder."
    assert place.taken() == [("march.csv", 2, 0, 0)]


def test_the_command_without_a_folder_says_what_to_do(place: Place) -> None:
    for words, says in (
        ((), "no folder to watch: name one, or set folder under [intake]"),
        (("nowhere",), "is no folder that is there; make it, or name another."),
        ((str(place.workspace.directory),), "is the workspace's own; name another folder to be watched."),
    ):
        answer = subprocess.run(
            [sys.executable, "-m", "evenhand", "-w", str(place.workspace.directory), "watch", *words],
            capture_output=True,
            text=True,
            check=False,
        )
        assert (answer.returncode, answer.stdout) == (2, "")
        assert says in answer.stderr


def test_a_stop_at_any_moment_leaves_each_file_taken_once_and_none_behind(place: Place) -> None:
    """The program is killed at moments spread over the look that takes and moves; the next one finishes it."""
    settings = read_settings(place.workspace.settings_file)
    write_settings(place.workspace.settings_file, replace(settings, intake=Intake("../incoming", quiet_s=1)))

    def run(name: str, day: int, for_s: float) -> float:
        """Watch until the file is in place or for so long; return how long it was [s]."""
        place.put(name, LOG.replace("-11-09", f"-11-{day}"))
        running = subprocess.Popen(
            [sys.executable, "-m", "evenhand", "-w", str(place.workspace.directory), "watch"],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        assert running.stdout is not None
        assert running.stdout.readline().startswith("Watching ")
        began = time.monotonic()
        while time.monotonic() < began + for_s and not (place.folder / "taken" / name).exists():
            time.sleep(0.005)
        lasted = time.monotonic() - began
        running.kill()
        running.communicate()
        return lasted

    whole = run("log0.csv", 10, 60.0)
    assert place.taken() == [("log0.csv", 2, 0, 0)]
    for at in range(1, KILLED):
        first = folder_intake.PAUSE_S  # the first look only notes that a file is there
        run(f"log{at}.csv", 10 + at, first + (whole - first) * at / KILLED)
    place.settle()
    with place.workspace.store.reading() as conn:
        held = frames.recorded(conn, since=1_794_268_800)  # 10 November 2026, 00:00 UTC
    assert held.height == 2 * KILLED
    assert {path.name for path in (place.folder / "taken").iterdir()} == {f"log{at}.csv" for at in range(KILLED)}
    assert [path.name for path in place.folder.iterdir()] == ["taken"]
    assert not [path.name for path in place.workspace.waiting.iterdir() if path.name.endswith(".part")]
