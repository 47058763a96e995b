"""The lines of a person's week: each exact, rounded once to the cent, with the rule that it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from evenhand.pay.due import WeekDue
from evenhand.pay.entries import Entry
from evenhand.pay.regular_rate import DOUBLE, TIME_AND_A_HALF, money
from evenhand.pay.stretches import WeekTime
from evenhand.terms.pay_law import PayLaw

__all__ = ["Line", "overtime_lines", "premium_lines", "straight_lines"]

BEYOND = {
    TIME_AND_A_HALF: ("overtime", "overtime, the half beyond straight pay"),
    DOUBLE: ("double", "double time, the whole beyond straight pay"),
}
PREMIUMS = {
    "meal": "premium for a meal period",
    "rest": "premium for rest periods",
    "split_shift": "premium for a split shift",
    "reporting": "reporting time",
    "call_back": "call-back time",
}


@dataclass(frozen=True)
class Line:
    """One line: `amount` in cents; `rate` is shown, the amount comes from the exact one."""

    part: str
    label: str
    amount: Decimal
    cites: str
    seconds: int | None = None
    rate: Fraction | None = None
    earned_in: date | None = None


def straight_lines(entries: Sequence[Entry]) -> list[Line]:
    """Return the lines of what is paid for every hour once, then of what does not count in the rate."""
    lines = [
        Line(
            "excluded" if entry.is_excluded else "straight",
            entry.earning.label,
            money(entry.earning.amount),
            entry.earning.cites.where,
            entry.seconds,
            entry.rate,
        )
        for entry in entries
        if entry.earning.amount
    ]
    return sorted(lines, key=lambda line: line.part == "excluded")


def overtime_lines(week: WeekTime, due: WeekDue, law: PayLaw) -> Iterator[Line]:
    """Yield a line for each multiple, one for credits, and one for each flat bonus."""
    rate = due.overtime.regular_rate
    for multiple, seconds in week.beyond.items():
        kind, label = BEYOND[multiple]
        extra = rate * (multiple - 1)
        yield Line("overtime", label, money(extra * seconds / 3600), law.source_of(kind), seconds, extra)
    credit = min(due.overtime.credit, due.overtime.premium)
    if credit:
        yield Line("overtime", "less premiums already paid", -money(credit), law.source_of("credit"))
    for flat in due.flats:
        if flat.owed:
            label = f"overtime on {flat.label}, by the hours that are not overtime"
            seconds = sum(week.beyond.values())
            yield Line(
                "overtime", label, money(flat.owed), law.source_of("flat_bonus_overtime"), seconds, flat.per_hour
            )


def premium_lines(
    week: WeekTime, due: WeekDue, premiums: Sequence[dict[str, Any]], minimum: Fraction, law: PayLaw
) -> Iterator[Line]:
    """Yield a line for each premium hour owed (rows of PREMIUMS), at the regular rate of pay.

    A split shift's hour is owed at the minimum wage, less what the day's pay already exceeds it by. The regular rate
    holds flat bonuses too.
    """
    for row in premiums:
        hours = Fraction(row["hours"])
        label = f"{PREMIUMS[row['kind']]}, {row['workday']}"
        if row["kind"] == "split_shift":
            amount = max(Fraction(0), minimum * (_hours(week, row["workday"]) + hours) - _day_pay(week, due, row))
            rate: Fraction | None = minimum
        else:
            amount, rate = hours * due.regular_rate, due.regular_rate
        cites = "; ".join(filter(None, (row["cites"], law.premium_cites)))
        yield Line("premium", label, money(amount), cites, int(hours * 3600), rate)


def _hours(week: WeekTime, day: date) -> Fraction:
    return Fraction(sum(one.seconds for one in week.stretches if one.day == day), 3600)


def _day_pay(week: WeekTime, due: WeekDue, row: dict[str, Any]) -> Fraction:
    return sum(
        (
            (one.rate.amount if one.rate and one.rate.plan == "hourly" else due.regular_rate) * one.seconds / 3600
            for one in week.stretches
            if one.day == row["workday"]
        ),
        Fraction(0),
    )
