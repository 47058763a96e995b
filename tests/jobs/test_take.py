"""Taking real files: what is stored, what is refused, and what happens when it cannot be finished."""

import csv
import errno
import os
import signal
import subprocess
import sys
import textwrap
import tracemalloc
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from evenhand import layouts
from evenhand.jobs import incoming
from evenhand.jobs import take as jobs_take
from evenhand.jobs.kept_layouts import KeptLayouts
from evenhand.jobs.known import Known
from evenhand.jobs.take import Answers, Receipt, RefusedFile, Seen, look_at, take_file, take_files
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.layouts import Layout
from evenhand.store import frames
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from tests.disks import full_after

READERS = "reader,site,zone\nGATE,Mill,America/Chicago\nDOCK,Mill,America/Chicago\n"
PEOPLE = "employee id,name,badge,site\nP1,Ada Quill,0041,Mill\nP2,Ben Rook,0042,Mill\n"
ENROLMENTS = "reader,number,name\nGATE,0041,QUILL\nGATE,0042,ROOK\n"
MARCH = """reader,number,time,direction
GATE,0041,2026-03-02 07:58,in
GATE,0042,2026-03-02 08:01,in
GATE,0041,2026-03-02 16:02,out
GATE,0042,2026-02-30 16:05,out
LOFT,0042,2026-03-02 16:05,out
"""


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    yield made
    made.close()


@pytest.fixture
def with_readers(workspace: Workspace, tmp_path: Path) -> Workspace:
    take_file(workspace, write(tmp_path, "readers.csv", READERS))
    return workspace


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def recorded(workspace: Workspace) -> Frame:
    with workspace.store.reading() as conn:
        return frames.recorded(conn)


def rejected_rows(path: Path | None) -> list[list[str]]:
    assert path is not None
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.reader(file))


def test_every_row_of_a_file_is_taken_known_or_refused(with_readers: Workspace, tmp_path: Path) -> None:
    receipt = take_file(with_readers, write(tmp_path, "march.csv", MARCH))
    assert (receipt.table, receipt.read, receipt.taken, receipt.known, receipt.rejected) == ("punches", 5, 3, 0, 2)
    header, *rows = rejected_rows(receipt.rejected_path)
    assert header == ["line", "column", "seen", "reason", "text"]
    assert [row[:3] for row in rows] == [["5", "time", "2026-02-30 16:05"], ["6", "reader", "LOFT"]]
    assert [row[4] for row in rows] == MARCH.splitlines()[4:6]
    # 07:58 in Chicago on 2 March 2026 is standard time, six hours behind UTC: 13:58Z = 1772459880.
    assert recorded(with_readers)["at"].min() == 1_772_459_880


def test_a_corrected_file_adds_what_was_refused_and_leaves_the_refusals_of_the_first_where_they_are(
    with_readers: Workspace, tmp_path: Path
) -> None:
    rejected = take_file(with_readers, write(tmp_path, "march.csv", MARCH)).rejected_path
    corrected = MARCH.replace("02-30", "03-02").replace("LOFT", "DOCK")
    receipt = take_file(with_readers, write(tmp_path, "march.csv", corrected))
    assert (receipt.taken, receipt.known, receipt.rejected, receipt.rejected_path) == (2, 3, 0, None)
    assert rejected is not None
    assert rejected.exists()


def test_the_same_file_again_adds_nothing_under_any_name(with_readers: Workspace, tmp_path: Path) -> None:
    clean = "".join(MARCH.splitlines(keepends=True)[:4])
    take_file(with_readers, write(tmp_path, "march.csv", clean))
    before = recorded(with_readers)
    receipt = take_file(with_readers, write(tmp_path, "march (2).csv", clean))
    assert (receipt.read, receipt.known) == (3, 3)
    assert "march.csv" in receipt.notices[0]
    assert recorded(with_readers).equals(before)


def test_the_same_file_again_with_the_same_rows_refused_adds_nothing(with_readers: Workspace, tmp_path: Path) -> None:
    first = take_file(with_readers, write(tmp_path, "march.csv", MARCH))
    again = take_file(with_readers, write(tmp_path, "march (2).csv", MARCH))
    assert (again.take, again.read, again.taken, again.known, again.rejected) == (first.take, 5, 0, 3, 2)
    assert again.rejected_path == first.rejected_path
    assert again.notices[0] == "This content has been taken before, as march.csv, and what was rejected then still is."
    with with_readers.store.reading() as conn:
        assert frames.takes(conn)["refused"].to_list() == [0, 2]
    assert [path.name for path in with_readers.rejected.iterdir()] == [first.rejected_path.name]


