"""What people did: the true punches of every day, each with what it was for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

import numpy as np
from bench.workdays.families import Family, Shift

__all__ = ["Kind", "Presence", "days_of"]

Kind = Literal["start", "break_out", "break_in", "meal_out", "meal_in", "end", "extra"]


@dataclass(frozen=True)
class Presence:
    """One true punch: whose, when [s since 1970-01-01T00:00:00Z], what it was for, and the shift it belongs to.

    `day` is the civil date on which the shift begins; `scheduled` its planned start and end, where the workplace has a
    schedule; `mark` is what the reader writes of the direction, '' where it writes none.
    """

    person: str
    at: int
    kind: Kind
    day: date
    shift: int
    mark: str
    scheduled: tuple[int, int] | None


@dataclass(frozen=True)
class _Habits:
    """What is a person's own: how early they come, how late they go, when and how long they eat [min]."""

    early: float
    late: float
    meal_after: float
    meal_length: float
    spread: float


def days_of(family: Family, *, people: int, weeks: int, first: date, seed: int) -> list[Presence]:
    """Return the true punches of some people over some weeks, by person and time; the same seed makes the same days."""
    rng = np.random.default_rng(seed)
    zone = ZoneInfo(family.zone)
    punches: list[Presence] = []
    for number in range(people):
        habits = _habits(rng, family)
        for shift, (day, plan) in enumerate(_plans(rng, family, number, first, weeks)):
            times = _shift_times(rng, family, habits, plan)
            planned = None
            if family.is_scheduled:
                planned = (_instant(day, plan.start, zone), _instant(day, plan.start + plan.length, zone))
            for place, (minute, kind) in enumerate(times):
                mark = ("in", "out")[place % 2] if family.marks else ""
                at = _instant(day, minute, zone)
                punches.append(Presence(f"{family.name}-{number:03}", at, kind, day, shift, mark, planned))
    return list(_in_order(punches))


def _in_order(punches: list[Presence]) -> Iterator[Presence]:
    """Yield the punches of each person in order of time, at least 90 s apart within a shift: nobody is faster."""
    last: Presence | None = None
    for punch in sorted(punches, key=lambda punch: (punch.person, punch.shift, punch.at)):
        is_next = last is not None and (last.person, last.shift) == (punch.person, punch.shift)
        last = replace(punch, at=max(punch.at, last.at + 90)) if last is not None and is_next else punch
        yield last


def _habits(rng: np.random.Generator, family: Family) -> _Habits:
    return _Habits(
        early=rng.normal(4, 3),
        late=rng.normal(3, 3),
        meal_after=rng.normal(family.meal_after, 15) if family.meal else 0,
        meal_length=max(12.0, rng.normal(family.meal, 4)) if family.meal else 0,
        spread=family.spread * float(rng.choice([0.5, 1.0, 1.0, 2.0])),
    )


def _plans(
    rng: np.random.Generator, family: Family, number: int, first: date, weeks: int
) -> Iterator[tuple[date, Shift]]:
    """Yield the days on which a person works, each with what was planned."""
    own = family.shifts[number % len(family.shifts)]
    free = {(number + at) % 7 for at in range(2)} if family.is_every_day else {5, 6}
    moved = float(rng.normal(0, family.between)) if family.between else 0.0
    for ahead in range(weeks * 7):
        day = first + timedelta(days=ahead)
        if day.weekday() in free or rng.random() < family.absent:
            continue
        plan = own
        if family.rotates:
            plan = family.shifts[(number + ahead // 7) % len(family.shifts)]
        if family.varies:
            plan = family.shifts[int(rng.integers(len(family.shifts)))]
        plan = replace(plan, start=plan.start + moved)
        yield day, plan
        if family.second is not None and rng.random() < family.second_share:
            yield day, family.second


def _shift_times(rng: np.random.Generator, family: Family, habits: _Habits, plan: Shift) -> list[tuple[float, Kind]]:
    """Return the minutes after the day's midnight at which somebody punches in one shift, and what for."""

    def around(middle: float, spread: float) -> float:
        # Now and then somebody is far off: a late bus, a machine that would not stop.
        wild = 6.0 if rng.random() < 0.04 else 1.0
        return middle + float(rng.normal(0, spread * wild))

    start = around(plan.start - habits.early, habits.spread)
    end = around(plan.start + plan.length + habits.late, habits.spread)
    if family.is_flexible:
        start = plan.start + float(rng.uniform(0, 150))
        end = start + around(plan.length, 25)
    end = max(end, start + 45)
    pauses: list[tuple[float, float, Kind, Kind]] = []
    if family.breaks and plan.length > 300:
        first = around(plan.start + 120, 8)
        pauses.append((first, first + max(4.0, around(12, 2)), "break_out", "break_in"))
    if family.meal and end - start > 300 and rng.random() < family.meal_share:
        out = around(plan.start + habits.meal_after, habits.spread + 4)
        pauses.append((out, out + max(8.0, around(habits.meal_length, 3)), "meal_out", "meal_in"))
    if family.breaks and plan.length > 420:
        last = around(plan.start + plan.length - 100, 8)
        pauses.append((last, last + max(4.0, around(12, 2)), "break_out", "break_in"))
    times: list[tuple[float, Kind]] = [(start, "start")]
    for out, back, leaves, returns in pauses:
        if times[-1][0] + 5 < out < back < end - 10:  # a pause for which there is no room was not taken
            times += [(out, leaves), (back, returns)]
    return [*times, (end, "end")]


def _instant(day: date, minute: float, zone: ZoneInfo) -> int:
    """Return the instant at which a clock in the zone shows a minute of the day, seconds drawn from its fraction."""
    wall = datetime(day.year, day.month, day.day) + timedelta(seconds=round(minute * 60))
    return int(wall.replace(tzinfo=zone).timestamp())
