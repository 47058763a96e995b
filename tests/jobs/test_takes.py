"""Taking a file back, reading one again: what is foreseen is what happens, and what cannot be done is refused."""

from __future__ import annotations

import csv
import stat
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import openpyxl
import pytest
import sqlalchemy as sa
from alembic import command
from click.testing import CliRunner

from evenhand.cli import evenhand
from evenhand.jobs import mended
from evenhand.jobs.correct import CorrectionRequest, correct, reckon_around
from evenhand.jobs.kept_layouts import read_layout
from evenhand.jobs.mended import forget_layout, layout_left, mend_kept
from evenhand.jobs.reading_again import layout_for
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_weeks, renewed
from evenhand.jobs.take import Answers, Receipt, take_file
from evenhand.jobs.takes import (
    Foreseen,
    PunchesHeld,
    foresee_again,
    foresee_back,
    layout_of,
    list_takes,
    read_again,
    source_of,
    take_back,
)
from evenhand.jobs.workspace import STORE_FILE, Workspace, create_workspace, open_workspace
from evenhand.store import frames
from evenhand.store.handed_off import add_handoff
from evenhand.store.migrations.upgrade import config
from evenhand.store.settings import read_settings, write_settings
from evenhand.terms.handed_off import HANDED_OFF, PRINTED
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import SiteRules

NOW = datetime(2026, 11, 16, 13, tzinfo=UTC)
SAID = {"author": "Ada", "reason": "a mistake"}
READERS = "reader,site,zone\nGATE,Mill,America/Chicago\nDOCK,Mill,America/Chicago\n"
PEOPLE = "person,name,number,site,hourly rate\nP1,Ada Quill,0041,Mill,20\nP2,Ben Rook,0042,Mill,18.50\n"
MONDAY = """reader,number,at,direction
GATE,0041,2026-10-26 08:00:10,in
GATE,0042,2026-10-26 08:01:25,in
GATE,0041,2026-10-26 16:00:10,out
GATE,0042,2026-10-26 16:31:25,out
LOFT,0042,2026-10-26 17:00:00,out
"""
READERS_TAKE, PEOPLE_TAKE, LOG = 1, 2, 3


def take(workspace: Workspace, name: str, text: str) -> Receipt:
    path = workspace.directory.parent / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return take_file(workspace, path, answers=Answers())


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    for name, text in (("readers.csv", READERS), ("people.csv", PEOPLE), ("monday.csv", MONDAY)):
        take(made, name, text)
    return made


def leave_out(workspace: Workspace, person: str) -> int:
    """Leave out the first punch of a person, and return the correction's number."""
    with workspace.store.reading() as conn:
        number = {"P1": "0041", "P2": "0042"}[person]
        rows = frames.recorded(conn)
    punch = next(row["punch"] for row in rows.iter_rows(named=True) if row["number"] == number)
    asked = CorrectionRequest("leave_out", person, "Ida", "a test of the reader", punch=punch)
    return correct(workspace, reckon_around(workspace, punch=punch, as_of=NOW), asked, as_of=NOW).number


def paid(workspace: Workspace) -> dict[str, int]:
    weeks = reckon_weeks(workspace, NOW, date(2026, 10, 1)).hours.weeks
    return {row["person"]: row["ordinary_s"] for row in weeks.iter_rows(named=True)}


def test_a_take_back_takes_punches_hours_and_refused_rows_away_and_again_brings_them_back(
    workspace: Workspace,
) -> None:
    listed = list_takes(workspace)
    assert [(one.take, one.file, one.taken, one.rejected) for one in listed][2] == (3, "monday.csv", 4, 1)
    assert listed[2].rejected_path == workspace.rejected / "0003-monday.csv.csv"
    before = paid(workspace)
    assert before == {"P1": 8 * 3600, "P2": 8 * 3600 + 1800}  # from 08:00:10 to 16:00:10, from 08:01:25 to 16:31:25
    stands = take_back(workspace, LOG, as_of=NOW, **SAID)
    assert (stands.is_back, stands.read, stands.taken, stands.rejected_path) == (True, 0, 0, None)
    assert paid(workspace) == {}
    assert list(workspace.rejected.iterdir()) == []
    read_again(workspace, LOG, layout_of(workspace, LOG), as_of=NOW, **SAID)
    assert paid(workspace) == before
    assert [path.name for path in workspace.rejected.iterdir()] == ["0003-monday.csv.csv"]
    assert [made.action for made in list_takes(workspace)[2].decided] == ["back", "again"]
    assert source_of(workspace, LOG).content.decode() == MONDAY