def test_refused_rows_are_taken_once_their_reader_is_listed(with_readers: Workspace, tmp_path: Path) -> None:
    march = write(tmp_path, "march.csv", MARCH)
    take_file(with_readers, march)
    take_file(with_readers, write(tmp_path, "more.csv", READERS + "LOFT,Mill,America/Chicago\n"))
    receipt = take_file(with_readers, march)
    assert (receipt.taken, receipt.known, receipt.rejected) == (1, 3, 1)


def test_a_roster_taken_back_to_an_earlier_file_is_not_mistaken_for_known(
    with_readers: Workspace, tmp_path: Path
) -> None:
    january = write(tmp_path, "january.csv", PEOPLE)
    take_file(with_readers, january)
    take_file(with_readers, write(tmp_path, "february.csv", PEOPLE.replace("0042", "0099")))
    assert take_file(with_readers, january).taken == 1
    with with_readers.store.reading() as conn:
        assert frames.people(conn)["number"].to_list() == ["0041", "0042"]


def test_contradictions_within_a_roster_stand_among_the_refused_rows(with_readers: Workspace, tmp_path: Path) -> None:
    receipt = take_file(with_readers, write(tmp_path, "people.csv", PEOPLE + "P1,Ada Quill,0077,Mill\n"))
    assert (receipt.read, receipt.taken, receipt.rejected) == (3, 2, 1)
    assert rejected_rows(receipt.rejected_path)[1][0] == "4"


def test_a_roster_that_lets_somebody_leave_before_they_came_says_how_it_is_understood(
    with_readers: Workspace, tmp_path: Path
) -> None:
    roster = tmp_path / "people-back.csv"
    roster.write_text(
        "person,name,number,hired_on,left_on\nP1,Ida Marlow,0042,2019-01-01,2018-01-01\n"
        "P2,Rui Okoro,7315,2018-01-01,2019-01-01\nP3,Lena Fisk,2290,2019-01-01,\n"
    )
    [receipt] = take_files(with_readers, [roster])
    assert isinstance(receipt, Receipt)
    [notice] = receipt.notices
    assert notice.startswith("1 person, such as Ida Marlow, left before the first day that the roster gives")


def test_a_shorter_enrolment_list_reports_who_is_gone(with_readers: Workspace, tmp_path: Path) -> None:
    take_file(with_readers, write(tmp_path, "list.csv", ENROLMENTS))
    receipt = take_file(with_readers, write(tmp_path, "list.csv", "reader,number,name\nGATE,0042,ROOK\n"))
    assert (receipt.known, receipt.gone) == (1, 1)


def test_a_reader_whose_zone_changes_is_pointed_out(with_readers: Workspace, tmp_path: Path) -> None:
    moved = READERS.replace("DOCK,Mill,America/Chicago", "DOCK,Mill,America/Denver")
    receipt = take_file(with_readers, write(tmp_path, "moved.csv", moved))
    (notice,) = receipt.notices
    assert notice.startswith("DOCK ran in America/Chicago and runs in America/Denver now")


def test_files_in_any_order_are_taken_by_what_they_are(workspace: Workspace, tmp_path: Path) -> None:
    texts = {"march.csv": MARCH, "list.csv": ENROLMENTS, "people.csv": PEOPLE, "readers.csv": READERS}
    paths = [write(tmp_path, name, text) for name, text in texts.items()]
    scan = tmp_path / "scan.bin"
    scan.write_bytes(bytes(range(256)) * 10)
    results = take_files(workspace, [*paths, scan])
    receipts = [result for result in results if isinstance(result, Receipt)]
    assert [receipt.file for receipt in receipts] == list(texts)
    # Only the row under a reader that is on no list, and the day that does not exist, are refused.
    assert [receipt.rejected for receipt in receipts] == [2, 0, 0, 0]
    (rejected,) = [result for result in results if isinstance(result, RefusedFile)]
    assert (rejected.file, "scan.bin" in rejected.reason) == (str(scan), True)


