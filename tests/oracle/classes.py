"""The class of each paid minute, counted minute by minute from the laws' own words.

Sources: 29 USC 207(a)(1) (40 h a workweek), (j) (8 h a workday, 80 h in 14 days) and (k) with 29 CFR 553.230(c) (the
published hours of a work period); Labor Code 510(a) (8 and 12 h a workday, the seventh day, 40 h), 511(b) and the wage
orders' section 3(B)(1) and (8) (alternative schedules); AS 23.10.060 (8 h a day, 40 h a week); NRS 608.018 and 608.0126
(8 h in the 24 that begin with work, below 1.5 times the minimum wage); 7 CCR 1103-1, rule 4.1.1 (12 h a workday or 12
consecutive, whichever pays more in a situation). Directive 2003/88/EC makes no classes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from tests.oracle.clocks import DAY

__all__ = ["DOUBLE", "LAWS", "ORDINARY", "OVERTIME", "PUBLIC_SAFETY", "Time", "Told"]

ORDINARY, OVERTIME, DOUBLE = 1, 2, 3
HOUR = 60
MEAL = 120  # time off that may still be a meal in Colorado: a reading, for rule 4.1.1 names no length

# 29 CFR 553.230(c), the published hours of whole workweeks.
PUBLIC_SAFETY = {
    ("fire_protection", 28): 212, ("fire_protection", 21): 159, ("fire_protection", 14): 106,
    ("fire_protection", 7): 53,
    ("law_enforcement", 28): 171, ("law_enforcement", 21): 128, ("law_enforcement", 14): 86,
    ("law_enforcement", 7): 43,
}  # fmt: skip


@dataclass(frozen=True)
class Told:
    """What a law asks for beside punches; days are counted from 1970.

    `alternative` is the agreed day [min], `scheduled` its weekdays (0 is Monday), `care` that it is one of health care;
    `period_from` is the first day of any period longer than a week, `safety` the kind of public safety and its days;
    `is_low(day)` tells whether the rate on the day is below one and a half times the minimum wage, or not known.
    """

    alternative: int = 0
    scheduled: tuple[int, ...] = ()
    care: bool = False
    period_from: int = 0
    safety: tuple[str, int] = ("", 0)
    is_low: Callable[[int], bool] = field(default=lambda _day: True)


@dataclass(frozen=True)
class Time:
    """Paid minutes since 1970, in order, with the civil day, the workday and the workweek of each (days from 1970)."""

    minutes: Sequence[int]
    civil_days: Sequence[int]
    workdays: Sequence[int]
    weeks: Sequence[int]


Classes = list[int]


def _past(keys: Sequence[object], classes: Sequence[int], limit: int) -> Classes:
    """Return the classes with the ordinary minutes past so many of each key as overtime."""
    found, counted, last, many = list(classes), dict[object, int](), None, 0
    for k, key in enumerate(keys):
        if found[k] == ORDINARY:
            if key != last:
                if last is not None:
                    counted[last] = many
                last, many = key, counted.get(key, 0)
            many += 1
            if many > limit:
                found[k] = OVERTIME
    return found


def _plain(time: Time) -> Classes:
    return [ORDINARY] * len(time.minutes)


def federal(time: Time, told: Told) -> Classes:
    """Return the classes: past forty of the week."""
    return _past(time.weeks, _plain(time), 40 * HOUR)


def european(time: Time, told: Told) -> Classes:
    """Return the classes: none."""
    return _plain(time)


def california(time: Time, told: Told) -> Classes:
    """Return the classes: past eight and twelve of a workday, the seventh workday of a week; past forty of the week."""
    worked: dict[int, list[int]] = {}
    for week, day in sorted(set(zip(time.weeks, time.workdays, strict=True))):
        worked.setdefault(week, []).append(day)
    limits = {
        day: _limits_of_day(place, day, len(days), told) for days in worked.values() for place, day in enumerate(days)
    }
    found, today, many, overtime_past, double_past = [], -1, 0, 0, 0
    for day in time.workdays:
        if day != today:
            today, many = day, 0
            overtime_past, double_past = limits[day]
        many += 1
        found.append(DOUBLE if many > double_past else OVERTIME if many > overtime_past else ORDINARY)
    return _past(time.weeks, found, 40 * HOUR)


def _limits_of_day(place: int, day: int, days: int, told: Told) -> tuple[int, int]:
    """Return the minutes past which the workday is overtime, and double time; `place` is its own among those worked."""
    if place == 6 and days == 7:
        return 0, 8 * HOUR
    if told.care:
        return 12 * HOUR, 12 * HOUR
    if told.alternative:
        needed = -(-40 * HOUR // told.alternative)
        weekday = (day + 3) % 7  # 1 January 1970 was a Thursday
        outside = weekday not in told.scheduled if told.scheduled else place >= needed
        return (0, 8 * HOUR) if outside else (told.alternative, 12 * HOUR)
    return 8 * HOUR, 12 * HOUR


def alaska(time: Time, told: Told) -> Classes:
    """Return the classes: past eight of a day, or as many as a flexible plan has; past forty of the week."""
    classes = _past(time.workdays, _plain(time), told.alternative or 8 * HOUR)
    return _past(time.weeks, classes, 40 * HOUR)


def nevada(time: Time, told: Told) -> Classes:
    """Return the classes: past eight of the 24 hours from the first minute of work on, where the rate is too low.

    Agreed days of ten hours have no daily limit of eight; past ten they are outside what was agreed.
    """
    begins: list[int] = []
    low: dict[int, bool] = {}
    began = -DAY
    for minute, day in zip(time.minutes, time.civil_days, strict=True):
        if minute - began >= DAY:
            began = minute
            low[began] = told.is_low(day)
        begins.append(began)
    classes = _past(begins, _plain(time), told.alternative or 8 * HOUR)
    kept = [it if low[began] else ORDINARY for it, began in zip(classes, begins, strict=True)]
    return _past(time.weeks, kept, 40 * HOUR)


def colorado(time: Time, told: Told) -> Classes:
    """Return the classes: the larger of two counts of twelve hours, in work that shares a workday or consecutive hours.

    Where both are alike, that of the workday.
    """
    if not time.minutes:
        return []
    run, situation = [0], [0]
    for k, (before, minute) in enumerate(pairwise(time.minutes), start=1):
        goes_on = minute - before - 1 <= MEAL
        run.append(run[-1] + (not goes_on))
        situation.append(situation[-1] + (not goes_on and time.workdays[k] != time.workdays[k - 1]))
    plain = _plain(time)
    by_day, by_run = _past(time.workdays, plain, 12 * HOUR), _past(run, plain, 12 * HOUR)
    more: dict[int, int] = {}
    for which, of_run, of_day in zip(situation, by_run, by_day, strict=True):
        more[which] = more.get(which, 0) + of_run - of_day
    classes = [by_run[k] if more[which] > 0 else by_day[k] for k, which in enumerate(situation)]
    return _past(time.weeks, classes, 40 * HOUR)


def eight_and_eighty(time: Time, told: Told) -> Classes:
    """Return the classes: past eight of a day; past eighty of the 14 days."""
    classes = _past(time.workdays, _plain(time), 8 * HOUR)
    return _past([(week - told.period_from) // 14 for week in time.weeks], classes, 80 * HOUR)


def public_safety(time: Time, told: Told) -> Classes:
    """Return the classes: past the published hours of the work period."""
    periods = [(week - told.period_from) // told.safety[1] for week in time.weeks]
    return _past(periods, _plain(time), PUBLIC_SAFETY[told.safety] * HOUR)


LAWS: Mapping[str, Callable[[Time, Told], Classes]] = {
    "us_federal": federal,
    "california": california,
    "alaska": alaska,
    "nevada": nevada,
    "colorado": colorado,
    "us_eight_and_eighty": eight_and_eighty,
    "us_public_safety": public_safety,
    "eu_2003_88": european,
}
