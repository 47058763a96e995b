"""Erasing somebody whose number, login or namesake stands in what others wrote, and in what is read of no workbook."""

from __future__ import annotations

import dataclasses
import io
import unicodedata
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import openpyxl
import polars as pl
import pytest
import sqlalchemy as sa
from openpyxl.comments import Comment
from openpyxl.workbook.defined_name import DefinedName

from evenhand.jobs import erasure
from evenhand.jobs.correct import correct
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.erased_files import _note_without, _table_without
from evenhand.jobs.erasure import erase
from evenhand.jobs.foreseen_erasure import look_at_erasure
from evenhand.jobs.kept_texts import texts_in
from evenhand.jobs.rebuild import rebuild
from evenhand.jobs.reckoning import reckon_period
from evenhand.jobs.take import take_files
from evenhand.jobs.workspace import create_workspace
from evenhand.layouts import Layout, SourceFile
from evenhand.store import frames, known_again
from evenhand.store.erasing import Traces
from evenhand.store.part_names import sharing
from evenhand.store.tables import STORED
from evenhand.store.written import add_row
from evenhand.terms.records import Refusal
from tests.jobs.test_erasure import Mill, found_in, ledger_faults

NOW = datetime(2026, 11, 27, 9, tzinfo=UTC)
THEN = datetime(2021, 2, 16, 14, tzinfo=UTC)
NEEDLES = ("Zelda", "Quackenbush", "zq@example.org", "badge 7404")  # long enough to stand in no digest by chance
READERS = "reader,site,zone\nGATE,Mill,America/Chicago\n"
PEOPLE = """person,name,number,site,hired on,left on,Remark
P01,Ada Quill,7101,Mill,2020-01-02,,see P04
P04,Zelda Quackenbush,7404,Mill,2020-01-02,2021-03-01,moved
P05,Ben Rook,7505,Mill,2020-01-02,,locker 7404
P06,Cy Doe,7406,Mill,2020-01-02,,"paid 7404.50, not by 740"
P40,Di Elm,7440,Mill,2020-01-02,,mail zquackenbush@example.org
"""
NAMESAKE = "P12,Zelda Quackenbush,7412,Mill,2022-01-03,,the other one\n"
LISTED = "reader,number,name,supervisor\nGATE,7101,QUILL A,yes\nGATE,7505,ROOK B,yes\n"
PUNCHES = "reader,number,at,Note\nGATE,7404,2021-02-08 08:00,\nGATE,7505,2021-02-08 08:01,Z. Quackenbush saw it\n"


@pytest.fixture
def mill(tmp_path: Path, address: str | Path) -> Iterator[Mill]:
    store = address if isinstance(address, str) else ""
    made = Mill(tmp_path, create_workspace(tmp_path / "mill", store=store))
    made.take("readers.csv", READERS)
    made.take("listed.csv", LISTED)
    yield made
    made.workspace.close()


def erased(mill: Mill, **more: object) -> object:
    said = {"author": "Ada Quill", "reason": "due", "despite_others": True}
    return erase(mill.workspace, "P04", as_of=NOW, **{**said, **more})  # type: ignore[arg-type]


def texts(mill: Mill) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for one in look_at_erasure(mill.workspace, "P04", as_of=NOW).texts:
        found.setdefault(one.row, []).append(one.says)
    return found


def written(mill: Mill, reason: str, author: str = "Ada Quill") -> str:
    at = datetime(2021, 2, 10, 19, len(reason) % 60, tzinfo=UTC)
    asked = CorrectionRequest("add", "P05", author=author, reason=reason, at=at, direction="in")
    week = reckon_period(mill.workspace, THEN, date(2021, 2, 8))
    return f"corrections/{correct(mill.workspace, week, asked, as_of=THEN).number}"


def in_source(mill: Mill, file: str) -> bytes:
    with mill.workspace.store.reading() as conn:
        sha256 = frames.takes(conn).filter(pl.col("file") == file)["sha256"].item()
    return mill.workspace.sources.read(sha256, file)


def whole(mill: Mill) -> None:
    """Check that the store follows from its sources, and that its ledger has nothing against it."""
    assert rebuild(mill.workspace, is_try=True, as_of=NOW).differing == 0
    assert ledger_faults(mill.workspace) == []


