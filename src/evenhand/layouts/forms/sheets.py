"""Workbooks: one sheet's cells as the text a person sees, typed dates in ISO 8601.

Source: ECMA-376 part 1, section 18.17.4 (dates are days from 1899-12-30, times are parts of a day).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from evenhand.layouts.forms.cell_errors import find_errors
from evenhand.layouts.forms.extents import check_workbook
from evenhand.layouts.forms.grid import Grid
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from fastexcel import ExcelReader

__all__ = ["CELL_ERROR", "load_sheet", "open_workbook", "refuse_serials", "split_sheet"]

CELL_ERROR = "#ERROR"
BARE_TIME = r"^(?:1899-12-3[01]|1904-01-01) (\d\d:\d\d:\d\d)$"
"""A time of day alone: the day from which a workbook counts stands before it."""
SERIAL = r"^[0-9]{5}(?:[.,][0-9]+)?$"


def load_sheet(name: str, content: bytes, workbook: ExcelReader, sheet: str) -> list[pl.Series]:
    """Return the columns of a sheet of an opened workbook, from its first row and column on; '' is an empty cell.

    Raises Refusal where the workbook has no such sheet, or one that cannot be read.
    """
    if sheet and sheet not in workbook.sheet_names:
        raise Refusal(
            of_file(
                name,
                told(
                    "no sheet is called {sheet}; the sheets are {sheets}.",
                    sheet=repr(sheet),
                    sheets=", ".join(workbook.sheet_names),
                ),
            )
        )
    import fastexcel

    try:
        loaded = workbook.load_sheet(sheet or 0, header_row=None, skip_rows=0, dtypes="string").to_polars()
    except fastexcel.FastExcelError as error:
        raise Refusal(of_file(name, told("the sheet cannot be read; save the workbook again."))) from error
    columns = [column.fill_null("") for column in loaded]
    for row, column in find_errors(content, sheet) or ():
        # What the library gives a value has no error; then the places do not fit, and any of them may be wrong.
        if column >= len(columns) or row >= columns[column].len() or columns[column][row]:
            raise Refusal(of_file(name, told("cells of the sheet hold spreadsheet errors; correct them there.")))
        columns[column] = columns[column].scatter(row, CELL_ERROR)
    return [column.str.replace(BARE_TIME, "$1") for column in columns]


def split_sheet(columns: list[pl.Series], header: int) -> Grid:
    """Return the cells of the rows after row `header` (0: none); rows without any value are not rows."""
    headers = tuple(" ".join(column[header - 1].split()) for column in columns) if header else ()
    filled = np.zeros(columns[0].len() if columns else 0, dtype=np.bool_)
    for column in columns:
        filled |= (column.str.strip_chars() != "").to_numpy()
    rows = np.flatnonzero(filled[header:]) + header
    preamble = int(filled[: header - 1].sum()) if header > 1 else 0
    return Grid(headers, tuple(column.gather(rows) for column in columns), rows + 1, preamble=preamble)


def refuse_serials(name: str, label: str, column: pl.Series) -> None:
    """Raise Refusal where a column of days holds bare numbers, though the workbook counts its days from 1904.

    They may count from there, or have come from a workbook that does not; the two are four years and a day apart.
    """
    serials = column.filter(column.str.contains(SERIAL))
    if serials.len():
        raise Refusal(
            of_file(
                name,
                told(
                    "the workbook counts its days from 1904, and {label} holds days as bare numbers, such as "
                    "{serial}, which may count from there or not; give the column the format of a date, look "
                    "whether its dates are right, and save the workbook again.",
                    label=repr(label),
                    serial=serials[0],
                ),
            )
        )


def open_workbook(name: str, content: bytes) -> ExcelReader:
    """Return the workbook; raises Refusal where it is none, or would need more room than a table of rows does."""
    import fastexcel

    check_workbook(name, content)
    try:
        return fastexcel.read_excel(content)
    except fastexcel.FastExcelError as error:
        raise Refusal(of_file(name, told("this is no workbook that can be opened; save it as XLSX or CSV."))) from error
