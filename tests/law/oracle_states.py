"""The classes of Alaska, Nevada, Colorado and of 8 and 80 once more: by counting minutes, from the laws' own words.

Which minutes are paid comes from `tests.law.oracle`. Shares no line with the room it checks. Sources: AS 23.10.060 (8 h
a day, 40 h a week); NRS 608.018 and 608.0126 (8 h in the 24 that begin with work, below 1.5 times the minimum wage);
7 CCR 1103-1, rule 4.1.1 (12 h a workday or 12 consecutive, whichever pays more in a situation); 29 USC 207(j) (8 h a
day, 80 h in 14 days).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from tests.law.oracle import (
    Press,
    Settings,
    first_minute,
    holding,
    label_gaps,
    minutes_of,
    one_act_each,
    read,
    week_beginnings,
)

__all__ = ["LAWS", "Amounts", "Told", "hours"]

ORDINARY, OVERTIME = 1, 2
Lines = list[tuple[datetime, date]]
Classes = list[int]
Amounts = dict[date, tuple[int, int, int, int]]
DAY = timedelta(days=1)
BELOW_CENTS = 1800  # one and a half times 12.00, Nevada's minimum wage since 1 July 2024
MEAL_MINUTES = 120  # time off that may still be a meal: a reading, for rule 4.1.1 names no length


@dataclass(frozen=True)
class Told:
    """What a law asks for beside punches: a person's cents an hour, None where unknown, and periods longer than a week.

    `fortnight` is where one of them begins; `period` is its kind of public safety and its days.
    """

    cents: int | None = None
    fortnight: date = date.min
    period: tuple[str, int] = ("", 0)


def hours(presses: list[Press], settings: Settings, law: str, told: Told) -> Amounts:
    """Return (recorded, ordinary, overtime, double) minutes by workweek of one person."""
    acts = one_act_each(presses, settings.double)
    label, _ = label_gaps(acts, read(acts, settings), settings)
    recorded, paid = minutes_of(acts, label, settings)
    weeks = week_beginnings(acts, settings)
    classes = LAWS[law](paid, _workdays(acts, settings), weeks, told)
    amounts: dict[date, list[int]] = {}
    for minute in recorded:
        amounts.setdefault(holding(minute, weeks), [0, 0, 0, 0])[0] += 1
    for minute, pay_class in zip(paid, classes, strict=True):
        amounts.setdefault(holding(minute, weeks), [0, 0, 0, 0])[pay_class] += 1
    return {week: (a[0], a[1], a[2], a[3]) for week, a in amounts.items()}


def _workdays(acts: Sequence[Press], settings: Settings) -> Lines:
    first = acts[0].when.date() - 9 * DAY
    days = [first + DAY * k for k in range((acts[-1].when.date() - first).days + 9)]
    return [(first_minute(day, settings), day) for day in days]


def _past(keys: Sequence[object], classes: Classes, limit: int) -> Classes:
    """Return the classes with the ordinary minutes past so many of each key as overtime."""
    counted: dict[object, int] = {}
    found = list(classes)
    for k, key in enumerate(keys):
        if classes[k] == ORDINARY:
            counted[key] = counted.get(key, 0) + 1
            if counted[key] > limit:
                found[k] = OVERTIME
    return found


def _days_of(minutes: list[datetime], lines: Lines) -> list[date]:
    return [holding(minute, lines) for minute in minutes]


def alaska(minutes: list[datetime], days: Lines, weeks: Lines, told: Told) -> Classes:
    """Return the classes: past eight of a day; past forty of a week, none counted twice."""
    classes = _past(_days_of(minutes, days), [ORDINARY] * len(minutes), 8 * 60)
    return _past(_days_of(minutes, weeks), classes, 40 * 60)


def nevada(minutes: list[datetime], days: Lines, weeks: Lines, told: Told) -> Classes:
    """Return the classes: past eight of the 24 hours from the first minute of work on, where the rate is too low."""
    begins: list[datetime] = []
    for minute in minutes:
        begins.append(minute if not begins or minute - begins[-1] >= DAY else begins[-1])
    classes = [ORDINARY] * len(minutes)
    if told.cents is None or told.cents < BELOW_CENTS:
        classes = _past(begins, classes, 8 * 60)
    return _past(_days_of(minutes, weeks), classes, 40 * 60)


def colorado(minutes: list[datetime], days: Lines, weeks: Lines, told: Told) -> Classes:
    """Return the classes: the larger of two counts of twelve hours, in work that shares a workday or consecutive hours.

    Where both are alike, that of the workday.
    """
    if not minutes:
        return []
    day = _days_of(minutes, days)
    run, situation = [0], [0]
    for k, (before, minute) in enumerate(pairwise(minutes), start=1):
        goes_on = (minute - before) / timedelta(minutes=1) - 1 <= MEAL_MINUTES
        run.append(run[-1] + (not goes_on))
        situation.append(situation[-1] + (not goes_on and day[k] != day[k - 1]))
    plain = [ORDINARY] * len(minutes)
    by_day, by_run = _past(day, plain, 12 * 60), _past(run, plain, 12 * 60)
    more: dict[int, int] = {}
    for k, which in enumerate(situation):
        more[which] = more.get(which, 0) + (by_run[k] == OVERTIME) - (by_day[k] == OVERTIME)
    classes = [by_run[k] if more[which] > 0 else by_day[k] for k, which in enumerate(situation)]
    return _past(_days_of(minutes, weeks), classes, 40 * 60)


def eight_and_eighty(minutes: list[datetime], days: Lines, weeks: Lines, told: Told) -> Classes:
    """Return the classes: past eight of a day; past eighty of the 14 days."""
    classes = _past(_days_of(minutes, days), [ORDINARY] * len(minutes), 8 * 60)
    periods = [(week - told.fortnight).days // 14 for week in _days_of(minutes, weeks)]
    return _past(periods, classes, 80 * 60)


# 29 CFR 553.230(c), the published hours of whole workweeks.
PUBLIC_SAFETY = {
    ("fire_protection", 28): 212, ("fire_protection", 21): 159, ("fire_protection", 14): 106,
    ("fire_protection", 7): 53,
    ("law_enforcement", 28): 171, ("law_enforcement", 21): 128, ("law_enforcement", 14): 86,
    ("law_enforcement", 7): 43,
}  # fmt: skip


def public_safety(minutes: list[datetime], days: Lines, weeks: Lines, told: Told) -> Classes:
    """Return the classes: past the published hours of the work period."""
    periods = [(week - told.fortnight).days // told.period[1] for week in _days_of(minutes, weeks)]
    return _past(periods, [ORDINARY] * len(minutes), PUBLIC_SAFETY[told.period] * 60)


LAWS: Mapping[str, Callable[[list[datetime], Lines, Lines, Told], Classes]] = {
    "alaska": alaska,
    "nevada": nevada,
    "colorado": colorado,
    "us_eight_and_eighty": eight_and_eighty,
    "us_public_safety": public_safety,
}
