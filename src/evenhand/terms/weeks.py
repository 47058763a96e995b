"""Which week holds a day: what every door means where it is asked for the week of a date."""

from __future__ import annotations

from datetime import date, timedelta

__all__ = ["week_holding", "weeks_holding"]

WEEK = timedelta(days=7)


def week_holding(day: date, first_weekday: int) -> date:
    """Return the first civil day of the week that holds `day`, where weeks begin on `first_weekday`, 0 being Monday."""
    return day - timedelta(days=(day.weekday() - first_weekday) % 7)


def weeks_holding(day: date) -> tuple[date, date]:
    """Return the earliest and the latest first day of a week that holds `day`, on whichever weekday it begins."""
    return day - WEEK + timedelta(days=1), day
