"""What the files taken tell of each other is found, and each finding goes once what it names is done."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from evenhand.jobs.reading_again import layout_for
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import Answers, Receipt, take_file
from evenhand.jobs.takes import read_again, take_back
from evenhand.jobs.today import find_today
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.layouts import Layout
from evenhand.terms.records import Finding

NOW = datetime(2026, 3, 20, 12, tzinfo=UTC)
READERS = "reader,site,zone\nGATE,Mill,America/Chicago\nDOCK,Mill,America/Chicago\n"
PEOPLE = "person,name,number,site\nP1,Ada Quill,0041,Mill\nP2,Ben Rook,0042,Mill\nP3,Cy Lund,0043,Mill\n"
LOG = (
    "reader,number,at,direction\nGATE,0041,2026-03-09 07:58:11,in\nGATE,0042,2026-03-09 08:01:30,in\n"
    "GATE,0041,2026-03-09 16:02:00,out\nGATE,0042,2026-03-09 16:05:10,out\n"
)


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    take(made, "readers", READERS)
    take(made, "people", PEOPLE)
    yield made
    made.close()


def take(workspace: Workspace, table: str, text: str) -> Receipt:
    path = workspace.directory.parent / f"{table}.csv"
    path.write_text(text, encoding="utf-8")
    columns = {name: (name,) for name in text.partition("\n")[0].split(",")}
    return take_file(workspace, path, layout=Layout(table, "delimited", columns, delimiter=",", header=1))


def found(workspace: Workspace, code: str) -> list[Finding]:
    reckoning = reckon_period(workspace, NOW)
    return [one for one in find_today(reckoning).findings if one.code == code]


def test_punches_that_a_changed_zone_would_move_are_told_until_their_file_is_read_in_it(workspace: Workspace) -> None:
    log = take(workspace, "punches", LOG)
    assert not found(workspace, "zone_changed")
    take(workspace, "readers", "reader,site,zone\nGATE,Mill,America/Denver\n")
    [finding] = found(workspace, "zone_changed")
    assert (finding.reader, finding.details["punches"]) == ("GATE", 4)
    # Denver is an hour behind Chicago on every day of the year.
    assert finding.details["by_s"] == {3600: 4}
    layout = layout_for(workspace, log.take, Answers(zone="America/Denver"), None)
    read_again(workspace, log.take, layout, author="Ada", reason="the clock runs in Denver", as_of=NOW)
    assert not found(workspace, "zone_changed")


def test_a_log_without_its_zeros_is_told_until_it_is_read_with_them(workspace: Workspace) -> None:
    rows = ["reader,number,at"] + [f"GATE,{number},2026-03-09 08:0{number % 10}:05" for number in (41, 42, 43)]
    log = take(workspace, "punches", "\n".join(rows) + "\n")
    [finding] = found(workspace, "file_lost_zeros")
    assert finding.details == {
        "take": log.take,
        "zeros": 4,
        "numbers": ["41", "42", "43"],
        "meant": ["0041", "0042", "0043"],
    }
    assert not found(workspace, "lost_zeros")
    layout = layout_for(workspace, log.take, Answers(zeros=4), None)
    read_again(workspace, log.take, layout, author="Ada", reason="a spreadsheet lost the zeros", as_of=NOW)
    assert not found(workspace, "file_lost_zeros")


def test_who_is_gone_from_the_roster_and_punches_on_is_told_until_that_roster_is_back(workspace: Workspace) -> None:
    roster = take(workspace, "people", "\n".join(PEOPLE.splitlines()[:-1]) + "\n")
    assert roster.gone == 1
    assert not found(workspace, "gone_from_roster")
    take(workspace, "enrolments", "reader,number\nDOCK,0043\n")
    [finding] = found(workspace, "gone_from_roster")
    assert (finding.person, finding.details["readers"]) == ("P3", ["DOCK"])
    take_back(workspace, roster.take, author="Ada", reason="a part of the roster", as_of=NOW)
    assert not found(workspace, "gone_from_roster")


def test_a_log_that_ends_before_the_others_is_told_until_the_rest_is_taken(workspace: Workspace) -> None:
    days = ("2026-02-11", "2026-02-18", "2026-02-25", "2026-03-04")
    header = "reader,number,at\n"

    def log(reader: str, days: tuple[str, ...]) -> str:
        return header + "".join(f"{reader},0041,{day} 08:{at:02d}:07\n" for day in days for at in range(20))

    take(workspace, "punches", log("GATE", days))
    take(workspace, "punches", log("DOCK", days[:3]))
    [finding] = found(workspace, "log_ends_early")
    assert finding.reader == "DOCK"
    assert not [one for one in found(workspace, "reader_quiet") if one.reader == "DOCK"]
    take(workspace, "punches", log("DOCK", days[3:]))
    assert not found(workspace, "log_ends_early")


def test_a_workplace_at_which_nobody_has_punched_yet_has_its_findings(workspace: Workspace) -> None:
    assert find_today(reckon_period(workspace, NOW)).findings
