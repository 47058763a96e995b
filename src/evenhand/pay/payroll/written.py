"""Payroll's table as text: delimiter, decimal mark, days and encoding as its import definition says.

Nothing in it runs where a spreadsheet opens it: a text that could begin a formula is led by an apostrophe, and numbers,
also those below zero, stand as numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from evenhand.pay.payroll.fields import Cell
from evenhand.pay.payroll.tables import PayrollTable
from evenhand.terms.csv_text import MARK, as_csv, as_harmless
from evenhand.terms.languages import told
from evenhand.terms.payroll import ImportDefinition
from evenhand.terms.records import Refusal

__all__ = ["as_day_of", "as_text_file", "changed_cells"]


def as_text_file(table: PayrollTable) -> bytes:
    """Return the file that payroll reads; raises Refusal where a character cannot be written in its encoding."""
    definition = table.definition
    rows = ([_cell(definition, cell) for cell in row] for row in table.cells)
    header = table.headers if definition.has_header else []
    text = as_csv(header, rows, delimiter=definition.delimiter, end=definition.line_end)
    try:
        return ((MARK if definition.has_mark else "") + text).encode(definition.encoding)
    except UnicodeEncodeError as fault:
        line = text.count(definition.line_end, 0, fault.start) + 1
        raise Refusal(
            told(
                '{where}: "{text}" in line {line} of the file cannot be written in {encoding}; choose '
                "another encoding, such as utf-8.",
                where=definition.where,
                text=text[fault.start],
                line=line,
                encoding=definition.encoding,
            )
        ) from fault


def changed_cells(table: PayrollTable) -> int:
    """Return how many texts of the table are led by an apostrophe, so that no spreadsheet runs them."""
    return sum(isinstance(cell, str) and as_harmless(cell) != cell for row in table.cells for cell in row)


def as_day_of(pattern: str, day: date) -> str:
    """Return a day as a pattern of YYYY, YY, MM and DD writes it."""
    parts: Sequence[tuple[str, str]] = (("YYYY", f"{day.year:04d}"), ("YY", f"{day.year % 100:02d}"))
    for letters, figures in (*parts, ("MM", f"{day.month:02d}"), ("DD", f"{day.day:02d}")):
        pattern = pattern.replace(letters, figures)
    return pattern


def _cell(definition: ImportDefinition, cell: Cell) -> str | int | None:
    if isinstance(cell, date):
        return as_day_of(definition.day, cell)
    if isinstance(cell, Decimal):
        return str(cell).replace(".", definition.decimal_mark)
    return cell
