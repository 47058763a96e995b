"""What is owed for a pay period, item by item, and how a payroll wants to be told of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evenhand.terms.columns import Column, Table
from evenhand.terms.hours import PREMIUMS
from evenhand.terms.wages import EARNING_KINDS

__all__ = [
    "BASE",
    "BY_DAY",
    "BY_SALARY",
    "DIFFERENTIAL",
    "EARNED_ITEMS",
    "ON_EARNINGS",
    "OVERTIME_PREMIUM",
    "OWED",
    "PREMIUM_ITEMS",
    "RAISED",
    "REOPENED",
    "WORKED_ITEMS",
    "ImportDefinition",
    "PayrollColumn",
]

WORKED_ITEMS = ("ordinary", "overtime", "double")
PREMIUM_ITEMS = {
    kind: f"{kind}_premium" if kind in ("meal", "rest") else kind for kind in PREMIUMS.column("kind").allowed
}
"""The item of each kind of premium hours."""
EARNED_ITEMS = {kind: f"earned_{kind}" for kind in EARNING_KINDS}
"""The item of each kind of earnings."""
BY_SALARY = "by_salary"
"""The item of salaries, which hours do not tell."""
BASE, BY_DAY, OVERTIME_PREMIUM, REOPENED = "base", "by_day", "overtime_premium", "reopened"
ON_EARNINGS = "on_earnings:"
"""What the item of that part of overtime or premium hours begins with which rests on earnings beside the hours; the
item it is part of follows. Payroll works it out from hours and earnings told together, and is told it where one came
later."""
RAISED = "minimum_wage"
"""The item of what raises pay to the minimum wage."""
DIFFERENTIAL = "differential:"
"""What the item of a differential begins with; its name follows."""

OWED = Table(
    "owed",
    "What is owed to each person for a workweek, item by item: in time, in money, or in both",
    (
        Column("person", "text", "To whom it is owed", required=True),
        Column("workweek", "date", "The civil date on which the workweek begins", required=True),
        Column("item", "text", "What it is owed for, such as overtime, meal_premium or earned_bonus", required=True),
        Column("seconds", "seconds", "The time owed; empty where it is not owed by time", unit="s"),
        Column("rate", "money", "The rate, where time is paid by one", unit="currency"),
        Column("amount", "money", "The money owed; empty where it is not known, or told by other items"),
        Column("is_known", "yes_no", "Whether the pay of the week is known", required=True),
        Column("adjusts", "yes_no", "Whether it corrects what was handed off for an earlier period", required=True),
    ),
)


@dataclass(frozen=True)
class PayrollColumn:
    """A column of payroll's file: its header, and the field or the constant `text` that stands under it."""

    header: str
    field: str = ""
    text: str = ""


@dataclass(frozen=True)
class ImportDefinition:
    """How one payroll wants its file: which columns in which order, by which codes, and how it is written.

    Without `columns` they follow from what the workplace owes. `codes` are (field, code) pairs; a column with the field
    `code` makes one row for each. `sites` are those whose people the file holds; without them it holds everybody whom
    no other definition names. `day` is how dates are written, of YYYY, YY, MM and DD. `where` is what refusals call it.
    """

    name: str = ""
    where: str = "evenhand.toml [handoff.columns]"
    columns: tuple[PayrollColumn, ...] = ()
    codes: tuple[tuple[str, str], ...] = ()
    sites: tuple[str, ...] = ()
    has_header: bool = True
    delimiter: str = ","
    decimal_mark: str = "."
    decimals: int = 2
    day: str = "YYYY-MM-DD"
    encoding: str = "utf-8"
    has_mark: bool = True
    line_end: str = "\r\n"

    @property
    def fields(self) -> tuple[str, ...]:
        """Return the fields that its columns and codes ask for, each once."""
        named = [column.field for column in self.columns if column.field] + [field for field, _ in self.codes]
        return tuple(dict.fromkeys(named))

    def with_columns(self, columns: tuple[PayrollColumn, ...]) -> ImportDefinition:
        """Return the same definition with these columns."""
        return replace(self, columns=columns)
