"""Erasing a person: held back while anything wants the records, then gone from every file, others as before.

The person is looked for as text, in UTF-8 and UTF-16, in what is compressed, in workbooks, Arrow columns, free pages.
"""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import sqlite3
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import polars as pl
import pytest
import sqlalchemy as sa
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from evenhand.jobs import erasure
from evenhand.jobs.correct import correct
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.erasure import erase, erase_each
from evenhand.jobs.foreseen_erasure import look_at_erasure, look_at_erasures
from evenhand.jobs.handoff import hand_off
from evenhand.jobs.holds import decide_hold, list_holds
from evenhand.jobs.ledger import FileProved, entries, verify
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_period, reckon_weeks
from evenhand.jobs.take import take_files
from evenhand.jobs.takes import take_back
from evenhand.jobs.workspace import Workspace, create_workspace, open_workspace
from evenhand.store import frames
from evenhand.store.erasing import add_hold
from evenhand.store.ledger import erasing
from evenhand.store.ledger import size as ledger_size
from evenhand.store.ledger_check import check_rows
from evenhand.store.ledger_log import read_log
from evenhand.store.refused import refused_rows
from evenhand.store.tables import STORED
from evenhand.store.written import change_row
from evenhand.terms.records import Refusal, Unknown

NOW = datetime(2026, 11, 27, 9, tzinfo=UTC)
THEN = datetime(2021, 2, 16, 14, tzinfo=UTC)
WEEK = date(2021, 2, 8)
NEEDLES = ("Ben Rook", "Rook, Ben", "P1002", "420002", "Rookery Lane")
READERS = "reader,site,zone\nGATE,Mill,America/Chicago\nDOCK,Mill,America/Chicago\n"
PEOPLE = """person,name,number,site,address,hourly rate,hired on,left on
P1001,Ada Quill,410001,Mill,1 Mill Road,20,2020-01-02,
P1002,Ben Rook,420002,Mill,7 Rookery Lane,18.50,2020-01-02,2021-03-01
P1003,Cy Doe,430003,Mill,3 Mill Road,18.50,2020-01-02,
P1004,Dee Fox,440004,Mill,4 Mill Road,18.50,2020-01-02,
"""
LISTED = """reader,number,name,supervisor,presentations
GATE,410001,Ada Quill,yes,3
GATE,420002,Ben Rook,no,4
GATE,430003,Cy Doe,yes,3
"""
LATER = "".join(line for line in LISTED.splitlines(keepends=True) if "420002" not in line)


def log(days: int = 10) -> list[list[str]]:
    rows = []
    for day in (date(2021, 2, 1) + timedelta(days=n) for n in range(days)):
        for number in ("410001", "420002", "430003"):
            rows += [
                ["GATE", number, f"{day} 08:00:10", "in", "accepted", "21.5"],
                ["GATE", number, f"{day} 16:00:10", "out", "accepted", "22.5"],
            ]
    rows.append(["GATE", "420002", "2021-02-05 12:00:00", "in", "refused", "88.5"])
    rows.append(["GATE", "999999", "2021-02-06 12:00:00", "in", "accepted", "30.5"])
    return sorted(rows, key=lambda row: row[2])


HEADER = ["reader", "number", "at", "direction", "outcome", "score"]


@dataclass
class Mill:
    folder: Path
    workspace: Workspace

    def take(self, name: str, text: str | bytes) -> None:
        (self.folder / name).write_bytes(text.encode() if isinstance(text, str) else text)
        take_files(self.workspace, [self.folder / name])

    def erase(self, person: str = "P1002", **more: object) -> object:
        said = {"author": "Ada Quill", "reason": "due"}
        return erase(self.workspace, person, as_of=NOW, **{**said, **more})  # type: ignore[arg-type]


def csv(rows: list[list[str]]) -> str:
    return "\n".join(",".join(row) for row in [HEADER, *rows]) + "\n"