def test_what_is_foreseen_is_what_happens_and_nothing_is_written(workspace: Workspace) -> None:
    kept = leave_out(workspace, "P1")
    was = paid(workspace)
    foreseen = foresee_back(workspace, LOG, as_of=NOW)
    assert paid(workspace) == was
    assert (foreseen.punches_gone, foreseen.punches_new, foreseen.punches_moved) == (4, 0, 0)
    assert {(one.person, one.paid_after_s) for one in foreseen.weeks} == {(person, 0) for person in was}
    assert [(one.correction, one.number, one.reader) for one in foreseen.hanging] == [(kept, "0041", "GATE")]
    take_back(workspace, LOG, as_of=NOW, **SAID)
    with workspace.store.reading() as conn:
        assert frames.hanging(conn)["correction"].to_list() == [kept]
    assert not rebuild(workspace, is_try=True, as_of=NOW).differing


def test_a_period_that_was_handed_off_is_named_with_whom_it_pays_otherwise(workspace: Workspace) -> None:
    with workspace.store.writing() as conn:
        week = {"period": (date(2026, 10, 25), date(2026, 10, 31)), "file": "week.csv", "digest": "d"}
        add_handoff(
            conn,
            HANDED_OFF.empty(),
            figures=PRINTED.empty(),
            files={},
            money=(),
            **week,
            totals="{}",
            despite="[]",
            author="Ada",
            made_at=5,
        )
        other = {"period": (date(2026, 10, 18), date(2026, 10, 24)), "file": "before.csv", "digest": "d"}
        add_handoff(
            conn,
            HANDED_OFF.empty(),
            figures=PRINTED.empty(),
            files={},
            money=(),
            **other,
            totals="{}",
            despite="[]",
            author="Ada",
            made_at=4,
        )
    foreseen = foresee_back(workspace, LOG, as_of=NOW)
    assert [(one.file, one.people) for one in foreseen.periods] == [("week.csv", ("P1", "P2"))]
    assert [(str(one.pay_before), one.pay_after) for one in foreseen.weeks] == [("160.0000", 0), ("157.2500", 0)]


def test_zeros_that_were_lost_are_given_back_in_place(workspace: Workspace) -> None:
    receipt = take(workspace, "new.csv", "person,name,number,site\nP3,Cy Oak,43,Mill\nP4,Di Fir,44,Mill\n")
    wide = replace(layout_of(workspace, receipt.take), number_width=4)
    foreseen = foresee_again(workspace, receipt.take, wide, as_of=NOW)
    assert [(one.table, one.new, one.changed) for one in foreseen.tables] == [
        ("people", (), ("P3 Cy Oak", "P4 Di Fir"))
    ]
    read_again(workspace, receipt.take, wide, as_of=NOW, **SAID)
    with workspace.store.reading() as conn:
        assert frames.people(conn)["number"].to_list() == ["0041", "0042", "0043", "0044"]


