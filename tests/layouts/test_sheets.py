"""Workbooks, written by two programs.

`samples/made_by_libreoffice.xlsx` was made with LibreOffice from a CSV of the rows below:
    soffice --headless --convert-to xlsx --outdir . sample.csv
The program took the badge for a number and so lost its zeros, as people's spreadsheets do.
"""

import io
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import openpyxl
import pytest

from evenhand.layouts import Layout, SourceFile, propose, read
from evenhand.layouts.forms.cell_errors import find_errors
from evenhand.terms.records import Refusal

from .proposed import layout_of

ZONES = {"North Gate": "America/Chicago"}
SAMPLE = Path(__file__).parent / "samples" / "made_by_libreoffice.xlsx"


def workbook(*rows, title="Log"):
    book = openpyxl.Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def at(*when):
    return int(datetime(*when, tzinfo=ZoneInfo("America/Chicago")).timestamp())


def test_a_sheet_from_libreoffice_is_read_with_its_dates():
    content = SAMPLE.read_bytes()
    layout = layout_of(SourceFile("log.xlsx", content), known_readers=ZONES)
    assert (layout.table, layout.form, layout.columns["at"]) == ("punches", "sheet", ("When",))
    rows = read(SourceFile("log.xlsx", content), layout, zones=ZONES)
    assert rows.frame["at"].to_list() == [at(2026, 3, 4, 7, 5, 30), at(2026, 3, 4, 15, 59, 59), at(2026, 3, 5)]
    assert rows.frame["direction"].to_list() == ["in", "out", "in"]
    assert rows.frame["number"].to_list() == ["12", "4321", "8123"]
    assert rows.lines.tolist() == [2, 3, 4]


def test_date_and_time_of_a_sheet_are_joined():
    layout = Layout("punches", "sheet", {"reader": ("Reader",), "number": ("Badge",), "at": ("Day", "Clock")}, header=1)
    rows = read(SourceFile("log.xlsx", SAMPLE.read_bytes()), layout, zones=ZONES)
    assert rows.frame["at"].to_list() == [at(2026, 3, 4, 7, 5, 30), at(2026, 3, 4, 15, 59, 59), at(2026, 3, 5)]


def test_number_width_gives_lost_zeros_back():
    layout = Layout("punches", "sheet", {"reader": (1,), "number": (2,), "at": (3,)}, header=1, number_width=4)
    rows = read(SourceFile("log.xlsx", SAMPLE.read_bytes()), layout, zones=ZONES)
    assert rows.frame["number"].to_list() == ["0012", "4321", "8123"]
    assert "Numbers padded with zeros to 4 digits: 1." in rows.notices


def test_cells_of_every_type_are_text_or_dates():
    content = workbook(
        ["Badge report", None],
        [],
        ["Badge", "Name", "Hired on", "Supervisor", "Hourly rate"],
        ["0012", "Ruiz, Ana", date(2019, 3, 4), True, 21.375],
        [1234.0, "Bo Berg", datetime(1998, 3, 4), False, 20],
        [1234.5, "Half a number", None, None, None],
        [77, "#N/A", None, None, None],
        ["Total", 4, None, None, None],
    )
    layout = layout_of(SourceFile("roster.xlsx", content))
    assert (layout.table, layout.header) == ("people", 3)
    rows = read(SourceFile("roster.xlsx", content), layout, zones={})
    assert rows.frame["number"].to_list() == ["0012", "1234"]
    assert rows.frame["hired_on"].to_list() == [date(2019, 3, 4), date(1998, 3, 4)]
    assert rows.frame["is_supervisor"].to_list() == [True, False]
    assert [str(rate) for rate in rows.frame["hourly_rate"]] == ["21.3750", "20.0000"]
    assert rows.rejects["line"].to_list() == [6, 7]
    assert any("line 8 (Total" in notice for notice in rows.notices)
    assert rows.lines.tolist() == [4, 5]


def test_times_of_day_written_by_openpyxl_are_joined_to_the_second():
    whens = [datetime(2026, 3, 4, 7, minute, second) for minute in range(60) for second in (0, 1, 29, 30, 59)]
    content = workbook(["Badge", "Date", "Time"], *[["0012", when.date(), when.time()] for when in whens])
    layout = layout_of(SourceFile("North Gate.xlsx", content), known_readers=ZONES)
    assert layout.columns["at"] == ("Date", "Time")
    rows = read(SourceFile("log.xlsx", content), layout, zones=ZONES)
    assert rows.frame["at"].to_list() == [at(2026, 3, 4, 7, w.minute, w.second) for w in whens]


def test_rows_in_the_middle_that_are_empty_keep_the_others_on_their_rows():
    content = workbook(["reader", "number", "at"], [], ["North Gate", "1", "2026-03-04 07:05"], [], [None, "2", None])
    layout = Layout("punches", "sheet", {"reader": (1,), "number": (2,), "at": (3,)}, header=1)
    rows = read(SourceFile("f.xlsx", content), layout, zones=ZONES)
    assert rows.lines.tolist() == [3]
    assert rows.rejects["line"].to_list() == [5]
    assert rows.read == 2


def test_a_sheet_that_is_not_there_is_refused_by_name():
    layout = Layout("people", "sheet", {"name": (1,)}, sheet="Roster")
    with pytest.raises(Refusal, match="Log"):
        read(SourceFile("f.xlsx", workbook(["a", "b"])), layout, zones={})
    other = SourceFile("f.xlsx", workbook(["a", "b"], ["c", "d"]))
    assert propose(other, kept={"kept": layout}).kept == ""


def test_the_sheet_with_rows_is_found_behind_an_empty_one():
    book = openpyxl.load_workbook(io.BytesIO(workbook(["Name", "Badge"], ["Ana Ruiz", "0012"], title="Roster")))
    book.create_sheet("Cover", 0)["A1"] = "Roster of the mill"
    held = io.BytesIO()
    book.save(held)
    assert layout_of(SourceFile("f.xlsx", held.getvalue())).sheet == "Roster"


def test_errors_are_found_wherever_the_table_stands_and_whatever_the_sheet_is_called():
    book = openpyxl.Workbook()
    book.active["A1"] = "#REF!"
    log = book.create_sheet("Gate & yard")
    for place, value in {
        "C4": "Name",
        "D4": "Badge",
        "C5": "Ana Ruiz",
        "D5": "0012",
        "C6": "Bo Berg",
        "D6": "#N/A",
    }.items():
        log[place] = value
    log["C7"], log["D7"] = "#DIV/0!", "0014"
    held = io.BytesIO()
    book.save(held)
    assert find_errors(held.getvalue(), "Gate & yard") == [(5, 1), (6, 0)]
    assert find_errors(held.getvalue(), "") == [(0, 0)]
    layout = Layout("people", "sheet", {"name": ("Name",), "number": ("Badge",)}, sheet="Gate & yard", header=4)
    rows = read(SourceFile("f.xlsx", held.getvalue()), layout, zones={})
    assert rows.frame["number"].to_list() == ["0012"]
    assert rows.rejects.select("line", "column").rows() == [(6, "Badge"), (7, "Name")]
    assert all("spreadsheet error" in reason for reason in rows.rejects["reason"])


def test_a_workbook_that_is_no_xlsx_says_that_errors_are_not_told():
    assert find_errors(b"\xd0\xcf\x11\xe0 ...", "") is None