def test_numbers_and_logins_in_texts_are_asked_about_and_go_as_somebody_says(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    mill.take("log.csv", PUNCHES)
    badge, locker = written(mill, "no. 07404 said so"), written(mill, "locker 7404, not 17404 nor P40")
    other = written(mill, "17404 and P40 are Di's", author="P04")
    asked = texts(mill)
    assert asked == {
        badge: ["no. 07404 said so"],
        locker: ["locker 7404, not 17404 nor P40"],
        other: ["P04"],
        "takes/3/2": ["see P04"],
        "takes/3/4": ["locker 7404"],
        "takes/3/5": ["paid 7404.50, not by 740"],
        "takes/3/6": ["mail zquackenbush@example.org"],
        "takes/4/3": ["Z. Quackenbush saw it"],
    }
    with pytest.raises(Refusal, match="8 texts about others may name Zelda Quackenbush"):
        erased(mill)
    erased(mill, reword=sorted({*asked} - {locker, "takes/3/4", "takes/3/5"}))
    with mill.workspace.store.reading() as conn:
        said = frames.corrections(conn).select("author", "reason").rows()
    assert said == [
        ("Ada Quill", "no. erased-1 said so"),
        ("Ada Quill", "locker 7404, not 17404 nor P40"),
        ("erased-1", "17404 and P40 are Di's"),
    ]
    lines = in_source(mill, "people.csv").decode().splitlines()
    assert lines[1:3] == ["P01,Ada Quill,7101,Mill,2020-01-02,,see    ", ""]
    assert lines[3:5] == [
        "P05,Ben Rook,7505,Mill,2020-01-02,,locker 7404",
        'P06,Cy Doe,7406,Mill,2020-01-02,,"paid 7404.50, not by 740"',
    ]
    assert lines[5] == "P40,Di Elm,7440,Mill,2020-01-02,,mail             @example.org"
    assert {needle for _, needle in found_in(mill.workspace, ("Zelda", "Quackenbush", "see P04"))} == set()
    whole(mill)


def test_initials_and_slips_in_what_somebody_wrote_are_asked_about_behind_the_others(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    log = "reader,number,at,minutes,remark\n" + "".join(
        f"GATE,7505,2021-02-09 08:0{at},{at}12,{said}\n"
        for at, said in enumerate(("ok", "for Z.Q.", "Quackenbsh late", "as agreed"))
    )
    mill.take("log.csv", log)
    slip, sure = written(mill, "Zedla told me"), written(mill, "Quackenbush told me so")
    seen = look_at_erasure(mill.workspace, "P04", as_of=NOW).texts
    faint = {one.row: one.says for one in seen if one.is_faint}
    assert faint == {slip: "Zedla told me", "takes/4/3": "for Z.Q.", "takes/4/4": "Quackenbsh late"}
    assert not any(one.is_likely for one in seen if one.is_faint)
    assert [one.is_faint for one in seen] == sorted(one.is_faint for one in seen)
    with pytest.raises(Refusal, match="may name Zelda Quackenbush"):
        erased(mill)
    erased(mill, reword=[slip, sure, "takes/4/4"])
    with mill.workspace.store.reading() as conn:
        assert sorted(frames.corrections(conn)["reason"]) == ["erased-1 told me", "erased-1 told me so"]
    assert in_source(mill, "log.csv").decode() == log.replace("Quackenbsh", " " * 10)
    whole(mill)


def test_a_text_that_is_the_persons_loses_the_whole_name_and_a_namesake_keeps_theirs(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE + NAMESAKE)
    hers = written(mill, "Zelda Quackenbush (7404) saw her leave; see P04", author="Zelda Quackenbush")
    other = written(mill, "Zelda Quackenbush (P12) did")
    asked = texts(mill)
    assert asked[hers] == ["Zelda Quackenbush", "Zelda Quackenbush (7404) saw her leave; see P04"]
    assert asked[other] == ["Zelda Quackenbush (P12) did"]
    likely = {one.row for one in look_at_erasure(mill.workspace, "P04", as_of=NOW).texts if one.is_likely}
    assert hers in likely and other not in likely
    erased(mill, reword=sorted({*asked} - {other}))
    with mill.workspace.store.reading() as conn:
        said = frames.corrections(conn).select("author", "reason").rows()
        left = dict(frames.people(conn).select("person", "name").iter_rows())
    assert said == [
        ("erased-1", "erased-1 (erased-1) saw her leave; see erased-1"),
        ("Ada Quill", "Zelda Quackenbush (P12) did"),
    ]
    assert left["P12"] == "Zelda Quackenbush"
    assert {needle for _, needle in found_in(mill.workspace, ("see P04", "zquackenbush"))} == set()
    whole(mill)


def plan(*, person: str = "P05") -> openpyxl.Workbook:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Shifts"
    sheet.append(["person", "starts_at", "ends_at"])
    sheet.append([person, datetime(2021, 2, 10, 7), datetime(2021, 2, 10, 15)])
    return book


def named_by(book: openpyxl.Workbook, place: str) -> bytes:
    """Return a workbook that says in one place, where nothing is read, what names the person."""
    sheet = book["Shifts"]
    if place == "sheet":
        book.create_sheet("Old").append(["Z. Quackenbush", "7404", "zq@example.org"])
    elif place == "hidden sheet":
        book.create_sheet("Old").append(["badge 7404"])
        book["Old"].sheet_state = "veryHidden"
    elif place == "name of a sheet":
        book.create_sheet("Quackenbush")
    elif place == "remark":
        sheet["A2"].comment = Comment("asked Quackenbush", "Zelda")
    elif place == "author":
        book.properties.creator = "zquackenbush"
    elif place == "header":
        sheet.oddHeader.center.text = "Shifts of Quackenbush"
    elif place == "defined name":
        book.defined_names["Quackenbush"] = DefinedName("Quackenbush", attr_text="Shifts!$A$1")
    elif place == "link":
        sheet["A2"].hyperlink = "mailto:zelda.quackenbush@example.org"
    elif place == "formula":
        sheet["E2"] = '=IF(A2="Quackenbush",1,0)'
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


PLACES = (
    "sheet",
    "hidden sheet",
    "name of a sheet",
    "remark",
    "author",
    "header",
    "defined name",
    "link",
    "formula",
)


def test_what_is_read_of_no_workbook_is_asked_about_and_goes_with_all_that_is_not_read(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE.replace("P04,Zelda", "P04,Zelda").replace("see P04", ""))
    for place in PLACES:
        mill.take(f"{place}.xlsx", named_by(plan(), place))
    left_alone = named_by(plan(), "none")
    mill.take("none.xlsx", left_alone)
    asked = texts(mill)
    with mill.workspace.store.reading() as conn:
        takes = dict(frames.takes(conn).select("file", "take").iter_rows())
    perhaps = {f"takes/{takes[f'{at}.xlsx']}/beside" for at in PLACES if at != "link"}  # which has the whole name
    assert {row for row in asked if row.endswith("/beside")} == perhaps
    done = erased(mill, reword=["all"])
    assert done.sources == len(PLACES) + 1  # type: ignore[attr-defined]
    assert found_in(mill.workspace, NEEDLES) == set()
    assert in_source(mill, "none.xlsx") == left_alone
    with mill.workspace.store.reading() as conn:
        assert frames.schedules(conn)["person"].to_list() == ["P05"]
    whole(mill)


def test_of_the_texts_of_one_row_some_go_and_others_stay(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    row = written(mill, "locker 7404", author="Z. Quackenbush")
    done = erased(mill, reword=[f"{row}:author"])
    assert f"Left as they are, as you said: {row}:reason" in done.says  # type: ignore[attr-defined]
    with mill.workspace.store.reading() as conn:
        assert frames.corrections(conn).select("author", "reason").rows() == [("erased-1", "locker 7404")]


def test_a_workbook_stays_as_it_is_where_nobody_says_that_it_names_them(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    content = named_by(plan(), "hidden sheet")
    mill.take("plan.xlsx", content)
    erased(mill, reword=[])
    assert in_source(mill, "plan.xlsx") == content


@pytest.mark.parametrize("title", ["Zelda Quackenbush", "Quackenbush"])
def test_a_sheet_that_is_read_and_called_by_the_name_is_called_otherwise_and_still_read(mill: Mill, title: str) -> None:
    mill.take("people.csv", PEOPLE)
    book = plan()
    book["Shifts"].title = title
    content = io.BytesIO()
    book.save(content)
    mill.take("plan.xlsx", content.getvalue())
    (kept,) = mill.workspace.layouts.glob("schedules*.toml")
    before = kept.read_text()
    kept.write_text("# from the office\n" + before)
    erased(mill, reword=["all"])
    assert kept.read_text() == "# from the office\n" + before.replace(title, "erased-1")
    assert openpyxl.load_workbook(io.BytesIO(in_source(mill, "plan.xlsx"))).sheetnames == ["erased-1"]
    assert found_in(mill.workspace, NEEDLES) == set()
    whole(mill)


def test_a_workbook_of_which_two_sheets_were_taken_keeps_what_is_read_of_both(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    book = plan()
    roster = book.create_sheet("People")
    for row in PEOPLE.replace('"paid 7404.50, not by 740"', "").splitlines():
        roster.append(row.split(",")[:4])
    content = io.BytesIO()
    book.save(content)
    (mill.folder / "both.xlsx").write_bytes(content.getvalue())
    for table, sheet, names in (
        ("schedules", "Shifts", ("person", "starts_at", "ends_at")),
        ("people", "People", ("person", "name", "number", "site")),
    ):
        layout = Layout(table, "sheet", {name: (name,) for name in names}, header=1, sheet=sheet)
        (receipt,) = take_files(mill.workspace, [mill.folder / "both.xlsx"], layout=layout)
        assert getattr(receipt, "read", 0), receipt
    erased(mill, reword=[])
    with mill.workspace.store.reading() as conn:
        assert frames.schedules(conn)["person"].to_list() == ["P05"]
    whole(mill)


def test_an_identifier_that_is_somebody_elses_number_takes_nothing_of_theirs(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE.replace("P04", "7505").replace("see 7505", ""))
    mill.take("log.csv", PUNCHES)
    settled = {"finding": "unknown_hand/GATE/7505", "author": "Ada Quill", "reason": "Ben's hand", "made_at": 1}
    with mill.workspace.store.writing() as conn:
        add_row(conn, "settled", settled | {"is_withdrawn": 0})
    erase(mill.workspace, "Zelda", author="Ada", reason="due", as_of=NOW, reword=[], despite_others=True)
    with mill.workspace.store.reading() as conn:
        assert frames.recorded(conn)["number"].to_list() == ["7505"]
        assert frames.enrolments(conn)["number"].sort().to_list() == ["7101", "7505"]
        assert conn.scalar(sa.select(sa.func.count()).select_from(STORED["settled"])) == 1
    whole(mill)


def test_names_that_a_reader_holds_under_a_number_of_nobody_are_asked_about(mill: Mill) -> None:
    mill.take("people.csv", (PEOPLE + NAMESAKE).replace("Remark", "address"))
    more = "GATE,7999,QUACKENBUSH Z,no\nGATE,7412,QUACKENBUSH Z,no\n"
    mill.take("later.csv", LISTED + more)
    asked = texts(mill)
    assert asked["takes/4/4"] == ["QUACKENBUSH Z"] and "takes/4/5" not in asked
    assert asked["takes/3/4"] == ["locker 7404"]  # an address, which is read
    erased(mill, reword=["takes/4/4", "takes/3/4"])
    with mill.workspace.store.reading() as conn:
        names = dict(frames.enrolments(conn).select("number", "name").iter_rows())
        addresses = dict(frames.people(conn).select("person", "address").iter_rows())
    assert (names["7999"], names["7412"]) == (None, "QUACKENBUSH Z")
    assert addresses["P05"] == "locker"
    whole(mill)


def test_other_files_that_may_name_them_are_told_of_with_the_line(mill: Mill) -> None:
    mill.take("people.csv", PEOPLE)
    with mill.workspace.settings_file.open("a") as settings:
        settings.write("# ask Quackenbush about 7404\n")
    line = len(mill.workspace.settings_file.read_text().splitlines())
    stays = look_at_erasure(mill.workspace, "P04", as_of=NOW).stays
    assert any(
        f"evenhand.toml, which may name them by a part of the name or a number, in line {line};" in one for one in stays
    )
    (mill.workspace.directory / "waiting.txt").write_text("reader,number\nGATE,7404\n")
    with pytest.raises(Refusal, match=r"waiting.txt names them; take that out of it"):
        erased(mill, reword=["all"])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
@pytest.mark.parametrize("way", ["NFC", "NFD"])
def test_an_accented_name_is_in_no_file_however_it_was_written(mill: Mill, encoding: str, way: str) -> None:
    name = unicodedata.normalize(way, "Zoé Núñez")  # type: ignore[arg-type]
    mill.take("people.csv", PEOPLE.replace("Zelda Quackenbush", "Zoé Núñez").replace("see P04", ""))
    turned = ", ".join(reversed(name.split()))
    notes = f"for {name} today", f"for «{turned.upper()}»"
    log = "reader,number,at,Note\n" + "".join(
        f'GATE,7505,2021-02-09 08:0{at},"{note}"\n' for at, note in enumerate(notes)
    )
    mill.take("log.csv", log.encode(encoding))
    erased(mill, reword=["all"])
    text = unicodedata.normalize("NFC", in_source(mill, "log.csv").decode(encoding)).casefold()
    assert "for " in text and "zoé" not in text and "núñez" not in text
    whole(mill)


def test_what_was_seen_is_erased_without_another_look_unless_something_changed(
    mill: Mill, monkeypatch: pytest.MonkeyPatch
) -> None:
    mill.take("people.csv", PEOPLE)
    seen = look_at_erasure(mill.workspace, "P04", as_of=NOW)
    looks: list[str] = []

    def look(*asked: object, **more: object) -> object:
        looks.append("again")
        return look_at_erasure(*asked, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(erasure, "look_at_erasure", look)
    written(mill, "7404 said")  # so that it would show another text
    with pytest.raises(Refusal, match="is no longer what was shown"):
        erased(mill, seen=seen, reword=["all"])
    assert looks == ["again"]
    seen = look_at_erasure(mill.workspace, "P04", as_of=NOW)
    with pytest.raises(Refusal, match="texts about others may name"):
        erased(mill, seen=seen)
    erased(mill, seen=seen, reword=["all"])
    assert looks == ["again"]
    assert {needle for _, needle in found_in(mill.workspace, ("Zelda", "see P04"))} == set()


def test_a_look_hashes_nothing_slowly(mill: Mill, monkeypatch: pytest.MonkeyPatch) -> None:
    mill.take("people.csv", PEOPLE)
    with mill.workspace.store.writing() as conn:
        rows = {"what": "all", "laws": "[]", "rows": "{}", "sources": 1, "files": 0, "author": "A", "reason": "r"}
        number = erasure.add_erasure(conn, rows | {"made_at": 1}, [])
        before = {"sha256_before": "0" * 64, "sha256_after": "1" * 64, "lines": 1}
        conn.execute(STORED["erased_sources"].insert().values(running=1, erasure=number, take=1, **before))

    def slow(*_: object) -> str:
        raise AssertionError("hashed")

    monkeypatch.setattr(known_again, "_hidden", slow)
    look_at_erasure(mill.workspace, "P04", as_of=NOW)
    with pytest.raises(AssertionError, match="hashed"):
        erased(mill, reword=["all"])


def test_a_header_by_which_a_column_is_read_is_nobodys_name() -> None:
    layout = Layout("punches", "delimited", {"number": ("Nr",), "at": ("Day",)}, header=1, delimiter=",")
    said = "Nr,Day,Note of Doris\n7404,2021-02-08 08:00,for Day\n"
    file = SourceFile("log.csv", said.encode())
    found = [one.text for one in texts_in(file, 3, [layout], sharing("Doris Day", ["Ada Quill"]))]
    assert [(one.row, one.says) for one in found] == [("takes/3/2", "for Day")]
    other = sharing("Doris Fay", ["Ada Quill"])
    named = [one.text.says for one in texts_in(file, 3, [layout], other)]
    assert named == ["Nr,Day,Note of Doris"]


TRACES = Traces(frozenset({"P04", "K1004"}), ("Zelda Quackenbush",), frozenset({"7404"}))


def test_a_table_for_payroll_loses_the_lines_of_the_person_and_no_amount_that_looks_like_the_number() -> None:
    table = b"person,hours,pay\nP01,7404,7404.00\nP04,40,800\nP05,8,7404\n"
    assert _table_without(table, TRACES, {"P01", "P05"}) == table.replace(b"P04,40,800\n", b"")
    padded = b"badge;pay\r\n0007101;7404\r\n0007404;800\r\n"
    assert _table_without(padded, TRACES, {"7101"}) == padded.replace(b"0007404;800\r\n", b"")


def test_a_note_keeps_its_totals_though_one_looks_like_the_number() -> None:
    totals = "Hours        7404.00\nPeople       7404\n"
    note = f"{totals}  1 punch under 7404  [missing/P04/2021-02-08]\n  P04, 2021-02-08: struck\n"
    left = _note_without(note.encode(), TRACES, "2026-11-27").decode()
    assert left.startswith(totals)
    assert "P04" not in left and "Erased on 2026-11-27: 2 lines" in left


def test_amounts_in_what_a_program_reads_are_not_taken_for_the_number() -> None:
    told = '{"hours": "7404.00", "rows": 7404, "keys": ["missing/P04/2021-02-08", "7404"]}'
    assert TRACES.replaced(told, "X") == '{"hours": "7404.00", "rows": 7404, "keys": ["missing/X/2021-02-08", "X"]}'


def test_where_an_identifier_tells_whom_a_name_means_a_name_that_others_bear_goes_too() -> None:
    spared = dataclasses.replace(TRACES, names=(), spared=("Zelda Quackenbush",))
    assert spared.replaced("Zelda Quackenbush (K1004) left", "X") == "X (X) left"
    both = "Zelda Quackenbush (K1004), not Zelda Quackenbush (P12)"
    assert spared.replaced(both, "X") == "X (X), not Zelda Quackenbush (P12)"
    assert spared.replaced("Zelda Quackenbush left", "X") == "Zelda Quackenbush left"