def test_a_layout_that_was_edited_has_the_same_content_read_again_in_its_place(workspace: Workspace) -> None:
    receipt = take(workspace, "gate.csv", "reader,number,at\nGATE,41,2026-10-27 08:00:00\n")
    assert receipt.layout_path is not None
    text = receipt.layout_path.read_text(encoding="utf-8")
    receipt.layout_path.write_text(text.replace("number_width = 4", "number_width = 6"), encoding="utf-8")
    again = take(workspace, "gate.csv", "reader,number,at\nGATE,41,2026-10-27 08:00:00\n")
    assert (again.take, again.taken) == (receipt.take, 1)
    assert f"as take {receipt.take}, by another layout" in again.notices[0]
    with workspace.store.reading() as conn:
        assert sorted(frames.recorded(conn)["number"].unique()) == ["000041", "0041", "0042"]
    third = take(workspace, "gate.csv", "reader,number,at\nGATE,41,2026-10-27 08:00:00\n")
    assert (third.taken, third.known, third.take) == (0, 1, receipt.take)


def test_a_content_that_was_taken_back_may_be_taken_anew(workspace: Workspace) -> None:
    take_back(workspace, PEOPLE_TAKE, as_of=NOW, **SAID)
    assert take(workspace, "people.csv", PEOPLE).taken == 2
    assert [one.is_back for one in list_takes(workspace)] == [False, True, False, False]


def test_two_files_of_one_name_keep_their_refused_rows_apart(workspace: Workspace, tmp_path: Path) -> None:
    other = take(workspace, "elsewhere/monday.csv", MONDAY.replace("LOFT", "ROOF"))
    assert other.rejected_path == workspace.rejected / f"{other.take:04d}-monday.csv.csv"
    texts = []
    for path in sorted(workspace.rejected.iterdir()):
        with path.open(encoding="utf-8-sig", newline="") as file:
            texts.append([row["text"] for row in csv.DictReader(file)])
    assert [text[0][:4] for text in texts] == ["LOFT", "ROOF"]


def test_whom_a_whole_roster_no_longer_lists_is_gone_until_one_lists_them(workspace: Workspace) -> None:
    def gone() -> list[tuple[str, int]]:
        with workspace.store.reading() as conn:
            return frames.gone_people(conn).select("person", "take").rows()

    rest = "person,name,number,site,hourly rate\nP1,Ada Quill,0041,Mill,20\n"
    shorter = take(workspace, "shorter.csv", rest)
    assert (shorter.gone, gone()) == (1, [("P2", shorter.take)])
    take_back(workspace, shorter.take, as_of=NOW, **SAID)
    assert gone() == []
    read_again(workspace, shorter.take, layout_of(workspace, shorter.take), as_of=NOW, **SAID)
    take(workspace, "all.csv", PEOPLE + "P3,Cy Oak,0043,Mill,17\nP4,Di Fir,0044,Mill,17\n")
    assert gone() == []
    part = take(workspace, "part.csv", rest)  # one of four is no whole roster
    assert (part.gone, gone()) == (0, [])
    elsewhere = take(workspace, "quay.csv", rest.replace("P1", "P9").replace("0041", "0049").replace("Mill", "Quay"))
    assert (elsewhere.gone, gone()) == (0, [])


def test_a_page_that_is_open_follows(workspace: Workspace) -> None:
    kept = leave_out(workspace, "P1")
    open_page = reckon_weeks(workspace, NOW, date(2026, 10, 1))
    assert open_page.hours.weeks.height == 2
    take_back(workspace, LOG, as_of=NOW, **SAID)
    open_page = renewed(workspace, open_page)
    assert open_page.hours.weeks.height == 0
    late = take(workspace, "late.csv", MONDAY.replace("LOFT", "DOCK"))  # the same presentations, under another take
    open_page = renewed(workspace, open_page)
    correction = open_page.snapshot.corrections.row(0, named=True)
    assert (correction["correction"], correction["punch"] >> 32) == (kept, late.take)
    assert paid(workspace).get("P1", 0) == 0  # it is left out here as well


@pytest.mark.parametrize(
    ("take", "said", "says"),
    [(9, SAID, "there is no take 9"), (3, {"author": " ", "reason": "x"}, "by somebody and for a reason")],
)
def test_what_cannot_be_taken_back_is_refused(workspace: Workspace, take: int, said: dict[str, str], says: str) -> None:
    with pytest.raises((Refusal, Unknown), match=says):
        take_back(workspace, take, as_of=NOW, **said)
    assert [one.is_back for one in list_takes(workspace)] == [False, False, False]


