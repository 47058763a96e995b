"""What a workbook says beside its cells: the day from which it counts, hidden rows and sheets, merged headers.

Workbooks are written by openpyxl, whose `to_excel` also gives the serial numbers (ECMA-376 part 1, 18.17.4).
"""

import io
from datetime import datetime
from zoneinfo import ZoneInfo

import openpyxl
import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, to_excel

from evenhand.layouts import KnownCells, SourceFile, propose, read
from evenhand.terms.records import Refusal

from .proposed import layout_of

ZONES = {"GATE": "America/Chicago"}
WHENS = [datetime(2026, 3, 2 + at // 4, 7 + at % 4, at * 7 % 60, 13) for at in range(20)]
INSTANTS = [int(when.replace(tzinfo=ZoneInfo("America/Chicago")).timestamp()) for when in WHENS]
SYSTEMS = {"1900": CALENDAR_WINDOWS_1900, "1904": CALENDAR_MAC_1904}


def book(header, cells, system="1900"):
    made = openpyxl.Workbook()
    made.epoch = SYSTEMS[system]
    made.active.append(header)
    for at, when in enumerate(WHENS):
        made.active.append(["GATE", f"00{40 + at % 5}", *cells(when)])
    return made


def content_of(made):
    held = io.BytesIO()
    made.save(held)
    return held.getvalue()


def rows_of(made):
    file = SourceFile("f.xlsx", content_of(made))
    return read(file, layout_of(file, known_readers=ZONES), zones=ZONES)


@pytest.mark.parametrize("system", SYSTEMS)
def test_dates_mean_the_same_days_from_whichever_day_the_workbook_counts(system):
    whole = book(["Reader", "Number", "Time"], lambda when: [when], system)
    parted = book(["Reader", "Number", "Date", "Time"], lambda when: [when.date(), when.time()], system)
    for made in (whole, parted):
        rows = rows_of(made)
        assert rows.frame["at"].to_list() == INSTANTS
        assert rows.rejects.is_empty()


def test_bare_numbers_are_days_from_1900_and_refused_where_the_workbook_counts_from_1904():
    """Read as counting from 1900, every date would be four years and a day early."""

    def serials(system):
        return book(["Reader", "Number", "Time"], lambda when: [to_excel(when, SYSTEMS[system])], system)

    assert rows_of(serials("1900")).frame["at"].to_list() == INSTANTS
    file = SourceFile("f.xlsx", content_of(serials("1904")))
    with pytest.raises(
        Refusal, match=r"counts its days from 1904, and 'Time' holds days as bare numbers, such as 44621"
    ):
        read(file, propose(file, known=KnownCells(readers=list(ZONES))).layout, zones=ZONES)


def test_times_as_parts_of_a_day_beside_dates_are_read_to_the_second():
    made = book(
        ["Reader", "Number", "Date", "Time"],
        lambda when: [when.date(), (when.hour * 3600 + when.minute * 60 + when.second) / 86_400],
    )
    assert rows_of(made).frame["at"].to_list() == INSTANTS


@pytest.mark.parametrize("form", ["%Y-%m-%d %H:%M:%S", "%d/%m/%Y %H:%M:%S", "%d.%m.%Y %H:%M:%S"])
def test_dates_beside_texts_in_one_column_are_the_same_days(form):
    """Text with its day first is told from text with its month first by days above 12, so some are added."""
    late = [datetime(2026, 3, day, 7, 5, 13) for day in (27, 28, 30)]
    made = book(["Reader", "Number", "Time"], lambda when: [when if when.day % 2 else when.strftime(form)])
    for when in late:
        made.active.append(["GATE", "0040", when.strftime(form)])
    chicago = ZoneInfo("America/Chicago")
    expected = [*INSTANTS, *(int(when.replace(tzinfo=chicago).timestamp()) for when in late)]
    assert rows_of(made).frame["at"].to_list() == expected


def test_merged_group_cells_above_the_header_are_no_header():
    made = book(["Reader", "Number", "Date", "Time"], lambda when: [when.date(), when.time()])
    made.active.insert_rows(1)
    made.active["A1"], made.active["C1"] = "Employee", "Punch"
    made.active.merge_cells("A1:B1")
    made.active.merge_cells("C1:D1")
    rows = rows_of(made)
    assert rows.frame["at"].to_list() == INSTANTS
    assert rows.notices == ("Lines before the header, not read as rows: 1.",)


def test_hidden_rows_are_read_and_said():
    made = book(["Reader", "Number", "Time"], lambda when: [when])
    for row in (4, 9):
        made.active.row_dimensions[row].hidden = True
    rows = rows_of(made)
    assert rows.frame["at"].to_list() == INSTANTS
    assert rows.notices == ("Rows that are hidden in the sheet were read like the others: 2.",)


@pytest.mark.parametrize("state", ["hidden", "veryHidden"])
def test_a_hidden_sheet_that_holds_the_rows_is_said(state):
    made = book(["Reader", "Number", "Time"], lambda when: [when])
    made.active.title, made.active.sheet_state = "Raw", state
    made.create_sheet("Cover")["A1"] = "The log of March"
    made.active = 1
    rows = rows_of(made)
    assert rows.frame["at"].to_list() == INSTANTS
    assert rows.notices == ("The sheet 'Raw' is hidden in the workbook, and was read.",)
