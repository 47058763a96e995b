"""What a payroll asks for in its import definition: its columns and codes, each as a field that exists."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from evenhand.pay.payroll.carried import field_of, left_out
from evenhand.pay.payroll.fields import FIELDS, WHOSE, PayrollField, differential_fields
from evenhand.pay.payroll.rows import PayrollRow
from evenhand.terms.csv_text import as_harmless
from evenhand.terms.languages import told
from evenhand.terms.payroll import BASE, DIFFERENTIAL, OVERTIME_PREMIUM, WORKED_ITEMS, ImportDefinition, PayrollColumn
from evenhand.terms.records import Refusal

__all__ = ["CODE_FIELDS", "FileAsked", "asked_by", "default_columns"]

CODE_FIELDS = {
    "code": "the code; makes one row for each code",
    "hours": "the time that a row's code stands for",
    "pay": "the money that a row's code stands for",
    "value": "the time or the money, whichever the row's code stands for",
}
"""Fields of a file with one row for each code."""

ALWAYS = (
    ("Person", "person"),
    ("Name", "name"),
    ("Site", "site"),
    ("Week of", "workweek"),
    ("Ordinary hours", "ordinary_hours"),
    ("Overtime hours", "overtime_hours"),
    ("Double-time hours", "double_hours"),
)


@dataclass(frozen=True)
class FileAsked:
    """A definition with its fields: of each column (None for a constant text or a part of a code), and of each code."""

    definition: ImportDefinition
    fields: tuple[PayrollField | None, ...]
    codes: tuple[tuple[str, PayrollField], ...]

    @property
    def by_week(self) -> bool:
        """Whether each workweek has rows of its own."""
        return any(one is not None and one.name == "workweek" for one in self.fields)

    @property
    def by_code(self) -> bool:
        """Whether each code has a row of its own."""
        return bool(self.codes)

    @property
    def handing_over(self) -> list[PayrollField]:
        """Return the fields whose figures stand in the file."""
        of_columns = [one for one in self.fields if one is not None]
        return [*of_columns, *(one for _, one in self.codes)]


def asked_by(definition: ImportDefinition, differentials: Iterable[str]) -> FileAsked:
    """Return what a definition with columns asks for; raises Refusal naming what does not exist or does not fit."""
    known: Mapping[str, PayrollField] = FIELDS | differential_fields(differentials)
    fields = tuple(_field(definition, known, column) for column in definition.columns)
    codes = tuple((code, _found(definition, known, f'code "{code}"', name)) for name, code in definition.codes)
    asked = FileAsked(definition, fields, codes)
    _check_texts(definition)
    _check_codes(asked)
    if not any(one is not None and one.name in WHOSE for one in fields):
        raise Refusal(
            told(
                "{where} has no column that says whose a row is; add one with the field person.", where=definition.where
            )
        )
    return asked


def _field(
    definition: ImportDefinition, known: Mapping[str, PayrollField], column: PayrollColumn
) -> PayrollField | None:
    if not column.field or (definition.codes and column.field in CODE_FIELDS):
        return None
    if column.field in CODE_FIELDS:
        raise Refusal(
            told(
                '{where} "{header}": the field "{field}" belongs to a file with one row for each code; give the codes.',
                where=definition.where,
                header=column.header,
                field=column.field,
            )
        )
    return _found(definition, known, f'"{column.header}"', column.field)


def _found(definition: ImportDefinition, known: Mapping[str, PayrollField], what: str, name: str) -> PayrollField:
    if name not in known:
        raise Refusal(
            told(
                '{where} {what}: there is no field "{name}"; choose one of {known}.',
                where=definition.where,
                what=what,
                name=name,
                known=", ".join(known),
            )
        )
    return known[name]


def _check_texts(definition: ImportDefinition) -> None:
    """Refuse a header, text or code that a spreadsheet would run, since it could not be written as payroll knows it."""
    texts = [text for column in definition.columns for text in (column.header, column.text)]
    for text in (*texts, *(code for _, code in definition.codes)):
        if as_harmless(text) != text:
            raise Refusal(
                told(
                    '{where}: "{text}" would run as a formula in a spreadsheet; choose another.',
                    where=definition.where,
                    text=text,
                )
            )


def _check_codes(asked: FileAsked) -> None:
    """Refuse codes that cannot be told apart, added up, or seen in the file."""
    definition = asked.definition
    if not asked.by_code:
        return

    def refuse(why: str) -> None:
        raise Refusal(told("{where}: {why}", where=definition.where, why=why))

    of_code = {column.field for column in definition.columns} & set(CODE_FIELDS)
    if "code" not in of_code:
        refuse(told("codes are given, but no column has the field code; add one."))
    if figures := [one.name for one in asked.fields if one is not None and one.is_figure]:
        refuse(
            told(
                'a file with one row for each code would repeat "{field}" in each; give it a code instead.',
                field=figures[0],
            )
        )
    if "value" in of_code and of_code & {"hours", "pay"}:
        refuse(told("value holds what hours and pay would; keep one or the other."))
    wrong = [name for name, one in ((one.name, one) for _, one in asked.codes) if not one.is_figure]
    if wrong:
        refuse(told('"{field}" is no time and no money, so that it can have no code.', field=wrong[0]))
    for code, one in asked.codes:
        column = "hours" if one.is_time else "pay"
        if not of_code & {column, "value"}:
            refuse(
                told(
                    'the code "{code}" stands for {name}, but no column has the field {column}; add one.',
                    code=code,
                    name=one.name,
                    column=column,
                )
            )
    if "value" not in of_code and len({one.form for _, one in asked.codes if one.is_time}) > 1:
        refuse(told("the codes' time is in several forms in one column; give all of it in one, such as hours."))
    _check_paid_once(asked, of_code)


def _check_paid_once(asked: FileAsked, of_code: set[str]) -> None:
    """Refuse two codes by which payroll would pay one thing twice, and one code that would stand for two things.

    The hours and the money of one thing may share a code, whose row then has both.
    """
    where = asked.definition.where
    for at, (code, one) in enumerate(asked.codes):
        if one.items == {"recorded"}:
            raise Refusal(
                told(
                    '{where}: the code "{code}" stands for {name}, which nobody is owed; leave it out.',
                    where=where,
                    code=code,
                    name=one.name,
                )
            )
        for other_code, other in asked.codes[at + 1 :]:
            is_same = any(map(one.tells, other.items)) or any(map(other.tells, one.items))
            shares_row = code == other_code and one.is_time != other.is_time and is_same and "value" not in of_code
            if code == other_code and not shares_row:
                raise Refusal(
                    told(
                        '{where}: the code "{code}" stands for two things, {name} and {other}, that nobody could '
                        "tell apart; give each its own.",
                        where=where,
                        code=code,
                        name=one.name,
                        other=other.name,
                    )
                )
            if (is_same and not shares_row) or _pay_time_twice(one, other):
                raise Refusal(
                    told(
                        '{where}: payroll would pay what both "{code}" ({name}) and "{other_code}" ({other}) stand '
                        "for twice; keep one of them.",
                        where=where,
                        code=code,
                        name=one.name,
                        other_code=other_code,
                        other=other.name,
                    )
                )


def _pay_time_twice(one: PayrollField, other: PayrollField) -> bool:
    """Whether worked time is told by one and its money by the other: pay at the rates of work holds every hour."""
    time, money = (one, other) if one.is_time else (other, one)
    if not (time.is_time and money.is_money):
        return False
    beyond = bool(time.items & {"overtime", "double"})
    return (money.tells(BASE) and bool(time.items & set(WORKED_ITEMS))) or (money.tells(OVERTIME_PREMIUM) and beyond)


def default_columns(usual: Iterable[str], rows: Sequence[PayrollRow]) -> tuple[PayrollColumn, ...]:
    """Return the columns of a file that nobody defined: hours by week, and a column for all else that is owed.

    `usual` are items that the workplace owes now and then, so that their columns do not come and go with each period.
    """
    names = [name for _, name in ALWAYS]
    names += [name for item in usual if (name := field_of(item, of_money=False)) not in names]
    known = FIELDS | differential_fields(
        item.removeprefix(DIFFERENTIAL) for item in usual if item.startswith(DIFFERENTIAL)
    )
    more = dict.fromkeys(one.field for one in left_out(rows, [known[name] for name in names]))
    if "base_pay" in more:
        # It pays overtime once too, so that what overtime adds has to stand beside it, in money as well.
        more = dict.fromkeys([*(name for name in more if name != "reopened_pay"), "overtime_premium"])
    names += more
    headers = {name: header for header, name in ALWAYS}
    return tuple(PayrollColumn(headers.get(name) or _header(name), name) for name in names)


def _header(name: str) -> str:
    """Return a header for a field: `meal_premium_hours` is "Meal premium hours"; a differential keeps its own name."""
    item, _, differential = name.partition(":")
    if differential:
        return f"{differential} {item.removeprefix('differential_')}"
    return item.removeprefix("earned_").replace("_", " ").capitalize()