def test_the_same_again_is_refused(workspace: Workspace) -> None:
    take_back(workspace, LOG, as_of=NOW, **SAID)
    with pytest.raises(Refusal, match="taken back already"):
        foresee_back(workspace, LOG, as_of=NOW)
    with pytest.raises(Refusal, match="by this very layout already"):
        foresee_again(workspace, PEOPLE_TAKE, layout_for(workspace, PEOPLE_TAKE, Answers()), as_of=NOW)


def test_a_source_that_is_missing_leaves_everything_as_it_was(workspace: Workspace) -> None:
    workspace.sources.drop(source_of(workspace, LOG).sha256)
    was = paid(workspace)
    for deed in (
        lambda: take_back(workspace, READERS_TAKE, as_of=NOW, **SAID),
        lambda: rebuild(workspace, False, as_of=NOW),
    ):
        with pytest.raises(Refusal, match=r"source of monday.csv, is missing"):
            deed()
    assert paid(workspace) == was
    assert not list_takes(workspace)[2].has_source


def test_a_source_that_is_damaged_is_put_right_by_taking_the_file_again(workspace: Workspace) -> None:
    source = source_of(workspace, PEOPLE_TAKE)
    (workspace.sources.folder / f"{source.sha256}.gz").write_bytes(b"not what it was")
    with pytest.raises(Refusal, match=r"source of people.csv, cannot be read; put back a backup of it, or take the"):
        source_of(workspace, PEOPLE_TAKE)
    take(workspace, "people.csv", PEOPLE)
    assert source_of(workspace, PEOPLE_TAKE).content == source.content
    assert len(list_takes(workspace)) == 3


def test_a_source_that_is_missing_is_put_back_by_taking_the_file_again(workspace: Workspace) -> None:
    source = source_of(workspace, PEOPLE_TAKE)
    workspace.sources.drop(source.sha256)
    again = take(workspace, "people.csv", PEOPLE)
    assert (again.taken, again.take, len(list_takes(workspace))) == (0, PEOPLE_TAKE, 3)
    assert source_of(workspace, PEOPLE_TAKE).content == source.content


def test_refused_rows_are_their_owners_alone(workspace: Workspace) -> None:
    [path] = workspace.rejected.iterdir()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.unlink()
    take(workspace, "more.csv", PEOPLE.replace("Rook", "Rooke"))  # which puts right what lies beside the store
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_layout_by_which_a_take_cannot_be_read_again_is_not_kept(workspace: Workspace) -> None:
    path = workspace.directory.parent / "gate.csv"
    path.write_text("number,at\n0041,2026-10-27 08:00:10\n", encoding="utf-8")
    receipt = take_file(workspace, path, answers=Answers(reader="GATE"))
    take(workspace, "yard.csv", "reader,site,zone\nYARD,Mill,America/Chicago\n")
    kept = set(workspace.layouts.glob("*.toml"))
    by = replace(layout_of(workspace, receipt.take), reader="YARD")  # which was not listed yet when it was taken
    with pytest.raises(Refusal, match="cannot be read so in its place"):
        take_file(workspace, path, layout=by)
    assert set(workspace.layouts.glob("*.toml")) == kept


def test_a_damaged_row_is_found_by_rebuild_and_mended(workspace: Workspace) -> None:
    with workspace.store.writing() as conn:
        conn.exec_driver_sql("UPDATE people SET number = '9999' WHERE person = 'P1'")
        conn.exec_driver_sql("INSERT INTO folding (running) VALUES (1)")
        conn.exec_driver_sql("DELETE FROM punches WHERE number = '0042' AND line = 3")
        conn.exec_driver_sql("DELETE FROM folding")
    tried = rebuild(workspace, is_try=True, as_of=NOW)
    assert tried.differing == 3  # a row of people as it was and as it is, and a punch
    assert {(one.table, one.is_new) for one in tried.first} == {("people", True), ("people", False), ("punches", True)}
    assert rebuild(workspace, is_try=False, author="Ada", as_of=NOW).differing == 3
    assert rebuild(workspace, is_try=True, as_of=NOW).differing == 0
    with workspace.store.reading() as conn:
        assert frames.people(conn)["number"].to_list() == ["0041", "0042"]


