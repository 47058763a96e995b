"""The table that a payroll is handed: its rows in its own columns, and what each column adds up to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from evenhand.pay.payroll.asked import FileAsked
from evenhand.pay.payroll.carried import by_code, left_out
from evenhand.pay.payroll.control import ControlTotal, Totals
from evenhand.pay.payroll.fields import FIELDS, Cell, PayrollField
from evenhand.pay.payroll.rows import PayrollRow
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import PRINTED
from evenhand.terms.languages import in_a_row, told
from evenhand.terms.payroll import WORKED_ITEMS, ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal

__all__ = ["PayrollTable", "check_all_handed_over", "payroll_table"]


@dataclass(frozen=True)
class PayrollTable:
    """One payroll's file before it is written: headers, cells by row, its control total, and figures (PRINTED)."""

    definition: ImportDefinition
    cells: tuple[tuple[Cell, ...], ...]
    total: ControlTotal
    printed: Frame = field(default_factory=PRINTED.empty)

    @property
    def headers(self) -> list[str]:
        """Return the headers of its columns, in order."""
        return [column.header for column in self.definition.columns]

    @property
    def paid_once(self) -> str:
        """Return which columns to pay worked time by, where both hours and money tell it; else ''.

        Pay at the rates of work holds every hour once, overtime too, so hours beside it would pay each a second time.
        """
        fields = {column.field: column.header for column in self.definition.columns if column.field in FIELDS}
        told = [FIELDS[name] for name in fields]
        if self.definition.codes or not any(_is_worked_time(one) for one in told):
            return ""
        if "base_pay" not in fields:
            return _overtime_once(fields)
        base, hours = fields["base_pay"], ", ".join(fields[one.name] for one in told if _is_worked_time(one))
        beyond = next((header for name, header in fields.items() if name == "overtime_premium"), "")
        with_it = (
            f'and "{beyond}" ' if beyond else "and for overtime what it adds, half of its hours, of double time all, "
        )
        return (
            f'Pay worked time once: by "{base}" {with_it}where they have a figure; do not pay {hours} again there. '
            f'Where "{base}" is empty, pay the hours.'
        )


def _overtime_once(fields: dict[str, str]) -> str:
    """Return which of hours past a limit and what they add is paid, by header; '' where not both are told."""
    beyond = [header for name, header in fields.items() if FIELDS[name].is_time and _is_beyond(FIELDS[name])]
    if "overtime_premium" not in fields or not beyond:
        return ""
    premium, hours = fields["overtime_premium"], ", ".join(beyond)
    return (
        f'Pay overtime once: "{premium}" is all that overtime and double time add to straight pay. Where it has a '
        f"figure, pay {hours} at the rate of the work and no more; where it is empty, work out what they add."
    )


def _is_beyond(one: PayrollField) -> bool:
    return bool(one.items & {"overtime", "double"})


def _is_worked_time(one: PayrollField) -> bool:
    return one.is_time and bool(one.items & set(WORKED_ITEMS))


def check_all_handed_over(asked: FileAsked, rows: Sequence[PayrollRow]) -> None:
    """Raise Refusal where something is owed in these rows that the file would leave out, naming the fields to add."""
    missing = left_out(rows, asked.handing_over)
    if not missing:
        return
    of, instead = told("codes") if asked.by_code else told("columns"), list[str]()
    if asked.by_code:
        missing, put_away = by_code(missing, asked.handing_over)
        if put_away:
            instead.append(
                told(
                    "Each code is paid, and pay at the rates of work holds every hour once: have worked time in money "
                    'alone, by "base_pay" and "overtime_premium", and take away {fields:joined}.',
                    fields=put_away,
                )
            )
        if any(one.field == "adjusts" for one in missing):
            instead.append(told('"adjusts" is a column beside the codes, and no code.'))
    lacks = told(
        "{where} has no {of} for all that is owed; left out would be {things}.",
        where=asked.definition.where,
        of=of,
        things=[one.says for one in missing],
    )
    raise Refusal(in_a_row("{one} {other}", [lacks, *instead]))


