"""What each minute is called: by a zone's clocks, with datetime and zoneinfo, and by the workday that holds it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache, lru_cache
from zoneinfo import ZoneInfo

__all__ = ["DAY", "Clock", "civil_minute", "clock_of", "date_of", "minute_at", "workdays_of"]

DAY, QUARTER = 1440, 15
EPOCH = date(1970, 1, 1)


@dataclass(frozen=True)
class Clock:
    """The civil minutes since 1970 that a zone's clocks show in each elapsed minute from `begins` on."""

    begins: int
    civil: list[int]


@cache
def _offset(zone: str, quarter: int) -> int:
    """Return the minutes that clocks are ahead of UTC; all zones met here change on a quarter of an hour."""
    shown = datetime.fromtimestamp(quarter * QUARTER * 60, ZoneInfo(zone)).utcoffset()
    assert shown is not None
    return shown // timedelta(minutes=1)


def civil_minute(zone: str, minute: int) -> int:
    """Return what the clocks of a zone show at a minute since 1970, as minutes since its own 1970 began."""
    return minute + _offset(zone, minute // QUARTER)


def minute_at(zone: str, day: date, minute: int) -> int:
    """Return the elapsed minute at which clocks show so many minutes past midnight of the day; the first of two."""
    wall = datetime(day.year, day.month, day.day, tzinfo=ZoneInfo(zone)) + timedelta(minutes=minute)
    return int(wall.timestamp()) // 60


def date_of(day: int) -> date:
    """Return the date so many days after the first of 1970."""
    return EPOCH + timedelta(days=day)


@lru_cache(maxsize=48)
def clock_of(zone: str, first: date, days: int) -> Clock:
    """Return the clock of a zone from some days before `first` on."""
    begins = ((first - EPOCH).days - 12) * DAY
    civil: list[int] = []
    for minute in range(begins, begins + (days + 24) * DAY, QUARTER):
        shown = civil_minute(zone, minute)
        civil += range(shown, shown + QUARTER)
    return Clock(begins, civil)


@lru_cache(maxsize=48)
def workdays_of(zone: str, first: date, days: int, starts: int) -> list[int]:
    """Return the workday of each minute of a clock: it begins when clocks first reach `starts` past midnight."""
    found: list[int] = []
    today = 0
    for shown in clock_of(zone, first, days).civil:
        today = max(today, (shown - starts) // DAY)
        found.append(today)
    return found