def test_nothing_changes_is_said_so(workspace: Workspace) -> None:
    receipt = take(workspace, "same.csv", MONDAY.replace("LOFT", "DOCK").rsplit("DOCK", 1)[0])
    assert receipt.taken == 0
    seen = foresee_back(workspace, receipt.take, as_of=NOW)
    assert seen == Foreseen(receipt.take, "same.csv", (), 0, 0, 0, (), (), (), (), ())


EARLIER = (
    "INSERT INTO takes VALUES (1, 'readers.csv', 'a', 'readers', '', 1, 1, 0, 0, 0, 5)",
    "INSERT INTO takes VALUES (2, 'people.csv', 'b', 'people', '', 1, 1, 0, 0, 0, 5)",
    "INSERT INTO takes VALUES (3, 'log.csv', 'c', 'punches', '', 1, 1, 0, 0, 0, 5)",
    "INSERT INTO readers VALUES ('GATE', 'Mill', NULL, 'America/Chicago', NULL, NULL, 1)",
    "INSERT INTO people (person, name, number, site, take) VALUES ('P1', 'Ada Quill', '41', 'Mill', 2)",
    "INSERT INTO punches VALUES ('GATE', 1793019610, '0041', 'in', 'accepted', 0, NULL, 2, 3)",
    "INSERT INTO corrections VALUES (1, 'direct', 12884901890, 'P1', NULL, 'in', 'Ida', 'seen', 6)",
)


def test_takes_of_before_sources_were_kept_stay_as_they_are(tmp_path: Path) -> None:
    create_workspace(tmp_path / "mill").close()
    place = tmp_path / "mill" / STORE_FILE
    for name in (STORE_FILE, f"{STORE_FILE}-wal", f"{STORE_FILE}-shm"):
        (tmp_path / "mill" / name).unlink(missing_ok=True)
    (tmp_path / "mill/rejected/0003-monday.csv.csv").write_text("theirs", encoding="utf-8")  # a name of before
    engine = sa.create_engine(f"sqlite:///{place}")
    with engine.begin() as conn:
        settings = config()
        settings.attributes["connection"] = conn
        command.upgrade(settings, "0007")
        for statement in EARLIER:
            conn.exec_driver_sql(statement)
    engine.dispose()
    workspace = open_workspace(tmp_path / "mill")
    with pytest.raises(Refusal, match=r"from before sources were kept.*take the file again"):
        foresee_back(workspace, 2, as_of=NOW)
    roster = take(workspace, "people.csv", "person,name,number,site\nP1,Ada Quill,0041,Mill\n")
    log = take(workspace, "monday.csv", MONDAY)
    assert (roster.take, roster.taken, log.taken, log.known) == (4, 1, 3, 1)
    assert not rebuild(workspace, is_try=True, as_of=NOW).differing
    for number in (roster.take, log.take):
        take_back(workspace, number, as_of=NOW, **SAID)
    with workspace.store.reading() as conn:
        assert frames.people(conn)["number"].to_list() == ["41"]
        assert frames.recorded(conn)["punch"].to_list() == [(3 << 32) + 2]
        assert frames.changes(conn).is_empty()
        assert frames.hanging(conn).is_empty()
    assert not rebuild(workspace, is_try=False, as_of=NOW).differing
    assert (tmp_path / "mill/rejected/0003-monday.csv.csv").read_text(encoding="utf-8") == "theirs"
    assert [one.has_source for one in list_takes(workspace)] == [False] * 3 + [True] * 2