def payroll_table(asked: FileAsked, rows: Sequence[PayrollRow]) -> PayrollTable:
    """Return the table of these rows; each printed figure is counted in its control total as it is printed."""
    headed = zip((column.header for column in asked.definition.columns), asked.fields, strict=True)
    figures = [(header, field) for header, field in headed if field is not None and field.is_figure]
    totals = Totals(asked.definition.decimals, [*figures, *asked.codes])
    cells = tuple(_lines(asked, rows, totals))
    return PayrollTable(asked.definition, cells, totals.made(rows, len(cells)), _printed(asked, rows))


def rows_to_print(asked: FileAsked, rows: Sequence[PayrollRow]) -> list[PayrollRow]:
    """Return the rows that owe something, or in which a figure is left of what other files printed."""
    time, decimals = _fields_of_time(asked), asked.definition.decimals
    return [row for row in rows if row.seconds or row.amounts or any(one.figure(row, decimals) for one in time)]


def _fields_of_time(asked: FileAsked) -> list[PayrollField]:
    return list({one.name: one for one in asked.handing_over if one.is_time}.values())


def _printed(asked: FileAsked, rows: Sequence[PayrollRow]) -> Frame:
    """Return the figures of time (PRINTED) of these rows."""
    decimals = asked.definition.decimals
    return PRINTED.rows(
        {
            "person": row.person,
            "workweek": row.adjusts or row.workweek,
            "adjusts": row.adjusts is not None,
            "field": one.name,
            "figure": Decimal(one.figure(row, decimals) or 0),
        }
        for row in rows
        for one in _fields_of_time(asked)
    )


def _lines(asked: FileAsked, rows: Sequence[PayrollRow], totals: Totals) -> Iterator[tuple[Cell, ...]]:
    columns, decimals = asked.definition.columns, asked.definition.decimals
    for row in rows:
        _refuse_below_nothing(asked, row)
        if asked.by_code:
            for code, figures in _by_code(asked, row):
                for field in figures:
                    totals.count(code, field, row)
                yield tuple(
                    _of_code(column, code, figures, row, decimals) if field is None else field.cell(row, decimals)
                    for column, field in zip(columns, asked.fields, strict=True)
                )
            continue
        for column, one in zip(columns, asked.fields, strict=True):
            if one is not None and one.is_figure:
                totals.count(column.header, one, row)
        yield tuple(
            column.text if field is None else field.cell(row, decimals)
            for column, field in zip(columns, asked.fields, strict=True)
        )


def _refuse_below_nothing(asked: FileAsked, row: PayrollRow) -> None:
    """Refuse hours and minutes below zero, as of a correction: a spreadsheet takes -1:30 for a formula."""
    for one in asked.handing_over:
        if one.form == "hm" and (one.exact(row) or 0) < 0:
            raise Refusal(
                told(
                    '{where}: "{name}" would be below zero for {person}, and a spreadsheet takes -1:30 for a '
                    'formula; ask for "{one}" in its place.',
                    where=asked.definition.where,
                    name=one.name,
                    person=row.person,
                    one=one.name.replace("_hm", "_minutes"),
                )
            )


def _by_code(asked: FileAsked, row: PayrollRow) -> Iterator[tuple[str, list[PayrollField]]]:
    """Yield each code under which something is owed, with its fields; what is nought has no row."""
    of_code: dict[str, list[PayrollField]] = {}
    for code, one in asked.codes:
        exact = one.exact(row)
        is_owed = any(one.tells(item) for item in row.amounts) if exact is None else exact != 0
        is_owed |= bool(row.told and one.is_time and one.figure(row, asked.definition.decimals))
        if is_owed:
            of_code.setdefault(code, []).append(one)
    yield from of_code.items()


def _of_code(column: PayrollColumn, code: str, figures: Sequence[PayrollField], row: PayrollRow, decimals: int) -> Cell:
    """Return what stands in a column that belongs to a code, or the column's constant text."""
    if not column.field:
        return column.text
    if column.field == "code":
        return code
    wanted = {"hours": [one for one in figures if one.is_time], "pay": [one for one in figures if one.is_money]}
    found = wanted.get(column.field, figures)
    return found[0].cell(row, decimals) if found else None
