"""A list of people that leaves out many of those listed before is asked about before anybody is gone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from evenhand.jobs import folder_state
from evenhand.jobs.folder_intake import Watcher
from evenhand.jobs.numbering import as_file
from evenhand.jobs.reading_again import layout_for
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.take import Answers, Receipt, RefusedFile, look_at, take_file, take_files
from evenhand.jobs.takes import read_again
from evenhand.jobs.waiting import path_of, take_waiting
from evenhand.jobs.workspace import Workspace, create_workspace
from evenhand.store import frames
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Intake

NOW = datetime(2026, 11, 9, 14, 0, tzinfo=UTC)
PART, WHOLE = Answers(roster="part"), Answers(roster="whole")
FEMALE = ("Ada", "Bea", "Cleo", "Dora", "Edda", "Flora", "Gwen", "Hazel", "Iris", "June")
FAMILY = ("Quill", "Rook", "Marlow", "Fisk", "Okoro", "Lane", "Sorrel", "Tamm", "Vane", "Wick")


@pytest.fixture
def workspace(tmp_path: Path) -> Iterator[Workspace]:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    yield made
    made.close()


def roster(folder: Path, name: str, people: range | list[int], **said: str) -> Path:
    """Write a list of people; `said` renames some of them, by their identifier."""
    rows = (
        f"P{one},{said.get(f'P{one}', f'{FEMALE[one % 10]} {FAMILY[one // 10 % 10]}')},{one + 4000},Mill\n"
        for one in people
    )
    path = folder / name
    path.write_text("employee id,name,badge,site\n" + "".join(rows), encoding="utf-8")
    return path


def listed(workspace: Workspace) -> dict[str, str | None]:
    with workspace.store.reading() as conn:
        people = frames.people(conn).join(frames.gone_people(conn), on="person", how="anti")
        return dict(people.select("person", "number").rows())


@pytest.mark.parametrize(
    ("people", "left", "is_asked"),
    [
        (3, 2, False),  # one who left, however few there are
        (60, 54, False),  # a tenth
        (60, 53, True),
        (60, 36, True),  # three fifths stay
        (10, 6, True),
        (60, 29, False),  # less than half is a part
        (600, 550, False),  # fifty
        (600, 549, True),  # more, though less than a tenth
    ],
)
def test_a_list_without_many_of_those_listed_is_asked_about_and_nobody_is_gone_before(
    workspace: Workspace, tmp_path: Path, people: int, left: int, *, is_asked: bool
) -> None:
    take_file(workspace, roster(tmp_path, "first.csv", range(people)))
    short = roster(tmp_path, "short.csv", range(left))
    seen = look_at(workspace, short)
    assert [one.about for one in seen.proposal.questions] == ["roster"] * is_asked
    if not is_asked:
        assert seen.changes is not None
        assert (seen.changes.gone, seen.changes.left_out) == (
            (0, people - left) if left < people / 2 else (people - left, 0)
        )
        return
    asks = seen.proposal.questions[0].asks
    assert asks.startswith(f"short.csv: it leaves out {people - left} of the {people} people listed before: ")
    assert "Is it the whole roster, or a part of it?" in asks
    for unseen in (True, False):
        (refused,) = take_files(workspace, [short], is_unseen=unseen)
        assert isinstance(refused, RefusedFile)
        assert refused.question == seen.proposal.questions[0]
    assert len(listed(workspace)) == people


def test_a_part_adds_and_changes_and_the_whole_leaves_out(workspace: Workspace, tmp_path: Path) -> None:
    take_file(workspace, roster(tmp_path, "first.csv", range(10)))
    short = roster(tmp_path, "short.csv", [*range(6), 11], P0="Ada Quill-Lane")
    seen = look_at(workspace, short, PART)
    assert seen.changes is not None
    assert (seen.changes.new, seen.changes.changed, seen.changes.gone, seen.changes.left_out) == (1, 1, 0, 4)
    assert seen.changes.says[-1].startswith("It is taken as a part of the roster; 4 people not in it stay listed: ")
    seen = look_at(workspace, short, WHOLE)
    assert seen.changes is not None
    assert (seen.changes.new, seen.changes.gone, seen.changes.left_out) == (1, 4, 0)

    receipt = take_file(workspace, short, answers=PART)
    assert (receipt.taken, receipt.gone) == (2, 0)
    assert set(listed(workspace)) == {f"P{one}" for one in (*range(10), 11)}
    # the answer is this file's: the layout kept for others of its kind says nothing of it
    assert [path.read_text().count("roster =") for path in workspace.layouts.glob("*.toml")] == [0]
    assert [one.about for one in look_at(workspace, roster(tmp_path, "next.csv", range(7))).proposal.questions] == [
        "roster"
    ]


def test_what_was_said_holds_when_the_store_is_made_anew_and_the_file_is_read_again(
    workspace: Workspace, tmp_path: Path
) -> None:
    take_file(workspace, roster(tmp_path, "first.csv", range(10)))
    short = roster(tmp_path, "short.csv", range(6))
    take_file(workspace, short, answers=PART)
    assert take_file(workspace, short).known == 6  # the very file again asks nothing
    assert look_at(workspace, short).proposal.questions == ()
    assert not rebuild(workspace, is_try=False, as_of=NOW).differing
    assert len(listed(workspace)) == 10
    # read again at its place with the other answer, and back
    for answers, people in ((WHOLE, 6), (PART, 10)):
        layout = layout_for(workspace, 2, answers)
        read_again(workspace, 2, layout, author="Ada", reason="asked payroll", as_of=NOW)
        assert len(listed(workspace)) == people
    # of the first file nothing is asked, though later lists hold others
    take_file(workspace, roster(tmp_path, "more.csv", range(30, 36)), answers=PART)
    assert layout_for(workspace, 1, Answers()).roster == ""
    assert not rebuild(workspace, is_try=False, as_of=NOW).differing


def test_the_watched_folder_waits_for_the_answer(workspace: Workspace, tmp_path: Path) -> None:
    take_file(workspace, roster(tmp_path, "first.csv", range(10)))
    folder = tmp_path / "incoming"
    folder.mkdir()
    roster(folder, "short.csv", range(6))
    clock = [0.0]
    watcher = Watcher(workspace, lambda _: None, lambda: clock[0])
    for later in (0.0, 20.0):
        clock[0] += later
        watcher.look(Intake(str(folder), 10, is_moved=True))
    (waits,) = folder_state.look(workspace).waiting
    assert waits.why.startswith("It has to be asked about: short.csv: it leaves out 4 of the 10 people listed before: ")
    assert len(listed(workspace)) == 10
    receipt = take_waiting(workspace, waits.key, WHOLE, lambda _: True)
    assert isinstance(receipt, Receipt)
    assert (receipt.gone, len(listed(workspace))) == (4, 6)


def test_numbers_that_waited_undo_nothing_that_others_got_meanwhile(workspace: Workspace, tmp_path: Path) -> None:
    people = roster(tmp_path, "first.csv", range(4))
    people.write_text(people.read_text().replace(",4001,", ",,").replace(",4002,", ",,"))
    take_file(workspace, people)
    new = [(f"P{one}", f"{FEMALE[one]} Quill", f"70{one}7") for one in (1, 2)]
    waits = as_file(workspace, new, NOW)
    # meanwhile somebody is renamed, given another number, and hired
    later = roster(tmp_path, "later.csv", range(5), P3="Dora Vane")
    later.write_text(later.read_text().replace(",4000,", ",4999,").replace(",4001,", ",,").replace(",4002,", ",,"))
    take_file(workspace, later)
    receipt = take_waiting(workspace, waits.key, PART, lambda _: True)
    assert (receipt.taken, receipt.gone) == (2, 0)
    assert listed(workspace) == {"P0": "4999", "P1": "7017", "P2": "7027", "P3": "4003", "P4": "4004"}
    with workspace.store.reading() as conn:
        assert "Dora Vane" in frames.people(conn)["name"].to_list()


def test_a_number_that_somebody_got_meanwhile_is_said_and_not_taken_unseen(
    workspace: Workspace, tmp_path: Path
) -> None:
    people = roster(tmp_path, "first.csv", range(4))
    people.write_text(people.read_text().replace(",4001,", ",,"))
    take_file(workspace, people)
    waits = as_file(workspace, [("P1", "Bea Quill", "7017")], NOW)
    people.write_text(people.read_text().replace(",4003,", ",7017,"))
    take_file(workspace, people)
    path = path_of(workspace, waits.key)[1]
    says = "It gives Bea Quill (P1) the number 7017, which Dora Quill (P3) has: both would be under it."
    assert says in look_at(workspace, path, PART).notices
    for answers in (PART, Answers()):  # said so, or a part by how many it leaves out
        (refused,) = take_files(workspace, [path], answers=answers, is_unseen=True, today=date(2026, 11, 9))
        assert isinstance(refused, RefusedFile)
        assert says in refused.reason
    with pytest.raises(Refusal, match="stand in no file"):
        as_file(workspace, [], NOW)