def test_the_layout_of_a_mistake_is_mended_with_it_or_named(workspace: Workspace) -> None:
    was = next(one for one in list_takes(workspace) if one.take == PEOPLE_TAKE)
    layout = layout_of(workspace, PEOPLE_TAKE)
    padded = replace(layout, number_width=6)
    read_again(workspace, PEOPLE_TAKE, padded, **SAID, as_of=NOW)
    assert mend_kept(workspace, was, padded) == was.layout
    assert read_layout(workspace.layouts / was.layout).number_width == 6
    assert mend_kept(workspace, was, layout) == ""  # it is another by now
    assert layout_left(workspace, was) == was.layout  # it would be, were this take taken back
    back = take_back(workspace, PEOPLE_TAKE, **SAID, as_of=NOW)
    assert layout_left(workspace, back) == was.layout


def test_whoever_was_stopped_before_the_layout_was_mended_mends_it_by_reading_again(workspace: Workspace) -> None:
    kept = workspace.layouts / list_takes(workspace)[PEOPLE_TAKE - 1].layout
    again = ["-w", str(workspace.directory), "takes", "again", str(PEOPLE_TAKE), "--zeros", "6", "--yes"]
    again += ["--author", SAID["author"], "--reason", SAID["reason"]]
    read_again(workspace, PEOPLE_TAKE, replace(layout_of(workspace, PEOPLE_TAKE), number_width=6), **SAID, as_of=NOW)
    assert read_layout(kept).number_width != 6  # stopped here
    said = CliRunner().invoke(evenhand, again).exception
    assert isinstance(said, Refusal)
    assert f"are from now on, by {kept.name}." in str(said)
    assert read_layout(kept).number_width == 6
    assert "nothing was changed" in str(CliRunner().invoke(evenhand, again).exception)
    assert [len(one.decided) for one in list_takes(workspace)] == [0, 1, 0]


def test_a_layout_that_no_other_take_is_read_by_can_be_forgotten_with_its_take(workspace: Workspace) -> None:
    other = take(workspace, "tuesday.csv", MONDAY.replace("10-26", "10-27"))
    first = next(one for one in list_takes(workspace) if one.take == LOG)
    assert first.layout == next(one for one in list_takes(workspace) if one.take == other.take).layout
    assert forget_layout(workspace, take_back(workspace, LOG, **SAID, as_of=NOW)) == ""
    back = take_back(workspace, other.take, **SAID, as_of=NOW)
    assert forget_layout(workspace, back) == back.layout
    assert not (workspace.layouts / back.layout).exists()
    assert forget_layout(workspace, back) == ""


