"""What a decision does to paid time and pay: for each person and pay period both, over the same workweeks."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

import polars as pl

from evenhand.jobs.hours import WorkedHours
from evenhand.jobs.pay import total_pay
from evenhand.jobs.reckoning import Reckoning
from evenhand.store.handed_off import in_force

__all__ = ["HoursOwed", "PeriodChange", "Worth", "pay_before_and_after", "period_changes"]

COMPARED: Mapping[str, tuple[str, ...]] = {
    "weeks": ("workweek", "recorded_s", "ordinary_s", "overtime_s", "double_s", "questions"),
    "premiums": ("workweek", "workday", "kind", "hours"),
    "differentials": ("workweek", "starts", "ends", "kind"),
}
"""Which columns of a person's hours say what a week is worth."""


@dataclass(frozen=True)
class HoursOwed:
    """Hours of pay owed beside time worked, of one kind (`meal`, `split_shift` and so on) [h]."""

    kind: str
    hours: Decimal


@dataclass(frozen=True)
class Worth:
    """What some workweeks of a person are worth; pay is None where it is not known, or was not asked for.

    The four parts of the pay are what PAY_WEEKS has; none of them is known where `pay` is not.
    """

    ordinary_s: int
    overtime_s: int
    double_s: int
    owed: tuple[HoursOwed, ...]
    questions: int
    pay: Decimal | None
    straight_pay: Decimal | None
    overtime_premium: Decimal | None
    premium_pay: Decimal | None
    other_pay: Decimal | None

    @property
    def paid_s(self) -> int:
        """Return the paid seconds of every class."""
        return self.ordinary_s + self.overtime_s + self.double_s


@dataclass(frozen=True)
class PeriodChange:
    """A person's workweeks that a decision changes within one pay period, from the first to the last of them.

    `first_week` and `last_week` are the days on which these begin; time and pay are of them alone. `file` is what
    payroll has of the period already, with when it was handed off; None where the period is still open.
    """

    person: str
    name: str
    first: date
    last: date
    first_week: date
    last_week: date
    file: str | None
    handed_off_at: int | None
    before: Worth
    after: Worth


def period_changes(
    before: Reckoning,
    after: Reckoning,
    people: Collection[str],
    touched: Mapping[str, Collection[date]] | None = None,
    *,
    in_money: bool = True,
) -> tuple[PeriodChange, ...]:
    """Return what changes for `people` from one reckoning to the other, by person and period.

    `touched` names workweeks that are told also where nothing of them changes. A week that fails is refused.
    """
    changes: list[PeriodChange] = []
    for person in people:
        hours = before.person_hours(person), after.person_hours(person)
        weeks = sorted({*_changed(*hours), *(touched or {}).get(person, ())})
        for _, some in groupby(weeks, key=lambda week: before.period(week).first):
            changes.append(_change(before, after, person, hours, list(some), in_money=in_money))
    return tuple(changes)


def pay_before_and_after(changes: Collection[PeriodChange]) -> tuple[Decimal | None, Decimal | None]:
    """Return the pay of all the changes together before and after; None for a side where some of it is not known."""
    before, after = [one.before.pay for one in changes], [one.after.pay for one in changes]
    was, now = (None if None in side else sum(filter(None, side), Decimal("0.00")) for side in (before, after))
    return was, now


def _changed(was: WorkedHours, now: WorkedHours) -> Iterator[date]:
    for name, columns in COMPARED.items():
        one, other = (getattr(hours, name).select(columns) for hours in (was, now))
        yield from one.join(other, on=columns, how="anti")["workweek"]
        yield from other.join(one, on=columns, how="anti")["workweek"]


def _change(
    before: Reckoning,
    after: Reckoning,
    person: str,
    hours: tuple[WorkedHours, WorkedHours],
    weeks: list[date],
    *,
    in_money: bool,
) -> PeriodChange:
    of, period, span = before.snapshot, before.period(weeks[0]), (weeks[0], weeks[-1])
    handed = (
        in_force(of.handoffs).filter(pl.col("first_day") <= period.last, pl.col("last_day") >= period.first).tail(1)
    )
    file = handed.row(0, named=True) if handed.height else {}
    was, now = (
        _worth(reckoning, person, one.in_weeks(*span), span, in_money=in_money)
        for reckoning, one in zip((before, after), hours, strict=True)
    )
    return PeriodChange(
        person=person,
        name=of.names.get(person, person),
        first=period.first,
        last=period.last,
        first_week=span[0],
        last_week=span[1],
        file=file.get("file"),
        handed_off_at=file.get("made_at"),
        before=was,
        after=now,
    )


def _worth(reckoning: Reckoning, person: str, hours: WorkedHours, span: tuple[date, date], *, in_money: bool) -> Worth:
    hours.refuse_failing()
    owed = hours.premiums.group_by("kind").agg(pl.col("hours").sum()).sort("kind")
    money: dict[str, Any] = dict.fromkeys(("pay", "straight_pay", "overtime_premium", "premium_pay", "other_pay"))
    if in_money:
        paid = reckoning.pay_of(person, *span)
        money["pay"] = total_pay(reckoning.snapshot, person, paid, span)
        if money["pay"] is not None:
            for name in ("straight_pay", "overtime_premium", "premiums", "other_pay"):
                part = paid.weeks[name].drop_nulls().to_list()
                money[name.replace("premiums", "premium_pay")] = sum(part, Decimal("0.00")).quantize(Decimal("0.01"))
    return Worth(
        ordinary_s=int(hours.weeks["ordinary_s"].sum()),
        overtime_s=int(hours.weeks["overtime_s"].sum()),
        double_s=int(hours.weeks["double_s"].sum()),
        owed=tuple(HoursOwed(kind, amount) for kind, amount in owed.iter_rows()),
        questions=int(hours.weeks["questions"].sum()),
        **money,
    )
