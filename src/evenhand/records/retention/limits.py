"""Limits that end on a working day, or that run in hours: answers, notices, claims.

Sources: GDPR art. 12(3) and 33(1); Regulation (EEC, Euratom) 1182/71 art. 3 (3(4) seen as quoted in later acts,
the rest from memory); 735 ILCS 5/13-205 and 5 ILCS 70/1.11 (memory).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from evenhand.records.retention.lapses import Lapse, plus

__all__ = ["AnswerBy", "answer_by", "last_day_to_sue", "notify_by"]

SATURDAY = 5
BREACH_NOTICE = timedelta(hours=72)


@dataclass(frozen=True)
class AnswerBy:
    """When a request must be answered: `nominal` is the day to plan for, `latest` the last one."""

    nominal: date
    latest: date


def answer_by(received: date, *, is_extended: bool = False, holidays: Collection[date] = ()) -> AnswerBy:
    """Return when a request of a person is answered: one month after it came, three where that was extended.

    The last day moves off Saturdays, Sundays and `holidays`; the nominal one does not.
    """
    nominal = plus(received, Lapse(months=3 if is_extended else 1))
    return AnswerBy(nominal, _working_day(nominal, holidays))


def notify_by(aware_at: datetime) -> datetime:
    """Return by when a breach is notified: 72 elapsed hours later, in the same zone, whatever its clock does meanwhile.

    `aware_at` is aware. The cautious reading, without the two working days of Regulation 1182/71 art. 3(5).
    """
    return (aware_at.astimezone(UTC) + BREACH_NOTICE).astimezone(aware_at.tzinfo)


def last_day_to_sue(accrued: date, years: int, *, holidays: Collection[date] = ()) -> date:
    """Return the last day of a limitation of so many years, off weekends and `holidays`."""
    return _working_day(plus(accrued, Lapse(years=years)), holidays)


def _working_day(day: date, holidays: Collection[date]) -> date:
    while day.weekday() >= SATURDAY or day in holidays:
        day += timedelta(days=1)
    return day
