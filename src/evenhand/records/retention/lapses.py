"""Periods of calendar time: years, months, days, and whole calendar years after the one in which something happened.

29 February and n years ends on 28 February in a common year, a month without that day on its last one: the earlier
reading for destroying, and the last day kept for keeping, so that disposal begins on 1 March.

Source: Regulation (EEC, Euratom) 1182/71 art. 3(2)(c), from memory, for months; common practice for years.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

__all__ = ["Lapse", "after", "first_disposal_day", "plus"]


@dataclass(frozen=True)
class Lapse:
    """So much calendar time; `calendar_years` are counted from the end of the year in which it begins."""

    years: int = 0
    months: int = 0
    days: int = 0
    calendar_years: int = 0

    @property
    def words(self) -> str:
        """Return the period in words, such as "24 months after"; "on" where it is none."""
        for count, unit in (
            (self.years, "year"),
            (self.months, "month"),
            (self.days, "day"),
            (self.calendar_years, "calendar year"),
        ):
            if count:
                return f"{count} {unit}{'' if count == 1 else 's'} after" + (
                    " the year of" if unit == "calendar year" else ""
                )
        return "on"


def plus(day: date, period: Lapse) -> date:
    """Return the last day of a period that begins with what happened on `day`."""
    if period.calendar_years:
        return date(day.year + period.calendar_years, 12, 31)
    months = day.year * 12 + day.month - 1 + 12 * period.years + period.months
    year, month = divmod(months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(day.day, last)) + timedelta(days=period.days)


def after(day: pl.Expr, period: Lapse) -> pl.Expr:
    """Return the last days of the period for a column of dates, as `plus` does for one."""
    if period.calendar_years:
        return pl.date(day.dt.year() + period.calendar_years, 12, 31)
    return day.dt.offset_by(f"{12 * period.years + period.months}mo").dt.offset_by(f"{period.days}d")


def first_disposal_day(kept_through: date) -> date:
    """Return the first day on which what had to be kept through a day may go."""
    return kept_through + timedelta(days=1)