def test_a_confirmed_layout_is_kept_and_used_without_asking_again(with_readers: Workspace, tmp_path: Path) -> None:
    asked = []

    def confirm(seen: Seen) -> bool:
        asked.append(seen.proposal.layout)
        return True

    first = take_file(with_readers, write(tmp_path, "march.csv", MARCH), confirm=confirm)
    april = MARCH.replace("2026-03", "2026-04")
    second = take_file(with_readers, write(tmp_path, "april.csv", april), confirm=confirm)
    assert (len(asked), asked[0].table) == (1, "punches")
    assert first.layout_path == second.layout_path == with_readers.layouts / "punches-1.toml"
    assert second.taken == 3


ROLES = """employee id;name;badge;role
P1;Ada Quill;0041;supervisor
P2;Ben Rook;0042;
P3;Cy Marl;0043;supervisor
P4;Dot Nash;0044;
"""


def test_a_column_that_a_kept_layout_leaves_out_is_offered_once_and_read_from_then_on(
    workspace: Workspace, tmp_path: Path
) -> None:
    take_file(workspace, write(tmp_path, "may.csv", ROLES), answers=Answers(ignored=frozenset({"role"})))
    (path,) = workspace.layouts.glob("*.toml")
    layout = Layout.from_toml(path.read_text(), path.name)
    path.write_text(replace(layout, ignored=()).to_toml())  # as one that nobody was asked about
    asked: list[Seen] = []

    def confirm(seen: Seen) -> Answers | bool:
        asked.append(seen)
        return replace(seen.answers, maps={"role": "is_supervisor"}) if seen.proposal.offers else True

    june = write(tmp_path, "june.csv", ROLES.replace("0044", "0045"))
    assert take_file(workspace, june, confirm=confirm).layout_path == path
    assert [offer.header for offer in asked[0].proposal.offers] == ["role"]
    assert Layout.from_toml(path.read_text(), path.name).columns["is_supervisor"] == ("role",)
    with workspace.store.reading() as conn:
        assert frames.people(conn)["is_supervisor"].to_list() == [True, None, True, None]
    asked.clear()
    take_file(workspace, write(tmp_path, "july.csv", ROLES.replace("0044", "0046")), confirm=confirm)
    assert (asked, list(workspace.layouts.glob("*.toml"))) == ([], [path])


def test_a_layout_never_takes_the_place_of_one_that_another_program_keeps_meanwhile(
    with_readers: Workspace, tmp_path: Path
) -> None:
    kept = KeptLayouts(with_readers.layouts)
    layout = take_file(with_readers, write(tmp_path, "march.csv", MARCH)).layout_path
    assert layout is not None
    other = replace(Layout.from_toml(layout.read_text(), layout.name), reader="DOCK")
    assert kept.place_for(other) == with_readers.layouts / "punches-2.toml"


def test_a_file_that_is_not_confirmed_leaves_a_draft_that_is_used_only_when_it_is_named(
    with_readers: Workspace, tmp_path: Path
) -> None:
    march = write(tmp_path, "march.csv", MARCH)
    draft = with_readers.layouts / "drafts" / "punches-1.toml"
    with pytest.raises(Refusal, match=f"--layout {draft}"):
        take_file(with_readers, march, confirm=lambda seen: False)
    assert recorded(with_readers).is_empty()
    assert [path.name for path in with_readers.layouts.glob("*.toml")] == ["readers-1.toml"]
    assert look_at(with_readers, march).proposal.kept == ""
    layout = Layout.from_toml(draft.read_text(), draft.name)
    assert take_file(with_readers, march, layout=layout).taken == 3


def test_the_next_readers_log_is_not_taken_under_the_first_readers_name(
    with_readers: Workspace, tmp_path: Path
) -> None:
    log = "number,time,direction\n0041,2026-03-02 07:58,in\n"
    take_file(with_readers, write(tmp_path, "log1.csv", log), answers=Answers(reader="GATE"))
    later = write(tmp_path, "log2.csv", log.replace("07:58", "09:12"))
    with pytest.raises(Refusal, match=r"log2\.csv.*name the reader"):
        take_file(with_readers, later)
    take_file(with_readers, later, answers=Answers(reader="DOCK"))
    assert recorded(with_readers)["reader"].to_list() == ["DOCK", "GATE"]


