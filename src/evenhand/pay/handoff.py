"""Turn person-weeks into payroll's rows, under the headers and in the order that the user owns.

Hours are exact seconds until they are printed: each printed figure is rounded once, half up, from the
seconds of its own row, and never added up from figures already rounded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal

__all__ = ["DEFAULT_COLUMNS", "FIELDS", "Cell", "HandoffRow", "handoff_columns", "handoff_rows"]

Cell = str | int | Decimal | date | None


@dataclass(frozen=True)
class HandoffRow:
    """One person's time in one workweek, or in the whole period where no column asks for the week."""

    person: str
    name: str
    number: str
    site: str
    department: str
    hourly_rate: Decimal | None
    workweek: date | None
    period_first: date
    period_last: date
    recorded_s: int
    ordinary_s: int
    overtime_s: int


def hours(seconds: int) -> Decimal:
    """Return hours with two decimals, rounded once, half up."""
    return (Decimal(seconds) / 3600).quantize(Decimal("0.01"), ROUND_HALF_UP)


def hours_and_minutes(seconds: int) -> str:
    """Return hours and minutes such as 38:05, rounded once to the minute, half up."""
    minutes = (seconds + 30) // 60
    return f"{minutes // 60}:{minutes % 60:02d}"


FIELDS: dict[str, tuple[str, Callable[[HandoffRow], Cell]]] = {
    "person": ("personnel or payroll identifier", lambda row: row.person),
    "name": ("name as the roster writes it", lambda row: row.name),
    "number": ("number keyed at the readers", lambda row: row.number),
    "site": ("site", lambda row: row.site),
    "department": ("department or cost centre", lambda row: row.department),
    "hourly_rate": ("rate on the roster", lambda row: row.hourly_rate),
    "workweek": ("first day of the workweek; makes one row a week", lambda row: row.workweek),
    "period_first": ("first day of the pay period", lambda row: row.period_first),
    "period_last": ("last day of the pay period", lambda row: row.period_last),
    "recorded_hours": ("hours between paired punches", lambda row: hours(row.recorded_s)),
    "ordinary_hours": ("paid hours up to the weekly threshold", lambda row: hours(row.ordinary_s)),
    "overtime_hours": ("paid hours beyond it", lambda row: hours(row.overtime_s)),
    "paid_hours": ("ordinary and overtime hours", lambda row: hours(row.ordinary_s + row.overtime_s)),
    "ordinary_hm": ("ordinary time as hours:minutes", lambda row: hours_and_minutes(row.ordinary_s)),
    "overtime_hm": ("overtime as hours:minutes", lambda row: hours_and_minutes(row.overtime_s)),
    "ordinary_seconds": ("ordinary time, exact", lambda row: row.ordinary_s),
    "overtime_seconds": ("overtime, exact", lambda row: row.overtime_s),
}

DEFAULT_COLUMNS: tuple[tuple[str, str], ...] = (
    ("Person", "person"),
    ("Name", "name"),
    ("Site", "site"),
    ("Week of", "workweek"),
    ("Ordinary hours", "ordinary_hours"),
    ("Overtime hours", "overtime_hours"),
)


def handoff_columns(mapping: Sequence[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Return the (header, field) pairs to print; raises Refusal naming a field that does not exist."""
    columns = tuple(mapping) or DEFAULT_COLUMNS
    for header, field in columns:
        if field not in FIELDS:
            raise Refusal(
                f'evenhand.toml [handoff.columns] "{header}": there is no field "{field}"; '
                f"choose one of {', '.join(FIELDS)}."
            )
    return columns


def handoff_rows(weeks: Frame, people: Frame, period: tuple[date, date], *, by_week: bool) -> list[HandoffRow]:
    """Return payroll's rows, by person and week, for everybody with recorded time in the period.

    `weeks` has the columns of WEEKS, all of workweeks that belong to the period; `people` those of PEOPLE.
    Raises Refusal where somebody with hours is not on the roster.
    """
    roster: Mapping[str, Mapping[str, object]] = {row["person"]: row for row in people.iter_rows(named=True)}
    keys = ["person", "workweek"] if by_week else ["person"]
    summed = weeks.group_by(keys).agg(pl.col("recorded_s", "ordinary_s", "overtime_s").sum()).sort(keys)
    rows = []
    for week in summed.iter_rows(named=True):
        who = roster.get(week["person"])
        if who is None:
            raise Refusal(f"person {week['person']} has hours but is not on the roster; take a roster that lists them.")
        rate = who["hourly_rate"]
        rows.append(
            HandoffRow(
                person=week["person"],
                name=str(who["name"]),
                number=str(who["number"] or ""),
                site=str(who["site"] or ""),
                department=str(who["department"] or ""),
                hourly_rate=rate if isinstance(rate, Decimal) else None,
                workweek=week["workweek"] if by_week else None,
                period_first=period[0],
                period_last=period[1],
                recorded_s=week["recorded_s"],
                ordinary_s=week["ordinary_s"],
                overtime_s=week["overtime_s"],
            )
        )
    return rows