def workbook(rows: list[list[str]]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in [HEADER, *rows]:
        sheet.append(row)
    book.create_sheet("Notes").append(["Ben Rook was here"])
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


@pytest.fixture
def mill(tmp_path: Path, address: str | Path) -> Iterator[Mill]:
    store = address if isinstance(address, str) else ""
    made = Mill(tmp_path, create_workspace(tmp_path / "mill", store=store))
    made.take("readers.csv", READERS)
    made.take("people.csv", PEOPLE)
    made.take("listed.csv", LISTED)
    made.take("log.csv", csv(log()))
    yield made
    made.workspace.close()


def lived(mill: Mill) -> None:
    """Have everything happen to the person that leaves a trace, and then the hand gone from the reader's list."""
    mill.take("again.xlsx", workbook(log(12)))  # overlaps the log, and goes on
    objects = [dict(zip(HEADER, row, strict=True)) for row in log(14)]
    mill.take("more.json", json.dumps(objects, indent=1))
    mill.take("signed.csv", "person,given on,form\nP1001,2020-01-02,A\nP1002,2020-01-02,A\n")
    mill.take("rates.csv", "person,since,rate\nP1001,2020-01-02,21\nP1002,2020-01-02,19\n")
    mill.take("odd.csv", "reader,number,at\nGATE,420002,soon\nGATE,410001,2021-02-20 09:00\n")
    for person in ("P1002", "P1001"):
        asked = CorrectionRequest(
            "add",
            person,
            author="Ben Rook",
            reason="Ben Rook told me",
            at=datetime(2021, 2, 9, 18, tzinfo=UTC),
            direction="in",
        )
        correct(mill.workspace, reckon_period(mill.workspace, THEN, WEEK), asked, as_of=THEN)
    hand_off(
        mill.workspace,
        reckon_period(mill.workspace, THEN, WEEK),
        as_of=THEN,
        period_day=WEEK,
        author="Ada Quill",
        despite=True,
    )
    decide_hold(mill.workspace, "P1002", is_lifted=False, author="Ada", reason="charge of Ben Rook", as_of=THEN)
    decide_hold(mill.workspace, "P1002", is_lifted=True, author="Ada", reason="charge is over", as_of=THEN)
    mill.take("later.csv", LATER)


def everything_in(workspace: Workspace) -> Iterator[tuple[str, bytes]]:
    """Yield all bytes of the workspace, also what they are once unpacked."""
    for path in sorted(workspace.directory.rglob("*")):
        if path.is_file():
            content = path.read_bytes()
            yield path.name, path.name.encode() + content
            if path.suffix == ".gz":
                content = gzip.decompress(content)
                yield path.name, content
            if content.startswith(b"PK"):
                packed = zipfile.ZipFile(io.BytesIO(content))
                yield from ((f"{path.name}: {part}", packed.read(part)) for part in packed.namelist())
    with workspace.store.reading() as conn:
        for table in sa.inspect(conn).get_table_names():
            for row in conn.exec_driver_sql(f'SELECT * FROM "{table}"').mappings():
                yield table, json.dumps(dict(row), default=str, ensure_ascii=False).encode()
                for value in row.values():
                    if isinstance(value, bytes) and table.endswith(("_parts", "_lines")):
                        yield table, pl.read_ipc_stream(io.BytesIO(value)).write_json().encode()


def found_in(workspace: Workspace, needles: tuple[str, ...] = NEEDLES) -> set[tuple[str, str]]:
    forms = {one: (one.encode(), one.encode("utf-16-le"), one.encode("utf-16-be")) for one in needles}
    return {
        (place, needle)
        for place, content in everything_in(workspace)
        for needle, written in forms.items()
        if any(form.lower() in content.lower() for form in written)
    }


def ledger_faults(workspace: Workspace) -> list[str]:
    """Return what the ledger has to say against the store."""
    with workspace.store.reading() as conn:
        log_of = read_log(conn)
        return [fault.says for fault in (*log_of.faults, *check_rows(conn, log_of))]


def others(workspace: Workspace) -> dict[str, list[dict[str, object]]]:
    """Return what is stored of everybody else."""
    with workspace.store.reading() as conn:
        kept = {
            "people": frames.people(conn).filter(pl.col("person") != "P1002"),
            "enrolments": frames.enrolments(conn),
            "recorded": frames.recorded(conn).filter(pl.col("number") != "420002"),
            "rates": frames.rates(conn).filter(pl.col("person") != "P1002"),
            "corrections": frames.corrections(conn).filter(pl.col("person") != "P1002").drop("author", "reason"),
        }
    return {name: frame.to_dicts() for name, frame in kept.items()}


def test_an_erased_person_is_in_no_file_of_the_workspace_and_others_are_as_before(mill: Mill) -> None:
    lived(mill)
    assert {needle for _, needle in found_in(mill.workspace)} >= {"Ben Rook", "P1002", "420002", "Rookery Lane"}
    before = others(mill.workspace)
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    assert (seen.what, seen.holds_back, seen.others) == ("all", (), ())
    done = mill.erase()
    assert done.is_cleared  # type: ignore[attr-defined]
    assert found_in(mill.workspace) == set()
    assert others(mill.workspace) == before
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
    assert ledger_faults(mill.workspace) == []
    # An author who was erased stands as a stand-in, so that what they decided stays one person's.
    with mill.workspace.store.reading() as conn:
        assert frames.corrections(conn).select("author", "reason").rows() == [("erased-1", "erased-1 told me")]
        erased = frames.erasures(conn).row(0, named=True)
    assert (erased["what"], erased["author"], erased["reason"]) == ("all", "Ada Quill", "due")
    # What was closed is closed still: nothing is owed, or owed back, for somebody who is not there.
    reckoning = reckon_period(mill.workspace, THEN, WEEK)
    assert [one.code for one in _closed_findings(reckoning)] == []


def _closed_findings(reckoning: object) -> list[object]:
    from evenhand.jobs.today import find_today

    found = find_today(reckoning, WEEK, charts=False).findings  # type: ignore[arg-type]
    return [one for one in found if one.code == "closed_period_changed"]


def test_the_copy_of_what_payroll_was_handed_loses_the_person_and_keeps_its_totals(mill: Mill) -> None:
    lived(mill)
    (kept,) = mill.workspace.handoff.glob("*.csv")
    rows = kept.read_text(encoding="utf-8-sig").splitlines()
    totals = _handed(mill)["totals"]
    mill.erase()
    assert kept.read_text(encoding="utf-8-sig").splitlines() == [row for row in rows if "P1002" not in row]
    assert not list(mill.workspace.handoff.glob("*.xlsx"))
    (note,) = mill.workspace.handoff.glob("*.txt")
    assert "Totals stand as handed off" in note.read_text()
    assert _handed(mill)["totals"] == totals
    assert set(json.loads(str(_handed(mill)["files"]))) == {kept.name, note.name}


def test_a_file_for_payroll_is_known_as_the_erasure_left_it_and_its_first_state_cannot_be_guessed(mill: Mill) -> None:
    lived(mill)
    (kept,) = mill.workspace.handoff.glob("*.csv")
    first = kept.read_bytes()
    [handed] = entries(mill.workspace, kind="hand-off")
    assert verify(mill.workspace, files={"first": first}).files == {"first": FileProved(handed.entry, None)}
    mill.erase()
    [erasure, *_] = entries(mill.workspace, kind="erasure")
    proved = verify(mill.workspace, files={"kept": kept.read_bytes(), "first": first})
    assert proved.files == {"kept": FileProved(handed.entry, erasure.entry)}
    assert [fault.says for fault in proved.faults] == ["first is no file that was handed off, or was altered since."]
    digest = hashlib.sha256(first).hexdigest().encode()
    assert [place for place, content in everything_in(mill.workspace) if digest in content] == []


def _handed(mill: Mill) -> dict[str, object]:
    with mill.workspace.store.reading() as conn:
        return frames.handoffs(conn).row(0, named=True)


def test_nothing_is_erased_while_a_reader_lists_the_hand(mill: Mill) -> None:
    for what in ("hand", "all"):
        with pytest.raises(Refusal, match="GATE still lists the hand under 420002; take it off there"):
            mill.erase(what=what)
    assert "P1002" in {needle for _, needle in found_in(mill.workspace)}


def test_before_the_day_only_what_came_of_the_hand_goes_and_the_time_stays(mill: Mill) -> None:
    lived(mill)
    with (mill.workspace.settings_file).open("a") as settings:
        settings.write("\n[retention]\nkeep_years = 10\n")
    with pytest.raises(Refusal, match=r"Sat 1 Mar 2031 \(10 years after the last entry Mon 1 Mar 2021"):
        mill.erase(what="all")
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    assert (seen.what, seen.holds_back) == ("hand", ())
    assert any("through Sat 1 Mar 2031" in said for said in seen.stays)
    before = times(mill.workspace)
    mill.erase()
    assert times(mill.workspace) == before
    with mill.workspace.store.reading() as conn:
        theirs = frames.recorded(conn).filter(pl.col("number") == "420002")
        listed = frames.enrolments_ever(conn).filter(pl.col("number") == "420002")
    assert theirs.height == 29 and theirs["score"].null_count() == 29
    assert listed["presentations"].to_list() == [None]
    assert not any(b"88.5" in content for _, content in everything_in(mill.workspace))
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
    assert ledger_faults(mill.workspace) == []


def times(workspace: Workspace) -> list[tuple[object, ...]]:
    with workspace.store.reading() as conn:
        return frames.recorded(conn).select("punch", "reader", "number", "at", "direction", "outcome").rows()


def test_a_hold_keeps_time_records_and_lifting_it_lets_them_go(mill: Mill) -> None:
    lived(mill)
    decide_hold(mill.workspace, "P1002", is_lifted=False, author="Ada", reason="suit 12", as_of=NOW)
    with pytest.raises(Refusal, match=r"a legal hold stops disposal of their time records \(suit 12\)"):
        mill.erase(what="all")
    with pytest.raises(Refusal, match="is under a hold for this already, hold 3"):
        decide_hold(mill.workspace, "P1002", is_lifted=False, author="Ada", reason="Suit 12", as_of=NOW)
    decide_hold(mill.workspace, "P1002", is_lifted=True, author="Ada", reason="settled", as_of=NOW)
    mill.erase()
    assert found_in(mill.workspace) == set()


def test_each_matter_is_a_hold_of_its_own_and_lifted_by_itself(mill: Mill) -> None:
    lived(mill)
    said: dict[str, Any] = {"author": "Ada", "as_of": NOW}
    for matter in ("suit 12", "audit of 2021", "charge 7"):
        decide_hold(mill.workspace, "P1002", is_lifted=False, reason=matter, **said)
    with pytest.raises(Refusal, match=r"several holds: hold 3 \(suit 12\), hold 4 .*say which; nothing was ch"):
        decide_hold(mill.workspace, "P1002", is_lifted=True, reason="over", **said)
    lifted = decide_hold(mill.workspace, "P1002", is_lifted=True, reason="over", hold=4, **said)
    assert (lifted.hold, lifted.matter) == (4, "audit of 2021")
    with pytest.raises(Refusal, match="is not under hold 4, but under hold 3"):
        decide_hold(mill.workspace, "P1002", is_lifted=True, reason="over", hold=4, **said)
    decide_hold(mill.workspace, "P1002", is_lifted=True, reason="settled", hold=3, **said)
    with pytest.raises(Refusal, match=r"a legal hold stops disposal of their time records \(charge 7\)"):
        mill.erase(what="all")
    told = [(one.hold, one.matter, one.is_lifted, one.reason) for one in list_holds(mill.workspace)]
    assert told == [
        (5, "charge 7", False, "charge 7"),
        (1, "charge of Ben Rook", True, "charge is over"),
        (3, "suit 12", True, "settled"),
        (4, "audit of 2021", True, "over"),
    ]


def test_a_hold_lifted_before_holds_were_lifted_one_by_one_stands_no_more(mill: Mill) -> None:
    lived(mill)
    said: dict[str, Any] = {"person": "P1002", "author": "Ada", "made_at": 1, "lifts": None}
    with mill.workspace.store.writing() as conn:
        for reason, is_lifted in (("suit 12", False), ("over", True), ("suit 13", False)):
            add_hold(conn, is_lifted=is_lifted, reason=reason, **said)
    told = [(one.matter, one.is_lifted, one.reason) for one in list_holds(mill.workspace) if one.hold > 2]
    assert told == [("suit 13", False, "suit 13"), ("suit 12", True, "over")]


def test_a_hold_placed_after_the_look_stops_the_erasure(mill: Mill, monkeypatch: pytest.MonkeyPatch) -> None:
    lived(mill)
    look = erasure.look_at_erasure

    def look_and_hold(workspace: Workspace, person: str, **asked: Any) -> erasure.Erasable:
        seen = look(workspace, person, **asked)
        decide_hold(workspace, "P1002", is_lifted=False, author="Ada", reason="suit 12", as_of=NOW)
        return seen

    monkeypatch.setattr(erasure, "look_at_erasure", look_and_hold)
    before = found_in(mill.workspace)
    with pytest.raises(Refusal, match="in the meantime; nothing was erased"):
        mill.erase(what="all")
    assert before <= found_in(mill.workspace)


def test_somebody_who_is_employed_is_not_erased(mill: Mill) -> None:
    with pytest.raises(Refusal, match="is employed and has not withdrawn consent"):
        mill.erase("P1001")


def test_the_file_as_it_was_brings_nobody_back(mill: Mill) -> None:
    lived(mill)
    mill.erase()
    before = newest(mill)
    for name in ("people.csv", "log.csv", "again.xlsx", "more.json"):
        take_files(mill.workspace, [mill.folder / name])
    assert found_in(mill.workspace) == set()
    assert newest(mill) == before


def test_no_digest_is_left_by_which_a_guess_at_what_went_can_be_tried_at_once(mill: Mill) -> None:
    lived(mill)
    digests = {
        hashlib.sha256((mill.folder / name).read_bytes()).hexdigest()
        for name in ("people.csv", "listed.csv", "log.csv")
    }
    assert {
        one for _, content in everything_in(mill.workspace) for one in digests if one.encode() in content
    } == digests
    mill.erase()
    assert [
        place for place, content in everything_in(mill.workspace) if any(one.encode() in content for one in digests)
    ] == []
    with mill.workspace.store.reading() as conn:
        kept = conn.execute(sa.select(STORED["erased_sources"].c.sha256_before)).scalars().all()
    # RFC 7914: scrypt with N = 65536, r = 8, p = 1 fills 64 MiB; worked out by the library `cryptography`
    salts = {one.split("$")[1] for one in kept}
    assert len(salts) == 1
    made = Scrypt(bytes.fromhex(salts.pop()), length=32, n=1 << 16, r=8, p=1)
    digest = hashlib.sha256((mill.folder / "log.csv").read_bytes()).hexdigest()
    assert made.derive(digest.encode()).hex() in {one.split("$")[2] for one in kept}


def test_a_digest_that_an_erasure_of_before_kept_is_hidden_with_the_next(mill: Mill) -> None:
    lived(mill)
    with mill.workspace.settings_file.open("a") as settings:
        settings.write("\n[retention]\nkeep_years = 10\n")
    mill.erase()
    digest = hashlib.sha256((mill.folder / "log.csv").read_bytes()).hexdigest()
    with mill.workspace.store.writing() as conn, erasing(conn):  # as it was kept before
        rows = conn.execute(sa.select(STORED["erased_sources"].c["running", "take"])).all()
        change_row(
            conn, "erased_sources", next(running for running, take in rows if take == 4), {"sha256_before": digest}
        )
    before = newest(mill)
    take_files(mill.workspace, [mill.folder / "log.csv"])
    assert newest(mill) == before  # it is known again
    text = mill.workspace.settings_file.read_text()
    mill.workspace.settings_file.write_text(text.replace("keep_years = 10", "keep_years = 3"))
    mill.erase(what="all")
    assert [place for place, content in everything_in(mill.workspace) if digest.encode() in content] == []
    assert ledger_faults(mill.workspace) == []
    take_files(mill.workspace, [mill.folder / "log.csv"])
    assert found_in(mill.workspace) == set()


def test_a_file_that_waits_or_a_setting_that_names_them_holds_it_back(mill: Mill) -> None:
    lived(mill)
    (mill.workspace.directory / "rules").mkdir()
    (mill.workspace.directory / "rules" / "note.txt").write_text("for Ben Rook")
    with pytest.raises(Refusal, match=r"note.txt names them; take that out of it"):
        mill.erase()


def test_a_name_that_another_person_bears_too_stays_theirs(mill: Mill) -> None:
    lived(mill)
    mill.take("newer.csv", PEOPLE + "P1005,Ben Rook,450005,Mill,5 Mill Road,18.50,2022-01-03,\n")
    mill.erase(reword=[])
    with mill.workspace.store.reading() as conn:
        assert frames.people(conn)["person"].to_list() == ["P1001", "P1003", "P1004", "P1005"]
        assert frames.people(conn).filter(pl.col("person") == "P1005")["name"].item() == "Ben Rook"
    assert {needle for _, needle in found_in(mill.workspace)} == {"Ben Rook"}


def test_a_number_that_somebody_else_holds_now_keeps_its_later_punches(mill: Mill) -> None:
    lived(mill)
    mill.take("newer.csv", PEOPLE + "P1005,Eve Gray,420002,Mill,5 Mill Road,18.50,2022-01-03,\n")
    mill.take("new-log.csv", csv([["GATE", "420002", "2022-01-05 08:00:10", "in", "accepted", "21.5"]]))
    mill.erase()
    with mill.workspace.store.reading() as conn:
        left = frames.recorded(conn).filter(pl.col("number") == "420002")
    assert [datetime.fromtimestamp(at, UTC).year for at in left["at"]] == [2022]
    assert {needle for _, needle in found_in(mill.workspace)} == {"420002"}


def test_a_number_that_the_roster_took_away_and_gave_to_another_leaves_nothing_of_its_former_holder(mill: Mill) -> None:
    mill.take("cut.csv", LISTED.replace("Ben Rook", "Ben Roo"))
    mill.take("later.csv", LATER)
    newer = PEOPLE.replace("420002,Mill,7 Rookery", ",Mill,7 Rookery")
    mill.take("newer.csv", newer + "P1005,Bea Gray,420002,Mill,5 Mill Road,18.50,2022-01-03,\n")
    mill.take("new-log.csv", csv([["GATE", "420002", "2022-01-05 08:00:10", "in", "accepted", "21.5"]]))
    mill.erase()
    with mill.workspace.store.reading() as conn:
        left = frames.recorded(conn).filter(pl.col("number") == "420002")
    assert [datetime.fromtimestamp(at, UTC).year for at in left["at"]] == [2022]
    assert {needle for _, needle in found_in(mill.workspace, ("Ben Roo", "P1002", "420002"))} == {"420002"}
    assert ledger_faults(mill.workspace) == []


def test_what_is_keyed_between_two_holders_of_a_number_is_nobodys_and_stays(mill: Mill) -> None:
    mill.take("open.csv", PEOPLE.replace(",2021-03-01\n", ",\n"))  # a roster that told no last day
    eve = "P1005,Eve Gray,420002,Mill,5 Mill Road,18.50,2022-01-03,\n"
    mill.take("newer.csv", PEOPLE.replace("420002,Mill,7 Rookery", ",Mill,7 Rookery") + eve)
    mill.take("later.csv", LATER)
    mill.take("late-log.csv", csv([["GATE", "420002", "2021-06-10 08:00:10", "in", "accepted", "21.5"]]))
    mill.erase(despite_others=True)
    with mill.workspace.store.reading() as conn:
        left = frames.recorded(conn).filter(pl.col("number") == "420002")
    assert [str(datetime.fromtimestamp(at, UTC).date()) for at in left["at"]] == ["2021-06-10"]


def test_what_counts_as_theirs_goes_though_the_next_holder_was_employed_all_along(mill: Mill) -> None:
    """Hours and erasure have one account of who held a number when, and what it leaves in doubt is shown first."""
    mill.take("later.csv", LATER)
    eve = "P1005,Eve Gray,420002,Mill,5 Mill Road,18.50,2020-01-02,\n"
    mill.take("newer.csv", PEOPLE.replace("420002,Mill,7 Rookery", "990002,Mill,7 Rookery") + eve)
    mill.take("new-log.csv", csv([["GATE", "420002", "2022-01-05 08:00:10", "in", "accepted", "21.5"]]))
    with mill.workspace.store.writing() as conn:  # the roster before was taken in the days of the log, the new one then
        for file, day in (("people.csv", "2021-02-04"), ("newer.csv", "2021-02-25")):
            at = int(datetime.fromisoformat(f"{day}T18:00-06:00").timestamp())
            takes = STORED["takes"]
            conn.execute(takes.update().where(takes.c.file == file).values(taken_at=at))
    counted = reckon_weeks(mill.workspace, NOW, date(2021, 2, 1), date(2021, 2, 28)).attribution.attributed
    assert dict(counted.group_by("person").len().iter_rows()) == {"P1001": 20, "P1002": 20, "P1003": 20}
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    (told,) = [said for said in seen.others if "may be those of Eve Gray" in said]
    assert told.startswith("21 presentations under 420002 from Mon 1 Feb 2021 to Wed 10 Feb 2021 may be those of Eve")
    mill.erase(despite_others=True)
    with mill.workspace.store.reading() as conn:
        left = frames.recorded(conn).filter(pl.col("number") == "420002")
    assert [datetime.fromtimestamp(at, UTC).year for at in left["at"]] == [2022]


def test_several_are_looked_at_in_turn_and_erased_without_another_look(
    mill: Mill, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two of one name: while both are there it may be either's; once the first is gone it is the second's."""
    lived(mill)
    rook = PEOPLE.replace("Cy Doe", "Ben Rook").replace(
        "3 Mill Road,18.50,2020-01-02,", "3 Mill Road,18.50,2020-01-02,2021-03-01"
    )
    mill.take("newer.csv", rook)
    mill.take("noted.csv", "reader,number,at,comment\nGATE,410001,2021-02-25 09:00,for Rook\n")
    mill.take("both-gone.csv", "".join(line for line in LATER.splitlines(keepends=True) if "430003" not in line))
    before = ledger_size_of(mill)
    asked = {"author": "Ada Quill", "reason": "due", "as_of": NOW}
    seen = look_at_erasures(mill.workspace, ["P1002", "P1003", "430003"], as_of=NOW)
    assert [one.person for one in seen] == ["P1002", "P1003"]
    alone = look_at_erasure(mill.workspace, "P1003", as_of=NOW)
    assert alone.shown != seen[1].shown  # the name alone is not yet theirs
    with pytest.raises(Refusal, match="text about others may name"):
        list(erase_each(mill.workspace, seen, reword=lambda one: [] if one is seen[0] else None, **asked))  # type: ignore[arg-type]
    assert ledger_size_of(mill) == before  # nobody is erased where one cannot be

    def again(*_: object, **__: object) -> None:
        raise AssertionError("looked again")

    monkeypatch.setattr(erasure, "look_at_erasure", again)
    done = list(erase_each(mill.workspace, seen, reword=lambda _: ["all"], despite_others=True, **asked))  # type: ignore[arg-type]
    assert [one.rows for one in done] == [one.rows for one in seen]
    assert found_in(mill.workspace, (*NEEDLES, "P1003", "430003")) == set()
    assert ledger_faults(mill.workspace) == []


def test_free_pages_and_the_log_of_the_database_hold_nothing(mill: Mill) -> None:
    lived(mill)
    if not mill.workspace.store.is_embedded:
        pytest.skip("a server's files are not the workspace's")
    # Rows that went before, with a take that was taken back, lie in free pages still.
    mill.take("long.csv", csv([["GATE", "420002", f"2021-02-{day:02d} 03:{n:02d}:30", "in", "accepted", "9.5"]
                               for day in range(1, 28) for n in range(60)]))  # fmt: skip
    take_back(mill.workspace, newest(mill), author="Ada", reason="a test of the reader", as_of=THEN)
    place = mill.workspace.directory / "evenhand.sqlite"
    (free,) = sqlite3.connect(place).execute("PRAGMA freelist_count").fetchone()
    assert free > 10
    mill.erase()
    mill.workspace.close()
    assert sqlite3.connect(place).execute("PRAGMA freelist_count").fetchone() == (0,)
    log_of = place.with_name("evenhand.sqlite-wal")
    assert not log_of.exists() or not any(needle.encode() in log_of.read_bytes() for needle in NEEDLES)
    reopened = open_workspace(mill.workspace.directory)
    assert found_in(reopened) == set()
    reopened.close()


def newest(mill: Mill) -> int:
    with mill.workspace.store.reading() as conn:
        return int(frames.takes(conn)["take"].max())  # type: ignore[arg-type]


def test_the_ledger_forgets_the_salts_of_what_it_sealed_and_the_name_of_an_author(mill: Mill) -> None:
    lived(mill)
    with mill.workspace.store.reading() as conn:
        theirs = frames.corrections(conn).filter(pl.col("person") == "P1002")["correction"].item()
        until = ledger_size(conn)
    mill.erase()
    with mill.workspace.store.reading() as conn:
        for table, key in (("corrections", f"[{theirs}]"), ("people", '{"take":2}'), ("punches", '{"take":4}')):
            salts = conn.exec_driver_sql(
                "SELECT entry, salt IS NULL FROM ledger_rows WHERE row_key = '"
                + key
                + "' AND \"table\" = '"
                + table
                + "'"
            ).all()
            before, after = (
                {bool(gone) for entry, gone in salts if (entry < until) == is_old} for is_old in (True, False)
            )
            assert (before, after) == ({True}, {False})
        authors = set(conn.exec_driver_sql("SELECT name FROM ledger_authors").scalars())
    assert authors >= {None, "Ada Quill"}


def test_a_reader_that_keeps_the_store_open_leaves_the_clearing_to_the_next_program(mill: Mill) -> None:
    lived(mill)
    if not mill.workspace.store.is_embedded:
        pytest.skip("a server clears while others read")
    looking = sqlite3.connect(mill.workspace.directory / "evenhand.sqlite", isolation_level=None)
    looking.execute("BEGIN")
    looking.execute("SELECT count(*) FROM people").fetchone()
    done = mill.erase()
    assert not done.is_cleared  # type: ignore[attr-defined]
    looking.close()
    mill.workspace.close()
    mill.workspace = open_workspace(mill.workspace.directory)
    assert mill.workspace.notices == ()
    assert found_in(mill.workspace) == set()


def written(mill: Mill, reason: str, person: str = "P1001", author: str = "Ada Quill") -> int:
    """Have somebody write a text beside a punch of another person; returns the correction's number."""
    at = datetime(2021, 2, 10, 19, len(reason) % 60, tzinfo=UTC)
    asked = CorrectionRequest("add", person, author=author, reason=reason, at=at, direction="in")
    return correct(mill.workspace, reckon_period(mill.workspace, THEN, WEEK), asked, as_of=THEN).number


def test_a_part_of_the_name_in_what_others_wrote_is_shown_and_rewritten_or_left_as_somebody_says(mill: Mill) -> None:
    lived(mill)
    told, bird = written(mill, "asked Rook about it"), written(mill, "a rook flew into the gate")
    before = ledger_size_of(mill)
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    assert [(one.row, one.says, one.is_likely) for one in seen.texts] == [
        (f"corrections/{told}", "asked Rook about it", True),
        (f"corrections/{bird}", "a rook flew into the gate", False),
    ]
    with pytest.raises(Refusal, match=r"2 texts about others may name Ben Rook \(P1002\) by a part of the name"):
        mill.erase()
    with pytest.raises(Refusal, match="corrections/99 is no text that may name them"):
        mill.erase(reword=["corrections/99"])
    assert ledger_size_of(mill) == before
    done = mill.erase(reword=[f"corrections/{told}"])
    assert f"Left as they are, as you said: corrections/{bird}." in done.says  # type: ignore[attr-defined]
    with mill.workspace.store.reading() as conn:
        said = dict(frames.corrections(conn).select("correction", "reason").iter_rows())
    assert (said[told], said[bird]) == ("asked erased-1 about it", "a rook flew into the gate")
    assert found_in(mill.workspace) == set()
    assert ledger_faults(mill.workspace) == []
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0


def ledger_size_of(mill: Mill) -> int:
    with mill.workspace.store.reading() as conn:
        return ledger_size(conn)


def test_an_author_by_surname_alone_is_rewritten_and_forgotten_by_the_ledger(mill: Mill) -> None:
    lived(mill)
    row = written(mill, "forgot it", author="B. Rook")
    (text,) = look_at_erasure(mill.workspace, "P1002", as_of=NOW).texts
    assert (text.row, text.column, text.is_likely) == (f"corrections/{row}", "author", True)
    mill.erase(reword=["all"])
    assert found_in(mill.workspace, (*NEEDLES, "B. Rook")) == set()
    assert ledger_faults(mill.workspace) == []


def test_the_reason_of_an_erasure_itself_names_nobody(mill: Mill) -> None:
    lived(mill)
    with mill.workspace.settings_file.open("a") as settings:
        settings.write("\n[retention]\nkeep_years = 10\n")
    mill.erase(reason="Ben Rook asked for it")
    text = mill.workspace.settings_file.read_text()
    mill.workspace.settings_file.write_text(text.replace("keep_years = 10", "keep_years = 3"))
    mill.erase(what="all", reason="the time of Rook is over")
    with mill.workspace.store.reading() as conn:
        assert frames.erasures(conn)["reason"].to_list() == ["erased-2 asked for it", "the time of erased-2 is over"]


def test_with_nothing_left_to_erase_nothing_is_written_and_that_is_said(mill: Mill) -> None:
    lived(mill)
    with mill.workspace.settings_file.open("a") as settings:
        settings.write("\n[retention]\nkeep_years = 10\n")
    mill.erase()
    before = ledger_size_of(mill)
    again = mill.erase()
    assert (again.erasure, again.says) == (None, "Nothing was left to erase, so nothing was written.")  # type: ignore[attr-defined]
    assert ledger_size_of(mill) == before
    with mill.workspace.store.reading() as conn:
        assert frames.erasures(conn).height == 1


@pytest.mark.parametrize("person", ["", " ", "\n"])
def test_nobody_is_named_by_a_blank(mill: Mill, person: str) -> None:
    with pytest.raises(Unknown, match="nobody is named"):
        look_at_erasure(mill.workspace, person, as_of=NOW)


REMARKS = """GATE,430003,2021-02-25 17:70,out,sent home by Ben Rook
GATE,410001,2021-02-25 17:10,out,stood in for B. Rook
GATE,410001,2021-02-25 18:10,in,"Rook, he said"
GATE,430003,2021-02-25 18:20,in,a rook flew in
GATE,420002,2021-02-25 17:70,out,Ada Quill saw it
"""


def refused_of(mill: Mill, file: str) -> list[tuple[int, str]]:
    with mill.workspace.store.reading() as conn:
        take = frames.takes(conn).filter(pl.col("file") == file)["take"].item()
        rows = refused_rows(conn, take).select("line", "text").rows()
    (beside,) = mill.workspace.rejected.glob(f"{take:04d}-*")
    assert all(text in beside.read_text("utf-8-sig") for _, text in rows)
    return rows


def test_a_rejected_row_of_somebody_else_stays_and_loses_the_name_alone_once_that_is_agreed_to(mill: Mill) -> None:
    lived(mill)
    mill.take("remarks.csv", "reader,number,at,direction,comment\n" + REMARKS)
    assert [line for line, _ in refused_of(mill, "remarks.csv")] == [2, 6]
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    assert seen.rows["refused_rows"] == 2  # theirs of remarks.csv and of odd.csv
    (told,) = seen.others
    assert "remarks.csv: the name is blanked in 1 row of others, such as line 2: “GATE,430003" in told
    with pytest.raises(Refusal, match=r"would change what is stored of others \(take \d+, remarks.csv: the name"):
        mill.erase(reword=["all"])
    mill.erase(reword=["all"], despite_others=True)
    assert refused_of(mill, "remarks.csv") == [(2, "GATE,430003,2021-02-25 17:70,out,sent home by         ")]
    with mill.workspace.store.reading() as conn:
        assert frames.takes(conn).filter(pl.col("file") == "remarks.csv")["rows_read"].item() == 4
    assert found_in(mill.workspace) == set()
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
    assert ledger_faults(mill.workspace) == []


def test_a_part_of_the_name_in_cells_that_are_not_read_is_shown_and_blanked_or_left_as_somebody_says(
    mill: Mill,
) -> None:
    lived(mill)
    mill.take("remarks.csv", "reader,number,at,direction,comment\n" + REMARKS.replace("sent home by Ben Rook", ""))
    texts = look_at_erasure(mill.workspace, "P1002", as_of=NOW).texts
    take = newest(mill)
    assert [(one.row, one.column, one.says, one.is_likely) for one in texts] == [
        (f"takes/{take}/3", "comment", "stood in for B. Rook", True),
        (f"takes/{take}/4", "comment", "Rook, he said", False),
        (f"takes/{take}/5", "comment", "a rook flew in", False),
    ]
    with pytest.raises(Refusal, match="3 texts about others may name Ben Rook"):
        mill.erase()
    done = mill.erase(reword=[f"takes/{take}/3", f"takes/{take}/4"])
    assert f"Left as they are, as you said: takes/{take}/5." in done.says  # type: ignore[attr-defined]
    with mill.workspace.store.reading() as conn:
        sha256 = frames.takes(conn).filter(pl.col("take") == take)["sha256"].item()
    lines = mill.workspace.sources.read(sha256, "remarks.csv").decode().splitlines()
    assert lines[2:5] == [
        "GATE,410001,2021-02-25 17:10,out,stood in for        ",
        '"GATE","410001","2021-02-25 18:10","in","    , he said"',
        "GATE,430003,2021-02-25 18:20,in,a rook flew in",
    ]
    assert found_in(mill.workspace) == set()
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0


def test_the_name_of_a_file_taken_loses_the_person_also_on_the_disk(mill: Mill) -> None:
    lived(mill)
    odd = "reader,number,at\nGATE,410001,soon\n"
    for name, minute in (("Ben_Rook times.csv", 1), ("rook.csv", 2), ("all 420002.csv", 3)):
        mill.take(name, f"{odd}GATE,410001,2021-02-20 09:0{minute}\n")
    take = newest(mill)
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    assert seen.renamed == ("Ben_Rook times.csv",)
    assert "the name of the file “Ben_Rook times.csv”" in seen.loses_name
    assert [(one.row, one.column, one.says) for one in seen.texts] == [
        (f"takes/{take - 1}", "file", "rook.csv"),
        (f"takes/{take}", "file", "all 420002.csv"),
    ]
    mill.erase(reword=["all"])
    with mill.workspace.store.reading() as conn:
        files = frames.takes(conn)["file"].to_list()[-3:]
    assert files == ["erased-1 times.csv", "erased-1.csv", "all erased-1.csv"]
    beside = sorted(path.name for path in mill.workspace.rejected.iterdir())[-3:]
    assert beside == [f"{take - 2 + at:04d}-{file}.csv" for at, file in enumerate(files)]
    assert found_in(mill.workspace, (*NEEDLES, "rook.", "_rook")) == set()
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
    assert ledger_faults(mill.workspace) == []


def test_a_workbook_that_names_them_only_where_nothing_is_read_is_written_anew(mill: Mill) -> None:
    mill.take("later.csv", LATER)
    mill.take("others.xlsx", workbook([row for row in log(12) if row[1] != "420002"]))
    assert "Ben Rook" in {needle for _, needle in found_in(mill.workspace)}
    mill.erase()
    assert found_in(mill.workspace) == set()
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0


def test_a_layout_whose_file_is_called_by_the_name_holds_it_back(mill: Mill) -> None:
    lived(mill)
    (mill.workspace.layouts / "ben-rook.toml").write_text(next(mill.workspace.layouts.glob("*.toml")).read_text())
    with pytest.raises(Refusal, match=r"ben-rook.toml names them"):
        mill.erase()


def test_what_stays_and_only_loses_the_name_is_not_said_to_go(mill: Mill) -> None:
    lived(mill)
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    # Ada's correction, whose author and reason were Ben's; and the reason of his own went with it.
    assert (seen.rows["corrections"], seen.reworded["corrections"]) == (1, 1)
    assert "1 correction" in seen.goes and "1 correction" in seen.loses_name


def test_scores_go_under_a_hold_only_once_counsel_was_asked(mill: Mill) -> None:
    lived(mill)
    decide_hold(mill.workspace, "P1002", is_lifted=False, author="Ada", reason="suit 12", as_of=NOW)
    before = ledger_size_of(mill)
    with pytest.raises(
        Refusal, match=r"under a legal hold \(suit 12\), and whether scores may go is for counsel to say"
    ):
        mill.erase()
    assert ledger_size_of(mill) == before
    assert mill.erase(despite_hold=True).what == "hand"  # type: ignore[attr-defined]


@pytest.mark.parametrize("number", ["", "990002"])
def test_what_was_keyed_under_a_number_of_an_earlier_employment_goes_too(mill: Mill, number: str) -> None:
    lived(mill)
    gone = PEOPLE.replace("420002,Mill,7 Rookery", f"{number},Mill,7 Rookery")
    eve = "P1005,Eve Gray,420002,Mill,5 Mill Road,18.50,2022-01-03,\n"
    mill.take("changed.csv", gone + eve)
    back = gone.replace("2020-01-02,2021-03-01", "2022-05-02,2022-06-30")  # who came back, for eight weeks
    mill.take("back.csv", back + eve)
    mill.take("new-log.csv", csv([["GATE", "420002", "2022-05-05 08:00:10", "in", "accepted", "21.5"]]))
    mill.erase(despite_others=True)
    with mill.workspace.store.reading() as conn:
        left = frames.recorded(conn).filter(pl.col("number") == "420002")
    assert [datetime.fromtimestamp(at, UTC).year for at in left["at"]] == [2022]
    assert {needle for _, needle in found_in(mill.workspace, (*NEEDLES, "990002"))} == {"420002"}


def test_whose_name_goes_on_after_the_same_words_keeps_it_whole(mill: Mill) -> None:
    lived(mill)
    mill.take("newer.csv", PEOPLE + '"P1005","Ben Rook Jr.",450005,Mill,5 Mill Road,18.50,2022-01-03,\n')
    mill.take(
        "noted.csv",
        "reader,number,at,comment\nGATE,450005,soon,for Ben Rook Jr. and Ben Rook\nGATE,410001,2021-02-25 09:00,\n",
    )
    seen = look_at_erasure(mill.workspace, "P1002", as_of=NOW)
    (told,) = seen.others
    assert "noted.csv: the name is blanked in 1 row of others" in told
    mill.erase(despite_others=True, reword=["all"])
    with mill.workspace.store.reading() as conn:
        assert frames.people(conn).filter(pl.col("person") == "P1005")["name"].item() == "Ben Rook Jr."
    assert refused_of(mill, "noted.csv") == [(2, "GATE,450005,soon,for Ben Rook Jr. and         ")]
    assert {content for content in ("P1002", "420002") if found_in(mill.workspace, (content,))} == set()
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
