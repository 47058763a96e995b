"""A file seen before it is taken: its columns, first rows, refused rows, and what it would change."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenhand.jobs.doubts import doubt_about
from evenhand.jobs.take import Answers, Receipt, RefusedFile, Seen, look_at, take_file, take_files
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from tests.jobs.workplaces import ENROLMENTS, PEOPLE, PUNCHES, READERS

LATER = """person,name,number,site,department,is_supervisor,hired_on,left_on,hourly_rate
P1,Ida Marlow,0042,Mill,Packing,yes,2020-01-01,,18.25
P3,Lena Fisk,2290,Mill,Packing,no,2020-01-01,,17.50
P4,Ana Ruiz,3381,Mill,Packing,no,2026-11-02,,17.00
"""


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_nothing_is_stored_by_looking(workspace: Workspace, tmp_path: Path) -> None:
    def stored() -> list[object]:
        with workspace.store.reading() as conn:
            return [frames.takes(conn).rows(), frames.people(conn).rows(), frames.recorded(conn).rows()]

    before = stored()
    look_at(workspace, write(tmp_path, "later.csv", LATER))
    look_at(workspace, write(tmp_path, "log.csv", "reader,number,at\nGATE,0042,2026-11-09 08:00\n"))
    assert stored() == before
    assert not list(workspace.rejected.iterdir())


def test_who_is_new_who_changes_and_who_is_gone_is_said_by_name(workspace: Workspace, tmp_path: Path) -> None:
    changes = look_at(workspace, write(tmp_path, "later.csv", LATER)).changes
    assert changes is not None
    assert (changes.new, changes.changed, changes.gone, changes.known) == (1, 2, 1, 0)
    assert changes.says == (
        "1 new person: Ana Ruiz (P4).",
        "1 person: department changes: Ida Marlow (P1) Milling to Packing.",
        "1 person: hourly rate changes: Lena Fisk (P3) 17 to 17.5.",
        "Rui Okoro (P2) is no longer listed.",
    )


def test_people_of_sites_that_a_roster_does_not_name_are_not_missed_on_it(workspace: Workspace, tmp_path: Path) -> None:
    other = LATER.splitlines()[0] + "\nP9,Uma Holt,5512,Quay,Dock,no,2026-11-02,,17.00\n"
    changes = look_at(workspace, write(tmp_path, "quay.csv", other)).changes
    assert changes is not None
    assert changes.gone == 0


def test_many_new_people_are_named_up_to_six_and_counted(workspace: Workspace, tmp_path: Path) -> None:
    rows = [f"Q{place},Person {chr(65 + place)},51{place:02},Mill" for place in range(18)]
    changes = look_at(workspace, write(tmp_path, "more.csv", "\n".join(["person,name,number,site", *rows]))).changes
    assert changes is not None
    assert changes.says[0].startswith("18 new people: Person A (Q0), ")
    assert changes.says[0].endswith("Person F (Q5) and 12 more.")


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("people", LATER),
        ("readers", READERS.replace("SILO,Mill", "SILO,Quay") + "DOCK,Quay,Dock,America/New_York,4,100\n"),
        (
            "enrolments",
            ENROLMENTS.replace("GATE,2290,Lena Fisk,no,2020-01-02\n", "GATE,2290,Lena Fisk,yes,2020-01-02\n"),
        ),
        ("enrolments", "\n".join(ENROLMENTS.splitlines()[:3]) + "\n"),
        ("punches", "\n".join([PUNCHES[0], *sorted(PUNCHES[1:4]), "GATE,0042,2026-11-09 08:00:00,in"])),
        ("rates", "person,valid_from,amount\nP1,2026-11-01,19.00\nP2,2026-11-01,22.00\n"),
        ("schedules", "person,starts_at,ends_at\nP1,2026-11-09 08:00,2026-11-09 16:00\n"),
    ],
)
def test_what_is_foreseen_is_what_happens(workspace: Workspace, tmp_path: Path, name: str, text: str) -> None:
    path = write(tmp_path, f"{name}.csv", text)
    seen = look_at(workspace, path)
    receipt = take_file(workspace, path)
    assert seen.changes is not None
    assert receipt.table == seen.proposal.layout.table == name
    assert receipt.taken == seen.changes.new + seen.changes.changed
    assert receipt.gone == seen.changes.gone
    assert (receipt.known, receipt.read, receipt.rejected) == (seen.changes.known, seen.read, seen.refused)


def test_the_first_rows_are_shown_as_written_beside_as_read(workspace: Workspace, tmp_path: Path) -> None:
    text = "reader,number,at,way\nGATE,0042,11/30/2026 07:58 AM,in\nGATE,0042,11/31/2026 08:00 AM,in\n"
    seen = look_at(workspace, write(tmp_path, "log.csv", text))
    first, second = seen.first
    assert first.written == ("GATE", "0042", "11/30/2026 07:58 AM", "in")
    assert first.read["at"] == "Mon 30 Nov 2026, 07:58"  # Monday by the calendar of Python's datetime
    assert (second.line, second.read, "11/31/2026" in second.written[2]) == (3, {}, True)
    assert second.reason == seen.refusals[0].reason
    assert (seen.refusals[0].line, seen.refusals[0].rows, seen.refused) == (3, 1, 1)


def test_a_content_taken_before_is_named_by_its_take(workspace: Workspace, tmp_path: Path) -> None:
    seen = look_at(workspace, write(tmp_path, "again.csv", PEOPLE))
    with workspace.store.reading() as conn:
        take = frames.takes(conn).filter(table="people")["take"].item()
    assert (seen.taken_before, seen.proposal.kept) == (take, "people-1.toml")


def test_a_content_taken_by_another_layout_is_said_to_be_read_again_in_its_place(
    workspace: Workspace, tmp_path: Path
) -> None:
    path = write(tmp_path, "again.csv", PEOPLE)
    seen = look_at(workspace, path, Answers(ignored=frozenset({"department"})))
    take = seen.taken_before
    assert take > 0
    assert seen.changes is None
    assert f"as take {take}, by another layout" in seen.notices[0]
    assert f"`evenhand takes again {take} --author NAME --reason WHY`" in seen.notices[0]


def test_a_roster_of_others_and_a_log_of_the_future_are_taken_by_nobody_unseen(
    workspace: Workspace, tmp_path: Path
) -> None:
    names = ["Ana Ruiz", "Ben Ode", "Cleo Park", "Dov Lind", "Eve Tan", "Flo Marsh"]
    others = ["Gus Hale", "Hal Stone", "Ida Wren", "Jan Kerr", "Kim Vale", "Lou Finch"]

    def roster(name: str, of: list[str]) -> Path:
        rows = "".join(f'K{at},"{one}",{1000 + at}\n' for at, one in enumerate(of))
        return write(tmp_path, name, f"person,name,number\n{rows}")

    def log(name: str, month: str) -> Path:
        rows = "".join(f"North,{1000 + at},2026-{month}-14 07:0{at}:10\n" for at in range(6))
        return write(tmp_path, name, f"reader,number,at\n{rows}")

    def take(path: Path, *, is_unseen: bool = True):
        # the workspace has people whom none of these rosters lists
        part = Answers(roster="part")
        return take_files(workspace, [path], answers=part, today=date(2026, 11, 26), is_unseen=is_unseen)[0]

    readers = write(tmp_path, "readers.csv", "reader,site,zone\nNorth,Mill,UTC\n")
    for path in (readers, roster("one.csv", names), roster("turned.csv", [", ".join(n.split()[::-1]) for n in names])):
        assert isinstance(take(path), Receipt)
    refused = take(roster("others.csv", others))
    assert isinstance(refused, RefusedFile)
    assert "6 of the 6 people" in refused.reason
    assert isinstance(take(log("now.csv", "10")), Receipt)
    refused = take(log("later.csv", "12"))
    assert isinstance(refused, RefusedFile)
    assert "6 of its 6 punches lie in the future, up to 2026-12-14" in refused.reason
    seen = look_at(workspace, tmp_path / "others.csv", today=date(2026, 11, 26))
    assert seen.doubt in seen.notices
    assert doubt_about(seen)
    shown: list[Seen] = []

    def leave(seen: Seen) -> bool:
        shown.append(seen)
        return False

    # A written layout says how a file is read, not that it is the right file.
    [left] = take_files(
        workspace,
        [tmp_path / "others.csv"],
        layout=seen.proposal.layout,
        confirm=leave,
        today=date(2026, 11, 26),
    )
    assert isinstance(left, RefusedFile)
    assert ([one.doubt for one in shown], left.reason) == ([seen.doubt], "others.csv was not taken.")
    assert isinstance(take(tmp_path / "others.csv", is_unseen=False), Receipt)


def test_numbers_that_slipped_and_numbers_of_nobody_are_taken_by_nobody_unseen(
    workspace: Workspace, tmp_path: Path
) -> None:
    names = ["Ana Ruiz", "Ben Ode", "Cleo Park", "Dov Lind", "Eve Tan", "Flo Marsh"]

    def roster(name: str, shift: int) -> Path:
        rows = "".join(f"K{at},{one},{1000 + (at + shift) % 6}\n" for at, one in enumerate(names))
        return write(tmp_path, name, f"person,name,number\n{rows}")

    def log(name: str, first: int) -> Path:
        rows = "".join(f"North,{first + at},2026-10-14 07:0{at}:10\n" for at in range(6))
        return write(tmp_path, name, f"reader,number,at\n{rows}")

    def take(path: Path):
        return take_files(workspace, [path], today=date(2026, 11, 26), is_unseen=True)[0]

    readers = write(tmp_path, "readers.csv", "reader,site,zone\nNorth,Mill,UTC\n")
    for path in (readers, roster("one.csv", 0), log("own.csv", 1000), log("some.csv", 1005)):
        assert isinstance(take(path), Receipt)
    slipped = take(roster("slipped.csv", 1))
    assert isinstance(slipped, RefusedFile)
    assert "6 of the 6 people it shares with the roster a number that was somebody else's" in slipped.reason
    others = take(log("others.csv", 7000))
    assert isinstance(others, RefusedFile)
    assert "None of its 6 numbers, such as 7000, is anybody's" in others.reason
    # What was enrolled earlier in the same go is known as well.
    enrolled = "".join(f"North,{7000 + at},2026-10-0{1 + at}\n" for at in range(6))
    hands = write(tmp_path, "hands.csv", f"reader,number,enrolled on\n{enrolled}")
    both = take_files(workspace, [hands, tmp_path / "others.csv"], today=date(2026, 11, 26), is_unseen=True)
    assert [one.table for one in both if isinstance(one, Receipt)] == ["enrolments", "punches"]


def test_of_many_the_first_are_named_and_all_are_listed_in_full(workspace: Workspace, tmp_path: Path) -> None:
    rows = "".join(f"N{at},Newcomer {at},{5000 + at}\n" for at in range(9))
    seen = look_at(workspace, write(tmp_path, "many.csv", f"person,name,number\n{rows}"))
    assert seen.changes
    assert "and 3 more" in seen.changes.says[0]
    assert seen.changes.in_full[0] == tuple(f"Newcomer {at} (N{at})" for at in range(9))
    few = look_at(workspace, write(tmp_path, "few.csv", "\n".join(f"person,name,number\n{rows}".splitlines()[:4])))
    assert few.changes
    assert (few.changes.new, few.changes.in_full[0]) == (3, ())


def test_a_log_with_bad_rows_is_not_asked_about_what_a_kept_layout_of_its_columns_says(
    workspace: Workspace, tmp_path: Path
) -> None:
    def log(name: str, *rows: str) -> Path:
        return write(tmp_path, name, "".join(f"{row}\n" for row in ("Terminal;Ausweis;Datum;Uhrzeit", *rows)))

    days = [f"GATE;0042;{day}.11.2026;06:0{day % 10}:07" for day in (12, 13, 14)]
    assert take_file(workspace, log("one.csv", *days)).taken == 3
    bad = ["GATE;0042;32.11.2026;17:00:00", "GATE;0042;04.11.2026;=A1", "GATE;0042;04.11.2026;18:00:0x", "LOFT;0042"]
    good = [f"GATE;0042;04.11.2026;06:{minute:02}:07" for minute in range(16)]
    seen = look_at(workspace, log("two.csv", *good, *bad))
    assert (seen.proposal.kept, seen.proposal.questions) == ("", ())
    assert (seen.read, seen.refused, seen.proposal.layout.date_order) == (20, 4, "dmy")
    # Another kind of file, of which that layout says nothing, is asked about.
    other = log("three.csv", good[0]).read_text().replace("Datum", "Tag")
    assert [one.about for one in look_at(workspace, write(tmp_path, "four.csv", other)).proposal.questions] == ["dates"]
