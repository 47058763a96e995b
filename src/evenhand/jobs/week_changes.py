"""Which weeks are paid otherwise where takes are folded anew, and which periods handed off these lie in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

import polars as pl

from evenhand.jobs.pay import is_in_money
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame

__all__ = ["PeriodTouched", "WeekChange", "periods_touched", "weeks_changed"]

CLASSES = ("ordinary_s", "overtime_s", "double_s")


@dataclass(frozen=True)
class WeekChange:
    """A person's workweek whose paid seconds [s], or what they are paid as, or pay change.

    Of the paid seconds, `overtime` and `double` are those paid as overtime and at double time. Pay is None where it is
    not known.
    """

    person: str
    name: str
    workweek: date
    paid_before_s: int
    paid_after_s: int
    overtime_before_s: int
    overtime_after_s: int
    double_before_s: int
    double_after_s: int
    pay_before: Decimal | None
    pay_after: Decimal | None


@dataclass(frozen=True)
class PeriodTouched:
    """A period that was handed off already and of which weeks change, with the file that payroll has."""

    first_day: date
    last_day: date
    file: str
    made_at: int
    people: tuple[str, ...]


def weeks_changed(before: Reckoning, after: Reckoning) -> Iterator[WeekChange]:
    """Yield each person's workweek that is paid otherwise by one reckoning than by the other, by week and person."""
    key, was, now = ["person", "workweek"], before.snapshot, after.snapshot
    sides = [_paid_weeks(of) for of in (before, after)]
    both = sides[0].join(sides[1], on=key, how="full", coalesce=True, suffix="_after")
    # Whoever has no such week is paid nothing for it, where pay is known at all.
    for side, of in (("", was), ("_after", now)):
        has_none = pl.col(f"ordinary_s{side}").is_null()
        nothing = pl.when(has_none).then(pl.lit(0 if is_in_money(of) else None, pl.Decimal(18, 4)))
        both = both.with_columns(
            nothing.otherwise(pl.col(f"total_pay{side}")).alias(f"total_pay{side}"),
            *(pl.col(f"{name}{side}").fill_null(0) for name in CLASSES),
        ).with_columns(pl.sum_horizontal(f"{name}{side}" for name in CLASSES).alias(f"paid_s{side}"))
    said = (*CLASSES, "total_pay")
    differs = pl.any_horizontal(pl.col(name).ne_missing(pl.col(f"{name}_after")) for name in said)
    names = dict(was.people.select("person", "name").iter_rows()) | now.names
    for row in both.filter(differs).sort("workweek", "person").iter_rows(named=True):
        yield WeekChange(
            row["person"],
            names.get(row["person"], row["person"]),
            row["workweek"],
            row["paid_s"],
            row["paid_s_after"],
            row["overtime_s"],
            row["overtime_s_after"],
            row["double_s"],
            row["double_s_after"],
            row["total_pay"],
            row["total_pay_after"],
        )


def _paid_weeks(reckoning: Reckoning) -> Frame:
    """Return each person's workweeks with CLASSES [s] and `total_pay`, which is null where it is not known."""
    key = ["person", "workweek"]
    weeks = reckoning.hours.weeks.select(*key, *CLASSES)
    if weeks.is_empty() or not is_in_money(reckoning.snapshot):
        return weeks.with_columns(total_pay=pl.lit(None, pl.Decimal(18, 4)))
    first, last = weeks["workweek"].min(), weeks["workweek"].max()
    assert isinstance(first, date) and isinstance(last, date)
    money = reckoning.pay_between(first, last).weeks.select(*key, "total_pay")
    return weeks.join(money, on=key, how="left")


def periods_touched(was: Snapshot, weeks: tuple[WeekChange, ...]) -> Iterator[PeriodTouched]:
    """Yield each period handed off, by the last file of it, in which weeks change."""
    last = was.handoffs.unique("first_day", keep="last", maintain_order=True)
    for row in last.iter_rows(named=True):
        people = {
            one.person
            for one in weeks
            if one.workweek <= row["last_day"] and one.workweek + timedelta(days=6) >= row["first_day"]
        }
        if people:
            yield PeriodTouched(row["first_day"], row["last_day"], row["file"], row["made_at"], tuple(sorted(people)))