def test_a_log_of_several_readers_is_not_taken_under_the_reader_that_its_name_says(
    with_readers: Workspace, tmp_path: Path
) -> None:
    log = "number,time,direction\n0041,2026-03-02 07:58,in\n"
    take_file(with_readers, write(tmp_path, "log1.csv", log), answers=Answers(reader="GATE"))
    both = "reader,number,time,direction\nGATE,0041,2026-03-03 07:58,in\nDOCK,0042,2026-03-03 08:01,in\n"
    receipt = take_file(with_readers, write(tmp_path, "GATE march.csv", both))
    assert (receipt.layout_path and receipt.layout_path.name) == "punches-2.toml"
    assert sorted(recorded(with_readers)["reader"].to_list()) == ["DOCK", "GATE", "GATE"]


def test_many_files_of_one_kind_are_read_by_one_layout(workspace: Workspace, tmp_path: Path) -> None:
    paths = [
        write(tmp_path, f"day{day}.csv", MARCH.replace("2026-03-02", f"2026-03-{day:02}")) for day in range(10, 20)
    ]
    results = take_files(workspace, [*paths, write(tmp_path, "readers.csv", READERS)])
    receipts = [result for result in results if isinstance(result, Receipt)]
    assert [(receipt.table, receipt.taken) for receipt in receipts] == [("punches", 3)] * 10 + [("readers", 2)]
    assert sorted(path.name for path in workspace.layouts.iterdir()) == ["punches-1.toml", "readers-1.toml"]


