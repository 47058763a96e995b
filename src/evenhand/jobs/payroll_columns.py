"""The columns of payroll's file as a table: what stands there, what may, and how the file would begin by others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from evenhand import pay
from evenhand.jobs.handoff import foresee_files
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.settings_change import SettingsText
from evenhand.jobs.today import Today
from evenhand.store.columns_rewritten import PlacedColumn, columns_rewritten, columns_written
from evenhand.store.settings import parse_settings
from evenhand.terms.languages import said_of, told
from evenhand.terms.payroll import PayrollColumn
from evenhand.terms.records import Refusal, Unknown

__all__ = [
    "ColumnsAsked",
    "FileBegins",
    "begin_of_file",
    "columns_now",
    "fields_known",
    "moved",
    "nothing_there",
    "payrolls",
    "with_columns",
]

FIRST_LINES = 4


@dataclass(frozen=True)
class ColumnsAsked:
    """Columns as somebody wrote them: `was` is the place of each in the file as it is, None for a new one."""

    payroll: str
    rows: tuple[PlacedColumn, ...]


@dataclass(frozen=True)
class FileBegins:
    """The first lines of payroll's file, or what keeps it from being written."""

    lines: tuple[str, ...] = ()
    refused: str = ""


def payrolls(reckoning: Reckoning) -> list[str]:
    """Return what each payroll is called whose columns may be changed; '' where the one file has no name."""
    return [one.name for one in reckoning.snapshot.settings.import_definitions]


def columns_now(reckoning: Reckoning, today: Today, text: str, payroll: str) -> ColumnsAsked:
    """Return the columns that a settings file says; where it is silent those that follow from what is owed.

    Raises Refusal where there is no payroll of the name.
    """
    if payroll not in payrolls(reckoning):
        raise Unknown(told('there is no payroll "{payroll}" in evenhand.toml.', payroll=payroll))
    if written := columns_written(text, payroll):
        return ColumnsAsked(payroll, tuple(PlacedColumn(at, one) for at, one in enumerate(written)))
    try:
        usual = foresee_files(reckoning, today).tables[0].definition.columns
    except Refusal:
        usual = ()
    return ColumnsAsked(payroll, tuple(PlacedColumn(None, one) for one in usual))


def fields_known(reckoning: Reckoning, payroll: str) -> list[str]:
    """Return the names of the fields that may stand in a column."""
    settings = reckoning.snapshot.settings
    has_codes = any(one.codes for one in settings.import_definitions if one.name == payroll)
    names = [one.name for one in settings.policy.differentials]
    return [*(pay.CODE_FIELDS if has_codes else ()), *pay.FIELDS, *pay.differential_fields(names)]


def with_columns(file: SettingsText, asked: ColumnsAsked, path: Path) -> str:
    """Return the text of the settings with these columns; Refusal where one lacks what it needs."""
    headers = [one.column.header for one in asked.rows]
    for number, (_, column) in enumerate(asked.rows, start=1):
        if not (column.field or (asked.payroll and column.text)):
            raise Refusal(
                told(
                    'row {number}, "{header}": nothing is said to stand in this column; choose what does, or take '
                    "the row out.",
                    number=number,
                    header=column.header,
                )
            )
        if not asked.payroll and not column.header:
            raise Refusal(told("row {number} has no header; write what payroll calls this column.", number=number))
        if not asked.payroll and headers.index(column.header) < number - 1:
            raise Refusal(
                told(
                    'two columns are called "{header}"; give the one in row {number} another header.',
                    header=column.header,
                    number=number,
                )
            )
        if column.field and column.text:
            raise Refusal(told("row {number} has a field and a text; leave one of the two empty.", number=number))
    return columns_rewritten(file.text, asked.payroll, asked.rows, path)


def begin_of_file(reckoning: Reckoning, today: Today, text: str, path: Path, payroll: str) -> FileBegins:
    """Return how payroll's file of the period that `today` is about would begin by the settings in `text`."""
    try:
        now = replace(reckoning.snapshot, settings=parse_settings(text, path))
        tables = foresee_files(reckoning.following(now, reckoning.as_of), today).tables
    except Refusal as refusal:
        return FileBegins(refused=said_of(refusal))
    table = next((one for one in tables if one.definition.name == payroll), None)
    if table is None:
        return FileBegins()
    written = pay.as_text_file(table).decode(table.definition.encoding).removeprefix("\ufeff")
    return FileBegins(tuple(written.split(table.definition.line_end)[:FIRST_LINES]))


def moved(rows: Sequence[PlacedColumn], at: int, by: int) -> tuple[PlacedColumn, ...]:
    """Return rows with the one at a place moved up (-1) or down (1); as they are where it cannot be."""
    to, changed = at + by, list(rows)
    if 0 <= at < len(rows) and 0 <= to < len(rows):
        changed[at], changed[to] = changed[to], changed[at]
    return tuple(changed)


def nothing_there() -> PlacedColumn:
    """Return a row to be filled in."""
    return PlacedColumn(None, PayrollColumn(""))
