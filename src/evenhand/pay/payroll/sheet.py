"""Payroll's table as a workbook, in which days are days, figures figures and texts texts."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal

from evenhand.pay.payroll.fields import Cell

__all__ = ["as_workbook"]


def as_workbook(headers: Sequence[str], cells: Sequence[Sequence[Cell]]) -> bytes:
    """Return a workbook with one sheet, called Hours; leading zeros stay, and nothing in it is a formula."""
    import xlsxwriter

    content = io.BytesIO()
    # A name that begins with = is a name, not a formula.
    book = xlsxwriter.Workbook(content, {"strings_to_formulas": False, "strings_to_urls": False, "in_memory": True})
    bold = book.add_format({"bold": True})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    amount = book.add_format({"num_format": "0.00"})
    sheet = book.add_worksheet("Hours")
    sheet.write_row(0, 0, headers, bold)
    sheet.freeze_panes(1, 0)
    for place, row in enumerate(cells, 1):
        for column, cell in enumerate(row):
            if isinstance(cell, date):
                sheet.write_datetime(place, column, datetime.combine(cell, datetime.min.time()), day)
            elif isinstance(cell, Decimal):
                sheet.write_number(place, column, float(cell), amount)
            elif isinstance(cell, int):
                sheet.write_number(place, column, cell)
            else:
                sheet.write_string(place, column, cell or "")  # text, so that leading zeros stay
    sheet.autofit()
    book.close()
    return content.getvalue()