def test_each_of_many_files_is_read_sketched_and_proposed_once(
    with_readers: Workspace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = Counter[str]()

    def counted(module: ModuleType, name: str) -> None:
        does = getattr(module, name)

        def counts(*given: Any, **named: Any) -> Any:
            made[name] += 1
            return does(*given, **named)

        monkeypatch.setattr(module, name, counts)

    counted(incoming, "read_incoming")
    for name in ("sketch", "propose", "read"):
        counted(layouts, name)
    paths = [write(tmp_path, f"day{day}.csv", MARCH.replace("2026-03-02", f"2026-03-{day:02}")) for day in range(3, 28)]
    take_files(with_readers, paths)
    assert made == {"read_incoming": 25, "sketch": 25, "propose": 25, "read": 25}


def test_a_reader_that_another_program_lists_between_two_files_is_known(workspace: Workspace, tmp_path: Path) -> None:
    known = Known(workspace)
    assert known.surroundings().reader_zones == {}
    take_file(workspace, write(tmp_path, "readers.csv", READERS))
    assert set(known.surroundings().reader_zones) == {"GATE", "DOCK"}


def test_what_is_no_file_of_rows_is_refused_by_name(workspace: Workspace, tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    write(tmp_path, "empty.csv", "")
    write(tmp_path, "blank.csv", " \n\n")
    for name, words in {
        "missing.csv": "does not exist",
        "folder": "is a folder",
        "pipe": "is not an ordinary file",
        "empty.csv": "is empty",
        "blank.csv": "is empty",
    }.items():
        with pytest.raises(Refusal, match=words) as refusal:
            take_file(workspace, tmp_path / name)
        assert name in str(refusal.value)


def test_a_huge_file_of_nothing_is_refused_with_little_memory(workspace: Workspace, tmp_path: Path) -> None:
    huge = tmp_path / "huge.csv"
    with huge.open("wb") as file:
        file.truncate(2_000_000_000)  # sparse: it takes no room on the disk
    tracemalloc.start()
    with pytest.raises(Refusal, match="is empty"):
        take_file(workspace, huge)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 8 << 20


def test_a_long_line_is_found_wherever_it_stands(workspace: Workspace, tmp_path: Path) -> None:
    short = "x" * 1000 + "\n"
    for before in (0, 700, 1048, 1049, 1500):
        path = write(tmp_path, "long.csv", short * before + "y" * ((1 << 20) + 1) + "\n" + short)
        with pytest.raises(Refusal, match="longer than 1 MiB"):
            take_file(workspace, path)


def many_punches(rows: int) -> str:
    lines = (f"GATE,{row:06d},2026-03-{row % 28 + 1:02d} {row % 24:02d}:{row % 60:02d},in\n" for row in range(rows))
    return "reader,number,time,direction\n" + "".join(lines)


def test_a_full_disk_leaves_the_store_as_it_was(tmp_path: Path) -> None:
    create_workspace(tmp_path / "mill").close()
    with full_after(256):  # 1 MiB
        workspace = open_workspace(tmp_path / "mill")
        take_file(workspace, write(tmp_path, "readers.csv", READERS))
        with pytest.raises(Refusal, match="disk is full"):
            take_file(workspace, write(tmp_path, "march.csv", many_punches(30_000)))
        assert recorded(workspace).is_empty()
        assert sorted(path.name for path in workspace.layouts.iterdir()) == ["readers-1.toml"]
        assert list(workspace.rejected.iterdir()) == []
        assert take_file(workspace, write(tmp_path, "april.csv", many_punches(50))).taken == 50
        workspace.close()


WITHIN_A_LIMIT = """
    import resource, sys
    from evenhand.jobs.take import take_file
    from evenhand.jobs.workspace import open_workspace
    from evenhand.terms.records import Refusal
    workspace = open_workspace(sys.argv[1])
    resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 20, 1 << 20))
    try:
        take_file(workspace, sys.argv[2])
    except Refusal as refusal:
        print(refusal)
"""


def test_files_that_may_not_grow_leave_the_store_as_it_was(with_readers: Workspace, tmp_path: Path) -> None:
    march = write(tmp_path, "march.csv", many_punches(30_000))
    with_readers.close()
    command = [sys.executable, "-c", textwrap.dedent(WITHIN_A_LIMIT), with_readers.directory, march]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "nothing was stored" in done.stdout
    workspace = open_workspace(with_readers.directory)
    assert recorded(workspace).is_empty()
    assert take_file(workspace, march).read == 30_000
    workspace.close()


KILLED = """
    import signal, sys
    from evenhand.jobs.take import take_file
    from evenhand.jobs.workspace import open_workspace
    def stop(stage, fraction):
        if stage == "storing":
            # Nobody handles the alarm, so the system ends the program there and then.
            signal.setitimer(signal.ITIMER_REAL, float(sys.argv[3]))
    take_file(open_workspace(sys.argv[1]), sys.argv[2], progress=stop)
"""


@pytest.mark.parametrize("seconds", ["0.01", "0.1"])
def test_a_take_that_is_killed_is_all_there_or_not_at_all(
    with_readers: Workspace, tmp_path: Path, seconds: str
) -> None:
    march = write(tmp_path, "march.csv", many_punches(30_000))
    with_readers.close()
    command = [sys.executable, "-c", textwrap.dedent(KILLED), with_readers.directory, march, seconds]
    assert subprocess.run(command, check=False).returncode in (-signal.SIGALRM, 0)
    workspace = open_workspace(with_readers.directory)
    with workspace.store.reading() as conn:
        takes = frames.takes(conn).filter(table="punches")
    assert recorded(workspace).height == (takes["taken"].sum() if takes.height else 0)
    again = take_file(workspace, march)
    assert again.taken + takes["taken"].sum() == recorded(workspace).height
    workspace.close()


def test_a_layout_by_which_nothing_could_be_taken_is_not_kept_and_reads_no_later_file(workspace: Workspace) -> None:
    take_file(workspace, _written(workspace, "readers.csv", READERS))
    of_nobody = MARCH.replace("GATE,", "> GATE,").replace("LOFT,", "> LOFT,")
    receipt = take_file(workspace, _written(workspace, "mail.csv", of_nobody))
    assert (receipt.read, receipt.rejected, receipt.layout_path) == (5, 5, None)
    assert not list(workspace.layouts.glob("punches*"))
    april = MARCH.replace("2026-03", "2026-04")
    assert not look_at(workspace, _written(workspace, "april.csv", april)).proposal.kept
    assert take_file(workspace, _written(workspace, "april.csv", april)).layout_path is not None
    assert look_at(workspace, _written(workspace, "may.csv", MARCH.replace("2026-03", "2026-05"))).proposal.kept


def _written(workspace: Workspace, name: str, text: str) -> Path:
    path = workspace.directory.parent / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("fault", [errno.EACCES, errno.ENOSPC])
def test_a_draft_that_cannot_be_written_is_refused_by_its_folder(
    workspace: Workspace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: int
) -> None:
    def fail(path: Path, content: bytes) -> None:
        raise OSError(fault, os.strerror(fault), str(path.with_name(f".{path.name}.7.part")))

    monkeypatch.setattr(jobs_take, "replace_file", fail)
    (tmp_path / "strange.csv").write_text("Terminal;Ausweis;Zeit\nGATE;0042;2026-11-09 08:00\n")
    [refused] = take_files(workspace, [tmp_path / "strange.csv"], confirm=lambda seen: False)
    assert isinstance(refused, RefusedFile)
    assert "layouts/drafts" in refused.reason
    assert ("allow both and try again" if fault == errno.EACCES else "the disk is full") in refused.reason