def test_a_layout_is_put_in_place_while_nobody_sweeps_its_folder(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    places: list[Path] = []

    def replace_held(path: Path, content: bytes) -> None:
        with pytest.raises(Refusal, match="in use by another program"), workspace.sources.held(wait_s=0.0):
            pass
        places.append(path)

    monkeypatch.setattr(mended, "replace_file", replace_held)
    was = list_takes(workspace)[PEOPLE_TAKE - 1]
    mend_kept(workspace, was, replace(layout_of(workspace, PEOPLE_TAKE), number_width=5))
    assert places == [workspace.layouts / was.layout]


def test_what_is_no_zone_and_no_table_is_refused_before_anything_is_read(workspace: Workspace) -> None:
    for said in (Answers(zone="Mars/Base"), Answers(table="recipes")):
        with pytest.raises(Refusal, match=r"'Mars/Base' is not a time zone|'recipes' is none of the tables"):
            layout_for(workspace, PEOPLE_TAKE, said)


def test_a_correction_does_not_hold_on_to_the_line_of_another_sheet(workspace: Workspace, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for name, day in (("October", 27), ("November", 28)):
        sheet = book.create_sheet(name)
        for row in (["reader", "number", "at"], ["GATE", "0041", f"2026-10-{day} 08:00:10"]):
            sheet.append(row)
    book.remove(book.worksheets[0])
    book.save(tmp_path / "log.xlsx")
    receipt = take_file(workspace, tmp_path / "log.xlsx", answers=Answers())
    by = layout_of(workspace, receipt.take)
    with workspace.store.reading() as conn:
        [punch] = [row["punch"] for row in frames.recorded(conn).iter_rows(named=True) if row["punch"] >> 32 == 4]
    asked = CorrectionRequest("leave_out", "P1", "Ida", "a test of the reader", punch=punch)
    made = correct(workspace, reckon_around(workspace, punch=punch, as_of=NOW), asked, as_of=NOW).number
    other = {"October": "November", "November": "October"}[by.sheet]
    read_again(workspace, receipt.take, replace(by, sheet=other), as_of=NOW, **SAID)
    with workspace.store.reading() as conn:
        stored = frames.recorded(conn)["punch"].to_list()
        assert punch in stored  # the other sheet has a punch on this line as well
        assert frames.hanging(conn)["correction"].to_list() == [made]
        assert frames.corrections(conn)["punch"].item() not in stored
    read_again(workspace, receipt.take, by, as_of=NOW, **SAID)
    with workspace.store.reading() as conn:
        assert (frames.corrections(conn)["punch"].item(), frames.hanging(conn).height) == (punch, 0)


def test_punches_that_another_take_holds_too_stay_by_it_and_are_not_said_to_go(workspace: Workspace) -> None:
    # The same presentations without their direction, and one that only the first export has.
    rows = [line.rpartition(",")[0] for line in MONDAY.splitlines() if "16:31" not in line]
    other = take(workspace, "monday_short.csv", "\n".join(rows) + "\n")
    assert (other.taken, other.known) == (0, 3)
    foreseen = foresee_back(workspace, LOG, as_of=NOW)
    assert (foreseen.punches_gone, foreseen.punches_new, foreseen.punches_moved) == (1, 0, 0)
    assert foreseen.punches_held == (PunchesHeld(other.take, 3, 3),)  # it tells less of each
    whole = take(workspace, "monday_whole.csv", MONDAY.replace("LOFT", "DOCK"))
    foreseen = foresee_back(workspace, LOG, as_of=NOW)
    assert (foreseen.punches_gone, foreseen.punches_new) == (0, 0)
    assert {one.take: one.punches for one in foreseen.punches_held} in ({other.take: 3, whole.take: 1}, {whole.take: 4})
    assert foreseen.weeks == ()


def test_a_week_whose_ordinary_hours_become_overtime_is_shown_though_its_total_stays(tmp_path: Path) -> None:
    made = create_workspace(tmp_path / "mill", "Harbour Mill")
    settings = read_settings(made.settings_file)
    write_settings(
        made.settings_file,
        replace(settings, sites={"Quay": SiteRules("Quay", "America/Los_Angeles", jurisdiction="california")}),
    )
    take(made, "readers.csv", "reader,site,zone\nQUAY,Quay,America/Los_Angeles\n")
    take(made, "people.csv", "person,name,number,site\nP1,Ada Quill,0041,Quay\n")
    # Ten hours over midnight: six on one workday and four on the next (Cal. Labor Code 500 (a): a workday is any
    # consecutive 24 hours beginning at the same time each calendar day).
    log = "reader,number,at,direction\nQUAY,0041,2026-10-26 18:00:00,in\nQUAY,0041,2026-10-27 04:00:00,out\n"
    receipt = take(made, "log.csv", log)
    # Told on a clock five hours ahead of Los Angeles in summer (UTC-2) it is 13:00 to 23:00: ten hours on one workday,
    # of which two are overtime (Cal. Labor Code 510 (a): over eight hours in one workday).
    by = replace(layout_of(made, receipt.take), zone="America/Noronha")
    [week] = foresee_again(made, receipt.take, by, as_of=NOW).weeks
    assert (week.paid_before_s, week.paid_after_s) == (36_000, 36_000)
    assert (week.overtime_before_s, week.overtime_after_s) == (0, 7_200)
    assert (week.double_before_s, week.double_after_s, week.pay_before, week.pay_after) == (0, 0, None, None)
    made.close()
