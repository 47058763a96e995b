"""Find the pay period a day belongs to, and when payroll wants its file."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from evenhand.terms.settings import PayPeriod, Period, SiteRules
from evenhand.terms.weeks import week_holding
from evenhand.terms.zones import day_start

__all__ = ["RECENT", "last_closed", "period_of", "when_worked_out"]

RECENT = timedelta(weeks=8)
"""How far back it is looked who uses which reader when."""


def period_of(pay: PayPeriod, zone: str, day: date) -> Period:
    """Return the pay period that holds `day`; `zone` places its deadline."""
    length = timedelta(days=7 * pay.weeks)
    first = pay.anchor + ((day - pay.anchor) // length) * length
    last = first + length - timedelta(days=1)
    return Period(first, last, day_start(zone, last + timedelta(days=1)) + pay.deadline_s)


def last_closed(pay: PayPeriod, zone: str, as_of: datetime) -> Period:
    """Return the last pay period that has ended as of an instant: the one payroll waits for."""
    current = period_of(pay, zone, as_of.astimezone(ZoneInfo(zone)).date())
    return period_of(pay, zone, current.first - timedelta(days=1))


def when_worked_out(period: Period, zone: str, rules: Iterable[SiteRules]) -> int:
    """Return the instant at which the last workweek that begins in the period has ended, at whichever site.

    `zone` is the workplace's, in which the period itself ends.
    """
    ends = [day_start(zone, period.last + timedelta(days=1))]
    for site in rules:
        bound = site.on(period.last)
        begins = week_holding(period.last, bound.workweek_day)
        ends.append(day_start(bound.zone, begins + timedelta(days=7), bound.workweek_s))
    return max(ends)
