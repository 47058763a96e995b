"""Turn person-weeks into payroll's rows, under the headers and in the order that the user owns.

Hours are exact seconds until they are printed: each printed figure is rounded once, half up, from the
seconds of its own row, and never added up from figures already rounded. Money is the sum of a person's pay
lines, each of which was rounded once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal

__all__ = [
    "DEFAULT_COLUMNS",
    "FIELDS",
    "MONEY_FIELDS",
    "Cell",
    "HandoffRow",
    "check_double_time",
    "handoff_columns",
    "handoff_rows",
]

Cell = str | int | Decimal | date | None


@dataclass(frozen=True)
class HandoffRow:
    """One person's time in one workweek, or in the whole period where no column asks for the week.

    `money` holds the columns of PAY_WEEKS, each None where something that decides it is not known.
    """

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
    double_s: int
    money: Mapping[str, Decimal | None]


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
    "double_hours": ("paid hours at double time", lambda row: hours(row.double_s)),
    "paid_hours": ("all paid hours", lambda row: hours(row.ordinary_s + row.overtime_s + row.double_s)),
    "ordinary_hm": ("ordinary time as hours:minutes", lambda row: hours_and_minutes(row.ordinary_s)),
    "overtime_hm": ("overtime as hours:minutes", lambda row: hours_and_minutes(row.overtime_s)),
    "double_hm": ("double time as hours:minutes", lambda row: hours_and_minutes(row.double_s)),
    "ordinary_seconds": ("ordinary time, exact", lambda row: row.ordinary_s),
    "overtime_seconds": ("overtime, exact", lambda row: row.overtime_s),
    "double_seconds": ("double time, exact", lambda row: row.double_s),
    "regular_rate": ("regular rate of the week, to four decimals", lambda row: row.money.get("regular_rate")),
    "straight_pay": ("pay for every hour once", lambda row: row.money.get("straight_pay")),
    "overtime_premium": ("what overtime and double time add", lambda row: row.money.get("overtime_premium")),
    "premium_pay": ("meal, rest and other premiums", lambda row: row.money.get("premiums")),
    "other_pay": ("what is paid and is no pay for work", lambda row: row.money.get("other_pay")),
    "total_pay": ("all pay of the row", lambda row: row.money.get("total_pay")),
}

MONEY_FIELDS = ("regular_rate", "straight_pay", "overtime_premium", "premium_pay", "other_pay", "total_pay")
SUMMED = ("straight_pay", "overtime_premium", "premiums", "other_pay", "total_pay")
DOUBLE_FIELDS = {"double_hours", "double_hm", "double_seconds", "paid_hours"}
SECONDS = ("recorded_s", "ordinary_s", "overtime_s", "double_s")

DEFAULT_COLUMNS: tuple[tuple[str, str], ...] = (
    ("Person", "person"),
    ("Name", "name"),
    ("Site", "site"),
    ("Week of", "workweek"),
    ("Ordinary hours", "ordinary_hours"),
    ("Overtime hours", "overtime_hours"),
    ("Double-time hours", "double_hours"),
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


def check_double_time(columns: Sequence[tuple[str, str]], rows: Sequence[HandoffRow]) -> None:
    """Raise Refusal where there is double time and no column for it, since those hours would not be paid."""
    double_s = sum(row.double_s for row in rows)
    if double_s and not DOUBLE_FIELDS & {field for _, field in columns}:
        raise Refusal(
            f"evenhand.toml [handoff.columns] has no column for {hours(double_s)} hours of double time; "
            'add one, such as "Double time" = "double_hours".'
        )


def handoff_rows(
    weeks: Frame, people: Frame, period: tuple[date, date], *, by_week: bool, pay_weeks: Frame | None = None
) -> list[HandoffRow]:
    """Return payroll's rows, by person and week, for everybody with time or pay in the period.

    `weeks` has the columns of WEEKS, all of workweeks that belong to the period; `people` those of PEOPLE, and
    `pay_weeks` those of PAY_WEEKS where money is asked for. Raises Refusal where somebody with hours is not on the
    roster. A regular rate belongs to a week, so rows for the whole period have none.
    """
    roster: Mapping[str, Mapping[str, object]] = {row["person"]: row for row in people.iter_rows(named=True)}
    keys = ["person", "workweek"] if by_week else ["person"]
    summed = weeks.group_by(keys).agg(pl.col(*SECONDS).sum())
    if pay_weeks is not None:
        summed = summed.join(_money(pay_weeks, keys, by_week=by_week), on=keys, how="full", coalesce=True)
        summed = summed.with_columns(pl.col(*SECONDS).fill_null(0))
    rows = []
    for week in summed.sort(keys).iter_rows(named=True):
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
                double_s=week["double_s"],
                money={name: _cents(name, week.get(name)) for name in ("regular_rate", *SUMMED)},
            )
        )
    return rows


def _money(pay_weeks: Frame, keys: Sequence[str], *, by_week: bool) -> Frame:
    """Sum the money of each row; a sum with an unknown part is unknown."""
    sums = [
        pl.when(pl.col(name).is_null().any()).then(None).otherwise(pl.col(name).sum()).alias(name) for name in SUMMED
    ]
    rate = pl.col("regular_rate").first() if by_week else pl.lit(None).alias("regular_rate")
    return pay_weeks.group_by(keys).agg(*sums, rate)


def _cents(name: str, amount: Decimal | None) -> Decimal | None:
    if amount is None:
        return None
    return amount if name == "regular_rate" else amount.quantize(Decimal("0.01"))
