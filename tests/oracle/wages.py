"""What somebody's weeks are paid by: rates, payments, premium hours, minutes of work, and the minimum wages that bind.

Sources: 29 CFR 778.113(b) (salaries of months and half months); 29 USC 206(a)(1)(C), Labor Code 1182.12 and the other
states' own (minimum wages).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction
from functools import cache
from typing import NamedTuple

__all__ = ["WEEK", "ZERO", "Alike", "Payment", "Person", "Premium", "Rate", "minimum_wage", "priced", "rate_on"]

TURNS = {"week": Fraction(1), "half_month": Fraction(24, 52), "month": Fraction(12, 52)}  # 29 CFR 778.113(b)
WEEK = timedelta(days=7)
ZERO = Fraction(0)

FEDERAL = {date(2009, 7, 24): "7.25"}  # 29 USC 206(a)(1)(C)
# An hour, from these days on, as the states' labor departments announced them; from memory.
STATES = {
    "california": {
        date(2022, 1, 1): "15.00", date(2023, 1, 1): "15.50", date(2024, 1, 1): "16.00", date(2025, 1, 1): "16.50",
        date(2026, 1, 1): "16.90",
    },
    "alaska": {
        date(2021, 1, 1): "10.34", date(2023, 1, 1): "10.85", date(2024, 1, 1): "11.73", date(2025, 1, 1): "11.91",
        date(2025, 7, 1): "13.00", date(2026, 7, 1): "14.00", date(2027, 7, 1): "15.00",
    },
    "nevada": {date(2022, 7, 1): "10.50", date(2023, 7, 1): "11.25", date(2024, 7, 1): "12.00"},
    "colorado": {
        date(2022, 1, 1): "12.56", date(2023, 1, 1): "13.65", date(2024, 1, 1): "14.42", date(2025, 1, 1): "14.81",
        date(2026, 1, 1): "15.16",
    },
}  # fmt: skip


@dataclass(frozen=True)
class Law:
    """How a law treats pay: whether each hour is held against the minimum wage by itself, how many weekly hours a
    salary pays for at most (none of them overtime; 0 as agreed), and whether a flat bonus goes by straight hours."""

    each_hour: bool = False
    salary_h: int = 0
    flat_by_straight: bool = False


LAWS = {"california": Law(each_hour=True, salary_h=40, flat_by_straight=True), "alaska": Law(salary_h=40)}
ANY = Law()


@cache
def minimum_wage(law: str, day: date) -> Fraction:
    """Return the highest minimum hourly wage that binds on the day; none where pay is left to national law."""
    if law == "eu_2003_88":
        return ZERO
    tables = (FEDERAL, STATES.get(law, {}))
    held = [
        Fraction(amounts[max(days)]) for amounts in tables if (days := [since for since in amounts if since <= day])
    ]
    return max(held, default=ZERO)


@dataclass(frozen=True)
class Rate:
    plan: str
    amount: Fraction
    since: date
    until: date
    reader: str = ""
    covers_h: Fraction = Fraction(40)
    floor: Fraction = Fraction(0)
    turn: str = "week"

    @property
    def weekly(self) -> Fraction:
        return self.amount * TURNS[self.turn]


class Alike(NamedTuple):
    """What a minute of work is paid by: its workday, civil day, differentials, class and the reader it began at."""

    workday: date
    day: date
    extra: tuple[str, ...]
    pay_class: str
    reader: str


class Premium(NamedTuple):
    """Hours of pay owed beside time worked, in ten-thousandths."""

    workday: date
    kind: str
    units: int


@dataclass(frozen=True)
class Payment:
    """What was earned beside the hours; where `units` are counted, `amount` is their rate's, put in by `priced`."""

    kind: str
    amount: Fraction
    first: date
    last: date
    units: int = 0


@dataclass(eq=False)
class Person:
    """Somebody's weeks of work [min] with what they are paid by.

    `extra` are differentials: an hour, multiple, for the day; `week_day` is where workweeks begin, 0 being Monday;
    `period` the first day of any regular-rate period that is longer than a week, and its days; `begun` are the civil
    days of each week on which shifts began, with the reader of the first; `employed` the first and last day of work.
    """

    law: str
    rates: list[Rate]
    weeks: Mapping[date, Counter[Alike]]
    payments: list[Payment] = field(default_factory=list)
    premiums: Mapping[date, list[Premium]] = field(default_factory=dict)
    extra: Mapping[str, tuple[Fraction, Fraction, bool]] = field(default_factory=dict)
    week_day: int = 6
    period: tuple[date, int] | None = None
    begun: Mapping[date, Mapping[date, str]] = field(default_factory=dict)
    employed: tuple[date, date] = (date.min, date.max)

    @property
    def treats(self) -> Law:
        return LAWS.get(self.law, ANY)

    def begins(self, day: date) -> date:
        """Return the beginning of the workweek that holds the day."""
        return day - timedelta(days=(day.weekday() - self.week_day) % 7)


def rate_on(rates: Sequence[Rate], day: date, reader: str) -> Rate | None:
    """Return the one rate that holds on the day, at the reader if there is one for it."""
    for place in (reader, ""):
        holding = [rate for rate in rates if rate.reader == place and rate.since <= day <= rate.until]
        if holding:
            return holding[0] if len(holding) == 1 else None
    return None


def priced(rates: Sequence[Rate], one: Payment) -> Payment:
    """Return a payment with the amount of its units: at the rate of the last day that earned them."""
    rate = rate_on(rates, one.last, "")
    return replace(one, amount=one.units * rate.amount) if one.units and rate else one
