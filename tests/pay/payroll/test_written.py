"""The forms in which a table reaches payroll: text as its definition says, and a workbook; nothing in them runs."""

from __future__ import annotations

import io
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import openpyxl

from evenhand import pay
from evenhand.pay import Cell
from evenhand.pay.payroll.control import ControlTotal
from evenhand.terms.payroll import ImportDefinition, PayrollColumn

HEADERS = ("Day", "=A1", "https://mill.example", "D", "E")
NOTHING = ControlTotal(0, 0, 0, 0, Decimal(0), Decimal(0))


def written(cells: list[list[Cell]], headers: tuple[str, ...], **given: Any) -> bytes:
    definition = ImportDefinition(columns=tuple(PayrollColumn(header) for header in headers), **given)
    return pay.as_text_file(pay.PayrollTable(definition, tuple(map(tuple, cells)), NOTHING))


def sheet_of(*cells: list[Any]) -> Any:
    book = openpyxl.load_workbook(io.BytesIO(pay.as_workbook(HEADERS, cells)))
    assert book.sheetnames == ["Hours"]
    return book["Hours"]


def test_a_spreadsheet_holds_days_amounts_and_texts_each_as_what_they_are() -> None:
    row = [date(2026, 3, 1), Decimal("7.25"), 26_100, "0042", None]
    sheet = sheet_of(row, ["=1+1", "https://mill.example", "", Decimal("-0.10"), 0])
    assert tuple(cell.value for cell in sheet[1]) == HEADERS
    assert [cell.font.b for cell in sheet[1]] == [True] * 5
    assert [cell.value for cell in sheet[2]] == [datetime(2026, 3, 1), 7.25, 26_100, "0042", ""]
    # ISO/IEC 29500-1, 18.3.1.4: a cell's type; d is a day, n a number, s a text
    assert [cell.data_type for cell in sheet[2]][:4] == ["d", "n", "n", "s"]
    assert [cell.number_format for cell in sheet[2]] == ["yyyy-mm-dd", "0.00", "General", "General", "General"]
    assert [cell.value for cell in sheet[3]] == ["=1+1", "https://mill.example", "", -0.1, 0]
    assert [cell.data_type for cell in sheet[3]][:2] == ["s", "s"]
    assert [cell.data_type for cell in sheet[1]] == ["s"] * 5
    assert all(cell.hyperlink is None for row in (1, 3) for cell in sheet[row])
    assert sheet.freeze_panes == "A2"
    # wide enough for what stands in it
    assert sheet.column_dimensions["B"].width > sheet.column_dimensions["C"].width


def test_a_text_file_holds_an_empty_field_where_nothing_is_known() -> None:
    # RFC 4180, section 2: a comma or a quote is quoted, a quote doubled
    rows: list[list[Cell]] = [['Zoë "Z", Ltd', None, date(2026, 3, 1)], ["B", Decimal("1.50"), 0]]
    content = written(rows, ("Name", "Rate", "Day"))
    assert content == (b"\xef\xbb\xbfName,Rate,Day\r\n" + '"Zoë ""Z"", Ltd",,2026-03-01\r\nB,1.50,0\r\n'.encode())
